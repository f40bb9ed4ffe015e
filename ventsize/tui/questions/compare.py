"""Side by side: the open job and up to five variants of it, made here by keys."""

from __future__ import annotations

import string
from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any, ClassVar

from textual.binding import Binding, BindingType

from ventsize.check.inputs import Inputs
from ventsize.jobfile.lesson import Changed
from ventsize.tui.job.session import Session
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.picture import LEAST_CHART, PictureScreen
from ventsize.tui.questions.text import NOTHING
from ventsize.tui.questions.variant_form import ask_for_change
from ventsize.tui.widgets.text import one_line

if TYPE_CHECKING:
    from ventsize.studies.comparing import Comparison

VIEWS = ("curves", "bars", "figures")


class CompareScreen(PictureScreen["Comparison | tuple[()]"]):
    """The open job and its variants, side by side; study is () where there is no variant yet."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("b", "variant", "Beside, a variant", id="compare.variant"),
        Binding("m", "more", "More changes", id="compare.more"),
        Binding("x,delete", "remove", "Remove", id="compare.remove"),
        Binding("v", "view", "View", id="compare.view"),
        Binding("r", "rate", "Rate", show=False, id="compare.rate"),
        Binding("o", "open", "Open it as a job", show=False, id="compare.open"),
    ]

    topic = "compare"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session, question)
        self.variants: list[Changed] = []
        self._view = 0
        self._rate: str | None = None

    def asked(self) -> Callable[[Inputs], Comparison | tuple[()]]:
        """The comparison with the variants, at the rate chosen."""
        variants, rate = tuple(self.variants), self._rate

        def work(inputs: Inputs) -> Comparison | tuple[()]:
            from ventsize.studies.altering.altered import altered
            from ventsize.studies.comparing import compare

            made = [altered(inputs, changed) for changed in variants]
            jobs = list(zip(string.ascii_uppercase, (inputs, *made), strict=False))
            return compare(jobs, rate=rate) if made else ()

        return work

    def text(self, study: Comparison | tuple[()]) -> str:
        """Everything."""
        from ventsize.report.comparing import render

        return "" if isinstance(study, tuple) else render(study, self.session.system)

    def drawn(self, study: Comparison | tuple[()], *, width: int, height: int) -> Iterator[str]:
        """What differs and what made the difference, and the view chosen in the rest of the room."""
        from ventsize.report.comparing import bars, chart, figures

        if isinstance(study, tuple):
            yield "A is the job as it is. b puts a variant beside it, five at most."
            yield "It may have another fitting, size, order, rate, altitude, temperature or fuel."
            return
        system = self.session.system
        said = list(self._said(study, width))
        yield from said
        yield ""
        view = VIEWS[self._view]
        if view == "curves":
            yield from chart(study, system, width=width, height=max(LEAST_CHART, height - len(said) - 1))
        elif view == "bars":
            yield from bars(study, system, width=width)
        else:
            yield from figures(study, system, width=width)

    def _said(self, study: Comparison, width: int) -> Iterator[str]:
        import textwrap

        from ventsize.report.comparing import told, what_made_it

        system = self.session.system
        yield f"A  {one_line(self.session.whole[1].title)}, at {one_line(study.compared[0].rate)}"
        for one, why in zip(study.compared[1:], what_made_it(study, system), strict=True):
            differing = "; ".join(told(one.differences, system)) or "nothing differs"
            yield from textwrap.wrap(f"{one.name}» {differing}", width, subsequent_indent="   ")
            yield from textwrap.wrap(why, width, initial_indent="   ", subsequent_indent="   ")

    # Keys

    def action_variant(self) -> None:
        """One variant more."""
        from ventsize.studies.comparing import MOST

        if self.session.inputs is None:
            self.notify(NOTHING, severity="warning", timeout=3)
            return
        if len(self.variants) >= MOST - 1:
            self.notify(f"No more than {MOST} side by side.", severity="warning", timeout=3)
            return

        def made(changed: Changed) -> None:
            self._try([*self.variants, changed])

        ask_for_change(self, made)

    def action_more(self) -> None:
        """A further change of the last variant."""
        if not self.variants:
            self.action_variant()
            return

        def made(changed: Changed) -> None:
            self._try([*self.variants[:-1], merged(self.variants[-1], changed)])

        ask_for_change(self, made)

    def _try(self, variants: list[Changed]) -> None:
        """Take these variants, if the last of them can be made."""
        from ventsize.jobfile.problems import InputError
        from ventsize.studies.altering.altered import altered

        try:
            altered(self.session.whole[0], variants[-1])
        except InputError as error:
            problem = error.problems[0]
            self.notify(one_line(f"{problem.place}: {problem.problem}"), severity="warning", markup=False)
            return
        self.variants = variants
        self.ask()

    def action_remove(self) -> None:
        """Take the last variant away."""
        if self.variants:
            self.variants = self.variants[:-1]
            self.ask()

    def action_view(self) -> None:
        """Curves, bars, figures in turn."""
        self._view = (self._view + 1) % len(VIEWS)
        self.from_the_top()

    def action_rate(self) -> None:
        """The next firing rate; after the last of them, each run's worst."""
        check = self.session.check
        if check is None:
            return
        names = [None, *(rate.name for rate in check.runs[0].rates)]
        at = names.index(self._rate) if self._rate in names else 0
        self._rate = names[(at + 1) % len(names)]
        self.ask()

    async def action_open(self) -> None:
        """The last variant as a job of its own, to go on with."""
        from ventsize.jobfile.editing import EditError
        from ventsize.studies.altering.altered_data import altered_data
        from ventsize.tui.job.screen import JobScreen
        from ventsize.tui.job.session import Session

        if not self.variants:
            return
        try:
            data = altered_data(self.session.data, self.session.whole[0], self.variants[-1])
        except EditError as error:
            self.notify(str(error), severity="warning", markup=False)
            return
        session = Session(self.session.data, path=None)
        session.do(data, "make a variant")
        await self.app.push_screen(JobScreen(session))


def merged(one: Changed, other: Changed) -> Changed:
    """A change with another on top of it."""
    given: dict[str, Any] = {}
    for field in fields(other):
        value = getattr(other, field.name)
        if value is None:
            continue
        before = getattr(one, field.name)
        given[field.name] = {**before, **value} if isinstance(value, dict) and before else value
    return replace(one, **given)
