"""A run's route drawn in box characters: seen from above, and unrolled as seen from the side."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ventsize.quantity import Dimension, System, display_unit, display_value, show_length
from ventsize.run.route import Leg

TOO_SMALL = "too small to draw; the lengths are in the list"
START, OPEN_END, UPRIGHT, TURN = "■", "○", "●", "┼"
_NORTH, _EAST, _SOUTH, _WEST = 1, 2, 4, 8
_LINES = {
    _NORTH: "│", _SOUTH: "│", _NORTH | _SOUTH: "│", _EAST: "─", _WEST: "─", _EAST | _WEST: "─",
    _EAST | _SOUTH: "┌", _WEST | _SOUTH: "┐", _NORTH | _EAST: "└", _NORTH | _WEST: "┘",
    _NORTH | _EAST | _SOUTH: "├", _NORTH | _WEST | _SOUTH: "┤", _EAST | _WEST | _SOUTH: "┬",
    _NORTH | _EAST | _WEST: "┴", _NORTH | _EAST | _SOUTH | _WEST: "┼",
}  # fmt: skip
_DASHED = {"─": "╌", "│": "╎"}
_GAP = 4  # columns between two drawings that stand side by side
_STEPS = 36  # scales tried, each a tenth coarser than the one before

Cell = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stroke:
    """A leg on one of the drawings: across and up in cells, its label, and whether it is dashed."""

    start: Cell
    end: Cell
    label: str
    dashed: bool


class _Drawing:
    """Cells without bounds: lines first, then marks, then labels where there is room."""

    def __init__(self) -> None:
        self._bits: dict[Cell, int] = {}
        self._dashed: set[Cell] = set()
        self._text: dict[Cell, str] = {}

    def line(self, stroke: _Stroke) -> None:
        """From cell to cell; what slopes goes in steps."""
        (x, y), (x1, y1) = stroke.start, stroke.end
        across, up = abs(x1 - x), abs(y1 - y)
        new = []
        for _ in range(across + up):
            sloping = up and (abs(y1 - y) - 0.5) * across > abs(x1 - x) * up
            step = (0, 1 if y1 > y else -1) if x == x1 or sloping else (1 if x1 > x else -1, 0)
            new.append(self._join((x, y), step))
            x, y = x + step[0], y + step[1]
            new.append((x, y))
        if stroke.dashed:
            self._dashed.update(new)

    def _join(self, cell: Cell, step: Cell) -> Cell:
        out, back = {
            (1, 0): (_EAST, _WEST),
            (-1, 0): (_WEST, _EAST),
            (0, 1): (_NORTH, _SOUTH),
            (0, -1): (_SOUTH, _NORTH),
        }[step]
        other = (cell[0] + step[0], cell[1] + step[1])
        self._bits[cell] = self._bits.get(cell, 0) | out
        self._bits[other] = self._bits.get(other, 0) | back
        return cell

    def mark(self, cell: Cell, character: str, *, over: bool = True) -> None:
        """A single character at a place."""
        if over or cell not in self._text:
            self._text[cell] = character

    def write(self, stroke: _Stroke) -> None:
        """The label at the first free place beside its line."""
        for x, y in _beside(stroke):
            cells = [(x + n, y) for n in range(-1, len(stroke.label) + 1)]
            if not any(cell in self._bits or cell in self._text for cell in cells):
                self._text.update({(x + n, y): character for n, character in enumerate(stroke.label)})
                return

    def rows(self) -> list[str]:
        """The drawing, cut to what is drawn."""
        cells = self._bits.keys() | self._text.keys()
        if not cells:
            return []
        left, right = min(x for x, _ in cells), max(x for x, _ in cells)
        low, high = min(y for _, y in cells), max(y for _, y in cells)
        return ["".join(self._at((x, y)) for x in range(left, right + 1)) for y in range(high, low - 1, -1)]

    def _at(self, cell: Cell) -> str:
        if cell in self._text:
            return self._text[cell]
        character = _LINES.get(self._bits.get(cell, 0), " ")
        return _DASHED.get(character, character) if cell in self._dashed else character


def _beside(stroke: _Stroke) -> Iterator[Cell]:
    """Where a label may begin, the best place first."""
    (x0, y0), (x1, y1) = stroke.start, stroke.end
    long, x, y = len(stroke.label), (x0 + x1) // 2, (y0 + y1) // 2
    low, high = min(y0, y1), max(y0, y1)
    if (x0, y0) == (x1, y1):  # an upright pipe from above: under or over its mark keeps the drawing narrow
        for away in (1, 2):
            yield from ((x, y - away), (x, y + away), (x - long + 1, y - away), (x - long + 1, y + away))
    if x0 == x1:
        for away in range(2, 40):
            for row in sorted(range(low, high + 1), key=lambda row: abs(row - y)):
                yield x + away, row
                yield x - away - long + 1, row
            for further in range(1, away):
                yield x + 2, high + further
                yield x + 2, low - further
        return
    middle = x - long // 2
    for away in range(1, 40):
        for shift in (0, 1, -1, 2, -2, 3, -3):
            yield middle + shift, high + away
            yield middle + shift, low - away


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """A route drawn.

    lines: the drawing, without its marks explained.
    stretched: whether a short pipe was drawn longer than to scale, to be seen.
    """

    lines: tuple[str, ...]
    stretched: bool


def sketch(
    legs: Sequence[Leg], system: System, *, start_open: bool, end_open: bool, width: int, height: int
) -> Sketch | None:
    """Plan and elevation at one scale, as large as they fit, beside or below each other; None where they do not.

    start_open, end_open: whether the run's two ends are outdoors.
    """
    if width < 24 or height < 8:
        return None
    legs = _joined(legs)
    finest = _finest_scale(legs, width, height)
    if finest <= 0:
        return None
    for step in range(_STEPS):
        scale = finest * 1.1**step
        plan, plan_stretched = _plan(legs, system, scale, start_open, end_open)
        side, side_stretched = _elevation(legs, system, scale, start_open, end_open)
        placed = _arranged(["Plan   N ↑", "", *plan], ["Elevation along the run", "", *side], width, height - 2)
        if placed is not None:
            bar = _scale_bar(scale, system)
            return Sketch(lines=(*placed, "", bar), stretched=plan_stretched or side_stretched)
    return None


def _joined(legs: Sequence[Leg]) -> list[Leg]:
    """Pipes of one size that go straight on through couplings, each row of them as one leg."""
    found: list[Leg] = []
    for leg in legs:
        if found and _same_way(last := found[-1], leg):
            piece = replace(last.piece, length=last.piece.length + leg.piece.length)
            found[-1] = replace(last, piece=piece, end=leg.end, across=last.across + leg.across)
        else:
            found.append(leg)
    return found


def _same_way(one: Leg, other: Leg) -> bool:
    turned = abs(one.rise * other.piece.length - other.rise * one.piece.length)
    alike = (one.heading, one.assumed, one.piece.section.label) == (
        other.heading, other.assumed, other.piece.section.label
    )  # fmt: skip
    return alike and turned <= 1e-6 * one.piece.length * other.piece.length


def _finest_scale(legs: Sequence[Leg], width: int, height: int) -> float:
    """The length a column stands for, below which the bare lines would not fit [m]."""
    places = [legs[0].start, *(leg.end for leg in legs)]
    north, up = [place.north for place in places], [place.up for place in places]
    along = math.fsum(leg.across for leg in legs)  # no less than what the plan reaches east and west
    return max(along / width, (max(north) - min(north)) / 2 / height, (max(up) - min(up)) / 2 / height)


def _arranged(one: list[str], other: list[str], width: int, height: int) -> list[str] | None:
    """Two blocks beside each other, else below each other, else None."""
    wide, wide_other = max(map(len, one)), max(map(len, other))
    if wide + _GAP + wide_other <= width and max(len(one), len(other)) <= height:
        tall = max(len(one), len(other))
        one, other = one + [""] * (tall - len(one)), other + [""] * (tall - len(other))
        # Halves of the width where they fit, so that a small drawing does not hug the edge.
        column = max(wide + _GAP, min(width // 2, width - wide_other))
        return [f"{a:<{column}}{b}".rstrip() for a, b in zip(one, other, strict=True)]
    if max(wide, wide_other) <= width and len(one) + len(other) + 1 <= height:
        return [line.rstrip() for line in (*one, "", *other)]
    return None


def _cells(points: Sequence[tuple[float, float]], scale: float) -> tuple[list[Cell], bool]:
    """Points as cells, which are twice as high as wide; no leg shrinks to nothing. Whether one had to be stretched."""
    found, stretched = [(0, 0)], False
    for before, after in zip(points, points[1:], strict=False):
        steps = []
        for axis, (size, least) in enumerate(((scale, 2), (2 * scale, 1))):
            real = after[axis] - before[axis]
            step = round(after[axis] / size) - round(before[axis] / size)
            main = abs(real) >= abs(after[1 - axis] - before[1 - axis]) and abs(real) > 1e-9
            if main and abs(step) < least:
                stretched = stretched or abs(real) / size < 0.6 * least
                step = least if real > 0 else -least
            steps.append(step)
        found.append((found[-1][0] + steps[0], found[-1][1] + steps[1]))
    return found, stretched


def _plan(
    legs: Sequence[Leg], system: System, scale: float, start_open: bool, end_open: bool
) -> tuple[list[str], bool]:
    points = [(p.east, p.north) for p in [legs[0].start, *(leg.end for leg in legs)]]
    cells, stretched = _cells(points, scale)
    drawing, size, strokes = _Drawing(), "", []
    for leg, start, end in zip(legs, cells, cells[1:], strict=False):
        label = show_length(leg.piece.length, system)
        if leg.across <= 0:
            label = f"{leg.heading} {label}"
            drawing.mark(start, UPRIGHT)
        if leg.piece.section.label != size:
            size = leg.piece.section.label
            label += f" of {size}"
        strokes.append(_Stroke(start=start, end=end, label=label, dashed=leg.assumed))
    return _drawn(drawing, strokes, start_open, end_open), stretched


def _elevation(
    legs: Sequence[Leg], system: System, scale: float, start_open: bool, end_open: bool
) -> tuple[list[str], bool]:
    points = [(0.0, legs[0].start.up)]
    for leg in legs:
        points.append((points[-1][0] + leg.across, leg.end.up))
    cells, stretched = _cells(points, scale)
    drawing, strokes, before = _Drawing(), [], None
    for leg, start, end in zip(legs, cells, cells[1:], strict=False):
        label = show_length(leg.piece.length, system)
        if leg.across > 0:
            label += "" if leg.assumed else f" {leg.heading}"
            if abs(leg.rise) > 1e-6:
                label += f", {'rises' if leg.rise > 0 else 'falls'} {show_length(abs(leg.rise), system)}"
            if before is not None and before.across > 0 and before.heading != leg.heading:
                drawing.mark(start, TURN)
        strokes.append(_Stroke(start=start, end=end, label=label, dashed=leg.assumed))
        before = leg
    return _drawn(drawing, strokes, start_open, end_open), stretched


def _drawn(drawing: _Drawing, strokes: Sequence[_Stroke], start_open: bool, end_open: bool) -> list[str]:
    for stroke in strokes:
        drawing.line(stroke)
    first, last = strokes[0].start, strokes[-1].end
    drawing.mark(first, OPEN_END if start_open else START)
    if last != first:
        drawing.mark(last, OPEN_END if end_open else START)
    for stroke in strokes:
        drawing.write(stroke)
    return drawing.rows()


def _scale_bar(scale: float, system: System) -> str:
    """A bar as long as a round length is on the drawing, across; upwards a line counts as two columns."""
    unit = display_value(1.0, Dimension.LENGTH, system)
    least = 6 * scale * unit
    power = 10.0 ** math.floor(math.log10(least))
    length = next(factor * power for factor in (1, 2, 5, 10) if factor * power >= least)
    columns = max(2, round(length / unit / scale))
    return f"Scale ├{'─' * (columns - 1)}┤ {length:g} {display_unit(Dimension.LENGTH, system)}"
