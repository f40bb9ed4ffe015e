"""Exit statuses of the command line."""

from __future__ import annotations

WITHIN, NOT_WITHIN, UNREADABLE = 0, 1, 2
