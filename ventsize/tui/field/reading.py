"""One reading at a time: what it should be, what is typed, and at once whether it is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, ClassVar

from textual.binding import Binding, BindingType

from ventsize.jobfile.problems import InputError
from ventsize.quantity import System
from ventsize.tui.field.page import Page, moment, shut_off
from ventsize.tui.job.session import Session
from ventsize.tui.widgets.large import large

if TYPE_CHECKING:
    from ventsize.studies.field import Spot
    from ventsize.studies.readings.result import ReadingFound

_LOOKS = {
    "expected": "good",
    "high": "bad",
    "low": "bad",
    "marginal": "unsure",
    "doubtful": "unsure",
    "not compared": "",
}


SHUT_OFF = "shut it off"
HOW = {
    "zero": "Both hoses open to the room. What it shows is taken off every pressure.",
    "room": "At breathing height, a few paces from the appliance. It should be under 9 ppm.",
    "collar": "It should be under 100 ppm, air-free; 400 is the limit. Read O2 at the same place.",
}
DIAL = "Read on the {dial} dial. / says that it is another one."
EXACT = ", as is usual. Yours is better or worse? Type it behind +-, as in 0.31+-0.005."
ONCE = "Read it off the label: below it the switch opens. Typed once, it is kept with the appliance."


def _why(found: ReadingFound, system: System) -> str:
    from ventsize.report.wording import say

    return say(found.because, system, place=False) if found.because is not None else ""


class ReadingPage(Page):
    """The readings of a rate in turn; Enter goes to the next, and after the last one back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("asterisk", "confirm", "Read twice, it is so", show=False, id="field.confirm"),
        Binding("slash", "dial", "Another dial of the meter", show=False, id="field.dial"),
    ]

    topic = "field_reading"

    def __init__(self, session: Session, spots: Sequence[Spot], at: int) -> None:
        super().__init__(session)
        self._spots, self._at = list(spots), at

    @property
    def spot(self) -> Spot:
        """The reading that is asked for."""
        return self._spots[self._at]

    @property
    def _place(self) -> tuple[str, ...]:
        spot = self.spot
        return ("reading", spot.rate, spot.place, spot.appliance or "", spot.kind)

    def on_mount(self) -> None:
        """The first question."""
        self.show()

    def on_resize(self) -> None:
        """What is large is only drawn where there is room."""
        self.call_after_refresh(self._judge)

    def show(self) -> None:
        """What is asked, and what has been read there already."""
        kept = self.spot.kept(self.session.data)
        self._as_found = self.session.data
        self._stopped = ("! SHUT IT OFF",) if shut_off(self.session) else ()
        self.typing, self.begun = self.session.typed_at(self._place, kept), False
        self._judge()

    def typed(self) -> None:
        """Every key: into the data where it can be read, else kept as a draft."""
        from ventsize.report.field import accuracy_typed, readable, title_of

        spot, session = self.spot, self.session
        label = ", ".join(filter(None, (title_of(spot), spot.rate)))
        if not self.typing.strip():
            session.draft(self._place, None)
            session.type_at(self._place, spot.cleared(session.data), label)
        else:
            read = readable(spot, self.typing, session.system)
            session.draft(self._place, self.typing if isinstance(read, str) else None)
            if not isinstance(read, str):
                data, accuracy = (
                    spot.put(session.data, read[0], moment()),
                    accuracy_typed(spot, self.typing, session.system),
                )
                session.type_at(self._place, spot.exact_to(data, accuracy) if accuracy else data, label)
        self._judge()

    def _judge(self) -> None:
        from ventsize.report.field import accuracy_of, accuracy_typed, band_of, readable, title_of, unit_of
        from ventsize.report.readings import value_text, verdict_word
        from ventsize.studies.field import judged

        spot, system = self.spot, self.session.system
        self.put_title(
            *self._stopped,
            f"Reading {self._at + 1} of {len(self._spots)}",
            f"firing rate: {spot.rate}" if spot.rate else "at any firing rate",
        )
        self.put("ask", title_of(spot))
        read = readable(spot, self.typing, system) if self.typing.strip() else None
        value = read[1] if isinstance(read, tuple) else None
        try:
            exact = "" if value is None else accuracy_typed(spot, self.typing, system)
            found, stops = judged(self.session.whole[0], spot, spot.typical if value is None else value, exact)
        except InputError as error:
            self._say("", "", f"{error.problems[0].problem}; expected {error.problems[0].expected}")
            return
        band = band_of(found, system) if found is not None else ""
        self.put("how", self._how(found, band))
        in_large = (
            large(band.replace(f" {unit_of(spot, system)}", ""), half=True)
            if band and self.roomy and not self.plain
            else [""]
        )
        self.put("band", "\n".join(in_large) if len(in_large[0]) < self.size.width - 2 else "")
        self.put_figure(self.typing.strip() or "?", unit_of(spot, system))
        if isinstance(read, str):
            self._say("", "", f"! {read}")
        elif value is None:
            self._say("", "", f"Type it, in {unit_of(spot, system)} where no unit is typed. Enter without one goes on.")
        elif found is None:
            self._say("", "", f"= {value_text(spot.kind, value, system)}")
        elif stops:
            self._shut_off(stops)
        else:
            read_as = f"= {value_text(spot.kind, value, system)}, give or take {accuracy_of(found, system)}"
            read_as += EXACT if found.accuracy_assumed and found.verdict != "not compared" else ""
            said = _why(found, system) if found.verdict != "not compared" else ""
            again = "Read it again; where it is the same, press *." if found.verdict == "doubtful" else ""
            look = _LOOKS[found.verdict]
            self._say(verdict_word(found) if look else "", look, "\n".join(filter(None, (read_as, said, again))))

    def _shut_off(self, stops: Any) -> None:
        """Before anything else on the page: why it must not run."""
        from ventsize.report.wording import say

        self.put("how", " ".join(f"! {say(stop, self.session.system, place=False)}." for stop in stops))
        self.put("band", "")
        self._say(SHUT_OFF, "bad", "")

    def _how(self, found: ReadingFound | None, band: str) -> str:
        from ventsize.studies.field import MeterSpot, SettingSpot

        if isinstance(self.spot, SettingSpot):
            return ONCE
        dial = DIAL.format(dial=self.spot.dial) + " " if isinstance(self.spot, MeterSpot) else ""
        return dial + self._should(found, band)

    def _should(self, found: ReadingFound | None, band: str) -> str:
        if found is None:
            return HOW.get(self.spot.place, "")
        if band:
            return f"It should be {band}"
        if found.verdict != "not compared":
            return HOW.get(found.place, "")
        said = _why(found, self.session.system)
        return f"Not compared: {said}" if said else "What it should be is not known."

    def _say(self, word: str, look: str, text: str) -> None:
        self.put_word(word, look)
        self.put("says", text)
        self.put("source", "")

    def takes(self, character: str) -> bool:
        """An asterisk confirms what is there."""
        return character not in ("*/" if hasattr(self.spot, "dial") else "*") and super().takes(character)

    def action_dial(self) -> None:
        """The seconds were those of another dial of the gas meter."""
        from ventsize.studies.field import MeterSpot

        if isinstance(self.spot, MeterSpot):
            self._spots[self._at] = self.spot.another
            self.typed()

    def action_confirm(self) -> None:
        """What looks like a slip has been read twice: it is taken as it stands."""
        from ventsize.studies.field import SettingSpot

        spot, session = self.spot, self.session
        if spot.kept(session.data) and not isinstance(spot, SettingSpot):
            session.do(spot.confirmed(session.data), "read twice")
            self._as_found = session.data
            self._judge()

    def action_go(self, step: int) -> None:
        """The next reading, or the one before; past either end, back."""
        from ventsize.report.field import title_of

        spot, session = self.spot, self.session
        if self._place in session.drafts:  # left unreadable: what was read before stands, not what half of it says
            session.type_at(self._place, self._as_found, ", ".join(filter(None, (title_of(spot), spot.rate))))
        session.history.pause()
        if 0 <= self._at + step < len(self._spots):
            self._at += step
            self.show()
        else:
            self.action_back()
