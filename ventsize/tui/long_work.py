"""Long work of a screen, beside it: it ends by itself soon after the screen is left, or the program."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from functools import wraps
from typing import Any

from textual import work
from textual.widget import Widget
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


def tell(node: Widget, what: Callable[..., Any], *about: Any) -> None:
    """From a thread that works for a screen, or for a part of one: call it back, with what was found.

    Not where the screen is left meanwhile, the work no longer wanted, or the program at its end.
    """
    worker = get_current_worker()

    def wanted() -> bool:
        return node.is_attached and not node._pruning and not worker.is_cancelled

    if wanted():  # asked again on the screen's own thread: it may be left in between
        node.app.call_from_thread(lambda: what(*about) if wanted() else None)
