"""What a pasted block would make of the table: shown before it is taken."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ventsize.jobfile.editing import Data, put, value_at
from ventsize.quantity import System
from ventsize.tui.table import deducted, model
from ventsize.tui.table.rows_grid import NO_ROW, RowsGrid, grid_of
from ventsize.tui.widgets.grid_drawing import Line
from ventsize.tui.widgets.rows import Cell, Column
from ventsize.view.page import layout
from ventsize.view.page.blocks import split
from ventsize.view.page.fittings import understand_deductions
from ventsize.view.page.pasted import Pasted, changed_by, understand, with_pasted
from ventsize.view.page.texts import ELBOWS

ACROSS = {"size": "sizes", "input": "inputs", "altitude": "altitudes", "elbows": "numbers of elbows"}
MOST_LINES = 3


@dataclass(frozen=True, slots=True)
class Proposal:
    """A block as understood: the cells it fills, what is said of it, and the table with it.

    across: the layout to go on with. left_out: lines that nothing of was taken.
    """

    columns: tuple[Column, ...]
    lines: tuple[Line, ...]
    said: tuple[str, ...]
    data: Data
    across: str = ""
    left_out: tuple[str, ...] = ()
    frozen: int = 2


def of_page(data: Data, text: str, system: System, across: str = "") -> Proposal | None:
    """A block with heads of its own; None where it has none."""
    pasted = understand(text, system, across=across)
    if pasted is None:
        return None
    page = "" if pasted.across == ELBOWS else pasted.across
    alone = {"row": [dict(row) for row in pasted.rows]}
    page = page if layout.fits(alone, page) else ""
    grid = grid_of(alone, page, (), 0, system)
    said = [_summary(pasted), *_numbered("!", "not taken, as many cells as heads are wanted", pasted.ragged)]
    if pasted.twice:
        said.append(f"! {pasted.twice} cases come twice with different lengths: a head above them was not understood")
    if pasted.blank:
        said.append(f"· {pasted.blank} cells are empty on the page: no row for them, which leaves them not covered")
    if changed := changed_by(data, pasted):
        said.append(f"! {changed} rows that are there get another length")
    said += [f"? {remark}" for remark in pasted.remarks]
    said += _numbered("-", "left out", pasted.left_out)
    return _shown(grid, _lines(grid), said, with_pasted(data, pasted), pasted.left_out)


def _summary(pasted: Pasted) -> str:
    count = f"{pasted.lengths} length{'s' * (pasted.lengths != 1)} in {len(pasted.rows)} rows"
    return f"{count}; {ACROSS[pasted.across]} across" if pasted.across else f"{count}; a head over each column"


def of_cells(grid: RowsGrid, row: int, column: int, text: str) -> Proposal:
    """A block without heads: cells from the cursor on, lines added as needed."""
    lines, dropped, filled = split(text), 0, set()
    for n, cells in enumerate(lines):
        for k, cell in enumerate(cells):
            at = (min(row + n, grid.height - 1), column + k)
            if at[1] not in grid.span(at[0]) or at[0] < grid.top:
                dropped += bool(cell)
                continue
            data = grid.with_text(*at, cell)
            grid = grid_of(data, grid.page.across, grid.page.down, len(grid.page.heads), grid.system)
            filled.add(at)
    where = f"from line {row - grid.top + 1}, {model.TITLES[grid.name(column)]}, on"
    said = [f"{sum(map(len, lines)) - dropped} cells {where}: the block has no heads, so that its place decides"]
    if dropped:
        said.append(f"! {dropped} cells stand outside of the page and are left out")
    return _shown(grid, _lines(grid, filled), said, grid.data)


def of_deductions(data: Data, text: str, titles: Mapping[str, str], system: System) -> Proposal | None:
    """Fittings and what they deduct; None where nothing is understood."""
    pasted = understand_deductions(text, titles, system)
    if pasted is None:
        return None
    there = value_at(data, ("deductions",), {})
    changed = put(data, ("deductions",), {**(there if isinstance(there, dict) else {}), **pasted.lengths})
    columns = [Column(title="Fitting", width=22), *deducted.columns(changed)]
    heads = deducted.titles(changed)
    lines = [Line("", (name, *(deducted.cell(changed, name, head) for head in heads))) for name in pasted.lengths]
    known = isinstance(there, dict) and [
        name for name in pasted.lengths if there.get(name, pasted.lengths[name]) != pasted.lengths[name]
    ]
    said = [f"{len(pasted.lengths)} fitting{'s' * (len(pasted.lengths) != 1)}"]
    said += [f"! {', '.join(known)}: another length is there and gives way"] if known else []
    said += [f"? {remark}" for remark in pasted.remarks]
    said += _numbered("!", "no fitting of ours by that name, to be added by hand (a)", pasted.left_out)
    return Proposal(tuple(columns), tuple(lines), tuple(said), changed, "", pasted.left_out, 1)


def _shown(grid: RowsGrid, lines: list[Line], said: list[str], data: Data, left_out: tuple[str, ...] = ()) -> Proposal:
    columns = grid.columns("")[: grid.span(grid.top).stop]
    frozen = min(3, len(grid.names))
    return Proposal(tuple(columns), tuple(lines), tuple(said), data, grid.page.across, left_out, frozen)


def _lines(grid: RowsGrid, filled: set[tuple[int, int]] | None = None) -> list[Line]:
    found = []
    last = grid.height - 1
    for row in range(last):
        width = grid.span(row).stop if row >= grid.top else len(grid.names) + len(grid.page.heads)
        cells = []
        for column in range(width):
            text = model.shown(grid.text(row, column))
            hole = row >= grid.top and column >= len(grid.names) and grid.ref(row, column) is None
            tone = "strong" if row < grid.top or (filled and (row, column) in filled) else ("faint" if hole else "")
            cells.append(Cell(NO_ROW if hole else text, tone))
        found.append(Line("" if row < grid.top else f"{row - grid.top + 1:>4}", tuple(cells), "faint"))
    return found


def _numbered(mark: str, what: str, texts: tuple[str, ...]) -> list[str]:
    said = [f"{mark} {what}: {text}" for text in texts[:MOST_LINES]]
    return said + ([f"{mark} and {len(texts) - MOST_LINES} lines more"] if len(texts) > MOST_LINES else [])
