"""The rows of an allowance table: typed as they stand on the page, with what each comes to as pressure.

`rows_area` has the keys.
"""

from __future__ import annotations

import re

from ventsize.jobfile.editing import Data, put, value_at
from ventsize.quantity import Dimension, System, display_unit, display_value, show_pressure
from ventsize.report.wording import say
from ventsize.studies.typed_table import TypedRow
from ventsize.tui.table import model
from ventsize.tui.table.area import Area
from ventsize.tui.table.pasted_screen import PastedScreen
from ventsize.tui.table.pasting import Proposal, of_cells, of_page
from ventsize.tui.table.rows_grid import NO_ROW, RowsGrid, grid_of
from ventsize.tui.widgets.grid import Grid
from ventsize.tui.widgets.grid_drawing import Line
from ventsize.tui.widgets.rows import Cell, Column
from ventsize.view.page import layout
from ventsize.view.page.layout import NOTHING
from ventsize.view.page.texts import ELBOWS, LENGTH

_HEADS = re.compile(r"(\d+)(?:\s*-\s*(\d+))?")


class RowsPage(Area):
    """The grid of rows, laid out as the page is: `across` says what stands over its columns."""

    def __init__(self, across: str | None = None) -> None:
        super().__init__()
        self.grid = Grid([Column(title="Input", width=12)], self, id="grid")  # the other columns as on the page
        self.across = across
        self.more: tuple[str, ...] = ()
        self.elbows = 0
        self._whole_head = False  # whether all numbers of elbows were typed at once
        self._begun: int | None = None  # the line that the text being typed has made

    @property
    def cells(self) -> RowsGrid:
        """What stands where."""
        if self.across is None:
            self.across = layout.usual_across(self.session.data)
        return grid_of(self.session.data, self.across, self.more, self.elbows, self.session.system)

    @property
    def topic(self) -> str:
        """The help topic of the column."""
        return model.TOPICS[self._typed_name()]

    def _typed_name(self) -> str:
        """What is typed in the cell under the cursor."""
        cells = self.cells
        if self.grid.row < cells.top:
            return self.across or ELBOWS
        name = cells.name(self.grid.column)
        return ELBOWS if name == LENGTH and cells.page.by_elbows else name

    # What the grid asks

    def raw(self, row: int, column: int) -> str:
        """The text behind a cell."""
        return self.cells.text(row, column)

    def span(self, row: int) -> range:
        """The columns that the cursor may stand on."""
        return self.cells.span(row)

    def onward(self, row: int, column: int, step: int) -> tuple[int, int]:
        """Where Enter goes."""
        cells, whole, self._whole_head = self.cells, self._whole_head, False
        return cells.into(cells.top) if whole and step > 0 else cells.onward(row, column, step)

    def take(self, row: int, column: int, text: str, *, ended: bool) -> None:
        """Every keystroke is in the data; a head is taken when it is left, since two may not be the same."""
        cells = self.cells
        if row < cells.top:
            if ended and text != cells.text(row, column):
                self._take_head(cells, row, column, text)
            return
        new, where = cells.is_new(row), cells.place(row, column)
        data = cells.with_text(row, column, text)
        self._begun = row if new else self._begun
        if ended and not text and self._begun == row and not self._holds_lengths(data, row):
            data = layout.without_line(data, cells.page, row - cells.top)  # begun and given up
        if ended:
            self._begun = None
        self.typed(data, f"{model.TITLES[cells.name(column)]} {text}".strip(), where, ended=ended)

    def _take_head(self, cells: RowsGrid, row: int, column: int, text: str) -> None:
        try:
            data = self._elbow_heads(cells, column, text) if not self.across else cells.with_text(row, column, text)
        except ValueError as error:
            self.notify(f"{error}.".capitalize(), severity="warning", markup=False, timeout=4)
            data = self.session.data
        self.typed(data, f"head {text}", cells.place(row, column), ended=True)

    def _elbow_heads(self, cells: RowsGrid, column: int, text: str) -> Data:
        """Numbers of elbows count up by one from left to right: one sets them all, 1-5 makes so many columns."""
        at, match = column - len(cells.names), _HEADS.fullmatch(text.strip())
        last = int(match[2] or match[1]) if match else 0
        first = int(match[1]) - at if match else -1
        if (
            not match
            or first < 0
            or last > layout.MOST_ELBOWS
            or last - first >= layout.MOST_ELBOWS
            or last < int(match[1])
        ):
            raise ValueError("the numbers of elbows count up by one from left to right, such as 0-5")
        self._whole_head = match[2] is not None
        self.elbows = max(last - first + 1, 0 if match[2] else len(cells.page.heads))
        return layout.with_first_elbows(self.session.data, first)

    def _holds_lengths(self, data: Data, row: int) -> bool:
        cells = grid_of(data, self.across or NOTHING, self.more, self.elbows, self.session.system)
        line = row - cells.top
        heads = range(len(cells.page.heads))
        return line >= len(cells.page.lines) or any(layout.length_at(data, cells.page, line, at) for at in heads)

    def on_grid_pasted(self, event: Grid.Pasted) -> None:
        """A block is shown as it is understood, and taken at Enter."""
        event.stop()
        cells, text, data, system = self.cells, event.text, self.session.data, self.session.system

        def make(across: str) -> Proposal | None:
            return of_page(data, text, system, across)

        def chosen(taken: tuple[Proposal, bool] | None) -> None:
            if taken is None:
                return
            found, footnotes = taken
            noted = list(value_at(found.data, ("confirm",), None) or [])
            kept = put(found.data, ("confirm",), [*noted, *found.left_out]) if footnotes else found.data
            self.across = found.across if layout.fits(kept, found.across) else NOTHING
            self.edit(kept, "paste a block")
            self.notify("Taken. Ctrl+Z takes it back.", timeout=3)

        try:
            first = make("") or of_cells(cells, event.row, event.column, text)
        except ValueError as error:
            self.notify(f"Not pasted: {error}.", severity="warning", markup=False, timeout=5)
            return
        self.app.push_screen(PastedScreen(make, first, footnotes=True), chosen)

    # What is shown

    def lay(self) -> None:
        """Lines with their marks, and over a list what each row comes to."""
        cells, system = self.cells, self.session.system
        lines = [self._heads(cells)] if cells.top else []
        lines += [self._drawn(cells, row) for row in range(cells.top, cells.height - 1)]
        if not self.session.shipped:
            new = tuple(Cell(cells.faint(cells.height - 1, n), "faint") for n in range(len(cells.names)))
            lines.append(Line("   +", new, "faint"))
        columns = cells.columns(display_unit(Dimension.PRESSURE, system))
        self.grid.show(lines, columns=columns, frozen=min(3, len(cells.names)))

    def _heads(self, cells: RowsGrid) -> Line:
        blank = [""] * len(cells.names)
        heads = [Cell(text, "strong") for text in cells.page.heads]
        return Line("", (*blank, *heads, Cell("" if self.session.shipped else "+", "faint")), "faint")

    def _drawn(self, cells: RowsGrid, row: int) -> Line:
        line = cells.page.lines[row - cells.top]
        found = [self._found(n) for n in line.rows]
        wrong, doubtful = any(f.faults for f in found), any(f.remarks for f in found)
        mark = "!" if wrong else ("?" if doubtful else "")
        labels = [_label(found[0], name, cells.text(row, n)) for n, name in enumerate(cells.names)]
        lengths = [self._length(cells, row, len(cells.names) + n) for n in range(len(line.cells))]
        beside = _pressure(found[0], self.session.system) if not cells.page.across else ()
        lengths += [Cell("")] * (len(cells.page.heads) - len(lengths) + cells.top)
        number = row - cells.top + 1
        tone = "bad" if wrong else ("warn" if doubtful else "faint")
        return Line(f"{mark}{number:>{4 - len(mark)}}", (*labels, *lengths, *beside), tone)

    def _length(self, cells: RowsGrid, row: int, column: int) -> Cell:
        ref = cells.ref(row, column)
        if ref is None:
            return Cell(NO_ROW, "faint")
        text = model.shown(cells.text(row, column))
        if not cells.page.across:
            return Cell(text, "faint" if text == "no" else "")
        found = self._found(ref.row)
        mark = "! " if found.faults else ("? " if found.remarks else "")
        return Cell(mark + text, "bad" if found.faults else ("warn" if found.remarks else ""))

    def _found(self, number: int) -> TypedRow:
        found = self.found.rows if self.found else ()
        return found[number] if number < len(found) else TypedRow(number=number + 1)

    def said(self) -> list[str]:
        """What is expected in the cell; what is wrong with its row, in full; what it comes to."""
        cells, row, column = self.cells, self.grid.row, self.grid.column
        name = cells.name(column)
        if row < cells.top:
            over = model.EXPECTED[self.across] if self.across else "numbers of 90° elbows: 0-5 makes six columns"
            return [f"Over the columns: {over}"]
        expected = model.EXPECTED[name]
        if name == LENGTH and cells.page.by_elbows:
            expected = "straight length with so many 90° elbows, such as 60 ft; - where it is not permitted"
        ref = cells.ref(row, column)
        if ref is None:
            said = [f"{model.TITLES[name]}: {expected}"]
            if not cells.is_new(row):
                return [*said, "The page has nothing here: no row. Type a length to make one."]
            return [*said, "Type to begin a line. A block copied from elsewhere can be pasted here."]
        found = self._found(ref.row)
        place = f"Row {ref.row + 1}" if not cells.page.across else cells.case(row, column)
        lines = [f"{place}, {model.TITLES[name]}: {expected}"]
        lines += [f"! {fault}" for fault in found.faults]
        if found.empty:
            lines.append(f"Still to be typed: {', '.join(found.empty)}")
        lines += [f"? {say(remark, self.session.system, place=False)}" for remark in found.remarks]
        if found.pressure is not None and not found.stands_out:
            lines.append(_comes_to(found, self.session.system))
        return lines


def _label(row: TypedRow, name: str, text: str) -> Cell:
    """A cell as it stands; one that a fault of its row speaks of is marked."""
    wrong = any(fault.path[:1] == (name,) for fault in row.faults)
    return Cell(text, "bad" if wrong and text else "")


def _pressure(row: TypedRow, system: System) -> tuple[Cell, Cell]:
    """What a row comes to and what rows usually do, in the unit that stands over the column."""
    if row.pressure is None:
        return Cell(""), Cell("")
    number = show_pressure(row.pressure, system).removesuffix(display_unit(Dimension.PRESSURE, system)).strip()
    shown = Cell(f"? {number}", "warn") if row.stands_out else Cell(number, "faint")
    if row.usual is None:
        return shown, Cell("")
    digits = 2 if system is System.US else 0
    low, high = (f"{display_value(value, Dimension.PRESSURE, system):.{digits}f}" for value in row.usual)
    return shown, Cell(f"{low}-{high}", "faint")


def _comes_to(row: TypedRow, system: System) -> str:
    said = f"Comes to {show_pressure(row.pressure or 0.0, system)} of straight pipe without elbows"
    if row.usual is None:
        return f"{said}; from 4 rows on it is held against the others"
    low, high = (show_pressure(value, system) for value in row.usual)
    if (row.pressure or 0.0) < row.usual[0]:
        return f"{said}; rows of this table usually {low} to {high}: cut off at a length several rows share"
    return f"{said}; rows of this table usually {low} to {high}"
