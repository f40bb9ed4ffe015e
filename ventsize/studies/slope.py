"""How a vent falls: the rise each pipe needs against what it has, and where water would stand."""

from __future__ import annotations

import math
from collections.abc import Sequence
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

    place: str
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
