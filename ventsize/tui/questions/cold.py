"""Cold weather: a day and insulation typed in, and the inside wall along the vent on that day."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, ClassVar

from textual.binding import Binding, BindingType
from textual.widget import Widget

from ventsize.quantity import Dimension
from ventsize.tui.job.specs import Spec
from ventsize.tui.questions.picture import LEAST_CHART, PictureScreen
from ventsize.tui.widgets.field import Field
from ventsize.tui.widgets.text import one_line

FIGURES = 9  # lines below the chart that should be in sight


class ColdScreen(PictureScreen):
    """Answers as typed; with nothing typed, for the job's own day and colder ones."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("n", "run", "Next vent", id="cold.run")]

    topic = "cold"

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self._run = 0
        day = Spec(label="Outdoors", place=(), topic="cold_outdoor", kind="quantity", signed=True,
                   dimension=Dimension.TEMPERATURE, unit=("degF", "degC"))  # fmt: skip
        cover = Spec(label="Insulation", place=(), topic="cold_insulation", kind="quantity",
                     dimension=Dimension.LENGTH, unit=("in", "mm"))  # fmt: skip
        self._outdoor, self._insulation = (
            Field(spec.label, topic=spec.topic, reader=spec.reader(self.session.system), optional=True, hint=hint)
            for spec, hint in ((day, "the job's and colder days"), (cover, "as in the job, on every vent pipe"))
        )

    def fields(self) -> Iterable[Widget]:
        """The day, and what is around the pipe."""
        return self._outdoor, self._insulation

    def on_field_base_changed(self, event: Field.Changed) -> None:
        """Every keystroke that makes a value is answered."""
        event.stop()
        if event.valid:
            self.ask()

    def on_field_base_done(self, event: Field.Done) -> None:
        """Enter goes on to the next field; Esc, with nothing to put back, leaves."""
        event.stop()
        if event.by_escape:
            self.action_back()
        else:
            self.focus_next()

    def asked(self) -> dict[str, Any]:
        """The day and the insulation, in SI."""
        from ventsize.quantity import parse

        outdoor, insulation = (field.reader(field.value).text if field.value.strip() else "" for field in
                               (self._outdoor, self._insulation))  # fmt: skip
        return {
            "outdoors": [parse(outdoor, Dimension.TEMPERATURE, signed=True)] if outdoor else [],
            "insulation": parse(insulation, Dimension.LENGTH) if insulation else None,
        }

    def worked_out(self, inputs: Any, system: Any, **asked: Any) -> Any:
        """The days asked about."""
        from ventsize.studies.cold import cold_weather

        return cold_weather(inputs, **asked)

    def text(self) -> str:
        """Every vent."""
        from ventsize.report.cold import render

        return render(self.study, self.session.system)

    def drawn(self, *, width: int, height: int) -> Iterator[str]:
        """The walls of one vent on the first day, and the figures of all."""
        from ventsize.quantity import show_temperature
        from ventsize.report.cold import figures, first_day, wall_chart
        from ventsize.report.text_parts import sentences
        from ventsize.report.wording import say_all

        system = self.session.system
        vents = list(dict.fromkeys(rate.run for rate in self.study.rates))
        if vents:
            day = first_day(self.study, vents[self._run % len(vents)])
            shown = show_temperature(day[0].outdoor, system)
            yield one_line(f"{day[0].run}: inside wall from the appliance outwards, outdoors at {shown}")
            yield from wall_chart(day, system, width=width, height=max(LEAST_CHART, height - FIGURES))
        yield from figures(self.study, system)
        yield from sentences("What to look at", say_all(self.study.findings, system))

    def action_run(self) -> None:
        """The vent after this one."""
        self._run += 1
        self.redraw()
