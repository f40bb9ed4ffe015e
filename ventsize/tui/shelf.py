"""The first screen: what can be begun, what was open last, and the demonstration jobs with their stories."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Footer, Static

from ventsize.tui.settings import recent_jobs
from ventsize.tui.widgets.rows import Cell, Column, Row, Rows
from ventsize.tui.widgets.text import one_line

CAUTION = (
    "A vent that is too long, blocked, leaking or wrongly built can put carbon monoxide in a building. Results are "
    "estimates: the appliance maker's instructions and the local code decide, and the work is a licensed installer's. "
    "After any change to a vent: a combustion check, a leak check, and a working CO alarm."
)

BEGIN = (
    ("count", "Verdict by count", "feet and fittings, held to a table",
     "feet and fittings of a vent, and the maker's table: a verdict in a minute"),
    ("layout", "New job, laid out", "walk the route: up 3, north 12 6",
     "walk the route: up 3, north 12 6, end; elbows are proposed as you turn"),
    ("table", "Allowance tables", "type in what the maker allows",
     "type one in from the maker's instructions; yours and the demonstrations"),
    ("open", "Open a job file", "from a folder, or by its path", "chosen in its folder, or typed as a path"),
    ("jobs", "The jobs of a folder", "verdict, cost and state of each",
     "each with its verdict, margin, cost and state; copied, renamed, put away; one order list of several"),
)  # fmt: skip
"""What can be begun: its name, its title, what it is in a few words that fit the narrowest screen, and in full."""


class ShelfScreen(Screen[None]):
    """Enter opens what the cursor is on."""

    DEFAULT_CSS = """
    ShelfScreen {
        & #shelf-title { height: 1; padding: 0 1; text-style: bold; background: $panel; }
        & #shelf-rows { height: 1fr; }
        & #story { height: auto; max-height: 9; padding: 0 1; border-top: solid $panel-lighten-2; }
        & #caution { height: auto; padding: 0 1; color: $text-warning; border-top: solid $panel-lighten-2; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "begin('count')", "Verdict by count", id="shelf.count"),
        Binding("w", "begin('layout')", "Lay out", id="shelf.layout"),
        Binding("t", "begin('table')", "Table", id="shelf.table"),
        Binding("o", "begin('open')", "Open", id="shelf.open"),
        Binding("J", "begin('jobs')", "Jobs", id="shelf.jobs"),
    ]

    topic = "shelf"

    def compose(self) -> ComposeResult:
        """The list, the story of what the cursor is on, the cautions."""
        yield Static("ventsize: is the vent within its allowance?", id="shelf-title")
        with Vertical():
            yield Rows([Column(width=30, grow=1), Column(width=30, grow=1)], head=False, id="shelf-rows")
        with VerticalScroll(id="story", can_focus=False):
            yield Static("", id="story-text", markup=False)
        yield Static(Content("! " + CAUTION), id="caution")
        yield Footer()

    def on_mount(self) -> None:
        """What needs no file first, then the jobs."""
        self._stories: dict[Any, str] = {}
        self._offers: list[Any] = []
        self._show([], [])
        self.query_one(Rows).focus()
        self._look()

    def on_screen_resume(self) -> None:
        """A job opened meanwhile is a recent one now."""
        if hasattr(self, "_stories"):
            self._look()

    def look(self) -> None:
        """Look again what there is."""
        self._look()

    @work(thread=True, exclusive=True)
    def _look(self) -> None:
        from ventsize.catalog.folders import shipped_folder, user_folder
        from ventsize.jobfile.recovery import pending_recoveries

        offers = list(pending_recoveries(user_folder()))
        jobs = [("job", path) for path in recent_jobs()]
        jobs += [("demo", path) for path in sorted(shipped_folder("scenarios").glob("*.toml"))]
        found = [(kind, path, *_title_and_story(path)) for kind, path in jobs]
        if not self.app._exit:  # closed while looking
            self.app.call_from_thread(self._show, found, offers)

    def _show(self, jobs: list[tuple[str, Path, str, str]], offers: list[Any]) -> None:
        self._offers = offers
        rows = [Row(across="Begin", tone="group", selectable=False)]
        rows += [Row(key=("begin", name), cells=(f"  {title}", Cell(said, "faint"))) for name, title, said, _ in BEGIN]
        if offers:
            rows.append(Row(across="Left unsaved when the program stopped", tone="group", selectable=False))
            for n, offer in enumerate(offers):
                file = offer.snapshot.file
                said = f"{file.name if file else 'new job'}, {offer.snapshot.when.astimezone():%d %b %H:%M}"
                rows.append(Row(key=("offer", n), cells=(f"  {_name(offer)}", Cell(said, "warn"))))
        for kind, title in (("job", "Opened last"), ("demo", "Demonstration jobs (invented)")):
            some = [job for job in jobs if job[0] == kind]
            if some:
                rows.append(Row(across=title, tone="group", selectable=False))
            for _, path, name, story in some:
                self._stories[kind, str(path)] = story
                rows.append(Row(key=(kind, str(path)), cells=(f"  {name}", Cell(path.name, "faint"))))
        self.query_one(Rows).show(rows)
        self._tell()

    def on_rows_moved(self, event: Rows.Moved) -> None:
        """The story follows the cursor."""
        event.stop()
        self._tell()

    def _tell(self) -> None:
        row = self.query_one(Rows).current
        story = self._stories.get(row.key, "") if row else ""
        if row and row.key and row.key[0] == "begin":
            story = next(said for name, _, _, said in BEGIN if name == row.key[1])
        elif row and row.key and row.key[0] == "offer":
            story = "Enter shows what it changes in the saved file: go on with it, open both, or drop it."
        self.query_one("#story-text", Static).update(Content(story or "No story with this job."))

    def on_rows_typed(self, event: Rows.Typed) -> None:
        """No value is typed here; the keys after a digit are commands again."""
        event.stop()
        event.rows.take_typed()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Begin or open."""
        event.stop()
        row = event.rows.current
        if row is None or row.key is None:
            return
        kind, what = row.key
        if kind == "begin":
            self.action_begin(what)
        elif kind == "offer":
            from ventsize.tui.offering import take_up

            take_up(self.app, self._offers[what])
        else:
            self.app.open_job(Path(what))  # type: ignore[attr-defined]

    def action_begin(self, what: str) -> None:
        """Start something new."""
        if what == "count":
            from ventsize.tui.count import CountScreen

            self.app.push_screen(CountScreen())
        elif what == "layout":
            from ventsize.tui.job.edits import laid_out_job
            from ventsize.tui.job.screen import JobScreen
            from ventsize.tui.job.session import Session

            self.app.push_screen(JobScreen(Session(laid_out_job(), path=None)))
        elif what == "table":
            from ventsize.tui.table.tables import TablesScreen

            self.app.push_screen(TablesScreen())
        elif what == "jobs":
            from ventsize.catalog.folders import user_jobs_folder
            from ventsize.tui.jobs import JobsScreen

            folder = user_jobs_folder()
            self.app.push_screen(JobsScreen(folder if folder.is_dir() else Path.cwd()))
        else:
            from ventsize.catalog.folders import user_jobs_folder
            from ventsize.tui.widgets.file_picker import FilePicker

            def chosen(path: Path | None) -> None:
                if path is not None:
                    self.app.open_job(path)  # type: ignore[attr-defined]

            folder = user_jobs_folder()
            here = folder if folder.is_dir() else Path.cwd()
            self.app.push_screen(FilePicker("Open a job file", here), chosen)


def _name(offer: Any) -> str:
    return one_line(offer.snapshot.data.get("title", "work without a title"))


def _title_and_story(path: Path) -> tuple[str, str]:
    """A job's title and note. A file that cannot be read is listed all the same, with what is wrong."""
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        return path.stem, f"This file cannot be read: {error}"
    return one_line(data.get("title", path.stem)), one_line(data.get("note", ""))
