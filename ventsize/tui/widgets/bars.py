"""A share as a bar of blocks."""

from __future__ import annotations

_EIGHTHS = " ▏▎▍▌▋▊▉█"


def bar(share: float | None, width: int) -> str:
    """A bar of up to `width` cells for a share between 0 and 1."""
    if share is None or share <= 0:
        return ""
    eighths = round(min(share, 1.0) * width * 8)
    return "█" * (eighths // 8) + _EIGHTHS[eighths % 8].strip()
