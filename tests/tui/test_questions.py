"""Questions to the open job: each opens from the menu and answers with what the command line says."""

from __future__ import annotations

import pytest

from tests.tui.screens import LARGE, as_text, running, scenario, until
from ventsize.tui.questions import QUESTIONS, TEXT, QuestionEntry
from ventsize.tui.questions.answers import ANSWERS
from ventsize.tui.questions.text import NOTHING, WORKING, TextScreen

SAYS = {
    "report": "By the table",
    "working": "Reynolds",
    "checkover": "Still to look at",
}


def test_every_question_has_an_answer() -> None:
    """The menu lists what there is, and nothing else; a question with a screen of its own answers there."""
    assert {question.name for question in QUESTIONS if question.screen == TEXT} == set(ANSWERS) == set(SAYS)


@pytest.mark.parametrize("name", SAYS)
async def test_a_question_is_answered(name: str) -> None:
    """Worked out beside the screen, shown as text; a job without what it needs gets a sentence instead."""
    question = next(question for question in QUESTIONS if question.name == name)
    async with running(scenario("simple-pass"), size=LARGE) as (app, pilot):
        app.push_screen(question.open(app.screen.session))
        await until(pilot, lambda: isinstance(app.screen, TextScreen) and app.screen.answer, seconds=60)
        assert SAYS[name].lower() in app.screen.answer.lower()
        assert WORKING not in app.screen.answer and NOTHING not in app.screen.answer
        await pilot.press("escape")
        assert not isinstance(app.screen, TextScreen)


async def test_the_menu_opens_a_question_by_keys() -> None:
    """F9, a word of its title, Enter."""
    async with running(scenario("simple-pass")) as (app, pilot):
        await pilot.press("f9")
        await pilot.pause()
        await pilot.press(*"whole", "enter")
        await until(pilot, lambda: isinstance(app.screen, TextScreen) and app.screen.answer)
        assert "BOATHOUSE" in app.screen.answer.upper()


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda question: question.name)
async def test_no_report_shows_a_doubted_pass_as_a_plain_one(question: QuestionEntry) -> None:
    """Within by the table, beyond it by calculation: wherever the verdict stands, the doubt stands with it."""
    async with running(scenario("trips-on-the-vent"), size=LARGE) as (app, pilot):
        job = app.screen
        app.push_screen(question.open(job.session))
        await until(pilot, lambda: app.screen is not job)
        await pilot.pause()
        drawn = " ".join(as_text(app).upper().split())
        assert "✓ WITHIN" not in drawn
        assert "? WITHIN" not in drawn or "DOUBT" in drawn
