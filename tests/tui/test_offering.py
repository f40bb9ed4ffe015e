"""Work left unsaved: shown by what it changes, gone on with, dropped, or looked at beside the saved file."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.tui.screens import as_text, running, scenario, typed, until
from ventsize.catalog.folders import user_folder
from ventsize.jobfile.recovery import pending_recoveries
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.offering import OfferScreen
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.rows import Rows


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of a demonstration job that may be changed."""
    return Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))


async def killed(job: Path) -> None:
    """Type 77 ft into the first pipe, and die."""
    async with running(job) as (app, pilot):
        await typed(pilot, "77")
        await until(pilot, lambda: app.screen.session.history.unsaved)
        app.screen.session.journal._lock.release()  # as the end of a process does


async def offered(app: Any, pilot: Any) -> None:
    """The offer, opened from the first screen."""
    rows = app.screen.query_one(Rows)
    await until(pilot, lambda: rows.index_of(("offer", 0)) is not None)
    rows.go(rows.index_of(("offer", 0)) or 0)
    await pilot.press("enter")
    await until(pilot, lambda: isinstance(app.screen, OfferScreen))


async def test_the_offer_says_what_differs_and_goes_on(job: Path) -> None:
    """In the trade's words, against the file as it is."""
    await killed(job)
    async with running() as (app, pilot):
        await offered(app, pilot)
        assert "run 'vent', piece 1, pipe: 4 ft 6 in -> 77 ft" in as_text(app)
        await pilot.press("g")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        assert app.screen.session.data["run"][0]["pieces"][0]["pipe"] == "77 ft"


async def test_dropping_is_asked_twice_and_leaves_the_file(job: Path) -> None:
    """Esc at the second question keeps the work."""
    await killed(job)
    before = job.read_text(encoding="utf-8")
    async with running() as (app, pilot):
        for keys, left in ((("d", "escape"), 1), (("d", "d"), 0)):
            await offered(app, pilot)
            await pilot.press(keys[0])
            await until(pilot, lambda: isinstance(app.screen, Question))
            await pilot.press(keys[1])
            await pilot.pause()
            assert len(pending_recoveries(user_folder())) == left
    assert job.read_text(encoding="utf-8") == before


async def test_both_are_opened(job: Path) -> None:
    """The work on top, the file as saved below it."""
    await killed(job)
    async with running() as (app, pilot):
        await offered(app, pilot)
        await pilot.press("b")
        await until(pilot, lambda: len([s for s in app.screen_stack if isinstance(s, JobScreen)]) == 2)
        saved, work = (s.session.data["run"][0]["pieces"][0]["pipe"] for s in app.screen_stack[-2:])  # type: ignore
        assert (saved, work) == ("4 ft 6 in", "77 ft")


async def test_it_is_offered_where_its_file_is_opened(job: Path) -> None:
    """The next start with the same job need not pass the first screen."""
    await killed(job)
    async with running() as (app, pilot):
        app.open_job(job)
        await until(pilot, lambda: isinstance(app.screen, OfferScreen))
        await pilot.press("g")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        await until(pilot, lambda: app.screen.session.data["run"][0]["pieces"][0]["pipe"] == "77 ft")
        assert len([s for s in app.screen_stack if isinstance(s, JobScreen)]) == 1
