"""The allowance tables at hand: searched, looked at, opened, copied, renamed, taken in and given out."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import HorizontalGroup, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, Label, Static

from ventsize.allowance import library
from ventsize.allowance.library import KnownTable
from ventsize.catalog.folders import at_home, user_jobs_folder, user_tables_folder
from ventsize.jobfile.document import read_text
from ventsize.jobfile.problems import InputError
from ventsize.tui.long_work import tell
from ventsize.tui.table.asking import ask_kind, export
from ventsize.tui.table.handing import data_from
from ventsize.tui.table.known import known_jobs
from ventsize.tui.table.screen import TableScreen
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.field import begin_typing
from ventsize.tui.widgets.file_picker import FilePicker, shown
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.rows import Cell, Column, Row, Rows
from ventsize.tui.widgets.text import one_line

COLUMNS = (
    Column(title="Title", width=24, grow=1),
    Column(title="Inputs", width=23),
    Column(title="Sizes", width=15),
    Column(title="Rows", width=4, align="right", from_width=76),
)

MOST_JOBS = 3
MOST_NAMED = 8


class TablesScreen(Screen[None]):
    """Enter opens what the cursor is on."""

    DEFAULT_CSS = """
    TablesScreen {
        & #tables-title { text-style: bold; background: $panel; }
        & #search-row { height: 1; padding: 0 1; }
        & #search-row Label { width: 10; color: $text-muted; }
        & #search { width: 1fr; height: 1; background: $surface-lighten-1; }
        & #tables-list { height: 1fr; }
        & #about { height: auto; max-height: 8; padding: 0 1; border-top: solid $panel-lighten-2; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "new", "Add", id="tables.new"),
        Binding("slash", "search", "Search", key_display="/", show=False, id="tables.search"),
        Binding("d", "copy_to_new", "Duplicate", id="tables.copy_to_new"),
        Binding("e", "rename", "Change name", id="tables.rename"),
        Binding("s", "export", "Save a copy", id="tables.export"),
        Binding("i", "import", "Import", show=False, id="tables.import"),
        Binding("x,delete", "delete", "Remove", id="tables.delete"),
        Binding("ctrl+z,u", "bring_back", "Undo the removal", show=False, id="tables.bring_back"),
        Binding("c", "copy", "Copy the list", show=False, id="tables.copy"),
        Binding("escape", "back", "Close", id="tables.back"),
    ]

    topic = "tables"

    def __init__(self) -> None:
        super().__init__()
        self._tables: tuple[KnownTable, ...] = ()
        self._used: dict[Path, tuple[Path, ...]] = {}
        self._more_jobs: list[Path] = []  # found in folders that were named
        self._deleted: list[tuple[Path, Path]] = []  # where each is now, and where it was
        self.opening = True

    def compose(self) -> ComposeResult:
        """Search line, list, what is known of the table under the cursor."""
        yield Static(Content(f"Allowance tables; yours are in {shown(user_tables_folder())}"), id="tables-title")
        with HorizontalGroup(id="search-row"):
            yield Label("/ Search")
            search = Input(placeholder="words of title, source, input, size: 80 kbtu 3in", id="search", compact=True)
            search.cursor_blink = False
            yield search
        yield Rows(COLUMNS, id="tables-list")
        with VerticalScroll(id="about", can_focus=False):
            yield Static("", id="about-text", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        """Look what there is."""
        self.query_one(Rows).focus()
        self._look()

    def on_screen_resume(self) -> None:
        """A table may have been typed in meanwhile."""
        self._look()

    @work(thread=True, exclusive=True)
    def _look(self) -> None:
        tables = library.known_tables()
        used = library.jobs_by_table([*known_jobs(), *self._more_jobs])
        tell(self, self._found, tables, used)

    def _found(self, tables: tuple[KnownTable, ...], used: dict[Path, tuple[Path, ...]]) -> None:
        self._tables, self._used = tables, used
        self._fill()
        self.opening = False

    def _fill(self) -> None:
        wanted = self.query_one("#search", Input).value
        groups = (("Your own", False), ("Demonstration tables (invented, read-only)", True))
        rows: list[Row] = []
        for title, shipped in groups:
            some = [table for table in self._tables if table.shipped == shipped and table.matches(wanted)]
            rows.append(Row(across=title, tone="group", selectable=False))
            if not some:
                said = "none holds all these words" if wanted else "none yet: a types one in, i imports a file"
                rows.append(Row(across=f"  {said}", tone="faint", selectable=False))
            rows += [_row(table) for table in some]
        self.query_one("#tables-list", Rows).show(rows)
        self._tell()

    @property
    def table(self) -> KnownTable | None:
        """The table under the cursor."""
        row = self.query_one("#tables-list", Rows).current
        key = row.key if row is not None else None
        return next((table for table in self._tables if key is not None and str(table.path) == key), None)

    def _tell(self) -> None:
        table = self.table
        said = "No table here. a types one in from the maker's instructions."
        if table is not None:
            used = self._used.get(table.path.resolve(), ())
            jobs = ", ".join(job.name for job in used[:MOST_JOBS]) if used else "no job known here"
            jobs += f" and {len(used) - MOST_JOBS} more" if len(used) > MOST_JOBS else ""
            kind = "lengths by number of elbows" if table.by_elbows else "one length a row"
            lines = [
                table.title, f"{table.path.name}: {table.rows} rows, {kind}, {table.counts}",
                f"Copied from: {table.source or 'not stated'}", f"Judges: {jobs}",
                f"Inputs {', '.join(table.inputs)}; sizes {', '.join(table.sizes)}", table.note,
            ]  # fmt: skip
            said = f"! {table.path.name}: {table.fault}" if table.fault else "\n".join(line for line in lines if line)
        self.query_one("#about-text", Static).update(Content(said))

    # What comes from the parts

    def on_rows_moved(self, event: Rows.Moved) -> None:
        """What is said follows the cursor."""
        event.stop()
        self._tell()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Open it."""
        event.stop()
        if self.table is not None:
            self.app.push_screen(TableScreen(self.table.path.name))

    def on_rows_typed(self, event: Rows.Typed) -> None:
        """A digit is the beginning of a search."""
        event.stop()
        begin_typing(self.query_one("#search", Input), event.rows.take_typed())

    def on_input_changed(self, event: Input.Changed) -> None:
        """The list follows what is searched for."""
        event.stop()
        self._fill()
        self.query_one("#tables-list", Rows).go(0)
        self._tell()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """From the search into the list."""
        event.stop()
        self.query_one("#tables-list", Rows).focus()

    def key_down(self) -> None:
        """From the search into the list."""
        self.query_one("#tables-list", Rows).focus()

    # Actions

    def action_search(self) -> None:
        """Into the line for searching."""
        self.query_one("#search", Input).focus()

    def action_back(self) -> None:
        """Out of the search first; then close."""
        search = self.query_one("#search", Input)
        if search.has_focus or search.value:
            search.value = ""
            self.query_one("#tables-list", Rows).focus()
        else:
            self.dismiss(None)

    def action_new(self) -> None:
        """A table to be typed in."""
        ask_kind(self)

    def action_copy_to_new(self) -> None:
        """A new table that begins as this one."""
        if self.table is not None:
            self._open_data(self.table.path, f"{self.table.title}, copy")

    def _open_data(self, path: Path, title: str = "") -> None:
        try:
            data = data_from(read_text(path), path)
        except InputError as error:
            self.notify(str(error.problems[0]), severity="error", markup=False, timeout=8)
            return
        self.app.push_screen(TableScreen.of_new({**data, **({"title": title} if title else {})}, f"from {path.name}"))

    def action_rename(self) -> None:
        """Another file name, in the jobs that name it too: which those are is shown first."""
        table = self._own("keeps its name")
        if table is not None:
            self._ask_about(table, "Rename", "r", "They will name the new file", self._ask_name)

    def action_delete(self) -> None:
        """Put the table aside: which jobs are judged by it is shown first."""
        table = self._own("cannot be deleted")
        if table is not None:
            self._ask_about(table, "Delete", "d", "They will have no table", self._delete)

    def _own(self, fate: str) -> KnownTable | None:
        table = self.table
        if table is not None and table.shipped:
            self.notify(f"A demonstration table {fate}; d duplicates it as one of your own.", timeout=4)
            return None
        return table

    def _ask_about(
        self, table: KnownTable, word: str, key: str, then: str, go_on: Callable[[KnownTable], None]
    ) -> None:
        """What a change to a table's file touches, with the way to look for more jobs."""
        used = self._used.get(table.path.resolve(), ())
        lines = [f"{shown(job)}" for job in used[:MOST_NAMED]]
        lines += [f"and {len(used) - MOST_NAMED} more"] if len(used) > MOST_NAMED else []
        judged = f"These jobs are judged by it. {then}:" if used else "No job known here is judged by it."
        elsewhere = f"Jobs in other folders that name {table.path.name} are not known here, and will not find it."
        text = "\n".join([f"{table.title} ({table.path.name})", "", judged, *lines, "", elsewhere])
        answers = (
            (word.lower(), word, key),
            ("look", "Look in a folder for more jobs", "f"),
            ("leave", "Leave it", "l"),
        )

        def answered(answer: str | None) -> None:
            if answer == word.lower():
                go_on(table)
            elif answer == "look":
                self._look_in_folder(lambda: self._ask_about(table, word, key, then, go_on))

        self.app.push_screen(Question(f"{word} a table", text, answers), answered)

    def _look_in_folder(self, then: Callable[[], None]) -> None:
        def named(name: str | None) -> None:
            folder = Path(name or "").expanduser()
            if name and folder.is_dir():
                self._more_jobs = list(dict.fromkeys([*self._more_jobs, *library.jobs_in(folder)]))
                self._used = library.jobs_by_table([*known_jobs(), *self._more_jobs])
            elif name:
                self.notify(f"There is no folder {name}.", severity="warning", markup=False, timeout=4)
            then()

        self.app.push_screen(
            AskLine("Folder to look in, with all below it", None, value=str(user_jobs_folder())), named
        )

    def _ask_name(self, table: KnownTable) -> None:
        used = self._used.get(table.path.resolve(), ())

        def named(name: str | None) -> None:
            if name and name.strip() and name.strip() != table.path.name:
                self._rename(table, name.strip(), used)

        self.app.push_screen(AskLine("New file name", None, value=table.path.name), named)

    def _delete(self, table: KnownTable) -> None:
        try:
            self._deleted.append((library.take_away(table.path), table.path))
        except InputError as error:
            self.notify(str(error.problems[0]), severity="error", markup=False, timeout=8)
            return
        self.notify(f"Deleted {table.path.name}. Ctrl+Z brings it back.", markup=False, timeout=6)
        self._look()

    def action_bring_back(self) -> None:
        """The table deleted last, where it was."""
        if not self._deleted:
            self.notify("No table was deleted here.", timeout=2)
            return
        try:
            library.bring_back(*self._deleted[-1])
        except InputError as error:
            self.notify(str(error.problems[0]), severity="error", markup=False, timeout=8)
            return
        self.notify(f"{self._deleted.pop()[1].name} is back.", markup=False, timeout=4)
        self._look()

    def _rename(self, table: KnownTable, name: str, used: tuple[Path, ...]) -> None:
        from ventsize.jobfile.writer import SaveError

        try:
            changed = library.rename_file(table.path, name, used)
        except (InputError, SaveError, OSError) as error:
            self.notify(f"Not renamed: {error}", severity="error", markup=False, timeout=8)
            return
        told = f"; changed in {', '.join(job.name for job in changed)}" if changed else ""
        self.notify(f"Renamed to {Path(name).with_suffix('.toml').name}{told}.", markup=False, timeout=5)
        self._look()

    def action_export(self) -> None:
        """A copy of the file anywhere, or a sheet for a spreadsheet."""
        table = self.table
        if table is not None:
            export(self, table.path)

    def action_import(self) -> None:
        """A file from somewhere into one's own tables; a sheet is opened to be looked over first."""

        def chosen(path: Path | None) -> None:
            if path is None:
                return
            if path.suffix.lower() != ".toml":
                self._open_data(path)
                return
            try:
                target = library.take_in(path)
            except InputError as error:
                self.notify(str(error.problems[0]), severity="error", markup=False, timeout=8)
                return
            self.app.push_screen(TableScreen(target.name))

        suffixes = (".toml", ".csv", ".tsv", ".txt")
        self.app.push_screen(FilePicker("Take a table in from a file", at_home("~"), suffixes=suffixes), chosen)

    def action_copy(self) -> None:
        """The list, for the clipboard."""
        self.app.copy_to_clipboard(self.query_one("#tables-list", Rows).as_text())
        self.notify("Copied.", timeout=2)


def _row(table: KnownTable) -> Row:
    words = one_line(table.title).removeprefix("Demonstration table").lstrip(" ,") if table.shipped else table.title
    title = Cell(f"  {one_line(words)}", "bad" if table.fault else "")
    cells = (title, _span(table.inputs), _span(table.sizes), str(table.rows))
    return Row(key=str(table.path), cells=cells)


def _span(labels: tuple[str, ...]) -> str:
    """The first and the last of some labels."""
    return " to ".join(dict.fromkeys((labels[0], labels[-1]))) if labels else ""
