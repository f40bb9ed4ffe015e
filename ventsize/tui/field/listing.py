"""Pages of choices at the appliance: a title over large lines, one digit each; the rates and what is read at them."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from ventsize.jobfile.editing import value_at
from ventsize.jobfile.problems import InputError
from ventsize.tui.field.choices import Choices, Option
from ventsize.tui.field.page import moment, shut_off
from ventsize.tui.field.reading import ReadingPage
from ventsize.tui.field.text import FieldText
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.plain import PlainCharacters
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.session_screen import SessionScreen
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.said import OneLine
from ventsize.tui.widgets.text import one_line

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.check.result import JobCheck
    from ventsize.studies.diagnosis.result import Diagnosis, NextReading
    from ventsize.studies.field import Spot
    from ventsize.studies.readings.result import ReadingFound


class Listing(SessionScreen):
    """A title over choices; above both, where something says so, that the appliance must not run."""

    DEFAULT_CSS = """
    Listing #listing-stop { height: auto; max-height: 8; padding: 0 1; background: $error-muted; text-style: bold; }
    Listing .page-title { background: $panel; }
    Listing #listing-means { display: none; height: auto; max-height: 9; padding: 0 1; }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back", id="field.back"),
        Binding("ctrl+z", "undo", "Undo", show=False, id="field.undo"),
    ]

    topic = "field"
    tall = False

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session

    def compose(self) -> ComposeResult:
        """Title, choices, keys."""
        plain = any(isinstance(shown, PlainCharacters) for shown in self.app._filters)
        yield Static("", id="listing-stop", markup=False)
        yield OneLine(classes="page-title")
        yield Static("", id="listing-means", markup=False)
        yield Choices(tall=self.tall, plain=plain)
        yield KeyLine()

    async def on_mount(self) -> None:
        """What can be chosen."""
        self.query_one(Choices).focus()
        await self.draw()
        if not self.session.fresh:
            self.judge_then(self.draw)

    async def draw(self) -> None:
        """Title and choices as they stand."""
        stop = self.query_one("#listing-stop", Static)
        said = shut_off(self.session)
        stop.update(Content(said))
        stop.display = bool(said)
        self.query_one(".page-title", OneLine).update(Content("   ".join(map(one_line, self.heading()))))
        await self.query_one(Choices).show(self.options())

    def refreshed(self) -> None:
        """What has been changed, here or on a page, is shown."""
        self.judge_then(self.draw)

    @abstractmethod
    def heading(self) -> tuple[str, ...]:
        """The title."""

    @abstractmethod
    def options(self) -> list[Option]:
        """The choices."""

    def action_undo(self) -> None:
        """Take the last edit back."""
        self.take_back()
        self.refreshed()

    def action_back(self) -> None:
        """One page back."""
        self.leave()


MARK = "marks it: that speaks against its cause"


class ReadingsScreen(Listing):
    """What the readings mean, what to read next, the rates to read at, what may be looked at, and the readings beside
    what they should be."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("0", "take", "Type what is asked for", show=False, id="field.take"),
        Binding("t", "as_text", "Text", id="field.text"),
    ]

    topic = "field_readings"

    def __init__(self, session: Session, _question: QuestionEntry | None = None) -> None:
        super().__init__(session)
        self._found: Diagnosis | None = None
        self._of: JobCheck | None = None  # the check that was diagnosed
        self._rates: Sequence[str] = ()
        self._read: list[ReadingFound] = []
        self._looks: list[str] = []

    def heading(self) -> tuple[str, ...]:
        """What it is."""
        return ("Readings and diagnosis",)

    async def draw(self) -> None:
        """The readings at once; what they mean once it is known."""
        await super().draw()
        if self.session.inputs is not None and self._of is not self.session.check:
            self._diagnose(self.session.check, self.session.inputs)

    @long_work
    def _diagnose(self, check: JobCheck | None, inputs: Inputs) -> None:
        from ventsize.studies.diagnosis import diagnose

        found, fault = None, ""
        try:
            found = diagnose(inputs, checked=check)
        except InputError as error:
            fault = str(error.problems[0])
        tell(self, self._diagnosed, check, found, fault)

    async def _diagnosed(self, check: JobCheck | None, found: Diagnosis | None, fault: str) -> None:
        from ventsize.report.diagnosis import asked_for, asked_text
        from ventsize.report.in_short import diagnosed

        if not self.is_attached:
            return
        self._of, self._found = check, found
        first, *said = [fault] if found is None else diagnosed(found, self.session.system)
        if found is not None and check is self.session.check:
            self.session.keep_in_short("diagnose", found)
        if found is not None and asked_for(found) and not found.readings.stops:
            said.append(f"0 types it: {asked_text(asked_for(found)[0])}.")
        means = self.query_one("#listing-means", Static)
        means.update(Content("\n").join([Content.styled(first, "bold"), *map(Content, said)]))
        means.display = True
        await super().draw()

    def options(self) -> list[Option]:
        """Every rate, with how many readings it has; what a look would settle; then the readings."""
        from ventsize.jobfile.editing.readings import seen_at
        from ventsize.report.field import title_of
        from ventsize.report.readings import reading_row
        from ventsize.studies.field import rates_of, spot_of
        from ventsize.studies.readings.symptoms import FOUND_RIGHT

        readings = value_at(self.session.data, ("reading",), []) or []
        taken = [reading.get("rate") for reading in readings if isinstance(reading, dict)]
        self._rates = () if self.session.inputs is None else rates_of(self.session.inputs)
        found = () if self._found is None else self._found.readings.readings
        self._read = [one for one in found if not one.reading.before_repair]
        made = [Option(f"Read at {rate}", f"{taken.count(rate) or 'none'} taken") for rate in self._rates]
        right = [what for what in FOUND_RIGHT if seen_at(self.session.data, what, "") is not None]
        self._looks = list(dict.fromkeys([*right, *(() if self._found is None else self._found.looks)]))
        for what in self._looks:
            note, sign = ("you looked; once more takes it back", "●") if what in right else (MARK, "")
            made.append(Option(f"I looked: {what}", note, sign))
        for one in self._read:
            _, value, band, word = reading_row(one, self.session.system)
            label = ", ".join(filter(None, (title_of(spot_of(self.session.whole[0], one)), one.rate)))
            made.append(Option(label, f"{value}, should be {band}: {word}"))
        return made

    def on_choices_chosen(self, event: Choices.Chosen) -> None:
        """The places of a rate, the mark of a look, or the page of a reading."""
        event.stop()
        looks = event.number - len(self._rates)
        if looks < 0:
            self.app.push_screen(SpotsScreen(self.session, self._rates[event.number]))
        elif looks < len(self._looks):
            from ventsize.jobfile.editing.readings import toggle_seen

            what = self._looks[looks]
            self.session.do(toggle_seen(self.session.data, what, "", when=moment()), what)
            self.refreshed()
        else:
            self._type(self._read[looks - len(self._looks)])

    def _type(self, reading: ReadingFound | NextReading) -> None:
        from ventsize.studies.field import spot_of

        self.app.push_screen(ReadingPage(self.session, [spot_of(self.session.whole[0], reading)], 0))

    def action_take(self) -> None:
        """The page of the first reading that is asked for."""
        from ventsize.report.diagnosis import asked_for

        asked = () if self._found is None else asked_for(self._found)
        if asked:
            self._type(asked[0])

    def action_as_text(self) -> None:
        """Every cause with its size and place, every reading, and what they would not show."""
        self.app.push_screen(FieldText(self.session, "Readings and diagnosis", diagnosis_text))


def diagnosis_text(session: Session) -> str:
    """The whole diagnosis, as the command line prints it."""
    from ventsize.report.diagnosis import render
    from ventsize.studies.diagnosis import diagnose

    session.judge()
    inputs, check = session.whole
    return render(diagnose(inputs, checked=check), session.system)


class SpotsScreen(Listing):
    """What is read at a rate, what is seen there, and that a repair was made."""

    topic = "field_reading"

    def __init__(self, session: Session, rate: str) -> None:
        super().__init__(session)
        self._rate = rate
        self._spots: list[Spot] = []

    def heading(self) -> tuple[str, ...]:
        """What is asked."""
        return "Which reading?", f"firing rate: {self._rate}", moment()

    def options(self) -> list[Option]:
        """Every reading of the rate, with what has been read."""
        from ventsize.studies.field import spots, spots_along

        self._spots = list(spots(self.session.whole[0], self._rate))
        made = [
            Option(
                "Seen and heard",
                "trips, noise, flame, an alarm; what was looked at and is right",
                "●" * bool(self._seen),
            )
        ]
        made += self._read_at(self._spots)
        if spots_along(self.session.whole[0], self._rate):
            made.append(Option("In a pipe, after a piece", "pressure, through a hole that is closed again"))
        made.append(Option("After a repair", "keep these readings beside, and take them again"))
        return made

    @property
    def _seen(self) -> bool:
        seen = value_at(self.session.data, ("symptom",), []) or []
        return any(isinstance(one, dict) and one.get("rate", "") in ("", self._rate) for one in seen)

    def _read_at(self, spots: Sequence[Spot]) -> list[Option]:
        from ventsize.report.field import title_of

        made = []
        for spot in spots:
            kept = spot.kept(self.session.data)
            note, sign = (f"read {kept}", "●") if kept else ("not read yet", "")
            made.append(Option(title_of(spot), note, sign))
        return made

    def on_choices_chosen(self, event: Choices.Chosen) -> None:
        """Type it; the others follow."""
        event.stop()
        number, last = event.number - 1, len(self.query_one(Choices).options) - 1
        if number < 0:
            self.app.push_screen(SeenScreen(self.session, self._rate))
        elif number < len(self._spots):
            self.app.push_screen(ReadingPage(self.session, self._spots, number))
        elif event.number == last:
            self.action_repaired()
        else:
            self.app.push_screen(AlongScreen(self.session, self._rate))

    def action_repaired(self) -> None:
        """The readings so far are those before a repair, where there was one."""
        from ventsize.jobfile.editing.readings import repaired

        session = self.session
        if not value_at(session.data, ("reading",), []):
            self.notify("Nothing has been read yet.", timeout=4)
            return

        def answered(what: str | None) -> None:
            if not (what and what.strip()):
                self.notify("Nothing was repaired: the readings stand as they are.", timeout=6)
                return
            session.do(repaired(session.data, what.strip()), "after a repair")
            self.notify("The readings are kept as those before the repair. Take them again.", timeout=6)
            self.refreshed()

        self.app.push_screen(AskLine("Has something been repaired? Type what (Esc: no, nothing)", None), answered)


class AlongScreen(SpotsScreen):
    """The places along the pipes: behind each piece of a run that is laid out."""

    def heading(self) -> tuple[str, ...]:
        """What is asked."""
        return "After which piece?", f"firing rate: {self._rate}", moment()

    def options(self) -> list[Option]:
        """Every place, with what has been read there."""
        from ventsize.studies.field import spots_along

        self._spots = list(spots_along(self.session.whole[0], self._rate))
        return self._read_at(self._spots)

    def on_choices_chosen(self, event: Choices.Chosen) -> None:
        """Type it."""
        event.stop()
        event.prevent_default()  # the list of all readings counts its lines otherwise
        self.app.push_screen(ReadingPage(self.session, self._spots, event.number))


class SeenScreen(Listing):
    """What is seen and heard at a rate: Enter or a digit marks it, or takes the mark away."""

    topic = "field_seen"

    def __init__(self, session: Session, rate: str) -> None:
        super().__init__(session)
        self._rate = rate

    def heading(self) -> tuple[str, ...]:
        """What is asked."""
        return "What is seen and heard?", f"firing rate: {self._rate}", moment()

    def options(self) -> list[Option]:
        """Every symptom, those that are there with a sign, and what they point to."""
        from ventsize.finding import Finding
        from ventsize.jobfile.editing.readings import seen_at
        from ventsize.jobfile.symptom import SYMPTOMS
        from ventsize.report.wording import say
        from ventsize.studies.readings.symptoms import code_of

        made = []
        for what in SYMPTOMS:
            there = seen_at(self.session.data, what, self._at(what)) is not None
            said = say(Finding(code_of(what)), self.session.system)
            made.append(Option(f"{what[0].upper()}{what[1:]}", said if there else "", "●" if there else ""))
        return made

    def _at(self, what: str) -> str:
        """What was looked at and is right is so at every rate."""
        from ventsize.studies.readings.symptoms import FOUND_RIGHT

        return "" if what in FOUND_RIGHT else self._rate

    def on_choices_chosen(self, event: Choices.Chosen) -> None:
        """Seen, or not after all."""
        from ventsize.jobfile.editing.readings import toggle_seen
        from ventsize.jobfile.symptom import SYMPTOMS

        event.stop()
        what = SYMPTOMS[event.number]
        self.session.do(toggle_seen(self.session.data, what, self._at(what), when=moment()), what)
        self.refreshed()
