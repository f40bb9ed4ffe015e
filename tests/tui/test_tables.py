"""Allowance tables at the screens: typed as on the page, pasted, looked over, kept, handed on."""

from __future__ import annotations

import csv
import io
import tomllib
from pathlib import Path
from typing import Any

import pytest
from textual import events

from tests.tui.screens import LARGE, SMALL, as_text, running, typed, until
from ventsize.allowance.reading import read_table
from ventsize.catalog.folders import shipped_table, user_tables_folder
from ventsize.tui.table import asking
from ventsize.tui.table.pasted_screen import PastedScreen
from ventsize.tui.table.screen import TableScreen
from ventsize.tui.table.tables import TablesScreen
from ventsize.tui.widgets.file_picker import FilePicker
from ventsize.tui.widgets.grid import Grid
from ventsize.tui.widgets.question import Question

PAGE = """Input\tSize\tFrom\tTo\tAllowed
80\t3\t0\t4500\t90
100\t3\t0\t4500\t60
120\t3\t0\t4500\t43
60\t3\t0\t4500\t151
80\t2 1/2\t0\t4500\t32
"""


LAYOUTS = [name for name, _, _ in asking.LAYOUTS]


async def new_table(app: Any, pilot: Any, layout: str = "list") -> Any:
    """A table to be typed, its title and source given, with the cursor on the first cell."""
    await pilot.press("6")
    await until(pilot, lambda: isinstance(app.screen, TablesScreen) and not app.screen.opening)
    await pilot.press("a")
    await pilot.pause()
    await pilot.press(*["down"] * LAYOUTS.index(layout), "enter")
    await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
    await pilot.press("f4")
    for text in ("Mine", "page 12"):
        await typed(pilot, text)
        await pilot.press("enter")
    await pilot.press("f2")
    await pilot.pause()
    return app.screen


async def paste(app: Any, pilot: Any, text: str, *keys: str) -> None:
    """Text from a terminal that brackets what is pasted; it is looked over, and taken."""
    app.post_message(events.Paste(text))
    await until(pilot, lambda: isinstance(app.screen, PastedScreen))
    await pilot.press(*keys, "enter")
    await until(pilot, lambda: not isinstance(app.screen, PastedScreen))
    await pilot.pause()


def state(screen: Any) -> str:
    """What the screen says of the table as a whole."""
    return str(screen.query_one("#table-state").content)


async def test_rows_are_typed_cell_by_cell() -> None:
    """Enter goes on, after the last cell to the next row; bare numbers take the unit above them."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        for text in ("80", "3", "0-2000", "90", "60", "140"):
            await typed(pilot, text)
            await pilot.press("enter")
        await pilot.pause()
        band = {"size": "3 in", "altitude": ["0 ft", "2000 ft"]}
        assert screen.session.data["row"] == [
            {"input": "80 kBtu/h", **band, "allowable": "90 ft"},
            {"input": "60 kBtu/h", **band, "allowable": "140 ft"},
        ]
        assert "Usable (2 rows), with gaps. No deductions are typed in" in state(screen)


async def test_an_altitude_that_no_building_has_is_marked_and_ends_nothing() -> None:
    """4500 with a digit too many: the row says so under the table and is not worked out; the keys go on."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        for text in ("80", "3", "0-45000", "90"):
            await typed(pilot, text)
            await pilot.press("enter")
        await pilot.press("up")
        await pilot.pause()
        assert "no building stands at 45000 ft" in state(screen)
        assert "! altitude: no building stands at 45000 ft" in as_text(app)
        assert not screen.found.usable and screen.found.rows[0].pressure is None


async def test_esc_puts_a_cell_back_and_undo_takes_a_row_back() -> None:
    """Nothing typed by mistake stays, and nothing that was there is lost."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, PAGE)
        before = screen.session.data
        await typed(pilot, "999")
        await pilot.press("escape")
        await pilot.pause()
        assert screen.session.data == before
        await pilot.press("x")
        await pilot.pause()
        assert len(screen.session.data["row"]) == 4
        await pilot.press("ctrl+z")
        await until(pilot, lambda: screen.session.data == before)


async def test_a_block_is_pasted_and_its_heads_are_known() -> None:
    """What a spreadsheet copies goes in at once, and every row gets its pressure."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, PAGE)
        rows = screen.session.data["row"]
        assert [row["allowable"] for row in rows] == ["90 ft", "60 ft", "43 ft", "151 ft", "32 ft"]
        assert rows[4]["size"] == "2 1/2 in"
        assert all(row.pressure for row in screen.found.rows)


async def test_a_likely_typing_mistake_is_pointed_at_and_not_corrected() -> None:
    """Two digits swapped: the row is marked, the sentence says why, the figure stays as typed."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, PAGE.replace("151", "511"))
        await pilot.press("n")
        await pilot.pause()
        shown = " ".join(as_text(app).split())
        assert "?  4" in as_text(app) and "two digits swapped" in shown
        assert screen.session.data["row"][3]["allowable"] == "511 ft"


async def test_faults_are_said_in_full_at_80_columns() -> None:
    """Overlapping bands, a case twice, a band upside down: each at its row."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, "80,3,0-4500,90\n80,3,4000-6000,70\n80,2,0-4500,20\n80,2,0-4500,21\n60,2,900-100,40")
        said = {}
        for row in (1, 3, 4):
            screen.query_one("#grid", Grid).go(row)
            await pilot.pause()
            said[row] = " ".join(as_text(app).split())
        assert "the band 4000 ft to 6000 ft overlaps 0 ft to 4500 ft of row 1 (80 kBtu/h, 3 in)" in said[1]
        assert "it is for the same case as row 3 (80 kBtu/h, 2 in, 0 ft to 4500 ft)" in said[3]
        assert "the band 900 ft to 100 ft is upside down; expected the lower altitude first" in said[4]
        assert "Not usable yet" in state(screen)


async def test_rows_by_elbows_and_a_band_typed_in_one_cell() -> None:
    """Lengths across, a dash for what is not permitted, both altitudes in one word."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot, "elbows")
        for text in ("0-2", "45000", "2", "0-3000", "105", "101", "-"):
            await typed(pilot, text)
            await pilot.press("enter")
        await pilot.pause()
        assert screen.session.data["row"] == [
            {
                "input": "45000 Btu/h", "size": "2 in", "altitude": ["0 ft", "3000 ft"],
                "allowable_by_elbows": ["105 ft", "101 ft", "not permitted"],
            }
        ]  # fmt: skip
        assert "Usable: 1 row" in state(screen)


async def test_rows_are_filled_added_doubled_and_moved() -> None:
    """The letters of the grid."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, "80,3,0-4500,90\n100,,,58\n120,,,40")
        await pilot.press("right", "f")
        await pilot.pause()
        assert [row["size"] for row in screen.session.data["row"]] == ["3 in"] * 3
        await pilot.press("d", "greater_than_sign")
        await pilot.pause()
        assert [row["input"] for row in screen.session.data["row"]] == [
            "80 kBtu/h", "100 kBtu/h", "80 kBtu/h", "120 kBtu/h",
        ]  # fmt: skip
        await pilot.press("a")
        await pilot.pause()
        assert screen.session.data["row"][3] == {
            "input": "", "size": "3 in", "altitude": ["0 ft", "4500 ft"], "allowable": "",
        }  # fmt: skip


async def test_deductions_by_fitting_and_size() -> None:
    """A length for every size; one of its own for one size leaves the others as they were."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, PAGE)
        await pilot.press("f3")
        await pilot.pause()
        await typed(pilot, "5")
        await pilot.press("right")
        await typed(pilot, "4")
        await pilot.press("enter")
        await pilot.pause()
        assert screen.session.data["deductions"] == {"elbow-90-long": {"2 1/2 in": "4 ft", "3 in": "5 ft"}}
        assert "No deduction for elbow-90-short, elbow-45" in state(screen)


async def test_a_deduction_worth_a_second_look_is_marked() -> None:
    """A short elbow below a long one: marked at its line, said below, and in the state of the table."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, PAGE)
        await pilot.press("f3")
        await pilot.pause()
        names = screen.area.names
        for name, text in (("elbow-90-long", "5"), ("elbow-90-short", "3")):
            screen.area.grid.go(names.index(name), 0)
            await typed(pilot, text)
            await pilot.press("enter")
        screen.area.grid.go(names.index("elbow-90-short"), 0)
        await pilot.pause()
        assert "?elbow-90-short" in as_text(app) and "?elbow-90-long" not in as_text(app)
        assert "? elbow-90-short deducts 3 ft in 2 1/2 in, less than elbow-90-long (5 ft)" in as_text(app)
        assert "Look at the deduction of elbow-90-short again (F3)." in state(screen)


async def test_what_a_table_is_for_is_chosen() -> None:
    """Vent only, and both pipes against one length, as the page says."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await pilot.press("f4", "down", "down", "right", "down", "right")
        await until(pilot, lambda: screen.session.data["counts"] == "runs together")
        assert screen.session.data["applies_to"] == ["flue gas"]
        await pilot.press("escape", "ctrl+z")
        await until(pilot, lambda: screen.session.data["counts"] == "each run")


async def test_a_limit_of_elbows_is_typed_beside_the_source() -> None:
    """A whole number in the table's head, looked over; empty again it is gone."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, PAGE)
        await pilot.press("f4", *["down"] * 5)
        await typed(pilot, "8")
        await until(pilot, lambda: screen.session.data.get("limits") == {"most_elbows": 8})
        assert not screen.found.faults
        await pilot.press("backspace", "enter")
        await until(pilot, lambda: "limits" not in screen.session.data)


async def test_a_table_is_saved_among_ones_own_and_found_by_search() -> None:
    """Ctrl+S proposes a name; the list finds it by a word of its title, with the jobs that name it."""
    async with running() as (app, pilot):
        screen = await new_table(app, pilot)
        await paste(app, pilot, PAGE)
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.screen is not screen)
        await pilot.press("enter")
        await until(pilot, lambda: app.screen is screen)
        await until(pilot, lambda: (user_tables_folder() / "mine.toml").exists())
        assert read_table(user_tables_folder() / "mine.toml").title == "Mine"
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, TablesScreen))
        await pilot.press("slash")
        await typed(pilot, "mine 80")
        await until(pilot, lambda: app.screen.table is not None)
        assert app.screen.table.path.name == "mine.toml"


async def test_a_table_changed_by_someone_else_is_not_overwritten() -> None:
    """As with jobs: the question comes first, and Esc leaves the file alone."""
    path = user_tables_folder() / "theirs.toml"
    path.parent.mkdir(parents=True)
    path.write_text(shipped_table("demo-propane-metric.toml").read_text(encoding="utf-8"), encoding="utf-8")
    async with running() as (app, pilot):
        app.push_screen(TableScreen("theirs.toml"))
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        await typed(pilot, "17 kW")
        await pilot.press("enter")
        path.write_text(path.read_text(encoding="utf-8") + "# theirs\n", encoding="utf-8")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, Question))
        await pilot.press("escape")
        await pilot.pause()
    assert path.read_text(encoding="utf-8").endswith("# theirs\n")


async def test_a_demonstration_is_read_only_and_copied_to_be_changed() -> None:
    """Typing into it asks; the copy has a title of its own and no file yet."""
    async with running() as (app, pilot):
        app.push_screen(TableScreen("demo-two-stage.toml"))
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        before = app.screen.session.data
        await pilot.press("9")
        await until(pilot, lambda: isinstance(app.screen, Question))
        await pilot.press("y")
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        copy = app.screen.session
        assert copy.path is None and copy.data["row"] == before["row"]
        assert copy.data["title"].endswith(", copy")


async def test_export_as_a_sheet_and_import_of_it(tmp_path: Path) -> None:
    """A sheet written here is read back as the same table."""
    async with running() as (app, pilot):
        await pilot.press("6")
        await until(pilot, lambda: isinstance(app.screen, TablesScreen) and app.screen.table is not None)
        name = app.screen.table.path.name
        await pilot.press("s")
        await until(pilot, lambda: isinstance(app.screen, FilePicker))
        app.screen.query_one("Input").value = str(tmp_path / "sheet.csv")
        await pilot.press("enter")
        await until(pilot, lambda: (tmp_path / "sheet.csv").exists())
        lines = list(csv.reader(io.StringIO((tmp_path / "sheet.csv").read_text(encoding="utf-8"))))
        heads = next(line for line in lines if line and line[0] == "input")
        assert lines[0][0] == "title" and heads[:4] == ["input", "size", "from", "to"]
        await pilot.press("i")
        await until(pilot, lambda: isinstance(app.screen, FilePicker))
        app.screen.query_one("Input").value = str(tmp_path / "sheet.csv")
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        known = tomllib.loads(shipped_table(name).read_text(encoding="utf-8"))
        for key in ("title", "source", "row", "deductions", "counts", "applies_to"):
            assert app.screen.session.data.get(key, {}) == known.get(key, {}), key


async def test_a_table_by_mouse_alone() -> None:
    """A click on a cell puts the cursor there, a double click changes it; the tabs and the list answer too."""
    async with running(size=LARGE) as (app, pilot):
        await pilot.click("#start-rows", offset=(6, 5))
        await pilot.click("#start-rows", offset=(6, 5), times=2)
        await until(pilot, lambda: isinstance(app.screen, TablesScreen) and app.screen.table is not None)
        await pilot.click("#tables-list", offset=(8, 4), times=2)
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        await pilot.click("#grid", offset=(20, 3))
        await pilot.pause()
        grid = app.screen.query_one("#grid", Grid)
        assert (grid.row, grid.title) == (2, "Input")
        await pilot.click("#--content-tab-deducted")
        await until(pilot, lambda: app.screen.query_one("#deduction-grid").has_focus)


@pytest.mark.parametrize("size", [SMALL, LARGE], ids=["80x24", "120x40"])
async def test_a_terminal_resized_in_the_middle_of_a_cell(size: tuple[int, int]) -> None:
    """What is typed goes on where it stood."""
    async with running(size=size) as (app, pilot):
        screen = await new_table(app, pilot)
        await typed(pilot, "80 kB")
        await pilot.resize_terminal(60, 18)
        await pilot.pause()
        await typed(pilot, "tu/h")
        await pilot.press("enter")
        await pilot.pause()
        assert screen.session.data["row"][0]["input"] == "80 kBtu/h"
