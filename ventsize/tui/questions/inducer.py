"""The inducer: its curve and switch typed in; curves of fan and vent, and where they meet, drawn below."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, ClassVar

from textual.binding import Binding, BindingType
from textual.widget import Widget

from ventsize.jobfile.editing import value_at
from ventsize.tui.job.form import Form
from ventsize.tui.questions.fan_fields import begin, described, fan_specs
from ventsize.tui.questions.picture import LEAST_CHART, PictureScreen

FIGURES = 8  # lines below the chart that should be in sight


class InducerScreen(PictureScreen):
    """What is typed goes into the job; D describes an inducer where there is none."""

    DEFAULT_CSS = """
    InducerScreen {
        & Form { max-height: 4; border-bottom: solid $panel-lighten-2; padding: 0; }
        & Form Input { width: 1fr; }
        & Form .field-note { width: 24; }
        & ChoiceField _ChoiceLine { width: 28; }
        &.-tall Form { max-height: 8; }
    }
    """

    VERTICAL_BREAKPOINTS = [(0, "-low"), (32, "-tall")]

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "appliance", "Next appliance", id="inducer.appliance"),
        Binding("a", "describe", "Add a description", id="inducer.describe"),
        Binding("e", "edit", "Change its figures", id="inducer.edit"),
        Binding("ctrl+z,u", "undo", "Undo", show=False, id="inducer.undo"),
    ]

    topic = "inducer"

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self._at = 0
        self._begun = False  # whether D has just put an example in, and nothing of it has been changed

    def fields(self) -> Iterable[Widget]:
        """Curve, source, switch."""
        yield Form(id="fan-form")

    async def opened(self) -> None:
        """The fields of the first appliance that has its inducer described."""
        appliances = value_at(self.session.data, ("appliance",), []) or []
        self._at = next((n for n in range(len(appliances)) if described(self.session.data, n)), 0)
        await self._form()

    async def _form(self) -> None:
        form, data = self.query_one(Form), self.session.data
        there = described(data, self._at)
        form.display = there
        await form.show(self.session, fan_specs(data, self._at, self.session.system) if there else [])

    def on_form_typed(self, event: Form.Typed) -> None:
        """Every keystroke is answered, as soon as it makes a value."""
        event.stop()
        self._begun = False
        self.judge_then(self._judged_anew)

    def on_form_finished(self, event: Form.Finished) -> None:
        """Enter goes to the next field; Esc, with nothing to put back, to the picture."""
        event.stop()
        if event.by_escape:
            self.query_one(".picture-scroll").focus()
            self.call_later(self._drop_untouched)
        else:
            self.focus_next()

    def worked_out(self, inputs: Any, system: Any, **asked: Any) -> Any:
        """Every inducer at every rate."""
        from ventsize.studies.inducer import inducer_study

        return inducer_study(inputs)

    def text(self) -> str:
        """Everything, with its cautions."""
        from ventsize.report.inducer import render

        return render(self.study, self.session.system)

    def drawn(self, *, width: int, height: int) -> Iterator[str]:
        """The chosen appliance's curves, and the figures of all."""
        from ventsize.report.inducer import curve_chart, figures
        from ventsize.report.text_parts import sentences
        from ventsize.report.wording import say_all

        system = self.session.system
        name = value_at(self.session.data, ("appliance", self._at, "name"))
        if any(name == curve.appliance for curve in self.study.curves):
            tall = max(LEAST_CHART + 2, height - FIGURES)
            yield from curve_chart(self.study, name, system, width=width, height=tall)
        yield from figures(self.study, system)
        yield from sentences("What to look at", say_all(self.study.findings, system))
        yield from sentences("Cautions", say_all(self.study.cautions, system))

    def _judged_anew(self) -> None:
        self.ask()
        for screen in self.app.screen_stack:
            if screen is not self and hasattr(screen, "refreshed") and getattr(screen, "session", None) is self.session:
                screen.refreshed()

    async def action_appliance(self) -> None:
        """The appliance after this one."""
        self._at = (self._at + 1) % max(1, len(value_at(self.session.data, ("appliance",), []) or []))
        await self._form()
        self.redraw()

    async def action_describe(self) -> None:
        """An example inducer at this appliance, to be typed over."""
        if not described(self.session.data, self._at):
            self.session.do(begin(self.session.data, self._at), "describe the inducer")
            self._begun = True
            self.judge_then(self._judged_anew)
            await self._form()
        self.action_edit()

    async def _drop_untouched(self) -> None:
        """An example just put in, and left with nothing of it changed, was a slip: it is taken out again."""
        if self._begun:
            self.session.undo()
            self.notify("Dropped: nothing of the example was changed.", timeout=3)
            await self._anew()

    def action_edit(self) -> None:
        """Into the first field."""
        if described(self.session.data, self._at):
            self.query_one(Form).focus_field(0)
        else:
            self.notify("D describes an inducer first.", timeout=2)

    async def action_undo(self) -> None:
        """Take the last edit of the job back."""
        step = self.session.undo()
        self.notify(f"Undone: {step.label}" if step else "Nothing to undo.", markup=False, timeout=2)
        await self._anew()

    async def _anew(self) -> None:
        """The job has changed under the form."""
        self._begun = False
        self.judge_then(self._judged_anew)
        await self._form()
        self.query_one(Form).refill()
