"""The readings of an open job and their cause, asked from the menu of questions."""

from __future__ import annotations

from tests.tui.at_the_appliance import means
from tests.tui.screens import LARGE, as_text, running, scenario, typed, until
from ventsize.tui.field.choices import Choices
from ventsize.tui.field.reading import ReadingPage
from ventsize.tui.questions import QUESTIONS


async def test_a_job_with_readings_is_answered() -> None:
    """The cause first, what is next, then each reading, which is typed anew from there; a key has it all as text."""
    question = next(question for question in QUESTIONS if question.name == "diagnose")
    async with running(scenario("trips-on-the-vent"), size=LARGE) as (app, pilot):
        app.push_screen(question.open(app.screen.session))
        await until(pilot, lambda: "terminal of 'vent' is partly blocked" in means(app), seconds=60)
        await until(pilot, lambda: "0.360 in w.c." in as_text(app))
        screen, before = app.screen, len(app.screen._rates) + len(app.screen._looks)
        assert as_text(app).index("partly blocked") < as_text(app).index("0.360 in w.c.")
        assert len(screen.query_one(Choices).options) == before + len(screen.session.inputs.job.readings)
        await pilot.press(str(before + 1))
        await until(pilot, lambda: isinstance(app.screen, ReadingPage))
        await typed(pilot, "0.12")
        await pilot.press("escape")
        await until(pilot, lambda: app.screen is screen and "partly blocked" not in means(app), seconds=60)
        await pilot.press("t")
        await until(pilot, lambda: app.screen is not screen and "0.120 in w.c." in app.screen.answer, seconds=60)
