"""Charts and bars of characters: lines of braille dots with round figures on their axes. No units, no styles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
_EIGHTHS = " ▏▎▍▌▋▊▉█"
_UNSURE = "·"
_MARK_EVERY = 16  # cells between two letters on one line
Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line of the chart: its name, its points, whether it is drawn dashed, and the letter that marks it.

    apart: the letter alone, at every point.
    """

    name: str
    points: Sequence[Point]
    dashed: bool = False
    mark: str = ""
    apart: bool = False


def bar(share: float | None, width: int) -> str:
    """A bar of up to `width` cells for a share between 0 and 1."""
    if share is None or share <= 0:
        return ""
    eighths = round(min(share, 1.0) * width * 8)
    return "█" * (eighths // 8) + _EIGHTHS[eighths % 8].strip()


_MOST_TICKS = 6  # where fewer give only one: a scale needs two


def round_ticks(low: float, high: float, most: int, *, whole: bool = False) -> list[float]:
    """Round figures from `low` to `high`, no more than `most` of them, or a few more where else there were but one.

    whole: for things that are counted.
    """
    span = high - low
    if span <= 0 or most < 2:
        return [low]
    raw = span / (most - 1)
    power = 10.0 ** math.floor(math.log10(raw))
    factors = (1, 2, 5) if whole else (1, 2, 2.5, 5)
    step = next((factor * power for factor in factors if factor * power >= raw - 1e-12 * power), 10 * power)
    step = max(step, 1.0) if whole else step
    first = math.ceil(low / step - 1e-9)
    ticks = [k * step for k in range(first, math.floor(high / step + 1e-9) + 1)]
    return ticks if len(ticks) > 1 or most >= _MOST_TICKS else round_ticks(low, high, most + 1, whole=whole)


def line_chart(
    lines: Sequence[Line],
    *,
    width: int,
    height: int,
    across: str,
    up: str,
    start: float = 0.0,
    unsure: tuple[float, float] | None = None,
    places: Sequence[tuple[float, str]] = (),
    whole: bool = False,
) -> list[str]:
    """The chart as text, `height` lines of `width` cells: the unit of the values on top, of the distance below.

    start: where the distance begins, at the left edge. unsure: a stretch of it that is dotted over.
    places: where the axis gets a mark, and which. whole: whether what lies across is counted, not measured.
    """
    points = [p for line in lines for p in line.points]
    if not points or width < 24 or height < 6:
        return ["too small to draw; the figures are in the list"]
    x_high = max(p[0] for p in points)
    if x_high <= start:
        x_high = start + 1.0
    y_low, y_high = min(0.0, *(p[1] for p in points)), max(0.0, *(p[1] for p in points))
    if y_high == y_low:
        y_high = y_low + 1.0
    y_ticks = round_ticks(y_low, y_high, max(2, (height - 3) // 3))
    names = [f"{tick:.6g}" for tick in y_ticks]
    margin = max(map(len, names)) + 2
    plot_w, plot_h = width - margin - 1, height - 3
    grid = [[0] * plot_w for _ in range(plot_h)]
    scale_x, scale_y = (plot_w * 2 - 1) / (x_high - start), (plot_h * 4 - 1) / (y_high - y_low)
    drawn = [[((x - start) * scale_x, (y_high - y) * scale_y) for x, y in line.points] for line in lines]
    for line, dots in zip(lines, drawn, strict=True):
        for one, other in zip(dots, () if line.apart else dots[1:], strict=False):
            _draw(grid, one, other, line.dashed)
    cells = [[chr(0x2800 + dots) for dots in row] for row in grid]
    if unsure is not None:
        _dot_over(cells, *(round((x - start) * scale_x / 2) for x in unsure))
    for number, (line, dots) in enumerate(zip(lines, drawn, strict=True)):
        if line.mark:
            _letter(cells, dots, line, number * _MARK_EVERY // max(1, len(lines)))
    rows_of = [min(plot_h - 1, int((y_high - tick) * scale_y / 4)) for tick in y_ticks]
    at_row = dict(zip(rows_of, names, strict=True))
    rows = [
        f"{at_row.get(row, ''):>{margin - 1}} {'┤' if row in at_row else '│'}" + "".join(line)
        for row, line in enumerate(cells)
    ]
    base = _base(plot_w, [(int((place - start) * scale_x / 2), mark) for place, mark in places])
    return [f"{up}", *rows, " " * margin + "└" + base, _x_axis(start, x_high, margin, plot_w, across, whole)]


def _draw(grid: list[list[int]], one: Point, other: Point, dashed: bool) -> None:
    steps = max(1, math.ceil(max(abs(other[0] - one[0]), abs(other[1] - one[1]))))
    for n in range(steps + 1):
        x, y = (round(a + (b - a) * n / steps) for a, b in zip(one, other, strict=True))
        if dashed and (x // 4) % 2:
            continue
        if 0 <= y // 4 < len(grid) and 0 <= x // 2 < len(grid[0]):
            grid[y // 4][x // 2] |= _DOTS[y % 4][x % 2]


def _dot_over(cells: list[list[str]], first: int, last: int) -> None:
    """Mark the empty cells of some columns."""
    for row in cells:
        for column in range(max(0, first), min(len(row), last + 1)):
            if row[column] == chr(0x2800):
                row[column] = _UNSURE


def _letter(cells: list[list[str]], dots: Sequence[Point], line: Line, shift: int) -> None:
    """Write a line's letter on it at even distances, shifted so that lines that lie together share the room."""

    def write(column: int, y: float) -> None:
        cells[min(len(cells) - 1, max(0, round(y) // 4))][min(len(cells[0]) - 1, column)] = line.mark

    for x, y in dots if line.apart else ():
        write(int(x) // 2, y)
    for column in () if line.apart else range(2 + shift, len(cells[0]), _MARK_EVERY):
        x = 2.0 * column
        for one, other in zip(dots, dots[1:], strict=False):
            if min(one[0], other[0]) <= x <= max(one[0], other[0]) and one[0] != other[0]:
                write(column, one[1] + (other[1] - one[1]) * (x - one[0]) / (other[0] - one[0]))
                break


def _base(width: int, places: Sequence[tuple[int, str]]) -> str:
    """The axis below, with marks at some cells; of several at one cell, each goes to the nearest that is free."""
    cells = ["─"] * width
    for column, mark in places:
        free = [at for at in range(width) if cells[at] == "─"]
        if free:
            cells[min(free, key=lambda at: abs(at - column))] = mark
    return "".join(cells)


def _x_axis(low: float, high: float, margin: int, width: int, unit: str, whole: bool) -> str:
    line = [" "] * (margin + 1 + width)
    room = len(line) - len(unit) - 1
    for tick in round_ticks(low, high, max(2, width // 12), whole=whole):
        text = f"{tick:.6g}"
        at = margin + 1 + round((tick - low) / (high - low) * (width - 1)) - len(text) // 2
        if at + len(text) < room:
            line[at : at + len(text)] = text
    line[room + 1 :] = unit
    return "".join(line)
