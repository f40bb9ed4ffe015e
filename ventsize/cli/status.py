"""Exit statuses of the command line."""

from __future__ import annotations

WITHIN, NOT_WITHIN, UNREADABLE = 0, 1, 2
DONE = 0
"""Of a verb that gives no verdict."""
