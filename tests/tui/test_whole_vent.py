"""Along the run, the inducer and the range: each a picture, answered as typed."""

from __future__ import annotations

from functools import partial
from typing import Any

import pytest

from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, typed, until
from ventsize.tui.job.form import Form
from ventsize.tui.questions import QUESTIONS
from ventsize.tui.questions.picture import PictureScreen

SIZES = {"80x24": SMALL, "120x40": LARGE}


def entry(name: str) -> Any:
    """A question as the menu has it."""
    return next(question for question in QUESTIONS if question.name == name)


async def asked(app: Any, pilot: Any, name: str) -> PictureScreen:
    """The question's screen with its first answer."""
    app.push_screen(entry(name).open(app.screen.session))
    await until(pilot, lambda: isinstance(app.screen, PictureScreen) and app.screen.answer, seconds=60)
    await pilot.pause()
    screen = app.screen
    assert isinstance(screen, PictureScreen)
    return screen


SHOWN = {
    "along": ("attic-in-the-cold", "e elbow"),
    "inducer": ("switch-opens-at-high-fire", "T top speed"),
    "uncertainty": ("old-two-inch-run", "├"),
}


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", SHOWN)
async def test_each_shows_its_picture(name: str, size: str) -> None:
    """The picture is in sight at both sizes, the verdict too; T gives it in words, Esc goes back."""
    job, mark = SHOWN[name]
    async with running(scenario(job), size=SIZES[size]) as (app, pilot):
        screen = await asked(app, pilot, name)
        shown = as_text(app)
        assert mark in shown
        assert f"job: {'✓' if screen.session.check.verdict == 'within' else ''}".strip() in shown
        await pilot.press("t")
        await pilot.pause()
        assert "Cautions" in str(screen._picture.content)
        await pilot.press("escape")
        await pilot.pause()
        assert not isinstance(app.screen, PictureScreen)


async def test_a_cold_day_is_answered_as_typed() -> None:
    """Each keystroke that makes a temperature is a new answer; what cannot be one leaves the last standing."""
    async with running(scenario("attic-in-the-cold"), size=LARGE) as (app, pilot):
        screen = await asked(app, pilot, "along")
        await pilot.press("v")
        screen._outdoor.focus_entry()
        await pilot.pause()
        await typed(pilot, "-40")
        await until(pilot, lambda: " -40 °F" in str(screen._picture.content))
        assert screen.study.along.rates[0].points[-1].surroundings == pytest.approx(233.15)
        before = str(screen._picture.content)
        await typed(pilot, " bananas")
        assert str(screen._picture.content) == before
        await pilot.press("escape")
        screen._insulation.focus_entry()
        await pilot.pause()
        await typed(pilot, "2 in")
        await until(pilot, lambda: not any(rate.may_freeze for rate in screen.study.cold.rates[:2]))


async def test_cooling_is_switched_for_the_whole_job() -> None:
    """It is on unless the job says otherwise; one key turns it off in the job, and on again."""
    async with running(scenario("simple-pass"), size=LARGE) as (app, pilot):
        session = app.screen.session
        assert session.check.cooling
        screen = await asked(app, pilot, "along")
        assert "cooling is off in the job" not in as_text(app)
        await pilot.press("e")
        await until(pilot, lambda: not screen.study.along.cooling)
        assert session.data["cooling"] is False and not session.check.cooling
        await until(pilot, lambda: "cooling is off in the job" in as_text(app))
        await pilot.press("e")
        await until(pilot, lambda: screen.study.along.cooling)
        assert "cooling" not in session.data and session.check.cooling
        await pilot.press("n")
        await pilot.pause()
        assert "vent at" not in as_text(app) and "air at" in as_text(app)


@pytest.mark.parametrize("size", SIZES)
async def test_along_steps_through_runs_rates_and_views(size: str) -> None:
    """One run at one rate, kept from view to view, the answer first; each view's text is that of its verb."""
    async with running(scenario("sagging-run"), size=SIZES[size]) as (app, pilot):
        screen = await asked(app, pilot, "along")
        for key, sight, words in (
            ("r", ("vent at low, furnace to outdoors", "dashed: without cooling", "stands at piece 4"), "Along each"),
            ("v", ("vent at low", "W inside wall", "freezes at"), "Cold weather"),
            ("v", ("vent at low", "▲ low spot", "trap at furnace"), "Condensate"),
            ("v", ("vent at low", "dashed: without cooling"), "Along each"),
        ):
            await pilot.press(key)
            await pilot.pause()
            assert all(part in as_text(app) or part in str(screen._picture.content) for part in sight)
            assert words in screen.answer


async def test_an_inducer_is_described_and_its_curve_typed() -> None:
    """a puts an example in, called so; points typed over it move the operating point; undo takes them back."""
    async with running(scenario("simple-pass"), size=LARGE) as (app, pilot):
        session = app.screen.session
        app.push_screen(entry("inducer").open(session))
        await until(pilot, lambda: "describes no inducer" in as_text(app))
        screen = app.screen
        await pilot.press("a")
        await until(pilot, lambda: screen.study is not None)
        assert "example curve" in as_text(app)
        speed = screen.study.inducers.rates[0].speed
        await typed(pilot, "0: 4; 20: 3; 40: 0")
        await until(pilot, lambda: screen.study.inducers.rates[0].speed < speed)
        assert session.data["appliance"][0]["inducer"]["curve"][1] == ["20 ft³/min", "3 in w.c."]
        await typed(pilot, "; 50: 9")
        await until(pilot, lambda: "the head rises" in as_text(app))
        assert session.stale


async def test_an_inducer_of_two_speeds_is_typed() -> None:
    """It keeps its speed, and one is typed for each rate: the one of two speeds beside the others turns so fast."""
    async with running(scenario("long-run-adaptive"), size=LARGE) as (app, pilot):
        screen = await asked(app, pilot, "inducer")
        form = screen.query_one(Form)
        await pilot.press("e")
        form.focus_field(form.field_of("fan_adaptive"))
        await pilot.press("right")
        form.focus_field(form.field_of("fan_speed"))
        await typed(pilot, "95 %")
        await pilot.press("enter")
        await typed(pilot, "60 %")
        wanted = {"high": 0.95, "low": 0.6}
        await until(pilot, lambda: {r.name: r.speed for r in screen.study.bench.rates} == pytest.approx(wanted))
        points = {r.rate: r.point.speed for r in screen.study.inducers.rates}
        assert points == pytest.approx(wanted)


async def test_the_range_is_drawn_again_with_as_many_cases_as_typed() -> None:
    """Enter draws; the number is in the answer."""
    async with running(scenario("old-two-inch-run"), size=LARGE) as (app, pilot):
        screen = await asked(app, pilot, "uncertainty")
        screen._samples.focus_entry()
        await pilot.pause()
        await typed(pilot, "500")
        await pilot.press("enter")
        await until(pilot, lambda: screen.study.samples == 500)
        screen._stopped = True
        screen._ask(partial(screen._range, 600), screen.session.inputs)
        await until(pilot, lambda: "stopped" in as_text(app))
        assert screen.study.samples == 500


async def test_an_example_inducer_put_in_by_a_slip_is_dropped() -> None:
    """Esc right after a takes it out again; after something was typed it stays."""
    async with running(scenario("simple-pass"), size=LARGE) as (app, pilot):
        session = app.screen.session
        before = session.data
        app.push_screen(entry("inducer").open(session))
        await until(pilot, lambda: "describes no inducer" in as_text(app))
        await pilot.press("a")
        await until(pilot, lambda: "inducer" in session.data["appliance"][0])
        await pilot.press("escape")
        await until(pilot, lambda: session.data == before)
        await pilot.press("a")
        await typed(pilot, "0: 4; 20: 3; 40: 0")
        await pilot.press("enter", "escape")
        await pilot.pause()
        assert session.data["appliance"][0]["inducer"]["curve"][1] == ["20 ft³/min", "3 in w.c."]
