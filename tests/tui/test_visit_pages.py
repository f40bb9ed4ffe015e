"""A visit kept, begun anew, after a repair, and its report, by keys at the appliance."""

from __future__ import annotations

import shutil
import tomllib
from pathlib import Path

import pytest

from tests.tui.at_the_appliance import at_a_reading, chosen, opened, picked
from tests.tui.screens import as_text, running, scenario, typed, until
from ventsize.cli import main
from ventsize.jobfile.visits import read_visits
from ventsize.tui.field.listing import ReadingsScreen, SpotsScreen
from ventsize.tui.field.report import VisitReport
from ventsize.tui.field.start import FieldScreen
from ventsize.tui.field.text import FieldText
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.question import Question


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of a demonstration job that may be changed."""
    return Path(shutil.copy(scenario("long-run-adaptive"), tmp_path / "job.toml"))


async def test_a_visit_is_kept(job: Path) -> None:
    """The job is saved, and the visit beside it; the page since the last visit then finds nothing changed."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        await typed(pilot, "0.62")
        await pilot.press("escape", "escape", "escape")
        await until(pilot, lambda: isinstance(app.screen, FieldScreen))
        await pilot.press("3")
        await pilot.pause()
        await typed(pilot, "windy")
        await pilot.press("enter")
        await pilot.pause()
        await typed(pilot, "J. S.")
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("2")
        await pilot.pause()
        await typed(pilot, "a.jpg, b.jpg")
        await pilot.press("enter")
        await until(pilot, lambda: read_visits(job))
        (visit,) = read_visits(job)
        assert visit.note == "windy" and visit.photos == ("a.jpg", "b.jpg") and len(visit.readings) == 1
        assert visit.by == "J. S." and visit.time
        assert tomllib.loads(job.read_text(encoding="utf-8"))["reading"][0]["pressure"] == "0.62 in w.c."
        await chosen(app, pilot, "4", FieldText)
        await until(pilot, lambda: app.screen.answer)
        assert "There is no earlier visit" in app.screen.answer


@pytest.mark.parametrize("keys", [("escape",), ("enter",), ("5", "1"), ("2", "escape")])
async def test_a_visit_is_kept_without_photos(job: Path, keys: tuple[str, ...]) -> None:
    """Whatever way out of the question of photos: the note was typed to be kept. A digit that is no answer is none."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await pilot.press("3")
        await pilot.pause()
        await typed(pilot, "windy")
        await pilot.press("enter", "enter")
        await pilot.pause()
        for key in keys:
            await pilot.press(key)
            await pilot.pause()
        await until(pilot, lambda: read_visits(job))
        (visit,) = read_visits(job)
        assert visit.note == "windy" and visit.photos == ()


@pytest.mark.parametrize("keys", [("escape",), ("enter", "escape")])
async def test_no_visit_is_kept_where_the_note_is_left(job: Path, keys: tuple[str, ...]) -> None:
    """Esc at the note, or at who is here, keeps nothing, and says so; the keys after it are the menu's."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await pilot.press("3")
        await pilot.pause()
        for key in keys:
            await pilot.press(key)
            await pilot.pause()
        await until(pilot, lambda: any("No visit was kept" in one.message for one in app._notifications))
        assert not read_visits(job)


async def test_a_new_visit_begins_with_new_readings(job: Path) -> None:
    """Readings that the last visit kept are not today's: one key takes them out, and undo brings them back."""
    text = job.read_text(encoding="utf-8")
    job.write_text(
        f'{text}\n[[reading]]\nplace = "collar"\nrate = "high"\npressure = "0.4 in w.c."\n', encoding="utf-8"
    )
    assert main(["visit", str(job), "--keep", "--date", "2026-01-02"]) == 0
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "1", Question)
        assert "those of the visit of 2026-01-02" in as_text(app)
        await chosen(app, pilot, "1", ReadingsScreen)
        assert "reading" not in app.screen.session.data
        await pilot.press("ctrl+z")
        assert len(app.screen.session.data["reading"]) == 1


async def test_a_demonstration_is_not_visited() -> None:
    """Its visits would stand among the shipped files: it asks for a name of its own first."""
    async with running(scenario("long-run-adaptive")) as (app, pilot):
        assert app.screen.session.shipped
        await opened(app, pilot)
        await pilot.press("3")
        await pilot.pause()
        assert any("name of its own" in str(note.message) for note in app._notifications)
    assert not scenario("long-run-adaptive").with_suffix(".visits").exists()


async def test_readings_before_a_repair_stay_beside_the_new_ones(job: Path) -> None:
    """The last line asks what was repaired; no answer is no repair; then what is typed is a reading of its own."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        await typed(pilot, "0.62")
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, SpotsScreen))
        for leave in ("escape", "enter"):
            await pilot.press("end", "enter")
            await until(pilot, lambda: isinstance(app.screen, AskLine))
            await pilot.press(leave)
            await until(pilot, lambda: isinstance(app.screen, SpotsScreen))
            assert "before_repair" not in app.screen.session.data["reading"][0]
        await pilot.press("end", "enter")
        await until(pilot, lambda: isinstance(app.screen, AskLine))
        await typed(pilot, "nest out of it")
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, SpotsScreen))
        await pilot.pause()
        await picked(app, pilot)
        await typed(pilot, "0.47")
        readings = app.screen.session.data["reading"]
        assert [(one["pressure"], one.get("before_repair")) for one in readings] == [
            ("0.62 in w.c.", True),
            ("0.47 in w.c.", None),
        ]
        assert "nest out of it" in readings[0]["note"]


async def test_an_alarm_of_the_last_visit_stands_on_the_next(job: Path) -> None:
    """New readings begin a new visit, but what said to shut it off says so until it is read again."""
    text = job.read_text(encoding="utf-8") + '\n[[reading]]\nplace = "room"\ncarbon_monoxide = "80 ppm"\n'
    job.write_text(text, encoding="utf-8")
    assert main(["visit", str(job), "--keep", "--date", "2026-01-02"]) == 0
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "1", Question)
        await pilot.press("1")
        await until(pilot, lambda: isinstance(app.screen, ReadingsScreen) and app.screen.query(".choice"))
        await until(pilot, lambda: "80 ppm" in str(app.screen.query_one("#listing-stop").content))


@pytest.mark.parametrize("word", ["customer", "visit", "report of"])
async def test_the_report_of_a_visit_is_found_and_written(job: Path, word: str) -> None:
    """F9 finds it by any word for it; a digit writes the customer's page beside the job."""
    assert main(["visit", str(job), "--keep", "--date", "2026-01-02"]) == 0
    async with running(job) as (app, pilot):
        await pilot.press("f9")
        await pilot.pause()
        await pilot.press(*("space" if key == " " else key for key in word))
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, VisitReport) and app.screen.query(".choice"))
        await pilot.press("1")
        await until(pilot, lambda: list(job.parent.glob("job-visit-2026-01-02*-customer.pdf")), seconds=60)
