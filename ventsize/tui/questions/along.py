"""Temperature and pressure along a run: drawn rate by rate, with cooling and without."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, ClassVar

from textual.binding import Binding, BindingType

from ventsize.jobfile.editing import put
from ventsize.tui.questions.picture import LEAST_CHART, PictureScreen
from ventsize.tui.widgets.text import one_line

TWO_CHARTS = 28  # lines from which both charts are shown at once


class AlongScreen(PictureScreen):
    """One run at one rate; keys step through them."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "run(1)", "Next run", id="along.run"),
        Binding("r", "rate(1)", "Rate", id="along.rate"),
        Binding("v", "other", "View", id="along.other"),
        Binding("e", "cooling", "Change cooling", id="along.cooling"),
    ]

    topic = "along"

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self._run = self._rate = 0
        self._pressure = False

    def worked_out(self, inputs: Any, system: Any, **asked: Any) -> Any:
        """Every run at every rate."""
        from ventsize.studies.along import along

        return along(inputs)

    def text(self) -> str:
        """Every run's charts."""
        from ventsize.report.along import render

        return render(self.study, self.session.system)

    def drawn(self, *, width: int, height: int) -> Iterator[str]:
        """The run chosen at the rate chosen."""
        from ventsize.report.along import ends_of, pressure_chart, temperature_chart

        system = self.session.system
        names = list(dict.fromkeys(rate.run for rate in self.study.rates))
        if not names:
            yield "nothing flows in this job"
            return
        rates = self.study.of(names[self._run % len(names)])
        rate = rates[self._rate % len(rates)]
        on = "on" if self.study.cooling else "off: the job's verdict is at one temperature"
        yield one_line(f"{rate.run}: {rate.carries}, from {rate.start} to {rate.end}; cooling in the job is {on}")
        yield one_line(f"{rate.rate}: {ends_of(rate, system)}")
        both = height >= TWO_CHARTS
        tall = max(LEAST_CHART, (height - 5) // 2 if both else height - 4)
        if both or not self._pressure:
            yield "Temperature"
            yield from temperature_chart(rate, system, width=width, height=tall)
        if both or self._pressure:
            yield "Static pressure against outdoors"
            yield from pressure_chart(rates, system, width=width, height=tall)

    def action_run(self, by: int) -> None:
        """The run after this one."""
        self._run, self._rate = self._run + by, 0
        self.redraw()

    def action_rate(self, by: int) -> None:
        """The rate after this one."""
        self._rate += by
        self.redraw()

    def action_other(self) -> None:
        """The other picture, where there is room for one."""
        self._pressure = not self._pressure
        self.redraw()

    def action_cooling(self) -> None:
        """Turn cooling on or off in the job, for every answer; it can be undone there."""
        session = self.session
        on = session.data.get("cooling") is not False
        session.do(put(session.data, ("cooling",), False if on else None), "cooling")
        self.notify(f"Cooling is {'off' if on else 'on'} in the job.", timeout=2)
        self.judge_then(self._judged_anew)

    def _judged_anew(self) -> None:
        self.ask()
        for screen in self.app.screen_stack:
            if screen is not self and hasattr(screen, "refreshed") and getattr(screen, "session", None) is self.session:
                screen.refreshed()
