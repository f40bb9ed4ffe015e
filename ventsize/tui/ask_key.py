"""Asking for a key: the next one that is pressed."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalGroup
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from ventsize.tui.key_list import Bound


class AskKey(ModalScreen[str | None]):
    """The next key pressed is the answer; Esc leaves it."""

    DEFAULT_CSS = """
    AskKey {
        align: center middle;
        & > VerticalGroup { width: 60; max-width: 94%; background: $panel; border: round $primary; padding: 1 2; }
    }
    """

    def __init__(self, bound: Bound) -> None:
        super().__init__()
        self._bound = bound

    def compose(self) -> ComposeResult:
        """What for."""
        with VerticalGroup():
            yield Static(
                Content(f"Press the key for: {self._bound.label} ({self._bound.place})\n\nEsc leaves it as it is.")
            )

    def on_key(self, event: events.Key) -> None:
        """The key."""
        event.stop()
        event.prevent_default()
        self.dismiss(None if event.key == "escape" else event.key)
