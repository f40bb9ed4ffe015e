"""The first screen: what somebody has come to do, and the jobs opened last."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from ventsize.catalog.folders import shipped_folder
from ventsize.jobfile.recovery import Offer
from ventsize.tui.demonstrations import LESSONS, READINGS, demonstrations
from ventsize.tui.long_work import tell
from ventsize.tui.settings import recent_jobs
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.picker import Picker
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.rows import Cell, Column, Row, Rows
from ventsize.tui.widgets.said import OneLine
from ventsize.tui.widgets.text import one_line

CAUTION = (
    "A vent that is too long, blocked, leaking or wrongly built can put carbon monoxide in a building. Results are "
    "estimates: the appliance maker's instructions and the local code decide, and the work is a licensed installer's. "
    "After any change to a vent: a combustion check, a leak check, and a working CO alarm."
)

TASKS = (
    ("count", "Check a run", "count feet and elbows: within or over"),
    ("layout", "Lay out a vent", "pipe by pipe: sizes, route, pressures"),
    ("field", "At the appliance", "readings, check-over, what trips it"),
    ("reports", "Options and papers", "sizes that fit, what to buy, papers"),
    ("teach", "Teach", "lessons, exercise sheets, comparing"),
    ("table", "Allowance tables", "type in what the maker allows"),
    ("open", "Open a job file", "from a folder, or by its path"),
    ("jobs", "The jobs of a folder", "verdict, cost and state of each"),
    ("demos", "Demonstration jobs", "invented, sorted by what they show"),
    ("settings", "Settings", "units, look, altitude, folders, keys"),
)
NUMBERS = "1234567890"[: len(TASKS)]
"""What can be done: its name, its title, what it is in a few words; each has its number."""

TEACHING = (
    ("exercises", "Exercise sheets", "problems for a class, with their key"),
    ("compare", "Side by side", "variants of a job, and what makes the difference"),
    ("sweep", "One thing changed", "what an elbow is in feet, by size, rate and method"),
    ("inducer", "Inducers", "on the bench: a vent made longer until the switch opens"),
)
ASKS_WHICH = ("compare", "sweep")  # the others are shown with one demonstration
TAUGHT_WITH = "long-run-adaptive.toml"


class StartScreen(Screen[None]):
    """Enter, or its number, opens what the cursor is on."""

    DEFAULT_CSS = """
    StartScreen {
        & #start-title { text-style: bold; background: $panel; }
        & #start-rows { height: 1fr; }
        & #story { height: auto; max-height: 4; padding: 0 1; border-top: solid $panel-lighten-2; }
        & #caution { height: auto; padding: 0 1; color: $text-warning; border-top: solid $panel-lighten-2; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Leave", id="start.leave"),
        Binding("slash", "find", "Search the jobs", show=False, key_display="/", id="start.find"),
        *(
            Binding(number, f"begin('{name}')", title, show=False, id=f"start.{name}")
            for number, (name, title, _) in zip(NUMBERS, TASKS, strict=True)
        ),
    ]

    topic = "start"

    def compose(self) -> ComposeResult:
        """The list, the story of what the cursor is on, the cautions."""
        yield OneLine("ventsize: is the vent within its allowance?", id="start-title")
        with Vertical():
            yield Rows([Column(width=26, grow=1), Column(width=37, grow=1)], head=False, id="start-rows")
        with VerticalScroll(id="story", can_focus=False):
            yield Static("", id="story-text", markup=False)
        yield Static(Content("! " + CAUTION), id="caution")
        yield KeyLine()

    def on_mount(self) -> None:
        """What needs no file first, then the jobs."""
        self._stories: dict[Any, str] = {}
        self._offers: list[Offer] = []
        self._show([], [])
        self.query_one(Rows).focus()
        self.look()

    def on_screen_resume(self) -> None:
        """A job opened meanwhile is a recent one now."""
        if hasattr(self, "_stories"):
            self.look()

    @work(thread=True, exclusive=True)
    def look(self) -> None:
        """Look again what there is."""
        from ventsize.catalog.folders import user_folder
        from ventsize.jobfile.recovery import pending_recoveries

        offers = list(pending_recoveries(user_folder()))
        found = [(path, *title_and_story(path)) for path in recent_jobs()]
        tell(self, self._show, found, offers)

    def _show(self, jobs: list[tuple[Path, str, str]], offers: list[Offer]) -> None:
        self._offers = offers
        rows = [
            Row(key=("task", name), cells=(f"{number} {title}", Cell(said, "faint")))
            for number, (name, title, said) in zip(NUMBERS, TASKS, strict=True)
        ]
        if offers:
            rows.append(Row(across="Left unsaved when the program stopped", tone="group", selectable=False))
            for n, offer in enumerate(offers):
                file = offer.snapshot.file
                said = f"{file.name if file else 'new job'}, {offer.snapshot.when.astimezone():%d %b %H:%M}"
                rows.append(Row(key=("offer", n), cells=(f"  {_name(offer)}", Cell(said, "warn"))))
        rows += [Row(across="Recent jobs", tone="group", selectable=False)] if jobs else []
        for path, name, story in jobs:
            self._stories["job", str(path)] = story
            rows.append(Row(key=("job", str(path)), cells=(f"  {name}", Cell(path.name, "faint"))))
        self.query_one(Rows).show(rows)
        self._tell()

    def on_rows_moved(self, event: Rows.Moved) -> None:
        """The story follows the cursor."""
        event.stop()
        self._tell()

    def _tell(self) -> None:
        row = self.query_one(Rows).current
        story = self._stories.get(row.key, "") if row else ""
        if row and row.key and row.key[0] == "offer":
            story = "Enter shows what it changes in the saved file: go on with it, open both, or discard it."
        self.query_one("#story").display = bool(story)
        self.query_one("#story-text", Static).update(Content(story))

    def on_rows_typed(self, event: Rows.Typed) -> None:
        """A number begins the task that has it; the keys after it are commands again."""
        event.stop()
        number = event.rows.take_typed()
        if number in NUMBERS:
            self.action_begin(TASKS[NUMBERS.index(number)][0])

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Begin or open."""
        event.stop()
        row = event.rows.current
        if row is None or row.key is None:
            return
        kind, what = row.key
        if kind == "task":
            self.action_begin(what)
        elif kind == "offer":
            from ventsize.tui.offering import take_up

            take_up(self.app, self._offers[what])
        else:
            self._open(what)

    def action_leave(self) -> None:
        """Leave after asking: one Esc too many, on the way back from a job, is no wish to leave."""

        def answered(word: str | None) -> None:
            if word == "leave":
                self.app.exit(0)

        answers = (("leave", "Leave", "q"), ("stay", "Stay", "s"))
        self.app.push_screen(
            Question("Leave the program?", "What is not saved is offered next time.", answers), answered
        )

    def action_find(self) -> None:
        """A job by words of its title, recent ones first."""
        jobs = [*(("recent", path) for path in recent_jobs()), *demonstrations()]
        self.app.push_screen(Picker("Which job?", _entries(jobs)), self._open)

    def action_begin(self, task: str) -> None:
        """Do what somebody has come to do."""
        {
            "count": self._count, "layout": self._lay_out, "table": self._tables, "open": self._open_file,
            "field": self._at_the_appliance, "reports": self._reports, "teach": self._teach, "demos": self._demos,
            "jobs": self._jobs, "settings": self.app.action_settings,  # type: ignore[attr-defined]
        }[task]()  # fmt: skip

    def _open(self, path: str | None, then: str = "", back: Callable[[], None] | None = None) -> None:
        if path is not None:
            self.app.open_job(Path(path), then, back)  # type: ignore[attr-defined]

    def _count(self) -> None:
        from ventsize.tui.count import CountScreen

        self.app.push_screen(CountScreen())

    def _lay_out(self) -> None:
        from ventsize.tui.job.edits import laid_out_job
        from ventsize.tui.job.screen import JobScreen
        from ventsize.tui.job.session import Session

        self.app.push_screen(JobScreen(Session(laid_out_job(), path=None)))

    def _tables(self) -> None:
        from ventsize.tui.table.tables import TablesScreen

        self.app.push_screen(TablesScreen())

    def _jobs(self) -> None:
        from ventsize.tui.jobs import JobsScreen

        self.app.push_screen(JobsScreen(_folder()))

    def _open_file(self) -> None:
        from ventsize.tui.widgets.file_picker import FilePicker

        self.app.push_screen(FilePicker("Open a job file", _folder()), lambda path: self._open(path and str(path)))

    def _at_the_appliance(self) -> None:
        self._pick("At the appliance: which job?", READINGS, "field")

    def _reports(self) -> None:
        self._pick("Options and papers: of which job?", "First jobs", "menu")

    def _demos(self) -> None:
        self.app.push_screen(Picker("Demonstration jobs (invented)", _entries(demonstrations())), self._open)

    def _pick(self, title: str, group: str, then: str, back: Callable[[], None] | None = None) -> None:
        """Ask for a job, those opened last first, and go straight to a part of it."""
        jobs = [("recent", path) for path in recent_jobs()]
        jobs += [("demonstration", path) for name, path in demonstrations() if name == group]
        self.app.push_screen(Picker(title, _entries(jobs)), lambda path: self._open(path, then, back))

    def _teach(self) -> None:
        from ventsize.studies.lessons.keeping import own_lessons

        shown = [path for group, path in demonstrations() if group == LESSONS]
        own = dict.fromkeys([*own_lessons(), *(path for path in recent_jobs() if _is_lesson(path))])
        lessons = [("your lesson", path) for path in own if path not in shown]
        lessons += [("lesson", path) for path in shown]

        def chosen(what: str | None) -> None:
            title = next((title for name, title, _ in TEACHING if name == what), None)
            if what in ASKS_WHICH:
                self._pick(f"{title}: of which job?", "First jobs", str(what), self._teach)
            else:
                path = str(shipped_folder("scenarios") / TAUGHT_WITH) if title else what
                self._open(path, str(what) if title else "lesson", self._teach)

        self.app.push_screen(Picker("Teach", [*_entries(lessons), *TEACHING]), chosen)


def _folder() -> Path:
    """Where jobs are looked for first."""
    from ventsize.catalog.folders import user_jobs_folder

    folder = user_jobs_folder()
    return folder if folder.is_dir() else Path.cwd()


def _entries(jobs: Iterable[tuple[str, Path]]) -> list[tuple[str, ...]]:
    """Jobs for a list to choose from: path, title, what is said of each, and its story."""
    found = [(said, path, *title_and_story(path)) for said, path in jobs]
    return [(str(path), title, said, story) for said, path, title, story in found]


def _name(offer: Offer) -> str:
    return one_line(offer.snapshot.data.get("title", "work without a title"))


def title_and_story(path: Path) -> tuple[str, str]:
    """A job's title and note. A file that cannot be read is listed all the same, with what is wrong."""
    try:
        data = _data(path)
    except (OSError, ValueError) as error:
        return path.stem, f"This file cannot be read: {error}"
    return one_line(data.get("title", path.stem)), one_line(data.get("note", ""))


def _data(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def _is_lesson(path: Path) -> bool:
    """Whether a job holds questions to be guessed at."""
    try:
        return "lesson" in _data(path)
    except (OSError, ValueError):
        return False
