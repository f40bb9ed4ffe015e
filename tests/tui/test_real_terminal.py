"""Keys sent through a real terminal: what a test inside the program cannot see."""

from __future__ import annotations

import random
import shutil
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.kills_at_screen import kill_at_screen
from tests.tui.screens import scenario
from tests.tui.terminal import AT_HAND, Terminal

pytestmark = pytest.mark.skipif(not AT_HAND, reason="tmux is not installed")


@pytest.fixture(params=[(80, 24), (120, 40)], ids=["80x24", "120x40"])
def terminal(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Terminal, Path]]:
    """A job of one's own open in a terminal."""
    job = Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))
    opened = Terminal(tmp_path / "tmux", job, request.param)
    yield opened, job
    opened.close()


def in_file(job: Path, words: str) -> bool:
    """Whether the file comes to hold these words."""
    deadline = time.monotonic() + 10
    while words not in job.read_text(encoding="utf-8") and time.monotonic() < deadline:
        time.sleep(0.1)
    return words in job.read_text(encoding="utf-8")


def test_change_a_length_see_the_verdict_follow_and_save(terminal: tuple[Terminal, Path]) -> None:
    """Open, to another piece and back, type a length in one burst, see it judged, save."""
    shown, job = terminal
    shown.wait_for("102.0 ft to spare")
    shown.hurry("Down", "Up", "1", "5", "0")
    shown.wait_for("43.5 ft over")
    shown.hurry("Enter", "C-s")
    shown.wait_for("saved as")
    assert in_file(job, 'pipe = "150 ft"')


def test_escape_after_a_burst_puts_back(terminal: tuple[Terminal, Path]) -> None:
    """Esc ends a burst as it ends slow typing."""
    shown, _ = terminal
    shown.wait_for("102.0 ft to spare")
    shown.hurry("1", "5", "0", "Escape")
    shown.wait_for("102.0 ft to spare")
    assert "150" not in shown.screen()


def test_the_window_is_resized_while_something_is_typed(terminal: tuple[Terminal, Path]) -> None:
    """What is half typed stays, and goes on."""
    shown, _ = terminal
    shown.wait_for("102.0 ft to spare")
    shown.press("1", "5")
    shown.resize(100, 30)
    shown.press("0")
    shown.wait_for("43.5 ft over")


@pytest.mark.parametrize("environment", [{"NO_COLOR": "1"}, {"LANG": "C", "LC_ALL": "C"}], ids=["NO_COLOR", "LANG=C"])
def test_without_colour_and_without_unicode(environment: dict[str, str], tmp_path: Path) -> None:
    """The verdict is in words and signs; plain characters where the locale has no others."""
    opened = Terminal(tmp_path / "tmux", scenario("simple-pass"), (80, 24), environment)
    try:
        shown = opened.wait_for("102.0 ft to spare")
        assert ("+ WITHIN" if "LANG" in environment else "✓ WITHIN") in shown
        assert shown.isascii() or "LANG" not in environment
    finally:
        opened.close()


@pytest.mark.parametrize("seed", range(2))
def test_work_is_offered_back_after_a_kill(seed: int, tmp_path: Path) -> None:
    """Killed at any moment while somebody types, at most the last keystroke is missing."""
    kill_at_screen(tmp_path, random.Random(seed))
