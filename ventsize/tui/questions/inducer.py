"""The inducer: curves of fan and vent, and the vent made longer by keys, with inducers of each kind side by side.

Its description is typed in fields that Esc closes again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from textwrap import wrap
from typing import TYPE_CHECKING, Any, ClassVar, NamedTuple, TypeVar

from textual.binding import Binding, BindingType
from textual.timer import Timer
from textual.widget import Widget

from ventsize.check.inputs import Inputs
from ventsize.jobfile.editing import value_at
from ventsize.jobfile.problems import InputError
from ventsize.tui.job.form import Form
from ventsize.tui.job.session import Session
from ventsize.tui.job.specs import length
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.fan_fields import begin, described, fan_specs
from ventsize.tui.questions.picture import LEAST_CHART, PictureScreen
from ventsize.tui.questions.to_paper import save_paper
from ventsize.tui.widgets.field import Field
from ventsize.tui.widgets.text import one_line
from ventsize.tui.widgets.verdict_line import SIGNS

if TYPE_CHECKING:
    from ventsize.studies.bench import Bench
    from ventsize.studies.inducer import InducerStudy
    from ventsize.studies.start_up import Moment, StartUp

Made = TypeVar("Made")

EMPTY = "This job describes no inducer. a adds an example, to be changed to what the maker says of it."
VIEWS = ("curves", "by length")
MOST = 40  # steps
PAUSE = 0.6  # seconds between two steps that go by themselves
SLOWEST, FASTEST, SPEED_STEP = 0.5, 1.0, 0.05


class Answer(NamedTuple):
    """The inducers on the vent as long as it is now; the lengths so far, where there is a vent; a start after a cut."""

    inducers: InducerStudy
    bench: Bench | None
    cut: StartUp | None


class InducerScreen(PictureScreen[Answer]):
    """The arrows put pipe on and take it off, Enter goes on by itself; + and - change the speed of the fixed one.

    W cuts the power on the vent as long as it is; the arrows then take the steps of starting again.
    """

    DEFAULT_CSS = """
    InducerScreen {
        & .picture-fields { display: none; }
        &.-editing .picture-fields { display: block; }
        & Form { max-height: 4; border-bottom: solid $panel-lighten-2; padding: 0; }
        & Form Input { width: 1fr; }
        & Form .field-note { width: 24; }
        & ChoiceField _ChoiceLine { width: 28; }
        &.-tall Form { max-height: 10; }
    }
    """

    VERTICAL_BREAKPOINTS = [(0, "-low"), (32, "-tall")]

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("right,space", "longer(1)", "Longer", id="inducer.longer"),
        Binding("left", "longer(-1)", "Shorter", show=False, id="inducer.shorter"),
        Binding("v", "view", "View", id="inducer.view"),
        Binding("e", "edit", "Change figures", id="inducer.edit"),
        Binding("enter", "go", "Go", show=False, id="inducer.go"),
        Binding("r", "rate", "Rate drawn", id="inducer.rate"),
        Binding("n", "appliance", "Next appliance", show=False, id="inducer.appliance"),
        Binding("w", "walk", "Walk through a power cut", show=False, id="inducer.walk"),
        Binding("a", "describe", "Add a description", show=False, id="inducer.describe"),
        Binding("s", "save", "Save the picture", show=False, id="inducer.save"),
        Binding("plus,equals_sign", "speed(1)", "Faster", show=False, id="inducer.faster"),
        Binding("minus", "speed(-1)", "Slower", show=False, id="inducer.slower"),
        Binding("x", "begin", "Remove what was put on", show=False, id="inducer.begin"),
        Binding("ctrl+z,u", "undo", "Undo", show=False, id="inducer.undo"),
    ]

    topic = "inducer"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session, question)
        self._at = self._count = self._rate = self._view = 0
        self._fixed: float | None = None
        self._moment: int | None = None  # while the power is cut
        self._begun = False  # whether an example has just been put in, and nothing of it has been changed
        self._timer: Timer | None = None
        self._seen: dict[tuple[Any, ...], Any] = {}
        self._seen_of: Inputs | None = None
        self._start = Field("Vent, straight", topic="fan_start", optional=True, hint="as in the job",
                            reader=length("", (), "", optional=True).reader(self.session.system))  # fmt: skip

    def fields(self) -> Iterable[Widget]:
        """How long the vent is at first; curve, source, switch, speeds."""
        yield self._start
        yield Form(id="fan-form")

    async def opened(self) -> None:
        """The fields of the first appliance that has its inducer described."""
        appliances = value_at(self.session.data, ("appliance",), []) or []
        self._at = next((n for n in range(len(appliances)) if described(self.session.data, n)), 0)
        await self._form()

    async def _form(self) -> None:
        form, data = self.query_one(Form), self.session.data
        await form.show(self.session, fan_specs(data, self._at, self.session.system) if self._described else [])

    @property
    def _described(self) -> bool:
        return described(self.session.data, self._at)

    # Answering

    def asked(self) -> Callable[[Inputs], Answer]:
        """So many steps of an appliance's vent from a length, a speed beside it, and whether the power is cut."""
        from ventsize.quantity import Dimension, System, parse

        typed = self._start.value.strip()
        return partial(
            self._steps,
            appliance=value_at(self.session.data, ("appliance", self._at, "name")) if self._described else None,
            start=parse(self._start.reader(typed).text, Dimension.LENGTH) if typed else None,
            fixed_speed=self._fixed,
            count=self._count,
            cut=self._moment is not None,
            metric=self.session.system is System.SI,
        )

    def _steps(
        self, inputs: Inputs, *, appliance: str | None, start: float | None, fixed_speed: float | None,
        count: int, cut: bool, metric: bool,
    ) -> Answer:  # fmt: skip
        """The steps so far; those seen before are not worked out again."""
        from ventsize.jobfile.lesson import Changed
        from ventsize.studies.altering.altered import altered
        from ventsize.studies.bench import STEP, power_cut, set_up, step_at, watched
        from ventsize.studies.inducer import inducer_study

        if self._seen_of is not inputs:
            self._seen_of, self._seen = inputs, {}
        key = (appliance, start, fixed_speed)
        try:
            setting = self._once(key, lambda: set_up(inputs, appliance=appliance, start=start, fixed_speed=fixed_speed))
        except InputError:
            return Answer(inducer_study(inputs), None, None)
        step = 3.0 if metric else STEP
        lengths = [setting.start + number * step for number in range(count + 1)]
        steps = tuple(self._once((*key, at), partial(step_at, setting, at)) for at in lengths)
        study = self._once((appliance, lengths[-1]), lambda: inducer_study(
            altered(inputs, Changed(run=setting.vent, straight=lengths[-1]))))  # fmt: skip
        return Answer(study, watched(setting, steps), power_cut(setting, lengths[-1]) if cut else None)

    def _once(self, key: tuple[Any, ...], make: Callable[[], Made]) -> Made:
        if key not in self._seen:
            self._seen[key] = make()
        found: Made = self._seen[key]
        return found

    def _say(self, problem: str, sign: str = "! ") -> None:
        super()._say(EMPTY if problem and not self._described else problem, sign)

    def text(self, study: Answer) -> str:
        """What the view shows, as the command line prints it."""
        from ventsize.report import bench, inducer

        if study.bench is not None and self._by_length:
            return bench.render(study.bench, self.session.system)
        return inducer.render(study.inducers, self.session.system)

    @property
    def _by_length(self) -> bool:
        return self._view % len(VIEWS) == 1

    def drawn(self, study: Answer, *, width: int, height: int) -> Iterator[str]:
        """Which vent, the answer in figures, the view; or a power cut."""
        from ventsize.quantity import show_feet

        system, bench = self.session.system, study.bench
        if bench is not None:
            title = f"{bench.appliance}, {show_feet(bench.steps[-1].length, system)} of straight vent pipe."
            if study.cut is not None and self._moment is not None:
                yield f"{title} The arrows take the steps, w leaves."
                yield from self._moments(study.cut.moments[: self._moment + 1])
                return
            views = " | ".join(f"[{name}]" if name == VIEWS[self._by_length] else name for name in VIEWS)
            lines = wrap(one_line(f"{title} View: {views}"), width)
            yield from lines
            height -= len(lines)
        if bench is not None and self._by_length:
            yield from self._lengths(bench, width, height)
        else:
            yield from self._curves(study.inducers, width, height)

    def _curves(self, study: InducerStudy, width: int, height: int) -> Iterator[str]:
        """The figures of all, the chosen appliance's curves."""
        from ventsize.report.inducer import curve_chart, figures
        from ventsize.report.text_parts import sentences
        from ventsize.report.wording import say_all

        system = self.session.system
        answer = list(figures(study, system))
        yield from answer
        name = value_at(self.session.data, ("appliance", self._at, "name"))
        if any(name == curve.appliance for curve in study.curves):
            tall = max(LEAST_CHART + 2, height - len(answer))
            yield from curve_chart(study, name, system, width=width, height=tall)
        yield from sentences("What to look at", say_all(study.findings, system))
        yield from sentences("Cautions", say_all(study.cautions, system))

    def _lengths(self, bench: Bench, width: int, height: int) -> Iterator[str]:
        """The last step as gauges, switches and speeds so far as lines, what was to be seen."""
        from ventsize.report.bench import charts, gauges, seen
        from ventsize.report.inducer import curve_label
        from ventsize.report.text_parts import sentences
        from ventsize.report.wording import say_all

        system, rate = self.session.system, self._rate % len(bench.rates)
        answer = [
            *gauges(bench.steps[-1], bench, system),
            f"At {bench.rates[rate].name}; A after it has learned this length:",
        ]
        yield from answer
        tall = max(LEAST_CHART + 2, height - len(answer) - 2)
        yield from charts(bench, rate, system, width=width, height=tall)
        yield from sentences("What was to be seen", seen(bench, system))
        yield from sentences("Cautions", (curve_label(bench.curve), *say_all(bench.cautions, system)))

    def _moments(self, moments: Sequence[Moment]) -> Iterator[str]:
        """The steps of a start after a power cut so far, the oldest first."""
        from ventsize.report.start_up import ORDER, moment_lines

        if moments[0].learned:
            yield "The vent was made longer after A had learned: it keeps its speeds until it learns again."
        yield ORDER
        for number, moment in enumerate(moments, start=1):
            yield ""
            yield from moment_lines(number, moment, self.session.system)

    def _head(self) -> str:
        """The verdict on top is that of the vent as long as it is here, once it is not that of the job."""
        if self.study is None or self.study.bench is None or not (self._count or self._start.value.strip()):
            return super()._head()
        verdict = self.study.bench.steps[-1].table.verdict
        return f"{one_line(self.question.title)}   this vent: {SIGNS[verdict]} {verdict.upper()}"

    # The length and the speeds

    def action_longer(self, step: int) -> None:
        """A length of pipe put on, or taken off again; while the power is cut, the next step or the one before."""
        if self._moment is not None:
            most = len(self.study.cut.moments) - 1 if self.study and self.study.cut else 0
            self._moment = min(most, max(0, self._moment + step))
            self.redraw()
            self.query_one(".picture-scroll").scroll_end(animate=False)  # to the newest
            return
        self._count, self._view = min(MOST, max(0, self._count + step)), 1
        self.ask()

    def action_go(self) -> None:
        """Step by step by itself, until it is stopped or all switches are open."""
        if self._timer is not None:
            self._stop()
        elif self._moment is None:
            self._timer = self.set_interval(PAUSE, self._by_itself)

    def _by_itself(self) -> None:
        steps = self.study.bench.steps if self.study is not None and self.study.bench else ()
        if not steps or self._count >= MOST or not steps[-1].burns:
            self._stop()
        elif len(steps) == self._count + 1:  # what was asked for is there
            self.action_longer(1)

    def _stop(self) -> None:
        if self._timer is not None:
            self._timer.stop()
        self._timer = None

    def action_begin(self) -> None:
        """Back to the vent as it was at first."""
        self._stop()
        self._count, self._moment = 0, None
        self.ask()

    def action_walk(self) -> None:
        """Cut the power, or leave that again."""
        self._stop()
        self._moment = 0 if self._moment is None else None
        self.ask()

    def action_speed(self, step: int) -> None:
        """Another fixed speed, in steps of five hundredths of the top."""
        own = self.study.bench.fixed_speed if self.study and self.study.bench else FASTEST
        rounded = round(own / SPEED_STEP) * SPEED_STEP
        if (rounded - own) * step <= 1e-9:
            rounded += step * SPEED_STEP
        self._fixed, self._view = min(FASTEST, max(SLOWEST, rounded)), 1
        self.ask()

    def action_view(self) -> None:
        """The other view."""
        self._view += 1
        self.from_the_top()

    def action_rate(self) -> None:
        """Draw the next firing rate by length."""
        self._rate, self._view = self._rate + self._view % len(VIEWS), 1
        self.redraw()

    def action_save(self) -> None:
        """The pictures by length on a page, to a file."""
        from ventsize.report.bench_paper import bench_paper

        bench = self.study.bench if self.study else None
        if bench is not None:
            save_paper(self, self.session, self.question.name, lambda: bench_paper(bench, self.session.system))

    def action_back(self) -> None:
        """Stop what goes by itself, and leave."""
        self._stop()
        super().action_back()

    # The description

    def on_form_typed(self, event: Form.Typed) -> None:
        """Every keystroke is answered, as soon as it makes a value."""
        event.stop()
        self._begun = False
        self.job_changed()

    def on_form_finished(self, event: Form.Finished) -> None:
        """Enter goes to the next field; Esc, with nothing to put back, to the picture."""
        event.stop()
        if event.by_escape:
            self.escaped()
            self.call_later(self._drop_untouched)
        else:
            self.focus_next()

    def escaped(self) -> None:
        """The fields are closed."""
        self.remove_class("-editing")
        self.query_one(".picture-scroll").focus()

    async def action_appliance(self) -> None:
        """The appliance after this one."""
        self._at = (self._at + 1) % max(1, len(value_at(self.session.data, ("appliance",), []) or []))
        await self._form()
        self.action_begin()

    async def action_describe(self) -> None:
        """An example inducer at this appliance, to be typed over."""
        if not self._described:
            self.session.do(begin(self.session.data, self._at), "describe the inducer")
            self._begun = True
            self.job_changed()
            await self._form()
        self.add_class("-editing")
        self.query_one(Form).focus_field(0)

    async def _drop_untouched(self) -> None:
        """An example just put in, and left with nothing of it changed, was a slip: it is taken out again."""
        if self._begun:
            self.session.undo()
            self.notify("Dropped: nothing of the example was changed.", timeout=3)
            await self._anew()

    def action_edit(self) -> None:
        """Into the first field."""
        if self._described:
            self.add_class("-editing")
            self._start.focus_entry()
        else:
            self.notify("a adds a description first.", timeout=2)

    async def action_undo(self) -> None:
        """Take the last edit of the job back."""
        self.take_back()
        await self._anew()

    async def _anew(self) -> None:
        """The job has changed under the form."""
        self._begun = False
        self.job_changed()
        await self._form()
        self.query_one(Form).refill()
