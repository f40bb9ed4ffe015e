"""Work that nobody waits for any more: it ends before the next flow is worked out."""

from __future__ import annotations

from collections.abc import Callable
from contextvars import ContextVar

UNWANTED: ContextVar[Callable[[], bool]] = ContextVar("unwanted", default=lambda: False)
"""Whether the work of this thread is unwanted by now."""


class Halted(BaseException):
    """The work has ended without an answer."""


def go_on() -> None:
    """Raises Halted where nobody waits for the work."""
    if UNWANTED.get()():
        raise Halted
