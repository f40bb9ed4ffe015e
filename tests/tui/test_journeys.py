"""The three people's errands, by keys alone; one by mouse alone."""

from __future__ import annotations

import shutil
import tomllib
from pathlib import Path

import pytest

from tests.tui.screens import LARGE, running, scenario, typed, until, verdict
from ventsize.tui.job.form import Form
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.widgets.rows import Rows


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of a demonstration job that may be changed."""
    return Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))


async def test_tech_changes_one_length_and_the_verdict_follows(job: Path) -> None:
    """A digit typed on a pipe is its new length; every keystroke that makes a value is judged."""
    async with running(job) as (app, pilot):
        assert verdict(app).startswith("✓ WITHIN")
        await typed(pilot, "150")
        assert verdict(app).startswith("✗ OVER")


async def test_an_invalid_value_is_explained_and_esc_puts_back(job: Path) -> None:
    """Nothing blocks: the last result stays, marked; Esc brings back what was there."""
    async with running(job) as (app, pilot):
        await typed(pilot, "7 bananas")
        assert "PREVIOUS RESULT" in verdict(app) and "bananas" in verdict(app)
        await pilot.press("escape")
        assert verdict(app).startswith("✓ WITHIN   vent: 102.0 ft to spare")


async def test_undo_takes_back_a_field_at_once_and_redo_brings_it_back(job: Path) -> None:
    """Keystrokes in one field are one step."""
    async with running(job) as (app, pilot):
        before = app.screen.session.data
        await typed(pilot, "150")
        await pilot.press("enter", "u")
        await pilot.pause()
        assert app.screen.session.data == before
        await pilot.press("ctrl+y")
        await pilot.pause()
        assert app.screen.session.data["run"][0]["pieces"][0]["pipe"] == "150 ft"


async def test_estimator_walks_a_route_with_elbows_proposed() -> None:
    """Headings and lengths; where two headings differ an elbow comes of itself."""
    async with running() as (app, pilot):
        await pilot.press("2")
        await until(pilot, lambda: isinstance(app.screen, JobScreen) and app.screen.query("#outline:focus"))
        screen = app.screen
        await pilot.press("w")
        for step in ("up 3", "n 12 6", "end"):
            await typed(pilot, step)
            await pilot.press("enter")
        await pilot.press("escape")
        await pilot.pause()
        assert screen.session.data["run"][0]["pieces"] == [
            {"pipe": "3 ft", "heading": "up"},
            {"fitting": "elbow-90-long"},
            {"pipe": "12 ft 6 in", "heading": "north"},
            {"fitting": "terminal-open"},
        ]


async def test_estimator_adds_moves_and_removes_pieces(job: Path) -> None:
    """The list's letters: add, move, remove."""
    async with running(job) as (app, pilot):
        pieces = app.screen.session.data["run"][0]["pieces"]
        await pilot.press("a")
        await typed(pilot, "coupling")
        await pilot.press("enter")
        await pilot.pause()
        screen = app.screen
        assert screen.session.data["run"][0]["pieces"][1] == {"fitting": "coupling"}
        await pilot.press("greater_than_sign")
        await pilot.pause()
        assert screen.session.data["run"][0]["pieces"][2] == {"fitting": "coupling"}
        await pilot.press("x")
        await pilot.pause()
        assert screen.session.data["run"][0]["pieces"] == pieces


async def test_estimator_cuts_and_pastes(job: Path) -> None:
    """Pieces taken out go in again after the cursor."""
    async with running(job) as (app, pilot):
        await pilot.press("down", "ctrl+x")
        await pilot.pause()
        assert len(app.screen.session.data["run"][0]["pieces"]) == 5
        await pilot.press("ctrl+v")
        await pilot.pause()
        assert len(app.screen.session.data["run"][0]["pieces"]) == 6


async def test_instructor_makes_every_long_elbow_short(job: Path) -> None:
    """One key changes all of a kind in the run."""
    async with running(job) as (app, pilot):
        screen = app.screen
        await pilot.press("down", "e")
        await typed(pilot, "elbow-90-short")
        await pilot.press("enter")
        await pilot.pause()
        names = [p.get("fitting") for p in screen.session.data["run"][0]["pieces"]]
        assert names.count("elbow-90-short") == 2 and "elbow-90-long" not in names


async def test_instructor_looks_at_the_pressure_and_the_cautions(job: Path) -> None:
    """Each part of the job is one key away, with the verdict still in sight."""
    async with running(job, size=LARGE) as (app, pilot):
        await pilot.press("f5")
        await pilot.pause()
        assert "pressure still to be lost" in str(app.screen.query_one("#chart").content)
        await pilot.press("f6")
        await pilot.pause()
        assert "carbon monoxide" in str(app.screen.query_one("#cautions").content)
        assert "WITHIN" in verdict(app)


async def test_estimator_saves_and_the_comments_stay(job: Path) -> None:
    """A hand-written file keeps its comments; the change is in it."""
    async with running(job) as (app, pilot):
        await typed(pilot, "5")
        await pilot.press("enter", "ctrl+s")
        await until(pilot, lambda: not app.screen.session.history.unsaved)
    text = job.read_text(encoding="utf-8")
    assert "# Everything in this job is invented." in text
    assert tomllib.loads(text)["run"][0]["pieces"][0]["pipe"] == "5 ft"


async def test_a_file_changed_by_someone_else_is_not_overwritten(job: Path) -> None:
    """The question comes before anything is written; Esc leaves the file alone."""
    async with running(job) as (app, pilot):
        await typed(pilot, "5")
        await pilot.press("enter")
        job.write_text(job.read_text(encoding="utf-8") + "# theirs\n", encoding="utf-8")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert type(app.screen).__name__ == "Question"
        await pilot.press("escape")
    assert job.read_text(encoding="utf-8").endswith("# theirs\n")


async def test_odd_text_neither_crashes_nor_vanishes(job: Path) -> None:
    """What looks like markup is shown as typed."""
    async with running(job) as (app, pilot):
        await pilot.press("f4", "up")
        await pilot.pause()
        await typed(pilot, "[/x] [b]")
        await pilot.pause()
        assert str(app.screen.query_one("#job-title").content).startswith("[/x] [b]")


async def test_by_mouse_alone(job: Path) -> None:
    """A click on a row, a click into its field, a click on a tab."""
    async with running(job) as (app, pilot):
        await pilot.click("#outline", offset=(10, 4))
        await pilot.pause()
        assert app.screen.query_one("#outline", Rows).row == 3
        await pilot.click("#piece-form Input")
        await pilot.pause()
        assert app.screen.query_one("#piece-form", Form).topic() == "length"
        await pilot.click("#--content-tab-site")
        await pilot.pause()
        assert app.screen.query_one("TabbedContent").active == "site"  # type: ignore[attr-defined]
