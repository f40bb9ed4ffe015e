"""How a vent falls: the rise each pipe needs against what it has, and where water would stand."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ventsize.jobfile.job import OUTDOORS
from ventsize.run.model import Piece, Run

SLOPE = 0.25 / 12.0  # toward the appliance, 1/4 in per foot: common practice, no source
STEEPER_SLOPE = math.tan(math.radians(3.0))  # EN 14471: plastic flues of 3 degrees or more
LEVEL = 1e-4  # m; less rise than this is level


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSlope:
    """One pipe of a vent, walked away from the appliance.

    distance: along the run to its start [m]; elevation: of its start against the run's [m].
    length; flat: how far it goes across; rise: present, away from the appliance; needed: rise for `SLOPE`;
    needed_steeper: for 3 degrees [m].
    enough: whether it falls back to the appliance steeply enough; None where the job does not say how it lies.
    """

    run: str
    piece: int | None
    distance: float
    elevation: float
    length: float
    flat: float
    rise: float
    needed: float
    needed_steeper: float
    enough: bool | None

    @property
    def known(self) -> bool:
        """Whether the job says how it lies."""
        return self.enough is not None

    @property
    def lies(self) -> bool:
        """Whether it goes across at all, and not just up or down."""
        return self.flat > LEVEL

    def falls(self, slope: float) -> bool | None:
        """Whether it falls back to the appliance by a slope [-]; None where the job does not say how it lies."""
        return steep_enough(self.rise, self.flat, slope) if self.known else None


@dataclass(frozen=True, slots=True, kw_only=True)
class LowSpot:
    """Where water stands: run, piece, distance along the way [m], and how deep it can get before it flows on [m].

    bore: of the pipe there [m]. drained: whether a drain is at the lowest place; to one above it the water stands.
    blocks: whether the water can close the whole bore.
    volume: of the water that closes it, or that is there when it flows on [m³].
    """

    run: str
    piece: int | None
    bore: float
    distance: float
    depth: float
    drained: bool
    blocks: bool
    volume: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RunSlope:
    """A vent's fall. known: False for a counted run, or one with a pipe that does not say how it lies.

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


def steep_enough(rise: float, flat: float, slope: float) -> bool:
    """Whether a pipe rises by a slope [-] over its way across [m], or is a hair off it."""
    return rise >= flat * slope - LEVEL


Walk = Iterable[tuple[Run, Piece, float]]
"""Pieces away from the appliance, each with how far it then rises [m]."""


def walk_along(run: Run, *, outward: bool) -> Walk:
    """A run's pieces away from the appliance. outward: whether it is listed that way."""
    for piece in run.pieces if outward else reversed(run.pieces):
        yield run, piece, piece.rise if outward else -piece.rise


def walk_out(path: Sequence[Run], appliances: Sequence[str]) -> Walk:
    """The pieces of a path, whose runs follow each other from an appliance outwards."""
    inner = set(appliances)
    for run in path:
        yield from walk_along(run, outward=run.start in inner)
        inner = {run.start, run.end} - {OUTDOORS}


def run_slope(run: Run, *, outward: bool) -> RunSlope:
    """How a run lies, pipe by pipe, and where water would stand in it. outward: whether it is listed that way."""
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
    for _, piece, rise in walk_along(run, outward=outward):
        if not piece.is_pipe:
            continue
        flat = math.sqrt(max(piece.length**2 - rise**2, 0.0))
        pieces.append(
            PieceSlope(
                run=run.name,
                piece=piece.number,
                distance=distance,
                elevation=elevation,
                length=piece.length,
                flat=flat,
                rise=rise,
                needed=flat * SLOPE,
                needed_steeper=flat * STEEPER_SLOPE,
                enough=steep_enough(rise, flat, SLOPE) if piece.rise_known else None,
            )
        )
        distance += piece.length
        elevation += rise
    sloped = [piece for piece in pieces if abs(piece.rise) < piece.length - LEVEL]
    falls = next((piece.rise for piece in reversed(pieces) if abs(piece.rise) > LEVEL), 0.0) < 0.0
    return RunSlope(
        run=run.name,
        known=all(piece.known for piece in pieces),
        pieces=tuple(pieces),
        low_spots=low_spots(walk_along(run, outward=outward)),
        rise_needed=math.fsum(piece.needed for piece in sloped),
        rise_present=math.fsum(piece.rise for piece in sloped),
        runs_out=falls and OUTDOORS in (run.start, run.end),
    )


def low_spots(walk: Walk) -> tuple[LowSpot, ...]:
    """Every place where a path stops falling and starts to rise. Nobody knows how a counted run lies."""
    found: list[LowSpot] = []
    distance = elevation = 0.0
    highest = 0.0  # the last crest before the bottom
    bottom: tuple[float, float, Piece, Run] | None = None  # elevation, distance, the pipe that led there
    drain = math.inf  # elevation of the lowest drain from that bottom on
    path: list[tuple[float, float, float, float]] = []  # from that crest on: length, ends and bore of each pipe
    for run, piece, rise in walk:
        if run.counted:
            distance += piece.length
            bottom = None
            continue
        if rise < -LEVEL:
            if bottom is None:
                highest, path = elevation, []
            path.append((piece.length, elevation, elevation + rise, piece.section.bore))
            distance += piece.length
            elevation += rise
            bottom = (elevation, distance, piece, run)
            drain = elevation if piece.drain else math.inf
            continue
        if piece.drain:
            drain = min(drain, elevation, elevation + rise)
        path.append((piece.length, elevation, elevation + rise, piece.section.bore))
        distance += piece.length
        elevation += rise
        if rise > LEVEL and bottom is not None:
            drained = drain <= bottom[0] + LEVEL
            depth = min(highest, elevation, math.inf if drained else drain) - bottom[0]
            if found and (found[-1].run, found[-1].piece) == (bottom[3].name, bottom[2].number):
                found.pop()  # the same sag, whose far side rises on
            found.append(
                LowSpot(
                    run=bottom[3].name,
                    piece=bottom[2].number,
                    bore=bottom[2].section.bore,
                    distance=bottom[1],
                    depth=depth,
                    drained=drained,
                    blocks=depth >= bottom[2].section.bore,
                    volume=_water(path, bottom[0] + min(depth, bottom[2].section.bore)),
                )
            )
            if elevation >= highest:
                bottom = None
    return tuple(found)


def _water(path: Sequence[tuple[float, float, float, float]], level: float) -> float:
    """Water up to a level in pipes, each by its length, the levels of its bottom at both ends and its bore [m³]."""
    held = []
    for length, start, end, bore in path:
        low, high = min(start, end), max(start, end, min(start, end) + LEVEL)  # level pipe as if it rose by a hair
        part = (_filling(level - low, bore) - _filling(level - high, bore)) / (high - low)
        held.append(length * part)
    return math.fsum(held)


def _filling(depth: float, bore: float) -> float:
    """The wetted area of a round bore added up over its depth, from none to this one [m³]."""
    radius = bore / 2.0
    if depth <= 0.0:
        return 0.0
    if depth >= bore:
        return math.pi * radius**2 * (depth - radius)
    above = radius - depth
    chord = math.sqrt(max(radius**2 - above**2, 0.0))
    return radius**2 * (chord - above * math.acos(above / radius)) - chord**3 / 3.0
