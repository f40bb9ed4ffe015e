"""Where the visit begins, and what it comes back to: readings, check-over, causes, the visit's record."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual import work

from ventsize.jobfile.editing import value_at
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.writer import SaveError
from ventsize.tui.field.choices import Choices, Option
from ventsize.tui.field.listing import Listing, ReadingsScreen
from ventsize.tui.field.page import now, today
from ventsize.tui.field.report import VisitReport
from ventsize.tui.field.rule import RulePage
from ventsize.tui.field.text import FieldText
from ventsize.tui.job.session import ChangedOnDisk, Session
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.question import Question

if TYPE_CHECKING:
    from ventsize.jobfile.visits import Visit

PICTURES = (".jpg", ".jpeg", ".png", ".heic", ".webp")
NO_RESULT = "There is no result yet: complete the job first."
NO_FILE = "Save the job under a name of its own first (Esc, then Ctrl+S): its visits stand beside it."


class FieldScreen(Listing):
    """The first page."""

    tall = True

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session)
        self._question = question
        self._note = ""  # of the visit, until it is kept
        self._by = ""

    def heading(self) -> tuple[str, ...]:
        """Whether the job is saved, and its title, which may be too long to be shown whole."""
        session = self.session
        state = "kept, but not yet in the file" if session.history.unsaved else "saved"
        return "At the appliance", state, str(value_at(session.data, ("title",), ""))

    def options(self) -> list[Option]:
        """What a visit consists of."""
        data = self.session.data
        read = len(value_at(data, ("reading",), []) or [])
        return [
            Option("Readings and diagnosis", f"{read} taken" if read else "none taken yet"),
            Option("Check-over", self._counted()),
            Option("Keep this visit", f"with the date of today, {today().isoformat()}"),
            Option("Since the last visit", "what has changed"),
            Option("Report of the last visit", "a page for the customer, or for the office"),
        ]

    def _counted(self) -> str:
        """The same counts as on every rule's page and in the report."""
        from ventsize.report.checkover import counts_of
        from ventsize.studies.checkover import check_over

        session = self.session
        if session.inputs is None or session.problems:
            return "rule by rule"
        try:
            return counts_of(check_over(session.inputs, checked=session.check).items)
        except InputError:
            return "rule by rule"

    def on_choices_chosen(self, event: Choices.Chosen) -> None:
        """One of the five."""
        event.stop()
        if self.session.inputs is None:
            problem = str(self.session.problems[0]) if self.session.problems else NO_RESULT
            self.notify(problem, severity="warning", markup=False)
            return
        acts: list[Callable[[], None]] = [
            self._readings,
            self._rules,
            self._keep,
            self._since,
            self._report,
        ]
        acts[event.number]()

    def _readings(self) -> None:
        old = self._old_readings()
        if old is None:
            self._read()
            return
        answers = (("new", "Take new ones", "1"), ("these", "Go on with these", "2"))
        text = f"The readings in this job are those of the visit of {old}."

        def answered(word: str | None) -> None:
            if word == "new":
                self._start_anew()
            self._read()

        self.app.push_screen(Question("A new visit?", text, answers), answered)

    def _read(self) -> None:
        self.app.push_screen(ReadingsScreen(self.session))

    def _last(self) -> Visit | None:
        """The last visit; None where there is none that can be read."""
        from ventsize.jobfile.visits import read_visits

        try:
            visits = read_visits(self.session.path) if self.session.path else ()
        except InputError as error:
            self.notify(str(error.problems[0]), severity="warning", markup=False, timeout=8)
            return None
        return visits[-1] if visits else None

    def _old_readings(self) -> str | None:
        """The date of the last visit, where all of the job's readings are still those of it."""
        last, readings = self._last(), self.session.whole[0].job.readings
        if last is None or last.date == today() or not readings:
            return None
        return last.date.isoformat() if all(one in last.readings for one in readings) else None

    def _start_anew(self) -> None:
        from ventsize.studies.visits import for_a_new_visit

        session = self.session
        session.do(for_a_new_visit(session.data, session.whole[0], self._last()), "a new visit")

    def _rules(self) -> None:
        self.app.push_screen(RulePage(self.session))

    def _since(self) -> None:
        self.app.push_screen(FieldText(self.session, "Since the last visit", since))

    def _report(self) -> None:
        self.app.push_screen(VisitReport(self.session))

    # Keeping the visit

    def _keep(self) -> None:
        session = self.session
        if session.path is None or session.shipped:
            self.notify(NO_FILE, severity="warning", markup=False, timeout=8)
            return
        title = "A note on this visit, or just Enter (Esc keeps no visit)"
        self.app.push_screen(AskLine(title, None, value=self._note), self._noted)

    def _noted(self, note: str | None) -> None:
        if note is None:
            self.notify("No visit was kept.", timeout=4)
            return
        self._note = note  # what was typed stays, should the visit not be kept after all
        last = self._last()
        title = "Who is here? Enter alone leaves it open (Esc keeps no visit)"
        self.app.push_screen(AskLine(title, None, value="" if last is None else last.by), self._signed)

    def _signed(self, by: str | None) -> None:
        if by is None:
            self.notify("No visit was kept.", timeout=4)
            return
        self._by, note = by.strip(), self._note
        answers = (("none", "No photos", "1"), ("names", "Name photos", "2"))
        text = "The visit is kept either way. Photos are named by their files, beside the job."

        def answered(word: str | None) -> None:
            if word == "names":
                title = f"File names of photos, apart by commas (Esc: none). Beside the job: {self._photos_beside()}"
                self.app.push_screen(AskLine(title, None), lambda photos: self._kept(note, photos or ""))
            else:
                self._kept(note, "")

        self.app.push_screen(Question("Photos?", text, answers, escape="none"), answered)

    def _photos_beside(self) -> str:
        """The pictures that stand beside the job."""
        folder = self.session.path.parent if self.session.path else None
        found = [] if folder is None else [one.name for one in folder.iterdir() if one.suffix.lower() in PICTURES]
        return ", ".join(sorted(found)) or "none"

    def _kept(self, note: str, photos: str) -> None:
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
        from ventsize.report.visits import words_of
        from ventsize.studies.visits import as_visit, photos_missing, visit_now

        session = self.session
        assert session.path is not None
        session.judge()
        inputs, check = session.whole
        try:
            visit = visit_now(
                inputs, session.data, date=today(), time=now(), by=self._by, note=note, photos=photos,
                checked=check, **words_of(session.system),
            )  # fmt: skip
            add_visit(session.path, visit)
            self._note = ""
            missing = photos_missing(as_visit(visit), session.path.parent)
            lacking = f" Not beside the job: {', '.join(missing)}." if missing else ""
            said = f"Kept in {visits_file(session.path).name}.{lacking} 5: a report for the customer."
        except (InputError, SaveError, OSError) as error:
            said = f"Not kept: {error}"
        self.app.call_from_thread(self.app.notify, said, markup=False, timeout=6)


def since(session: Session) -> str:
    """The visits, what has changed since the last one, and that visit whole, as text."""
    from ventsize.jobfile.visits import read_visits
    from ventsize.report.visits import render, visit_lines, words_of
    from ventsize.studies.visits import as_visit, photos_missing, since_last, visit_now

    visits = () if session.path is None else read_visits(session.path)
    if not visits or session.path is None:
        return "No visit has been kept yet."
    session.judge()
    inputs, check = session.whole
    now = visit_now(
        inputs, session.data, date=today(), checked=check, **words_of(session.system)
    )  # fmt: skip
    missing = photos_missing(visits[-1], session.path.parent)
    changes = render(visits, since_last(visits, as_visit(now)), session.system, missing=())
    return "\n".join([changes, "", *visit_lines(visits[-1], session.system, missing=missing)])
