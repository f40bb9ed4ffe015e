"""Sweeps: one thing of the job changed and the rest held; drawn as large as there is room, with what to notice."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual.binding import Binding, BindingType

from ventsize.check.inputs import Inputs
from ventsize.check.result import RunCheck
from ventsize.tui.job.session import Session
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.asking import once_given
from ventsize.tui.questions.picture import LEAST_CHART, PictureScreen
from ventsize.tui.questions.to_paper import save_paper
from ventsize.tui.widgets.picker import Picker
from ventsize.tui.widgets.text import one_line

if TYPE_CHECKING:
    from ventsize.studies.sweeps.model import Sweep


class SweepScreen(PictureScreen["Sweep"]):
    """V picks what is swept; other keys step through runs, rates and fittings."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("v", "pick", "View another", id="sweep.pick"),
        Binding("n", "next(1)", "Next", id="sweep.next"),
        Binding("p", "next(-1)", "Previous", show=False, id="sweep.before"),
        Binding("e", "fitting", "Change fitting", id="sweep.fitting"),
        Binding("r", "rate", "Rate", id="sweep.rate"),
        Binding("s", "save", "Save the picture", show=False, id="sweep.save"),
        Binding("right", "run", "Other run", show=False, id="sweep.run"),
    ]

    topic = "sweep"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session, question)
        self._kind = 0
        self._run: str | None = None
        self._rate: str | None = None
        self._fitting: str | None = None

    @property
    def kind(self) -> str:
        """The sweep shown."""
        from ventsize.studies.sweeps import KINDS

        return list(KINDS)[self._kind]

    def asked(self) -> Callable[[Inputs], Sweep]:
        """What is swept, and of what."""
        from ventsize.studies.sweeps import sweep

        return partial(sweep, self.kind, run=self._run, rate=self._rate, fitting=self._fitting)

    def text(self, study: Sweep) -> str:
        """As the command line prints it."""
        from ventsize.report.sweeps import render

        return render(study, self.session.system)

    def drawn(self, study: Sweep, *, width: int, height: int) -> Iterator[str]:
        """What to notice under the picture, which gets the rest of the room."""
        from ventsize.report.sweeps import bars, chart, legend, title_of
        from ventsize.report.text_parts import sentences
        from ventsize.report.wording import say_all

        system = self.session.system
        said = list(sentences("What to notice", say_all(study.notice, system)))
        yield one_line(title_of(study))
        if study.across is None:
            yield from bars(study, system, width=width)
        else:
            names = legend(study, system, width=width)
            tall = max(LEAST_CHART + 2, height - 1 - len(names) - len(said))
            yield from chart(study, system, width=width, height=tall)
            yield from names
        yield from said
        yield from sentences("Cautions", say_all(study.cautions, system))

    # Keys

    def action_pick(self) -> None:
        """Choose among all sweeps."""
        from ventsize.report.wording.sweeps import QUESTIONS

        entries = [(kind, question) for kind, question in QUESTIONS.items()]

        def chosen(name: str) -> None:
            self._kind = list(QUESTIONS).index(name)
            self._anew()

        self.app.push_screen(Picker("What to change", entries, at=self.kind), once_given(chosen))

    def action_next(self, step: int) -> None:
        """The sweep after this one, or before."""
        from ventsize.studies.sweeps import KINDS

        self._kind = (self._kind + step) % len(KINDS)
        self._anew()

    def action_fitting(self) -> None:
        """Another fitting."""
        if self.session.inputs is None:
            return
        fittings = self.session.inputs.catalog.fittings.values()
        entries = [(f.name, f.name, f.title) for f in fittings if f.kind != "size change"]

        def chosen(name: str) -> None:
            self._fitting = name
            self._anew()

        self.app.push_screen(Picker("Which fitting", entries, at=self._fitting or ""), once_given(chosen))

    def action_rate(self) -> None:
        """The next firing rate."""
        run = self._found()
        if run is not None:
            names = [rate.name for rate in run.rates]
            at = names.index(self._rate) if self._rate in names else names.index(run.worst.name)
            self._rate = names[(at + 1) % len(names)]
            self._anew()

    def action_run(self) -> None:
        """The next run."""
        check = self.session.check
        if check is not None:
            names = [run.run.name for run in check.runs]
            found = self._found()
            at = names.index(found.run.name) if found is not None else 0
            self._run, self._rate = names[(at + 1) % len(names)], None
            self._anew()

    def action_save(self) -> None:
        """The picture with what to notice on a page, to a file."""
        from ventsize.report.sweeps_paper import sweep_paper

        study = self.study
        if study is not None:
            save_paper(self, self.session, self.question.name, lambda: sweep_paper(study, self.session.system))

    def _found(self) -> RunCheck | None:
        """The run that is swept."""
        check = self.session.check
        if check is None:
            return None
        flue = next((r for r in check.runs if r.run.carries == "flue gas"), check.runs[0])
        return next((r for r in check.runs if r.run.name == self._run), flue)

    def _anew(self) -> None:
        self.query_one(".picture-scroll").scroll_home(animate=False)
        self.ask()
