"""Where a route leads, in words."""

from __future__ import annotations

from collections.abc import Sequence

from ventsize.quantity import System, show_feet
from ventsize.run.route import Leg


def reach_in_words(legs: Sequence[Leg], system: System) -> str:
    """Where the end lies, seen from the start: `18.0 ft east, 6.5 ft north, 4.5 ft higher`."""
    end = legs[-1].end
    ways = (("east", "west", end.east), ("north", "south", end.north), ("higher", "lower", end.up))
    said = [f"{show_feet(abs(by), system)} {more if by > 0 else less}" for more, less, by in ways if abs(by) > 1e-3]
    return ", ".join(said) or "where it starts"
