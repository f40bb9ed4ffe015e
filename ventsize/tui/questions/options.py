"""Options: a list that fills while they are judged, sorted as wanted, each with why; one of them put into the job."""

from __future__ import annotations

import threading
import time
from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static
from textual.worker import Worker, get_current_worker

from ventsize.check.inputs import Inputs
from ventsize.jobfile.problems import InputError
from ventsize.quantity import show_feet
from ventsize.report.chart import bar
from ventsize.report.money import amount, missing_words
from ventsize.report.options import option_words, render, summary
from ventsize.studies.options import Option, Search
from ventsize.studies.options.asked import Asked
from ventsize.studies.options.ranking import Found, Order, Ranking
from ventsize.studies.pricing.prices import PriceList
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.asking import once_given
from ventsize.tui.questions.choosing import ChoosingForm
from ventsize.tui.questions.editing import EditingScreen
from ventsize.tui.questions.text import NOTHING
from ventsize.tui.widgets.rows import Cell, Column, Row, Rows

ORDERS: tuple[Order, ...] = ("margin", "joints", "cost")
BY = {"margin": "Most room first", "joints": "Fewest joints first", "cost": "Cheapest first"}
KEPT = 2000
EVERY = 0.25  # s between two looks at what there is so far
COLUMNS = (
    Column(title="Option", width=24, grow=1),
    Column(title="Joints", width=6, align="right"),
    Column(title="To spare", width=9, align="right"),
    Column(title="Calculation", width=11, from_width=90),
    Column(title="Cost", width=14, align="right"),
)


class OptionsScreen(EditingScreen):
    """Every combination judged; the best first."""

    DEFAULT_CSS = "OptionsScreen Rows { height: 1fr; }"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("v", "order", "View by room or cost", id="options.sort"),
        Binding("m", "others", "More options", id="options.others"),
        Binding("e", "vary", "Change what varies", id="options.vary"),
    ]

    topic = "options"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session, question)
        self._asked = Asked()
        self._order: Order = "margin"
        self._sorted = False  # by what the person said
        self._others = False
        self._lock = threading.Lock()
        self._search: Search | None = None
        self._ranking: Ranking | None = None
        self._found: Found | None = None
        self._worker: Worker[None] | None = None
        self._state = ""

    def body(self) -> ComposeResult:
        """The list, and the option under the cursor."""
        yield Rows(COLUMNS, id="option-rows")
        yield Static("", id="asked-detail", markup=False)

    @property
    def looking(self) -> bool:
        """Whether the search is still on."""
        return self._state == "looking"

    # Working it out

    def ask(self) -> None:
        """Judge them all, from the start."""
        self.query_one(Rows).focus()
        if not self._sorted:
            self._order = "margin" if self.prices is None else "cost"
        self._found = None
        self._state = "looking"
        self._worker = self._look(self.session.whole[0], self._asked, self.prices)

    @long_work
    def _look(self, inputs: Inputs, asked: Asked, prices: PriceList | None) -> None:
        from ventsize.studies.options import TooManyOptions
        from ventsize.studies.options.ranking import Ranking

        worker = get_current_worker()
        try:
            search = self._search_for(inputs, asked, prices)
        except (InputError, TooManyOptions) as error:
            problem = str(error.problems[0]) if isinstance(error, InputError) else str(error)
            tell(self, self._refused, problem)
            return
        ranking = Ranking(order=self._order, keep=KEPT)
        self._search, self._ranking = search, ranking
        told = time.monotonic()
        for option in search:
            if worker.is_cancelled:
                break
            with self._lock:
                ranking.take(option)
            if time.monotonic() - told > EVERY:
                tell(self, self._show_so_far, ranking)
                told = time.monotonic()
        tell(self, self._ended, ranking)

    def _search_for(self, inputs: Inputs, asked: Asked, prices: PriceList | None) -> Search:
        from ventsize.studies.options import Search
        from ventsize.studies.options.asked import choices_of
        from ventsize.studies.pricing import Pricer
        from ventsize.studies.takeoff.practice import read_practice

        beside = self.folder
        inputs, choices = choices_of(inputs, asked, beside=beside)
        pricer = None if prices is None else Pricer(prices, read_practice())
        return Search(inputs, choices, pricer=pricer, beside=beside)

    def _refused(self, problem: str) -> None:
        self._found, self._state = None, ""
        self.query_one(Rows).show([])
        self.say(f"! {problem}")

    def _show_so_far(self, ranking: Ranking) -> None:
        if ranking is self._ranking:
            self._show()

    def _ended(self, ranking: Ranking) -> None:
        if ranking is self._ranking:
            self._state = ""
            self._show()
            if self._asked == Asked() and not self.session.stale:
                self.session.keep_in_short(self.question.name, self._found)

    # Showing

    def _show(self) -> None:
        search, ranking = self._search, self._ranking
        if search is None or ranking is None:
            return
        with self._lock:
            found = self._found = ranking.found(search.total)
        others = self._others or (not found.acceptable and not self.looking)
        share = found.looked_at / search.total if search.total else 1.0
        head = {"looking": f"{bar(share, 10):<10} ", "stopped": "STOPPED  "}.get(self._state, "")
        shown = "Not within, nearest first" if others else BY[self._order]
        self.say(f"{head}{shown}: {summary(found, of=search.total if self._state else None)}")
        rows = self.query_one(Rows)
        at = rows.current.key if rows.current is not None and rows.row else None
        listed = [self._row(option) for option in (found.misses if others else found.acceptable)]
        rows.show(listed)
        if at is not None and (index := rows.index_of(at)) is not None:
            rows.go(index, tell=False)
        self.detail()

    def _row(self, option: Option) -> Row:
        margin = option.check.margin
        left = option.check.verdict if margin is None else show_feet(margin, self.session.system)
        answers = {True: Cell("within", "good"), False: Cell("over", "warn"), None: Cell("not known", "faint")}
        cells = (
            option_words(option, with_run=False),
            str(option.joints),
            left,
            answers[option.by_calculation],
            self._cost(option),
        )
        return Row(key=option.number, cells=cells)

    def _cost(self, option: Option) -> Cell:
        if option.cost is None:
            return Cell("no prices" if self.prices is None and option.acceptable else "", "faint")
        if not option.cost.whole:
            return Cell("price missing" if option.cost.without_price else "incomplete", "warn")
        return Cell(f"{option.cost.total:,}")

    def _at(self) -> Option | None:
        row, found = self.query_one(Rows).current, self._found
        if row is None or found is None:
            return None
        return next((one for one in (*found.acceptable, *found.misses) if one.number == row.key), None)

    def detail(self) -> None:
        option = self._at()
        self.show_detail([] if option is None else self._lines(option))

    def _lines(self, option: Option) -> Sequence[str]:
        from ventsize.report.wording import reason
        from ventsize.view.answering import key_to_complete

        lines = [
            option_words(option),
            f"{option.check.verdict.upper()}: {reason(option.check.decides, self.session.system)}",
        ]
        if not option.acceptable:
            lines.append(key_to_complete(option.check.decides) or self._helps(option))
        elif option.by_calculation is False:
            lines.append("By calculation it is over: ask the maker.")
        if option.cost is not None:
            cost = option.cost
            whole = "at least " if cost.at_least else ""
            labor = f", labor {cost.hours.normalize():f} hours" if cost.hours else ""
            missing = f" ({missing_words(cost, self.session.system)})" if cost.at_least else ""
            lines.append(f"Cost {whole}{amount(cost.total, cost.currency)}{labor}{missing}")
            if cost.without_price or cost.labor_without_rate:
                lines.append("i imports a list with what is missing; the takeoff (F9) takes a single price.")
            elif cost.left_out:
                lines.append("The takeoff (F9) says on F4 what is missing; w in the job lays out a counted run.")
        elif self.prices is None and option.acceptable:
            lines.append("i imports your price list; each option then has its cost.")
        return lines

    def _helps(self, option: Option) -> str:
        from ventsize.report.options import what_would_help

        return f"It would take {what_would_help(option, self.session.system)}."

    def copied(self) -> str:
        """As the command line prints it."""
        return render(self._found, self.session.system, every=True) if self._found else ""

    # Keys

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Enter puts the option into the job."""
        event.stop()
        option, search = self._at(), self._search
        if option is None or search is None or not self.may_edit():
            return
        if not option.acceptable:
            self.notify("That one is not within; only options that are can be taken.", severity="warning")
            return
        self._halt()
        self.put(lambda: search.apply(self.session.data, option), f"option: {option_words(option)}")

    def _halt(self) -> None:
        if self._worker is not None:
            self._worker.cancel()

    def action_leave(self) -> None:
        """Stop looking, what has been found stays; where nothing is being looked for, leave."""
        if self.looking and self._search is not None:
            self._halt()
            self._state = "stopped"
            self._show()
        else:
            super().action_leave()

    def action_order(self) -> None:
        """Sort by the next thing."""
        self._sorted = True
        known = ORDERS if self.prices is not None else ORDERS[:2]
        self._order = known[(known.index(self._order) + 1) % len(known)]
        if self._ranking is not None:
            with self._lock:
                self._ranking.reordered(self._order)
            self.query_one(Rows).go(0, tell=False)
            self._show()

    def action_others(self) -> None:
        """Those that are not within, or those that are."""
        self._others = not self._others
        if self._ranking is not None:
            self.query_one(Rows).go(0, tell=False)
            self._show()

    def action_vary(self) -> None:
        """Ask what may be chosen."""
        if self.session.inputs is None:
            return self.say(NOTHING)

        def chosen(asked: Asked) -> None:
            self._asked = asked
            self.ask_if_possible()

        self.app.push_screen(ChoosingForm(self._asked, self.session, self.folder), once_given(chosen))
