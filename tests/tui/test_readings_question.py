"""The readings of an open job and their cause, asked from the menu of questions."""

from __future__ import annotations

from tests.tui.screens import LARGE, running, scenario, until
from ventsize.tui.questions import QUESTIONS
from ventsize.tui.questions.text import TextScreen


async def test_a_job_with_readings_is_answered() -> None:
    """The same text as on the command line, the cause first, then each reading, worked out beside the screen."""
    question = next(question for question in QUESTIONS if question.name == "diagnose")
    async with running(scenario("trips-on-the-vent"), size=LARGE) as (app, pilot):
        app.push_screen(question.open(app.screen.session))
        await until(pilot, lambda: isinstance(app.screen, TextScreen) and app.screen.answer, seconds=60)
        answer = " ".join(app.screen.answer.split())
        assert "terminal of 'vent' is partly blocked" in answer and "more of straight 2 in pipe" in answer
