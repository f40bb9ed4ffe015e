"""Readings typed at the appliance: judged as they are typed, asked for, seen and heard, along a pipe."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.tui.at_the_appliance import at_a_reading, chosen, means, opened, part, picked, word
from tests.tui.screens import as_text, running, scenario, typed, until
from ventsize.report.diagnosis import asked_for
from ventsize.studies.readings.symptoms import FOUND_RIGHT
from ventsize.tui.field.choices import Choices
from ventsize.tui.field.listing import AlongScreen, ReadingsScreen, SeenScreen, SpotsScreen
from ventsize.tui.field.reading import ReadingPage
from ventsize.tui.field.start import FieldScreen
from ventsize.tui.widgets.large import large


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of a demonstration job that may be changed."""
    return Path(shutil.copy(scenario("long-run-adaptive"), tmp_path / "job.toml"))


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


async def test_shut_it_off_comes_before_anything_else(job: Path) -> None:
    """On the page where it is typed, on the list, and on the first page: nothing of feet stands above it."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot, "CO in the flue gas, as read")
        await typed(pilot, "450")
        assert part(app, "word") == word("shut it off", small=True) and part(app, "how").startswith("! Shut it off.")
        assert max(map(len, part(app, "word").splitlines())) <= 76  # whole at 80 columns
        assert app.screen.session.data["reading"][0]["carbon_monoxide"] == "450 ppm"
        for kind in (SpotsScreen, ReadingsScreen, FieldScreen):
            await pilot.press("escape")
            await until(pilot, lambda kind=kind: isinstance(app.screen, kind))
            await until(pilot, lambda: str(app.screen.query_one("#listing-stop").content).startswith("! Shut it off."))
        assert "Shut it off" in as_text(app).splitlines()[0]
        for kind in (ReadingsScreen, SpotsScreen):
            await chosen(app, pilot, "1", kind)
        await picked(app, pilot)
        await until(pilot, lambda: "SHUT IT OFF" in as_text(app).splitlines()[0])


async def test_what_is_seen_is_marked_and_taken_back(job: Path) -> None:
    """A list of its own at the rate; an alarm says to shut it off."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "1", ReadingsScreen)
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


async def test_what_is_right_is_so_at_every_rate(job: Path) -> None:
    """The last of the list, what was looked at: marked at one rate, it is marked at the other."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "1", ReadingsScreen)
        await chosen(app, pilot, "1", SpotsScreen)
        await chosen(app, pilot, "1", SeenScreen)
        await pilot.press("end", "enter")
        await until(pilot, lambda: app.screen.session.data.get("symptom"))
        (seen,) = app.screen.session.data["symptom"]
        assert seen["what"] in FOUND_RIGHT and not seen.get("rate") and not app.screen.session.problems


async def test_the_reading_that_is_asked_for_is_typed_from_the_answer(job: Path) -> None:
    """One key beside what is next; the answer is worked out anew with it."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        await typed(pilot, "0.9")
        await pilot.press("escape", "escape")
        await until(pilot, lambda: isinstance(app.screen, ReadingsScreen))
        await until(pilot, lambda: "0 types it" in means(app), seconds=60)
        first, asked = means(app), asked_for(app.screen._found)[0]
        await pilot.press("0")
        await until(pilot, lambda: isinstance(app.screen, ReadingPage))
        spot = app.screen.spot
        assert (spot.kind, spot.place, spot.rate) == (asked.kind, asked.place, asked.rate)
        await typed(pilot, "0.1")
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, ReadingsScreen))
        await until(pilot, lambda: means(app) != first, seconds=60)


async def test_letters_over_a_reading_lose_nothing(job: Path) -> None:
    """What was read there stands, be the next keys no figure at all or half of one."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        await typed(pilot, "0.36")
        await pilot.press("enter", "up")
        kept = app.screen.session.data["reading"]
        for keys in ("abc", "0.3x"):
            await typed(pilot, keys)
            await pilot.press("enter", "up")
            assert app.screen.session.data["reading"] == kept


async def test_a_look_is_marked_from_the_answer(job: Path) -> None:
    """What was found right stands among the symptoms, and its cause behind the others; once more takes it back."""
    async with running(job) as (app, pilot):
        await at_a_reading(app, pilot)
        await typed(pilot, "0.9")
        await pilot.press("escape", "escape")
        await until(pilot, lambda: isinstance(app.screen, ReadingsScreen))
        await until(pilot, lambda: app.screen._found is not None and app.screen._looks, seconds=60)
        what = app.screen._looks[0]
        digit = str(len(app.screen._rates) + 1)
        await pilot.press(digit)
        await until(pilot, lambda: [one["what"] for one in app.screen.session.data.get("symptom", [])] == [what])
        behind = lambda: [c.kind for g in app.screen._found.groups for c in g.causes if c.looked_for]  # noqa: E731
        await until(pilot, lambda: behind() == [FOUND_RIGHT[what]], seconds=60)
        await pilot.press(digit)
        await until(pilot, lambda: "symptom" not in app.screen.session.data)


async def test_a_reading_along_a_pipe_is_typed_and_listed(job: Path) -> None:
    """After the third piece: as the job file has it, and in the list of what has been read."""
    async with running(job) as (app, pilot):
        await opened(app, pilot)
        await chosen(app, pilot, "1", ReadingsScreen)
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
