"""The job screen: the verdict on top, the job's parts under it, one key each."""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import Any, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import TabbedContent, TabPane

from ventsize.tui.job import edits, plant, specs
from ventsize.tui.job.form import Form
from ventsize.tui.job.outline import COLUMNS
from ventsize.tui.job.piece_keys import PIECE_ACTIONS, PieceKeys
from ventsize.tui.job.plant_keys import PlantKeys
from ventsize.tui.job.question_keys import DRAWN, QuestionKeys
from ventsize.tui.job.run_keys import RunKeys
from ventsize.tui.job.session import Session
from ventsize.tui.job.showing import Showing, SmallPicture
from ventsize.tui.job.table_keys import TableKeys
from ventsize.tui.keys import steady, take_keys
from ventsize.tui.long_work import tell
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.rows import Rows
from ventsize.tui.widgets.said import OneLine, Said
from ventsize.tui.widgets.verdict_line import VerdictLine

AREAS = (
    ("runs", "Runs"),
    ("appliance", "Appliance"),
    ("site", "Site"),
    ("pressure", "Pressure"),
    ("notes", "Cautions"),
    ("route", "Route"),
)
SHAPES_FORM = ("air_given", "material", "between")  # fields on which it depends what other fields there are
IN_LISTS = frozenset(("add", "remove", "duplicate"))  # actions of both lists


class JobScreen(Showing, PlantKeys, PieceKeys, RunKeys, TableKeys, QuestionKeys):
    """An open job."""

    DEFAULT_CSS = """
    JobScreen {
        & #job-title { }
        & TabbedContent { height: 1fr; }
        & TabPane { padding: 0; }
        & .list-and-form { layout: vertical; }
        & .list-and-form Rows { height: 1fr; min-height: 5; }
        & .side { height: auto; max-height: 10; border-top: solid $panel-lighten-2; }
        & #pictures { display: none; height: 16; border-top: solid $panel-lighten-2; }
        &.-wide.-tall #pictures { display: block; }
        & #small-chart, & #small-sketch { width: 1fr; height: 100%; padding: 0 1; }
        & #results-box { display: none; padding: 0 1; height: 1fr; border-top: solid $panel-lighten-2; }
        &.-wide .list-and-form { layout: horizontal; }
        &.-wide .list-and-form Rows { width: 1fr; height: 1fr; }
        &.-wide .side {
            width: 52; height: 1fr; max-height: 100%; border-top: none; border-left: solid $panel-lighten-2;
        }
        &.-wide #side { width: 41; }
        &.-wide .side Form { max-height: 18; }
        &.-wide .side Input { width: 14; }
        &.-wide #results-box { display: block; }
        & #site-form Input { width: 38; }
        & #chart, & #cautions, & #sketch { padding: 0 1; }
    }
    """

    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]
    VERTICAL_BREAKPOINTS = [(0, "-short"), (36, "-tall")]

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "area('runs')", "Runs", show=False, id="job.runs"),
        Binding("f3", "area('appliance')", "Appliance", show=False, id="job.appliance"),
        Binding("f4", "area('site')", "Site", show=False, id="job.site"),
        Binding("f5", "area('pressure')", "Pressure along the run", show=False, id="job.pressure"),
        Binding("f6", "area('notes')", "Cautions", show=False, id="job.cautions"),
        Binding("f7", "area('route')", "Route of the run", show=False, id="job.route"),
        Binding("s,ctrl+s", "save", "Save", id="job.save"),
        Binding("ctrl+z,u", "undo", "Undo", id="job.undo", key_display="u"),
        Binding("ctrl+y", "redo", "Redo", show=False, id="job.redo"),
        Binding("ctrl+n", "save_as", "Save under a new name", show=False, id="job.save_as"),
        Binding("escape", "back", "Close", id="job.back"),
    ]

    def __init__(self, session: Session, *, start_in_form: bool = False, then: str = "", passing: bool = False) -> None:
        super().__init__()
        self.session = session
        self.variants = [session]
        self.catalog: Any = None
        self._start_in_form = start_in_form
        self._then = then  # the report to go on to
        self._passing = passing  # whether the job is left with that report
        # Forms are made when their part is opened; at once where something half typed may wait for its field.
        self._opened_parts = {"runs", "appliance", "site"} if session.drafts else {"runs"}

    # Laying out

    def compose(self) -> ComposeResult:
        """Title, verdict, parts, keys."""
        yield OneLine(id="job-title")
        yield VerdictLine()
        with TabbedContent(id="areas"):
            for number, (name, title) in enumerate(AREAS, start=2):
                with TabPane(f"F{number} {title}", id=name):
                    yield from self._area(name)
        yield KeyLine()

    def _area(self, name: str) -> ComposeResult:
        if name == "runs":
            with Horizontal(id="runs-body", classes="list-and-form"):
                with Vertical(id="list"):
                    yield Rows(COLUMNS, id="outline")
                    with Horizontal(id="pictures"):
                        yield SmallPicture(id="small-chart")
                        yield SmallPicture(id="small-sketch")
                with Vertical(id="side", classes="side"):
                    yield Form(id="piece-form")
                    with VerticalScroll(id="results-box", can_focus=False):
                        yield Said(id="results")
        elif name == "appliance":
            with Horizontal(classes="list-and-form"):
                yield Rows(plant.COLUMNS, id="plant")
                with Vertical(classes="side"):
                    yield Form(id="appliance-form")
        elif name == "site":
            yield Form(id="site-form")
        else:
            with VerticalScroll():
                yield Said(id=DRAWN[name])

    def on_mount(self) -> None:
        """The title at once; the answer once the solver is in memory."""
        self.show_title()
        self.query_one(VerdictLine).hold(None, (), "working it out")
        self._open()

    @work(thread=True, exclusive=True)
    def _open(self) -> None:
        from ventsize.catalog.library import load_catalog
        from ventsize.jobfile.problems import InputError
        from ventsize.quantity import System

        fault = ""
        self.session.system = System(self.app.settings.units)  # type: ignore[attr-defined]
        try:
            self.catalog = load_catalog()
        except InputError as error:
            self.catalog, fault = load_catalog(user=False), str(error.problems[0])
        self.session.judge()
        tell(self, self._opened, fault)

    async def _opened(self, fault: str) -> None:
        rows = self.outline
        self.show_all()
        rows.go(0 if self._start_in_form or len(rows.rows) < 2 else 1, tell=False)
        await self.forms()
        self.show_area()
        rows.focus()
        if self._start_in_form:
            self.piece_form.focus_field(1)
        if fault:
            self.warn(fault)
        take_keys(self)
        self.call_after_refresh(self.show_area)  # pictures fit the room that there is by then
        if self._then:
            then, self._then = self._then, ""
            self.ask(then)
        if not self.app.is_headless:
            steady()

    def on_screen_resume(self) -> None:
        """Back from the report that the job was opened for: nobody asked for the job itself."""
        if self._passing and not self._then:
            self._passing = False
            self.action_back()

    async def forms(self) -> None:
        """The fields of what the cursors stand on; those of a part that nobody has opened yet are not made."""
        self._opened_parts.add(self.area)
        self.plant.show(plant.rows(self.session.data))
        if "site" in self._opened_parts:
            await self.query_one("#site-form", Form).show(self.session, specs.site())
        await self._plant_form()
        await self._piece_form()

    async def _piece_form(self) -> None:
        fields = edits.fields_for(self.session.data, self.key_at, self.catalog, self.tables())
        await self.piece_form.show(self.session, fields)

    async def _plant_form(self) -> None:
        if "appliance" not in self._opened_parts:
            return
        row = self.plant.current
        place = row.key if row is not None and row.key is not None else ()
        fields = plant.fields(self.session.data, place, self.catalog, self.session.check)
        await self.query_one("#appliance-form", Form).show(self.session, fields)

    # Showing

    @property
    def topic(self) -> str:
        """The help topic where no field has the focus."""
        return {"route": "route", "appliance": "plant"}.get(self.area, "list")

    # What comes from the parts

    async def on_rows_moved(self, event: Rows.Moved) -> None:
        """The form follows the cursor."""
        event.stop()
        if event.rows.id == "plant":
            await self._plant_form()
            return
        await self._piece_form()
        if self.run_at != self.shown_run:
            self.show_area()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Enter goes into the form; at a firing rate to its input, since a digit there is none of its name."""
        event.stop()
        form = self._form_beside(event.rows)
        form.focus_field(form.field_of("input") or 0)

    async def on_rows_typed(self, event: Rows.Typed) -> None:
        """A digit on a pipe is its new length; on a counted fitting, how many; on a firing rate, its input."""
        event.stop()
        form = self._form_beside(event.rows)
        place = self._place()
        if event.rows is self.plant and place is not None and place[0] == "appliance" and len(place) == 2:
            await self._go((*place, "rate", 0))
        found = (form.field_of(topic) for topic in ("length", "straight", "count", "input"))
        at = next((at for at in found if at is not None), None)
        if at is None:
            self.say("nothing here is changed by a digit; Enter goes into the fields")
        else:
            form.begin(at, event.character)

    def _form_beside(self, rows: Rows) -> Form:
        return self.query_one("#appliance-form", Form) if rows.id == "plant" else self.piece_form

    async def on_form_typed(self, event: Form.Typed) -> None:
        """The verdict follows every keystroke, once no more keys are waiting."""
        event.stop()
        self.remark = ""
        if self.app.keys_waiting:  # type: ignore[attr-defined]
            self.show_title()
            self.show_verdict()
        else:
            self.refreshed()
        if event.spec.topic in SHAPES_FORM or event.spec.when_left:
            await self.forms()
        else:
            self.plant.show(plant.rows(self.session.data))

    def on_form_settled(self) -> None:
        """The field has been left: the verdict is no longer one so far."""
        self.refreshed()

    def on_form_finished(self, event: Form.Finished) -> None:
        """Enter goes to the next field, after the last one to the list; so does Esc."""
        event.stop()
        if not event.by_escape and event.form.go_on():
            return
        (self.plant if self.area == "appliance" else self.outline).focus()
        self.query_one(TabbedContent).active = "runs" if self.area == "site" else self.area

    async def on_tabbed_content_tab_activated(self, event: TabbedContent.TabActivated) -> None:
        """Show what the part shows; its keys are others."""
        if not self.opening:
            await self._open_part()
            self.show_area()
            self.refresh_bindings()

    def on_resize(self) -> None:
        """Title and charts fit the new size."""
        if not self.opening:
            self.show_title()
            self.call_after_refresh(self.show_area)

    # Actions

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys of a list hold while it is in sight."""
        if action == "open_number" or action in IN_LISTS:
            return self.area in ("runs", "appliance")
        if action in PIECE_ACTIONS or action == "new_run":
            return self.area == "runs"
        return True

    async def action_area(self, name: str) -> None:
        """Go to a part of the job: to the field that is still needed, else into its list."""
        self.session.history.pause()
        self.query_one(TabbedContent).active = name
        await self._open_part()
        if name == "runs":
            self.outline.focus()
        elif name == "appliance":
            self.plant.focus()
            if (place := plant.without_input(self.session.data)) is not None:
                await self._go(place)
                form = self.query_one("#appliance-form", Form)
                form.focus_field(form.field_of("input") or 0)
        elif name == "site":
            form = self.query_one("#site-form", Form)
            form.focus_field(form.field_of("altitude") or 0)

    async def _open_part(self) -> None:
        if self.area not in self._opened_parts:
            await self.forms()

    async def after(self, go: int = 0) -> None:
        """Everything anew after an edit of the data, the cursor so many rows on."""
        self.show_all()
        self.outline.go(self.outline.row + go, tell=False)
        self.judge_then(self._after_judging)
        await self.forms()
        self.show_area()

    async def _after_judging(self) -> None:
        self.show_all()
        await self._plant_form()

    async def action_undo(self) -> None:
        """Take the last edit back."""
        step = self.session.undo()
        self.say(f"undone: {step.label}" if step else "nothing to undo")
        await self.after()

    async def action_redo(self) -> None:
        """Do it again."""
        step = self.session.redo()
        self.say(f"done again: {step.label}" if step else "nothing to do again")
        await self.after()

    # Saving and closing

    def usual_name(self) -> tuple[str, str]:
        """Named after the job's title."""
        return "Save the job as", edits.file_name(self.session.data)

    def before_saving(self, path: Path) -> None:
        """A job nobody has named is called after its file."""
        edits.name_after(self.session, path)

    def saved(self) -> None:
        """It is among the jobs opened last now."""
        with contextlib.suppress(OSError):
            self.app.remember(self.session.path)  # type: ignore[attr-defined]
        self.say(f"saved as {self.session.path}")
