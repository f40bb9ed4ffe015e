"""A line chart of braille dots with round figures on its axes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line of the chart: its name, its points, and whether it is drawn dashed."""

    name: str
    points: Sequence[Point]
    dashed: bool = False


def round_ticks(low: float, high: float, most: int) -> list[float]:
    """Round figures from `low` to `high`, no more than `most` of them."""
    span = high - low
    if span <= 0 or most < 2:
        return [low]
    raw = span / (most - 1)
    power = 10.0 ** math.floor(math.log10(raw))
    step = next((factor * power for factor in (1, 2, 2.5, 5) if factor * power >= raw - 1e-12 * power), 10 * power)
    first = math.ceil(low / step - 1e-9)
    return [k * step for k in range(first, math.floor(high / step + 1e-9) + 1)]


def line_chart(lines: Sequence[Line], *, width: int, height: int, across: str, up: str) -> list[str]:
    """The chart as text, `height` lines of `width` cells: the unit of the values on top, of the distance below."""
    points = [p for line in lines for p in line.points]
    if not points or width < 24 or height < 6:
        return ["too small to draw; the figures are in the list"]
    x_high = max(p[0] for p in points) or 1.0
    y_low, y_high = min(0.0, *(p[1] for p in points)), max(0.0, *(p[1] for p in points))
    if y_high == y_low:
        y_high = y_low + 1.0
    y_ticks = round_ticks(y_low, y_high, max(2, (height - 3) // 3))
    names = [f"{tick:.6g}" for tick in y_ticks]
    margin = max(map(len, names)) + 2
    plot_w, plot_h = width - margin - 1, height - 3
    grid = [[0] * plot_w for _ in range(plot_h)]
    scale_x, scale_y = (plot_w * 2 - 1) / x_high, (plot_h * 4 - 1) / (y_high - y_low)
    for line in lines:
        dots = [(p[0] * scale_x, (y_high - p[1]) * scale_y) for p in line.points]
        for one, other in zip(dots, dots[1:], strict=False):
            _draw(grid, one, other, line.dashed)
    rows_of = [min(plot_h - 1, int((y_high - tick) * scale_y / 4)) for tick in y_ticks]
    at_row = dict(zip(rows_of, names, strict=True))
    rows = [
        f"{at_row.get(row, ''):>{margin - 1}} {'┤' if row in at_row else '│'}" + "".join(chr(0x2800 + c) for c in cells)
        for row, cells in enumerate(grid)
    ]
    return [f"{up}", *rows, " " * margin + "└" + "─" * plot_w, _x_axis(x_high, margin, plot_w, across)]


def _draw(grid: list[list[int]], one: Point, other: Point, dashed: bool) -> None:
    steps = max(1, math.ceil(max(abs(other[0] - one[0]), abs(other[1] - one[1]))))
    for n in range(steps + 1):
        x, y = (round(a + (b - a) * n / steps) for a, b in zip(one, other, strict=True))
        if dashed and (x // 4) % 2:
            continue
        if 0 <= y // 4 < len(grid) and 0 <= x // 2 < len(grid[0]):
            grid[y // 4][x // 2] |= _DOTS[y % 4][x % 2]


def _x_axis(high: float, margin: int, width: int, unit: str) -> str:
    line = [" "] * (margin + 1 + width)
    room = len(line) - len(unit) - 1
    for tick in round_ticks(0.0, high, max(2, width // 12)):
        text = f"{tick:.6g}"
        at = margin + 1 + round(tick / high * (width - 1)) - len(text) // 2
        if at + len(text) < room:
            line[at : at + len(text)] = text
    line[room + 1 :] = unit
    return "".join(line)
