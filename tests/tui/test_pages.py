"""Ten invented pages, each typed by keys and each pasted, as somebody would who has the page in front of him."""

from __future__ import annotations

from typing import Any

import pytest
from textual import events

from tests.tui.pages import PAGES, SIZES, Page, split
from tests.tui.screens import SMALL, running, until
from ventsize.allowance.model import AllowanceTable, Row
from ventsize.allowance.reading import read_table
from ventsize.catalog.folders import user_tables_folder
from ventsize.tui.table.pasted_screen import PastedScreen
from ventsize.tui.table.screen import TableScreen
from ventsize.tui.table.tables import TablesScreen

W_C = 249.08891  # Pa; an inch of water at 4 °C and standard gravity
HEAD = "Furnace, 80⏎manual p. 12⏎"


async def pressed(pilot: Any, keys: str) -> int:
    """Keys one after the other; gives how many."""
    for key in split(keys):
        await pilot.press(key)
    await pilot.pause()
    return len(split(keys))


async def begun(app: Any, pilot: Any, page: Page) -> int:
    """A table of the page's layout, with title and source, the cursor on its first cell."""
    count = await pressed(pilot, "6")
    await until(pilot, lambda: isinstance(app.screen, TablesScreen) and not app.screen.opening)
    count += await pressed(pilot, "a")
    count += await pressed(pilot, "{down}" * page.layout + "⏎")
    await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
    return count + await pressed(pilot, "{f4}" + HEAD + "{f2}")


async def saved(app: Any, pilot: Any) -> tuple[int, AllowanceTable]:
    """Saved under the name proposed; gives the table as a job reads it."""
    screen = app.screen
    count = await pressed(pilot, "{ctrl+s}")
    await until(pilot, lambda: app.screen is not screen)
    count += await pressed(pilot, "⏎")
    path = user_tables_folder() / "furnace-80.toml"
    await until(pilot, path.exists)
    return count, read_table(path)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.title)
async def test_a_page_is_typed(page: Page) -> None:
    """Every value as the page has it, and no row besides."""
    async with running(size=SMALL) as (app, pilot):
        await begun(app, pilot, page)
        await pressed(pilot, page.keys + page.after)
        _, table = await saved(app, pilot)
    _compare(table, page)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.title)
async def test_a_page_is_pasted(page: Page) -> None:
    """The block is shown first; nothing of the page is missing or moved."""
    async with running(size=SMALL) as (app, pilot):
        await begun(app, pilot, page)
        for before, text in page.blocks:
            await pressed(pilot, before)
            app.post_message(events.Paste(text))
            await until(pilot, lambda: isinstance(app.screen, PastedScreen))
            assert not [said for said in app.screen.proposal.said if said.startswith("!")]
            await pressed(pilot, "⏎")
            await until(pilot, lambda: isinstance(app.screen, TableScreen))
        await pressed(pilot, page.after)
        _, table = await saved(app, pilot)
    _compare(table, page)


async def test_a_page_of_eighteen_lengths_and_fifteen_deductions_takes_few_keys() -> None:
    """3 inputs, 3 sizes, 2 altitudes, 5 fittings by size, from the first screen to the saved file: under 220 keys."""
    async with running(size=SMALL) as (app, pilot):
        count = await begun(app, pilot, SIZES)
        count += await pressed(pilot, SIZES.keys)
        saving, table = await saved(app, pilot)
    assert count + saving < 220
    _compare(table, SIZES)


def _compare(table: AllowanceTable, page: Page) -> None:
    """Every value of the page, and nothing that is not on it."""
    wanted = {_case(*row[:3], row[4]): row for row in page.rows}
    there = {_case(row.input, row.size, row.altitude if row.has_band else None, _else(row)): row for row in table.rows}
    assert len(there) == len(table.rows) and set(there) == set(wanted)
    for case, (_, _, _, allowed, more) in wanted.items():
        row = there[case]
        assert _allowed(row) == pytest.approx(allowed) if not isinstance(allowed, (str, tuple)) else True
        if allowed == "not permitted":
            assert row.not_permitted
        elif isinstance(allowed, tuple):
            assert row.allowable_pressure == pytest.approx(allowed[1] * W_C, rel=1e-5)
        assert row.first_elbows == more.get("first_elbows", 0)
        assert row.elbows_included == more.get("elbows_included", 0)
        assert row.minimum == pytest.approx(more["minimum"]) if "minimum" in more else row.minimum is None
    assert set(table.deductions) == set(page.deductions)
    for name, length in page.deductions.items():
        _compare_deduction(table, page, name, length)
    _compare_head(table, page.head)


def _compare_deduction(table: AllowanceTable, page: Page, name: str, length: Any) -> None:
    deduction = table.deductions[name]
    assert deduction.per_two == isinstance(length, tuple)
    if isinstance(length, list):
        sizes = sorted({row[1] for row in page.rows})
        assert [deduction.at(size) for size in sizes] == pytest.approx(length)
    else:
        assert deduction.at(page.rows[0][1]) == pytest.approx(length[1] if isinstance(length, tuple) else length)


def _compare_head(table: AllowanceTable, head: dict[str, Any]) -> None:
    factor = table.altitude_factor
    assert (factor is not None) == ("less" in head)
    if factor is not None:
        assert (factor.above, factor.per, factor.less) == pytest.approx((head["above"], head["per"], head["less"]))
    assert table.confirm == head.get("confirm", ())
    assert table.limits.most_elbows == head.get("most_elbows")
    level = table.limits.longest_level
    assert level == pytest.approx(head["longest_level"]) if "longest_level" in head else level is None


def _case(power: float, size: float, band: Any, more: Any) -> tuple[Any, ...]:
    ends = None if band is None else tuple(round(end, 3) for end in band)
    pipes = more.get("pipes") if isinstance(more, dict) else more
    return round(power, 1), round(size, 5), ends, pipes


def _else(row: Row) -> str | None:
    return row.holds_for.pipes


def _allowed(row: Row) -> Any:
    return list(row.allowable_by_elbows) if row.allowable_by_elbows is not None else row.allowable
