"""The readings of an open job and their cause, asked from the menu of questions."""

from __future__ import annotations

import pytest

from tests.tui.screens import LARGE, running, scenario, until
from ventsize.tui.questions import QUESTIONS
from ventsize.tui.questions.text import TextScreen


@pytest.mark.parametrize(
    ("name", "says"), [("readings", "more of straight 2 in pipe"), ("diagnose", "terminal of 'vent' is partly blocked")]
)
async def test_a_job_with_readings_is_answered(name: str, says: str) -> None:
    """The same text as on the command line, worked out beside the screen."""
    question = next(question for question in QUESTIONS if question.name == name)
    async with running(scenario("trips-on-the-vent"), size=LARGE) as (app, pilot):
        app.push_screen(question.open(app.screen.session))
        await until(pilot, lambda: isinstance(app.screen, TextScreen) and app.screen.answer, seconds=60)
        assert says in " ".join(app.screen.answer.split())
