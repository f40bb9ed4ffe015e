"""A real terminal of a test's own, by tmux: keys go in as a person's do, and what is on the screen is read back."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
AT_HAND = shutil.which("tmux") is not None


class Terminal:
    """A tmux server with the program in it, of which nothing is left when it is closed.

    size: columns and lines. environment: on top of the tester's own.
    """

    def __init__(
        self, socket: Path, job: Path, size: tuple[int, int], environment: dict[str, str] | None = None
    ) -> None:
        self._socket = socket
        utf8 = {"LANG": "C.UTF-8", "LC_ALL": "C.UTF-8", "TERM": "xterm-256color"}
        command = f"exec {sys.executable} -m ventsize {job}"
        width, height = map(str, size)
        self._tmux(
            "-f", "/dev/null", "new-session", "-d", "-x", width, "-y", height, command,
            ";", "set-option", "remain-on-exit", "on",
            environment={**os.environ, **utf8, **(environment or {})},
        )  # fmt: skip

    def _tmux(self, *words: str, environment: dict[str, str] | None = None) -> str:
        done = subprocess.run(
            ["tmux", "-S", str(self._socket), *words], capture_output=True, text=True, check=True, cwd=ROOT,
            env=environment,
        )  # fmt: skip
        return done.stdout

    def press(self, *keys: str) -> None:
        """Keys one by one, as a person does."""
        for key in keys:
            self._tmux("send-keys", key)
            time.sleep(0.15)

    def hurry(self, *keys: str) -> None:
        """All keys at once, faster than the program can follow."""
        self._tmux("send-keys", *keys)

    def resize(self, width: int, height: int) -> None:
        """Another size of the window."""
        self._tmux("resize-window", "-x", str(width), "-y", str(height))

    def screen(self) -> str:
        """What is shown now."""
        return self._tmux("capture-pane", "-p")

    def wait_for(self, words: str, seconds: float = 30.0) -> str:
        """The screen, once these words are on it."""
        for _ in range(round(seconds / 0.1)):
            shown = self.screen()
            if words in shown:
                return shown
            time.sleep(0.1)
        raise AssertionError(f"{words!r} is not on the screen:\n{shown}")

    def kill(self) -> str:
        """End the program without a warning; gives the last screen."""
        os.kill(int(self._tmux("display-message", "-p", "#{pane_pid}")), signal.SIGKILL)
        deadline = time.monotonic() + 10.0
        while self._tmux("display-message", "-p", "#{pane_dead}").strip() != "1" and time.monotonic() < deadline:
            time.sleep(0.01)
        return self.screen()

    def close(self) -> None:
        """End the server."""
        subprocess.run(["tmux", "-S", str(self._socket), "kill-server"], capture_output=True, check=False)
