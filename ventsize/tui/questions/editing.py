"""What screens have in common whose answer may be put into the job: the verdict in sight, and one undoable edit."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from ventsize.jobfile.editing import Data, EditError
from ventsize.tui.job.session import Session
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.asking import once_given
from ventsize.tui.questions.text import NOTHING
from ventsize.tui.saving import folder_for
from ventsize.tui.session_screen import SessionScreen
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.file_picker import FilePicker
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.rows import Rows
from ventsize.tui.widgets.said import OneLine
from ventsize.tui.widgets.verdict_line import VerdictLine

if TYPE_CHECKING:
    from ventsize.studies.pricing.prices import PriceList

RATES = "Of every job: labor 95 (an hour), markup 20 %, tax 7 %, currency USD, firm NAME"
STALE = "What is typed now cannot be judged. Mend that first; what is shown is the last result."


class EditingScreen(SessionScreen):
    """A question's screen. Below it: `ask`, which works the answer out anew, and `copied`, its text.

    prices: the user's own list, None where they keep none.
    """

    DEFAULT_CSS = """
    EditingScreen {
        & #asked-title { text-style: bold; }
        & #asked-line { color: $text-muted; }
        & #asked-detail { height: 6; padding: 0 1; border-top: solid $panel-lighten-2; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="answer.back"),
        Binding("ctrl+z,u", "undo", "Undo", show=False, id="answer.undo"),
        Binding("ctrl+y", "redo", "Redo", show=False, id="answer.redo"),
        Binding("c", "copy", "Copy all", show=False, id="answer.copy"),
        Binding("i", "prices", "Import prices", show=False, id="answer.prices"),
    ]

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__()
        self.session = session
        self.question = question
        self.prices: PriceList | None = None

    def compose(self) -> ComposeResult:
        """Verdict, what is said of the answer, the answer, keys."""
        yield OneLine(id="asked-title")
        yield VerdictLine()
        yield OneLine(id="asked-line")
        yield from self.body()
        yield KeyLine()

    # For the screens below

    @abstractmethod
    def body(self) -> ComposeResult:
        """The answer."""

    @abstractmethod
    def ask(self) -> None:
        """Work the answer out anew."""

    @abstractmethod
    def copied(self) -> str:
        """The answer as text."""

    def say(self, text: str) -> None:
        """What stands in the line under the verdict."""
        self.query_one("#asked-line", OneLine).update(Content(text))

    def show_detail(self, lines: Iterable[str]) -> None:
        """What stands below the answer."""
        self.query_one("#asked-detail", Static).update(Content("\n".join(lines)))

    @property
    def folder(self) -> Path:
        """Where files are looked for first."""
        return folder_for(self.session)

    # What they have in common

    def on_mount(self) -> None:
        """The verdict at once, the answer when it is there."""
        self.query_one("#asked-title", OneLine).update(Content(self.question.title))
        self._read_prices()
        self.show_verdict()
        self.ask_if_possible()

    def ask_if_possible(self) -> None:
        """Ask, where there is something to ask about."""
        if self.session.check is None:
            self.say(NOTHING)
        else:
            self.ask()

    def _read_prices(self) -> None:
        from ventsize.jobfile.problems import InputError
        from ventsize.studies.pricing.own import own_prices

        try:
            self.prices = own_prices()
        except InputError as error:
            self.notify(f"Your price list is not used. {error.problems[0]}", severity="warning", markup=False)

    def show_verdict(self) -> None:
        """The verdict on the job as it is now."""
        from ventsize.tui.job.outline import show_verdict

        show_verdict(self.query_one(VerdictLine), self.session)

    def detail(self) -> None:
        """What is shown of the row under the cursor, where anything is."""

    def on_rows_moved(self, event: Rows.Moved) -> None:
        """The detail follows the cursor."""
        event.stop()
        self.detail()

    def put(self, change: Callable[[], Data], label: str) -> None:
        """One edit of the open job, and the answer to it as it then is; back to the job once that is within.

        What else is listed would only make it another job, or a worse one.
        """
        try:
            self.session.do(change(), label)
        except EditError as error:
            self.notify(str(error), severity="warning", markup=False)
            return
        self.notify(f"Done: {label}. Ctrl+Z takes it back.", markup=False, timeout=4)
        self.judge_then(self._put)

    def _put(self) -> None:
        self._edited()
        if self.session.check is not None and self.session.check.verdict == "within":
            EditingScreen.action_leave(self)  # one that stops first may be looking anew by now

    def may_edit(self) -> bool:
        """Whether the answer shown is to the job as typed; says so where it is not."""
        if self.session.stale:
            self.notify(STALE, severity="warning", markup=False)
        return not self.session.stale

    def _edited(self) -> None:
        from ventsize.tui.job.screen import JobScreen

        self.show_verdict()
        for screen in self.app.screen_stack:
            if isinstance(screen, JobScreen):
                screen.call_later(screen.after)
        self.ask_if_possible()

    def action_undo(self) -> None:
        """Take the last edit of the job back."""
        if self.take_back():
            self.judge_then(self._edited)

    def action_redo(self) -> None:
        """Do it again."""
        if self.take_back(again=True):
            self.judge_then(self._edited)

    def action_copy(self) -> None:
        """To the clipboard."""
        self.app.copy_to_clipboard(self.copied())
        self.notify("Copied.", timeout=2)

    def action_leave(self) -> None:
        """Back to the job; what is still being worked out is left."""
        self.workers.cancel_node(self)
        self.app.pop_screen()

    def action_prices(self) -> None:
        """Take in a price list, to be used from now on."""
        picker = FilePicker("Your price list (TOML or CSV)", self.folder, suffixes=(".toml", ".csv"))
        self.app.push_screen(picker, once_given(self._keep_prices))

    def action_rates(self) -> None:
        """What goes on every job's price and paper, a line each."""
        self.app.push_screen(AskLine(RATES, self._keep_rate), lambda _: self.ask_if_possible())

    def _keep_rate(self, line: str) -> tuple[str, bool]:
        from ventsize.jobfile.problems import InputError
        from ventsize.report.job_paper.letterhead import keep_heading
        from ventsize.studies.pricing.own import keep_rate

        word, _, text = line.strip().partition(" ")
        try:
            if word.lower() == "firm":
                keep_heading(text)
            else:
                self.prices = keep_rate(line)
        except (ValueError, InputError, OSError) as error:
            return f"! {error}", False
        return f"kept: {line.strip()}", True

    def _keep_prices(self, path: Path) -> None:
        from ventsize.jobfile.problems import InputError
        from ventsize.studies.pricing.own import keep_prices

        try:
            self.prices = keep_prices(path)
        except InputError as error:
            fault = error.problems[0]
            self.say(f"! {fault.place}: {fault.problem}" if fault.place else f"! {fault.problem}")
            self.notify(str(fault), severity="error", markup=False, timeout=10)
            return
        except OSError as error:
            self.notify(f"Not kept: {error}", severity="error", markup=False)
            return
        currency = f" in {self.prices.currency}" if self.prices.currency else ""
        self.notify(f"{len(self.prices.prices)} prices{currency}, kept for every job.", markup=False)
        self.ask_if_possible()
