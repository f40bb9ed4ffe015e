"""Water: how much there is at each rate, whether the pipe leads it back, and whether the trap holds it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck, RunCheck
from ventsize.check.verdict import check
from ventsize.flow.solve import RunFlow
from ventsize.jobfile.job import OUTDOORS
from ventsize.quantity import System
from ventsize.run.model import Piece, Run

WATER_WEIGHT = 1000.0 * 9.80665  # Pa per meter of water; the inch of water column of the gauges is 0.03 % less
SLOPE = 0.25 / 12.0  # toward the appliance, 1/4 in per foot: common practice, no source
STEEPER_SLOPE = math.tan(math.radians(3.0))  # EN 14471: plastic flues of 3 degrees or more
TRAP_MARGIN = 0.5 * 0.0254  # m of water the seal should stand above the pressure; common practice, no source
LEVEL = 1e-4  # m; less rise than this is level


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
class PieceSlope:
    """One pipe of a vent, walked away from the appliance.

    distance: along the run to its start [m]; elevation: of its start against the run's [m].
    length; rise: present, away from the appliance; needed: rise for `SLOPE`; needed_steeper: for 3 degrees [m].
    enough: whether it falls back to the appliance steeply enough.
    """

    place: str
    distance: float
    elevation: float
    length: float
    rise: float
    needed: float
    needed_steeper: float
    enough: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LowSpot:
    """Where water stands: place, distance along the run [m], and how deep it can get before it flows on [m].

    drained: whether a drain is there. blocks: whether the water can close the whole bore.
    """

    place: str
    distance: float
    depth: float
    drained: bool
    blocks: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RunSlope:
    """A vent's fall. known: False for a counted run, or one whose pipes do not say how they lie.

    rise_needed, rise_present: of all its sloped pipe together [m].
    runs_out: whether water leaves at the outdoor end instead of flowing back.
    """

    run: str
    known: bool
    pieces: tuple[PieceSlope, ...]
    low_spots: tuple[LowSpot, ...]
    rise_needed: float
    rise_present: float
    runs_out: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TrapRate:
    """A drain under the vent's pressure at one rate: static pressure there [Pa], the seal that needs [m of water],
    and the seal there is [m]; holds: with `TRAP_MARGIN` to spare; None where no seal depth is given."""

    rate: str
    place: str
    static_pressure: float
    seal_needed: float
    seal: float | None
    holds: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Condensate:
    """All there is to say of a job's water."""

    rates: tuple[RateWater, ...]
    runs: tuple[RunSlope, ...]
    traps: tuple[TrapRate, ...]
    findings: tuple[str, ...]
    cautions: tuple[str, ...]


def condensate(inputs: Inputs, *, system: System = System.US) -> Condensate:
    """The study, with the gas cooling along the pipe. Raises InputError as `check` does."""
    checked = check(inputs, system=system, cooling=True)
    vents = [run for run in inputs.graph.runs.values() if run.carries == "flue gas"]
    slopes = tuple(run_slope(run, inputs.graph.appliances) for run in vents)
    traps = _traps(inputs, checked)
    return Condensate(
        rates=_waters(checked),
        runs=slopes,
        traps=traps,
        findings=tuple(_findings(slopes, traps)),
        cautions=checked.cautions,
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


def _vented(appliance: str, vents: Sequence[RunCheck]) -> bool:
    return any(appliance in (run.run.start, run.run.end) for run in vents)


def outward(run: Run, appliances: Sequence[str]) -> tuple[Piece, ...]:
    """A run's pieces walked away from the appliance, pipes rising the way they are then walked."""
    backwards = run.start == OUTDOORS or (run.end in appliances and run.start not in appliances)
    return tuple(reversed(run.pieces)) if backwards else run.pieces


def _rise(piece: Piece, run: Run, appliances: Sequence[str]) -> float:
    return piece.rise if outward(run, appliances) is run.pieces else -piece.rise


def run_slope(run: Run, appliances: Sequence[str]) -> RunSlope:
    """How a run lies, pipe by pipe, and where water would stand in it."""
    if run.counted:
        return RunSlope(
            run=run.name,
            known=False,
            pieces=(),
            low_spots=(),
            rise_needed=run.straight_length * SLOPE,
            rise_present=0.0,
            runs_out=False,
        )
    pieces: list[PieceSlope] = []
    distance = elevation = 0.0
    walked = outward(run, appliances)
    for piece in walked:
        if not piece.is_pipe:
            continue
        rise = _rise(piece, run, appliances)
        flat = math.sqrt(max(piece.length**2 - rise**2, 0.0))
        pieces.append(
            PieceSlope(
                place=piece.place,
                distance=distance,
                elevation=elevation,
                length=piece.length,
                rise=rise,
                needed=flat * SLOPE,
                needed_steeper=flat * STEEPER_SLOPE,
                enough=rise >= flat * SLOPE - LEVEL,
            )
        )
        distance += piece.length
        elevation += rise
    sloped = [piece for piece in pieces if abs(piece.rise) < piece.length - LEVEL]
    falls = next((piece.rise for piece in reversed(pieces) if abs(piece.rise) > LEVEL), 0.0) < 0.0
    return RunSlope(
        run=run.name,
        known=True,
        pieces=tuple(pieces),
        low_spots=_low_spots(run, walked, appliances),
        rise_needed=math.fsum(piece.needed for piece in sloped),
        rise_present=math.fsum(piece.rise for piece in sloped),
        runs_out=falls and OUTDOORS in (run.start, run.end),
    )


def _low_spots(run: Run, walked: Sequence[Piece], appliances: Sequence[str]) -> tuple[LowSpot, ...]:
    """Every place where the run stops falling and starts to rise, walked away from the appliance."""
    found: list[LowSpot] = []
    distance = elevation = 0.0
    highest = 0.0  # the last crest before the bottom
    bottom: tuple[float, float, Piece] | None = None  # elevation, distance, the pipe that led there
    drained = False
    for piece in walked:
        rise = _rise(piece, run, appliances) if piece.is_pipe else 0.0
        if rise < -LEVEL:
            if bottom is None:
                highest, drained = elevation, False
            distance += piece.length
            elevation += rise
            bottom = (elevation, distance, piece)
            drained = piece.drain
            continue
        drained = drained or piece.drain
        distance += piece.length
        elevation += rise
        if rise > LEVEL and bottom is not None:
            depth = min(highest, elevation) - bottom[0]
            if found and found[-1].place == bottom[2].place:
                found.pop()  # the same sag, whose far side rises on
            found.append(
                LowSpot(
                    place=bottom[2].place,
                    distance=bottom[1],
                    depth=depth,
                    drained=drained,
                    blocks=depth >= bottom[2].section.bore,
                )
            )
            if elevation >= highest:
                bottom = None
    return tuple(found)


def static_along(flow: RunFlow, number: int) -> float:
    """Static pressure against ambient in the middle of a piece, by its number in the run's list [Pa]."""
    total = flow.start_pressure
    sign = 1.0 if flow.forward else -1.0
    for piece in flow.pieces[:number]:
        total -= sign * (piece.pressure_drop - piece.draft)
    piece = flow.pieces[number]
    return total - sign * (piece.pressure_drop - piece.draft) / 2 - piece.at.dynamic_pressure


def _traps(inputs: Inputs, checked: JobCheck) -> tuple[TrapRate, ...]:
    seals = {appliance.name: appliance.trap_seal for appliance in inputs.job.appliances}
    found = []
    for run in checked.runs:
        if run.run.carries != "flue gas":
            continue
        collar = next((joint for joint in (run.run.start, run.run.end) if joint in seals), None)
        for rate in run.rates:
            if collar is not None:
                found.append(_trap(rate.name, collar, rate.flow.static_pressure(collar), seals[collar]))
            for number, piece in enumerate(run.run.pieces):
                if piece.drain:
                    found.append(_trap(rate.name, f"drain at {piece.place}", static_along(rate.flow, number), None))
    return tuple(found)


def _trap(rate: str, place: str, pressure: float, seal: float | None) -> TrapRate:
    needed = max(pressure, 0.0) / WATER_WEIGHT + TRAP_MARGIN
    return TrapRate(
        rate=rate,
        place=place,
        static_pressure=pressure,
        seal_needed=needed,
        seal=seal,
        holds=None if seal is None else seal >= needed,
    )


def _findings(slopes: Sequence[RunSlope], traps: Sequence[TrapRate]) -> list[str]:
    said = [sentence for slope in slopes for sentence in _slope_findings(slope)]
    for trap in traps:
        if trap.holds is False:
            blown = trap.static_pressure >= (trap.seal or 0.0) * WATER_WEIGHT
            said.append(
                f"{trap.place}, {trap.rate}: the vent's pressure "
                + ("blows the trap seal out" if blown else "leaves the trap seal too little margin")
            )
    if any(trap.seal is None for trap in traps):
        said.append("the depth of a trap seal is not given (trap_seal of the appliance) or is at a drain: measure it")
    return list(dict.fromkeys(said))


def _slope_findings(slope: RunSlope) -> Iterator[str]:
    if not slope.known:
        yield f"run '{slope.run}' is counted, not laid out: how it falls is not known"
    for piece in slope.pieces:
        if not piece.enough:
            way = "falls away from the appliance" if piece.rise < -LEVEL else "does not fall enough to the appliance"
            yield f"{piece.place}: it {way}"
    for spot in slope.low_spots:
        if not spot.drained:
            closes = "enough to close the pipe" if spot.blocks else "which narrows the pipe"
            yield f"{spot.place}: a low spot without a drain holds water, {closes}: a water seal in the vent"
    if slope.runs_out:
        yield f"run '{slope.run}': water runs out at its outdoor end, and freezes there in the cold"
