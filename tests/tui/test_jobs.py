"""The jobs of a folder by keys: states, copies, new names, the archive, and one order list."""

from __future__ import annotations

import shutil
import tomllib
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from textual.pilot import Pilot

from tests.tui.screens import as_text, running, scenario, typed, until
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.jobs import JobsScreen, OrderScreen
from ventsize.tui.questions import QUESTIONS
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.rows import Rows


@asynccontextmanager
async def listed(folder: Path) -> AsyncIterator[tuple[Any, Pilot[int]]]:
    """Two jobs and one that cannot be read, listed."""
    for name in ("old-two-inch-run", "simple-pass"):
        shutil.copy(scenario(name), folder)
    (folder / "broken.toml").write_text("[[run]\n", encoding="utf-8")
    async with running() as (app, pilot):
        app.push_screen(JobsScreen(folder))
        await until(pilot, lambda: "3 jobs" in as_text(app))
        yield app, pilot


async def test_each_with_its_verdict_and_state(tmp_path: Path) -> None:
    """What cannot be read says why; n sets the next state, in the file; Enter opens the job."""
    async with listed(tmp_path) as (app, pilot):
        assert "✗ over" in as_text(app) and "✓ within" in as_text(app)
        assert "! broken.toml" in as_text(app)
        await pilot.press("down", "n")
        await until(pilot, lambda: "to measure" in as_text(app))
        await pilot.press("n")
        await until(pilot, lambda: "offered" in as_text(app))
        assert tomllib.loads((tmp_path / "old-two-inch-run.toml").read_text(encoding="utf-8"))["state"] == "offered"
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))


async def test_a_job_that_is_not_within_is_not_marked_ordered_unasked(tmp_path: Path) -> None:
    """What is over is ordered and built only after a question, which Enter and Esc answer by leaving it."""
    async with listed(tmp_path) as (app, pilot):
        path = tmp_path / "old-two-inch-run.toml"

        def state() -> object:
            return tomllib.loads(path.read_text(encoding="utf-8")).get("state")

        assert "Replacement on" in as_text(app) and "old-two-inch" not in as_text(app)  # by its title
        await pilot.press("down", "n")
        await until(pilot, lambda: "to measure" in as_text(app))
        await pilot.press("n")
        await until(pilot, lambda: state() == "offered" and "offered" in as_text(app) and not app._notifications)
        for answer in ("enter", "escape"):
            await until(pilot, lambda: "offered" in str(app.screen.query_one(Rows).current.cells))
            await pilot.press("n")
            await until(pilot, lambda: isinstance(app.screen, Question))
            assert "OVER" in as_text(app)
            await pilot.press(answer)
            await until(pilot, lambda: isinstance(app.screen, JobsScreen))
            assert state() == "offered"
        await pilot.press("n")
        await until(pilot, lambda: isinstance(app.screen, Question))
        await pilot.press("y")
        await until(pilot, lambda: state() == "ordered")


async def test_copied_renamed_put_away(tmp_path: Path) -> None:
    """d and e ask for a name; nothing there is written over; x moves it into the archive."""
    async with listed(tmp_path) as (app, pilot):
        await pilot.press("end", "d", "enter")
        await until(pilot, lambda: (tmp_path / "simple-pass-copy.toml").is_file())
        await pilot.press("e", "ctrl+u")
        await typed(pilot, "old-two-inch-run")
        await pilot.press("enter")
        await until(pilot, lambda: "already" in as_text(app))
        await pilot.press("e", "ctrl+u")
        await typed(pilot, "next")
        await pilot.press("enter")
        await until(pilot, lambda: (tmp_path / "next.toml").is_file())
        await until(pilot, lambda: "next" in as_text(app))
        app.screen.query_one(Rows).go(1)
        await pilot.press("x")
        await until(pilot, lambda: len(list((tmp_path / "archive").glob("*.toml"))) == 1)


async def test_one_order_list(tmp_path: Path) -> None:
    """Of the jobs marked, or of the one under the cursor."""
    async with listed(tmp_path) as (app, pilot):
        await pilot.press("down", "space", "space", "o")
        await until(pilot, lambda: isinstance(app.screen, OrderScreen) and "Takeoff" in as_text(app))
        assert "of 2 jobs" in as_text(app) and "elbow-90-short" in as_text(app) and "elbow-90-long" in as_text(app)
        await pilot.press("s")
        await until(pilot, lambda: app.screen.query("Input:focus"))
        await pilot.press("enter")
        await until(pilot, lambda: (tmp_path / "order-list.csv").is_file())
    assert "elbow-90-short" in (tmp_path / "order-list.csv").read_text(encoding="utf-8")


def test_the_order_list_is_found_among_the_reports() -> None:
    """By the word that somebody who orders types."""
    assert [q.name for q in QUESTIONS if "order" in f"{q.title} {q.answers}".split()] == ["takeoff"]
