"""Quick check: one form, from the rating plate and a tape measure to a verdict and what to do next."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from ventsize.allowance.library import known_tables
from ventsize.catalog.library import Catalog
from ventsize.check.result import RunCheck
from ventsize.jobfile.editing import Data, EditError, to_laid_out, value_at
from ventsize.tui import counting
from ventsize.tui.job.form import Form
from ventsize.tui.job.outline import margins, show_verdict
from ventsize.tui.job.run_table import place_to_show
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.job.session import Session
from ventsize.tui.job.spec import Spec
from ventsize.tui.keys import take_keys
from ventsize.tui.long_work import tell
from ventsize.tui.saving import FileScreen
from ventsize.tui.settings import remember_job
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.said import OneLine
from ventsize.tui.widgets.verdict_line import VerdictLine

FRESH_FIELDS = ("air_pipe", "air_known_by", "excess_air", "oxygen", "carbon_dioxide", "flue_temperature", "material")
NEXT = "Next: Ctrl+S saves it, Ctrl+L lays it out piece by piece, F9: room left, or how to fix it"


class CountScreen(FileScreen):
    """Type from top to bottom; the verdict stands above as soon as there is enough for one."""

    DEFAULT_CSS = """
    CountScreen {
        & #count-title { text-style: bold; }
        & Form { height: 1fr; padding: 0 1; }
        & Field Input, & ChoiceField _ChoiceLine { width: 27; margin: 0 0 0 18; }
        & #count-next { height: auto; max-height: 4; padding: 0 1; background: $panel; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+t", "table", "Type a table", show=False, id="count.table"),
        Binding("f4", "none_more", "No more fittings", id="count.none_more", priority=True),
        Binding("ctrl+s", "save", "Save", id="count.save"),
        Binding("ctrl+l", "lay_out", "Lay out", id="count.lay_out"),
        Binding("ctrl+o", "open_job", "Pressures of the count", show=False, id="count.open"),
        Binding("f9", "questions", "Reports", id="count.questions"),
        Binding("f8", "copy", "Copy the result", show=False, id="count.copy"),
        Binding("ctrl+z", "undo", "Undo", show=False, id="count.undo", priority=True),
        Binding("ctrl+y", "redo", "Redo", show=False, id="count.redo", priority=True),
        Binding("escape", "back", "Close", id="count.back"),
    ]

    topic = "count_form"
    save_title = "Save the count as a job"
    opening = True

    def __init__(self) -> None:
        super().__init__()
        self.session = Session(counting.begun(), path=None)
        self._catalog: Catalog
        self._known: set[str] = set()
        self._altitude = ""
        self._seen: Data | None = None  # the data when another screen came on top

    def compose(self) -> ComposeResult:
        """Verdict, form, what comes next, keys."""
        yield OneLine("Quick check: type what is asked; Enter goes on, Space lists the choices", id="count-title")
        yield VerdictLine()
        yield Form(id="count-form", enter_goes_on=True)
        yield Static("", id="count-next", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        """The catalog may still be on its way."""
        self._altitude = self.app.settings.altitude
        self.session = Session(counting.begun(self._altitude), path=None)
        self.query_one(VerdictLine).hold(None, (), "waiting for the input of the appliance")
        self._load()

    @work(thread=True)
    def _load(self) -> None:
        from ventsize.catalog.library import load_catalog
        from ventsize.quantity import System

        self.session.system = System(self.app.settings.units)
        self._catalog = load_catalog()
        tell(self, self._loaded)

    async def _loaded(self) -> None:
        await self._fields()
        self._known = {table.path.name for table in known_tables()}
        self.query_one(Form).focus_field(0)
        self.refreshed()
        take_keys(self)

    def _specs(self) -> list[Spec]:
        tables = known_tables()
        return counting.count_specs(self.session.data, self._catalog, tables, usual_altitude=self._altitude)

    async def _fields(self) -> None:
        await self.query_one(Form).show(self.session, self._specs())

    async def on_screen_resume(self) -> None:
        """A table typed in meanwhile is the one that was wanted."""
        if self.opening:
            return
        fresh = {table.path.name for table in known_tables()} - self._known
        self._known |= fresh
        if len(fresh) == 1 and not value_at(self.session.data, ("run", 0, "table")):
            name = fresh.pop()
            self.session.do(counting.with_table(self.session.data, name, known_tables()), f"table {name}")
            self.notify(f"{name} judges this count now.", markup=False, timeout=3)
            await self._again()
        elif self._seen is not self.session.data:  # a question put something into the job
            await self._again()
        else:  # what was just chosen in a list may still be on its way into the data
            self.query_one(Form).offer(self._specs())

    def on_screen_suspend(self) -> None:
        """What has been seen here."""
        self._seen = self.session.data

    def refreshed(self) -> None:
        """Judge what is typed now, and show it."""
        line, session = self.query_one(VerdictLine), self.session
        after = self.query_one("#count-next", Static)
        after.display = False
        left = counting.missing(session.data, self.query_one(Form).specs)
        if left:
            last = session.check.verdict if session.check else None
            line.hold(last, margins(session.check, session.system), f"still needed: {', '.join(left)}")
        elif session.fresh:
            self._judged()
        else:
            show_verdict(line, session)
            self.judge_then(self.refreshed)

    def _judged(self) -> None:
        session, after = self.session, self.query_one("#count-next", Static)
        hint = "Ctrl+T types it" if self._lacking() else ""
        show_verdict(self.query_one(VerdictLine), session, hint=hint)
        if session.problems:
            return
        after.display = True
        after.update(Content("\n".join(said for said in (counting.assumed(session.data), NEXT) if said)))

    async def on_form_typed(self, event: Form.Typed) -> None:
        """The verdict follows every keystroke; fields come and go with the air pipe."""
        event.stop()
        if event.spec.topic in FRESH_FIELDS:
            await self._fields()
        self.refreshed()

    def on_form_settled(self) -> None:
        """The field has been left: the verdict is no longer one so far."""
        self.refreshed()

    def on_form_finished(self, event: Form.Finished) -> None:
        """Enter goes to the next line; Esc, with nothing to put back, leaves."""
        event.stop()
        if event.by_escape:
            self.action_back()
        else:
            self.focus_next()

    # Leaving, saving, going on

    def action_back(self) -> None:
        """Leave the count; ask where something has been typed."""
        if not self.session.history.unsaved:
            self._close()
            return
        answers = (("save", "Save it", "s"), ("drop", "Discard it", "d"), ("stay", "Keep editing", "k"))

        def answered(word: str | None) -> None:
            if word == "save":
                self._save_then(self._close)
            elif word == "drop":
                self._close()

        self.app.push_screen(Question("Leave the count?", "What is typed here is not saved.", answers), answered)

    def saved(self, path: Path) -> None:
        """It is among the jobs opened last now."""
        remember_job(path)
        self.notify(f"Saved {path}", markup=False, timeout=4)

    def _as_job(self) -> None:
        """The same job, file and history, on the screen of a job instead of this one."""
        self.session.history.pause()
        self.app.switch_screen(JobScreen(self.session))

    def action_open_job(self) -> None:
        """The same count as a job, with its pressures and cautions."""
        self._as_job()

    def action_lay_out(self) -> None:
        """The same feet and fittings as pieces, to be put in order."""
        data = self.session.data
        try:
            for number in range(len(data["run"])):
                data = to_laid_out(data, number, open_ends=self._ends())
        except (EditError, TypeError, KeyError) as error:
            self.notify(f"It cannot be laid out yet: {error}", severity="warning", markup=False)
            return
        self.session.do(data, "lay out the count")
        self._as_job()

    def _ends(self) -> tuple[str, ...]:
        return tuple(name for name, record in self._catalog.fittings.items() if record.kind in counting.ENDS)

    def action_questions(self) -> None:
        """What can be asked of this count."""
        from ventsize.tui.questions import ask

        if self.session.check is None:
            self.notify("There is no result to ask about yet.", severity="warning")
            return
        self.once_judged(lambda: ask(self.app, self.session, "menu"))

    def action_table(self) -> None:
        """A table of one's own, begun with the input and the size that are counted with; or what the table lacks."""
        from ventsize.tui.table.asking import ask_kind
        from ventsize.tui.table.screen import TableScreen

        if (lacking := self._lacking()) is not None:
            self.app.push_screen(
                TableScreen(lacking.table_file, show=place_to_show(lacking.table)), self._back_from_table
            )
            return

        data = self.session.data
        first = {"input": value_at(data, (*counting.RATE, "input"), ""), "size": value_at(data, ("run", 0, "size"), "")}
        ask_kind(self, first=first)

    def _lacking(self) -> RunCheck | None:
        """The run whose table lacks a deduction."""
        runs = self.session.check.runs if self.session.check else ()
        return next((run for run in runs if run.table_file and place_to_show(run.table)[:1] == ("deductions",)), None)

    async def _back_from_table(self, _: None) -> None:
        self.session.outdated()
        await self._again()

    async def action_none_more(self) -> None:
        """The fittings nobody has counted are none: each empty number becomes a zero that is seen."""
        self.session.do(counting.none_more(self.session.data), "no more fittings")
        await self._again()

    def action_copy(self) -> None:
        """Verdict and entries, for the clipboard."""
        form = self.query_one(Form)
        lines = [f"{spec.label}\t{spec.shown(self.session.data)}" for spec in form.specs]
        self.app.copy_to_clipboard("\n".join([self.query_one(VerdictLine).text, *lines]))
        self.notify("Copied.", timeout=2)

    async def action_undo(self) -> None:
        """Take the last entry back."""
        self.session.undo()
        await self._again()

    async def action_redo(self) -> None:
        """Enter it again."""
        self.session.redo()
        await self._again()

    async def _again(self) -> None:
        await self._fields()
        self.query_one(Form).refill()
        self.refreshed()
