"""Every screen at both sizes as text that can be read in a diff; what it shows is asserted first.

A picture says how a screen looked when a person last agreed to it, not that its figures are right. Set
VENTSIZE_PICTURES=1 in the environment to draw them anew.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from textual.widgets import Static

from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, until, verdict
from tests.tui.test_count import counted
from tests.tui.test_tables import PAGE, new_table, paste
from ventsize.tui.count import CountScreen
from ventsize.tui.settings_screen import SettingsScreen
from ventsize.tui.table import tables
from ventsize.tui.table.screen import TableScreen
from ventsize.tui.table.tables import TablesScreen
from ventsize.tui.widgets.rows import Rows

PICTURES = Path(__file__).parent / "pictures"
SIZES = {"80x24": SMALL, "120x40": LARGE}


def compare(name: str, drawn: str) -> None:
    """Hold a screen against its picture."""
    path = PICTURES / f"{name}.txt"
    if os.environ.get("VENTSIZE_PICTURES"):
        path.write_text(drawn, encoding="utf-8")
    assert drawn == path.read_text(encoding="utf-8")


@pytest.mark.parametrize("size", SIZES)
async def test_first_screen(size: str) -> None:
    """The first screen carries the cautions, and says how to begin."""
    async with running(size=SIZES[size]) as (app, _):
        drawn = " ".join(as_text(app).split())
    for words in ("Check a run", "carbon monoxide", "CO alarm", "licensed"):
        assert words in drawn


@pytest.mark.parametrize("size", SIZES)
async def test_count(size: str) -> None:
    """The form of the verdict by count."""
    async with running(size=SIZES[size]) as (app, pilot):
        await pilot.press("1")
        await until(pilot, lambda: isinstance(app.screen, CountScreen) and app.screen.query("Input:focus"))
        assert "still needed" in as_text(app)
        compare(f"count-{size}", as_text(app))


@pytest.mark.parametrize("size", SIZES)
async def test_count_with_a_verdict(size: str) -> None:
    """The verdict, what is assumed, and what to do next."""
    async with running(size=SIZES[size]) as (app, pilot):
        await counted(app, pilot)
        await pilot.pause()
        assert verdict(app).startswith("✓ WITHIN") and "Next: " in as_text(app)
        compare(f"count-verdict-{size}", as_text(app))


@pytest.mark.parametrize("size", SIZES)
async def test_tables(size: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The list of tables: one's own folder on top, the demonstrations marked as invented."""
    monkeypatch.setattr(tables, "known_jobs", list)
    async with running(size=SIZES[size]) as (app, pilot):
        await pilot.press("6")
        await until(pilot, lambda: isinstance(app.screen, TablesScreen) and app.screen.table is not None)
        assert "invented, read-only" in as_text(app)
        compare(f"tables-{size}", as_text(app))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("table", ["demo-two-stage", "demo-elbow-count"])
async def test_table(size: str, table: str) -> None:
    """Each part of a table, of either kind of rows."""
    async with running(size=SIZES[size]) as (app, pilot):
        app.push_screen(TableScreen(f"{table}.toml"))
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        for key, part in (("f2", "rows"), ("f3", "deductions"), ("f4", "source")):
            await pilot.press(key)
            await pilot.pause()
            assert "Usable" in str(app.screen.query_one("#table-state", Static).content)
            await until(pilot, lambda: not app._animator._animations)
            compare(f"table-{table.removeprefix('demo-')}-{part}-{size}", as_text(app))


@pytest.mark.parametrize("size", SIZES)
async def test_table_with_a_likely_slip(size: str) -> None:
    """A row pointed at, and a fault in full."""
    async with running(size=SIZES[size]) as (app, pilot):
        await new_table(app, pilot)
        await paste(app, pilot, PAGE.replace("151", "511"))
        app.clear_notifications()
        await pilot.press("n")
        await until(pilot, lambda: "two digits swapped" in " ".join(as_text(app).split()))
        await until(pilot, lambda: not app._animator._animations and not app._notifications)
        compare(f"table-slip-{size}", as_text(app))


@pytest.mark.parametrize("size", SIZES)
async def test_settings(size: str) -> None:
    """Fields and keys."""
    async with running(size=SIZES[size]) as (app, pilot):
        await pilot.press("f10")
        await until(pilot, lambda: isinstance(app.screen, SettingsScreen) and app.screen.gathered)
        shown = as_text(app)
        assert "Usual altitude" in shown and "Keys" in shown
        compare(f"settings-{size}", "\n".join(shown.splitlines()[:9]) + "\n")


@pytest.mark.parametrize("size", SIZES)
async def test_job(size: str) -> None:
    """Each part of an open job, the verdict in sight on all of them."""
    async with running(scenario("simple-pass"), size=SIZES[size]) as (app, pilot):
        for key, area in (("f2", "runs"), ("f3", "appliance"), ("f4", "site"), ("f5", "pressure")):
            await pilot.press(key)
            await pilot.pause()
            assert "WITHIN" in as_text(app).splitlines()[1]
            assert app.screen.query_one("#outline", Rows).rows
            await until(pilot, lambda: not app._animator._animations)
            compare(f"job-{area}-{size}", as_text(app))
