"""Exercise sheets from the screens: chosen, looked at, written."""

from __future__ import annotations

from pathlib import Path
from shutil import copy

from tests.tui.screens import SMALL, as_text, running, scenario, typed, until
from tests.tui.test_whole_vent import asked
from ventsize.tui.widgets.file_picker import FilePicker


async def test_a_class_gets_its_sheets(tmp_path: Path) -> None:
    """By keys alone: another topic, a sheet number, two students; the key on K; all of it in a PDF."""
    job = copy(scenario("simple-pass"), tmp_path)
    async with running(Path(job), size=SMALL) as (app, pilot):
        screen = await asked(app, pilot, "exercises")
        assert "Exercises: mixed, level 1" in as_text(app) and "right from" not in as_text(app)
        assert "job:" not in as_text(app)
        await pilot.press("right")  # the cursor begins in the fields
        await until(pilot, lambda: screen.study[0].topic == "combustion")
        screen._seed.focus_entry()
        await pilot.pause()
        await typed(pilot, "42")
        await pilot.press("enter")
        await typed(pilot, "2")
        await until(pilot, lambda: len(screen.study) == 2 and screen.study[0].seed == 42)
        await typed(pilot, "x")
        await pilot.pause()
        assert "expected a whole number" in as_text(app)
        await pilot.press("backspace")
        screen._names.focus_entry()
        await typed(pilot, "Mara")
        await until(pilot, lambda: "student 1: Mara" in as_text(app))
        screen.query_one(".picture-scroll").focus()
        await pilot.press("v")
        await pilot.pause()
        assert "right from" in as_text(app)
        await pilot.press("escape")
        await pilot.pause()
        assert app.screen is screen and "right from" not in as_text(app)
        assert (screen.study[0].seed, len(screen.study), screen.names(2)) == (42, 2, ["Mara", ""])
        screen._names.focus_entry()
        await pilot.press("ctrl+s")  # from a field too, where a letter is a letter
        await until(pilot, lambda: isinstance(app.screen, FilePicker))
        name = app.screen._text
        await pilot.press("backspace", "enter")
        await until(pilot, lambda: "Type a name" in as_text(app))
        await typed(pilot, name)
        await pilot.press("enter")
        await until(pilot, lambda: (tmp_path / "exercises-combustion-42.pdf").exists(), seconds=60)
        assert (tmp_path / "exercises-combustion-42.pdf").read_bytes().startswith(b"%PDF")
