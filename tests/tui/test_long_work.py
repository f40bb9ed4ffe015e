"""Long work ends when its screen is left, whatever it is about."""

from __future__ import annotations

import time
from pathlib import Path
from threading import Event

import pytest
from textual.screen import Screen

import ventsize.check.variants
import ventsize.flow.solve
from tests.tui.screens import running, until
from tests.tui.test_cut_text import long_names
from ventsize.finding.halting import Halted, go_on
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.questions import QUESTIONS


@pytest.mark.parametrize("name", ["repairs", "headroom"])
async def test_work_ends_when_its_screen_is_left(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One Esc, and no more variants are judged; what had been begun is left out."""
    begun: list[str] = []
    ended: list[str] = []

    def watched() -> None:
        begun.append(name)
        time.sleep(0.02)  # or all of it would be done before the key comes
        try:
            go_on()
        except Halted:
            ended.append(name)
            raise

    question = next(question for question in QUESTIONS if question.name == name)
    for module in (ventsize.check.variants, ventsize.flow.solve):
        monkeypatch.setattr(module, "go_on", watched)
    async with running(long_names("trips-on-the-vent", tmp_path, pieces=200)) as (app, pilot):
        begun.clear()
        app.push_screen(question.open(app.screen.session))
        await until(pilot, lambda: begun)
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, JobScreen) and ended)


class Slow(Screen[None]):
    """A screen whose answer comes from a thread that nothing can stop; of: whose work it is."""

    def __init__(self, of: str) -> None:
        super().__init__()
        self.of = of
        self.go, self.begun, self.over = Event(), Event(), Event()
        self.told: list[str] = []

    def on_mount(self) -> None:
        if self.of == "the screen":
            self.work_out()
        else:  # leaving the screen cancels nothing
            self.app.run_worker(self.answer, thread=True)

    @long_work
    def work_out(self) -> None:
        self.answer()

    def answer(self) -> None:
        self.begun.set()
        self.go.wait()
        tell(self, self.told.append, "found")
        self.over.set()


@pytest.mark.parametrize("of", ["the screen", "the program"])
@pytest.mark.parametrize("left", [False, True])
async def test_an_answer_for_a_screen_that_is_left_goes_nowhere(left: bool, of: str, tmp_path: Path) -> None:
    """Else it would look for widgets that are gone, and end the program."""
    async with running(long_names("trips-on-the-vent", tmp_path, pieces=4)) as (app, pilot):
        slow = Slow(of)
        await app.push_screen(slow)
        await until(pilot, slow.begun.is_set)
        if left:
            await app.pop_screen()
        slow.go.set()
        await until(pilot, slow.over.is_set)
        assert slow.told == ([] if left else ["found"])
        assert app.is_running
