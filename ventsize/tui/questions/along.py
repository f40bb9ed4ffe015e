"""Along a run, on the job's own day or one typed in: pressure, temperatures and frost, water; one run at one rate."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from textwrap import wrap
from typing import TYPE_CHECKING, ClassVar, NamedTuple

from textual.binding import Binding, BindingType
from textual.widget import Widget

from ventsize.check.inputs import Inputs
from ventsize.jobfile.editing import put
from ventsize.quantity import Dimension, parse
from ventsize.tui.job.session import Session
from ventsize.tui.job.specs import Spec
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.picture import LEAST_CHART, PictureScreen
from ventsize.tui.widgets.field import Field
from ventsize.tui.widgets.text import one_line

if TYPE_CHECKING:
    from ventsize.studies.along import Along
    from ventsize.studies.cold import ColdWeather
    from ventsize.studies.condensate import Condensate

VIEWS = ("pressure", "temperature and frost", "water")
BOTH = 32  # lines from which pressure and temperature are shown together
FIGURES = 7  # lines below a chart that should be in sight


class Answer(NamedTuple):
    """All that is known along the runs. cold: None where the job gives no outdoor temperature."""

    along: Along
    cold: ColdWeather | None
    water: Condensate


class AlongScreen(PictureScreen[Answer]):
    """Keys step through runs, rates and views."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "step('_run')", "Next run", id="along.run"),
        Binding("r", "step('_rate')", "Rate", id="along.rate"),
        Binding("v", "step('_view')", "View", id="along.view"),
        Binding("e", "cooling", "Change cooling", id="along.cooling"),
    ]

    topic = "along"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session, question)
        self._run = self._rate = self._view = 0
        day = Spec(label="Outdoors", place=(), topic="cold_outdoor", kind="quantity", signed=True,
                   dimension=Dimension.TEMPERATURE, unit=("degF", "degC"))  # fmt: skip
        cover = Spec(label="Insulation", place=(), topic="cold_insulation", kind="quantity",
                     dimension=Dimension.LENGTH, unit=("in", "mm"))  # fmt: skip
        self._outdoor, self._insulation = (
            Field(spec.label, topic=spec.topic, reader=spec.reader(self.session.system), optional=True, hint=hint)
            for spec, hint in ((day, "as in the job"), (cover, "as in the job, on every vent pipe"))
        )

    def fields(self) -> Iterable[Widget]:
        """The day, and what is around the pipe."""
        return self._outdoor, self._insulation

    def asked(self) -> Callable[[Inputs], Answer]:
        """Every run at every rate, on the day and with the insulation that are typed."""
        typed = (field.reader(field.value).text if field.value.strip() else "" for field in
                 (self._outdoor, self._insulation))  # fmt: skip
        day, cover = typed
        outdoor = parse(day, Dimension.TEMPERATURE, signed=True) if day else None
        insulation = parse(cover, Dimension.LENGTH) if cover else None

        def work(inputs: Inputs) -> Answer:
            from ventsize.studies.along import along
            from ventsize.studies.cold import cold_weather, on_a_day
            from ventsize.studies.condensate import condensate

            known = outdoor is not None or inputs.job.site.outdoor is not None
            days = () if outdoor is None else (outdoor,)
            cold = cold_weather(inputs, outdoors=days, insulation=insulation) if known else None
            day = on_a_day(inputs, outdoor, insulation)
            return Answer(along(day), cold, condensate(day))

        return work

    def text(self, study: Answer) -> str:
        """What the view shows of every run, as the command line prints it."""
        from ventsize.report import along, cold, condensate

        view, system = VIEWS[self._view % len(VIEWS)], self.session.system
        if view == "water":
            return condensate.render(study.water, system)
        if view == VIEWS[1] and study.cold is not None:
            return cold.render(study.cold, system)
        return along.render(study.along, system)

    def drawn(self, study: Answer, *, width: int, height: int) -> Iterator[str]:
        """The answer for one run at one rate, then the view of it."""
        from ventsize.report.along import ends_of, pressure_chart, temperature_chart
        from ventsize.report.cold import first_day, frost_in_short
        from ventsize.report.condensate import fall_chart, water_in_short

        (along, cold, water), system = study, self.session.system
        names = list(dict.fromkeys(rate.run for rate in along.rates))
        if not names:
            yield "nothing flows in this job"
            return
        rates = along.of(names[self._run % len(names)])
        rate, view = rates[self._rate % len(rates)], VIEWS[self._view % len(VIEWS)]
        lies = next((run for run in water.runs if run.run == rate.run), None)
        frost = [frost_in_short(one, system) for one in (first_day(cold) if cold else ())
                 if (one.run, one.rate) == (rate.run, rate.rate)]  # fmt: skip
        pressure, warmth = ends_of(rate, system)
        answer = [
            f"{rate.run} at {rate.rate}, {rate.start} to {rate.end}: {pressure}",
            "; ".join((*warmth, *frost)),
            water_in_short(rate.points, lies, system),
            "" if along.cooling else "cooling is off in the job: its verdict is at one temperature",
            "View: " + " | ".join(f"[{name}]" if name == view else name for name in VIEWS),
        ]
        lines = [line for text in answer for line in wrap(one_line(text), width)]
        yield from lines
        both = height >= BOTH and view == "pressure"
        room = height - len(lines)
        tall = max(LEAST_CHART, room // 2 if both else room if view == "pressure" else room - FIGURES)
        if view == "pressure":
            yield from pressure_chart(rates, system, width=width, height=tall)
        if both or view == VIEWS[1]:
            yield from temperature_chart(rate.points, rate.marks, system, width=width, height=tall)
        if view == "water" and lies is not None:
            yield from fall_chart(lies, system, width=width, height=tall)
        yield from self._figures(study, view)

    def _figures(self, study: Answer, view: str) -> Iterator[str]:
        """Below the picture, of every run and rate: frost and its cures, or water and traps."""
        from ventsize.report import cold, condensate
        from ventsize.report.text_parts import sentences
        from ventsize.report.wording import say_all

        system = self.session.system
        if view == VIEWS[1] and study.cold is not None:
            yield from cold.figures(study.cold, system)
            yield from sentences("What to look at", say_all(study.cold.findings, system))
        elif view == "water":
            yield from condensate.figures(study.water, system)
            yield from sentences("What to look at", say_all(study.water.findings, system))

    def action_step(self, what: str) -> None:
        """The run, rate or view after this one."""
        setattr(self, what, getattr(self, what) + 1)
        self.from_the_top()

    def action_cooling(self) -> None:
        """Turn cooling on or off in the job, for every answer; it can be undone there."""
        session = self.session
        on = session.data.get("cooling") is not False
        session.do(put(session.data, ("cooling",), False if on else None), "cooling")
        self.notify(f"Cooling is {'off' if on else 'on'} in the job.", timeout=2)
        self.job_changed()
