"""The whole answer as text: what `ventsize check` prints, to read through and to copy."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Footer, Static

from ventsize.tui.job.session import Session


class ReportScreen(Screen[None]):
    """Scrolls; Esc goes back."""

    DEFAULT_CSS = "ReportScreen VerticalScroll { padding: 0 1; }"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", id="report.back"),
        Binding("c", "copy", "Copy all", id="report.copy"),
    ]

    def __init__(self, session: Session) -> None:
        super().__init__()
        from ventsize.report.as_text import render

        check = session.check
        self._text = render(check, session.system) if check else "There is no result yet."
        if check and session.stale:
            self._text = "LAST RESULT: what is typed now cannot be judged.\n\n" + self._text

    def compose(self) -> ComposeResult:
        """The text over the keys."""
        with VerticalScroll():
            yield Static(Content(self._text))
        yield Footer()

    def action_copy(self) -> None:
        """To the clipboard."""
        self.app.copy_to_clipboard(self._text)
        self.notify("Copied.")
