"""Where the visit begins, and what it comes back to: readings, check-over, causes, the visit's record."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Footer, Static

from ventsize.jobfile.editing import value_at
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.writer import SaveError
from ventsize.tui.field.choices import Choices, Option
from ventsize.tui.field.page import moment, today
from ventsize.tui.field.reading import ReadingPage
from ventsize.tui.field.rule import RulePage
from ventsize.tui.field.text import FieldText
from ventsize.tui.job.session import ChangedOnDisk, Session
from ventsize.tui.plain import PlainCharacters
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.text import one_line

NO_RESULT = "There is no result yet: complete the job first."
NO_FILE = "Save the job under a name of its own first (Esc, then Ctrl+S): its visits stand beside it."


class _Listing(Screen[None]):
    """A title over choices."""

    DEFAULT_CSS = """
    _Listing .page-title { height: 1; padding: 0 1; background: $panel; text-wrap: nowrap; text-overflow: ellipsis; }
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
        yield Static("", classes="page-title", markup=False)
        yield Choices(tall=self.tall, plain=plain)
        yield Footer()

    async def on_mount(self) -> None:
        """What can be chosen."""
        self.query_one(Choices).focus()
        await self.draw()

    async def draw(self) -> None:
        """Title and choices as they stand."""
        self.query_one(".page-title", Static).update(Content("   ".join(map(one_line, self.heading()))))
        await self.query_one(Choices).show(self.options())

    def refreshed(self) -> None:
        """Back from a page: what it has changed is shown."""
        self.run_worker(self.draw(), exclusive=True, group="draw")

    def heading(self) -> tuple[str, ...]:
        """The title."""
        raise NotImplementedError

    def options(self) -> list[Option]:
        """The choices."""
        raise NotImplementedError

    def action_undo(self) -> None:
        """Take the last edit back."""
        step = self.session.undo()
        self.notify(f"Undone: {step.label}" if step else "Nothing to undo.", markup=False, timeout=2)
        self.refreshed()

    def action_back(self) -> None:
        """One page back."""
        below: Any = self.app.screen_stack[-2]
        self.app.pop_screen()
        if hasattr(below, "refreshed"):
            below.refreshed()


class FieldScreen(_Listing):
    """The first page."""

    tall = True

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session)
        self._question = question

    async def on_mount(self) -> None:
        """Judge what is typed, if that has not been done."""
        if not self.session.fresh:
            self.session.judge()
        await super().on_mount()

    def heading(self) -> tuple[str, ...]:
        """The job, and whether it is saved."""
        session = self.session
        state = "not saved, but kept" if session.history.unsaved else "saved"
        return "At the appliance", str(value_at(session.data, ("title",), "")), state

    def options(self) -> list[Option]:
        """What a visit consists of."""
        data = self.session.data
        read = len(value_at(data, ("reading",), []) or [])
        ticked = len(value_at(data, ("checked",), []) or [])
        return [
            Option("Readings", f"{read} taken" if read else "none taken yet"),
            Option("Check-over", f"{ticked} ticked off, rule by rule" if ticked else "rule by rule"),
            Option("What the readings mean", "causes that would explain them, and what to read next"),
            Option("Keep this visit", f"with the date of today, {today().isoformat()}"),
            Option("Since the last visit", "what has changed"),
        ]

    def on_choices_chosen(self, event: Choices.Chosen) -> None:
        """One of the five."""
        event.stop()
        if self.session.inputs is None:
            problem = str(self.session.problems[0]) if self.session.problems else NO_RESULT
            self.notify(problem, severity="warning", markup=False)
            return
        acts: list[Callable[[], None]] = [self._readings, self._rules, self._meaning, self._keep, self._since]
        acts[event.number]()

    def _readings(self) -> None:
        from ventsize.studies.field import rates_of

        rates = rates_of(self.session.inputs)
        self.app.push_screen(SpotsScreen(self.session, rates[0]) if len(rates) == 1 else RatesScreen(self.session))

    def _rules(self) -> None:
        self.app.push_screen(RulePage(self.session))

    def _meaning(self) -> None:
        self.app.push_screen(FieldText(self.session, "What the readings mean", meaning))

    def _since(self) -> None:
        self.app.push_screen(FieldText(self.session, "Since the last visit", since))

    # Keeping the visit

    def _keep(self) -> None:
        session = self.session
        if session.path is None or session.shipped:
            self.notify(NO_FILE, severity="warning", markup=False, timeout=8)
            return
        self.app.push_screen(AskLine("A note on this visit, or just Enter", None), self._noted)

    def _noted(self, note: str | None) -> None:
        if note is not None:
            title = "File names of photos, apart by commas, or just Enter"
            self.app.push_screen(AskLine(title, None), lambda photos: self._kept(note, photos))

    def _kept(self, note: str, photos: str | None) -> None:
        if photos is None:
            return
        names = [name.strip() for name in photos.split(",") if name.strip()]
        try:
            self.session.save()
            self._write(note.strip(), names)
        except (ChangedOnDisk, OSError, SaveError, InputError) as error:
            self.notify(f"Not kept: {error}", severity="error", markup=False, timeout=8)
        self.refreshed()

    @work(thread=True, exclusive=True, group="keep")
    def _write(self, note: str, photos: list[str]) -> None:
        from ventsize.jobfile.visits import add_visit, visits_file
        from ventsize.studies.visits import visit_now

        session = self.session
        assert session.path is not None
        session.judge()
        try:
            visit = visit_now(session.inputs, session.data, date=today(), note=note, photos=photos,
                              checked=session.check, system=session.system)  # fmt: skip
            add_visit(session.path, visit)
            said = f"Kept in {visits_file(session.path).name}."
        except (InputError, SaveError, OSError) as error:
            said = f"Not kept: {error}"
        self.app.call_from_thread(self.notify, said, markup=False, timeout=6)


class RatesScreen(_Listing):
    """Which firing rate is read at."""

    topic = "rate"

    def heading(self) -> tuple[str, ...]:
        """What is asked."""
        return ("At which firing rate?",)

    def options(self) -> list[Option]:
        """Every rate, with how many readings it has."""
        from ventsize.studies.field import rates_of

        readings = value_at(self.session.data, ("reading",), []) or []
        taken = [reading.get("rate") for reading in readings if isinstance(reading, dict)]
        self._rates = rates_of(self.session.inputs)
        return [Option(rate, f"{taken.count(rate) or 'none'} taken") for rate in self._rates]

    def on_choices_chosen(self, event: Choices.Chosen) -> None:
        """Its places."""
        event.stop()
        self.app.push_screen(SpotsScreen(self.session, self._rates[event.number]))


class SpotsScreen(_Listing):
    """What is read at a rate."""

    topic = "field_reading"

    def __init__(self, session: Session, rate: str) -> None:
        super().__init__(session)
        self._rate = rate
        self._spots: list[Any] = []

    def heading(self) -> tuple[str, ...]:
        """What is asked."""
        return "Which reading?", f"firing rate: {self._rate}", moment()

    def options(self) -> list[Option]:
        """Every reading of the rate, with what has been read."""
        from ventsize.jobfile.editing.readings import reading_at
        from ventsize.studies.field import spots

        self._spots = list(spots(self.session.inputs, self._rate))
        made = []
        for spot in self._spots:
            kept = reading_at(self.session.data, spot.which, spot.kind).get(spot.kind)
            note, sign = ("not read yet", "") if kept is None else (f"read {kept}", "●")
            made.append(Option(spot.title, note, sign))
        return made

    def on_choices_chosen(self, event: Choices.Chosen) -> None:
        """Type it; the others follow."""
        event.stop()
        self.app.push_screen(ReadingPage(self.session, self._spots, event.number))


def meaning(session: Session) -> str:
    """What the readings mean, as text."""
    from ventsize.report.diagnosis import render
    from ventsize.studies.diagnosis import diagnose

    session.judge()
    return render(diagnose(session.inputs, system=session.system), session.system)


def since(session: Session) -> str:
    """What has changed since the last visit, as text."""
    from ventsize.jobfile.visits import read_visits
    from ventsize.report.visits import changes_lines
    from ventsize.studies.visits import as_visit, compare, visit_now

    visits = () if session.path is None else read_visits(session.path)
    if not visits:
        return "No visit has been kept yet."
    session.judge()
    now = visit_now(session.inputs, session.data, date=today(), checked=session.check, system=session.system)
    return "\n".join(changes_lines(compare(visits[-1], as_visit(now)), session.system))
