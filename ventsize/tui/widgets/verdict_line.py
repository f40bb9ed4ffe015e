"""The verdict with its margin and its reason: in full, and always in sight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from textual.app import ComposeResult
from textual.containers import VerticalGroup
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from ventsize.check.result import JobCheck
from ventsize.quantity import System
from ventsize.report.wording import derated, reason, say, verdict_in_words
from ventsize.tui.widgets.text import fitted, one_line

DOUBTED = "?"
SIGNS = {"within": "✓", "unsafe": "✗", "over": "✗", "short": "✗", "not covered": "▲", "incomplete": "▲"}
MOST_LINES = 4  # of a reason; more would take the room of what is being typed
NARROW = 110  # cells; below, two lines are kept for the reason, so that the list does not jump at every keystroke


def in_a_word(verdict: str, doubts: int) -> tuple[str, str]:
    """A verdict with its sign, and its tone; a pass with a doubt says so, and is not plain green."""
    doubted = verdict == "within" and doubts > 0
    tone = {"within": "good", "not covered": "warn", "incomplete": "warn"}.get(verdict, "bad")
    sign = DOUBTED if doubted else SIGNS.get(verdict, "")
    return f"{sign} {verdict_in_words(verdict, doubts)}", "warn" if doubted else tone


class VerdictLine(VerticalGroup):
    """`show` puts an answer up, `hold` marks it as the last one while something is in the way of a newer."""

    DEFAULT_CSS = """
    VerdictLine {
        padding: 0 1; background: $panel;
        & Static { height: 1; text-overflow: ellipsis; }
        & #verdict-head { text-style: bold; }
        &.-within { background: $success-muted; }
        &.-within.-doubted { background: $warning-muted; }
        &.-unsafe, &.-over, &.-short { background: $error-muted; }
        &.-not-covered, &.-incomplete { background: $warning-muted; }
        &.-held { background: $panel; }
        &.-held #verdict-head { text-style: italic; color: $text-muted; }
        &.-held #verdict-why { color: $text-warning; }
    }
    """

    @dataclass
    class Chosen(Message):
        """A click: how does it come about?"""

        line: VerdictLine

        @property
        def control(self) -> VerdictLine:
            return self.line

    def __init__(self) -> None:
        super().__init__()
        self._head = Static("", id="verdict-head", markup=False)
        self._why = Static("", id="verdict-why", markup=False)
        self._said = ("", "")
        self._word = ""

    def compose(self) -> ComposeResult:
        """The word with the margin over the reason."""
        yield self._head
        yield self._why

    def show(
        self, check: JobCheck, margins: Sequence[str], system: System, *, hint: str = "", so_far: bool = False
    ) -> None:
        """A fresh answer: a stop or a doubt stands in its first line, and comes before the reason of a pass.

        hint: what can be done about it, at the end of that line. so_far: whether it is of a value half typed, maybe.
        """
        verdict, doubted = check.verdict, check.doubted
        self._dress(verdict, doubted=bool(doubted))
        besides = f"{len(doubted)} doubt{'s' * (len(doubted) != 1)}" if doubted else ""
        margins = [
            m for run, m in zip(check.runs, margins, strict=True) if run.margin is not None or run.verdict != verdict
        ]
        sign = DOUBTED if verdict == "within" and doubted else SIGNS.get(verdict, "")
        word = f"{sign} {verdict.upper()}{' so far' * so_far}"
        head = "   ".join(filter(None, (word, besides, *map(one_line, margins), *derated(check, system), hint)))
        why = reason(check.decides, system)
        first = say(doubted[0], system) if doubted and verdict == "within" else ""
        self._say(head, f"{first} {why}".strip())

    def hold(self, verdict: str | None, margins: Sequence[str], what: str) -> None:
        """No newer answer can be given: the last one, marked, and what is in the way."""
        self._dress("held")
        last = f"PREVIOUS RESULT: {verdict}   {'   '.join(margins)}" if verdict else "NO RESULT YET"
        self._say(last, f"! {what}")

    def working(self, margins: Sequence[str]) -> None:
        """Something has been typed that is not judged yet: the last margins, marked as such."""
        self._dress("held")
        self._say(f"WORKING IT OUT …   before: {'   '.join(margins)}" if margins else "WORKING IT OUT …", self._said[1])

    def _dress(self, word: str, *, doubted: bool = False) -> None:
        self.set_class(doubted, "-doubted")
        if word != self._word:
            self.remove_class(*(f"-{name.replace(' ', '-')}" for name in (*SIGNS, "held")))
            self.add_class(f"-{word.replace(' ', '-')}")
            self._word = word

    def _say(self, head: str, why: str) -> None:
        said = (head, one_line(why))
        if said == self._said:
            return
        self._said = said
        self._fit()

    def on_resize(self) -> None:
        """The reason takes as many lines as it needs now."""
        self._fit()

    def _fit(self) -> None:
        """As tall as the words need at this width; laid out anew only where that changes."""
        width = self.app.size.width - 2  # less the padding
        for line, said, least in ((self._head, self._said[0], 1), (self._why, self._said[1], 1 + (width < NARROW))):
            wrapped = [part.plain for part in Content(said).wrap(width)]
            last = [fitted(" ".join(wrapped[MOST_LINES - 1 :]), width)] if len(wrapped) > MOST_LINES else []
            shown = [*wrapped[: MOST_LINES - len(last)], *last]
            lines = max(least, len(shown))
            height: Any = line.styles.height
            if height is None or height.value != lines:
                line.styles.height = lines
            line.update(Content("\n".join(shown)), layout=False)

    def on_click(self) -> None:
        """Whoever owns it shows how it comes about."""
        self.post_message(self.Chosen(self))

    @property
    def text(self) -> str:
        """Verdict and reason as text."""
        return "\n".join(self._said)
