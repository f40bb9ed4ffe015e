"""Condensate: how the vent falls, drawn; water at each rate; the rise of each pipe; the trap."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, ClassVar

from textual.binding import Binding, BindingType

from ventsize.tui.questions.picture import LEAST_CHART, PictureScreen
from ventsize.tui.widgets.text import one_line

FIGURES = 11  # lines below the chart that should be in sight


class CondensateScreen(PictureScreen):
    """One vent drawn at a time."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("n", "run", "Next vent", id="condensate.run")]

    topic = "condensate"

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self._run = 0

    def worked_out(self, inputs: Any, system: Any, **asked: Any) -> Any:
        """Water, slopes, low spots, traps."""
        from ventsize.studies.condensate import condensate

        return condensate(inputs)

    def text(self) -> str:
        """Everything, with its cautions."""
        from ventsize.report.condensate import render

        return render(self.study, self.session.system)

    def drawn(self, *, width: int, height: int) -> Iterator[str]:
        """The fall of one vent, what to look at, and the figures."""
        from ventsize.report.condensate import fall_chart, figures
        from ventsize.report.text_parts import sentences
        from ventsize.report.wording import say_all

        system, runs = self.session.system, self.study.runs
        if runs:
            run = runs[self._run % len(runs)]
            yield one_line(f"{run.run}: how it lies")
            yield from fall_chart(run, system, width=width, height=max(LEAST_CHART, height - FIGURES))
        yield from figures(self.study, system)
        yield from sentences("What to look at", say_all(self.study.findings, system))

    def action_run(self) -> None:
        """The vent after this one."""
        self._run += 1
        self.redraw()
