"""The jobs of a folder on one screen: state, verdict, margin and cost; copied, renamed, put away, ordered for."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static
from textual.worker import get_current_worker

from ventsize.jobfile.problems import InputError
from ventsize.jobfile.writer import SaveError
from ventsize.quantity import System
from ventsize.report.jobs_of_folder import counted, margin_of
from ventsize.report.money import total_words
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.text import TextScreen
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.file_picker import FilePicker, meant, shown
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.rows import Cell, Column, Row, Rows
from ventsize.tui.widgets.said import OneLine
from ventsize.tui.widgets.verdict_line import in_a_word

COLUMNS = (
    Column(title="Job", width=14, grow=1),
    Column(title="State", width=10),
    Column(title="Verdict", width=13),
    Column(title="Left", width=9, align="right"),
    Column(title="Cost", width=19, align="right"),
)


NONE = "No job here yet. v: another folder; 1 or 2 on the first screen makes one."


class JobsScreen(Screen[None]):
    """Enter opens the job under the cursor."""

    DEFAULT_CSS = """
    JobsScreen {
        & #jobs-title { text-style: bold; background: $panel; }
        & #jobs-count { height: 4; padding: 0 1; border-top: solid $panel-lighten-2; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "state", "Next state", id="jobs.state"),
        Binding("d", "copy", "Duplicate", id="jobs.copy"),
        Binding("x", "archive", "Remove to the archive", show=False, id="jobs.archive"),
        Binding("space", "mark", "Mark", id="jobs.mark"),
        Binding("o", "order", "Open order list", id="jobs.order"),
        Binding("e", "rename", "Change name", show=False, id="jobs.rename"),
        Binding("v", "folder", "View another folder", show=False, id="jobs.folder"),
        Binding("escape", "app.pop_screen", "Back", id="jobs.back"),
    ]

    topic = "jobs"

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self._folder = folder
        self._lines: list[Any] = []
        self._refused = ""

    def compose(self) -> ComposeResult:
        """The folder, its jobs, how many have which verdict."""
        yield OneLine(id="jobs-title")
        yield Rows(COLUMNS, id="job-rows")
        yield Static("", id="jobs-count", markup=False)
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Look again: a job opened meanwhile may be another."""
        self._look()

    @long_work
    def _look(self) -> None:
        from ventsize.studies.jobs_of_folder import jobs_of
        from ventsize.studies.pricing import Pricer
        from ventsize.studies.pricing.own import own_prices
        from ventsize.studies.takeoff.practice import read_practice

        worker, lines, fault = get_current_worker(), [], ""
        try:
            prices = own_prices()
            pricer = None if prices is None else Pricer(prices, read_practice())
            for line in jobs_of(self._folder, pricer=pricer):
                lines.append(line)
                if worker.is_cancelled:
                    return
                if len(lines) >= len(self._lines):  # looking again, the list does not shrink meanwhile
                    tell(self, self._show, list(lines), "…")
        except InputError as error:
            fault = f"! {error.problems[0]}"
        tell(self, self._show, lines, fault)

    def _show(self, lines: list[Any], said: str) -> None:
        self.query_one("#jobs-title", OneLine).update(Content(f"Jobs in {shown(self._folder)}"))
        rows, at = self.query_one(Rows), self._at()
        rows.show([self._row(line) for line in lines] or [Row(across=NONE, tone="faint", selectable=False)])
        if at is not None and (index := rows.index_of(at.path)) is not None:
            rows.go(index, tell=False)
        self._lines = lines
        self._count(said)

    def _count(self, said: str = "") -> None:
        """How many there are, why the last thing was not done, or why the one under the cursor cannot be read."""
        line = self._at()
        fault = self._refused or ("" if line is None or line.fault is None else self._problem(line.fault))
        text = f"{counted(self._lines)} {said}".rstrip() + f"\n{fault}"
        self.query_one("#jobs-count", Static).update(Content(text))

    def _row(self, line: Any) -> Row:
        name = line.title or line.path.stem
        if line.fault is not None:
            return Row(key=line.path, cells=(name, "", Cell("! unreadable", "bad"), "", ""))
        verdict = Cell(*in_a_word(line.verdict, line.doubts))
        system = System(self.app.settings.units)  # type: ignore[attr-defined]
        cost = Cell("no prices", "faint") if line.cost is None else total_words(line.cost)
        return Row(key=line.path, cells=(name, line.state or "", verdict, margin_of(line, system), cost))

    def _at(self) -> Any:
        row = self.query_one(Rows).current
        return next((line for line in self._lines if row is not None and line.path == row.key), None)

    def _do(self, change: Callable[[], Any], said: str) -> None:
        """Change a file, say what was done or why it was not, and look again."""
        try:
            change()
        except (InputError, SaveError) as error:
            self._refused = self._problem(error)
            self._count()
            return
        self._refused = said  # in its place below: a notice would cover the list, and outlast the next one
        self._look()

    def _problem(self, error: object) -> str:
        """What is wrong, without the folder that stands above."""
        return f"! {error}".replace(f"{self._folder}/", "")

    def _ask_name(self, title: str, name: str, take: Callable[[Path], None]) -> None:
        def named(text: str | None) -> None:
            if text and text.strip():
                take(meant(text, self._folder, ".toml"))

        self.app.push_screen(AskLine(title, None, value=name), named)

    # Keys

    def on_rows_moved(self, event: Rows.Moved) -> None:
        """Why a job cannot be read stands below."""
        event.stop()
        self._refused = ""
        self._count()

    def on_rows_typed(self, event: Rows.Typed) -> None:
        """Digits mean nothing here."""
        event.stop()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Enter opens the job."""
        event.stop()
        if (line := self._at()) is not None:
            self.app.open_job(line.path)  # type: ignore[attr-defined]

    def action_state(self) -> None:
        """The next state: to measure, offered, ordered, built."""
        from ventsize.jobfile.job import STATES
        from ventsize.studies.jobs_of_folder import set_state

        if (line := self._at()) is not None and line.fault is None:
            state = STATES[(STATES.index(line.state) + 1) % len(STATES) if line.state else 0]
            name = line.title or line.path.stem

            def answered(word: str | None) -> None:
                if word == "yes":
                    self._do(lambda: set_state(line.path, state), f"{name}: {state}")

            if state in ("ordered", "built") and line.verdict != "within":
                answers = (("yes", "All the same", "y"), ("no", "Leave it", "l"))
                text = f"{name} is {str(line.verdict).upper()}, which is no approval. Mark it {state} all the same?"
                self.app.push_screen(Question(f"Mark it {state}?", text, answers, first="no"), answered)
            else:
                answered("yes")

    def action_copy(self) -> None:
        """A copy as the start of the next job."""
        from ventsize.studies.jobs_of_folder import copy_job

        if (line := self._at()) is not None:

            def take(to: Path) -> None:
                self._do(lambda: copy_job(line.path, to), f"written: {shown(to)}")

            self._ask_name("Copy it as the start of another job, named", f"{line.path.stem}-copy", take)

    def action_rename(self) -> None:
        """Another name for the file, and for its visits."""
        from ventsize.studies.jobs_of_folder import move_job

        if (line := self._at()) is not None:

            def take(to: Path) -> None:
                self._do(lambda: move_job(line.path, to), f"now at {shown(to)}")

            self._ask_name("Another name for the job's file", line.path.stem, take)

    def action_archive(self) -> None:
        """Into the folder of those that are done with."""
        from ventsize.studies.jobs_of_folder import ARCHIVE, archive_job

        if (line := self._at()) is not None:
            self._do(lambda: archive_job(line.path), f"put into {ARCHIVE}/, with its visits")

    def action_mark(self) -> None:
        """For the order list."""
        rows = self.query_one(Rows)
        if rows.current is not None:
            rows.marked ^= {rows.current.key}
            rows.action_move(1)
            rows.refresh()

    def action_order(self) -> None:
        """One list to order by, for the marked jobs, or for the one under the cursor."""
        marked, at = self.query_one(Rows).marked, self._at()
        paths = [line.path for line in self._lines if line.path in marked] or ([at.path] if at is not None else [])
        if paths:
            self.app.push_screen(OrderScreen(paths, System(self.app.settings.units)))  # type: ignore[attr-defined]

    def action_folder(self) -> None:
        """The jobs of another folder."""

        def chosen(text: str | None) -> None:
            if text and text.strip():
                self._folder, self._lines = meant(text, self._folder), []
                self._look()

        self.app.push_screen(AskLine("The folder of the jobs", None, value=shown(self._folder)), chosen)


class OrderScreen(TextScreen):
    """What several jobs take, as one list."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("s", "save", "Save as CSV", id="order.save")]
    _csv = ""

    def __init__(self, paths: list[Path], system: System) -> None:
        title = f"Order list of {len(paths)} job{'s' if len(paths) > 1 else ''}"
        super().__init__(None, QuestionEntry("", title, ""))  # type: ignore[arg-type]
        self._paths, self._system = paths, system

    def begin(self) -> None:
        """Take them all off."""
        self._take_off()

    @long_work
    def _take_off(self) -> None:
        from ventsize.report.takeoff import as_csv, render
        from ventsize.studies.jobs_of_folder import order_of
        from ventsize.studies.pricing.own import own_prices
        from ventsize.studies.pricing.prices import cost, for_jobs
        from ventsize.studies.takeoff.practice import read_practice

        try:
            taken, prices = order_of(self._paths, practice=read_practice()), own_prices()
            costs = None if prices is None else cost(taken, for_jobs(prices, len(self._paths)))
            said, self._csv = render(taken, costs, self._system), as_csv(taken, costs, self._system)
        except InputError as error:
            said = f"! {error.problems[0]}"
        tell(self, self._show, said)

    def action_save(self) -> None:
        """The list as a file for a spreadsheet or for whom it is ordered from."""
        if not self._csv:
            return

        def chosen(path: Path | None) -> None:
            if path is None:
                return
            try:
                with path.open("x", encoding="utf-8", newline="") as file:  # never over another file
                    file.write(self._csv)
            except OSError as error:
                self.notify(f"Not written: {error}", severity="error", markup=False)
            else:
                self.notify(f"Written: {path}", markup=False)

        folder = self._paths[0].parent
        picker = FilePicker("Write the order list to", folder, suffixes=(".csv",), name="order-list.csv", saving=True)
        self.app.push_screen(picker, chosen)
