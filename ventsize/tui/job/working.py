"""A number opened: how it comes about, line by line, with its sources."""

from __future__ import annotations

import re
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from ventsize.quantity import System
from ventsize.tui.job.session import Session
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.text import one_line

STEP = re.compile(r"^\d+\. ")
STALE = "LAST RESULT: what is typed now cannot be judged."


class WorkingScreen(Screen[None]):
    """The working of a run, or of one of its pieces, at one firing rate.

    run: the run's result. piece: a number from 1, or None for the whole run. rate: by name; None for the one at which
    the run loses most.
    """

    topic = "working"

    DEFAULT_CSS = """
    WorkingScreen {
        & #working-title { height: auto; padding: 0 1; background: $panel; text-style: bold; }
        & VerticalScroll { padding: 0 0 0 1; scrollbar-size-vertical: 1; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", id="working.back"),
        Binding("left", "rate(-1)", "Rate before", show=False, id="working.rate_before"),
        Binding("right", "rate(1)", "Other rate", id="working.rate"),
        Binding("n", "piece(1)", "Next piece", id="working.next"),
        Binding("p", "piece(-1)", "Previous piece", show=False, id="working.before"),
        Binding("0", "run", "Whole run", id="working.run"),
        Binding("ctrl+u", "units", "Other units", id="working.units"),
        Binding("c", "copy", "Copy", id="working.copy"),
        Binding("j", "scroll(1)", "Down", show=False, id="working.down"),
        Binding("k", "scroll(-1)", "Up", show=False, id="working.up"),
    ]

    def __init__(self, session: Session, run: Any, *, piece: int | None = None, rate: str | None = None) -> None:
        super().__init__()
        self._session = session
        self._run = run
        self._piece = piece
        self._rate = rate or run.worst.name
        self._system = session.system
        self.answer = ""

    def compose(self) -> ComposeResult:
        """What it is of, and the working."""
        yield Static("", id="working-title", markup=False)
        with VerticalScroll():
            yield Static("", id="working", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        """Keys scroll at once."""
        self.query_one(VerticalScroll).focus()
        self._show()

    def _show(self) -> None:
        from ventsize.jobfile.problems import InputError
        from ventsize.report.working import render
        from ventsize.studies.working import working_of

        session = self._session
        try:
            working = working_of(
                session.check, session.inputs, run=self._run.run.name, rate=self._rate, piece=self._piece
            )
            self.answer = render(working, self._system)
            title = working.title
        except InputError as error:
            self.answer, title = str(error), self._run.run.name
        at = [rate.name for rate in self._run.rates]
        rates = f"   rate {at.index(self._rate) + 1} of {len(at)}" if len(at) > 1 else ""
        stale = f"\n{STALE}" if session.stale else ""
        rates += "   what it comes from stands above (Home)" if self._piece else ""
        self.query_one("#working-title", Static).update(Content(one_line(title) + rates + stale))
        self.query_one("#working", Static).update(Content(self.answer))
        steps = [n for n, line in enumerate(self.answer.splitlines()) if STEP.match(line)]
        # Of a piece, the last step is what was asked for; what it comes from stands above.
        top = steps[-1] if steps and self._piece else 0
        self.query_one(VerticalScroll).scroll_to(y=top, animate=False, force=True)

    def action_rate(self, step: int) -> None:
        """The same at another firing rate."""
        names = [rate.name for rate in self._run.rates]
        self._rate = names[(names.index(self._rate) + step) % len(names)]
        self._show()

    def action_piece(self, step: int) -> None:
        """The piece after or before."""
        count = len(self._run.worst.flow.pieces)
        if count:
            self._piece = (step > 0) or count if self._piece is None else (self._piece - 1 + step) % count + 1
            self._show()

    def action_run(self) -> None:
        """Of the whole run."""
        self._piece = None
        self._show()

    def action_units(self) -> None:
        """In the other units."""
        self._system = System.SI if self._system is System.US else System.US
        self._show()

    def action_scroll(self, step: int) -> None:
        """As the arrows do."""
        box = self.query_one(VerticalScroll)
        (box.scroll_down if step > 0 else box.scroll_up)(animate=False)

    def action_copy(self) -> None:
        """All of it, to the clipboard."""
        self.app.copy_to_clipboard(self.answer)
        self.app.clear_notifications()
        self.notify("Copied.", timeout=2)


def piece_number(found: Any, place: str) -> int | None:
    """The number of the first piece of a run that stands at a place of the job."""
    return next((n for n, piece in enumerate(found.worst.flow.pieces, start=1) if piece.piece.place == place), None)
