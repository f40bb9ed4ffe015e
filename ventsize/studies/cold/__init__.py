"""Cold weather: what the gas and the pipe come to at the outdoor end, where it freezes, and what cures it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck, RunCheck
from ventsize.check.verdict import check
from ventsize.finding import Finding, Where, share
from ventsize.flow.cooling import Point, RunCooling
from ventsize.flow.rate_flow import RunFlow
from ventsize.gas.constants import FREEZING
from ventsize.gas.water import saturation_pressure, saturation_temperature
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import System, show_temperature
from ventsize.run.model import Run
from ventsize.studies.cold.doubt import DOUBT, cooling_of, doubted, dressed, insulated, least_thickness
from ventsize.studies.profile import Marks, marks_along

COLDER = (0.0, 50.0 / 9.0, 100.0 / 9.0, 50.0 / 3.0, 200.0 / 9.0)  # K below the job's outdoors: 0 to 40 degF
ASSUMED_HUMIDITY = 0.4  # of the room, where the job gives none
COLDEST = 205.0  # K, some -90 degF; no colder day is looked at


@dataclass(frozen=True, slots=True, kw_only=True)
class ColdRate:
    """One vent at one rate and one outdoor temperature [K].

    terminal_gas, terminal_wall: of the gas and the inside wall at the outdoor end [K].
    terminal_gas_least: with the films better by `DOUBT`, so that more heat is lost [K].
    coldest_wall: of the inside wall along the run; coldest_wall_least: with the film inside worse and that outside
    better by `DOUBT` [K].
    freezes_at: distance along the gas's way to the first place with the inside wall below freezing [m], and the
    piece there, by its place and its number; None where there is none. points: along the run, ready to be drawn, with
    marks: what it passes there.
    """

    run: str
    rate: str
    outdoor: float
    terminal_gas: float
    terminal_gas_least: float
    terminal_wall: float
    coldest_wall: float
    coldest_wall_least: float
    freezes_at: float | None
    freezes_in: str | None
    freezes_piece: int | None
    points: tuple[Point, ...]
    marks: Marks

    @property
    def may_freeze(self) -> bool:
        """Whether the inside wall falls below freezing somewhere, in the doubt."""
        return self.coldest_wall_least < FREEZING


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """Insulation that keeps a run from freezing, or from sweating, on the first day asked about, in the doubt.

    thickness: on every pipe of the run in place of what is there [m]; None where none up to `THICKEST` does.
    """

    run: str
    against: str
    thickness: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweating:
    """A combustion-air pipe in a room at one rate [K].

    coldest_surface: of its outside there; coldest_surface_least: with the film inside better and that outside worse by
    `DOUBT`. dew_point: of the room's air.
    """

    run: str
    rate: str
    coldest_surface: float
    coldest_surface_least: float
    dew_point: float

    @property
    def sweats(self) -> bool:
        """Whether it does by the figures as they are."""
        return self.coldest_surface < self.dew_point

    @property
    def may_sweat(self) -> bool:
        """Whether it does in the doubt."""
        return self.coldest_surface_least < self.dew_point


@dataclass(frozen=True, slots=True, kw_only=True)
class ColdWeather:
    """The whole answer; `rates` day by day, in the order asked for: usually the job's own first, then colder.

    findings: what to look at; cautions: what it rests on, the job's own among them.
    """

    rates: tuple[ColdRate, ...]
    cures: tuple[Cure, ...]
    sweating: tuple[Sweating, ...]
    findings: tuple[Finding, ...]
    cautions: tuple[Finding, ...]


def cold_weather(inputs: Inputs, *, outdoors: Sequence[float] = (), insulation: float | None = None) -> ColdWeather:
    """The study.

    outdoors: the temperatures to look at, in this order; the job's own and `COLDER` ones where none is given [K].
    Attic and crawlspace follow them.
    insulation: thickness put on every vent pipe in place of what is there [m]; None for the job as it is.

    Raises InputError where the job gives no outdoor temperature and none is asked about, and as `check` does.
    """
    asked = tuple(outdoors) or _usual_days(inputs)
    if min(asked) < COLDEST:
        expected = f"above {show_temperature(COLDEST, System.SI)}"
        raise InputError(Problem(inputs.file, "outdoors", "it is colder than anywhere on earth", expected))
    days = [on_a_day(inputs, outdoor, insulation) for outdoor in asked]
    checks = [check(day, cooling=True) for day in days]
    rates = tuple(
        _cold_rate(run, number, outdoor)
        for outdoor, checked in zip(asked, checks, strict=True)
        for run in _to_outdoors(checked, "flue gas")
        for number in range(len(run.rates))
        if run.rates[number].flow.stream.mass_flow > 0.0
    )
    sweating = _sweating(inputs, checks[0])
    return ColdWeather(
        rates=rates,
        cures=(*_freeze_cures(checks[0]), *_sweat_cures(checks[0], sweating)),
        sweating=sweating,
        findings=tuple(_findings(rates, sweating)),
        cautions=(*_assumed(inputs, sweating), *checks[0].findings),
    )


def _usual_days(inputs: Inputs) -> tuple[float, ...]:
    design = inputs.job.site.outdoor
    if design is None:
        raise InputError(Problem(inputs.file, "site, outdoor", "it is not given", "the outdoor design temperature"))
    return tuple(design - lower for lower in COLDER if design - lower >= COLDEST) or (design,)


def on_a_day(inputs: Inputs, outdoor: float | None, insulation: float | None) -> Inputs:
    """The job at another outdoor temperature [K], attic and crawlspace as much colder, in other insulation [m]."""
    looked_at = inputs if insulation is None else dressed(inputs, insulation)
    if outdoor is None:
        return looked_at
    site = inputs.job.site
    lower = 0.0 if site.outdoor is None else site.outdoor - outdoor

    def colder(temperature: float | None) -> float | None:
        return None if temperature is None else temperature - lower

    day = replace(site, outdoor=outdoor, attic=colder(site.attic), crawlspace=colder(site.crawlspace))
    return replace(looked_at, job=replace(inputs.job, site=day))


def _assumed(inputs: Inputs, sweating: Sequence[Sweating]) -> Iterator[Finding]:
    site = inputs.job.site
    if sweating and site.indoor_relative_humidity is None:
        yield Finding("room-humidity-assumed", Where(), {"humidity": share(ASSUMED_HUMIDITY)})
    if site.attic is not None or site.crawlspace is not None:
        yield Finding("spaces-as-cold")


def _to_outdoors(checked: JobCheck, carries: str) -> list[RunCheck]:
    return [run for run in checked.runs if run.run.carries == carries and OUTDOORS in (run.run.start, run.run.end)]


def _cold_rate(check: RunCheck, number: int, outdoor: float) -> ColdRate:
    rate = check.rates[number]
    cooling = cooling_of(rate.flow)
    first = next((point for point in cooling.points if point.inside_wall < FREEZING), None)
    last = cooling.points[-1] if cooling.points else None
    return ColdRate(
        run=check.run.name,
        rate=rate.name,
        outdoor=outdoor,
        terminal_gas=cooling.outlet.temperature,
        terminal_gas_least=doubted(rate.flow, inside=1.0 + DOUBT, outside=1.0 + DOUBT).outlet.temperature,
        terminal_wall=last.inside_wall if last else cooling.outlet.temperature,
        coldest_wall=_coldest_wall(cooling),
        coldest_wall_least=_coldest_at_worst(rate.flow, check.run),
        freezes_at=first.distance if first else None,
        freezes_in=check.run.pieces[first.piece].place if first else None,
        freezes_piece=check.run.pieces[first.piece].number if first else None,
        points=cooling.points,
        marks=marks_along(check.run, check.serves, forward=rate.flow.forward),
    )


def _coldest_wall(cooling: RunCooling) -> float:
    return min((point.inside_wall for point in cooling.points), default=cooling.outlet.temperature)


def _coldest_at_worst(flow: RunFlow, run: Run) -> float:
    """The coldest inside wall that the films allow [K]."""
    return _coldest_wall(doubted(flow, inside=1.0 - DOUBT, outside=1.0 + DOUBT, run=run))


def _freeze_cures(design: JobCheck) -> list[Cure]:
    found = []
    for run in (run for run in design.runs if run.run.carries == "flue gas"):
        flows = [rate.flow for rate in run.rates if rate.flow.stream.mass_flow > 0.0]
        if not any(_coldest_at_worst(flow, run.run) < FREEZING for flow in flows):
            continue

        def short(thickness: float, flows: Sequence[RunFlow] = flows, run: Run = run.run) -> float:
            covered = insulated(run, thickness)
            return min(_coldest_at_worst(flow, covered) for flow in flows) - FREEZING

        found.append(Cure(run=run.run.name, against="freezing inside", thickness=least_thickness(short)))
    return found


def _in_room(run: Run, cooling: RunCooling) -> list[Point]:
    """The points of a run in the heated space."""
    return [p for p in cooling.points if run.pieces[p.piece].surroundings in (None, "heated space")]


def _sweating(inputs: Inputs, design: JobCheck) -> tuple[Sweating, ...]:
    given = inputs.job.site.indoor_relative_humidity
    humidity = ASSUMED_HUMIDITY if given is None else given
    if humidity > 1.0:
        problem = f"a relative humidity of {humidity:g} is more than air can hold"
        raise InputError(Problem(inputs.file, "site, indoor_relative_humidity", problem, "0 to 1"))
    found = []
    for run in (run for run in design.runs if run.run.carries == "combustion air"):
        for rate in run.rates:
            points = _in_room(run.run, cooling_of(rate.flow))
            if not points:
                continue
            pressure = humidity * saturation_pressure(temperature=points[0].surroundings)
            dew = saturation_temperature(pressure=pressure)
            found.append(
                Sweating(
                    run=run.run.name,
                    rate=rate.name,
                    coldest_surface=min(point.outside_surface for point in points),
                    coldest_surface_least=_coldest_surface(rate.flow, run.run),
                    dew_point=dew,
                )
            )
    return tuple(found)


def _coldest_surface(flow: RunFlow, run: Run) -> float:
    """Of a run in the heated space, with the films that make it coldest [K]."""
    found = doubted(flow, inside=1.0 + DOUBT, outside=1.0 - DOUBT, run=run)
    return min(point.outside_surface for point in _in_room(run, found))


def _sweat_cures(design: JobCheck, sweating: Sequence[Sweating]) -> list[Cure]:
    found = []
    for run in (run for run in design.runs if run.run.carries == "combustion air"):
        bad = [s for s in sweating if s.run == run.run.name and s.may_sweat]
        if not bad:
            continue
        flows = [rate.flow for rate in run.rates if rate.flow.stream.mass_flow > 0.0]
        dew = bad[0].dew_point

        def short(thickness: float, flows: Sequence[RunFlow] = flows, run: Run = run.run, dew: float = dew) -> float:
            covered = insulated(run, thickness)
            return min(_coldest_surface(flow, covered) for flow in flows) - dew

        found.append(Cure(run=run.run.name, against="sweating outside", thickness=least_thickness(short)))
    return found


def _findings(rates: Sequence[ColdRate], sweating: Sequence[Sweating]) -> Iterator[Finding]:
    for rate in (rate for rate in rates if rate.outdoor == rates[0].outdoor):
        where = Where(run=rate.run, rate=rate.rate)
        if rate.freezes_piece is not None:
            yield Finding("wall-freezes", replace(where, piece=rate.freezes_piece))
        elif rate.may_freeze:
            yield Finding("wall-may-freeze", where, {"doubt": share(DOUBT)})
        if rate.may_freeze:
            yield Finding("ice-at-terminal", where)
    if any(rate.outdoor < FREEZING for rate in rates):
        yield Finding("moist-gas-freezes")
    for one in sweating:
        if one.may_sweat:
            yield Finding("pipe-sweats" if one.sweats else "pipe-may-sweat", Where(run=one.run, rate=one.rate))
