"""What the keys of the job screen work on: the open job, the list, the forms, and how an edit is made."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any

from textual.css.query import NoMatches
from textual.widgets import TabbedContent

from ventsize.jobfile.editing import Data, EditError, nothing_counted, value_at
from ventsize.tui.job import edits
from ventsize.tui.job.form import Form
from ventsize.tui.job.outline import Key
from ventsize.tui.judging import Judging
from ventsize.tui.saving import FileScreen
from ventsize.tui.widgets.choice import Choice
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.rows import Rows
from ventsize.view.answering import OpenQuestion, open_question


class JobBase(FileScreen, Judging):
    """The parts that the groups of keys share. `JobScreen` shows them."""

    catalog: Any

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
    def area(self) -> str:
        """The part of the job that is in sight."""
        try:
            return self.query_one(TabbedContent).active
        except NoMatches:
            return "runs"

    @property
    def run_at(self) -> int:
        """The run under the cursor."""
        return self.key_at[0]

    @property
    def key_at(self) -> Key:
        """What is under the cursor of the list of runs."""
        row = self.outline.current
        return row.key if row is not None else (0, None)

    @property
    def found(self) -> Any:
        """The last result of the run under the cursor."""
        name = value_at(self.session.data, ("run", self.run_at, "name"))
        return next((c for c in self.session.check.runs if c.run.name == name), None) if self.session.check else None

    @property
    def asked(self) -> OpenQuestion | None:
        """The question that keeps the job from a pass, where it has answers to choose from."""
        session = self.session
        if session.check is None or session.inputs is None or session.stale:
            return None
        return open_question(session.check, session.data, tables=session.inputs.tables)

    def tables(self) -> list[Choice]:
        """Allowance tables the job can name."""
        return edits.table_choices(self.session.path.parent if self.session.path else None)

    async def action_new_run(self) -> None:
        """A run more, beside the others."""
        raise NotImplementedError

    def say(self, text: str) -> None:
        """A remark beside the title, until the next one."""
        raise NotImplementedError

    def show_all(self) -> None:
        """Everything as it is now."""
        raise NotImplementedError

    async def after(self, go: int = 0) -> None:
        """Everything anew after an edit of the data, the cursor so many rows on."""
        raise NotImplementedError

    async def forms(self) -> None:
        """The fields of what the cursors stand on."""
        raise NotImplementedError

    def warn(self, sentence: str) -> None:
        """Why something was not done: one notice at a time."""
        self.app.clear_notifications()
        self.notify(sentence, severity="warning", markup=False)

    async def with_layout(self, then: Callable[[], Awaitable[None]]) -> None:
        """Do something that needs pieces; a counted run is laid out first, after asking where something is counted."""
        data, run = self.session.data, self.run_at
        if not edits.is_counted(data, run):
            await then()
            return

        async def answered(word: str | None) -> None:
            if word != "lay":
                return
            said = "laid out; u: a count again"
            if await self.edit("lay out the count", lambda: edits.laid_out(data, run, self.catalog), said=said):
                rows = self.outline
                rows.go(rows.index_of((run, 0)) or rows.index_of((run, None)) or 0, tell=False)
                await self.forms()
                await then()

        if nothing_counted(data, run):
            await answered("lay")
            return
        text = (
            "This run is counted: feet and fittings, without their order. Laid out, its pipe is one piece and each "
            "fitting another, for you to put in their places (Ctrl+Up, Ctrl+Down)."
        )
        answers = (("lay", "Lay it out", "l"), ("leave", "Leave it counted", "c"))
        self.app.push_screen(Question("A counted run", text, answers), answered)

    async def edit(self, label: str, change: Callable[[], Data], *, go: int = 0, said: str = "") -> bool:
        """Make a whole edit and say so, or say why it cannot be made."""
        try:
            data = change()
        except EditError as error:
            self.warn(str(error))
            return False
        self.session.do(data, label)
        self.say(said)
        await self.after(go)
        return True
