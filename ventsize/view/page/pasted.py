"""A copied block of a page read by its heads: what stands across, what down, in which units, and what was left out.

Nothing is shifted to make it fit: a line with more or fewer cells than its heads is left out and said to be.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ventsize.jobfile.editing import Data, put
from ventsize.quantity import System
from ventsize.view.page import layout, texts
from ventsize.view.page.blocks import Cells, split, tokens
from ventsize.view.page.columns import Columns, Reader, columns_of
from ventsize.view.page.heads import head_of, is_value, kind_by_figures, kind_by_unit, may_be
from ventsize.view.page.lines import case_of, take
from ventsize.view.page.texts import ALTITUDE, BY_ELBOWS, ELBOWS, INPUT, REQUIRED, SIZE, Row


@dataclass(frozen=True, slots=True)
class Pasted:
    """What a block was understood as.

    across: what its heads are. rows: of the table. lengths: how many there are. left_out: lines that say nothing a
    row can hold, as they stand. twice: cases that have two lengths. ragged: lines that do not fit their heads.
    remarks: what was taken for granted.
    """

    rows: tuple[Row, ...]
    across: str = ""
    lengths: int = 0
    blank: int = 0
    twice: int = 0
    left_out: tuple[str, ...] = ()
    ragged: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


def understand(text: str, system: System = System.US, *, across: str = "") -> Pasted | None:
    """What a copied block says by its own heads; None where it has none, so that it is cells and no page.

    across: what its heads are, where somebody has said so.
    """
    lines = split(text)
    reader = Reader(system, across)
    waiting: list[Cells] = []
    context: dict[str, str] = {}
    columns: Columns | None = None
    for at, line in enumerate(lines):
        group = _group(line)
        if group and not (columns and columns.width == 1):
            context |= group
        elif _is_body(line, columns, waiting):
            if waiting or columns is None:
                made = columns_of(waiting, [line for line in lines[at:] if sum(map(is_value, line)) > 1], reader)
                if made is None and columns is None:
                    return None
                columns = made or columns
                waiting = []
            assert columns is not None
            take(reader, columns, line, context)
        else:
            waiting.append(line)
    if columns is None or not reader.rows:
        return None
    reader.left_out += ["  ".join(cell for cell in line if cell) for line in waiting]
    return Pasted(
        rows=tuple(reader.rows.values()),
        across=columns.across,
        lengths=reader.lengths,
        blank=reader.blank,
        twice=reader.twice,
        left_out=tuple(reader.left_out),
        ragged=tuple(reader.ragged),
        remarks=tuple(reader.remarks),
    )


def with_pasted(data: Data, pasted: Pasted) -> Data:
    """The table with the rows of a block: a row for the same case takes the length, the others come at the end."""
    rows = [row for row in layout.rows_of(data) if not _is_blank(row)]
    at = {case_of(row): number for number, row in enumerate(rows)}
    for row in pasted.rows:
        if case_of(row) in at:
            rows[at[case_of(row)]] = row
        else:
            rows.append(row)
    return put(data, ("row",), rows)


def changed_by(data: Data, pasted: Pasted) -> int:
    """How many rows that are there would get another length."""
    there = {case_of(row): row for row in layout.rows_of(data) if not _is_blank(row)}
    return sum(case_of(row) in there and there[case_of(row)] != row for row in pasted.rows)


def _is_blank(row: Row) -> bool:
    """Whether a row holds no length: begun, and nothing to lose."""
    return not (texts.read_length(row) or any(row.get(BY_ELBOWS) or ()))


def _group(line: Cells) -> dict[str, str]:
    """What a line by itself says of those below it, such as "Altitude 0 to 2,000 ft" or "80,000 Btu/h"."""
    cells = [cell for cell in line if cell]
    if len(cells) == 1:
        cells = list(tokens(cells[0].replace(":", " ")))
    if len(cells) == 1 and kind_by_unit(cells[0]) in (ALTITUDE, INPUT, SIZE):
        return {kind_by_unit(cells[0]): cells[0]}
    if len(cells) == 2 and not is_value(cells[0]) and is_value(cells[1]):
        head = head_of(cells[0])
        kind = next((kind for kind in head.kinds if kind in REQUIRED), "")
        if kind and may_be(kind, cells[1:]):
            return {kind: cells[1]}
    return {}


def _is_body(line: Cells, columns: Columns | None, waiting: Sequence[Cells]) -> bool:
    """Whether a line holds lengths: its first cells say what for, and figures follow."""
    cells = [cell for cell in line if cell]
    figures = [cell for cell in cells if is_value(cell)]
    if len(figures) < 2 or (columns is not None and 2 * len(figures) < len(cells)):
        return False
    if not is_value(cells[0]):
        return bool(columns or waiting) and not head_of(cells[0]).kinds and len(cells) - len(figures) < 2
    if columns is None and not waiting:
        return not _looks_like_heads(line)
    units = {kind_by_unit(cell) for cell in cells}
    if len(units) == 1 and units & {SIZE, ALTITUDE, INPUT, ELBOWS}:
        return False  # heads without a label before them
    return not (line and not line[0] and columns is None and not _heads_done(waiting))


def _looks_like_heads(line: Cells) -> bool:
    """Whether the first line of a block is heads alone: sizes, numbers of elbows, bands."""
    cells = [cell for cell in line if cell]
    kind = kind_by_figures(cells)
    return kind in (SIZE, ELBOWS, ALTITUDE) or (line[0] == "" and kind == INPUT)


def _heads_done(waiting: Sequence[Cells]) -> bool:
    """Whether the lines so far hold heads with figures in them, so that figures now are lengths."""
    return any(sum(map(is_value, line)) > 1 for line in waiting)
