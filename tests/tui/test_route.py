"""The route of a run, drawn: what is on the sketch, at both sizes and in plain characters."""

from __future__ import annotations

import pytest

from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, until, verdict
from ventsize.tui.plain import in_ascii


@pytest.mark.parametrize("size", [SMALL, LARGE], ids=["80x24", "120x40"])
async def test_the_route_of_the_run_under_the_cursor(size: tuple[int, int]) -> None:
    """Up 4.5 ft, east 18 ft, north 6.5 ft: from above one corner, from the side another; nothing is cut off."""
    async with running(scenario("simple-pass"), size=size) as (app, pilot):
        await pilot.press("f7")
        await pilot.pause()
        assert app.screen.query_one("TabbedContent").active == "route"  # type: ignore[attr-defined]
        drawn = str(app.screen.query_one("#sketch").content)
        shown = as_text(app)
        assert "18.0 ft east, 6.5 ft north, 4.5 ft higher" in drawn
        for words in ("N ↑", "up 4 ft 6 in of 3 in", "6 ft 6 in north", "18 ft east", "Scale ├"):
            assert words in shown
        sketch = drawn.split("Plan")[1].split("Scale")[0]
        assert (sketch.count("■"), sketch.count("○")) == (2, 2)
        assert (sketch.count("┘"), sketch.count("┌"), sketch.count("┼")) == (1, 1, 1)
        assert drawn.strip().splitlines()[-1].strip() in shown
        assert "?" not in in_ascii(drawn)
        assert "WITHIN" in verdict(app)


async def test_a_counted_run_is_not_drawn() -> None:
    """Its feet and elbows have no order; the screen says so, and how to lay it out."""
    async with running(scenario("counted-run")) as (app, pilot):
        await pilot.press("f7")
        await pilot.pause()
        assert "A counted run has no route" in str(app.screen.query_one("#sketch").content)
        await pilot.press("f1")
        await pilot.pause()
        assert "drawn to scale" in as_text(app)


@pytest.mark.parametrize("size,together", [(SMALL, False), (LARGE, True)], ids=["80x24", "120x40"])
async def test_a_large_terminal_shows_runs_route_and_pressure_together(size: tuple[int, int], together: bool) -> None:
    """Beside what a small one shows: the share of each piece too."""
    async with running(scenario("simple-pass"), size=size) as (app, _):
        shown = as_text(app)
        assert "Share" in shown and "terminal-open" in shown
        assert all((words in shown) == together for words in ("Plan   N ↑", "pressure still to be lost"))


async def test_small_pictures_fit_the_room_after_a_list_lay_on_top() -> None:
    """The terminal grown while a choice was open: pressure and route are drawn once it is closed."""
    async with running(scenario("simple-pass"), size=SMALL) as (app, pilot):
        await pilot.press("a")
        await pilot.resize_terminal(*LARGE)
        await pilot.press("escape")
        await until(pilot, lambda: "Plan" in as_text(app))
        assert "too small to draw" not in as_text(app) and "too large for here" not in as_text(app)
