"""Helpers of the screen tests: an app of a fixed size, keys, one wait, and the screen as text."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from textual.pilot import Pilot

from ventsize.catalog.folders import shipped_folder
from ventsize.tui.app import VentsizeApp
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.widgets.verdict_line import VerdictLine

SMALL, LARGE = (80, 24), (120, 40)
NAMES = {" ": "space", "-": "minus", ".": "full_stop", "%": "percent_sign", ",": "comma"}


def scenario(name: str) -> Path:
    """A shipped demonstration job."""
    return shipped_folder("scenarios") / f"{name}.toml"


@asynccontextmanager
async def running(job: Path | None = None, *, size: tuple[int, int] = SMALL) -> AsyncIterator[tuple[Any, Pilot[int]]]:
    """The app under test; with a job, once its first result is there."""
    app = VentsizeApp(job)
    app.animation_level = "none"
    async with app.run_test(size=size) as pilot:
        if job is not None:
            await until(pilot, lambda: isinstance(app.screen, JobScreen) and app.screen.query("#outline:focus"))
        await pilot.pause()
        yield app, pilot


async def until(pilot: Pilot[int], ready: Callable[[], object], *, seconds: float = 20.0) -> None:
    """Wait for something to become so."""
    for _ in range(round(seconds / 0.02)):
        await pilot.pause()
        if ready():
            return
        await asyncio.sleep(0.02)
    raise AssertionError("waited in vain")


async def typed(pilot: Pilot[int], text: str) -> None:
    """Text, key by key."""
    for character in text:
        await pilot.press(NAMES.get(character, character))
    await pilot.pause()


def verdict(app: Any) -> str:
    """The two lines that are always in sight."""
    return str(app.screen.query_one(VerdictLine).text)


def as_text(app: Any) -> str:
    """The whole screen as lines of text."""
    return "\n".join(strip.text.rstrip() for strip in app.screen._compositor.render_strips(app.size)) + "\n"
