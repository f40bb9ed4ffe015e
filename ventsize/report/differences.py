"""What is different between two states of a file, one line a difference."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ventsize.jobfile.differences import Difference


def difference_words(difference: Difference) -> str:
    """Such as "run 'vent', piece 3, pipe: 12 ft -> 14 ft"."""
    if difference.moved:
        return f"{difference.place}: in another order"
    was, now = map(_typed, (difference.was, difference.now))
    if difference.was is None:
        return f"{difference.place}: added ({now})"
    return f"{difference.place}: taken out ({was})" if difference.now is None else f"{difference.place}: {was} -> {now}"


def _typed(value: Any) -> str:
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {_typed(item)}" for key, item in value.items())
    if isinstance(value, list):
        return f"{len(value)} of them" if value and isinstance(value[0], Mapping) else ", ".join(map(str, value))
    return str(value) if value not in (None, "") else "nothing"
