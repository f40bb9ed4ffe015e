"""Settings: chosen at the screens or written by hand, kept with their comments, undone, never fatal."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from tests.tui.screens import as_text, running, scenario, typed, until
from ventsize.catalog.folders import settings_file, user_jobs_folder, user_tables_folder
from ventsize.tui.settings import load_settings
from ventsize.tui.settings_screen import SettingsScreen
from ventsize.tui.widgets.rows import Rows


def written(text: str) -> Path:
    """A settings file written by hand."""
    path = settings_file()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("units = ", "is not TOML"),
        ("units = 'furlongs'", "units = 'furlongs' cannot be used; expected one of: us, si"),
        ("themes = 'dark'", "'themes' is not a setting; expected perhaps 'theme'"),
        ("keys = 3", "keys = 3 cannot be used; expected a table under [keys]"),
        ("[keys]\n'job.save' = 7", "keys: job.save = 7 cannot be used"),
        ("[keys]\n'job.save' = ''", "keys: job.save = '' cannot be used"),
        ("[folders]\njobs = 'here/there'", "here/there is not a whole path"),
        ("[folders]\njob = '~/x'", "'job' is not a folder we use; expected perhaps 'jobs'"),
        ("altitude = 5200", "altitude = 5200 cannot be used; expected a text such as '5200 ft'"),
        ("units = [" + "[" * 5000, "is not TOML"),
    ],
)
async def test_a_fault_written_by_hand_is_said_in_a_sentence(text: str, said: str) -> None:
    """The program opens all the same, with the usual setting."""
    written(text)
    settings = load_settings()
    assert said in settings.fault and settings.units == "us"
    async with running() as (app, _):
        assert app.theme == "colour-safe"


async def test_units_and_look_are_chosen_kept_and_undone() -> None:
    """Each holds at once; Ctrl+Z takes it back, in the file too; the file's comments stay."""
    path = written("# mine\nunits = 'us'  # feet\n")
    async with running(scenario("simple-pass")) as (app, pilot):
        await pilot.press("f10")
        await until(pilot, lambda: isinstance(app.screen, SettingsScreen) and app.screen.gathered)
        await pilot.press("right")
        await until(pilot, lambda: app.settings.units == "si")
        assert tomllib.loads(path.read_text(encoding="utf-8")) == {"units": "si"}
        await pilot.press("down", "right")
        await until(pilot, lambda: app.theme == "dark")
        await pilot.press("ctrl+z", "ctrl+z")
        await until(pilot, lambda: app.settings.units == "us" and app.theme == "colour-safe")
        await pilot.press("escape")
        await pilot.pause()
    assert path.read_text(encoding="utf-8").startswith("# mine\nunits = ") and "# feet" in path.read_text()


async def test_folders_are_where_tables_and_jobs_go(tmp_path: Path) -> None:
    """A folder that is no whole path is marked and not kept."""
    async with running() as (app, pilot):
        await pilot.press("f10")
        await until(pilot, lambda: isinstance(app.screen, SettingsScreen) and app.screen.gathered)
        await pilot.press("down", "down", "down", "down", "down")
        await typed(pilot, "tables")
        await pilot.pause()
        assert "is not a whole path" in as_text(app)
        await pilot.press("escape")
        await typed(pilot, str(tmp_path / "tables"))
        await pilot.press("enter")
        await typed(pilot, str(tmp_path / "jobs"))
        await pilot.press("enter")
        await until(pilot, lambda: user_jobs_folder() == tmp_path / "jobs")
        assert user_tables_folder() == tmp_path / "tables"


async def test_a_key_is_found_and_given_to_an_action() -> None:
    """Search, Enter, the key: it holds at once, and in the next start."""
    async with running() as (app, pilot):
        await pilot.press("f10")
        await until(pilot, lambda: isinstance(app.screen, SettingsScreen) and app.screen.gathered)
        await pilot.press("f3", "slash")
        await typed(pilot, "check a run")
        await pilot.press("enter", "enter")
        await pilot.pause()
        await pilot.press("f8")
        await until(pilot, lambda: app.settings.keys == {"start.count": "f8"})
        await pilot.press("escape", "escape")
        await pilot.pause()
        await pilot.press("f8")
        await until(pilot, lambda: type(app.screen).__name__ == "CountScreen")
    assert load_settings().keys == {"start.count": "f8"}


async def test_keys_that_clash_and_actions_nobody_knows_are_said() -> None:
    """Named, with who else has the key."""
    written("[keys]\n'job.save' = 'f9'\n'job.sove' = 'f8'\n")
    async with running() as (app, pilot):
        await pilot.press("f10")
        await until(pilot, lambda: isinstance(app.screen, SettingsScreen) and app.screen.gathered)
        assert "there is no action 'job.sove'" in " ".join(as_text(app).split())


async def test_keys_are_listed_as_they_are_printed() -> None:
    """`?`, not the screen library's name of it; a search finds either sign or word of the action."""
    async with running() as (app, pilot):
        app.push_screen(SettingsScreen())
        await until(pilot, lambda: isinstance(app.screen, SettingsScreen) and app.screen.gathered)
        rows = app.screen.query_one("#keys-list", Rows).rows
        shown = {str(getattr(cell, "text", cell)) for row in rows for cell in row.cells}
        assert "?" in shown and not [text for text in shown if "question_mark" in text or "ctrl+" in text]
