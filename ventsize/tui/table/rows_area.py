"""The keys of the rows: lines added, doubled, filled and taken out; how the page is laid out."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from ventsize.jobfile.editing import EditError, move_item, put
from ventsize.tui.table import model
from ventsize.tui.table.rows_grid import RowsGrid
from ventsize.tui.table.rows_page import RowsPage
from ventsize.tui.widgets.picker import Picker
from ventsize.view.page import layout
from ventsize.view.page.texts import ENDS, LENGTH, MATERIALS, PIPES


class RowsArea(RowsPage):
    """The rows with their keys."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add_row", "Add line", id="table.add_row"),
        Binding("d", "duplicate_row", "Duplicate", show=False, id="table.duplicate_row"),
        Binding("f", "fill_down", "Fill down", show=False, id="table.fill"),
        Binding("quotation_mark", "repeat", "As above", show=False, id="table.repeat"),
        Binding("x", "remove", "Remove", id="table.remove_row"),
        Binding("ctrl+up,less_than_sign", "shift(-1)", "Move row up", show=False, id="table.move_up"),
        Binding("ctrl+down,greater_than_sign", "shift(1)", "Move row down", show=False, id="table.move_down"),
        Binding("n", "next_remark", "Next remark", show=False, id="table.next_remark"),
        Binding("v", "layout", "View", id="table.layout"),
        Binding("m", "more_columns", "More columns", id="table.more_columns"),
        Binding("ctrl+k", "kind", "By elbows or not", show=False, id="table.kind"),
    ]

    def _line(self) -> int | None:
        """The line under the cursor, where it is one that is there."""
        line = self.grid.row - self.cells.top
        return line if 0 <= line < len(self.cells.page.lines) else None

    def action_add_row(self) -> None:
        """A line below the cursor, for the same as the one above but for one thing."""
        if self.may_edit():
            line = self._line()
            data = layout.with_line(self.session.data, self.cells.page, line)
            self.edit(data, "add a line")
            row = self.cells.top + (len(self.cells.page.lines) - 1 if line is None else line + 1)
            self.call_after_refresh(lambda: self.grid.go(*self.cells.into(row)))

    def action_duplicate_row(self) -> None:
        """The line once more, below it."""
        line = self._line()
        if line is not None and self.may_edit():
            rows, numbers = layout.rows_of(self.session.data), self.cells.page.lines[line].rows
            where = max(numbers) + 1
            self.edit(
                put(self.session.data, ("row",), [*rows[:where], *(rows[n] for n in numbers), *rows[where:]]),
                "duplicate a line",
            )
            self.call_after_refresh(self.grid.go, self.grid.row + 1)

    def action_remove(self) -> None:
        """Take out what is under the cursor: a line, the column under a head, or one cell of a page."""
        cells, line, at = self.cells, self._line(), self.grid.column - len(self.cells.names)
        if not self.may_edit():
            return
        if self.grid.row < cells.top and cells.page.across and 0 <= at < len(cells.page.heads):
            self.edit(layout.without_column(self.session.data, cells.page, at), f"no column {cells.page.heads[at]}")
        elif line is None:
            self.notify("There is nothing here to take out.", timeout=2)
        elif at >= 0 and cells.page.across and not cells.page.by_elbows:
            self.edit(
                layout.without_cell(self.session.data, cells.page, line, at),
                f"no row for {cells.case(self.grid.row, self.grid.column)}",
            )
        else:
            self.edit(layout.without_line(self.session.data, cells.page, line), "take a line out")

    def action_shift(self, by: int) -> None:
        """The row further up or down."""
        line = self._line()
        if line is None or not self.may_edit():
            return
        if self.cells.page.across:
            self.notify("Rows are moved in the list (v).", timeout=3)
            return
        try:
            self.edit(move_item(self.session.data, ("row", line), by), "move a row")
        except EditError:
            return
        self.call_after_refresh(self.grid.go, self.grid.row + by)

    def action_fill_down(self) -> None:
        """Copy the cell into the empty ones right below it."""
        cells, column = self.cells, self.grid.column
        if not self.may_edit() or self.grid.row < cells.top:
            return
        text, filled, data = cells.text(self.grid.row, column), 0, self.session.data
        for row in range(self.grid.row + 1, cells.height - 1):
            if not text or cells.text(row, column):
                break
            data, filled = RowsGrid(data, cells.page, cells.system).with_text(row, column, text), filled + 1
        self.edit(data, f"fill down {text}")
        self.notify(f"{filled} filled." if filled else "There is no empty cell right below.", timeout=2)

    def action_repeat(self) -> None:
        """The cell as the one above it, and one row down."""
        row, column = self.grid.row, self.grid.column
        if self.may_edit() and row > self.cells.top:
            text = self.cells.text(row - 1, column)
            self.edit(self.cells.with_text(row, column, text), f"{text} as above")
            self.call_after_refresh(self.grid.go, row + 1)

    def action_kind(self) -> None:
        """Change between one allowed length and lengths by number of elbows, while no length is typed."""
        rows = layout.rows_of(self.session.data)
        if any(row.get("allowable") or any(row.get("allowable_by_elbows") or []) for row in rows):
            self.notify("Lengths are typed already; a table of the other kind is a new table.", severity="warning")
        elif self.may_edit():
            self.edit(model.other_kind(self.session.data), "kind of rows")

    def action_layout(self) -> None:
        """What stands across the page."""
        elbows = layout.by_elbows(self.session.data)
        entries = [
            ("list", "Numbers of elbows across" if elbows else "One length a line", "each line a row of the table"),
            ("size", "Sizes across", "inputs and altitudes down" + (", numbers of elbows too" if elbows else "")),
            ("input", "Inputs across", "sizes and altitudes down"),
            ("altitude", "Altitudes across", "inputs and sizes down"),
        ]

        def chosen(word: str | None) -> None:
            if word is None:
                return
            across = "" if word == "list" else word
            if not layout.fits(self.session.data, across):
                self.notify("Two rows are for one case, so that only the list can show them both.", severity="warning")
                return
            self.across = across
            self.lay()
            self.grid.go(0, 0)
            self.tell()

        self.app.push_screen(Picker("How is the page laid out?", entries, at=self.across or "list"), chosen)

    def action_more_columns(self) -> None:
        """A column for a condition that the page has."""
        entries = [
            (name, model.TITLES[name], said) for name, said in model.MORE.items() if name not in self.cells.names
        ]

        def chosen(name: str | None) -> None:
            if name:
                self.more = (*self.more, name)
                self.lay()
                self.grid.go(
                    self.grid.row if self.grid.row >= self.cells.top else self.cells.top, self.cells.names.index(name)
                )
                self.tell()

        self.app.push_screen(Picker("What else do the lengths depend on?", entries), chosen)

    def choose(self, row: int, column: int) -> bool:
        """Ends, materials and pipes are chosen from a list; a choice once more takes it out again."""
        name = self.cells.name(column)
        if name not in model.CHOSEN or row < self.cells.top:
            return False
        present = [word for word in self.cells.text(row, column).split(", ") if word]
        entries = [(word, f"{'+ ' if word in present else '  '}{word}", title) for word, title in self._choices(name)]

        def chosen(word: str | None) -> None:
            if not word:
                return
            left = [other for other in present if other != word] if name != PIPES else []
            left += [word] if word not in present else []
            self.edit(self.cells.with_text(row, column, ", ".join(left)), f"{model.TITLES[name]} {', '.join(left)}")

        self.app.push_screen(Picker(f"{model.TITLES[name]}: Enter puts one in or takes it out", entries), chosen)
        return True

    def _choices(self, name: str) -> list[tuple[str, str]]:
        if name == PIPES:
            return [("one", "air from the room"), ("two", "an air pipe of its own")]
        if name == MATERIALS:
            return [(pipe.name, pipe.title) for pipe in self.catalog.pipes.values()]
        assert name == ENDS
        own = self.session.data.get("fitting")
        named = (
            [(str(f.get("name")), str(f.get("title", ""))) for f in own if isinstance(f, dict)]
            if isinstance(own, list)
            else []
        )
        fittings = self.catalog.fittings.values()
        return [*named, *((f.name, f.title) for f in fittings if f.kind in ("terminal", "entrance"))]

    def action_next_remark(self) -> None:
        """Go to the next length of which there is something to say."""
        self.grid.finish()
        cells = self.cells
        rows = self.found.rows if self.found else ()
        marked = [row.number - 1 for row in rows if row.faults or row.empty or row.remarks]
        here = cells.ref(self.grid.row, self.grid.column)
        if not marked:
            self.notify("Nothing to say of any row.", timeout=2)
            return
        number = next((n for n in marked if here is None or n > here.row), marked[0])
        found = cells.at(("row", number, LENGTH))
        if found is not None:
            self.grid.go(*found)
