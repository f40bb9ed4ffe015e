"""A question that has to be answered before going on: what is at stake, and one key an answer."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult
from textual.containers import HorizontalGroup, VerticalGroup
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Static


class Question(ModalScreen[str]):
    """Gives the word of the answer. `answers`: (word, label, key); the last one is what Esc means, or `escape`.

    first: the one that Enter takes, where it is not the first.
    """

    DEFAULT_CSS = """
    Question {
        align: center middle;
        & > VerticalGroup {
            width: 76; max-width: 96%; background: $panel; border: round $warning; padding: 1 2;
        }
        & HorizontalGroup { margin: 1 0 0 0; }
        & Button { margin: 0 1 0 0; min-width: 10; }
    }
    """

    def __init__(
        self,
        title: str,
        text: str,
        answers: Sequence[tuple[str, str, str]],
        *,
        escape: str | None = None,
        first: str = "",
    ) -> None:
        super().__init__()
        self._title = title
        self._text = text
        self._answers = list(answers)
        self._first = first or self._answers[0][0]
        self._escape = escape or self._answers[-1][0]

    def compose(self) -> ComposeResult:
        """The text, and a button an answer with its key."""
        with VerticalGroup() as box:
            box.border_title = Content(self._title)
            yield Static(Content(self._text))
            with HorizontalGroup():
                for word, label, key in self._answers:
                    yield Button(Content(f"{label} ({key})"), id=f"answer-{word}", compact=True)

    def on_mount(self) -> None:
        """Enter takes one of them."""
        self.query_one(f"#answer-{self._first}").focus()

    def on_key(self, event: events.Key) -> None:
        """One key an answer; arrows move between the buttons."""
        if event.key in ("left", "right"):
            (self.focus_previous if event.key == "left" else self.focus_next)()
            return
        for word, _, key in self._answers:
            if event.key == key:
                event.stop()
                self.dismiss(word)
                return
        if event.key == "escape":
            event.stop()
            self.dismiss(self._escape)

    def on_button_pressed(self, event: Button.Pressed) -> None:
        """The same by Enter or mouse."""
        event.stop()
        self.dismiss((event.button.id or "").removeprefix("answer-"))
