"""Typing in an allowance table: rows as they stand in the manual, deductions, and where it was copied from."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import TabbedContent, TabPane

from ventsize.catalog.folders import user_tables_folder
from ventsize.catalog.library import Catalog
from ventsize.jobfile.editing import put
from ventsize.jobfile.history import Step
from ventsize.studies.typed_table import TypedTable
from ventsize.tui.job.form import Form
from ventsize.tui.job.session import Session
from ventsize.tui.keys import take_keys
from ventsize.tui.long_work import tell
from ventsize.tui.saving import FileScreen
from ventsize.tui.table import about, model
from ventsize.tui.table.area import Area, Edited
from ventsize.tui.table.deductions_area import DeductionsArea
from ventsize.tui.table.known import known_jobs
from ventsize.tui.table.records_area import EXPOSED, FITTINGS, RecordsArea
from ventsize.tui.table.rows_area import RowsArea
from ventsize.tui.table.state import state_of, title_of
from ventsize.tui.widgets.grid import Grid
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.said import OneLine, Said
from ventsize.view.page.texts import LENGTH

PARTS = (
    ("rows", "Rows"),
    ("deducted", "Deductions"),
    ("about", "Source"),
    ("cold", "In the cold"),
    ("fittings", "Own fittings"),
)


class TableScreen(FileScreen):
    """An open table. A shipped one is for looking at, and is copied to be changed.

    across: what stands over the columns of a page to be typed.
    show: a place in the table to open it at.
    """

    kind = "table"
    save_title = "Save the table as (jobs look for it in this folder)"
    opening = True

    DEFAULT_CSS = """
    TableScreen {
        & #table-title { }
        & #table-state { height: auto; min-height: 1; max-height: 3; padding: 0 1; background: $panel; }
        & #table-state.-good { background: $success-muted; }
        & #table-state.-bad { background: $error-muted; }
        & #table-state.-doubt { background: $warning-muted; }
        & TabbedContent { height: 1fr; }
        & TabPane { padding: 0; }
        & #about-form { padding: 1 1 0 1; }
        & #about-form Input, & #about-form _ChoiceLine { width: 28; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "part('rows')", "Rows", show=False, id="table.rows"),
        Binding("f3", "part('deducted')", "Deductions", show=False, id="table.deductions"),
        Binding("f4", "part('about')", "Title and source", show=False, id="table.about"),
        Binding("f5", "part('cold')", "Pipe in the cold", show=False, id="table.cold"),
        Binding("f6", "part('fittings')", "The page's own fittings", show=False, id="table.fittings"),
        Binding("ctrl+z,u", "undo", "Undo", id="table.undo", key_display="u"),
        Binding("ctrl+y", "redo", "Redo", show=False, id="table.redo"),
        Binding("s,ctrl+s", "save", "Save", id="table.save"),
        Binding("ctrl+n", "save_as", "Save under a new name", show=False, id="table.save_as"),
        Binding("ctrl+d", "copy_to_new", "Copy to a new table", show=False, id="table.copy_to_new"),
        Binding("c", "copy", "Copy what is shown", show=False, id="table.copy"),
        Binding("f8", "copy_cell", "Copy the cell", show=False, id="table.copy_cell"),
        Binding("escape", "back", "Close", id="table.back"),
    ]

    def __init__(
        self,
        name: str | Path | None,
        session: Session | None = None,
        *,
        across: str | None = None,
        show: tuple[str | int, ...] = (),
    ) -> None:
        super().__init__()
        self._name = None if name is None else str(name)
        self.rows, self.deductions = RowsArea(across), DeductionsArea()
        self.areas: Mapping[str, Area] = {
            "rows": self.rows, "deducted": self.deductions,
            "cold": RecordsArea("exposed", EXPOSED, "table_exposed"),
            "fittings": RecordsArea("fitting", FITTINGS, "table_fitting"),
        }  # fmt: skip
        self._to_show = show
        self._jobs: tuple[Path, ...] = ()
        self._told = False  # which jobs are judged by the table that is being changed
        self.session = session or Session(model.empty_table(), path=None)
        self._catalog: Catalog
        self.found: TypedTable | None = None

    @classmethod
    def of_new(
        cls, data: dict[str, Any], label: str = "new table", *, across: str | None = None, worth_keeping: bool = True
    ) -> TableScreen:
        """The screen of a table that has no file yet. worth_keeping: whether it holds anything to be lost."""
        session = Session(model.empty_table() if worth_keeping else data, path=None)
        if worth_keeping:
            session.do(data, label)
        return cls(None, session, across=across)

    def compose(self) -> ComposeResult:
        """Title, state, parts, keys."""
        yield OneLine(id="table-title")
        yield Said("opening it", id="table-state")
        with TabbedContent(id="parts", initial="rows"):
            for number, (name, title) in enumerate(PARTS, start=2):
                with TabPane(f"F{number} {title}", id=name):
                    if name in self.areas:
                        yield self.areas[name]
                    else:
                        with VerticalScroll(can_focus=False):
                            yield Form(id="about-form")
        yield KeyLine()

    def on_mount(self) -> None:
        """Open the table by its name."""
        self._open()

    @work(thread=True)
    def _open(self) -> None:
        from ventsize.allowance.library import jobs_by_table
        from ventsize.allowance.reading import find_table
        from ventsize.catalog.library import load_catalog
        from ventsize.jobfile.problems import InputError
        from ventsize.quantity import System

        self._catalog = load_catalog()
        fault = ""
        if self._name is not None:
            try:
                path = find_table(self._name, beside=user_tables_folder())
                self.session = Session.open(path)
                self._jobs = jobs_by_table(known_jobs()).get(path.resolve(), ())
            except InputError as error:
                fault = str(error)
        self.session.system = System(self.app.settings.units)
        tell(self, self._opened, fault)

    async def _opened(self, fault: str) -> None:
        if fault:
            self.notify(fault, severity="error", markup=False)
        await self.query_one("#about-form", Form).show(self.session, about.fields(self.session.system))
        self.query_one("#about-form", Form).disabled = self.session.shipped
        self.refreshed()
        if self._name is not None:  # a new one is at its first empty cell already
            self.rows.grid.go(self.rows.cells.top, 0)
        self.set_focus(self.rows.grid)
        take_keys(self)
        self._show_place()

    def _show_place(self) -> None:
        """Open at the row or the fitting that was asked for."""
        if self._to_show[:1] == ("deductions",):
            self.action_part("deducted")
            self.deductions.go_to(str(self._to_show[1]))
        elif self._to_show[:1] == ("row",):
            found = self.rows.cells.at((*self._to_show, LENGTH))
            if found is not None:
                self.rows.grid.go(*found)

    # Showing

    @property
    def area(self) -> Area | None:
        """The part with a grid that is open."""
        return self.areas.get(self.query_one(TabbedContent).active)

    @property
    def topic(self) -> str:
        """The help topic where no field has the focus."""
        area = self.area
        return getattr(area, "topic", "table_title")

    def refreshed(self) -> None:
        """Look the table over as typed, and show it."""
        from ventsize.studies.typed_table import look_over

        session = self.session
        self.found = look_over(session.data, self._catalog)
        for area in self.areas.values():
            area.show(session, self.found, self._catalog)
        look, said = state_of(session.data, self.found, session.system)
        state = self.query_one("#table-state", Said)
        state.set_classes(f"-{look}")
        state.say(said)
        self._show_title()

    def _show_title(self) -> None:
        self.query_one("#table-title", OneLine).update(Content(title_of(self.session)))

    # What comes from the parts

    def on_edited(self, event: Edited) -> None:
        """A grid has changed the table."""
        event.stop()
        self.refreshed()
        self._tell_jobs()

    def _tell_jobs(self) -> None:
        """At the first change: whom it is a change for."""
        if self._jobs and not self._told:
            self._told = True
            names = ", ".join(job.name for job in self._jobs[:4])
            more = f" and {len(self._jobs) - 4} more" if len(self._jobs) > 4 else ""
            self.notify(f"Once saved, this changes what judges {names}{more}.", markup=False, timeout=6)

    def on_form_typed(self, event: Form.Typed) -> None:
        """Title, source, what it is for."""
        event.stop()
        self.refreshed()

    def on_form_finished(self, event: Form.Finished) -> None:
        """Enter goes on; after the last field to the rows."""
        event.stop()
        form = self.query_one("#about-form", Form)
        if event.by_escape:
            self.action_back()
        elif form.topic() == form.specs[-1].topic:
            self.action_part("rows")
        else:
            self.focus_next()

    def on_grid_refused(self, event: Grid.Refused) -> None:
        """A demonstration is copied to be changed."""
        event.stop()
        answers = (("copy", "Copy to a new table", "y"), ("leave", "Leave it", "l"))
        text = "This table is a demonstration: its figures are invented, and it cannot be changed. A copy can."

        def answered(word: str | None) -> None:
            if word == "copy":
                self.action_copy_to_new()

        self.app.push_screen(Question("Only to look at", text, answers), answered)

    # Actions

    def action_part(self, name: str) -> None:
        """Go to a part of the table."""
        self._leave_cell()
        self.query_one(TabbedContent).active = name
        area = self.area
        if area is not None:
            self.set_focus(area.grid)
        else:
            self.query_one("#about-form", Form).focus_field(0)

    def on_tabbed_content_tab_activated(self, event: TabbedContent.TabActivated) -> None:
        """A part opened by the mouse takes the keys too."""
        area = self.area
        if area is not None and area.found is not None and not area.grid.has_focus:
            self.set_focus(area.grid)

    def _leave_cell(self) -> None:
        for area in self.areas.values():
            area.grid.finish()

    def action_undo(self) -> None:
        """Take the last edit back, and show where it was."""
        self._leave_cell()
        self.call_after_refresh(self._step_back)

    def _step_back(self) -> None:
        self._show_step(self.session.undo(), "Undone", "Nothing to undo.")

    def action_redo(self) -> None:
        """Do it again."""
        self._show_step(self.session.redo(), "Done again", "Nothing to do again.")

    def _show_step(self, step: Step | None, said: str, nothing: str) -> None:
        self.notify(f"{said}: {step.label}" if step else nothing, markup=False, timeout=2)
        self.query_one("#about-form", Form).refill()
        self.refreshed()
        if step is not None and step.at[:1] == ("row",):
            found = self.rows.cells.at(step.at)
            if found is not None:
                self.rows.grid.go(*found)

    def action_copy(self) -> None:
        """The grid, cells apart by tabs."""
        area = self.area
        text = (
            area.grid.as_text()
            if area
            else "\n".join(f"{s.label}\t{s.shown(self.session.data)}" for s in about.fields(self.session.system))
        )
        self.app.copy_to_clipboard(text)
        self.notify("Copied.", timeout=2)

    def action_copy_cell(self) -> None:
        """What stands under the cursor."""
        area = self.area
        if area is not None:
            text = area.grid.text_at(area.grid.row, area.grid.column)
            self.app.copy_to_clipboard(text)
            self.notify(f"Copied: {text}", markup=False, timeout=2)

    def action_copy_to_new(self) -> None:
        """Go on with a copy of the table, which has no file yet."""
        data = put(self.session.data, ("title",), f"{self.session.data.get('title', '')}, copy")
        screen = TableScreen.of_new(data, "copy")
        self.app.switch_screen(screen) if self.session.shipped else self.app.push_screen(screen)

    # Saving

    def folder(self) -> Path:
        """Among the user's own tables, where jobs look for it."""
        return user_tables_folder()

    def saved(self, path: Path) -> None:
        """Jobs can name it now."""
        at_home = path.parent == user_tables_folder()
        where = "jobs can name it now" if at_home else f"only jobs in {path.parent} find it there"
        self.notify(f"Saved {path.name}; {where}.", markup=False, timeout=4)
        self.refreshed()

    def action_save(self) -> None:
        """What is being typed is saved too."""
        self._leave_cell()
        self.call_after_refresh(super().action_save)

    def action_back(self) -> None:
        """Close; ask where something is not saved."""
        self._leave_cell()
        self.call_after_refresh(super().action_back)
