"""Finding things: every key is named and listed, every field has help, and both can be searched."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import ventsize.tui
from tests.tui.screens import as_text, running, scenario, typed, until
from ventsize.catalog.library import load_catalog
from ventsize.tui import counting
from ventsize.tui.count import CountScreen
from ventsize.tui.help import TOPICS
from ventsize.tui.job import specs
from ventsize.tui.key_list import every_key
from ventsize.tui.palette import actions_of
from ventsize.tui.settings_screen import SettingsScreen
from ventsize.tui.table import about
from ventsize.tui.table.model import TOPICS as COLUMN_TOPICS
from ventsize.tui.table.screen import TableScreen
from ventsize.tui.table.tables import TablesScreen
from ventsize.tui.widgets.picker import Picker

SOURCES = sorted(Path(next(iter(ventsize.tui.__path__))).rglob("*.py"))


def test_every_key_has_a_name_and_says_what_it_does() -> None:
    """By the name it can be given another key; what it does is what the palette and the key list show."""
    assert every_key()
    assert [bound.name for bound in every_key() if not bound.label.strip() or "(" in bound.label] == []
    assert [bound.name for bound in every_key() if not re.fullmatch(r"[a-z_]+\.[a-z_0-9]+", bound.name)] == []


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.stem)
def test_every_binding_can_be_found(path: Path) -> None:
    """A key without a name is in no list and cannot be changed; only keys that move the focus may do without."""
    found = re.findall(r"\bBinding\((?:[^()]|\([^()]*\))*\)", path.read_text(encoding="utf-8"))
    assert [text for text in found if "id=" not in text and "focus_" not in text] == []


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.stem)
def test_every_field_has_help(path: Path) -> None:
    """What is named as a topic is there to be read."""
    text = path.read_text(encoding="utf-8")
    topics = re.findall(r"\btopic(?:: str)? ?= ?\"([a-z_0-9]+)\"", text)
    assert [topic for topic in topics if topic not in TOPICS] == []


def test_every_field_of_a_form_has_help() -> None:
    """Those of a job, of a count and of a table, whichever way its data stand."""
    catalog = load_catalog()
    data = counting.begun()
    air = next(spec for spec in counting.count_specs(data, catalog, ()) if spec.topic == "air_pipe")
    both = air.changed(data, counting.OWN_PIPE)
    found = [
        *about.fields(),
        *counting.count_specs(both, catalog, ()),
        *specs.site(),
        *specs.run(both, 1, [], [], []),
    ]
    found += [*specs.appliance(0, []), *specs.rate(data, counting.RATE), *specs.count(("run", 0), "coupling")]
    found += [*specs.pipe(("run", 0, "pieces", 0), []), *specs.fitting(("run", 0, "pieces", 0), [], [])]
    assert sorted({spec.topic for spec in found} - set(TOPICS)) == []


def test_every_column_of_a_table_has_help() -> None:
    """Where it is on the page, a typical value, and what makers call it."""
    for topic in (*COLUMN_TOPICS.values(), "row_elbows", "deduction"):
        assert TOPICS[topic].where and TOPICS[topic].typical and TOPICS[topic].words


def _table() -> TableScreen:
    return TableScreen("demo-two-stage.toml")


@pytest.mark.parametrize("screen", [TablesScreen, _table, CountScreen, SettingsScreen])
async def test_the_palette_has_every_key_of_the_screen(screen: Callable[[], Any]) -> None:
    """Whatever the screen binds can be found by its words, with its key. In a field, Esc is the field's first."""
    async with running() as (app, pilot):
        app.push_screen(screen())
        await until(pilot, lambda: getattr(app.screen, "gathered", not getattr(app.screen, "opening", True)))
        listed = {name: keys for _, keys, name, _ in actions_of(app.screen)}
        for binding in type(app.screen).BINDINGS:
            assert listed.get(binding.id) or binding.key == "escape", binding


async def test_the_key_list_is_searched_and_does_what_is_chosen() -> None:
    """F12, a word, Enter."""
    async with running(scenario("simple-pass")) as (app, pilot):
        await pilot.press("f12")
        await until(pilot, lambda: isinstance(app.screen, Picker))
        await typed(pilot, "settings")
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, SettingsScreen))


async def test_a_list_in_which_nothing_is_found_says_so() -> None:
    """Rather than an empty frame."""
    async with running(scenario("simple-pass")) as (app, pilot):
        await pilot.press("a", "q", "q")
        await until(pilot, lambda: "Nothing here has that in it" in as_text(app))
        await pilot.press("backspace", "backspace")
        await until(pilot, lambda: "Nothing here" not in as_text(app) and "elbow-90-long" in as_text(app))


async def test_help_is_for_the_cell_under_the_cursor() -> None:
    """F1 in a grid tells of the column, in a form of the field."""
    async with running() as (app, pilot):
        app.push_screen(TableScreen("demo-two-stage.toml"))
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        await pilot.press("right", "f1")
        await pilot.pause()
        assert "Typical: 80,000 Btu/h" in " ".join(as_text(app).split())
        await pilot.press("x", "f3", "f1")
        await pilot.pause()
        assert "takes from the allowance" in " ".join(as_text(app).split())


async def test_an_open_question_is_answered_with_one_key() -> None:
    """y lists the answers that the job lacks; the first one settles it, and can be taken back."""
    async with running(scenario("room-or-pipe")) as (app, pilot):
        screen = app.screen
        assert screen.session.check.decides.because.code in ("case-not-said", "air-not-said")
        await pilot.press("y")
        await until(pilot, lambda: app.screen is not screen)
        await pilot.press("enter")
        await until(pilot, lambda: app.screen is screen and screen.session.data["appliance"][0].get("air") == "room")
        await until(pilot, lambda: screen.session.check.verdict != "incomplete")
        await pilot.press("u")
        await until(pilot, lambda: "air" not in screen.session.data["appliance"][0])
