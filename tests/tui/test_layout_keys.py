"""Laying out from nothing: a part opens on the field that is still needed, Enter goes through the fields."""

from __future__ import annotations

from typing import Any

import pytest

from tests.tui.screens import running, scenario, typed, until
from ventsize.jobfile.editing import value_at
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.job.walking import ASKED, Walk
from ventsize.tui.widgets.field import FieldBase


def field(app: Any) -> str:
    """The label of the field with the cursor."""
    node = app.focused
    while node is not None and not isinstance(node, FieldBase):
        node = node.parent
    return str(node.label) if node is not None else ""


async def test_parts_open_on_what_is_still_needed() -> None:
    """F4 is at the altitude, F3 at the empty input; neither the title nor a rate's name takes the digits."""
    async with running() as (app, pilot):
        await pilot.press("2")
        await until(pilot, lambda: isinstance(app.screen, JobScreen) and not app.screen.opening)
        await pilot.press("f4")
        await typed(pilot, "600")
        await pilot.press("enter")
        await pilot.pause()
        assert field(app) == "Outdoor"
        await pilot.press("f3")
        await pilot.pause()
        assert field(app) == "Input"
        await typed(pilot, "80 MBH")
        await pilot.press("enter")
        await pilot.pause()
        data = app.screen.session.data
        assert value_at(data, ("site", "altitude")) == "600 ft"
        rate = value_at(data, ("appliance", 0, "rate", 0))
        assert (rate["name"], rate["input"]) == ("high", "80 MBH")
        assert field(app) == "Air given as"


async def test_a_digit_or_enter_on_appliance_and_rate_is_the_input() -> None:
    """On the appliance the digit goes to its first rate; Enter on a rate is no way into its name."""
    async with running(scenario("simple-pass")) as (app, pilot):
        await pilot.press("f3", "home")
        await typed(pilot, "70 MBH")
        await pilot.press("enter")
        await pilot.pause()
        assert value_at(app.screen.session.data, ("appliance", 0, "rate", 0, "input")) == "70 MBH"
        assert app.screen.plant.has_focus and not field(app)
        await pilot.press("enter")
        assert field(app) == "Input"


async def test_a_choice_made_keeps_the_cursor_in_the_fields() -> None:
    """After a size is chosen the next field has the cursor, so that what is typed next is no command."""
    async with running(scenario("simple-pass")) as (app, pilot):
        await pilot.press("home", "enter", "down", "down")
        assert field(app) == "Size"
        await typed(pilot, "2 in")
        await pilot.press("enter")
        await pilot.pause()
        assert value_at(app.screen.session.data, ("run", 0, "size")) == "2 in" and field(app) == "Material"
        await pilot.press("escape")
        assert app.screen.outline.has_focus


async def test_a_length_begun_on_the_list_ends_there() -> None:
    """Pieces are typed one after the other: a digit, Enter, and the cursor is on the list again."""
    async with running(scenario("simple-pass")) as (app, pilot):
        await typed(pilot, "12")
        await pilot.press("enter")
        await pilot.pause()
        assert app.screen.outline.has_focus


async def test_escape_leaves_the_fields_of_the_site_for_the_list() -> None:
    """Once back, and the list of runs is there."""
    async with running(scenario("simple-pass")) as (app, pilot):
        await pilot.press("f4", "escape")
        await pilot.pause()
        assert app.screen.area == "runs" and app.screen.outline.has_focus


@pytest.mark.parametrize("line", ["up 4, 90, east 14", "up 4; elbow; east 14", "up 4, east 14"])
def test_ninety_in_a_walk_is_the_usual_elbow(line: str) -> None:
    """It stands where the heading changes, said or not; thousands keep their comma."""
    data = {"run": [{"name": "vent", "size": "3 in", "pieces": []}]}
    _, data, _ = Walk(("elbow-90-long",)).step(data, 0, line)
    assert [piece.get("fitting") for piece in data["run"][0]["pieces"]] == [None, "elbow-90-long", None]
    assert ", 90," in ASKED and len(ASKED) <= 74
    _, data, said = Walk(("elbow-90-long",)).step({"run": [{"name": "vent", "pieces": []}]}, 0, "up 1,900")
    assert said == "up 1,900 ft"
