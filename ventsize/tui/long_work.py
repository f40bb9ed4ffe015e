"""Long work of a screen, beside it: it ends by itself soon after the screen is left, or the program."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from functools import wraps
from typing import Any

from textual import work
from textual.worker import Worker, get_current_worker

from ventsize.finding.halting import UNWANTED, Halted


def long_work(method: Callable[..., None]) -> Callable[..., Worker[None]]:
    """A method that runs in a thread; the one before it is no longer wanted then."""

    @wraps(method)
    def in_thread(*arguments: Any) -> None:
        worker = get_current_worker()
        before = UNWANTED.set(lambda: worker.is_cancelled)
        try:
            with suppress(Halted):
                method(*arguments)
        finally:
            UNWANTED.reset(before)  # another screen's work may have this thread next

    return work(thread=True, exclusive=True)(in_thread)
