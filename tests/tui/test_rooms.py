"""Air from the room, by keys: the answer follows what is typed, and the job keeps it."""

from __future__ import annotations

from typing import Any

import pytest
from textual.pilot import Pilot

from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, typed, until
from tests.tui.test_pictures import compare
from ventsize.tui.help import TOPICS
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.questions.room_air import RoomAirScreen
from ventsize.tui.questions.room_parts import rows, specs
from ventsize.tui.widgets.rows import Rows


async def asked(app: Any, pilot: Pilot[int]) -> None:
    """From the job to the question by keys."""
    await pilot.press("f9")
    await pilot.pause()
    await pilot.press(*"air", "space", *"from", "enter")
    await until(pilot, lambda: isinstance(app.screen, RoomAirScreen) and app.screen.query("#parts:focus"))
    await pilot.pause()


def says(app: Any) -> str:
    """The two lines on top."""
    return str(app.screen.query_one("#air-verdict").content)


@pytest.mark.parametrize(("size", "name"), [(SMALL, "80x24"), (LARGE, "120x40")])
async def test_a_basement_short_of_air(size: tuple[int, int], name: str) -> None:
    """What is missing, both methods, and the smallest opening that cures it, at both sizes."""
    async with running(scenario("basement-short-of-air"), size=size) as (app, pilot):
        await asked(app, pilot)
        drawn = " ".join(as_text(app).split())
        for words in ("NOT ENOUGH", "missing 3,909 ft³", "standard method: 6,000 ft³, not used", "5,829 ft³, governs"):
            assert words in drawn
        await until(pilot, lambda: not app._animator._animations)
        compare(f"room-air-{name}", as_text(app))


async def test_an_opening_more_cures_it() -> None:
    """A second duct near the ceiling, and both large enough: typed, and enough at once."""
    async with running(scenario("basement-short-of-air")) as (app, pilot):
        await asked(app, pilot)
        await pilot.press(*["down"] * 5)
        await typed(pilot, "41 ")
        await pilot.press("enter")
        assert "NOT ENOUGH" in says(app)
        await pilot.press("a", *"opening", "enter")
        await until(pilot, lambda: len(app.screen.session.data["room"][0]["opening"]) == 3)
        await pilot.pause()
        await typed(pilot, "41")
        assert "needs" in as_text(app)
        await pilot.press("down", "down", "right", "enter", "escape")
        await pilot.pause()
        opening = app.screen.session.data["room"][0]["opening"][2]
        assert opening["area"] == "41 in²"
        while opening.get("at") != "top":
            await pilot.press("right")
            await pilot.pause()
            opening = app.screen.session.data["room"][0]["opening"][2]
        assert says(app).startswith("✓ ENOUGH")


async def test_a_room_is_described_from_nothing() -> None:
    """A job without a room says so; A adds one, the furnace in it, and the volume is typed."""
    async with running(scenario("old-two-inch-run")) as (app, pilot):
        await asked(app, pilot)
        assert "describes no room" in says(app)
        await pilot.press("a")
        await until(pilot, lambda: app.screen.session.data.get("room"))
        await pilot.pause()
        assert "NO RESULT YET" in says(app) and "volume" in says(app)
        await typed(pilot, "20000")
        assert says(app).startswith("✓ ENOUGH")
        await pilot.press("enter")
        await pilot.press("x")
        await pilot.pause()
        assert "describes no room" in says(app)
        await pilot.press("u")
        await pilot.pause()
        assert says(app).startswith("✓ ENOUGH")
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, JobScreen)
        assert "not saved" in as_text(app).splitlines()[0]


async def test_an_appliance_takes_its_air_elsewhere() -> None:
    """Space says so; a room with nothing in it asks for an appliance."""
    async with running(scenario("basement-short-of-air")) as (app, pilot):
        await asked(app, pilot)
        await pilot.press("down", "space")
        await pilot.pause()
        assert "appliances" not in app.screen.session.data["room"][0]
        assert "natural draft 40,000" in app.screen.answer and "80,000" not in app.screen.answer.splitlines()[1]
        await pilot.press("space")
        await pilot.pause()
        assert app.screen.session.data["room"][0]["appliances"] == ["furnace"]


async def test_what_cannot_be_read_is_said_and_the_last_answer_kept() -> None:
    """As everywhere: marked, explained, and the last result shown as such."""
    async with running(scenario("basement-short-of-air")) as (app, pilot):
        await asked(app, pilot)
        await typed(pilot, "12 bananas")
        assert "PREVIOUS RESULT" in says(app) and "bananas" in says(app)
        assert "5,829" in as_text(app)


async def test_every_part_has_fields_with_help() -> None:
    """F1 in any of them says what it is; and every row can be reached."""
    async with running(scenario("basement-short-of-air")) as (app, pilot):
        await asked(app, pilot)
        data = app.screen.session.data
        keys = [row.key for row in rows(data)]
        assert len(keys) == len(app.screen.query_one("#parts", Rows).rows) == 7
        topics = {spec.topic for key in keys for spec in specs(data, key)}
        assert topics <= set(TOPICS) and app.screen.topic in TOPICS
