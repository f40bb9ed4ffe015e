"""Headroom as a chart: straight pipe allowed against the number of elbows for each size, with this run on it."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static
from textual.worker import get_current_worker

from ventsize.check.inputs import Inputs
from ventsize.jobfile.problems import InputError
from ventsize.quantity import Dimension, display_unit, display_value, show_feet
from ventsize.report.chart import Line, line_chart
from ventsize.report.headroom import render
from ventsize.report.wording import reason
from ventsize.studies.headroom import Headroom
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.asking import once_given
from ventsize.tui.questions.editing import EditingScreen
from ventsize.tui.questions.text import WORKING
from ventsize.tui.widgets.picker import Picker

ANSWERS = ("the table", "calculation")
MARKS = "abcdefghij"
RUN = "R"


class HeadroomScreen(EditingScreen):
    """What is left, run by run."""

    DEFAULT_CSS = """
    HeadroomScreen {
        & #headroom-chart { height: 1fr; padding: 0 1; }
        & #asked-detail { height: auto; max-height: 50%; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("v", "answer", "View table or calculation", id="headroom.answer"),
        Binding("e", "elbow", "Change the elbow", id="headroom.elbow"),
        Binding("n,right", "run(1)", "Next run", id="headroom.next"),
        Binding("left", "run(-1)", "Run before", show=False, id="headroom.before"),
    ]

    topic = "headroom"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session, question)
        self._answers: list[Headroom] = []
        self._at = 0
        self._by = ANSWERS[0]
        self._elbow: str | None = None

    def body(self) -> ComposeResult:
        """The chart, and what is left."""
        yield Static("", id="headroom-chart", markup=False)
        yield Static("", id="asked-detail", markup=False)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Prices mean nothing here."""
        return action != "prices"

    def ask(self) -> None:
        """All runs, one after the other."""
        self._answers = []
        self.say(WORKING)
        self._work_out(self.session.whole[0], self._elbow)

    @long_work
    def _work_out(self, inputs: Inputs, elbow: str | None) -> None:
        from ventsize.studies.headroom import headroom

        worker = get_current_worker()
        try:
            for answer in headroom(inputs, elbow=elbow):
                if worker.is_cancelled:
                    return
                tell(self, self._came, answer)
        except InputError as error:
            tell(self, self.say, f"! {error.problems[0]}")

    def _came(self, answer: Headroom) -> None:
        self._answers.append(answer)
        self._draw()

    # Showing

    def _draw(self) -> None:
        if not self._answers:
            return
        self._at = min(self._at, len(self._answers) - 1)
        answer = self._answers[self._at]
        self.say(f"Run '{answer.run}', {self._at + 1} of {len(self._answers)}: straight pipe allowed by {self._by}")
        self.show_detail(self._left(answer))
        self.call_after_refresh(self._draw_chart, answer)  # it has the room that the lines below leave

    def _draw_chart(self, answer: Headroom) -> None:
        size = self.query_one("#headroom-chart").size
        chart = line_chart(
            [*self._lines(answer), *self._this_run(answer)],
            width=size.width - 2,
            height=size.height,
            across=answer.elbow,
            whole=True,
            places=((float(answer.elbows), "▲"),),
            up=f"{display_unit(Dimension.LENGTH, self.session.system)} of straight pipe",
        )
        self.query_one("#headroom-chart", Static).update(Content("\n".join(chart)))

    def _lines(self, answer: Headroom) -> list[Line]:
        return [
            Line(name=line.label, points=self._points(line), mark=mark)
            for mark, line in zip(MARKS, answer.lines, strict=False)
        ]

    def _points(self, line: Any) -> list[tuple[float, float]]:
        figures = [(point.elbows, self._figure(point)) for point in line.points]
        return [(float(elbows), self._shown(figure)) for elbows, figure in figures if figure is not None]

    def _figure(self, point: Any) -> float | None:
        figure: float | None = point.by_table if self._by == ANSWERS[0] else point.by_calculation
        return figure

    def _shown(self, length: float) -> float:
        return display_value(length, Dimension.LENGTH, self.session.system)

    def _this_run(self, answer: Headroom) -> tuple[Line, Line]:
        """The run's place: where the dashed line ends and the upright one begins."""
        straight, elbows = self._shown(answer.straight), float(answer.elbows)
        across = Line(name="this run", points=((0.0, straight), (elbows, straight)), dashed=True, mark=RUN)
        return across, Line(name="its elbows", points=((elbows, straight), (elbows, 0.0)))

    def _left(self, answer: Headroom) -> list[str]:
        system = self.session.system
        elbows = f"{answer.elbows} elbow{'s' * (answer.elbows != 1)}"
        here = f"{show_feet(answer.straight, system)} straight, {elbows}"
        lines = [f"{RUN} this run, over ▲: {here}"]
        sizes = []
        for mark, line in zip(MARKS, answer.lines, strict=False):
            point = next((p for p in line.points if p.elbows == answer.elbows), None)
            figure = None if point is None else self._figure(point)
            sizes.append(f"{mark} {line.label}: {'none' if figure is None else show_feet(figure, system)}")
        lines.append(f"Allowed with {elbows}:  " + ";  ".join(sizes))
        same = self.session.whole[1].decides == answer.decides
        lines += [] if same else [reason(answer.decides, system)]
        rooms = ", ".join(f"{room.more} more {room.fitting}" for room in answer.rooms)
        lines += [f"Room for {rooms}" if rooms else ""]
        if answer.left_by_calculation is not None:
            said = "left" if answer.left_by_calculation >= 0 else "more pipe than the allowance pressure carries"
            lines.append(f"By calculation: {show_feet(abs(answer.left_by_calculation), system)} {said}")
        return [line for line in lines if line]

    def on_resize(self) -> None:
        """The chart fits the new size."""
        self.call_after_refresh(self._draw)

    def copied(self) -> str:
        """As the command line prints it."""
        return render(self._answers, self.session.system)

    # Keys

    def action_answer(self) -> None:
        """By the table, or by calculation."""
        self._by = ANSWERS[(ANSWERS.index(self._by) + 1) % len(ANSWERS)]
        self._draw()

    def action_run(self, step: int) -> None:
        """Another run of the job."""
        if self._answers:
            self._at = (self._at + step) % len(self._answers)
            self._draw()

    def action_elbow(self) -> None:
        """Which elbow the chart counts."""
        catalog = self.session.inputs.catalog if self.session.inputs is not None else None
        entries = [(f.name, f.name, f.title) for f in catalog.fittings.values() if f.kind == "elbow"] if catalog else []

        def chosen(name: str) -> None:
            self._elbow = name
            self.ask_if_possible()

        self.app.push_screen(Picker("Elbow that the chart counts", entries, at=self._elbow or ""), once_given(chosen))
