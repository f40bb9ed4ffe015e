"""Keys of the job screen that ask further: questions, the working of a number, copies."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from textual.binding import Binding, BindingType

from ventsize.jobfile.editing import value_at
from ventsize.tui.job.base import JobBase
from ventsize.tui.job.outline import place_of
from ventsize.tui.job.working import WorkingScreen, piece_number
from ventsize.tui.widgets.said import Said
from ventsize.tui.widgets.verdict_line import VerdictLine

DRAWN = {"pressure": "chart", "notes": "cautions", "route": "sketch"}


class QuestionKeys(JobBase):
    """Opening, asking, copying."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f9", "questions", "Reports", id="job.questions"),
        Binding("o", "open_number", "Open working", id="job.open_number"),
        Binding("ctrl+o", "open_verdict", "Open the verdict", show=False, id="job.open_verdict"),
        Binding("c", "copy", "Copy what is shown", show=False, id="job.copy"),
    ]

    def action_questions(self) -> None:
        """What can be asked of this job."""
        self.ask("menu")

    def ask(self, what: str) -> None:
        """Open a report of this job, or the list of them."""
        from ventsize.tui.questions import ask

        self.once_judged(lambda: ask(self.app, self.session, what))

    def once_judged(self, then: Callable[[], None]) -> None:
        """As every screen does; the answer is shown here too."""

        def judged() -> None:
            self.show_all()
            then()

        super().once_judged(judged)

    def action_open_number(self) -> None:
        """The working of what is under the cursor: a piece's loss, a run's verdict, a firing rate's figures."""
        self.once_judged(self._open_number)

    def _open_number(self) -> None:
        if self.area == "appliance":
            self._open_rate()
        elif self.found is None:
            self._nothing()
        else:
            place = place_of(self.session.data, self.key_at)
            piece = None if place is None else piece_number(self.found, place)
            self.app.push_screen(WorkingScreen(self.session, self.found, piece=piece))

    def action_open_verdict(self) -> None:
        """The working of the run that settles the verdict."""
        self.once_judged(self._open_verdict)

    def _open_verdict(self) -> None:
        check = self.session.check
        run = check.run(check.decides.run) if check and check.decides.run else None
        run = run or self.found
        if run is None:
            self._nothing()
        else:
            self.app.push_screen(WorkingScreen(self.session, run))

    def on_verdict_line_chosen(self, event: VerdictLine.Chosen) -> None:
        """The same by mouse."""
        event.stop()
        self.action_open_verdict()

    def _open_rate(self) -> None:
        row, check = self.plant.current, self.session.check
        place = row.key if row is not None else ()
        name = value_at(self.session.data, (*place[:2], "name")) if place[:1] == ("appliance",) else None
        runs = [run for run in check.runs if name in (run.run.start, run.run.end)] if check and name else []
        runs.sort(key=lambda run: run.run.carries != "flue gas")
        if not runs:
            self._nothing()
            return
        wanted = value_at(self.session.data, (*place, "name")) if len(place) == 4 else None
        self.app.push_screen(WorkingScreen(self.session, runs[0], rate=_rate_named(runs[0], name, wanted)))

    def _nothing(self) -> None:
        self.warn("There is no result to open yet: the verdict above says what is missing.")

    def action_copy(self) -> None:
        """What is shown, to the clipboard."""
        verdict = self.query_one(VerdictLine).text
        if self.area in DRAWN:
            text = self.query_one(f"#{DRAWN[self.area]}", Said).text
        elif self.area == "appliance":
            text = self.plant.as_text()
        else:
            text = verdict + "\n" + self.outline.as_text()
        self.app.copy_to_clipboard(text)
        self.say("copied")


def _rate_named(run: Any, appliance: Any, rate: Any) -> str | None:
    """The rate, or combination of rates, at which an appliance fires at one of its own."""
    return next((one.name for one in run.rates if rate is not None and one.fired.get(appliance) == rate), None)
