"""What went astray when a page was typed: each as it was done, at the screen."""

from __future__ import annotations

from typing import Any

from tests.tui.screens import as_text, running, typed, until
from tests.tui.test_tables import PAGE, new_table, paste, state
from ventsize.tui.table.deductions_area import DeductionsArea
from ventsize.tui.table.screen import TableScreen
from ventsize.tui.widgets.grid import Grid


async def entered(pilot: Any, *texts: str) -> None:
    """Each text, and Enter."""
    for text in texts:
        await typed(pilot, text)
        await pilot.press("enter")
    await pilot.pause()


async def test_a_deduction_stays_with_its_fitting_while_lines_above_are_empty() -> None:
    """12 ft for the 45, then 3 for the long elbow above it: two figures, two fittings, as typed."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, PAGE)
        await pilot.press("f3", "down", "down")
        await typed(pilot, "12")
        await pilot.press("up", "up")
        await entered(pilot, "3", "5")
        assert screen.session.data["deductions"] == {
            "elbow-45": "12 ft", "elbow-90-long": "3 ft", "elbow-90-short": "5 ft",
        }  # fmt: skip


async def test_a_length_for_every_size_leaves_those_typed_by_size() -> None:
    """3 in has its own 8 ft; 5 for every size is for the others."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, PAGE)
        await pilot.press("f3", "right", "right")
        await entered(pilot, "8")
        area = screen.query_one(DeductionsArea)
        area.grid.go(0, 0)
        await entered(pilot, "5")
        assert screen.session.data["deductions"] == {"elbow-90-long": {"3 in": "8 ft", "2 1/2 in": "5 ft"}}


async def test_the_right_arrow_ends_a_number_and_begins_the_next() -> None:
    """45, right, 40: two lengths, not 4540."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot, "elbows")
        await entered(pilot, "0-3", "60", "2", "0-2000")
        await typed(pilot, "45")
        await pilot.press("right")
        await typed(pilot, "40")
        await pilot.press("left")
        await pilot.pause()
        assert screen.session.data["row"][0]["allowable_by_elbows"] == ["45 ft", "40 ft"]
        assert screen.query_one("#grid", Grid).column == 3


async def test_in_a_cell_taken_up_to_be_changed_the_arrows_move_in_its_text() -> None:
    """E, left, left, delete: 45 ft becomes 45 t; from the end of the text the right arrow leaves it."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot, "list")
        await entered(pilot, "60", "2", "0-2000", "145")
        screen.query_one("#grid", Grid).go(0, 3)
        await pilot.press("e", "home", "right", "delete", "end", "right")
        await pilot.pause()
        assert screen.session.data["row"][0]["allowable"] == "15 ft"


async def test_a_page_that_begins_at_one_elbow_is_pasted_as_it_is() -> None:
    """Heads 1 to 5 are one to five elbows."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot, "elbows")
        heads = "Input\tSize\tAltitude\t1\t2\t3\t4\t5\n"
        await paste(app, pilot, heads + "60\t2\t0-2000\t45\t41\t37\t33\tNP\n80\t2\t0-2000\t30\t27\t24\t\t")
        rows = screen.session.data["row"]
        assert [row["first_elbows"] for row in rows] == [1, 1]
        assert rows[0]["allowable_by_elbows"] == ["45 ft", "41 ft", "37 ft", "33 ft", "not permitted"]
        assert rows[1]["allowable_by_elbows"] == ["30 ft", "27 ft", "24 ft"]


async def test_sizes_across_are_sizes() -> None:
    """Lengths under sizes, none of them a size of 45 in; a dash is not permitted, an empty cell no row."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot, "list")
        await paste(app, pilot, "Input (Btu/h)\t2 in\t3 in\n60,000\t45\t90\n80,000\t-\t60\n100,000\t\t40")
        rows = screen.session.data["row"]
        found = {(row["input"], row["size"]): row["allowable"] for row in rows}
        assert found == {
            ("60,000 Btu/h", "2 in"): "45 ft", ("60,000 Btu/h", "3 in"): "90 ft",
            ("80,000 Btu/h", "2 in"): "not permitted", ("80,000 Btu/h", "3 in"): "60 ft",
            ("100,000 Btu/h", "3 in"): "40 ft",
        }  # fmt: skip


async def test_not_permitted_is_typed_in_a_plain_row() -> None:
    """A dash for NP; the row is whole."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot, "list")
        await entered(pilot, "60", "2", "0-2000", "-")
        assert screen.session.data["row"][0]["allowable"] == "not permitted"
        assert screen.found.rows[0].faults == () and screen.found.rows[0].empty == ()


async def test_a_band_in_one_cell_is_not_written_over_by_the_next_number() -> None:
    """0-4500, Enter, 90: the band stays and 90 is the length."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot, "list")
        await entered(pilot, "60", "2", "0-4500", "90")
        assert screen.session.data["row"] == [
            {"input": "60 kBtu/h", "size": "2 in", "altitude": ["0 ft", "4500 ft"], "allowable": "90 ft"}
        ]


async def test_the_cases_missing_from_a_nearly_full_page_are_named() -> None:
    """Nine rows less one: which one is said, and its cell shows that no row is there."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot, "size")
        await entered(pilot, "2", "3", "4", "", "0-2000", "60", "45", "90", "140", "80", "30", "60", "120")
        await entered(pilot, "100", "20", "50", "100")
        await pilot.press("up", "right", "x")
        await pilot.press("f3")
        await entered(pilot, "3", "5", "2", "0")
        assert "No row for 100 kBtu/h, 2 in" in state(screen)
        await pilot.press("f2")
        await pilot.pause()
        assert "·" in as_text(app) and len(screen.session.data["row"]) == 8


async def test_the_entrance_of_an_air_pipe_is_offered_among_the_deductions() -> None:
    """A two-pipe job with an entrance is incomplete without it; a table of vents alone has no use for it."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, PAGE)
        await pilot.press("f3")
        await pilot.pause()
        assert "entrance-open" in screen.area.names
        app.push_screen(TableScreen("demo-propane-metric.toml"))
        await until(pilot, lambda: app.screen is not screen and not app.screen.opening)
        await pilot.press("f3")
        await pilot.pause()
        assert "entrance-open" not in app.screen.area.names
