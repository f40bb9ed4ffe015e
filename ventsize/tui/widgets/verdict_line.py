"""The verdict with its margin: two lines that are always in sight."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import VerticalGroup
from textual.content import Content
from textual.widgets import Static

from ventsize.tui.widgets.text import one_line

SIGNS = {"within": "✓", "over": "✗", "short": "✗", "not covered": "▲", "incomplete": "▲"}


class VerdictLine(VerticalGroup):
    """`show` puts an answer up, `hold` marks it as the last one while something is in the way of a newer."""

    DEFAULT_CSS = """
    VerdictLine {
        height: 2; padding: 0 1; background: $panel;
        & Static { height: 1; text-wrap: nowrap; text-overflow: ellipsis; }
        & #verdict-head { text-style: bold; }
        &.-within { background: $success-muted; }
        &.-over, &.-short { background: $error-muted; }
        &.-not-covered, &.-incomplete { background: $warning-muted; }
        &.-held { background: $panel; }
        &.-held #verdict-head { text-style: italic; color: $text-muted; }
        &.-held #verdict-why { color: $text-warning; }
    }
    """

    def compose(self) -> ComposeResult:
        """The word with the margin over the reason."""
        yield Static("", id="verdict-head", markup=False)
        yield Static("", id="verdict-why", markup=False)

    def show(self, verdict: str, margins: Sequence[str], reason: str) -> None:
        """A fresh answer."""
        self._dress(verdict)
        head = f"{SIGNS.get(verdict, '')} {verdict.upper()}   {'   '.join(map(one_line, margins))}"
        self._say(head, reason)

    def hold(self, verdict: str | None, margins: Sequence[str], what: str) -> None:
        """No newer answer can be given: the last one, marked, and what is in the way."""
        self._dress("held")
        last = f"LAST RESULT (stale): {verdict}   {'   '.join(margins)}" if verdict else "NO RESULT YET"
        self._say(last, f"! {what}")

    def _dress(self, word: str) -> None:
        for name in (*SIGNS, "held"):
            self.remove_class(f"-{name.replace(' ', '-')}")
        self.add_class(f"-{word.replace(' ', '-')}")

    def _say(self, head: str, why: str) -> None:
        self.query_one("#verdict-head", Static).update(Content(head))
        self.query_one("#verdict-why", Static).update(Content(one_line(why)))

    @property
    def text(self) -> str:
        """Both lines as text."""
        return "\n".join(str(line.content) for line in self.query(Static))
