"""An answer to read at the appliance: worked out beside the screen, scrolled with the arrows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static
from textual.worker import get_current_worker

from ventsize.jobfile.problems import InputError
from ventsize.tui.field.reading import ReadingPage
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.said import OneLine

WORKING = "Working it out …  Esc leaves it."


class FieldText(Screen[None]):
    """Scrolls; Esc or Enter goes back; 1 opens the page of the reading that the answer asks for first."""

    DEFAULT_CSS = """
    FieldText .page-title { background: $panel; }
    FieldText VerticalScroll { scrollbar-size-vertical: 0; }  /* lines of 80 columns fit a screen of 80 */
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter", "app.pop_screen", "Back", id="field.leave_text"),
        Binding("1", "take", "Type what is asked for", show=False, id="field.take"),
        Binding("c", "copy", "Copy", id="field.copy"),
    ]

    topic = "field"

    def __init__(self, session: Session, title: str, answer: Callable[[Session], tuple[str, Sequence[Any]]]) -> None:
        super().__init__()
        self._session, self._heading, self._ask = session, title, answer
        self.answer = ""
        self._asked: Sequence[Any] = ()  # where the readings that are asked for are typed

    def compose(self) -> ComposeResult:
        """Title, text, keys."""
        yield OneLine(self._heading, classes="page-title")
        with VerticalScroll():
            yield Static(Content(WORKING), id="field-answer")
        yield KeyLine()

    def on_mount(self) -> None:
        """Ask."""
        self.query_one(VerticalScroll).focus()
        self._work()

    @long_work
    def _work(self) -> None:
        worker = get_current_worker()
        try:
            said, asked = self._ask(self._session)
        except InputError as error:
            said, asked = "\n".join(str(problem) for problem in error.problems), ()
        if not worker.is_cancelled:
            self.app.call_from_thread(self._show, said, asked)

    def _show(self, text: str, asked: Sequence[Any]) -> None:
        self.answer, self._asked = text, asked
        self.query_one("#field-answer", Static).update(Content(text))

    def action_take(self) -> None:
        """The page of the first reading that is asked for; the others follow it."""
        if self._asked:
            self.app.push_screen(ReadingPage(self._session, self._asked, 0))

    def refreshed(self) -> None:
        """Another reading, another answer."""
        self._work()

    def action_copy(self) -> None:
        """To the clipboard."""
        self.app.copy_to_clipboard(self.answer)
        self.notify("Copied.", timeout=2)
