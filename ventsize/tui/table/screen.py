"""Typing in an allowance table: a grid as it stands in the manual, with what each row amounts to as pressure."""

from __future__ import annotations

import re
from pathlib import Path
from typing import ClassVar

from textual import events, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import HorizontalGroup
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Footer, Input, Label, Static

from ventsize.catalog.folders import user_tables_folder
from ventsize.jobfile.editing import EditError, clear, put, value_at
from ventsize.jobfile.writer import SaveError
from ventsize.quantity import System, show_pressure
from ventsize.tui.job.form import Form
from ventsize.tui.job.session import ChangedOnDisk, Session
from ventsize.tui.job.specs import Spec, length
from ventsize.tui.table import model
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.picker import Picker
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.rows import Cell, Row, Rows

EXPECTED = {"Input": "80 kBtu/h, as printed", "Size": "3 in", "From": "0 ft: lowest altitude of the row",
            "To": "2000 ft: highest altitude", "Allowed": "90 ft", "Least": "5 ft, or leave it empty"}  # fmt: skip


class TableScreen(Screen[None]):
    """A table's rows in a grid; the cell under the cursor is typed in the line below it."""

    DEFAULT_CSS = """
    TableScreen {
        & #table-state { height: 2; padding: 0 1; background: $panel; }
        & #head-form { max-height: 3; }
        & #grid { height: 2fr; min-height: 4; }
        & #entry-row { height: 1; padding: 0 1; background: $panel; }
        & #entry-label { width: 22; text-style: bold; }
        & #entry { width: 24; background: $surface-lighten-1; }
        & #entry-note { width: 1fr; color: $text-muted; padding: 0 1; }
        & #deductions { height: auto; max-height: 5; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add_row", "Add row", id="table.add_row"),
        Binding("f", "fill_down", "Fill down", id="table.fill"),
        Binding("d", "deduction", "Deduct", id="table.deduction"),
        Binding("b", "kind", "By elbows or not", id="table.kind"),
        Binding("x,delete", "remove_row", "Remove row", show=False, id="table.remove_row"),
        Binding("c", "copy", "Copy table", show=False, id="table.copy"),
        Binding("ctrl+z,u", "undo", "Undo", id="table.undo"),
        Binding("ctrl+y,U", "redo", "Redo", show=False, id="table.redo"),
        Binding("ctrl+s", "save", "Save", id="table.save"),
        Binding("escape", "back", "Close", show=False, id="table.back"),
    ]

    def __init__(self, name: str | None, session: Session | None = None) -> None:
        super().__init__()
        self._name = name
        self.session = session or Session(model.empty_table(), path=None)
        self._elbows = False
        self._before = ""
        self._pressures: dict[int, str] = {}

    def compose(self) -> ComposeResult:
        """State, head, grid, the line to type in, deductions."""
        yield Static("", id="table-state", markup=False)
        yield Form(id="head-form")
        yield Rows(model.columns(False), cells=True, id="grid")
        with HorizontalGroup(id="entry-row"):
            yield Label("", id="entry-label", markup=False)
            entry = Input("", id="entry", compact=True)
            entry.cursor_blink = False
            yield entry
            yield Static("", id="entry-note", markup=False)
        yield Form(id="deductions")
        yield Footer()

    def on_mount(self) -> None:
        """Open the table by its name."""
        self._open()

    @work(thread=True)
    def _open(self) -> None:
        from ventsize.allowance.reading import find_table
        from ventsize.catalog.library import load_catalog
        from ventsize.jobfile.problems import InputError

        self._catalog = load_catalog()
        fault = ""
        if self._name is not None:
            try:
                path = find_table(self._name, beside=user_tables_folder())
                self.session = Session.open(path, shipped=path.parent != user_tables_folder())
            except InputError as error:
                fault = str(error)
        self.session.system = System(self.app.settings.units)  # type: ignore[attr-defined]
        self.app.call_from_thread(self._opened, fault)  # type: ignore[arg-type]

    async def _opened(self, fault: str) -> None:
        if fault:
            self.notify(fault, severity="error", markup=False)
        if not value_at(self.session.data, ("row",), []):
            self.session.history = type(self.session.history)(model.new_row(self.session.data, False))
        self._elbows = model.by_elbows(self.session.data)
        head = [
            Spec(label="Title", place=("title",), topic="table_title", example="what the page says"),
            Spec(label="Copied from", place=("source",), topic="table_source", example="manual, page, date"),
        ]
        await self.query_one("#head-form", Form).show(self.session, head)
        await self._refill()
        if self._name is None:
            self.query_one("#head-form", Form).focus_field(0)
        else:
            self.query_one("#grid", Rows).focus()

    # Showing

    async def _refill(self) -> None:
        names = list(value_at(self.session.data, ("deductions",), {}) or {})
        fields = [length(name, ("deductions", name), "table_length") for name in names]
        fields = [f for f in fields if isinstance(value_at(self.session.data, f.place), str)]
        await self.query_one("#deductions", Form).show(self.session, fields)
        self.query_one("#head-form", Form).refill()
        self.refreshed()

    def refreshed(self) -> None:
        """Judge the table as typed, and show grid and remarks."""
        state = self._judged()
        self.query_one("#table-state", Static).update(Content(state))
        heads = model.titles(self._elbows)
        rows = []
        for n in range(len(value_at(self.session.data, ("row",), []))):
            cells: list[Cell | str] = [model.cell(self.session.data, n, title) for title in heads]
            if not self._elbows:
                cells.append(Cell(self._pressures.get(n + 1, ""), "faint"))
            rows.append(Row(key=n, cells=tuple(cells)))
        grid = self.query_one("#grid", Rows)
        grid.show(rows, columns=model.columns(self._elbows))
        if not self.query_one("#entry", Input).has_focus:
            self._show_cell()

    def _judged(self) -> str:
        from ventsize.allowance.reading import table_from_data
        from ventsize.jobfile.problems import InputError
        from ventsize.studies.implied import remarks, row_pressures

        saved = "saved" if self.session.path and not self.session.history.unsaved else "not saved"
        try:
            table = table_from_data(self.session.data, file="")
        except InputError as error:
            return f"Allowance table, {saved}\n! not usable yet: {error.problems[0]}"
        found = row_pressures(table, self._catalog)
        marks = {row.row.number: (" ?" if row.remark else "") for row in found}
        self._pressures = {
            row.row.number: show_pressure(row.pressure, self.session.system) + marks[row.row.number] for row in found
        }
        said = remarks(table, self._catalog)
        more = f" ({len(said)} remarks in all)" if len(said) > 1 else ""
        rows = f"{len(table.rows)} row{'s' * (len(table.rows) != 1)}"
        return f"Allowance table, {saved}: {rows}\n" + (f"? {said[0]}{more}" if said else "✓ usable")

    def _at(self) -> tuple[int, str]:
        grid = self.query_one("#grid", Rows)
        heads = model.titles(self._elbows)
        return grid.row, heads[min(grid.column, len(heads) - 1)]

    def _show_cell(self) -> None:
        row, title = self._at()
        self.query_one("#entry-label", Label).update(Content(f"Row {row + 1}, {title}"))
        self.query_one("#entry-note", Static).update(Content(f"{EXPECTED.get(title, '90 ft, or not permitted')}"))
        entry = self.query_one("#entry", Input)
        with entry.prevent(Input.Changed):
            entry.value = model.cell(self.session.data, row, title)

    # Typing

    def on_rows_moved(self, event: Rows.Moved) -> None:
        """The line below follows the cursor."""
        event.stop()
        self._show_cell()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Enter: change the cell."""
        event.stop()
        self._begin(None)

    def on_rows_typed(self, event: Rows.Typed) -> None:
        """A digit: type over the cell."""
        event.stop()
        self._begin(event.rows.take_typed())

    def _begin(self, text: str | None) -> None:
        entry = self.query_one("#entry", Input)
        self._before = model.cell(self.session.data, *self._at())
        entry.select_on_focus = text is None
        self.set_focus(entry)
        if text is not None:
            entry.value = text
            self.call_after_refresh(setattr, entry, "cursor_position", len(text))

    def on_input_changed(self, event: Input.Changed) -> None:
        """The cell shows what is typed; what it amounts to follows."""
        if event.input.id != "entry" or not event.input.has_focus:
            return
        event.stop()
        self._put(event.value)

    def _put(self, text: str) -> None:
        row, title = self._at()
        above = model.cell(self.session.data, row - 1, title) if row else ""
        data = model.set_cell(self.session.data, row, title, model.with_unit(text, title, above))
        self.session.history.do(data, f"row {row + 1}, {title}", at=model.place(row, title), typing=True)
        self.session.keep()
        self.refreshed()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter: the next cell; after the last one, a new row."""
        if event.input.id != "entry":
            return
        event.stop()
        self._onwards()

    def _onwards(self) -> None:
        grid = self.query_one("#grid", Rows)
        self.session.history.pause()
        grid.focus()
        last = len(model.titles(self._elbows)) - 1
        if grid.column < last:
            grid.go(grid.row, grid.column + 1)
        elif grid.row + 1 < len(grid.rows):
            grid.go(grid.row + 1, 0)
        else:
            self.action_add_row()
        self._show_cell()

    def on_key(self, event: events.Key) -> None:
        """Esc in the line below puts back what the cell held; arrows leave it for the next cell."""
        if self.focused is None or self.focused.id != "entry" or event.key not in ("escape", "up", "down", "tab"):
            return
        event.stop()
        event.prevent_default()
        grid = self.query_one("#grid", Rows)
        if event.key == "escape":
            self._put(self._before)
            grid.focus()
        elif event.key == "tab":
            self._onwards()
            return
        else:
            self.session.history.pause()
            grid.focus()
            grid.action_move(1 if event.key == "down" else -1)
        self._show_cell()

    def on_paste(self, event: events.Paste) -> None:
        """Rows from a spreadsheet or a text: they go in from the cursor on."""
        if self.focused is not None and self.focused.id == "grid":
            event.stop()
            grid = self.query_one("#grid", Rows)
            cells = model.pasted(event.text)
            self.session.do(model.put_cells(self.session.data, grid.row, grid.column, cells, self._elbows), "paste")
            self.refreshed()

    def on_form_typed(self, event: Form.Typed) -> None:
        """Title, source, deductions."""
        event.stop()
        self.refreshed()

    def on_form_finished(self, event: Form.Finished) -> None:
        """Enter in the head goes on; after its last line to the grid."""
        event.stop()
        self.focus_next()

    # Actions

    def action_add_row(self) -> None:
        """A row more, size and altitudes as in the last."""
        self.session.do(model.new_row(self.session.data, self._elbows), "add a row")
        self.refreshed()
        grid = self.query_one("#grid", Rows)
        grid.go(len(grid.rows) - 1, 0)
        grid.focus()

    def action_remove_row(self) -> None:
        """Take the row out."""
        row, _ = self._at()
        try:
            self.session.do(clear(self.session.data, ("row", row)), "remove a row")
        except EditError as error:
            self.notify(str(error), markup=False)
        self.refreshed()

    def action_fill_down(self) -> None:
        """Copy the cell into every row below that has none."""
        row, title = self._at()
        data, text = self.session.data, model.cell(self.session.data, *self._at())
        for n in range(row + 1, len(value_at(data, ("row",), []))):
            if not model.cell(data, n, title):
                data = model.set_cell(data, n, title, text)
        self.session.do(data, f"fill down {title}")
        self.refreshed()

    def action_kind(self) -> None:
        """Change between one allowed length and lengths by number of elbows, while no length is typed."""
        rows = value_at(self.session.data, ("row",), [])
        if any(row.get("allowable") or any(row.get("allowable_by_elbows") or []) for row in rows):
            self.notify("Lengths are typed already; a table of the other kind is a new table.", severity="warning")
            return
        self._elbows = not self._elbows
        kind = {"allowable_by_elbows": [""]} if self._elbows else {"allowable": ""}
        shared = ("input", "size", "altitude", "minimum")
        fresh = [{**{k: row[k] for k in shared if k in row}, **kind} for row in rows]
        self.session.do(put(self.session.data, ("row",), fresh), "kind of rows")
        self.refreshed()

    def action_deduction(self) -> None:
        """A fitting whose equivalent length the table gives."""
        entries = [(f.name, f.name, f.title) for f in self._catalog.fittings.values()]

        async def chosen(name: str | None) -> None:
            if name:
                if value_at(self.session.data, ("deductions", name)) is None:
                    self.session.do(put(self.session.data, ("deductions", name), "0 ft"), f"deduct {name}")
                await self._refill()
                form = self.query_one("#deductions", Form)
                form.focus_field(next((n for n, s in enumerate(form.specs) if s.label == name), 0))

        self.app.push_screen(Picker("The table deducts for", entries), chosen)

    async def action_undo(self) -> None:
        """Take the last edit back."""
        self.session.undo()
        self._elbows = model.by_elbows(self.session.data)
        await self._refill()

    async def action_redo(self) -> None:
        """Do it again."""
        self.session.redo()
        self._elbows = model.by_elbows(self.session.data)
        await self._refill()

    def action_copy(self) -> None:
        """The grid, cells apart by tabs."""
        self.app.copy_to_clipboard(self.query_one("#grid", Rows).as_text())
        self.notify("Copied.", timeout=2)

    def action_save(self) -> None:
        """Into the user's own tables; asks for a name where it has none there."""
        if self.session.path is not None and not self.session.shipped:
            self._save(self.session.path)
            return
        words = re.findall(r"[a-z0-9]+", str(self.session.data.get("title", "")).lower())
        usual = f"{'-'.join(words)[:50] or 'table'}.toml"
        self.app.push_screen(AskLine(f"Save the table in {user_tables_folder()} as", None, value=usual), self._named)

    def _named(self, name: str | None) -> None:
        if name and name.strip():
            self._save(user_tables_folder() / Path(name.strip()).with_suffix(".toml").name)

    def _save(self, path: Path, *, overwrite: bool = False) -> None:
        try:
            self.session.save(path, overwrite=overwrite)
        except ChangedOnDisk as error:
            answers = (("over", "Write over it", "w"), ("leave", "Leave it", "l"))

            def answered(word: str | None) -> None:
                if word == "over":
                    self._save(path, overwrite=True)

            self.app.push_screen(Question("There is such a file", str(error), answers), answered)
            return
        except (OSError, SaveError) as error:
            self.notify(f"Not saved: {error}", severity="error", markup=False)
            return
        self.notify(f"Saved {path.name}; jobs can name it now.", markup=False, timeout=3)
        self.refreshed()

    def action_back(self) -> None:
        """Close; ask where something is not saved."""
        if not self.session.history.unsaved:
            self.session.journal.close()
            self.dismiss(None)
            return
        answers = (("save", "Save", "s"), ("drop", "Drop the changes", "d"), ("stay", "Go on", "g"))

        def answered(word: str | None) -> None:
            if word == "save":
                self.action_save()
            elif word == "drop":
                self.session.journal.close()
                self.dismiss(None)

        self.app.push_screen(Question("Not saved", "There are changes that are not saved.", answers), answered)
