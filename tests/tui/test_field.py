"""At the appliance, with one hand: digits, Enter, + and -; large figures; nothing lost if the lid is shut."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.tui.at_the_appliance import at_a_reading, chosen, means, opened, part, picked, word
from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, typed, until
from tests.tui.test_pictures import compare
from ventsize.catalog.folders import user_folder
from ventsize.jobfile.recovery import pending_recoveries
from ventsize.report.checkover import counts_of
from ventsize.studies.checkover import check_over
from ventsize.tui.field import page
from ventsize.tui.field.choices import Choices
from ventsize.tui.field.listing import ReadingsScreen, SpotsScreen
from ventsize.tui.field.reading import ReadingPage
from ventsize.tui.field.rule import RulePage
from ventsize.tui.field.start import FieldScreen
from ventsize.tui.field.text import FieldText
from ventsize.tui.help import TOPICS
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.job.session import Session
from ventsize.tui.plain import PlainCharacters
from ventsize.tui.widgets.large import GLYPHS, large

ONE_HAND = {*"0123456789.+-", "enter", "up", "down", "backspace"}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of a demonstration job that may be changed."""
    return Path(shutil.copy(scenario("long-run-adaptive"), tmp_path / "job.toml"))


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
from tests.tui.at_the_appliance import at_a_reading, opened, chosen
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


async def test_what_the_readings_mean(job: Path) -> None:
    """The causes, worked out from what has just been read, beside the table; without a reading it says so."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "1", ReadingsScreen)
        await until(pilot, lambda: "no reading" in means(app).lower())
        await chosen(app, pilot, "1", SpotsScreen)
        await picked(app, pilot)
        await typed(pilot, "0.47")
        await pilot.press("escape", "escape")
        await until(pilot, lambda: isinstance(app.screen, ReadingsScreen))
        await until(pilot, lambda: "READS AS IT SHOULD, BUT OVER BY THE TABLE" in means(app), seconds=60)
        assert "0.47 in w.c., should be" in app.screen.query_one(Choices).options[-1].note.replace("0.470", "0.47")
        await chosen(app, pilot, "t", FieldText)
        await until(pilot, lambda: "READS AS IT SHOULD, BUT OVER BY THE TABLE" in app.screen.answer, seconds=60)


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
        await chosen(app, pilot, "1", ReadingsScreen)
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
    assert {one.topic for one in (FieldScreen, ReadingsScreen, SpotsScreen, ReadingPage, RulePage)} <= set(TOPICS)


def test_every_letter_and_figure_has_a_glyph() -> None:
    """Five lines each, as wide as one another."""
    assert set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ.-+/' ") <= set(GLYPHS)
    for glyph in GLYPHS.values():
        assert len(glyph) == 5 and len({len(line) for line in glyph}) == 1


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
