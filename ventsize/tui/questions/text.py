"""A question's answer as text: worked out beside the screen, to read through and to copy."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.widgets.key_line import KeyLine

WORKING = "Working it out …  Esc leaves it."
NOTHING = "There is no result yet: complete the job first."
STALE = "PREVIOUS RESULT: what is typed now cannot be judged.\n\n"


class TextScreen(Screen[None]):
    """Scrolls; Esc goes back, and leaves what is still being worked out."""

    DEFAULT_CSS = """
    TextScreen {
        & VerticalScroll { padding: 0 0 0 1; scrollbar-size-vertical: 1; }
        &.-narrow VerticalScroll { padding: 0; scrollbar-size-vertical: 0; }  /* lines of 80 columns fit */
    }
    """

    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (82, "-wide")]

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", id="text.back"),
        Binding("c", "copy", "Copy all", id="text.copy"),
    ]

    topic = "reading_text"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__()
        self._session = session
        self._question = question
        self.answer = ""

    def compose(self) -> ComposeResult:
        """The title, the text, the keys."""
        with VerticalScroll():
            yield Static(Content(self._question.title + "\n"), classes="title")
            yield Static(Content(WORKING), id="answer")
        yield KeyLine()

    def on_mount(self) -> None:
        """Keys scroll."""
        self.query_one(VerticalScroll).focus()
        self.begin()

    def begin(self) -> None:
        """Ask, where there is something to ask about."""
        if self._session.check is None:
            self._show(NOTHING)
        else:
            self._ask()

    @long_work
    def _ask(self) -> None:
        from ventsize.jobfile.problems import InputError
        from ventsize.tui.questions.answers import ANSWERS

        session = self._session
        try:
            said = ANSWERS[self._question.name](*session.whole, session.system)
        except (InputError, ValueError) as error:
            said = str(error)
        tell(self, self._show, (STALE if session.stale else "") + said)

    def _show(self, text: str) -> None:
        self.answer = text
        self.query_one("#answer", Static).update(Content(text))

    def action_copy(self) -> None:
        """To the clipboard."""
        self.app.copy_to_clipboard(self.answer)
        self.notify("Copied.")
