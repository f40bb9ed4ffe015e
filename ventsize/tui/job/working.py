"""A number opened: the result, then the lines that make it, with their sources."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from ventsize.check.result import RunCheck
from ventsize.jobfile.editing import value_at
from ventsize.quantity import System
from ventsize.tui.job.open_job import OpenJob
from ventsize.tui.job.outline import place_of
from ventsize.tui.job.session import Session
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.picker import Picker
from ventsize.tui.widgets.text import one_line

if TYPE_CHECKING:
    from ventsize.studies.working.steps import Part, Working

STALE = "PREVIOUS RESULT: what is typed now cannot be judged."
NOTHING = "There is no result to open yet: the verdict above says what is missing."


def open_number(job: OpenJob) -> None:
    """The working of what is under the cursor: a piece's loss, a run's verdict, a firing rate's figures."""

    def judged() -> None:
        if job.area == "appliance":
            _open_rate(job)
        elif (found := job.found) is None:
            job.warn(NOTHING)
        else:
            place = place_of(job.session.data, job.key_at)
            piece = None if place is None else piece_number(found, place)
            job.app.push_screen(WorkingScreen(job.session, found, piece=piece))

    job.once_judged(judged)


def _open_rate(job: OpenJob) -> None:
    place, data, check = job.place_at, job.session.data, job.session.check
    name = str(value_at(data, (*place[:2], "name"), "")) if place[:1] == ("appliance",) else ""
    runs = [run for run in check.runs if name in (run.run.start, run.run.end)] if check and name else []
    run = min(runs, key=lambda run: run.run.carries != "flue gas", default=None)
    if run is None:
        job.warn(NOTHING)
        return
    rate = value_at(data, (*place, "name")) if len(place) == 4 else None
    at = next((one.name for one in run.rates if rate is not None and one.fired.get(name) == rate), None)
    job.app.push_screen(WorkingScreen(job.session, run, rate=at))


def open_verdict(job: OpenJob) -> None:
    """The working of the run that settles the verdict."""

    def judged() -> None:
        check = job.session.check
        run = (check.run(check.decides.run) if check and check.decides.run else None) or job.found
        if run is None:
            job.warn(NOTHING)
        else:
            job.app.push_screen(WorkingScreen(job.session, run))

    job.once_judged(judged)


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
        Binding("escape", "back", "Back", id="working.back"),
        Binding("o", "number", "Open a number", id="working.number"),
        Binding("plus,equals_sign", "further(1)", "Further back", id="working.further"),
        Binding("minus", "further(-1)", "Less far back", show=False, id="working.less"),
        Binding("s", "save", "Save a paper", id="working.save"),
        Binding("left", "rate(-1)", "Rate before", show=False, id="working.rate_before"),
        Binding("right", "rate(1)", "Other rate", id="working.rate"),
        Binding("n", "piece(1)", "Next piece", id="working.next"),
        Binding("p", "piece(-1)", "Previous piece", show=False, id="working.before"),
        Binding("0", "run", "Whole run", show=False, id="working.run"),
        Binding("ctrl+u", "units", "Other units", show=False, id="working.units"),
        Binding("c", "copy", "Copy", show=False, id="working.copy"),
        Binding("j", "scroll(1)", "Down", show=False, id="working.down"),
        Binding("k", "scroll(-1)", "Up", show=False, id="working.up"),
    ]

    def __init__(self, session: Session, run: RunCheck, *, piece: int | None = None, rate: str | None = None) -> None:
        super().__init__()
        self._session = session
        self._run = run
        self._piece = piece
        self._rate = rate or run.worst.name
        self._system = session.system
        self._numbers: list[str] = []  # opened one from the other, by symbol
        self._back_to: Part | None = None
        self._working: Working | None = None
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

        session = self._session
        try:
            self._working = self._worked_out()
            self.answer = render(self._working, self._system)
            title = self._working.title
        except InputError as error:
            self.answer, title = str(error), self._run.run.name
        at = [rate.name for rate in self._run.rates]
        rates = f"   rate {at.index(self._rate) + 1} of {len(at)}" if len(at) > 1 else ""
        far = f"   back to {self._back_to}" if self._back_to else ""
        stale = f"\n{STALE}" if session.stale else ""
        self.query_one("#working-title", Static).update(Content(one_line(title) + rates + far + stale))
        self.query_one("#working", Static).update(Content(self.answer))
        self.query_one(VerticalScroll).scroll_home(animate=False, force=True)

    def _worked_out(self) -> Working:
        from ventsize.studies.working import working_of

        inputs, check = self._session.whole
        return working_of(
            check,
            inputs,
            run=self._run.run.name,
            rate=self._rate,
            piece=self._piece,
            number=self._numbers[-1] if self._numbers else None,
            back_to=self._back_to,
        )

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
            self._numbers.clear()
            self._show()

    def action_run(self) -> None:
        """Of the whole run."""
        self._piece = None
        self._numbers.clear()
        self._show()

    def action_number(self) -> None:
        """Open one of the numbers that stand here: with what makes it, and nothing else."""
        if self._working is None:
            return
        own = self._numbers[-1] if self._numbers else ""
        given = [*self._working.unopened, *(step.result for step in self._working.steps)]
        entries = [(one.symbol, one.symbol, one.name) for one in given if one.symbol != own]

        def chosen(symbol: str | None) -> None:
            if symbol is not None:
                self._numbers.append(symbol)
                self._show()

        if entries:
            self.app.push_screen(Picker("Which number", entries), chosen)

    def action_further(self, step: int) -> None:
        """Lines of one part more, or fewer: pressure, flow, gas, combustion."""
        from ventsize.studies.working.opening import PARTS

        now = self._back_to or ("flow" if self._piece else "pressure")
        self._back_to = PARTS[min(len(PARTS) - 1, max(0, PARTS.index(now) + step))]
        self._show()

    def action_back(self) -> None:
        """To the number before, and out."""
        if self._numbers:
            self._numbers.pop()
            self._show()
        else:
            self.app.pop_screen()

    def action_save(self) -> None:
        """What is shown, on pages."""
        from ventsize.report.working_paper import working_paper
        from ventsize.tui.questions.to_paper import save_paper

        working, system, title = self._working, self._system, self._session.whole[1].title
        if working is not None:
            save_paper(self, self._session, "working", lambda: working_paper([working], system, job=title))

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


def piece_number(found: RunCheck, place: str) -> int | None:
    """The number of the first piece of a run that stands at a place of the job."""
    return next((n for n, piece in enumerate(found.worst.flow.pieces, start=1) if piece.piece.place == place), None)
