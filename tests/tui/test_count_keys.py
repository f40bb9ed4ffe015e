"""How many keys a quick check takes, from the first screen to its verdict, typed as a person would the first time."""

from __future__ import annotations

from typing import Any

from tests.tui.pages import split
from tests.tui.screens import running, until
from ventsize.tui.count import CountScreen
from ventsize.tui.table.screen import TableScreen

PLATE = "1 80⏎⏎620⏎"  # input in thousands, the fuel as it stands, the altitude
FEET = "3⏎27⏎3{f4}"  # size, straight pipe, elbows; no others
ONE_PIPE, TWO_PIPES, OWN_TABLE = 25, 45, 60


async def pressed(app: Any, pilot: Any, keys: str) -> int:
    """Keys one by one, once the screen in front can take them; gives how many."""
    names = split(keys.replace(" ", ""))
    for name in names:
        await until(pilot, lambda: not getattr(app.screen, "opening", False))
        await pilot.press(name)
    await pilot.pause()
    return len(names)


async def test_one_pipe() -> None:
    """One rate, a table that is known."""
    async with running() as (app, pilot):
        count = await pressed(app, pilot, PLATE + "two-s⏎" + FEET)
        await until(pilot, lambda: app.screen.session.check is not None)
        run = app.screen.session.data["run"][0]
        assert (run["size"], run["straight"], run["fittings"]["elbow-90-long"]) == ("3 in", "27 ft", 3)
        assert app.screen.session.check.verdict == "within" and count <= ONE_PIPE


async def test_two_pipes() -> None:
    """An air pipe of its own beside the vent, of the same size and table."""
    async with running() as (app, pilot):
        count = await pressed(app, pilot, PLATE + "two-s⏎" + FEET)
        form = app.screen.query_one("#count-form")
        down = form.field_of("air_pipe") - form.field_of("end") + 3  # from the first kind of elbow on
        count += await pressed(app, pilot, "{down}" * down + "{right}{right}")
        down = next(n for n, spec in enumerate(form.specs) if spec.label == "Air straight") - form.field_of("air_pipe")
        count += await pressed(app, pilot, "{down}" * down + "25⏎2{f4}")
        await until(pilot, lambda: len(app.screen.session.check.runs if app.screen.session.check else ()) == 2)
        air = app.screen.session.data["run"][1]
        assert (air["straight"], air["fittings"]["elbow-90-long"]) == ("25 ft", 2)
        assert app.screen.session.check.verdict == "within" and count <= TWO_PIPES


async def test_a_table_of_ones_own() -> None:
    """One row and its deductions, typed on the spot."""
    async with running() as (app, pilot):
        count = await pressed(app, pilot, PLATE + "{ctrl+t}⏎")
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        count += await pressed(app, pilot, "{f4}M⏎p12⏎{f2}3⏎⏎0-4500⏎90⏎{f3}5{down}8{down}2{down}0{down}{ctrl+s}⏎")
        await until(pilot, lambda: app.screen.session.path is not None)
        count += await pressed(app, pilot, "{escape}")
        await until(pilot, lambda: isinstance(app.screen, CountScreen))
        await until(pilot, lambda: app.screen.session.data["run"][0]["table"])
        count += await pressed(app, pilot, "{down}" + FEET)
        await until(pilot, lambda: app.screen.session.check is not None)
        assert app.screen.session.check.verdict == "within" and count <= OWN_TABLE
