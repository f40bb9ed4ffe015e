"""A key pressed on a list that opens a line to type in stays the first character of what is typed there."""

from __future__ import annotations

from textual.widgets import Input

from tests.tui.screens import as_text, running, typed, until
from tests.tui.test_estimating import asked
from ventsize.tui.count import CountScreen
from ventsize.tui.table.tables import TablesScreen


async def test_a_price_typed_on_its_line_keeps_its_first_digit() -> None:
    """4.20 is 4.20: the digit that opens the line is not selected, so the next key follows it."""
    async with asked("takeoff", "old-two-inch-run") as (app, pilot):
        screen = app.screen
        await typed(pilot, "4.20")
        assert app.screen.query_one(Input).value == "4.20"
        await pilot.press("enter")
        await until(pilot, lambda: app.screen is screen and "Total" in as_text(app))
        assert "4.20" in as_text(app)


async def test_a_table_is_searched_by_all_digits_typed() -> None:
    """So does the line to search in over the list of tables."""
    async with running() as (app, pilot):
        app.push_screen(TablesScreen())
        await until(pilot, lambda: isinstance(app.screen, TablesScreen) and not app.screen.opening)
        await typed(pilot, "80")
        assert app.screen.query_one("#search", Input).value == "80"


async def test_what_an_undo_puts_back_is_typed_over() -> None:
    """Where the cursor stands in the field, the next key replaces the value that came back."""
    async with running() as (app, pilot):
        app.push_screen(CountScreen())
        await until(pilot, lambda: isinstance(app.screen, CountScreen) and not app.screen.opening)
        await typed(pilot, "80 MBH")
        await pilot.press("down", "up")
        await typed(pilot, "90 MBH")
        await pilot.press("ctrl+z")
        await pilot.pause()
        assert app.focused.value == "80 MBH"
        await typed(pilot, "70")
        assert app.focused.value == "70"
