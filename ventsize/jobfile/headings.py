"""The ways a pipe can head, the turn between two of them, and how far a headed pipe rises."""

from __future__ import annotations

import math
from functools import lru_cache

from ventsize.quantity import Unusable

DIRECTION = {
    "up": (0, 0, 1),
    "down": (0, 0, -1),
    "north": (0, 1, 0),
    "south": (0, -1, 0),
    "east": (1, 0, 0),
    "west": (-1, 0, 0),
}
HEADINGS = tuple(DIRECTION)


def rise_of(*, length: float, heading: str | None, rise: float | None) -> float:
    """How far a pipe rises [m], from its heading, or from the rise given for a sloped one.

    length: of the pipe [m].
    rise: as given in the job [m]; it must agree with a heading straight up or down.
    Raises ValueError when no pipe of that length can rise that far.
    """
    vertical = {"up": length, "down": -length}.get(heading or "")
    if rise is None:
        return vertical or 0.0
    if abs(rise) > length + 1e-9:
        raise Unusable("it rises further than it is long", "a rise no more than the pipe's length")
    if vertical is not None and not math.isclose(vertical, rise, abs_tol=1e-6):
        raise Unusable(f"it heads {heading} and its rise says otherwise", "only one of the two")
    return rise


@lru_cache(maxsize=8)
def opposite(heading: str) -> str:
    """The heading of the same pipe walked the other way."""
    back = tuple(-part for part in DIRECTION[heading])
    return next(name for name, direction in DIRECTION.items() if direction == back)


@lru_cache(maxsize=64)
def turn_between(first: str, second: str) -> float:
    """The angle between two headings [rad]."""
    cosine = sum(a * b for a, b in zip(DIRECTION[first], DIRECTION[second], strict=True))
    return math.acos(cosine)


def says_rise(*, heading: str | None, rise: float | None) -> bool:
    """Whether a pipe says how far it rises: by its rise, or by heading straight up or down."""
    return rise is not None or heading in ("up", "down")
