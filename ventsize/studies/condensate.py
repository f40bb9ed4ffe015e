"""Water: how much there is at each rate, whether the pipe leads it back, and whether the trap holds it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck, RunCheck
from ventsize.check.traps import TRAP_MARGIN, DrainPressure, collar_pressures
from ventsize.check.verdict import check
from ventsize.finding import Finding, Value, Where, length
from ventsize.flow.pieces import PieceFlow
from ventsize.flow.rate_flow import RunFlow
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.slope import LEVEL, LowSpot, RunSlope, run_slope

WATER_DENSITY = 998.0  # kg/m³, at 20 °C
TRAPS = "trap-"  # codes of findings about a trap: they go by the job's own check, cooled or not


@dataclass(frozen=True, slots=True, kw_only=True)
class RateWater:
    """Water at one firing rate (or combination) [kg/s].

    appliances: left behind in each, by name; runs: left in each run, by name; joints: where streams of different
    warmth meet and mist forms, all together.
    """

    rate: str
    appliances: tuple[tuple[str, float], ...]
    runs: tuple[tuple[str, float], ...]
    joints: float

    @property
    def total(self) -> float:
        """All of it [kg/s]."""
        return math.fsum(water for _, water in (*self.appliances, *self.runs)) + self.joints


@dataclass(frozen=True, slots=True, kw_only=True)
class TrapRate:
    """A drain under the vent's pressure at one rate.

    static_pressure: there, and without_draft: with the help of draft left out, as on a mild day [Pa].
    seal_needed: for the higher of them [m of water]; seal: there is [m]. holds: with `TRAP_MARGIN` to spare; None where
    no seal depth is given, or no flow was found. blown: whether it is more than the seal holds at all.
    """

    where: Where
    static_pressure: float
    without_draft: float
    seal_needed: float
    seal: float | None
    holds: bool | None
    blown: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Filling:
    """How long a low spot without a drain takes to fill at one rate, at the soonest: with all its run's water [s]."""

    spot: LowSpot
    rate: str
    time: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Condensate:
    """All there is to say of a job's water."""

    rates: tuple[RateWater, ...]
    runs: tuple[RunSlope, ...]
    traps: tuple[TrapRate, ...]
    fillings: tuple[Filling, ...]
    findings: tuple[Finding, ...]
    cautions: tuple[Finding, ...]


def condensate(inputs: Inputs) -> Condensate:
    """The study: water with the gas cooling along the pipe, traps by the flow of the job's own check.

    Raises InputError as `check` does.
    """
    cooled = check(inputs, cooling=True)
    checked = cooled if inputs.job.cooling else check(inputs)
    seals = {appliance.name: appliance.trap_seal for appliance in inputs.job.appliances}
    vents = [run for run in inputs.graph.runs.values() if run.carries == "flue gas"]
    slopes = tuple(run_slope(run, outward=inputs.graph.leads_out(run)) for run in vents)
    traps = tuple(_traps(seals, checked))
    waters = _waters(cooled)
    return Condensate(
        rates=waters,
        runs=slopes,
        traps=traps,
        fillings=tuple(_fillings(slopes, waters)),
        findings=(
            *_findings(slopes, traps),
            *(finding for finding in checked.findings if finding.code.startswith(TRAPS)),
        ),
        cautions=tuple(f for f in cooled.findings if not f.code.startswith(("trap-", "water-"))),
    )


def _waters(checked: JobCheck) -> tuple[RateWater, ...]:
    found = []
    gases = {a.name: {rate.name: rate.gas for rate in a.rates} for a in checked.appliances}
    vents = [run for run in checked.runs if run.run.carries == "flue gas"]
    for number, rate in enumerate(checked.runs[0].rates):
        on = {a: gases[a][r] for a, r in rate.fired.items() if r is not None}
        coolings = [(run.run, flow) for run in vents if (flow := run.rates[number].flow.cooling) is not None]
        left = math.fsum(flow.condensate for _, flow in coolings)
        out = math.fsum(flow.outlet.mass_flow for run, flow in coolings if OUTDOORS in (run.start, run.end))
        into = math.fsum(gas.flue_mass_flow for name, gas in on.items() if _vented(name, vents))
        short = into - out - left
        found.append(
            RateWater(
                rate=rate.name,
                appliances=tuple((name, gas.condensate) for name, gas in on.items()),
                runs=tuple((run.name, flow.condensate) for run, flow in coolings),
                joints=short if short > 1e-9 * into else 0.0,
            )
        )
    return tuple(found)


def _fillings(slopes: Sequence[RunSlope], waters: Sequence[RateWater]) -> Iterator[Filling]:
    for spot in (spot for slope in slopes for spot in slope.low_spots if not spot.drained):
        for water in waters:
            arriving = dict(water.runs).get(spot.run, 0.0)
            if arriving > 0.0:
                time = spot.volume * WATER_DENSITY / arriving
                yield Filling(spot=spot, rate=water.rate, time=time)


def _vented(appliance: str, vents: Sequence[RunCheck]) -> bool:
    return any(appliance in (run.run.start, run.run.end) for run in vents)


def static_along(flow: RunFlow, number: int, *, helped: bool = True) -> float:
    """Static pressure against ambient in the middle of a piece, by its number in the run's list [Pa].

    helped: whether the help of draft is counted.
    """

    def fall(piece: PieceFlow) -> float:
        return piece.pressure_drop - (piece.draft if helped else min(0.0, piece.draft))

    sign = 1.0 if flow.forward else -1.0
    before = math.fsum(fall(piece) for piece in flow.pieces[:number])
    piece = flow.pieces[number]
    total = flow.total_pressure(flow.run.start, helped=helped) - sign * (before + fall(piece) / 2)
    return total - piece.at.dynamic_pressure


def _traps(seals: Mapping[str, float | None], checked: JobCheck) -> Iterator[TrapRate]:
    for run in checked.runs:
        if run.run.carries != "flue gas":
            continue
        for appliance in seals:
            for pressure in collar_pressures([run], appliance):
                yield _trap(pressure, Where(appliance=appliance, rate=pressure.rate), seals[appliance])
        for rate in run.rates:
            for number, piece in enumerate(run.run.pieces):
                if piece.drain:
                    pressure = DrainPressure(
                        rate=rate.name,
                        helped=static_along(rate.flow, number),
                        unhelped=static_along(rate.flow, number, helped=False),
                        settled=rate.flow.settled,
                    )
                    yield _trap(pressure, Where(run=run.run.name, piece=piece.number, rate=pressure.rate), None)


def _trap(pressure: DrainPressure, where: Where, seal: float | None) -> TrapRate:
    return TrapRate(
        where=where,
        static_pressure=pressure.helped,
        without_draft=pressure.unhelped,
        seal_needed=pressure.water + TRAP_MARGIN,
        seal=seal,
        holds=None if seal is None else pressure.holds(seal),
        blown=seal is not None and pressure.blows_out(seal),
    )


def _findings(slopes: Sequence[RunSlope], traps: Sequence[TrapRate]) -> Iterator[Finding]:
    for slope in slopes:
        yield from _slope_findings(slope)
    if any(trap.seal is None for trap in traps):
        yield Finding("trap-seal-to-measure")


def _slope_findings(slope: RunSlope) -> Iterator[Finding]:
    run = Where(run=slope.run)
    if not slope.known and not slope.pieces:
        yield Finding("fall-not-known", run)
    for piece in slope.pieces:
        where = replace(run, piece=piece.piece)
        if not piece.known:
            yield Finding("rise-not-given", where)
        elif not piece.enough:
            yield Finding("pipe-falls-away" if piece.rise < -LEVEL else "pipe-falls-too-little", where)
    for spot in slope.low_spots:
        if not spot.drained:
            values: dict[str, Value] = {"depth": length(spot.depth), "bore": length(spot.bore)}
            code = "water-closes-pipe" if spot.blocks else "water-narrows-pipe"
            yield Finding(code, Where(run=spot.run, piece=spot.piece), values)
    if slope.runs_out:
        yield Finding("water-runs-out", run)
