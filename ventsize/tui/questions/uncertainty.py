"""How sure is it: the result as a range on one scale, with progress while it is drawn from samples."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static
from textual.worker import get_current_worker

from ventsize.check.inputs import Inputs
from ventsize.report.chart import bar
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import tell
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.picture import PictureScreen
from ventsize.tui.widgets.field import Field, Reading

if TYPE_CHECKING:
    from ventsize.studies.uncertainty import Uncertainty

BAR = 30
USUAL = "10000"


def _samples(text: str) -> Reading:
    digits = text.replace(",", "").strip()
    if not digits.isdigit() or not 10 <= int(digits) <= 1_000_000:
        raise ValueError("expected a number from 10 to 1,000,000")
    return Reading(digits)


class UncertaintyScreen(PictureScreen["Uncertainty"]):
    """Draws as many cases as asked for; Esc stops it."""

    topic = "uncertainty"
    live = False

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session, question)
        self._samples = Field(
            "Cases", USUAL, topic="uncertainty_cases", reader=_samples, hint="more take longer; Enter draws them",
            id="uncertainty-cases",
        )  # fmt: skip
        self._progress = Static("", id="uncertainty-progress", markup=False)
        self._stopped = False
        self._drawing = False

    def fields(self) -> Iterable[Widget]:
        """How many cases, and how far it is."""
        return self._samples, self._progress

    def entered(self) -> None:
        """Enter draws."""
        self.query_one(".picture-scroll").focus()
        self.ask()

    def asked(self) -> Callable[[Inputs], Uncertainty]:
        """The range of so many cases."""
        self._stopped = False
        return partial(self._range, int(_samples(self._samples.value).text))

    def _range(self, samples: int, inputs: Inputs) -> Uncertainty:
        """The range, told how far it is on the way."""
        from ventsize.studies.uncertainty import Stopped, uncertainty

        worker = get_current_worker()

        def go_on(done: float) -> bool:
            if worker.is_cancelled or self._stopped:
                return False
            tell(self, self._tell, done)
            return True

        try:
            found = uncertainty(inputs, progress=go_on, samples=samples)
        except Stopped:
            tell(self, self._tell, None)
            raise ValueError("stopped; Enter in the field above draws the cases again") from None
        tell(self, self._tell, None)
        self.session.keep_in_short(self.question.name, found)
        return found

    def _tell(self, done: float | None) -> None:
        self._drawing = done is not None
        text = "" if done is None else f"{bar(done, BAR):<{BAR}} {done:4.0%}   Esc stops"
        self._progress.update(Content(text))

    def text(self, study: Uncertainty) -> str:
        """Every run at every rate."""
        from ventsize.report.uncertainty import render

        return render(study, self.session.system)

    def drawn(self, study: Uncertainty, *, width: int, height: int) -> Iterator[str]:
        """The ranges on one scale, and what spreads them."""
        from ventsize.quantity import show_pressure
        from ventsize.report.text_parts import sentences
        from ventsize.report.uncertainty import picture

        system = self.session.system
        yield f"{study.samples:,} cases; nine in ten lie between low and high. Pressure drop:"
        yield from picture(study.runs, system, width=width)
        yield ""
        for run in study.runs:
            low, high = (show_pressure(v, system) for v in (run.pressure_drop.low, run.pressure_drop.high))
            yield f"  {run.run}, {run.rate}: {low} to {high}, spread most by {run.matters_most}"
        yield from sentences("Cautions", study.cautions)

    def action_back(self) -> None:
        """No more cases; where none is being drawn, leave."""
        if self._drawing:
            self._stopped = True
        else:
            super().action_back()
