"""Line charts and bars. Values come in the units they are shown in; here they are only put in their places."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ventsize.report.drawing.model import Box, Dot, Drawing, Line, Mark, Point, Words, moved, width_of
from ventsize.report.drawing.styles import SERIES, Role

_LEFT, _RIGHT, _TOP, _BOTTOM = 52.0, 14.0, 22.0, 36.0
_ROW, _NAMES = 15.0, 11.0


@dataclass(frozen=True, slots=True)
class Series:
    """A line of a chart. limit: drawn as one not to be crossed; beside: as a rule set beside the others.

    marked: with a dot at every point; apart: dots alone, where there is nothing between them.
    letter: written at it: at the end of a straight line, above some part of any other.
    """

    name: str
    points: tuple[Point, ...]
    limit: bool = False
    beside: bool = False
    marked: bool = False
    apart: bool = False
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
    places: Sequence[tuple[float, str]] = (),
    shaded: tuple[float, float, str] | None = None,
) -> Drawing:
    """Lines over a grid, the values of both axes from nothing up; the names of the lines stand below it.

    across, up: what the axes measure, with the unit; written at them. places: upright lines with their names.
    shaded: a stretch and what holds for it.
    """
    drawn = [one for one in series if one.points]
    legend = list(_legend(drawn, width))
    rows = 1 + max((row for _, _, row in legend), default=0)
    low, top = height - _BOTTOM - _ROW * rows, _TOP + (2 * _NAMES if places else 0.0)
    xs, ys = (
        [*(x for one in drawn for x, _ in one.points), *(x for x, _ in places)],
        [y for one in drawn for _, y in one.points],
    )
    x_ticks, y_ticks = ticks(min(0.0, *xs, 0.0), max(*xs, 0.0, 0.0)), ticks(min(0.0, *ys, 0.0), max(*ys, 0.0, 0.0))

    def place(point: Point) -> Point:
        x = _LEFT + (point[0] - x_ticks[0]) / (x_ticks[-1] - x_ticks[0]) * (width - _LEFT - _RIGHT)
        return x, low - (point[1] - y_ticks[0]) / (y_ticks[-1] - y_ticks[0]) * (low - top)

    marks: list[Mark] = []
    if shaded is not None:
        (left, _), (right, _) = place((shaded[0], y_ticks[0])), place((shaded[1], y_ticks[0]))
        marks += [
            Box(left, top, right - left, low - top, "shade"),
            Words(max(3.0, min(left + 3, width - _RIGHT - width_of(shaded[2], 8.0))), low - 4, shaded[2], 8.0),
        ]
    marks.append(Words(4.0, 12.0, up, 9.0))
    for value in y_ticks:
        _, y = place((x_ticks[0], value))
        marks.append(Line(((_LEFT, y), (width - _RIGHT, y)), "grid"))
        marks.append(Words(_LEFT - 5, y + 3, tick_label(value, y_ticks), 9.0, "end"))
    for value in x_ticks:
        x, _ = place((value, y_ticks[0]))
        marks.append(Line(((x, low), (x, low + 4)), "axis"))
        label = tick_label(value, x_ticks)
        inside = x + width_of(label, 9.0) / 2 <= width
        marks.append(Words(x if inside else width - 1, low + 14, label, 9.0, "middle" if inside else "end"))
    marks.append(Line(((_LEFT, top), (_LEFT, low), (width - _RIGHT, low)), "axis"))
    marks.append(Words((_LEFT + width - _RIGHT) / 2, low + 27, across, 9.0, "middle"))
    for number, (one, role) in enumerate(_roles(drawn), start=1):
        points = tuple(place(point) for point in one.points)
        marks += [] if one.apart else [Line(points, role)]
        if one.letter:  # each at another part of its line, so that lines that lie together keep theirs apart
            x, y = points[-1] if len(points) == 2 else points[len(points) * number // (len(drawn) + 1)]
            marks.append(Words(x + 2, y + (3 if len(points) == 2 else -3), one.letter, 9.0))
        if one.marked or one.apart:
            marks += [Dot(x, y, 2.6, role) for x, y in points]
    for number, (at, name) in enumerate(places):
        x, _ = place((at, y_ticks[0]))
        y = top - 4 - _NAMES * (number % 2)
        on_left = x + width_of(name, 9.0) > width
        marks.append(Line(((x, y + 2), (x, low)), "limit"))
        marks.append(Words(x, y, name, 9.0, "end" if on_left else "start"))
    for (one, role), x, row in legend:
        y = low + _BOTTOM + _ROW * row + 5
        marks.append(Dot(x + 13, y - 3, 2.6, role) if one.apart else Line(((x, y - 3), (x + 26, y - 3)), role))
        marks.append(Words(x + 31, y, one.name, 9.0))
    return Drawing(width=width, height=height, marks=tuple(marks), title=title, description=description)


def beside(drawings: Sequence[Drawing]) -> Drawing:
    """Drawings side by side in one."""
    marks: list[Mark] = []
    wide = 0.0
    for one in drawings:
        marks += [moved(mark, wide) for mark in one.marks]
        wide += one.width
    title, high = "; ".join(one.title for one in drawings), max(one.height for one in drawings)
    return Drawing(width=wide, height=high, marks=tuple(marks), title=title, description=drawings[0].description)


def _roles(series: Sequence[Series]) -> Iterator[tuple[Series, Role]]:
    number = 0
    for one in series:
        plain = not one.limit and not one.beside
        yield one, SERIES[number % len(SERIES)] if plain else "limit" if one.limit else "beside"
        number += plain


def _legend(series: Sequence[Series], width: float) -> Iterator[tuple[tuple[Series, Role], float, int]]:
    """Where each line's name stands: from the left, in as many rows as it takes."""
    x, row = _LEFT, 0
    for one, role in _roles(series):
        wide = 31 + width_of(one.name, 9.0) + 14
        if x > _LEFT and x + wide > width:
            x, row = _LEFT, row + 1
        yield (one, role), x, row
        x += wide


def bars(items: Sequence[Bar], *, title: str, up: str = "", description: str = "", width: float = 468.0) -> Drawing:
    """A bar a row, from the top down, the longest as long as there is room. up: what they measure, with the unit."""
    size, most = 9.0, max((abs(item.value) for item in items), default=0.0) or 1.0
    left = min(0.45 * width, max((width_of(item.label, size) for item in items), default=0.0) + 8)
    right = max((width_of(item.shown, size) for item in items), default=0.0) + 10
    long = width - left - right
    head = 1 if up else 0
    marks: list[Mark] = [Words(4.0, 10.0, up, size)] if up else []
    for number, item in enumerate(items, start=head):
        y = 4 + number * _ROW
        length = abs(item.value) / most * long
        marks.append(Words(left - 6, y + 10, fitted(item.label, size, left - 8), size, "end"))
        marks.append(Box(left, y + 1, max(length, 0.5), _ROW - 4, "bar-other" if item.other else "bar"))
        marks.append(Words(left + length + 5, y + 10, item.shown, size))
    height = 8 + _ROW * (head + max(1, len(items)))
    marks.append(Line(((left, head * _ROW + 2.0), (left, height - 2)), "axis"))
    return Drawing(width=width, height=height, marks=tuple(marks), title=title, description=description)


def fitted(text: str, size: float, width: float) -> str:
    """The text, cut with an ellipsis where it would be wider than there is room."""
    most = max(1, int(width / width_of("n", size) + 1e-6))
    return text if len(text) <= most else text[: most - 1] + "…"


def ticks(low: float, high: float) -> tuple[float, ...]:
    """Round values from at or below `low` to at or above `high`, some five of them."""
    if not high > low:
        high = low + 1.0
    rough = (high - low) / 5
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(factor * power for factor in (1.0, 2.0, 2.5, 5.0, 10.0) if factor * power >= 0.999 * rough)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return tuple(number * step for number in range(first, last + 1))


def tick_label(value: float, among: Sequence[float]) -> str:
    """A tick's value, with as many digits as its neighbors need."""
    step = among[1] - among[0]
    digits = next((n for n in range(7) if abs(round(step, n) - step) < 1e-6 * step), 6)
    return f"{value + 0.0:,.{digits}f}"
