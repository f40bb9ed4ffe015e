"""Options, repairs, headroom and takeoff on screen: by keys alone, their answer put into the job as one edit."""

from __future__ import annotations

import shutil
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest

from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, typed, until, verdict
from tests.tui.test_pictures import SIZES, compare
from ventsize.catalog.folders import shipped_table
from ventsize.studies.pricing.own import keep_prices
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.questions import QUESTIONS
from ventsize.tui.questions.choosing import ChoosingForm
from ventsize.tui.questions.editing import EditingScreen
from ventsize.tui.widgets.file_picker import FilePicker
from ventsize.tui.widgets.rows import Rows

DONE = {"options": "looked at;", "repairs": "changes,", "headroom": "straight pipe allowed by", "takeoff": "otal"}


@asynccontextmanager
async def asked(name: str, job: str | Path, *, size: tuple[int, int] = SMALL) -> AsyncIterator[tuple[Any, Any]]:
    """A question asked of a demonstration job, once it is answered."""
    entry = next(question for question in QUESTIONS if question.name == name)
    async with running(scenario(job) if isinstance(job, str) else job, size=size) as (app, pilot):
        app.push_screen(entry.open(app.screen.session))
        await until(pilot, lambda: isinstance(app.screen, EditingScreen) and answered(app, name))
        yield app, pilot


def answered(app: Any, name: str) -> object:
    """Whether the answer is there."""
    text = as_text(app)
    rows = app.screen.query(Rows)
    there = DONE[name] in text or "No prices" in text
    return there and not getattr(app.screen, "looking", False) and (not rows or rows.first().rows)


def prices() -> None:
    """The invented list, kept as the user's own."""
    keep_prices(shipped_table("invented-prices.toml"))


async def test_an_option_is_taken_and_given_back() -> None:
    """Enter puts the cheapest into the job, and the screen leaves: nothing worse is under the cursor then.

    The verdict follows; Ctrl+Z gives the old run back.
    """
    prices()
    async with asked("options", "old-two-inch-run") as (app, pilot):
        before = app.screen.session.data
        assert "OVER" in verdict(app) and "Cheapest first" in as_text(app)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, JobScreen) and "WITHIN" in verdict(app))
        assert app.screen.session.data != before
        await pilot.press("ctrl+z")
        await until(pilot, lambda: "OVER" in verdict(app))
        assert app.screen.session.data == before


async def test_options_sorted_and_the_others_told() -> None:
    """O sorts anew, F lists those that fail with why; one of those is not taken."""
    async with asked("options", "old-two-inch-run") as (app, pilot):
        first = app.screen.query_one(Rows).rows[0].key
        await pilot.press("v")
        await pilot.pause()
        assert "Fewest joints first" in as_text(app) and app.screen.query_one(Rows).rows[0].key != first
        await pilot.press("m")
        await pilot.pause()
        shown = " ".join(as_text(app).split())
        assert "Not within, nearest first" in shown and "It would take" in shown
        before = app.screen.session.data
        await pilot.press("enter")
        await pilot.pause()
        assert app.screen.session.data == before


async def test_no_acceptable_option() -> None:
    """Where nothing is within the nearest misses are listed, with what each would take."""
    async with asked("options", "no-acceptable-option") as (app, pilot):
        await until(pilot, lambda: "0 within" in as_text(app) and "It would take" in as_text(app))
        assert "18 ft shorter" in " ".join(as_text(app).split())


async def test_a_long_search_is_stopped() -> None:
    """Each elbow by itself makes 72,900: the list fills meanwhile, and Esc stops it at once where it is."""
    async with asked("options", "old-two-inch-run") as (app, pilot):
        await pilot.press("e")
        await until(pilot, lambda: isinstance(app.screen, ChoosingForm) and app.screen.query("Input:focus"))
        for downs, text in (
            (2, "pvc-40,cpvc-40,abs-40"),
            (2, "yes"),
            (1, "terminal-open,terminal-screened,terminal-elbow-down"),
        ):
            await pilot.press(*["down"] * downs)
            await typed(pilot, text)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, EditingScreen) and " of 72,900" in as_text(app))
        asked_at = time.monotonic()
        await pilot.press("escape")
        await until(pilot, lambda: "STOPPED" in as_text(app))
        assert time.monotonic() - asked_at < 2.0  # 0.02 to 0.23 s measured; the rest is for a busy machine
        assert app.screen.query_one(Rows).rows
        looked_at = app.screen._ranking.looked_at
        await pilot.pause(0.3)
        assert looked_at == app.screen._ranking.looked_at < 72_900


async def test_what_cannot_be_chosen_is_said_in_the_form() -> None:
    """The form stays, with one sentence."""
    async with asked("options", "old-two-inch-run") as (app, pilot):
        await pilot.press("e")
        await until(pilot, lambda: isinstance(app.screen, ChoosingForm) and app.screen.query("Input:focus"))
        await pilot.press("down", "down")
        await typed(pilot, "cardboard")
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, ChoosingForm) and "cardboard" in as_text(app)
        await pilot.press("escape")
        assert isinstance(app.screen, EditingScreen)


async def test_a_repair_is_made_and_given_back() -> None:
    """Enter makes the change, the screen leaves with the job within; undo gives it back."""
    prices()
    async with asked("repairs", "old-two-inch-run") as (app, pilot):
        before = app.screen.session.data
        await pilot.press("v", "end")
        await pilot.pause()
        assert "cheapest new parts first" in as_text(app)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, JobScreen) and "WITHIN" in verdict(app))
        await pilot.press("ctrl+z")
        await until(pilot, lambda: "OVER" in verdict(app))
        assert app.screen.session.data == before


async def test_what_cannot_be_repaired_yet_says_so() -> None:
    """A run that its table does not cover has no changes to choose from, and says why not."""
    async with asked("repairs", "not-in-the-table") as (app, pilot):
        await until(pilot, lambda: "nothing can be repaired before this is settled" in as_text(app))
        assert "NOT COVERED" in verdict(app)


async def test_headroom_by_keys() -> None:
    """The run stands on the chart, for the table and for the calculation, with any elbow counted."""
    async with asked("headroom", "simple-pass") as (app, pilot):
        assert "R" in as_text(app) and "▲" in as_text(app)
        await pilot.press("v")
        await pilot.pause()
        assert "by calculation" in as_text(app)
        await pilot.press("e")
        await pilot.pause()
        await typed(pilot, "elbow-45-long")
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, EditingScreen) and "elbow-45-long" in as_text(app))


async def test_prices_are_taken_in(tmp_path: Path) -> None:
    """P, a name, Enter: each line has its price then; a list with a fault is refused in a sentence."""
    good, bad = tmp_path / "mine.csv", tmp_path / "bad.csv"
    good.write_text("item,price,currency\npipe,10.50,CAD\n", encoding="utf-8")
    bad.write_text("item,price,currency\npipe,cheap,CAD\n", encoding="utf-8")
    job = Path(shutil.copy(scenario("old-two-inch-run"), tmp_path))  # files are looked for beside it first
    async with asked("takeoff", job) as (app, pilot):
        assert "no prices" in as_text(app)
        for path, said in ((bad, "cheap"), (good, "31.50")):
            await pilot.press("i")
            await until(pilot, lambda: isinstance(app.screen, FilePicker))
            await typed(pilot, path.name)
            await pilot.press("enter")
            await until(pilot, lambda said=said: isinstance(app.screen, EditingScreen) and said in as_text(app))
        assert "missing" in as_text(app) and "at least 31.50 CAD" in as_text(app)


async def test_a_missing_price_is_typed_on_the_takeoff() -> None:
    """Enter on a line asks its price; a wrong one is refused in place, a right one is kept and the total follows."""
    async with asked("takeoff", "old-two-inch-run") as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: "Price of one pipe 2 in" in as_text(app))
        await typed(pilot, "cheap")
        await pilot.press("enter")
        await until(pilot, lambda: "is not a number" in as_text(app))
        await pilot.press("ctrl+u")
        await typed(pilot, "$10.50")
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, EditingScreen) and "31.50" in as_text(app))
        assert "at least" in as_text(app) and "missing" in as_text(app)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("name", "keys"), [("options", ()), ("repairs", ("end",)), ("headroom", ()), ("takeoff", ())])
async def test_pictures(name: str, keys: tuple[str, ...], size: str) -> None:
    """Each at both sizes, with prices."""
    prices()
    async with asked(name, "old-two-inch-run", size=SIZES[size]) as (app, pilot):
        await pilot.press(*keys)
        await pilot.pause()
        assert "OVER" in verdict(app)
        compare(f"{name}-{size}", as_text(app))


@pytest.mark.parametrize("size", SIZES)
async def test_picture_of_the_cut_list(size: str) -> None:
    """Bars to one scale."""
    async with asked("takeoff", "old-two-inch-run", size=SIZES[size]) as (app, pilot):
        await pilot.press("f3")
        await until(pilot, lambda: "rest" in as_text(app) and not app._animator._animations)
        assert "█" in as_text(app) and "3 lengths, the fewest" in as_text(app)
        compare(f"cut-list-{size}", as_text(app))


def test_sizes_are_what_they_are_called() -> None:
    """The pictures are of the sizes in their names."""
    assert {"80x24": SMALL, "120x40": LARGE} == SIZES
