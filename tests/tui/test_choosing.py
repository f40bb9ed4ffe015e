"""Choosing from a list: what Enter takes is said, what tells tables apart is seen, what a table lacks is led to."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, typed, until, verdict
from tests.tui.test_table_from_job import own_job
from ventsize.allowance.library import known_tables
from ventsize.catalog.folders import user_tables_folder
from ventsize.jobfile.editing import put, value_at
from ventsize.tui import counting
from ventsize.tui.count import CountScreen
from ventsize.tui.table.screen import TableScreen
from ventsize.tui.widgets.field_base import PUT_BACK
from ventsize.tui.widgets.picker import NOTHING, Picker
from ventsize.tui.widgets.rows import Rows

ENTRIES = [("a", "single-stage furnace"), ("b", "two-stage furnace"), ("c", "boiler")]


async def test_what_enter_takes_is_said() -> None:
    """With a search the foot names the row under the cursor; with none that fits it says so, and Enter takes none."""
    chosen: list[Any] = []
    async with running() as (app, pilot):
        app.push_screen(Picker("Which?", ENTRIES), chosen.append)
        await typed(pilot, "stag")
        assert "Enter takes single-stage furnace" in as_text(app)
        await pilot.press("down")
        await pilot.pause()
        assert "Enter takes two-stage furnace" in as_text(app)
        await typed(pilot, "9")
        await pilot.press("enter")
        await pilot.pause()
        assert NOTHING in as_text(app) and not chosen
        await pilot.press("backspace", "down", "enter")
        await pilot.pause()
        assert chosen == ["b"]


async def test_the_very_words_come_first_and_an_empty_search_is_where_it_was() -> None:
    """A label that is typed whole is marked though others begin alike; without a search the present choice is."""
    chosen: list[Any] = []
    async with running() as (app, pilot):
        app.push_screen(Picker("Which?", [("a", "elbow-90-long-drain"), ("b", "elbow-90-long")], at="a"), chosen.append)
        await typed(pilot, "elbow-90-long")
        assert "Enter takes elbow-90-long " in as_text(app)
        for _ in "elbow-90-long":
            await pilot.press("backspace")
        assert app.screen.query_one(Rows).current.key == "a"
        await typed(pilot, "elbow-90-long")
        await pilot.press("enter")
        await pilot.pause()
        assert chosen == ["b"]


@pytest.mark.parametrize("size", [SMALL, LARGE])
@pytest.mark.parametrize("topic", ["fitting", "material"])
async def test_a_choice_that_escape_puts_back_says_so(size: tuple[int, int], topic: str) -> None:
    """Beside the field, or in a notice where there is no room; the job is as it was."""
    async with running(scenario("trips-on-the-vent"), size=size) as (app, pilot):
        await pilot.press("home", *(["down", "down"] if topic == "fitting" else []))
        form = app.screen.piece_form
        history = app.screen.session.history
        form.focus_field(form.field_of(topic))
        await pilot.press("right")
        await pilot.pause()
        assert history.unsaved
        await pilot.press("escape")
        await pilot.pause()
        said = as_text(app) + " ".join(notice.message for notice in app._notifications)
        assert (history.unsaved, PUT_BACK in said) == (False, True)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_table_of_a_run_is_told_in_its_form(size: tuple[int, int]) -> None:
    """On a second line, where the first has no room for it."""
    async with running(scenario("trips-on-the-vent"), size=size) as (app, pilot):
        await pilot.press("home")
        form = app.screen.piece_form
        line = form._fields[form.field_of("table")]
        shown = " ".join(str(line.typed_in.render()).replace("▸", "").split())
        assert shown.replace("◂ ", "").startswith("two-stage furnace, 60 to" + " 120 kBtu/h" * (size == SMALL))


async def test_a_value_half_typed_is_judged_as_one_so_far() -> None:
    """12 of "12 6" is judged at once, and never as if it were all; Enter makes it so."""
    async with running(scenario("trips-on-the-vent")) as (app, pilot):
        await pilot.press("home", "down")
        await typed(pilot, "12")
        await until(pilot, lambda: app.screen.session.fresh)
        assert " so far" in verdict(app).splitlines()[0]
        await typed(pilot, " 6")
        await until(pilot, lambda: app.screen.session.fresh)
        assert value_at(app.screen.session.data, ("run", 0, "pieces", 0, "pipe")) == "12 ft 6 in"
        assert " so far" in verdict(app).splitlines()[0]
        await pilot.press("enter")
        await until(pilot, lambda: " so far" not in verdict(app))


async def test_a_digit_on_a_choice_finds_nothing_and_says_so() -> None:
    """A field of choices opens its list with what is typed."""
    async with running() as (app, pilot):
        app.push_screen(CountScreen())
        await until(pilot, lambda: isinstance(app.screen, CountScreen) and not app.screen.opening)
        await pilot.press("down")
        await typed(pilot, "77")
        assert isinstance(app.screen, Picker) and NOTHING in as_text(app)


async def test_tables_are_told_apart_at_eighty_columns() -> None:
    """Kind and inputs of every table are whole in the list, and the field begins with what differs."""
    async with running(size=SMALL) as (app, pilot):
        app.push_screen(CountScreen())
        await until(pilot, lambda: isinstance(app.screen, CountScreen) and not app.screen.opening)
        await pilot.press("down", "down", "down")
        await typed(pilot, "two-stage")
        assert "two-stage furnace, 60 to 120 kBtu/h" in as_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "two-stage furnace" in as_text(app)
    labels = [table.label for table in known_tables()]
    assert len({label[:22] for label in labels}) == len(labels)


def test_the_only_size_of_a_table_is_the_pipes() -> None:
    """Of a pipe that has none yet; one that is chosen stays."""
    tables = known_tables()
    one = next((table for table in tables if len(table.sizes) == 1), None)
    several = next(table for table in tables if len(table.sizes) > 1)
    data = counting.begun()
    assert not value_at(counting.with_table(data, several.path.name, tables), ("run", 0, "size"))
    only = one or several.__class__(Path("mine.toml"), sizes=("3 in",))
    taken = counting.with_table(data, only.path.name, [only])
    assert value_at(taken, ("run", 0, "size")) == only.sizes[0]
    kept = counting.with_table(put(data, ("run", 0, "size"), "4 in"), only.path.name, [only])
    assert value_at(kept, ("run", 0, "size")) == "4 in"


async def test_a_deduction_missing_for_an_end_is_asked_in_words(tmp_path: Path) -> None:
    """In a job: what is missing, and the key that opens the table at it."""
    job = own_job(tmp_path, without="elbow-90-long")
    async with running(job) as (app, _):
        assert "Ctrl+T types it" in verdict(app)


async def test_a_count_leads_to_what_its_table_lacks() -> None:
    """Ctrl+T there opens the table at the air pipe's open end, in words first."""
    table = 'title = "Mine"\nsource = "p. 1"\ncounts = "each run"\n'
    table += 'applies_to = ["flue gas", "combustion air"]\n[deductions]\n'
    table += 'elbow-90-long = "3 ft"\nterminal-open = "0 ft"\n[[row]]\ninput = "80 kBtu/h"\nsize = "3 in"\n'
    table += 'altitude = ["0 ft", "4500 ft"]\nallowable = "90 ft"\n'
    user_tables_folder().mkdir(parents=True)
    (user_tables_folder() / "mine.toml").write_text(table, encoding="utf-8")
    async with running() as (app, pilot):
        app.push_screen(CountScreen())
        await until(pilot, lambda: isinstance(app.screen, CountScreen) and not app.screen.opening)
        screen = app.screen
        data = counting.with_table(screen.session.data, "mine.toml", known_tables())
        for place, value in (
            (("appliance", 0, "rate", 0, "input"), "80 kBtu/h"), (("site", "altitude"), "600 ft"),
            (("run", 0, "straight"), "20 ft"),
        ):  # fmt: skip
            data = put(data, place, value)
        air = next(spec for spec in screen._specs() if spec.topic == "air_pipe")
        data = put(air.put(data, counting.OWN_PIPE), ("run", 1, "straight"), "20 ft")
        screen.session.do(counting.none_more(data), "typed")
        await screen._again()
        await until(pilot, lambda: "the air pipe's open end" in " ".join(verdict(app).split()))
        assert "Ctrl+T types it" in verdict(app)
        await pilot.press("ctrl+t")
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        await until(pilot, lambda: app.screen.area.fitting == "entrance-open")
