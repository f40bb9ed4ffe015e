"""The verdict by count: from the first screen to a verdict, and on from there."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from tests.tui.screens import as_text, running, typed, until, verdict
from ventsize.catalog.folders import settings_file
from ventsize.jobfile.editing import put
from ventsize.tui.count import CountScreen
from ventsize.tui.job.form import Form
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.start import StartScreen
from ventsize.tui.table.screen import TableScreen
from ventsize.tui.widgets.picker import Picker


async def counted(app: Any, pilot: Pilot[int], *, feet: str = "27", elbows: str = "3") -> Any:
    """What a person has at hand, typed from top to bottom."""
    await pilot.press("1")
    await until(pilot, lambda: isinstance(app.screen, CountScreen) and not app.screen.opening)
    screen = app.screen
    await typed(pilot, "80 MBH")
    await pilot.press("enter", "tab")
    await typed(pilot, "620")
    await pilot.press("enter", "enter")
    await typed(pilot, "two-stage")
    await pilot.press("enter", "enter")
    await typed(pilot, "3 in")
    await pilot.press("enter")
    await until(pilot, lambda: screen.session.data["run"][0]["size"] == "3 in")
    await typed(pilot, feet)
    await pilot.press("enter")
    await typed(pilot, elbows)
    await pilot.press("f4")
    await until(pilot, lambda: screen.session.check is not None)
    return screen


async def test_from_the_first_screen_to_a_verdict() -> None:
    """Rating plate, altitude, table, feet, elbows; nothing else is needed, and what comes next is said."""
    async with running() as (app, pilot):
        await counted(app, pilot)
        assert verdict(app).startswith("✓ WITHIN")
        shown = " ".join(as_text(app).split())
        assert "Assumed: excess air 35 %, flue gas 110 degF" in shown
        assert ("No air pipe is counted" in shown) is not ("by a pipe of its own" in shown)
        assert "Ctrl+S saves it" in shown and "Ctrl+L lays it out" in shown


async def test_a_number_nobody_has_given_is_still_asked_for() -> None:
    """Untouched elbow fields are no zeros: the verdict waits, and one key says that there are no more."""
    async with running() as (app, pilot):
        count = await counted(app, pilot)
        fittings = count.session.data["run"][0]["fittings"]
        assert fittings == {"terminal-open": 1, "elbow-90-long": 3, "elbow-90-short": 0, "elbow-45": 0}
        count.session.do(put(count.session.data, ("run", 0, "fittings", "elbow-45"), None), "emptied")
        count.refreshed()
        assert not verdict(app).startswith("✓") and "45° elbows" in verdict(app)


async def test_no_key_is_lost_while_the_form_opens() -> None:
    """Typed in one burst with the key that opens it: all of it is there."""
    async with running() as (app, pilot):
        for key in ("1", "8", "0", "M", "B", "H", "enter", "tab", "6", "2", "0"):
            app.simulate_key(key)
        await until(pilot, lambda: isinstance(app.screen, CountScreen) and not app.screen.opening)
        await until(pilot, lambda: app.screen.session.data["site"]["altitude"] == "620 ft")
        assert app.screen.session.data["appliance"][0]["rate"][0]["input"] == "80MBH"


async def test_nothing_is_judged_before_the_altitude_is_known() -> None:
    """A table's rows are for bands of altitude: none is assumed silently."""
    async with running() as (app, pilot):
        await pilot.press("1")
        await until(pilot, lambda: isinstance(app.screen, CountScreen) and not app.screen.opening)
        await typed(pilot, "80 MBH")
        assert "still needed: Altitude, Straight, 90° long elbows" in verdict(app)


async def test_the_usual_altitude_is_filled_in_and_said() -> None:
    """Whoever works at one height types it once, in the settings."""
    settings_file().parent.mkdir(parents=True, exist_ok=True)
    settings_file().write_text('altitude = "5200 ft"\n', encoding="utf-8")
    async with running() as (app, pilot):
        await pilot.press("1")
        await until(pilot, lambda: isinstance(app.screen, CountScreen) and not app.screen.opening)
        assert app.screen.session.data["site"]["altitude"] == "5200 ft"
        assert "your usual one" in as_text(app)


async def test_an_air_pipe_is_counted_and_judged_too() -> None:
    """Two pipes: the verdict is of both."""
    async with running() as (app, pilot):
        screen = await counted(app, pilot)
        form = screen.query_one(Form)
        form.focus_field(next(n for n, spec in enumerate(form.specs) if spec.label == "Air comes"))
        await pilot.press("right", "right")
        await pilot.pause()
        assert "Air straight" in verdict(app)
        form.focus_field(next(n for n, spec in enumerate(form.specs) if spec.label == "Air straight"))
        await pilot.pause()
        await typed(pilot, "300")
        await pilot.press("f4")
        await until(pilot, lambda: "OVER" in verdict(app))
        assert "vent: " in verdict(app) and "air: " in verdict(app)


async def test_measured_co2_in_place_of_excess_air() -> None:
    """The typical reading stands there, said to be assumed; a measured one moves no verdict by the table."""
    async with running() as (app, pilot):
        screen = await counted(app, pilot)
        form = screen.query_one(Form)
        form.focus_field(next(n for n, spec in enumerate(form.specs) if spec.topic == "air_known_by"))
        await pilot.press("right", "right")
        await until(pilot, lambda: "carbon_dioxide" in screen.session.data["appliance"][0]["rate"][0])
        assert "CO2 8.5 %" in as_text(app) and verdict(app).startswith("✓ WITHIN")


async def test_a_table_typed_on_the_spot_judges_the_count() -> None:
    """Ctrl+T: the row begins with the input and the size counted with; saved, it is the count's table."""
    async with running() as (app, pilot):
        await pilot.press("1")
        await until(pilot, lambda: isinstance(app.screen, CountScreen) and not app.screen.opening)
        count = app.screen
        await typed(pilot, "80 MBH")
        await pilot.press("enter", "tab")
        await typed(pilot, "620")
        await pilot.press("ctrl+t", "enter")
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and not app.screen.opening)
        assert app.focused.id == "grid"  # it opens on its rows
        await pilot.press("f4")
        for text in ("Mine", "page 12"):
            await typed(pilot, text)
            await pilot.press("enter")
        await pilot.press("f2", "right", "right")
        for text in ("0-4500", "4500", "90"):
            await typed(pilot, text)
            await pilot.press("enter")
        await pilot.press("f3")
        for text in ("5", "8", "2", "0"):
            await typed(pilot, text)
            await pilot.press("down")
        await pilot.press("ctrl+s")
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, TableScreen) and app.screen.session.path is not None)
        await pilot.press("escape")
        await until(pilot, lambda: app.screen is count)
        await until(pilot, lambda: count.session.data["run"][0]["table"] == "mine.toml")


async def test_the_count_goes_on_as_a_laid_out_job() -> None:
    """The feet and fittings counted are its pieces."""
    async with running() as (app, pilot):
        await counted(app, pilot)
        await pilot.press("ctrl+l")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        pieces = app.screen.session.data["run"][0]["pieces"]
        assert [p.get("fitting", "pipe") for p in pieces] == ["pipe", *["elbow-90-long"] * 3, "terminal-open"]


async def test_leaving_asks_before_anything_is_lost() -> None:
    """Esc asks; k goes on typing."""
    async with running() as (app, pilot):
        screen = await counted(app, pilot)
        await pilot.press("escape")
        await until(pilot, lambda: app.screen is not screen)
        await pilot.press("k")
        await until(pilot, lambda: app.screen is screen)
        assert verdict(app).startswith("✓ WITHIN") or "OVER" in verdict(app)


async def test_an_emptied_count_is_not_none() -> None:
    """A field that is empty just now asks for a number; nobody is told that no elbow fits better."""
    async with running() as (app, pilot):
        screen = await counted(app, pilot)
        await pilot.press("backspace")
        await pilot.pause()
        assert screen.session.data["run"][0]["fittings"]["elbow-90-long"] == ""
        assert "still needed: 90° long elbows" in verdict(app)
        await typed(pilot, "0")
        await until(pilot, lambda: "No elbow is counted." in " ".join(as_text(app).split()))


async def test_laid_out_it_is_the_same_job(tmp_path: Path) -> None:
    """Saved, laid out and saved again: one file, no question; undo counts again."""
    async with running() as (app, pilot):
        count = await counted(app, pilot)
        count.session.save(tmp_path / "smith.toml")
        await pilot.press("ctrl+l")
        await until(pilot, lambda: isinstance(app.screen, JobScreen) and not app.screen.opening)
        assert app.screen.session is count.session
        await pilot.press("ctrl+s")
        await until(pilot, lambda: not app.screen.session.history.unsaved)
        assert "pieces" in (tmp_path / "smith.toml").read_text()
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, StartScreen))


async def test_the_end_of_the_pipe_is_counted() -> None:
    """A screened end takes what the table takes for it: 3 ft in 3 in pipe by the demonstration table."""
    async with running() as (app, pilot):
        count = await counted(app, pilot)
        before = count.session.check.runs[0].table.equivalent_length
        form = count.query_one(Form)
        form.focus_field(form.field_of("end"))
        await pilot.pause()
        await typed(pilot, "s")
        await until(pilot, lambda: isinstance(app.screen, Picker))
        await typed(pilot, "creen")
        await pilot.press("enter")
        await until(pilot, lambda: "terminal-screened" in count.session.data["run"][0]["fittings"])
        await until(pilot, lambda: not count.session.stale)
        assert count.session.check.runs[0].table.equivalent_length - before == pytest.approx(3 * 0.3048)
        assert "terminal-open" not in count.session.data["run"][0]["fittings"]


async def test_a_bare_input_is_in_thousands() -> None:
    """An 80 furnace is one of 80 MBH, and that is said."""
    async with running() as (app, pilot):
        await pilot.press("1")
        await until(pilot, lambda: isinstance(app.screen, CountScreen) and not app.screen.opening)
        await typed(pilot, "80")
        assert "read as 80 MBH" in as_text(app)
        await pilot.press("enter")
        await until(pilot, lambda: app.screen.session.data["appliance"][0]["rate"][0]["input"] == "80 MBH")


async def test_what_a_question_put_into_the_job_is_in_the_count() -> None:
    """Back from a question that changed the size, the form shows it, and the verdict is of it."""
    async with running() as (app, pilot):
        count = await counted(app, pilot)
        await pilot.press("f9")
        await until(pilot, lambda: isinstance(app.screen, Picker))
        count.session.do(put(count.session.data, ("run", 0, "size"), "2 in"), "size is 2 in now")
        await pilot.press("escape")
        await until(pilot, lambda: "◂ 2 in" in as_text(app))
        assert count.session.fresh
