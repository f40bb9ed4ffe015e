"""Every screen at both sizes as text that can be read in a diff; what it shows is asserted first.

A picture says how a screen looked when a person last agreed to it, not that its figures are right. Set
VENTSIZE_PICTURES=1 in the environment to draw them anew.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, until
from ventsize.tui.count import CountScreen
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
async def test_shelf(size: str) -> None:
    """The first screen carries the cautions, and says how to begin."""
    async with running(size=SIZES[size]) as (app, _):
        drawn = " ".join(as_text(app).split())
    for words in ("Verdict by count", "carbon monoxide", "CO alarm", "licensed"):
        assert words in drawn


@pytest.mark.parametrize("size", SIZES)
async def test_count(size: str) -> None:
    """The form of the verdict by count."""
    async with running(size=SIZES[size]) as (app, pilot):
        await pilot.press("n")
        await until(pilot, lambda: isinstance(app.screen, CountScreen) and app.screen.query("Input:focus"))
        assert "still to be given" in as_text(app)
        compare(f"count-{size}", as_text(app))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("key,area", [("f2", "runs"), ("f3", "appliance"), ("f4", "site"), ("f5", "pressure")])
async def test_job(size: str, key: str, area: str) -> None:
    """Each part of an open job, the verdict in sight on all of them."""
    async with running(scenario("simple-pass"), size=SIZES[size]) as (app, pilot):
        await pilot.press(key)
        await pilot.pause()
        assert "WITHIN" in as_text(app).splitlines()[1]
        assert app.screen.query_one("#outline", Rows).rows
        await until(pilot, lambda: not app._animator._animations)
        compare(f"job-{area}-{size}", as_text(app))
