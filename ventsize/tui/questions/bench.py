"""The bench: the vent made longer by keys, an inducer that adapts beside one of fixed speed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.timer import Timer
from textual.widgets import Static

from ventsize.tui.questions.picture import LEAST_CHART, PictureScreen
from ventsize.tui.widgets.text import one_line
from ventsize.tui.widgets.verdict_line import SIGNS

MOST = 40  # steps
PAUSE = 0.6  # seconds between two steps that go by themselves
SLOWEST, FASTEST, SPEED_STEP = 0.5, 1.0, 0.05


class BenchScreen(PictureScreen):
    """The arrows put pipe on and take it off, Enter goes on by itself; + and - change the speed of the fixed one."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("right,space", "longer(1)", "Longer", id="bench.longer"),
        Binding("left", "longer(-1)", "Shorter", id="bench.shorter"),
        Binding("enter", "go", "Go", id="bench.go"),
        Binding("plus,equals_sign", "speed(1)", "Faster", id="bench.faster"),
        Binding("minus", "speed(-1)", "Slower", show=False, id="bench.slower"),
        Binding("r", "rate", "Rate", show=False, id="bench.rate"),
        Binding("x", "begin", "Remove all of it", show=False, id="bench.begin"),
    ]

    topic = "bench"

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self._count = 0
        self._rate: str | None = None
        self._fixed: float | None = None
        self._seen: dict[tuple[Any, ...], Any] = {}
        self._timer: Timer | None = None
        self._settings: dict[tuple[Any, ...], Any] = {}

    def asked(self) -> dict[str, Any]:
        """How many steps, at which rate, with which speed beside it."""
        return {"count": self._count, "rate": self._rate, "fixed_speed": self._fixed}

    def worked_out(self, inputs: Any, system: Any, **asked: Any) -> Any:
        """The steps so far; those seen before are not worked out again."""
        from ventsize.quantity import System
        from ventsize.studies.bench import STEP, set_up, step_at, watched

        key = (id(inputs), asked["rate"], asked["fixed_speed"])
        if key not in self._settings:
            self._settings[key] = (
                inputs,
                set_up(inputs, rate=asked["rate"], fixed_speed=asked["fixed_speed"]),
            )
        setting = self._settings[key][1]
        step = 3.0 if system is System.SI else STEP
        seen = []
        for number in range(asked["count"] + 1):
            at = (*key, step, number)
            if at not in self._seen:
                self._seen[at] = step_at(setting, setting.start + number * step)
            seen.append(self._seen[at])
        return watched(setting, tuple(seen))

    def text(self) -> str:
        """Every step in figures."""
        from ventsize.report.bench import render

        return render(self.study, self.session.system)

    def drawn(self, *, width: int, height: int) -> Iterator[str]:
        """The last step as gauges, what the switches felt so far as lines, what was to be seen."""
        from ventsize.quantity import show_feet
        from ventsize.report.bench import chart, gauges
        from ventsize.report.inducer import curve_label
        from ventsize.report.text_parts import sentences
        from ventsize.report.wording import say_all

        study, system = self.study, self.session.system
        last = study.steps[-1]
        yield (
            f"{study.appliance} at {study.rate}, {show_feet(last.length, system)} of straight vent pipe; "
            f"the fixed one: {study.fixed_speed:.0%} of top"
        )
        yield from gauges(last, study, system)
        yield ""
        yield from chart(study, system, width=width, height=max(LEAST_CHART, height - 12))
        yield from sentences("What was to be seen", say_all(study.findings, system, place=False))
        yield from sentences("Cautions", (curve_label(study.curve), *say_all(study.cautions, system)))

    def redraw(self) -> None:
        """The verdict on top is that of the vent on the bench, not of the job as it is."""
        super().redraw()
        if self.study is not None:
            self.query_one(".picture-head", Static).update(Content(self._head()))

    def _head(self) -> str:
        if self.study is None:
            return one_line(self.question.title)
        verdict = self.study.steps[-1].table.verdict
        return f"{one_line(self.question.title)}   this vent: {SIGNS[verdict]} {verdict.upper()}"

    # Keys

    def action_longer(self, step: int) -> None:
        """A length of pipe put on, or taken off again."""
        self._count = min(MOST, max(0, self._count + step))
        self.ask()

    def action_go(self) -> None:
        """Step by step by itself, until it is stopped or both switches are open."""
        if self._timer is not None:
            self._stop()
            return
        self._timer = self.set_interval(PAUSE, self._go_on)

    def _go_on(self) -> None:
        last = self.study.steps[-1] if self.study is not None else None
        if last is None or self._count >= MOST or not (last.adaptive.burns or last.fixed.burns):
            self._stop()
            return
        if len(self.study.steps) == self._count + 1:  # what was asked for is there
            self.action_longer(1)

    def _stop(self) -> None:
        if self._timer is not None:
            self._timer.stop()
        self._timer = None

    def action_begin(self) -> None:
        """Back to the vent as it is."""
        self._stop()
        self._count = 0
        self.ask()

    def action_speed(self, step: int) -> None:
        """Another fixed speed, in steps of five hundredths of the top."""
        own = self.study.fixed_speed if self.study is not None else FASTEST
        rounded = round(own / SPEED_STEP) * SPEED_STEP
        if (rounded - own) * step <= 1e-9:
            rounded += step * SPEED_STEP
        self._fixed = min(FASTEST, max(SLOWEST, rounded))
        self.ask()

    def action_rate(self) -> None:
        """The next firing rate."""
        if self.study is None:
            return
        appliance = next(a for a in self.session.inputs.job.appliances if a.name == self.study.appliance)
        names = [rate.name for rate in appliance.rates]
        self._rate = names[(names.index(self.study.rate) + 1) % len(names)]
        self._fixed = None
        self.ask()

    def action_back(self) -> None:
        """Stop what goes by itself, and leave."""
        self._stop()
        super().action_back()
