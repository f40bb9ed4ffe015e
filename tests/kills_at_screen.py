"""Kill the program itself while somebody types and saves at its screens, in a real terminal."""

from __future__ import annotations

import random
import re
import shutil
import tempfile
import time
import tomllib
from pathlib import Path

from tests.tui.screens import scenario
from tests.tui.terminal import Terminal
from ventsize.jobfile.recovery import pending_recoveries

TYPED = "1.41421356237309"  # each beginning of it is another length
SHOWN = re.compile(r"^.* Length +([\d.]+)", re.MULTILINE)
BETWEEN_KEYS = 0.06  # s
BEFORE = "4 ft 6 in"
FIRST_KEY = 30.0  # s; in which it is shown, on a busy machine too


class LostAtScreen(AssertionError):
    """Work that was on the screen and is neither offered back nor in the file."""


def kill_at_screen(folder: Path, chance: random.Random) -> None:
    """Open a job, type a length digit by digit, at times save, kill at a random moment; see what the next start finds.

    Raises LostAtScreen unless the work is offered back, or saved, with at most the last keystroke missing, and the
    file is whole.
    """
    with tempfile.TemporaryDirectory(dir=folder) as name:
        place = Path(name)
        job = Path(shutil.copy(scenario("simple-pass"), place / "job.toml"))
        terminal = Terminal(place / "tmux", job, (80, 24), {"VENTSIZE_FOLDER": str(place / "own")})
        try:
            terminal.wait_for("102.0 ft to spare", 120.0)
            terminal.wait_for(f"Length           {BEFORE}")  # the first field is there
            shown = _type_and_kill(terminal, chance)
        finally:
            terminal.close()
        _judge(shown, place, job)


def _type_and_kill(terminal: Terminal, chance: random.Random) -> str:
    """Type until the moment comes, which is any after the first keystroke has been seen; gives the last screen."""
    terminal.hurry(TYPED[0])
    latest = time.monotonic() + FIRST_KEY
    while not re.search(r"Length +1 ", terminal.screen()):
        if time.monotonic() > latest:
            raise LostAtScreen(f"the first key is not shown:\n{terminal.screen()}")
        time.sleep(0.01)
    deadline = time.monotonic() + chance.uniform(0.0, 2.0 * len(TYPED) * BETWEEN_KEYS)
    saves = chance.randrange(1, len(TYPED)) if chance.random() < 0.5 else None
    for number, key in enumerate(TYPED[1:], start=1):
        if time.monotonic() >= deadline:
            break
        terminal.hurry(key, *(["C-s"] if number == saves else []))
        time.sleep(max(0.0, min(2.0 * BETWEEN_KEYS * chance.random(), deadline - time.monotonic())))
    time.sleep(max(0.0, deadline - time.monotonic()))
    return terminal.kill()


def _judge(shown: str, place: Path, job: Path) -> None:
    match = SHOWN.search(shown)
    on_screen = len(match[1]) if match and not shown.count(f"Length           {BEFORE}") else 0
    saved = _typed(tomllib.loads(job.read_text(encoding="utf-8")))  # raises where the file is not whole
    offers = pending_recoveries(place / "own")
    offered = max((_typed(dict(offer.snapshot.data)) for offer in offers), default=0)
    if max(saved, offered) < on_screen - 1:
        raise LostAtScreen(f"{on_screen} keystrokes shown, {offered} offered back, {saved} saved:\n{shown}")


def _typed(data: dict[str, object]) -> int:
    """How many keystrokes of the length there are in a job."""
    run: list[dict[str, list[dict[str, str]]]] = data["run"]  # type: ignore[assignment]
    text = run[0]["pieces"][0]["pipe"]
    if text == BEFORE:
        return 0
    typed = text.removesuffix(" ft")
    if not TYPED.startswith(typed):
        raise LostAtScreen(f"the length is {text!r}, which nobody typed")
    return len(typed)
