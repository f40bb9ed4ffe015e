"""Line charts and bars. Values come in the units they are shown in; here they are only put in their places."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ventsize.report.drawing.model import Box, Dot, Drawing, Line, Mark, Point, Words, width_of
from ventsize.report.drawing.styles import SERIES, Role

_LEFT, _RIGHT, _TOP, _BOTTOM = 52.0, 14.0, 22.0, 36.0
_ROW = 15.0


@dataclass(frozen=True, slots=True)
class Series:
    """A line of a chart. limit: drawn as one not to be crossed; marked: with a dot at every point.

    letter: written at it: at the end of a straight line, above the middle of any other.
    """

    name: str
    points: tuple[Point, ...]
    limit: bool = False
    marked: bool = False
    letter: str = ""


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar: its label, how long it is, what is written at its end; other: in a second color."""

    label: str
    value: float
    shown: str
    other: bool = False


def line_chart(
    series: Sequence[Series],
    *,
    across: str,
    up: str,
    title: str,
    description: str = "",
    width: float = 468.0,
    height: float = 250.0,
) -> Drawing:
    """Lines over a grid, the values of both axes from nothing up; the names of the lines stand below it.

    across, up: what the axes measure, with the unit; written at them.
    """
    drawn = [one for one in series if one.points]
    legend = list(_legend(drawn, width))
    rows = 1 + max((row for _, _, row in legend), default=0)
    low = height - _BOTTOM - _ROW * rows
    xs, ys = [x for one in drawn for x, _ in one.points], [y for one in drawn for _, y in one.points]
    x_ticks, y_ticks = ticks(min(0.0, *xs, 0.0), max(*xs, 0.0, 0.0)), ticks(min(0.0, *ys, 0.0), max(*ys, 0.0, 0.0))

    def place(point: Point) -> Point:
        x = _LEFT + (point[0] - x_ticks[0]) / (x_ticks[-1] - x_ticks[0]) * (width - _LEFT - _RIGHT)
        return x, low - (point[1] - y_ticks[0]) / (y_ticks[-1] - y_ticks[0]) * (low - _TOP)

    marks: list[Mark] = [Words(4.0, 12.0, up, 9.0)]
    for value in y_ticks:
        _, y = place((x_ticks[0], value))
        marks.append(Line(((_LEFT, y), (width - _RIGHT, y)), "grid"))
        marks.append(Words(_LEFT - 5, y + 3, tick_label(value, y_ticks), 9.0, "end"))
    for value in x_ticks:
        x, _ = place((value, y_ticks[0]))
        marks.append(Line(((x, low), (x, low + 4)), "axis"))
        marks.append(Words(x, low + 14, tick_label(value, x_ticks), 9.0, "middle"))
    marks.append(Line(((_LEFT, _TOP), (_LEFT, low), (width - _RIGHT, low)), "axis"))
    marks.append(Words((_LEFT + width - _RIGHT) / 2, low + 27, across, 9.0, "middle"))
    for one, role in _roles(drawn):
        points = tuple(place(point) for point in one.points)
        marks.append(Line(points, role))
        if one.letter:
            x, y = points[-1] if len(points) == 2 else points[len(points) // 2]
            marks.append(Words(x + 2, y + (3 if len(points) == 2 else -3), one.letter, 9.0))
        if one.marked:
            marks += [Dot(x, y, 2.6, role) for x, y in points]
    for (one, role), x, row in legend:
        y = low + _BOTTOM + _ROW * row + 5
        marks.append(Line(((x, y - 3), (x + 26, y - 3)), role))
        marks.append(Words(x + 31, y, one.name, 9.0))
    return Drawing(width=width, height=height, marks=tuple(marks), title=title, description=description)


def _roles(series: Sequence[Series]) -> Iterator[tuple[Series, Role]]:
    number = 0
    for one in series:
        yield one, "limit" if one.limit else SERIES[number % len(SERIES)]
        number += not one.limit


def _legend(series: Sequence[Series], width: float) -> Iterator[tuple[tuple[Series, Role], float, int]]:
    """Where each line's name stands: from the left, in as many rows as it takes."""
    x, row = _LEFT, 0
    for one, role in _roles(series):
        wide = 31 + width_of(one.name, 9.0) + 14
        if x > _LEFT and x + wide > width:
            x, row = _LEFT, row + 1
        yield (one, role), x, row
        x += wide


def bars(items: Sequence[Bar], *, title: str, description: str = "", width: float = 468.0) -> Drawing:
    """A bar a row, from the top down, the longest as long as there is room."""
    size, most = 9.0, max((abs(item.value) for item in items), default=0.0) or 1.0
    left = min(0.45 * width, max((width_of(item.label, size) for item in items), default=0.0) + 8)
    right = max((width_of(item.shown, size) for item in items), default=0.0) + 10
    long = width - left - right
    marks: list[Mark] = []
    for number, item in enumerate(items):
        y = 4 + number * _ROW
        length = abs(item.value) / most * long
        marks.append(Words(left - 6, y + 10, fitted(item.label, size, left - 8), size, "end"))
        marks.append(Box(left, y + 1, max(length, 0.5), _ROW - 4, "bar-other" if item.other else "bar"))
        marks.append(Words(left + length + 5, y + 10, item.shown, size))
    height = 8 + _ROW * max(1, len(items))
    marks.append(Line(((left, 2.0), (left, height - 2)), "axis"))
    return Drawing(width=width, height=height, marks=tuple(marks), title=title, description=description)


def fitted(text: str, size: float, width: float) -> str:
    """The text, cut with an ellipsis where it would be wider than there is room."""
    most = max(1, int(width / width_of("n", size)))
    return text if len(text) <= most else text[: most - 1] + "…"


def ticks(low: float, high: float, about: int = 5) -> tuple[float, ...]:
    """Round values from at or below `low` to at or above `high`, some `about` of them."""
    if not high > low:
        high = low + 1.0
    rough = (high - low) / about
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(factor * power for factor in (1.0, 2.0, 2.5, 5.0, 10.0) if factor * power >= 0.999 * rough)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return tuple(number * step for number in range(first, last + 1))


def tick_label(value: float, among: Sequence[float]) -> str:
    """A tick's value, with as many digits as its neighbors need."""
    step = among[1] - among[0]
    digits = next((n for n in range(7) if abs(round(step, n) - step) < 1e-6 * step), 6)
    return f"{value + 0.0:,.{digits}f}"
