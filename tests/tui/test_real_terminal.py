"""Keys sent through a real terminal: what a test inside the program cannot see."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.tui.screens import scenario

pytestmark = pytest.mark.skipif(shutil.which("tmux") is None, reason="tmux is not installed")


class Terminal:
    """A tmux server of its own."""

    def __init__(self, socket: Path, job: Path, size: tuple[int, int]) -> None:
        self._socket = socket
        environment = {**os.environ, "LANG": "C.UTF-8", "LC_ALL": "C.UTF-8", "TERM": "xterm-256color"}
        command = f"{sys.executable} -m ventsize {job}"
        width, height = map(str, size)
        root = Path(__file__).resolve().parents[2]
        self._tmux("new-session", "-d", "-x", width, "-y", height, command, cwd=root, env=environment)

    def _tmux(self, *words: str, **how: object) -> str:
        done = subprocess.run(
            ["tmux", "-S", str(self._socket), *words],
            capture_output=True,
            text=True,
            check=True,
            **how,  # type: ignore
        )
        return str(done.stdout)

    def press(self, *keys: str) -> None:
        """Keys one by one: a burst of control keys and text may be read out of order."""
        for key in keys:
            self._tmux("send-keys", key)
            time.sleep(0.15)

    def wait_for(self, words: str, seconds: float = 30.0) -> str:
        """The screen, once these words are on it."""
        for _ in range(round(seconds / 0.1)):
            shown = self._tmux("capture-pane", "-p")
            if words in shown:
                return shown
            time.sleep(0.1)
        raise AssertionError(f"{words!r} is not on the screen:\n{shown}")

    def close(self) -> None:
        """End the server."""
        subprocess.run(["tmux", "-S", str(self._socket), "kill-server"], capture_output=True, check=False)


@pytest.fixture(params=[(80, 24), (120, 40)], ids=["80x24", "120x40"])
def terminal(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Terminal, Path]]:
    """A job of one's own open in a terminal."""
    job = Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))
    opened = Terminal(tmp_path / "tmux", job, request.param)
    yield opened, job
    opened.close()


def test_change_a_length_see_the_verdict_follow_and_save(terminal: tuple[Terminal, Path]) -> None:
    """Open, type a length, see it judged, save."""
    shown, job = terminal
    shown.wait_for("102.0 ft to spare")
    shown.wait_for("4 ft 6 in")
    shown.wait_for("Surroundings")  # the form of the first piece stands
    shown.press("Down")
    shown.wait_for("Own K")  # that of the elbow
    shown.press("Up")
    shown.wait_for("Surroundings")
    shown.press("1", "5", "0")
    shown.wait_for("43.5 ft over")
    shown.press("Enter", "C-s")
    shown.wait_for("saved")
    deadline = time.monotonic() + 10
    while "150 ft" not in job.read_text(encoding="utf-8") and time.monotonic() < deadline:
        time.sleep(0.1)
    assert 'pipe = "150 ft"' in job.read_text(encoding="utf-8")
