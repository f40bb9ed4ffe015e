"""Where a laid-out run lies in the room: the two ends of each of its pipes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from ventsize.jobfile.headings import DIRECTION
from ventsize.run.model import Piece, Run


class Place(NamedTuple):
    """A point, seen from the run's start [m]."""

    east: float
    north: float
    up: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """A pipe as it lies.

    start, end: its two ends, in walking order [m].
    across: how far apart they are as seen from above [m].
    heading: as given; of a leg without one, the level direction it is drawn in, or up or down.
    assumed: whether the job gives no heading, so that the leg goes straight on for want of a better guess.
    """

    piece: Piece
    start: Place
    end: Place
    across: float
    heading: str
    assumed: bool

    @property
    def rise(self) -> float:
        """How far it climbs, negative where it falls [m]."""
        return self.end.up - self.start.up


def route_of(run: Run) -> tuple[Leg, ...] | None:
    """The pipes of a run from its start, fittings being points; None for a counted run, which lies nowhere.

    A pipe without a heading goes on in the last level direction that was given (east where none was yet), and is
    marked as assumed unless its rise alone says that it stands upright. The centre lines of pipes are laid end to
    end; what elbows add to the way is left out.
    """
    if run.counted:
        return None
    legs: list[Leg] = []
    place, level = Place(0.0, 0.0, 0.0), "east"
    for piece in run.pieces:
        if not piece.is_pipe:
            continue
        across = math.sqrt(max(0.0, piece.length**2 - piece.rise**2))
        upright = piece.length > 0 and across < 1e-6 * piece.length
        if upright:
            across = 0.0
        elif piece.heading in DIRECTION:
            level = piece.heading or level
        east, north, _ = DIRECTION[level]
        end = Place(place.east + east * across, place.north + north * across, place.up + piece.rise)
        heading = level if not upright else "up" if piece.rise > 0 else "down"
        assumed = piece.heading is None and not upright
        legs.append(Leg(piece=piece, start=place, end=end, across=across, heading=heading, assumed=assumed))
        place = end
    return tuple(legs)
