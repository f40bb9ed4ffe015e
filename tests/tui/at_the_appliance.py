"""The pages at the appliance by keys, for the tests that walk them."""

from __future__ import annotations

from typing import Any

from textual.pilot import Pilot

from tests.tui.screens import until
from ventsize.tui.field.choices import Choices
from ventsize.tui.field.listing import ReadingsScreen, SpotsScreen
from ventsize.tui.field.reading import ReadingPage
from ventsize.tui.field.start import FieldScreen
from ventsize.tui.widgets.large import large


async def opened(app: Any, pilot: Pilot[int]) -> None:
    """From the job to the first page by keys."""
    await pilot.press("f9")
    await pilot.pause()
    await pilot.press(*"appliance", "enter")
    await until(pilot, lambda: isinstance(app.screen, FieldScreen) and app.screen.query("Choices:focus"))
    await until(pilot, lambda: len(app.screen.query(".choice")) == 5)
    await pilot.pause()


async def chosen(app: Any, pilot: Pilot[int], digit: str, kind: type) -> None:
    """A digit, and the page it opens."""
    await pilot.press(digit)
    await until(pilot, lambda: isinstance(app.screen, kind))
    if app.screen.query(Choices):
        await until(pilot, lambda: app.screen.query(".choice"))
    await pilot.pause()


COLLAR = "Static pressure at the collar"


async def at_a_reading(app: Any, pilot: Pilot[int], title: str = COLLAR) -> None:
    """The page of one reading at the high rate."""
    await opened(app, pilot)
    await chosen(app, pilot, "1", ReadingsScreen)
    await chosen(app, pilot, "1", SpotsScreen)
    await picked(app, pilot, title)


async def picked(app: Any, pilot: Pilot[int], title: str = COLLAR) -> None:
    """The page of a reading in the list."""
    choices = app.screen.query_one(Choices)
    choices.go(next(n for n, one in enumerate(choices.options) if one.label == title))
    await pilot.press("enter")
    await until(pilot, lambda: isinstance(app.screen, ReadingPage))
    await pilot.pause()


def means(app: Any) -> str:
    """What stands above the readings."""
    return str(app.screen.query_one("#listing-means").content)


def part(app: Any, name: str) -> str:
    """One part of a page."""
    return str(app.screen.query_one(f"#page-{name}").content)


def word(text: str, *, small: bool = False) -> str:
    """A word as the page shows it; beside a figure on the page of a rule it is small."""
    return "\n".join(large(text, half=small))
