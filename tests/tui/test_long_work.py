"""Long work ends when its screen is left, whatever it is about."""

from __future__ import annotations

import pytest

import ventsize.check.variants
from tests.tui.screens import running, scenario, until
from ventsize.finding.halting import Halted, go_on
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.questions import QUESTIONS


@pytest.mark.parametrize("name", ["repairs", "headroom"])
async def test_work_ends_when_its_screen_is_left(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """One Esc, and no more variants are judged; what had been begun is left out."""
    ended: list[str] = []

    def watched() -> None:
        try:
            go_on()
        except Halted:
            ended.append(name)
            raise

    monkeypatch.setattr(ventsize.check.variants, "go_on", watched)
    question = next(question for question in QUESTIONS if question.name == name)
    async with running(scenario("attic-in-the-cold")) as (app, pilot):
        app.push_screen(question.open(app.screen.session))
        await pilot.pause()
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, JobScreen) and ended)
