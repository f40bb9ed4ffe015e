"""One line asked for, over whatever screen is open."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalGroup
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, Static


class AskLine(ModalScreen[str | None]):
    """Gives the line at Enter; with `step`, hands each line to it, shows what it says and goes on until Esc.

    step: gives what is said, and whether the line was taken; one that was not stays, to be mended.
    value: proposed; a key replaces it. typed: the first character, typed on a list; the next key follows it.
    """

    DEFAULT_CSS = """
    AskLine {
        align: center bottom; background: $background 20%;
        & > VerticalGroup { width: 100%; background: $panel; border: round $primary; padding: 0 1; }
        & #said { color: $text-muted; min-height: 1; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", "Close", id="line.leave")]

    def __init__(
        self, title: str, step: Callable[[str], tuple[str, bool]] | None, *, value: str = "", typed: str = ""
    ) -> None:
        super().__init__()
        self._title, self._step, self._value, self._typed = title, step, value, typed

    def compose(self) -> ComposeResult:
        """The line over what is said of the last one."""
        with VerticalGroup() as box:
            box.border_title = Content(self._title)
            entry = Input(self._typed or self._value, compact=True, select_on_focus=not self._typed)
            entry.cursor_blink = False
            yield entry
            yield Static("Enter takes it, Esc closes", id="said", markup=False)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter."""
        event.stop()
        if self._step is None:
            self.dismiss(event.value)
            return
        said, taken = self._step(event.value)
        self.say(said)
        if taken:
            event.input.value = ""

    def say(self, text: str) -> None:
        """What stands under the line."""
        if self.is_attached:
            self.query_one("#said", Static).update(Content(text))

    def action_leave(self) -> None:
        """Nothing more."""
        self.dismiss(None)
