"""The takeoff: what is bought with its prices, the cut list drawn as bars, and what it all goes by."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static, TabbedContent, TabPane

from ventsize.check.inputs import Inputs
from ventsize.jobfile.problems import InputError
from ventsize.report.cut_bars import LEGEND, cut_bars
from ventsize.report.items import describe
from ventsize.report.money import in_column, reasons, total_words
from ventsize.report.takeoff import proof, render, use_of
from ventsize.report.wording import say
from ventsize.studies.pricing.prices import Cost, PriceList
from ventsize.studies.takeoff.tally import Item, Takeoff
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.editing import EditingScreen
from ventsize.tui.questions.text import WORKING
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.rows import Cell, Column, Row, Rows

COLUMNS = (
    Column(title="How many", width=8, align="right"),
    Column(title="What", width=26, grow=1),
    Column(title="Each", width=11, align="right"),
    Column(title="Together", width=15, align="right"),
    Column(title="Hours", width=7, align="right", from_width=72),
)


class TakeoffScreen(EditingScreen):
    """What it takes to build the job."""

    DEFAULT_CSS = """
    TakeoffScreen {
        & TabbedContent { height: 1fr; }
        & TabPane { padding: 0; }
        & Rows { height: 1fr; }
        & #cut-list, & #goes-by { padding: 0 1; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "part('items')", "Items", show=False, id="takeoff.items"),
        Binding("f3", "part('cuts')", "Cut list", show=False, id="takeoff.cuts"),
        Binding("f4", "part('basis')", "What it goes by", show=False, id="takeoff.basis"),
        Binding("r", "rates", "Rates, firm", id="takeoff.rates"),
    ]

    topic = "takeoff"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session, question)
        self._taken: Takeoff | None = None
        self._cost: Cost | None = None

    def body(self) -> ComposeResult:
        """The three parts."""
        with TabbedContent(id="takeoff-parts"):
            with TabPane("F2 Items", id="items"):
                yield Rows(COLUMNS, id="item-rows")
            with TabPane("F3 Cut list", id="cuts"), VerticalScroll(id="cuts-scroll"):
                yield Static("", id="cut-list", markup=False)
            with TabPane("F4 What it goes by", id="basis"), VerticalScroll(id="basis-scroll"):
                yield Static("", id="goes-by", markup=False)

    def ask(self) -> None:
        """Take it all off."""
        self.say(WORKING)
        self.query_one(Rows).focus()
        self._take_off(self.session.whole[0], self.prices)

    @long_work
    def _take_off(self, inputs: Inputs, prices: PriceList | None) -> None:
        from ventsize.studies.pricing.prices import cost
        from ventsize.studies.takeoff import takeoff
        from ventsize.studies.takeoff.practice import read_practice

        try:
            taken = takeoff(inputs, practice=read_practice())
            costs = None if prices is None else cost(taken, prices)
        except InputError as error:
            tell(self, self.say, f"! {error.problems[0]}")
            return
        tell(self, self._came, taken, costs)

    def _came(self, taken: Takeoff, costs: Cost | None) -> None:
        self._taken, self._cost = taken, costs
        self.session.keep_in_short(self.question.name, (taken, costs))
        self._show()

    # Showing

    def _show(self) -> None:
        taken = self._taken
        if taken is None:
            return
        self.say(self._total(taken))
        self.query_one(Rows).show(self._rows(taken))
        self.query_one("#cut-list", Static).update(Content("\n".join(self._bars(taken))))
        self.query_one("#goes-by", Static).update(Content("\n".join(self._basis(taken))))

    def _total(self, taken: Takeoff) -> str:
        complete = "" if taken.complete else "NOT COMPLETE, see F4.  "
        cost = self._cost
        if cost is None:
            return f"{complete}No prices yet: type a price on its line, or i imports a list; r: labor, tax."
        labor = "" if cost.labor is None else f", labor {cost.labor:,} in it for {cost.hours.normalize():f} hours"
        why = "; ".join(reasons(cost, self.session.system, most=1)[:2])
        return f"{complete}Total {total_words(cost)}{labor}{'; ' if why else ''}{why}"

    def _rows(self, taken: Takeoff) -> list[Row]:
        system = self.session.system
        if self._cost is None:
            return [
                Row(key=n, cells=(str(item.quantity), describe(item, system), Cell("no prices", "faint"), "", ""))
                for n, item in enumerate(taken.items)
            ]
        rows = []
        prices = [line.price for line in self._cost.lines]
        for n, line in enumerate(self._cost.lines):
            each, together = Cell("no price", "warn"), Cell("missing", "warn")
            if line.price is not None:
                each, together = Cell(in_column(line.price, prices)), Cell(f"{line.amount:,}")
            hours = "" if line.all_hours is None else f"{line.all_hours:f}"
            rows.append(Row(key=n, cells=(str(line.item.quantity), describe(line.item, system), each, together, hours)))
        return rows

    def _bars(self, taken: Takeoff) -> list[str]:
        width = max(40, self.query_one("#takeoff-parts").size.width - 4)
        lines = []
        for cuts in taken.cut_lists:
            lines.append(f"{cuts.label} {cuts.material}: {proof(cuts)}")
            lines.append(use_of(cuts.plan, self.session.system))
            lines += [*cut_bars(cuts, self.session.system, width=width), ""]
        if not lines:
            return ["No cut list: a counted run is only a total of feet, or no pipe is cut."]
        return [*lines, LEGEND]

    def _basis(self, taken: Takeoff) -> list[str]:
        lines = []
        for head, found in (("Missing", taken.missing), ("What it goes by", taken.notes)):
            if found:
                lines += [head, *(f"  - {say(one, self.session.system)}" for one in found), ""]
        if self._cost is not None and self._cost.source:
            lines.append(f"Prices: {self._cost.source}")
        return lines

    def on_resize(self) -> None:
        """The bars fit the new size."""
        self.call_after_refresh(self._show)

    def copied(self) -> str:
        """As the command line prints it."""
        return render(self._taken, self._cost, self.session.system) if self._taken else ""

    # Keys

    def on_rows_typed(self, event: Rows.Typed) -> None:
        """A digit begins the price of the thing under the cursor."""
        event.stop()
        self._ask_price(event.row, event.character)

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Enter too."""
        event.stop()
        self._ask_price(event.row, "")

    def _ask_price(self, row: int, typed: str) -> None:
        taken = self._taken
        if taken is None or not 0 <= row < len(taken.items):
            return
        item = taken.items[row]

        def take(line: str) -> tuple[str, bool]:
            fault = self._keep_price(item, line)
            if not fault:
                self.app.pop_screen()
            return f"! {fault}", not fault

        title = f"Price of one {describe(item, self.session.system)}, kept for every job"
        self.app.push_screen(AskLine(title, take, typed=typed))

    def _keep_price(self, item: Item, line: str) -> str:
        """Keep a price that was typed; what is wrong with it otherwise."""
        from ventsize.studies.pricing.amounts import read_amount
        from ventsize.studies.pricing.own import keep_price

        try:
            price, currency = read_amount(line)
            self.prices = keep_price(item, price, currency=currency)
        except (ValueError, InputError, OSError) as error:
            return str(error)
        self._take_off(self.session.whole[0], self.prices)
        return ""

    def action_part(self, name: str) -> None:
        """One of the three parts."""
        self.query_one(TabbedContent).active = name
        focused = {"items": "#item-rows", "cuts": "#cuts-scroll", "basis": "#basis-scroll"}
        self.query_one(focused[name]).focus()
