"""At the appliance, with one hand: digits, Enter, + and -; large figures; nothing lost if the lid is shut."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, typed, until
from tests.tui.test_pictures import compare
from ventsize.catalog.folders import user_folder
from ventsize.cli import main
from ventsize.jobfile.recovery import pending_recoveries
from ventsize.jobfile.visits import read_visits
from ventsize.report.checkover import counts_of
from ventsize.studies.checkover import check_over
from ventsize.tui.field import page
from ventsize.tui.field.choices import Choices
from ventsize.tui.field.listing import AlongScreen, RatesScreen, SeenScreen, SpotsScreen
from ventsize.tui.field.reading import ReadingPage
from ventsize.tui.field.report import VisitReport
from ventsize.tui.field.rule import RulePage
from ventsize.tui.field.start import FieldScreen
from ventsize.tui.field.text import FieldText
from ventsize.tui.help import TOPICS
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.job.session import Session
from ventsize.tui.plain import PlainCharacters
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.large import GLYPHS, large
from ventsize.tui.widgets.question import Question

ONE_HAND = {*"0123456789.+-", "enter", "up", "down", "backspace"}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of a demonstration job that may be changed."""
    return Path(shutil.copy(scenario("long-run-adaptive"), tmp_path / "job.toml"))


async def opened(app: Any, pilot: Pilot[int]) -> None:
    """From the job to the first page by keys."""
    await pilot.press("f9")
    await pilot.pause()
    await pilot.press(*"appliance", "enter")
    await until(pilot, lambda: isinstance(app.screen, FieldScreen) and app.screen.query("Choices:focus"))
    await until(pilot, lambda: len(app.screen.query(".choice")) == 6)
    await pilot.pause()


async def chosen(app: Any, pilot: Pilot[int], digit: str, kind: type) -> None:
    """A digit, and the page it opens."""
    await pilot.press(digit)
    await until(pilot, lambda: isinstance(app.screen, kind))
    if app.screen.query(Choices):
        await until(pilot, lambda: app.screen.query(".choice"))
    await pilot.pause()


COLLAR = "Static pressure at the collar"


async def at_a_reading(app: Any, pilot: Pilot[int], title: str = COLLAR) -> None:
    """The page of one reading at the high rate."""
    await opened(app, pilot)
    await chosen(app, pilot, "1", RatesScreen)
    await chosen(app, pilot, "1", SpotsScreen)
    await picked(app, pilot, title)


async def picked(app: Any, pilot: Pilot[int], title: str = COLLAR) -> None:
    """The page of a reading in the list."""
    choices = app.screen.query_one(Choices)
    choices.go(next(n for n, one in enumerate(choices.options) if one.label == title))
    await pilot.press("enter")
    await until(pilot, lambda: isinstance(app.screen, ReadingPage))
    await pilot.pause()


def part(app: Any, name: str) -> str:
    """One part of a page."""
    return str(app.screen.query_one(f"#page-{name}").content)


def word(text: str, *, small: bool = False) -> str:
    """A word as the page shows it; beside a figure on the page of a rule it is small."""
    return "\n".join(large(text, half=small))


async def test_a_reading_is_judged_as_it_is_typed(job: Path) -> None:
    """Rate, place, figure: four keys to the page, and the word changes with the figure; Enter goes to the next."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        assert part(app, "how").startswith("It should be 0.")
        await typed(pilot, "0.62")
        assert part(app, "word") == word("high")
        assert part(app, "large") == "\n".join(large("0.62")) + "  in w.c."
        await pilot.press("backspace", "backspace")
        await typed(pilot, "47")
        assert part(app, "word") == word("expected")
        await pilot.press("enter")
        await pilot.pause()
        assert part(app, "ask") == "CO2 in the flue gas, dry"
        (reading,) = app.screen.session.data["reading"]
        assert (reading["place"], reading["rate"], reading["pressure"]) == ("collar", "high", "0.47 in w.c.")
        assert reading["when"]
        await pilot.press("up")
        await typed(pilot, "0.2")  # the first key begins anew
        assert part(app, "word") == word("low")
        assert len(app.screen.session.data["reading"]) == 1


async def test_a_switch_setting_typed_on_its_page_judges_the_switch(job: Path) -> None:
    """Two figures: across the switch, and the number on it; below it the word is low, and it says that it opens."""
    lines = job.read_text(encoding="utf-8").splitlines(keepends=True)
    job.write_text("".join(line for line in lines if not line.startswith("switch_")), encoding="utf-8")
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot, "Pressure across the switch")
        await typed(pilot, "0.81")
        assert "Not compared" in part(app, "how")
        await pilot.press("up")
        await pilot.pause()
        assert part(app, "ask") == "Setting on the switch's label"
        await typed(pilot, "0.85")
        assert app.screen.session.data["appliance"][0]["rate"][0]["switch_opens"] == "0.85 in w.c."
        await pilot.press("enter")
        await pilot.pause()
        assert part(app, "word") == word("low") and "opens" in part(app, "says")
        await typed(pilot, "1.3")
        assert part(app, "word") == word("expected")


async def test_a_wrong_sign_is_doubtful_and_says_what_it_would_mean(job: Path) -> None:
    """A vent under pressure does not draw: hoses exchanged, or something draws on it."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        await typed(pilot, "-0.47")
        assert part(app, "word") == word("doubtful")
        assert "hoses" in part(app, "says") and "If it is right" in part(app, "says")


async def test_impossible_gas_is_doubtful(job: Path) -> None:
    """More CO2 than the fuel can give."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot, "CO2 in the flue gas, dry")
        await typed(pilot, "13")
        assert part(app, "word") == word("doubtful")


async def test_what_cannot_be_read_is_said_and_not_taken(job: Path) -> None:
    """A sentence, and the data keep what could be read last."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        await typed(pilot, "0.4 bananas")
        assert part(app, "says").startswith("!") and "bananas" in part(app, "says")
        assert not part(app, "word")
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, SpotsScreen)


async def test_a_rule_after_another(job: Path) -> None:
    """+ is met, - is not, a figure is judged by the limit; each is in the job at once, with its date."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "2", RulePage)
        assert part(app, "ask") == "Terminal above the ground, vent: at least 12 in"
        assert "(in where no unit is typed)" in part(app, "says")
        await typed(pilot, "10")
        assert part(app, "large") == "\n".join(large("10 in"))
        assert part(app, "word") == word("not met", small=True)
        await pilot.press("backspace")
        await typed(pilot, "4")
        assert part(app, "word") == word("met", small=True) and "= 14 in" in part(app, "says")
        await pilot.press("enter", "+")
        await pilot.pause()
        assert part(app, "word") == word("met")  # it stays, and Enter goes on
        await pilot.press("enter", "-", "enter")
        await pilot.pause()
        assert part(app, "ask").startswith("Terminal beside")
        ticks = app.screen.session.data["checked"]
        assert [(t["rule"], t.get("value"), t.get("met")) for t in ticks] == [
            ("terminal-above-grade", "14 in", None),
            ("terminal-above-snow", None, True),
            ("terminal-below-opening", None, False),
        ]
        assert all(t["date"] == page.today() for t in ticks)
        await pilot.press("up")
        assert part(app, "word") == word("not met")
        await pilot.press("m")
        await pilot.pause()
        await pilot.press(*"west", "enter")
        await pilot.pause()
        assert app.screen.session.data["checked"][2]["note"] == "west"
        await pilot.press("delete")
        assert len(app.screen.session.data["checked"]) == 2
        await pilot.press("ctrl+z")
        assert len(app.screen.session.data["checked"]) == 3
        await pilot.press("escape", "escape")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        assert "not saved" in as_text(app).splitlines()[0]


async def test_enter_passes_over_what_the_job_tells() -> None:
    """The allowance and the temperature are checked already; the arrows still come by them."""
    async with running(scenario("second-visit")) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "2", RulePage)
        seen = []
        while isinstance(app.screen, RulePage):
            seen.append(app.screen.item.rule.name)
            await pilot.press("enter")
            await pilot.pause()
        assert "support-upright" in seen and {"allowance", "pipe-temperature", "trap-seal"}.isdisjoint(seen)
        assert isinstance(app.screen, FieldScreen)


async def test_everything_is_within_reach_of_one_hand(job: Path) -> None:
    """A whole visit on the number pad: three readings, a rule met, one measured, and back by the page's end."""
    keys = [*"112", *"3", "enter", *"25", "enter", *"6", "enter", *"0", "enter", *"0.85", "enter", "up", "up"]
    assert set(keys) <= ONE_HAND
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        for key in keys:
            await pilot.press(key)
            await pilot.pause()
        readings = app.screen.session.data["reading"]
        assert [one["place"] for one in readings] == ["room", "collar", "collar", "zero"]
        assert part(app, "ask") == "Manometer with both hoses open" and "Both hoses open" in part(app, "how")


async def test_every_key_is_kept(job: Path) -> None:
    """The journal holds what was typed so far after each key, also what is no value yet."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        for key, kept in (("0", "0 in w.c."), (".", "0. in w.c."), ("4", "0.4 in w.c."), ("7", "0.47 in w.c.")):
            await typed(pilot, key)
            snapshot = tomllib_of_journal(app.screen.session)
            assert snapshot["reading"][0]["pressure"].startswith(kept[:2]) or kept in str(snapshot)
        assert snapshot["reading"][0]["pressure"] == "0.47 in w.c."


def tomllib_of_journal(session: Session) -> dict[str, Any]:
    """The data that the session's journal holds on disk."""
    from ventsize.jobfile.recovery import _read

    path = session.journal._path
    assert path is not None
    return _read(path.read_bytes()).data


SHUT = """
import asyncio, os, sys
from pathlib import Path
from tests.tui.screens import running, typed
from tests.tui.test_field import at_a_reading, opened, chosen
from ventsize.tui.field.rule import RulePage

async def main():
    async with running(Path(sys.argv[1])) as (app, pilot):
        await at_a_reading(app, pilot)
        await typed(pilot, "0.62 i")
        os._exit(9)

asyncio.run(main())
"""


def test_nothing_is_lost_when_the_program_dies(job: Path) -> None:
    """Killed in the middle of a unit: the figure is offered back, and the half-typed text with it."""
    root = Path(__file__).resolve().parents[2]
    before = job.read_bytes()
    ended = subprocess.run([sys.executable, "-c", SHUT, str(job)], cwd=root, capture_output=True, timeout=120)
    assert ended.returncode == 9, ended.stderr.decode()[-600:]
    (offer,) = pending_recoveries(user_folder())
    assert offer.snapshot.file == job and job.read_bytes() == before
    assert offer.snapshot.data["reading"][0]["pressure"] == "0.62 in w.c."
    assert list(offer.snapshot.drafts.values()) == ["0.62 i"]


async def test_a_visit_is_kept(job: Path) -> None:
    """The job is saved, and the visit beside it; the page since the last visit then finds nothing changed."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        await typed(pilot, "0.62")
        await pilot.press("escape", "escape", "escape")
        await until(pilot, lambda: isinstance(app.screen, FieldScreen))
        await pilot.press("4")
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
        await chosen(app, pilot, "5", FieldText)
        await until(pilot, lambda: app.screen.answer)
        assert "There is no earlier visit" in app.screen.answer


@pytest.mark.parametrize("keys", [("escape",), ("enter",), ("5", "1"), ("2", "escape")])
async def test_a_visit_is_kept_without_photos(job: Path, keys: tuple[str, ...]) -> None:
    """Whatever way out of the question of photos: the note was typed to be kept. A digit that is no answer is none."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await pilot.press("4")
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
        await pilot.press("4")
        await pilot.pause()
        for key in keys:
            await pilot.press(key)
            await pilot.pause()
        await until(pilot, lambda: any("No visit was kept" in one.message for one in app._notifications))
        assert not read_visits(job)


async def test_a_note_typed_before_met_is_kept(job: Path) -> None:
    """It leaves the rule open; met afterwards keeps it, and so does taking a figure back."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "2", RulePage)
        await pilot.press("m")
        await pilot.pause()
        await pilot.press(*"shrub", "enter")
        await pilot.pause()
        (tick,) = app.screen.session.data["checked"]
        assert tick["note"] == "shrub" and "met" not in tick
        assert "Noted: shrub" in part(app, "says") and not app.screen.session.problems
        await pilot.press("9", "backspace")
        assert app.screen.session.data["checked"][0]["note"] == "shrub"
        await pilot.press("+")
        await pilot.pause()
        (tick,) = app.screen.session.data["checked"]
        assert tick["note"] == "shrub" and tick["met"] is True


async def test_a_rules_source_is_shown_whole(job: Path) -> None:
    """At 80 by 24 there are lines enough for it: what must be checked before use does not end in mid-sentence."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "2", RulePage)
        for _ in range(len(app.screen._items)):
            if not isinstance(app.screen, RulePage):
                break
            cited = app.screen.item.rule.cited
            assert " ".join(cited.split()) in " ".join(as_text(app).split()), cited
            await pilot.press("right")
            await pilot.pause()


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
        await chosen(app, pilot, "1", RatesScreen)
        assert "reading" not in app.screen.session.data
        await pilot.press("ctrl+z")
        assert len(app.screen.session.data["reading"]) == 1


async def test_a_demonstration_is_not_visited() -> None:
    """Its visits would stand among the shipped files: it asks for a name of its own first."""
    async with running(scenario("long-run-adaptive")) as (app, pilot):
        assert app.screen.session.shipped
        await opened(app, pilot)
        await pilot.press("4")
        await pilot.pause()
        assert any("name of its own" in str(note.message) for note in app._notifications)
    assert not scenario("long-run-adaptive").with_suffix(".visits").exists()


async def test_what_the_readings_mean(job: Path) -> None:
    """The causes, worked out from what has just been read, beside the table; without a reading it says so."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "3", FieldText)
        await until(pilot, lambda: app.screen.answer)
        assert "no reading" in app.screen.answer
        await pilot.press("enter")
        await pilot.pause()
        await chosen(app, pilot, "1", RatesScreen)
        await chosen(app, pilot, "1", SpotsScreen)
        await picked(app, pilot)
        await typed(pilot, "0.47")
        await pilot.press("escape", "escape", "escape")
        await until(pilot, lambda: isinstance(app.screen, FieldScreen))
        await chosen(app, pilot, "3", FieldText)
        await until(pilot, lambda: app.screen.answer, seconds=60)
        assert "READS AS IT SHOULD, BUT OVER BY THE TABLE" in app.screen.answer


@pytest.mark.parametrize(("size", "name"), [(SMALL, "80x24"), (LARGE, "120x40")])
async def test_pages(job: Path, size: tuple[int, int], name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Legible at arm's length at both sizes."""
    import datetime

    for module in ("page", "start", "rule"):
        monkeypatch.setattr(f"ventsize.tui.field.{module}.today", lambda: datetime.date(2026, 11, 20))
    async with running(job, size=size) as (app, pilot):
        await opened(app, pilot)
        await until(pilot, lambda: not app._animator._animations)
        compare(f"field-start-{name}", as_text(app))
        await chosen(app, pilot, "1", RatesScreen)
        await chosen(app, pilot, "1", SpotsScreen)
        await picked(app, pilot)
        await typed(pilot, "0.62")
        assert word("high").splitlines()[0].strip() in as_text(app)
        compare(f"field-reading-{name}", as_text(app))
        await pilot.press("escape", "escape", "escape")
        await until(pilot, lambda: isinstance(app.screen, FieldScreen))
        await chosen(app, pilot, "2", RulePage)
        await typed(pilot, "14")
        assert word("met", small=size == SMALL).splitlines()[0].strip() in as_text(app)
        compare(f"field-rule-{name}", as_text(app))


async def test_plain_terminals_get_words_rather_than_half_blocks(job: Path) -> None:
    """In ASCII a half block is a whole one, and the word would be a blot."""
    async with running(job) as (app, pilot):
        app._filters.append(PlainCharacters())
        await opened(app, pilot)
        await chosen(app, pilot, "2", RulePage)
        await typed(pilot, "14")
        assert part(app, "word") == "*** met ***"


def test_every_page_has_help() -> None:
    """F1 tells what the keys are."""
    assert {FieldScreen.topic, RatesScreen.topic, SpotsScreen.topic, ReadingPage.topic, RulePage.topic} <= set(TOPICS)


def test_every_letter_and_figure_has_a_glyph() -> None:
    """Five lines each, as wide as one another."""
    assert set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ.-+/' ") <= set(GLYPHS)
    for glyph in GLYPHS.values():
        assert len(glyph) == 5 and len({len(line) for line in glyph}) == 1


async def test_shut_it_off_comes_before_anything_else(job: Path) -> None:
    """On the page where it is typed, on the list, and on the first page: nothing of feet stands above it."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot, "CO in the flue gas, as read")
        await typed(pilot, "450")
        assert part(app, "word") == word("shut it off") and part(app, "how").startswith("! Shut it off.")
        assert app.screen.session.data["reading"][0]["carbon_monoxide"] == "450 ppm"
        for kind in (SpotsScreen, RatesScreen, FieldScreen):
            await pilot.press("escape")
            await until(pilot, lambda kind=kind: isinstance(app.screen, kind))
            await until(pilot, lambda: str(app.screen.query_one("#listing-stop").content).startswith("! Shut it off."))
        assert "Shut it off" in as_text(app).splitlines()[0]


async def test_what_is_seen_is_marked_and_taken_back(job: Path) -> None:
    """A list of its own at the rate; an alarm says to shut it off."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "1", RatesScreen)
        await chosen(app, pilot, "1", SpotsScreen)
        await chosen(app, pilot, "1", SeenScreen)
        await pilot.press("3")
        await until(pilot, lambda: app.screen.session.data.get("symptom"))
        (seen,) = app.screen.session.data["symptom"]
        assert (seen["what"], seen["rate"]) == ("switch chatters", "high") and not app.screen.session.problems
        await pilot.press("3")
        await until(pilot, lambda: "symptom" not in app.screen.session.data)
        await pilot.press("up", "up", "up", "enter")
        assert "symptom" in app.screen.session.data


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
        await until(pilot, lambda: isinstance(app.screen, RatesScreen) and app.screen.query(".choice"))
        await until(pilot, lambda: "80 ppm" in str(app.screen.query_one("#listing-stop").content))


async def test_the_reading_that_is_asked_for_is_typed_from_the_answer(job: Path) -> None:
    """One key; the answer is worked out anew with it."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        await typed(pilot, "0.9")
        await pilot.press("escape", "escape", "escape")
        await until(pilot, lambda: isinstance(app.screen, FieldScreen))
        await chosen(app, pilot, "3", FieldText)
        await until(pilot, lambda: app.screen.answer, seconds=60)
        first = app.screen.answer
        await pilot.press("1")
        await until(pilot, lambda: isinstance(app.screen, ReadingPage))
        assert f"Press 1 to type: {part(app, 'ask')}" in first
        await typed(pilot, "0.1")
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, FieldText))
        await until(pilot, lambda: app.screen.answer != first, seconds=60)


async def test_a_reading_along_a_pipe_is_typed_and_listed(job: Path) -> None:
    """After the third piece: as the job file has it, and in the list of what has been read."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "1", RatesScreen)
        await chosen(app, pilot, "1", SpotsScreen)
        await pilot.press("end", "up", "enter")
        await until(pilot, lambda: isinstance(app.screen, AlongScreen) and app.screen.query(".choice"))
        await chosen(app, pilot, "3", ReadingPage)
        await typed(pilot, "0.3")
        (reading,) = app.screen.session.data["reading"]
        assert (reading["place"], reading["pressure"]) == ("after piece 3", "0.3 in w.c.") and reading["run"]
        assert part(app, "how").startswith("It should be")
        await pilot.press("escape", "escape")
        await until(pilot, lambda: type(app.screen) is SpotsScreen)
        await until(pilot, lambda: any("after piece 3" in one.label and "0.3" in one.note for one in
                                       app.screen.query_one(Choices).options))  # fmt: skip


async def test_the_dial_of_the_meter_is_said_with_a_key(job: Path) -> None:
    """One line for the meter; / says which of its dials was read, before or after the seconds."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot, "Gas meter, seconds for one turn of the 2 ft³ dial")
        await typed(pilot, "36")
        assert app.screen.session.data["reading"][0]["meter_dial"] == "2 ft³"
        await pilot.press("/")
        (reading,) = app.screen.session.data["reading"]
        assert (reading["meter_dial"], reading["meter_seconds"]) == ("1 ft³", 36.0)


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


async def test_the_accuracy_of_the_gauge_is_typed_with_the_reading(job: Path) -> None:
    """Behind +-, with or without its unit; it stays when the figure is typed again."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        await typed(pilot, "0.47")
        assert "0.010 in w.c., as is usual" in part(app, "says")
        await typed(pilot, "+-0.005")
        (reading,) = app.screen.session.data["reading"]
        assert (reading["pressure"], reading["accuracy"]) == ("0.47 in w.c.", "0.005 in w.c.")
        assert "give or take 0.005 in w.c." in part(app, "says") and "usual" not in part(app, "says")
        await pilot.press(*["backspace"] * 5)
        await typed(pilot, "0")
        assert part(app, "says").startswith("!")


async def test_counts_of_the_check_over_agree(job: Path) -> None:
    """The first page, a rule's page and the report count alike, ticked off or told by the job."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "2", RulePage)
        await pilot.press("+", "enter", "-")
        await pilot.pause()
        on_page = str(app.screen.query_one(".page-title").content)
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, FieldScreen))
        await pilot.pause()
        counts = counts_of(check_over(app.screen.session.inputs, checked=app.screen.session.check).items)
        assert counts in on_page and counts in as_text(app) and " 2 not met" in counts
