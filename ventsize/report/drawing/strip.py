"""The pieces of a run in a row, not to scale; of a counted run, how many of each."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import NamedTuple

from ventsize.jobfile.job import OUTDOORS
from ventsize.quantity import System, show_length
from ventsize.report.drawing.model import Box, Drawing, Line, Mark, Words, width_of
from ventsize.run.model import Run

_SIZE, _ROW, _GAP, _HIGH = 8.5, 46.0, 10.0, 20.0


class _Cell(NamedTuple):
    text: str
    kind: str  # pipe, fitting, appliance, opening


def strip(run: Run, system: System, *, width: float = 468.0) -> Drawing:
    """A run as a row of its pieces, in as many rows as it takes."""
    cells = list(_cells(run, system))
    marks: list[Mark] = []
    x, row = 4.0, 0
    for number, cell in enumerate(cells):
        wide = min(width_of(cell.text, _SIZE) + 14, width - 8)
        if x > 4.0 and x + wide > width - 4:
            x, row = 4.0, row + 1
        y = 10 + row * _ROW
        if number:
            marks.append(Line(((x - _GAP if x > 4 else 0.0, y + _HIGH / 2), (x, y + _HIGH / 2)), "pipe"))
        marks += _drawn(cell, x, y, wide)
        x += wide + _GAP
    way = "how many of each, in no order" if run.counted else "the pieces in their order"
    marks.append(Words(4.0, 10 + row * _ROW + _HIGH + 14, f"Not to scale; {way}.", 7.5))
    return Drawing(
        width=width,
        height=row * _ROW + _HIGH + 30,
        marks=tuple(marks),
        title=f"Pieces of {run.name}",
        description="; ".join(cell.text for cell in cells),
    )


def _cells(run: Run, system: System) -> Iterator[_Cell]:
    yield _end(run.start)
    named = [
        (f"{show_length(piece.length, system)} of {piece.section.label}", "pipe")
        if piece.is_pipe
        else (piece.name, "fitting")
        for piece in run.pieces
    ]
    for (text, kind), same in itertools.groupby(named):
        number = len(list(same))
        yield _Cell(f"{number} × {text}" if number > 1 else text, kind)
    yield _end(run.end)


def _end(joint: str) -> _Cell:
    return _Cell(joint, "opening" if joint == OUTDOORS else "appliance")


def _drawn(cell: _Cell, x: float, y: float, wide: float) -> Iterator[Mark]:
    middle = x + wide / 2
    if cell.kind == "pipe":
        yield Line(((x, y + _HIGH / 2), (x + wide, y + _HIGH / 2)), "pipe")
        yield Words(middle, y + _HIGH / 2 - 5, cell.text, _SIZE, "middle")
        return
    roles = {"fitting": "fitting", "appliance": "appliance", "opening": "opening"}
    yield Box(x, y, wide, _HIGH, roles[cell.kind])  # type: ignore[arg-type]
    yield Words(middle, y + _HIGH / 2 + 3, cell.text, _SIZE, "middle", strong=cell.kind != "fitting")
