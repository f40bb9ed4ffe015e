"""An answer to read at the appliance: worked out beside the screen, scrolled with the arrows."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from ventsize.jobfile.problems import InputError
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.said import OneLine

WORKING = "Working it out …  Esc leaves it."


class FieldText(Screen[None]):
    """Scrolls; Esc or Enter goes back."""

    DEFAULT_CSS = """
    FieldText .page-title { background: $panel; }
    FieldText VerticalScroll { scrollbar-size-vertical: 0; }  /* lines of 80 columns fit a screen of 80 */
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter", "app.pop_screen", "Back", id="field.leave_text"),
        Binding("c", "copy", "Copy", id="field.copy"),
    ]

    topic = "field"

    def __init__(self, session: Session, title: str, answer: Callable[[Session], str]) -> None:
        super().__init__()
        self._session, self._heading, self._ask = session, title, answer
        self.answer = ""

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
        try:
            said = self._ask(self._session)
        except InputError as error:
            said = "\n".join(str(problem) for problem in error.problems)
        tell(self, self._show, said)

    def _show(self, text: str) -> None:
        self.answer = text
        self.query_one("#field-answer", Static).update(Content(text))

    def action_copy(self) -> None:
        """To the clipboard."""
        self.app.copy_to_clipboard(self.answer)
        self.notify("Copied.", timeout=2)
