"""The bench: the vent made longer by keys, inducers that adapt, of two speeds and of one side by side."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, ClassVar

from textual.binding import Binding, BindingType
from textual.timer import Timer

from ventsize.tui.questions.picture import LEAST_CHART, PictureScreen
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.text import one_line
from ventsize.tui.widgets.verdict_line import SIGNS

MOST = 40  # steps
PAUSE = 0.6  # seconds between two steps that go by themselves
SLOWEST, FASTEST, SPEED_STEP = 0.5, 1.0, 0.05


class BenchScreen(PictureScreen):
    """The arrows put pipe on and take it off, Enter goes on by itself; + and - change the speed of the fixed one.

    W cuts the power on the vent as long as it is; the arrows then take the steps of starting again.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("right,space", "longer(1)", "Longer", id="bench.longer"),
        Binding("left", "longer(-1)", "Shorter", id="bench.shorter"),
        Binding("enter", "go", "Go", id="bench.go"),
        Binding("r", "rate", "Rate drawn", id="bench.rate"),
        Binding("w", "walk", "Walk through a power cut", id="bench.walk"),
        Binding("e", "start", "Change the length at first", id="bench.start"),
        Binding("s", "save", "Save the picture", id="bench.save"),
        Binding("plus,equals_sign", "speed(1)", "Faster", show=False, id="bench.faster"),
        Binding("minus", "speed(-1)", "Slower", show=False, id="bench.slower"),
        Binding("x", "begin", "Remove all of it", show=False, id="bench.begin"),
    ]

    topic = "bench"

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self._count = 0
        self._rate = 0  # which is drawn
        self._start: float | None = None
        self._fixed: float | None = None
        self._walked: Any = None
        self._moment: int | None = None  # while the power is cut
        self._seen: dict[tuple[Any, ...], Any] = {}
        self._timer: Timer | None = None
        self._settings: dict[tuple[Any, ...], Any] = {}

    def asked(self) -> dict[str, Any]:
        """How many steps from which length, with which speed beside it, and whether the power is cut."""
        return {
            "count": self._count,
            "start": self._start,
            "fixed_speed": self._fixed,
            "cut": self._moment is not None,
        }

    def worked_out(self, inputs: Any, system: Any, **asked: Any) -> Any:
        """The steps so far; those seen before are not worked out again."""
        from ventsize.quantity import System
        from ventsize.studies.bench import STEP, power_cut, set_up, step_at, watched

        key = (id(inputs), asked["start"], asked["fixed_speed"])
        if key not in self._settings:
            made = set_up(inputs, start=asked["start"], fixed_speed=asked["fixed_speed"])
            self._settings[key] = (inputs, made)
        setting = self._settings[key][1]
        step = 3.0 if system is System.SI else STEP
        seen = []
        for number in range(asked["count"] + 1):
            at = (*key, step, number)
            if at not in self._seen:
                self._seen[at] = step_at(setting, setting.start + number * step)
            seen.append(self._seen[at])
        self._walked = power_cut(setting, seen[-1].length) if asked["cut"] else None
        return watched(setting, tuple(seen))

    def text(self) -> str:
        """Every step in figures."""
        from ventsize.report.bench import render

        return render(self.study, self.session.system)

    def paper(self) -> Any:
        """The pictures of every rate, with every step in figures."""
        from ventsize.report.bench_paper import bench_paper

        return bench_paper(self.study, self.session.system)

    def drawn(self, *, width: int, height: int) -> Iterator[str]:
        """The last step as gauges, switches and speeds so far as lines, what was to be seen; or a power cut."""
        from ventsize.quantity import show_feet
        from ventsize.report.bench import charts, gauges, seen
        from ventsize.report.inducer import curve_label
        from ventsize.report.text_parts import sentences
        from ventsize.report.wording import say_all

        study, system = self.study, self.session.system
        last = study.steps[-1]
        rate = study.rates[self._rate % len(study.rates)].name
        length = show_feet(last.length, system)
        if self._moment is not None and self._walked is not None:
            yield f"{study.appliance}, {length} of straight vent pipe. The arrows take the steps, W leaves."
            yield from self._moments()
            return
        yield f"{study.appliance}, {length} of straight vent pipe; drawn at {rate}"
        gauged = list(gauges(last, study, system))
        yield from gauged
        yield ""
        tall = max(LEAST_CHART + 2, height - len(gauged) - 4)
        yield from charts(study, self._rate % len(study.rates), system, width=width, height=tall)
        yield from sentences("What was to be seen", seen(study, system))
        yield from sentences("Cautions", (curve_label(study.curve), *say_all(study.cautions, system)))

    def _moments(self) -> Iterator[str]:
        """The steps of a start after a power cut so far, the last one first."""
        from ventsize.report.start_up import ORDER, moment_lines

        moments = self._walked.moments[: (self._moment or 0) + 1]
        for number, moment in reversed(list(enumerate(moments, start=1))):
            yield ""
            yield from moment_lines(number, moment, self.session.system)
        yield ""
        yield ORDER

    def _head(self) -> str:
        """The verdict on top is that of the vent on the bench, not of the job as it is."""
        if self.study is None:
            return one_line(self.question.title)
        verdict = self.study.steps[-1].table.verdict
        return f"{one_line(self.question.title)}   this vent: {SIGNS[verdict]} {verdict.upper()}"

    # Keys

    def action_longer(self, step: int) -> None:
        """A length of pipe put on, or taken off again; while the power is cut, the next step or the one before."""
        if self._moment is not None:
            most = len(self._walked.moments) - 1 if self._walked else 0
            self._moment = min(most, max(0, self._moment + step))
            self.redraw()
            return
        self._count = min(MOST, max(0, self._count + step))
        self.ask()

    def action_go(self) -> None:
        """Step by step by itself, until it is stopped or all switches are open."""
        if self._timer is not None:
            self._stop()
        elif self._moment is None:
            self._timer = self.set_interval(PAUSE, self._go_on)

    def _go_on(self) -> None:
        last = self.study.steps[-1] if self.study is not None else None
        if last is None or self._count >= MOST or not last.burns:
            self._stop()
        elif len(self.study.steps) == self._count + 1:  # what was asked for is there
            self.action_longer(1)

    def _stop(self) -> None:
        if self._timer is not None:
            self._timer.stop()
        self._timer = None

    def action_begin(self) -> None:
        """Back to the vent as it is."""
        self._stop()
        self._count, self._start, self._moment = 0, None, None
        self.ask()

    def action_start(self) -> None:
        """Another length to begin with."""
        self.app.push_screen(AskLine("straight vent pipe at first, such as 15 ft", None), self._start_typed)

    def _start_typed(self, text: str | None) -> None:
        from ventsize.jobfile.fields import read_quantity
        from ventsize.quantity import Dimension

        if text is None:
            return
        try:
            start = read_quantity(text.strip(), Dimension.LENGTH)
        except ValueError as error:
            self.notify(str(error), severity="warning", markup=False)
            return
        self.action_begin()
        self._start = start
        self.ask()

    def action_walk(self) -> None:
        """Cut the power, or leave that again."""
        self._stop()
        self._moment = 0 if self._moment is None else None
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
        """Draw the next firing rate."""
        self._rate += 1
        self.redraw()

    def action_back(self) -> None:
        """Stop what goes by itself, and leave."""
        self._stop()
        super().action_back()
