"""Repairs: what would bring a run within, what each change wins and costs; one of them put into the job."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static
from textual.worker import get_current_worker

from ventsize.check.inputs import Inputs
from ventsize.jobfile.problems import InputError
from ventsize.quantity import show_feet
from ventsize.report.repairs import ELSEWHERE, render, repair_facts, repair_words
from ventsize.report.wording import reason
from ventsize.studies.pricing.prices import PriceList
from ventsize.studies.repairs import Repair, RunRepairs
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.editing import EditingScreen
from ventsize.tui.questions.text import WORKING
from ventsize.tui.widgets.rows import Cell, Column, Row, Rows

COLUMNS = (
    Column(title="Change", width=24, grow=1),
    Column(title="Gained", width=9, align="right"),
    Column(title="To spare", width=9, align="right"),
    Column(title="New parts", width=13, align="right"),
    Column(title="Whole job", width=11, align="right", from_width=92),
    Column(title="Calculation", width=11, from_width=104),
)


class RepairsScreen(EditingScreen):
    """The changes looked at, each within when it is made."""

    DEFAULT_CSS = "RepairsScreen Rows { height: 1fr; }"

    BINDINGS: ClassVar[list[BindingType]] = [Binding("v", "order", "View by cost or size", id="repairs.sort")]

    topic = "repairs"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session, question)
        self._answers: list[RunRepairs] = []
        self._listed: list[Repair] = []
        self._inputs: Inputs | None = None
        self._by_cost = False
        self._working = False

    def body(self) -> ComposeResult:
        """The list, and the change under the cursor."""
        yield Rows(COLUMNS, id="repair-rows")
        yield Static("", id="asked-detail", markup=False)

    # Working it out

    def ask(self) -> None:
        """All runs, one after the other."""
        inputs, _ = self.session.whole
        self._answers, self._inputs, self._working = [], inputs, True
        self.query_one(Rows).focus()
        self._show()
        self._repair(inputs, self.prices)

    @long_work
    def _repair(self, inputs: Inputs, prices: PriceList | None) -> None:
        from ventsize.studies.pricing import Pricer
        from ventsize.studies.repairs import repairs
        from ventsize.studies.takeoff.practice import read_practice

        worker = get_current_worker()
        try:
            pricer = None if prices is None else Pricer(prices, read_practice())
            for answer in repairs(inputs, pricer=pricer):
                if worker.is_cancelled:
                    return
                tell(self, self._came, answer)
            said = ""
        except InputError as error:
            said = f"! {error.problems[0]}"
        tell(self, self._ended, said)

    def _came(self, answer: RunRepairs) -> None:
        self._answers.append(answer)
        self._show()

    def _ended(self, said: str) -> None:
        self._working = False
        self._show()
        if said:
            self.say(said)
        elif self._inputs is self.session.inputs:
            self.session.keep_in_short(self.question.name, self._answers)

    # Showing

    def _show(self) -> None:
        from ventsize.studies.repairs import cheapest_first

        count = sum(len(one.repairs) + len(one.savings) for one in self._answers)
        order = "cheapest new parts first" if self._by_cost else "smallest change first"
        changes = f"{count} change{'s' * (count != 1)}"
        self.say(WORKING if self._working else f"{changes}, {order}. Enter makes the one under the cursor.")
        rows: list[Row] = []
        self._listed = []
        for answer in [cheapest_first(one) if self._by_cost else one for one in self._answers]:
            rows.append(Row(across=f"{answer.run}: {self._head(answer)}", tone="group", selectable=False))
            for repair in (*answer.repairs, *answer.savings):
                if repair is answer.first_elsewhere:
                    rows.append(Row(across=ELSEWHERE, tone="group", selectable=False))
                rows.append(self._row(len(self._listed), repair))
                self._listed.append(repair)
        self.query_one(Rows).show(rows)
        self.detail()

    def _head(self, answer: RunRepairs) -> str:
        if answer.verdict not in ("over", "within"):
            return f"{answer.verdict}; nothing can be repaired before this is settled"
        if answer.verdict == "over":
            return "over; changes that bring it within" if answer.repairs else "over, and no change looked at cures it"
        return "within; what can be saved" if answer.savings else "within; nothing to save"

    def _row(self, number: int, repair: Repair) -> Row:
        system = self.session.system
        won, left = ("" if x is None else show_feet(x, system) for x in (repair.won, repair.margin))
        answers = {True: Cell("within", "good"), False: Cell("over", "warn"), None: Cell("not known", "faint")}
        cells = (repair_words(repair, system), won, left, *self._costs(repair), answers[repair.within_by_calculation])
        return Row(key=number, cells=cells)

    def _costs(self, repair: Repair) -> tuple[Cell, Cell]:
        cost = repair.cost
        if cost is None:
            return Cell("no prices", "faint"), Cell("")
        parts = Cell("none", "faint") if not cost.parts.lines else Cell(f"{cost.parts.total:,}")
        if cost.parts.lines and not cost.parts.whole:
            parts = Cell("price missing" if cost.parts.without_price else "incomplete", "warn")
        return parts, Cell("not known", "faint") if cost.more is None else Cell(f"{cost.more:+,}")

    def detail(self) -> None:
        repair = self._at()
        if repair is not None:
            system = self.session.system
            lines = [f"{repair.run}: {repair_words(repair, system)}", "; ".join(repair_facts(repair, system))]
            if self.prices is None:
                lines.append("i imports your price list; each change then has its cost.")
        else:
            lines = [reason(one.decides, self.session.system) for one in self._answers]
        self.show_detail(lines)

    def _at(self) -> Any:
        row = self.query_one(Rows).current
        return self._listed[row.key] if row is not None and row.key is not None else None

    def copied(self) -> str:
        """As the command line prints it."""
        return render(self._answers, self.session.system)

    # Keys

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Enter makes the change."""
        from ventsize.studies.repairs import apply_repair

        event.stop()
        repair, inputs = self._at(), self._inputs
        if repair is None or inputs is None or not self.may_edit():
            return
        words = repair_words(repair, self.session.system)
        self.put(lambda: apply_repair(self.session.data, repair, inputs=inputs), words)

    def action_order(self) -> None:
        """By size of the change, or by cost."""
        if self.prices is None:
            self.notify("There are no prices to sort by; i imports your list.", timeout=3)
            return
        self._by_cost = not self._by_cost
        self._show()
