"""Cold weather: what the gas and the pipe come to at the outdoor end, where it freezes, and what cures it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from fluids.numerics import brenth

from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck, RunCheck
from ventsize.check.verdict import check
from ventsize.flow.cooling import Climate, Point, RunCooling, cool_run
from ventsize.flow.solve import RunFlow
from ventsize.gas.water import saturation_pressure, saturation_temperature
from ventsize.jobfile.job import OUTDOORS, Insulation
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import System
from ventsize.run.model import Run

FREEZING = 273.15
COLDER = (0.0, 50.0 / 9.0, 100.0 / 9.0, 50.0 / 3.0, 200.0 / 9.0)  # K below the job's outdoors: 0 to 40 degF
THICKEST = 6 * 0.0254  # m; no more insulation than this is looked for
ASSUMED_HUMIDITY = 0.4  # of the room, where the job gives none
THINNEST = 1e-4
COLDEST = 205.0  # K, some -90 degF; no colder day is looked at


@dataclass(frozen=True, slots=True, kw_only=True)
class ColdRate:
    """One vent at one rate and one outdoor temperature [K].

    terminal_gas, terminal_wall: of the gas and the inside wall at the outdoor end [K].
    coldest_wall: of the inside wall along the run [K].
    freezes_at: distance along the gas's way to the first place with the inside wall below freezing [m], and the
    piece there; None where there is none. points: along the run, ready to be drawn.
    """

    run: str
    rate: str
    outdoor: float
    terminal_gas: float
    terminal_wall: float
    coldest_wall: float
    freezes_at: float | None
    freezes_in: str | None
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """Insulation that keeps a run from freezing, or from sweating, at the job's outdoor temperature.

    thickness: on every pipe of the run in place of what is there [m]; None where none up to `THICKEST` does.
    """

    run: str
    against: str
    thickness: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweating:
    """A combustion-air pipe in a room at one rate: its coldest outside surface there, and the room's dew point [K]."""

    run: str
    rate: str
    coldest_surface: float
    dew_point: float
    sweats: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ColdWeather:
    """The whole answer; `rates` at the job's outdoor temperature first, then colder."""

    rates: tuple[ColdRate, ...]
    cures: tuple[Cure, ...]
    sweating: tuple[Sweating, ...]
    findings: tuple[str, ...]
    cautions: tuple[str, ...]


def cold_weather(inputs: Inputs, *, system: System = System.US, colder: Sequence[float] = COLDER) -> ColdWeather:
    """The study.

    colder: how far below the job's outdoor temperature to go, from 0 [K]; attic and crawlspace follow it.

    Raises InputError where the job gives no outdoor temperature, and as `check` does.
    """
    site = inputs.job.site
    if site.outdoor is None:
        raise InputError(Problem(inputs.file, "site, outdoor", "it is not given", "the outdoor design temperature"))
    colder = [lower for lower in colder if site.outdoor - lower >= COLDEST] or [0.0]
    checks = [check(_on_a_day(inputs, lower), system=system, cooling=True) for lower in colder]
    design = checks[0]
    rates = tuple(
        _cold_rate(run, number, site.outdoor - lower)
        for lower, checked in zip(colder, checks, strict=True)
        for run in _to_outdoors(checked, "flue gas")
        for number in range(len(run.rates))
        if run.rates[number].flow.stream.mass_flow > 0.0
    )
    sweating, humidity_said = _sweating(inputs, design)
    cures = (*_freeze_cures(design), *_sweat_cures(design, sweating))
    return ColdWeather(
        rates=rates,
        cures=cures,
        sweating=sweating,
        findings=tuple(_findings(rates, sweating)),
        cautions=(*humidity_said, *_attic_said(inputs), *design.cautions),
    )


def _on_a_day(inputs: Inputs, lower: float) -> Inputs:
    site = inputs.job.site

    def colder(temperature: float | None) -> float | None:
        return None if temperature is None else temperature - lower

    day = replace(site, outdoor=colder(site.outdoor), attic=colder(site.attic), crawlspace=colder(site.crawlspace))
    return replace(inputs, job=replace(inputs.job, site=day))


def _attic_said(inputs: Inputs) -> list[str]:
    if inputs.job.site.attic is None and inputs.job.site.crawlspace is None:
        return []
    return ["on days colder than the job's, attic and crawlspace are taken to be colder by as much as outdoors is"]


def _to_outdoors(checked: JobCheck, carries: str) -> list[RunCheck]:
    return [run for run in checked.runs if run.run.carries == carries and OUTDOORS in (run.run.start, run.run.end)]


def _cold_rate(check: RunCheck, number: int, outdoor: float) -> ColdRate:
    rate = check.rates[number]
    cooling = _cooling(rate.flow)
    first = next((point for point in cooling.points if point.inside_wall < FREEZING), None)
    last = cooling.points[-1] if cooling.points else None
    return ColdRate(
        run=check.run.name,
        rate=rate.name,
        outdoor=outdoor,
        terminal_gas=cooling.outlet.temperature,
        terminal_wall=last.inside_wall if last else cooling.outlet.temperature,
        coldest_wall=_coldest_wall(cooling),
        freezes_at=first.distance if first else None,
        freezes_in=check.run.pieces[first.piece].place if first else None,
        points=cooling.points,
    )


def _cooling(flow: RunFlow) -> RunCooling:
    assert flow.cooling is not None  # the check was made with cooling
    return flow.cooling


def _coldest_wall(cooling: RunCooling) -> float:
    return min((point.inside_wall for point in cooling.points), default=cooling.outlet.temperature)


def _insulated(run: Run, thickness: float) -> Run:
    def covered(given: Insulation | None) -> Insulation:
        return Insulation(thickness=thickness, conductivity=given.conductivity if given else None)

    pieces = tuple(replace(p, insulation=covered(p.insulation)) if p.is_pipe else p for p in run.pieces)
    return replace(run, pieces=pieces)


def _thickness(short_of: Callable[[float], float]) -> float | None:
    """The thickness at which what is short comes to nothing [m]; short_of: by how much it is short there [K]."""
    if short_of(THICKEST) < 0.0:
        return None
    if short_of(THINNEST) >= 0.0:
        return THINNEST
    return float(brenth(short_of, THINNEST, THICKEST, xtol=1e-5))


def _climate(flow: RunFlow) -> Climate:
    from ventsize.flow.cooling import CoolingWalk

    assert isinstance(flow.walk, CoolingWalk)
    return flow.walk.climate


def _freeze_cures(design: JobCheck) -> list[Cure]:
    found = []
    for run in (run for run in design.runs if run.run.carries == "flue gas"):
        flows = [rate.flow for rate in run.rates if rate.flow.stream.mass_flow > 0.0]
        if not any(_coldest_wall(_cooling(flow)) < FREEZING for flow in flows):
            continue

        def short(thickness: float, flows: Sequence[RunFlow] = flows, run: Run = run.run) -> float:
            covered = _insulated(run, thickness)
            return min(_coldest_wall(_again(flow, covered)) for flow in flows) - FREEZING

        found.append(Cure(run=run.run.name, against="freezing inside", thickness=_thickness(short)))
    return found


def _again(flow: RunFlow, run: Run) -> RunCooling:
    return cool_run(run, stream=flow.stream, forward=flow.forward, climate=_climate(flow))


def _in_room(run: Run, cooling: RunCooling) -> list[Point]:
    """The points of a run in the heated space."""
    return [p for p in cooling.points if run.pieces[p.piece].surroundings in (None, "heated space")]


def _sweating(inputs: Inputs, design: JobCheck) -> tuple[tuple[Sweating, ...], list[str]]:
    given = inputs.job.site.indoor_relative_humidity
    humidity = ASSUMED_HUMIDITY if given is None else given
    if humidity > 1.0:
        problem = f"a relative humidity of {humidity:g} is more than air can hold"
        raise InputError(Problem(inputs.file, "site, indoor_relative_humidity", problem, "0 to 1"))
    found = []
    for run in (run for run in design.runs if run.run.carries == "combustion air"):
        for rate in run.rates:
            points = _in_room(run.run, _cooling(rate.flow))
            if not points:
                continue
            pressure = humidity * saturation_pressure(temperature=points[0].surroundings)
            dew = saturation_temperature(pressure=pressure)
            coldest = min(point.outside_surface for point in points)
            found.append(
                Sweating(run=run.run.name, rate=rate.name, coldest_surface=coldest, dew_point=dew, sweats=coldest < dew)
            )
    said = []
    if found and given is None:
        said.append(
            "the job gives no humidity of the room ([site] indoor_relative_humidity); "
            f"{ASSUMED_HUMIDITY:.0%} is assumed for sweating"
        )
    return tuple(found), said


def _sweat_cures(design: JobCheck, sweating: Sequence[Sweating]) -> list[Cure]:
    found = []
    for run in (run for run in design.runs if run.run.carries == "combustion air"):
        bad = [s for s in sweating if s.run == run.run.name and s.sweats]
        if not bad:
            continue
        flows = [rate.flow for rate in run.rates if rate.flow.stream.mass_flow > 0.0]
        dew = bad[0].dew_point

        def short(thickness: float, flows: Sequence[RunFlow] = flows, run: Run = run.run, dew: float = dew) -> float:
            covered = _insulated(run, thickness)
            coldest = (p.outside_surface for flow in flows for p in _in_room(covered, _again(flow, covered)))
            return min(coldest) - dew

        found.append(Cure(run=run.run.name, against="sweating outside", thickness=_thickness(short)))
    return found


def _findings(rates: Sequence[ColdRate], sweating: Sequence[Sweating]) -> list[str]:
    said = []
    for rate in rates:
        if rate.freezes_in is not None and rate.outdoor == rates[0].outdoor:
            said.append(f"{rate.freezes_in}, {rate.rate}: the inside wall is below freezing; ice can close the pipe")
        if rate.terminal_wall < FREEZING and rate.outdoor == rates[0].outdoor:
            said.append(f"run '{rate.run}', {rate.rate}: ice builds up at the terminal; look at it in the cold")
    if any(rate.outdoor < FREEZING for rate in rates):
        said.append(
            "moist gas freezes on anything cold it touches at the terminal; keep it clear of walls, vents and walks"
        )
    said += [f"run '{s.run}', {s.rate}: its outside surface sweats in the room" for s in sweating if s.sweats]
    return list(dict.fromkeys(said))
