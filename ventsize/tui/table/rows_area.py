"""The rows of an allowance table: typed as they stand on the page, with what each comes to as pressure."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from ventsize.allowance.model import NOT_PERMITTED
from ventsize.jobfile.editing import EditError, clear, insert_item, move_item, value_at
from ventsize.quantity import Dimension, System, display_unit, display_value, show_pressure
from ventsize.studies.typed_table import TypedRow
from ventsize.tui.table import entering, model
from ventsize.tui.table.area import Area
from ventsize.tui.widgets.grid import Grid
from ventsize.tui.widgets.grid_drawing import Line
from ventsize.tui.widgets.rows import Cell, Column

EXPECTED = {
    "Input": "the appliance's input as printed, such as 80,000 Btu/h or 80 MBH",
    "Size": "nominal pipe size, such as 3 in",
    "From": "lowest altitude of the row, such as 0 ft; 0-4500 fills both ends",
    "To": "highest altitude of the row, such as 4500 ft",
    "Allowed": "longest equivalent length, such as 90 ft",
    "Least": "shortest length, if the page gives one, such as 5 ft; else leave it empty",
}


class RowsArea(Area):
    """The grid of rows."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add_row", "Add row", id="table.add_row"),
        Binding("d", "duplicate_row", "Duplicate", id="table.duplicate_row"),
        Binding("f", "fill_down", "Fill down", id="table.fill"),
        Binding("r", "repeat", "As above", show=False, id="table.repeat"),
        Binding("x", "remove_row", "Remove row", show=False, id="table.remove_row"),
        Binding("ctrl+up,K", "shift(-1)", "Move row up", show=False, id="table.move_up"),
        Binding("ctrl+down,J", "shift(1)", "Move row down", show=False, id="table.move_down"),
        Binding("n", "next_remark", "Next remark", id="table.next_remark"),
        Binding("b", "kind", "By elbows or not", show=False, id="table.kind"),
    ]

    def make_grid(self) -> Grid:
        """Columns as on the page; the pressures beside them are only for reading."""
        return Grid([Column(title="Input", width=12)], id="grid", raw=self._raw)

    def _raw(self, row: int, column: int) -> str:
        heads = model.titles(self.session.data)
        return model.cell(self.session.data, row, heads[column]) if column < len(heads) else ""

    @property
    def topic(self) -> str:
        """The help topic of the column."""
        return model.topic(self.grid.title)

    def lay(self) -> None:
        """Rows with their marks, and what each comes to."""
        data, system = self.session.data, self.session.system
        heads = model.titles(data)
        found = self.found.rows if self.found else ()
        lines = []
        for n in range(len(model.rows_of(data))):
            row = found[n] if n < len(found) else TypedRow(number=n + 1)
            cells = [_cell(row, title, model.cell(data, n, title)) for title in heads]
            mark = "!" if row.faults else ("?" if row.remarks else "")
            tone = "bad" if row.faults else ("warn" if row.remarks else "faint")
            lines.append(Line(f"{mark}{n + 1:>{4 - len(mark)}}", (*cells, *_pressure(row, system)), tone))
        columns, typed = model.columns(data, display_unit(Dimension.PRESSURE, system))
        self.grid.show(lines, columns=columns, typed=typed)

    def said(self) -> list[str]:
        """What is expected in the cell; what is wrong with the row, in full; what it comes to."""
        row, title = self.grid.row, self.grid.title
        found = self.found.rows[row] if self.found and row < len(self.found.rows) else None
        expected = EXPECTED.get(title, "straight length with so many 90° elbows, such as 60 ft; - for not permitted")
        lines = [f"Row {row + 1}, {title}: {expected}"]
        if found is None:
            return [*lines, "Type a digit to begin a row. A block copied from elsewhere can be pasted here."]
        lines += [f"! {fault}" for fault in found.faults]
        if found.empty:
            lines.append(f"Still to be typed: {', '.join(found.empty)}")
        lines += [f"? {remark}" for remark in found.remarks]
        if found.pressure is not None and not found.stands_out:
            lines.append(_comes_to(found, self.session.system))
        return lines

    # Typing

    def on_grid_typed(self, event: Grid.Typed) -> None:
        """Every keystroke is in the data."""
        event.stop()
        data, system = self.session.data, self.session.system
        if event.ended and not event.text and self._is_blank(event.row):
            data = clear(data, ("row", event.row))  # begun and given up
        else:
            data = entering.put_text(data, event.row, event.title, event.text, system, ended=event.ended)
        where = model.place(event.row, event.title)
        self.typed_at(data, f"row {event.row + 1}, {event.title}", where, ended=event.ended)

    def _is_blank(self, number: int) -> bool:
        """Whether a row, the last one, holds nothing but what was taken over from the one above."""
        rows = model.rows_of(self.session.data)
        if number != len(rows) - 1 or number == 0:
            return False
        row = rows[number]
        return not (row.get("allowable") or row.get("allowable_by_elbows") or row.get("minimum")) and not (
            row.get("input") and self.grid.title != "Input"
        )

    def on_grid_pasted(self, event: Grid.Pasted) -> None:
        """Rows from a spreadsheet or a text go in from the cursor on."""
        event.stop()
        pasted = entering.block(event.text)
        data, dropped = entering.put_block(self.session.data, event.row, event.column, pasted, self.session.system)
        self.edit(data, f"paste {len(pasted.cells)} rows")
        said = f"Pasted {len(pasted.cells)} line{'s' * (len(pasted.cells) != 1)}"
        if pasted.heads:
            said += "; the first line was taken for the heads of the columns"
        if dropped:
            said += f"; {dropped} cells found no column and were left out"
        self.notify(f"{said}. Ctrl+Z takes it back.", markup=False, timeout=6)

    # Rows

    def action_add_row(self) -> None:
        """A row below the cursor, size and altitudes as in the one above."""
        if self.may_edit():
            at = min(self.grid.row + 1, len(model.rows_of(self.session.data)))
            self.edit(model.with_row(self.session.data, at), "add a row")
            self.call_after_refresh(self.grid.go, at, 0)

    def action_duplicate_row(self) -> None:
        """The row once more, below it."""
        row = value_at(self.session.data, ("row", self.grid.row))
        if self.may_edit() and row is not None:
            self.edit(insert_item(self.session.data, ("row",), row, self.grid.row + 1), "duplicate a row")
            self.call_after_refresh(self.grid.go, self.grid.row + 1)

    def action_remove_row(self) -> None:
        """Take the row out."""
        if self.may_edit():
            self.edit(clear(self.session.data, ("row", self.grid.row)), "remove a row")

    def action_shift(self, by: int) -> None:
        """The row further up or down."""
        if self.may_edit():
            try:
                self.edit(move_item(self.session.data, ("row", self.grid.row), by), "move a row")
            except EditError:  # the empty line at the end
                return
            self.call_after_refresh(self.grid.go, self.grid.row + by)

    def action_fill_down(self) -> None:
        """Copy the cell into the empty ones right below it."""
        if self.may_edit():
            title = self.grid.title
            data, filled = entering.fill_down(self.session.data, self.grid.row, title)
            self.edit(data, f"fill down {title}")
            self.notify(f"{filled} filled." if filled else "There is no empty cell right below.", timeout=2)

    def action_repeat(self) -> None:
        """The cell as the one above it, and one row down."""
        if self.may_edit() and self.grid.row:
            row, title = self.grid.row, self.grid.title
            text = model.cell(self.session.data, row - 1, title)
            self.edit(model.set_cell(self.session.data, row, title, text), f"row {row + 1}, {title} as above")
            self.call_after_refresh(self.grid.go, row + 1)

    def action_kind(self) -> None:
        """Change between one allowed length and lengths by number of elbows, while no length is typed."""
        rows = model.rows_of(self.session.data)
        if any(row.get("allowable") or any(row.get("allowable_by_elbows") or []) for row in rows):
            self.notify("Lengths are typed already; a table of the other kind is a new table.", severity="warning")
        elif self.may_edit():
            self.edit(model.other_kind(self.session.data), "kind of rows")

    def action_next_remark(self) -> None:
        """Go to the next row of which there is something to say."""
        self.grid.finish()
        rows = self.found.rows if self.found else ()
        marked = [row.number - 1 for row in rows if row.faults or row.empty or row.remarks]
        if not marked:
            self.notify("Nothing to say of any row.", timeout=2)
            return
        self.grid.go(next((n for n in marked if n > self.grid.row), marked[0]))


def _cell(row: TypedRow, title: str, text: str) -> Cell:
    """A cell as it stands; one that a fault of its row speaks of is marked."""
    if text == NOT_PERMITTED:
        return Cell("no", "faint")
    key = "altitude" if title in ("From", "To") else model.KEYS.get(title)
    wrong = any(key and fault.startswith(f"{key}") and (key != "altitude" or text in fault) for fault in row.faults)
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
