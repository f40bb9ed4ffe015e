"""What every test of the screens has: waiting for what is going on, and not a moment longer; styles read once."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Iterator
from typing import Any

import pytest
from textual.css.stylesheet import Stylesheet
from textual.pilot import Pilot
from textual.screen import Screen

from tests.tui.waiting import until_quiet
from ventsize.tui.job.session import Answer, Session


@pytest.fixture(scope="session", autouse=True)
def no_idle_waits() -> Iterator[None]:
    """A key is through when nothing is left to do, not when the processor has looked idle for a while.

    Nor is a call sent to each of a hundred widgets, twice a key, to ask whether it is through.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("textual.app.wait_for_idle", until_quiet)
        patch.setattr("textual.pilot.wait_for_idle", until_quiet)
        patch.setattr("textual.pilot.Pilot._wait_for_screen", lambda pilot: until_quiet())
        yield


@pytest.fixture(scope="session", autouse=True)
def drawn_where_looked_at() -> Iterator[None]:
    """A frame is drawn where a test pauses, not after each key of what it types ahead; all that changed is in it."""
    drawn, paused = Screen._compositor_refresh, Pilot.pause

    def later(screen: Screen[Any]) -> None:
        if screen is not screen.app.screen:
            drawn(screen)
        screen._dirty_widgets.clear()

    async def pause(pilot: Pilot[Any], delay: float | None = None) -> None:
        await paused(pilot, delay)
        if pilot.app.screen_stack:
            drawn(pilot.app.screen)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Screen, "_compositor_refresh", later)
        patch.setattr(Pilot, "pause", pause)
        yield


@pytest.fixture(scope="session", autouse=True)
def judged_beside_the_screen() -> Iterator[None]:
    """No screen may judge on its own thread, where every key would wait for it."""
    original = Session.worked_out

    def worked_out(session: Session) -> Answer:
        with contextlib.suppress(RuntimeError):
            asyncio.get_running_loop()
            pytest.fail("a job is judged on the screen's own thread")
        return original(session)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Session, "worked_out", worked_out)
        yield


@pytest.fixture(scope="session", autouse=True)
def styles_read_once() -> Iterator[None]:
    """Each app reads the same style sheets three times as it starts: here what was read is kept from app to app.

    Kept by the text and the colors of the theme, which is all that a rule follows from.
    """
    read: dict[Any, Any] = {}
    original = Stylesheet._parse_rules

    def kept(sheet: Stylesheet, css: str, read_from: Any, *more: Any, **named: Any) -> Any:
        key = (css, read_from, more, *sorted(named.items()), frozenset(sheet._variables.items()))
        if key not in read:
            read[key] = original(sheet, css, read_from, *more, **named)
        return read[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Stylesheet, "_parse_rules", kept)
        yield
