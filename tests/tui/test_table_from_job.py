"""From a run's verdict to the table and back; and which jobs a table judges, before it changes."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.tui.screens import as_text, running, scenario, typed, until, verdict
from ventsize.catalog.folders import shipped_table, user_jobs_folder, user_tables_folder
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.table.screen import TableScreen
from ventsize.tui.table.tables import TablesScreen
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.grid import Grid
from ventsize.tui.widgets.question import Question


def own_job(tmp_path: Path, *, without: str = "") -> Path:
    """The simple demonstration beside a table of its own, which may lack a deduction."""
    job = tmp_path / "job.toml"
    shutil.copy(scenario("simple-pass"), job)
    text = shipped_table("demo-two-stage.toml").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not (without and line.startswith(f"{without} ="))]
    (tmp_path / "demo-two-stage.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return job


async def test_one_key_opens_the_row_that_decided(tmp_path: Path) -> None:
    """T: the table of the run under the cursor, with the cursor on the length it was held to."""
    async with running(own_job(tmp_path)) as (app, pilot):
        answer = app.screen.found.table
        await pilot.press("ctrl+t")
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        grid = app.screen.query_one("#grid", Grid)
        ref = app.screen.area.cells.ref(grid.row, grid.column)
        row = next(row for row in answer.rows if row.input == answer.row_input and row.size_label == answer.row_size)
        assert ref.row == row.number - 1
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))


async def test_a_missing_deduction_is_typed_where_it_is_missing_and_the_verdict_follows(tmp_path: Path) -> None:
    """T, the length, Ctrl+S, Esc: incomplete before, settled after."""
    async with running(own_job(tmp_path, without="elbow-90-long")) as (app, pilot):
        assert "INCOMPLETE" in verdict(app).upper()
        await pilot.press("ctrl+t")
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        await pilot.pause()
        assert app.screen.area.fitting == "elbow-90-long"
        await typed(pilot, "4")
        await pilot.press("enter", "ctrl+s")
        await until(pilot, lambda: not app.screen.session.history.unsaved)
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        await until(pilot, lambda: "WITHIN" in verdict(app).upper())


async def test_a_run_shows_the_title_of_its_table(tmp_path: Path) -> None:
    """Not the name of the file; the file's name is what the job keeps."""
    async with running(own_job(tmp_path), size=(120, 40)) as (app, pilot):
        await pilot.press("up")
        await pilot.pause()
        assert "Demonstration" in as_text(app) and "demo-two-stage.toml" not in as_text(app)


def own_table() -> Path:
    """A table among the user's own, and a job that is judged by it."""
    path = user_tables_folder() / "mine.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    shutil.copy(shipped_table("demo-two-stage.toml"), path)
    job = user_jobs_folder() / "cabin.toml"
    job.parent.mkdir(parents=True, exist_ok=True)
    job.write_text(scenario("simple-pass").read_text(encoding="utf-8").replace("demo-two-stage.toml", "mine.toml"))
    return path


async def test_a_table_is_deleted_once_its_jobs_are_shown_and_comes_back() -> None:
    """X names the job; D puts the table aside; Ctrl+Z brings it back."""
    path = own_table()
    async with running() as (app, pilot):
        await pilot.press("6")
        await until(pilot, lambda: isinstance(app.screen, TablesScreen) and app.screen.table is not None)
        await pilot.press("x")
        await until(pilot, lambda: isinstance(app.screen, Question))
        assert "cabin.toml" in as_text(app) and path.exists()
        await pilot.press("d")
        await until(pilot, lambda: not path.exists())
        await pilot.press("ctrl+z")
        await until(pilot, path.exists)


async def test_renaming_shows_whom_it_touches_and_finds_jobs_elsewhere(tmp_path: Path) -> None:
    """A job in another folder is not known until that folder is looked in; then it is renamed too."""
    path = own_table()
    away = tmp_path / "elsewhere" / "away.toml"
    away.parent.mkdir()
    shutil.copy(user_jobs_folder() / "cabin.toml", away)
    async with running() as (app, pilot):
        await pilot.press("6")
        await until(pilot, lambda: isinstance(app.screen, TablesScreen) and app.screen.table is not None)
        await pilot.press("e")
        await until(pilot, lambda: isinstance(app.screen, Question))
        assert "cabin.toml" in as_text(app) and "away.toml" not in as_text(app)
        await pilot.press("f")
        await until(pilot, lambda: isinstance(app.screen, AskLine))
        app.screen.query_one("Input").value = str(away.parent)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, Question))
        assert "away.toml" in as_text(app)
        await pilot.press("r")
        await until(pilot, lambda: isinstance(app.screen, AskLine))
        app.screen.query_one("Input").value = "ours.toml"
        await pilot.press("enter")
        await until(pilot, lambda: not path.exists())
        for job in (away, user_jobs_folder() / "cabin.toml"):
            await until(pilot, lambda job=job: '"ours.toml"' in job.read_text(encoding="utf-8"))
