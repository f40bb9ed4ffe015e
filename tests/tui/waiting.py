"""Waiting until an app under test has nothing left to do.

The screen library's own way is to sleep until the process has used little processor time for 20 ms, twice for each
key: two thirds of the time of these tests, and too short where the machine is busy with something else. Here the
event loop is asked instead: nothing is ready to run, no key is on its way, the screen has been drawn and no thread
works for it.
"""

from __future__ import annotations

import asyncio
from time import monotonic
from typing import Any

from textual._context import active_app
from textual.worker import WorkerState

STEP = 0.002  # s; between two looks at what is waited for outside the loop
LONGEST = 1.0  # s; of a thread that works on, as a search that a test stops


async def until_quiet(_least: float = 0.0, longest: float = LONGEST) -> None:
    """Wait until the app has nothing left to do, or for so long at most."""
    loop: Any = asyncio.get_running_loop()
    app: Any = active_app.get()
    end = monotonic() + longest
    while monotonic() < end:
        await asyncio.sleep(0)
        if loop._ready:
            continue
        if _on_its_way(app):
            await asyncio.sleep(STEP)
        elif not _drawn_now(app):
            return


def _on_its_way(app: Any) -> bool:
    """Whether a key is not yet through, a new size not yet laid out, or a thread works for the app."""
    if app._exit or not app._running:
        return False
    working = any(worker.state is WorkerState.RUNNING and worker._thread_worker for worker in app.workers)
    return working or app._busy or bool(app._waiting) or app._resize_event is not None


def _drawn_now(app: Any) -> bool:
    """Draw what waits for the next frame; gives whether anything did."""
    if app._exit or not app.screen_stack:
        return False
    screen = app.screen
    waits = (
        screen._layout_required
        or screen._scroll_required
        or screen._repaint_required
        or screen._recompose_required
        or screen._dirty_widgets
        or screen._callbacks
    )
    if waits and not app._batch_count and screen.is_current:
        screen._on_timer_update()
        return True
    return False
