"""One rule of the check-over at a time: met, not met, or a figure that says so."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.binding import Binding, BindingType

from ventsize.jobfile.editing.ticks import clear_tick, set_tick, tick_at
from ventsize.quantity import QuantityError
from ventsize.report.checkover import said_of
from ventsize.tui.field.page import SIGNS, Page, today
from ventsize.tui.job.session import Session
from ventsize.tui.widgets.ask_line import AskLine

_LOOKS = {"met": "good", "not met": "bad", "to measure": ""}


class RulePage(Page):
    """The rules in turn, beginning with the first that is still open."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "onward", "Next open", id="field.next_open"),
        Binding("plus", "tick(True)", "Met", key_display="+", id="field.met"),
        Binding("minus", "tick(False)", "Not met", key_display="-", id="field.not_met"),
        Binding("m", "note", "More: a note", id="field.note"),
        Binding("delete", "clear", "Take back", show=False, id="field.clear"),
        Binding("right", "go(1)", "Next", show=False, id="field.right"),
        Binding("left", "go(-1)", "Previous", show=False, id="field.left"),
    ]

    topic = "field_rule"

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._items: list[Any] = []
        self._at = 0

    def on_mount(self) -> None:
        """The first that is still open."""
        self.judge_then(self._first)

    def _first(self) -> None:
        self._ask_again()
        self._at = next((n for n, item in enumerate(self._items) if item.outcome == "to measure"), 0)
        self._show()

    @property
    def item(self) -> Any:
        """The rule that is asked."""
        return self._items[self._at]

    @property
    def _place(self) -> tuple[str, ...]:
        return ("checked", *self.item.key)

    def _ask_again(self) -> None:
        from ventsize.studies.checkover import check_over

        session = self.session
        if session.inputs is not None and not session.problems:
            self._items = list(check_over(session.inputs, checked=session.check).items)

    def show(self) -> None:
        """The rule, its limit, what the job tells and how it stands."""
        self.judge_then(self._show)

    def _show(self) -> None:
        self._ask_again()
        if not self._items:
            self.put_title("Check-over")
            self.put("ask", str(self.session.problems[0]) if self.session.problems else "There is no result yet.")
            return
        tick = tick_at(self.session.data, *self.item.key)
        self.typing, self.begun = self.session.typed_at(self._place, str(tick.get("value", ""))), False
        self._draw()

    def _draw(self, *, problem: str = "", word: str = "", look: str = "") -> None:
        from ventsize.report.checkover import counts_of, group_of, limit_words, unit_meant

        item = self.item
        at = f", {item.place}" if item.place else ""
        self.put_title(f"Rule {self._at + 1} of {len(self._items)}", group_of(item), counts_of(self._items))
        limit = limit_words(item, self.session.system)
        self.put("ask", f"{item.rule.heading}{at}" + (f": {limit}" if limit else ""))
        self.put("how", item.rule.ask)
        unit = unit_meant(item, self.session.system) if item.rule.dimension is not None else ""
        self.put_figure(self.typing, unit, large_unit=True)
        if not (word or problem or self.begun):
            word, look = ("" if item.outcome == "to measure" else item.outcome), _LOOKS[item.outcome]
        self.put("band", "")
        self.put_word(word, look, small=bool(self.typing) and not self.roomy)
        typed = f"type the measurement ({unit} where no unit is typed), or " if unit else ""
        open_ = "" if item.outcome != "to measure" or self.begun else f"○ {typed}+ met, - not met; Enter goes on"
        said = problem or "\n".join(part for part in (self._by(), open_) if part)
        self.put("says", said)
        self.put("source", item.rule.cited)

    def _by(self) -> str:
        item = self.item
        who = {"job": "The job says: ", "tick": "Ticked off: "}.get(item.by, "")
        said = said_of(item, self.session.system)
        if not who and said:
            noted = item.tick is not None and item.tick.value is None and item.tick.met is None
            who = "Noted: " if noted else "The job says: " if item.tick is None else ""
        return f"{SIGNS[_LOOKS[item.outcome]]} {who}{said}".strip() if said or who else ""

    # Keys

    def takes(self, character: str) -> bool:
        """Figures begin a measurement, and what follows them belongs to it."""
        if not self._items or self.item.rule.dimension is None or character in "+-":
            return False
        return character in "0123456789." or (self.begun and bool(self.typing) and super().takes(character))

    def typed(self) -> None:
        """Every key: into the data where it can be read, else kept as a draft."""
        from ventsize.report.checkover import as_typed, measured
        from ventsize.studies.checkover import meets

        session, item = self.session, self.item
        if not self.typing.strip():
            note = str(tick_at(session.data, *item.key).get("note", ""))
            data = clear_tick(session.data, *item.key)
            data = set_tick(data, *item.key, date=today(), note=note) if note else data
            session.draft(self._place, None)
            session.type_at(self._place, data, item.rule.title)
            self._draw()
            return
        whole = as_typed(item, self.typing, session.system)
        try:
            value = item.rule.read(whole)
        except QuantityError as error:
            session.draft(self._place, self.typing)
            self._draw(problem=f"! {error}")
            return
        session.draft(self._place, None)
        note = str(tick_at(session.data, *item.key).get("note", ""))
        data = set_tick(session.data, *item.key, date=today(), value=whole, note=note)
        session.type_at(self._place, data, item.rule.title)
        met, shown = meets(item.rule, value, item.limit), measured(value, item, session.system)
        word, look = {True: ("met", "good"), False: ("not met", "bad"), None: ("", "")}[met]
        ask = "" if met is not None else "  Then + where it is as it should be, - where it is not."
        self._draw(problem=f"= {shown}{ask}", word=word, look=look)

    def action_tick(self, met: bool) -> None:
        """Met or not met, with what has been typed; Enter goes on."""
        if not self._items:
            return
        session, tick = self.session, tick_at(self.session.data, *self.item.key)
        value, note = tick.get("value"), str(tick.get("note", ""))
        data = set_tick(session.data, *self.item.key, date=today(), value=value, met=met, note=note)
        session.draft(self._place, None)
        session.do(data, f"{self.item.rule.title}: {'met' if met else 'not met'}")
        self.show()

    def action_clear(self) -> None:
        """Not ticked off any more."""
        if self._items:
            self.session.do(clear_tick(self.session.data, *self.item.key), f"{self.item.rule.title}: open again")
            self.show()

    def action_note(self) -> None:
        """A line to remember it by."""
        if not self._items:
            return
        tick = tick_at(self.session.data, *self.item.key)
        self.app.push_screen(AskLine("Note", None, value=str(tick.get("note", ""))), self._noted)

    def _noted(self, note: str | None) -> None:
        if note is None:
            return
        tick = tick_at(self.session.data, *self.item.key)
        data, key, note = self.session.data, self.item.key, note.strip()
        if note or "value" in tick or "met" in tick:
            data = set_tick(data, *key, date=today(), value=tick.get("value"), met=tick.get("met"), note=note)
        else:
            data = clear_tick(data, *key)
        self.session.do(data, f"{self.item.rule.title}: note")
        self.show()

    def action_onward(self) -> None:
        """The next rule that is still open; after the last of them, back."""
        self.session.history.pause()
        open_ = [n for n, item in enumerate(self._items) if item.outcome == "to measure" and n > self._at]
        if open_:
            self._at = open_[0]
            self.show()
        else:
            self.action_back()

    def action_go(self, step: int) -> None:
        """The next rule, or the one before; past either end, back."""
        self.session.history.pause()
        if 0 <= self._at + step < len(self._items):
            self._at += step
            self.show()
        else:
            self.action_back()
