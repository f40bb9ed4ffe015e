"""Where words can stand so that they cover neither lines nor other words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from ventsize.report.drawing.model import Point, Words, width_of

Span = tuple[float, float, float, float]  # left, top, right, bottom


class Labels:
    """Words placed one after another beside things already drawn, within a width and a height."""

    def __init__(
        self,
        lines: Iterable[tuple[Point, Point]],
        dots: Iterable[tuple[Point, float]],
        *,
        width: float,
        height: float,
    ) -> None:
        self._width, self._height = width, height
        self._taken: list[Span] = [(x - r, y - r, x + r, y + r) for (x, y), r in dots]
        for start, end in lines:
            self._taken += _along(start, end)

    def beside(self, start: Point, end: Point, text: str, size: float) -> Words | None:
        """Words beside the middle of a line, or of a point, as near as there is room; None where there is none."""
        wide, high = width_of(text, size), size
        for x, y in _places(start, end):
            for left in _leaning(start, end, x, wide):
                span = (left, y - high / 2 - 1, left + wide, y + high / 2 + 1)
                inside = left >= 2 and left + wide <= self._width and span[1] >= 2 and span[3] <= self._height
                if inside and not any(_overlap(span, other) for other in self._taken):
                    # Two numbers in one line must not read as one.
                    self._taken.append((left - size / 2, span[1], left + wide + size / 2, span[3]))
                    return Words(left, y + 0.36 * size, text, size)
        return None


def _along(start: Point, end: Point) -> Iterator[Span]:
    """A line as small spans, so that a slanting one does not take the whole rectangle around it."""
    number = max(1, math.ceil(math.dist(start, end) / 5))
    for n in range(number + 1):
        x, y = (a + (b - a) * n / number for a, b in zip(start, end, strict=True))
        yield x - 2.5, y - 2.5, x + 2.5, y + 2.5


def _places(start: Point, end: Point) -> Iterator[Point]:
    """Places to the sides of a line's middle, then of its quarters, ever further away."""
    across, down = end[0] - start[0], end[1] - start[1]
    long = math.hypot(across, down)
    side = (-down / long, across / long) if long else (0.0, -1.0)
    if side[1] > 0 or (side[1] == 0 and side[0] < 0):  # above first; to the right of an upright
        side = (-side[0], -side[1])
    for away in (8, 12, 17, 23, 30, 40, 52, 66):
        for part in (0.5, 0.35, 0.65, 0.2, 0.8):
            x, y = start[0] + part * across, start[1] + part * down
            yield x + away * side[0], y + away * side[1]
            yield x - away * side[0], y - away * side[1]
        if not long:
            yield start[0] + away, start[1]
            yield start[0] - away, start[1]


def _leaning(start: Point, end: Point, x: float, wide: float) -> tuple[float, ...]:
    """Left edges to try for words at x: away from the line first, then centered over it."""
    middle = (start[0] + end[0]) / 2
    if abs(x - middle) < 2 and abs(start[0] - end[0]) > 1:
        return (x - wide / 2,)
    return (x, x - wide / 2, x - wide) if x >= middle else (x - wide, x - wide / 2, x)


def _overlap(one: Span, other: Span) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
