"""An open job on the screen: its parts, what they show, and how an edit is made. `screen` has the keys."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual import work
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.css.query import NoMatches
from textual.widgets import TabbedContent, TabPane

from ventsize.catalog.library import Catalog
from ventsize.check.result import RunCheck
from ventsize.jobfile.editing import Data, EditError, value_at
from ventsize.jobfile.editing import Path as Place
from ventsize.tui.job import edits, panels, plant, specs
from ventsize.tui.job.form import Form
from ventsize.tui.job.outline import COLUMNS, Key, outline, show_verdict
from ventsize.tui.job.session import Session
from ventsize.tui.keys import steady, take_keys
from ventsize.tui.long_work import tell
from ventsize.tui.saving import FileScreen
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.rows import Rows
from ventsize.tui.widgets.said import OneLine, Said
from ventsize.tui.widgets.verdict_line import VerdictLine
from ventsize.view.answering import OpenQuestion, open_question

AREAS = (
    ("runs", "Runs"),
    ("appliance", "Appliance"),
    ("site", "Site"),
    ("pressure", "Pressure"),
    ("notes", "Cautions"),
    ("route", "Route"),
)
DRAWN = {"pressure": "chart", "notes": "cautions", "route": "sketch"}


class SmallPicture(Said):
    """Drawn anew whenever its room changes, also while something else lay on top."""

    def on_resize(self) -> None:
        """The room there is now."""
        if isinstance(self.screen, OpenJob) and not self.screen.opening:
            self.screen.small_pictures()


class OpenJob(FileScreen):
    """What the keys of a job work on.

    variants: the open variants of the job, this one among them. remark: what is said beside the title. cut: the pieces
    that were cut out last.
    """

    DEFAULT_CSS = """
    OpenJob {
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

    opening = True

    def __init__(self, session: Session, *, start_in_form: bool = False, then: str = "", passing: bool = False) -> None:
        super().__init__()
        self.session = session
        self.variants = [session]
        self.catalog: Catalog
        self.remark = ""
        self.cut: tuple[Any, ...] = ()
        self.shown_run = -1
        self._title = ""
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
        self.session.system = System(self.app.settings.units)
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

    # Its parts

    @property
    def outline(self) -> Rows:
        """The list of runs and pieces."""
        return self.query_one("#outline", Rows)

    @property
    def plant(self) -> Rows:
        """The list of appliances, firing rates and joints."""
        return self.query_one("#plant", Rows)

    @property
    def piece_form(self) -> Form:
        """The form of what is under the cursor of the list."""
        return self.query_one("#piece-form", Form)

    @property
    def appliance_form(self) -> Form:
        """The form of what is under the cursor of the list of appliances."""
        return self.query_one("#appliance-form", Form)

    @property
    def area(self) -> str:
        """The part of the job that is in sight."""
        try:
            return self.query_one(TabbedContent).active
        except NoMatches:
            return "runs"

    @property
    def key_at(self) -> Key:
        """What is under the cursor of the list of runs."""
        row = self.outline.current
        return row.key if row is not None else (0, None)

    @property
    def run_at(self) -> int:
        """The run under the cursor."""
        return self.key_at[0]

    @property
    def place_at(self) -> Place:
        """What is under the cursor of the list of appliances; () for nothing."""
        row = self.plant.current
        return row.key if row is not None and row.key is not None else ()

    @property
    def found(self) -> RunCheck | None:
        """The last result of the run under the cursor."""
        name = str(value_at(self.session.data, ("run", self.run_at, "name")))
        return self.session.check.run(name) if self.session.check else None

    @property
    def asked(self) -> OpenQuestion | None:
        """The question that keeps the job from a pass, where it has answers to choose from."""
        session = self.session
        if session.check is None or session.inputs is None or session.stale:
            return None
        return open_question(session.check, session.data, tables=session.inputs.tables)

    async def forms(self) -> None:
        """The fields of what the cursors stand on; those of a part that nobody has opened yet are not made."""
        self._opened_parts.add(self.area)
        self.plant.show(plant.rows(self.session.data))
        if "site" in self._opened_parts:
            await self.query_one("#site-form", Form).show(self.session, specs.site())
        await self.show_appliance_form()
        await self.show_piece_form()

    async def show_piece_form(self) -> None:
        """The fields of what is under the cursor of the list."""
        tables = edits.table_choices(self.session.path.parent if self.session.path else None)
        fields = edits.fields_for(self.session.data, self.key_at, self.catalog, tables)
        await self.piece_form.show(self.session, fields)

    async def show_appliance_form(self) -> None:
        """The fields of what is under the cursor of the list of appliances."""
        if "appliance" in self._opened_parts:
            fields = plant.fields(self.session.data, self.place_at, self.catalog, self.session.check)
            await self.appliance_form.show(self.session, fields)

    async def open_part(self) -> None:
        """Make the forms of the part in sight, where it is the first time."""
        if self.area not in self._opened_parts:
            await self.forms()

    # Showing

    def say(self, text: str) -> None:
        """A remark beside the title, until the next one."""
        self.remark = text
        self.show_title()

    def warn(self, sentence: str) -> None:
        """Why something was not done: one notice at a time."""
        self.app.clear_notifications()
        self.notify(sentence, severity="warning", markup=False)

    def refreshed(self) -> None:
        """Show what is typed now, and have it judged."""
        if not self.session.fresh:
            self.show_title()
            self.show_verdict()
        self.judge_then(self.show_all)

    def once_judged(self, then: Callable[[], None]) -> None:
        """As every screen does; the answer is shown here too."""

        def judged() -> None:
            self.show_all()
            then()

        super().once_judged(judged)

    def ask(self, what: str) -> None:
        """Open a report of this job, or the list of them."""
        from ventsize.tui.questions import ask

        self.once_judged(lambda: ask(self.app, self.session, what))

    def show_all(self) -> None:
        """Title, verdict, list, and the part in sight."""
        session = self.session
        self.show_title()
        self.show_verdict()
        answered = session.answered if session.stale else None
        self.outline.show(outline(session.data, session.check, session.system, answered=answered))
        self.show_area()

    def show_area(self) -> None:
        """The part in sight, for the run under the cursor."""
        session, area = self.session, self.area
        self.shown_run = self.run_at
        if area == "runs":
            if self.has_class("-wide"):
                self.query_one("#results", Said).say(panels.results(self.found, session.system, stale=session.stale))
            if self.query_one("#pictures").display:
                self.small_pictures()
            return
        if area not in DRAWN:
            return
        size = self.query_one("#areas").size
        width, height = size.width - 4, size.height - 4
        if area == "pressure":
            drawn = panels.pressure_chart(self.found, session.system, width=width, height=height)
        elif area == "notes":
            drawn = panels.cautions(session.check, session.system, session.problems)
        else:
            drawn = panels.route(self.found, session.system, width=width, height=height, stale=session.stale)
        self.query_one(f"#{DRAWN[area]}", Said).say(drawn)

    def small_pictures(self) -> None:
        """Pressure and route below the list, where there is room for all three."""
        session, found = self.session, self.found
        for name, draw in (("#small-chart", panels.small_chart), ("#small-sketch", panels.small_route)):
            said = self.query_one(name, Said)
            size = said.content_size
            said.say(draw(found, session.system, width=size.width, height=size.height))

    def show_title(self) -> None:
        """What it is, whether it is saved, and the last remark."""
        number, of = self.variants.index(self.session) + 1, len(self.variants)
        which = f"{number} of {of}: " if of > 1 else ""
        title = panels.title(self.session, self.remark, which, self.size.width)
        if title != self._title:
            self._title = title
            self.query_one("#job-title", OneLine).update(Content(title), layout=False)

    def show_verdict(self) -> None:
        """The verdict on what is typed now, or that there is none yet."""
        check = self.session.check
        asked = check is not None and check.verdict == "incomplete" and self.asked is not None
        lacks = check is not None and check.decides.because.code.startswith("no-deduction")
        hint = "y answers it" if asked else "Ctrl+T types it" if lacks else ""
        show_verdict(self.query_one(VerdictLine), self.session, hint=hint)

    # Editing

    async def edit(self, label: str, change: Callable[[Data], Data], *, go: int = 0, said: str = "") -> bool:
        """Make a whole edit and say so, or say why it cannot be made."""
        try:
            data = change(self.session.data)
        except EditError as error:
            self.warn(str(error))
            return False
        self.session.do(data, label)
        self.say(said)
        await self.after(go)
        return True

    async def after(self, go: int = 0) -> None:
        """Everything anew after an edit of the data, the cursor so many rows on."""
        self.show_all()
        self.outline.go(self.outline.row + go, tell=False)
        self.judge_then(self._after_judging)
        await self.forms()
        self.show_area()

    async def _after_judging(self) -> None:
        self.show_all()
        await self.show_appliance_form()

    async def change_to(self, session: Session) -> None:
        """Show another of the variants."""
        self.session = session
        self.outline.marked.clear()
        await self.after()
