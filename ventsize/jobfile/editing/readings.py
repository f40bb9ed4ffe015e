"""Readings in a job's data: one for each place, rate and kind of one appliance."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ventsize.jobfile.editing.values import Data, clear, insert_item, items, put

KEY = ("place", "rate", "run", "appliance")
"""What tells one reading from another, beside what was measured; left out where the place alone does."""

Which = Mapping[str, str | None]


def reading_at(data: Data, which: Which, kind: str) -> Data:
    """A reading as typed; an empty table where there is none."""
    number = _number(data, which, kind)
    return {} if number is None else dict(items(data, ("reading",))[number])


def set_reading(data: Data, which: Which, kind: str, text: str, **more: str) -> Data:
    """The data with a value read, in place of what was read there before; other keys of that reading stay.

    more: further keys, such as `when`.
    """
    number = _number(data, which, kind)
    given = {key: which[key] for key in KEY if which.get(key) is not None}
    reading = {**given, **reading_at(data, which, kind), kind: text, **more}
    return insert_item(data, ("reading",), reading) if number is None else put(data, ("reading", number), reading)


def clear_reading(data: Data, which: Which, kind: str) -> Data:
    """The data without a reading."""
    number = _number(data, which, kind)
    if number is None:
        return data
    left = clear(data, ("reading", number))
    return left if left["reading"] else clear(left, ("reading",))


def _number(data: Data, which: Which, kind: str) -> int | None:
    for number, reading in enumerate(items(data, ("reading",))):
        if isinstance(reading, dict) and kind in reading and _same(reading, which):
            return number
    return None


def _same(reading: Mapping[str, Any], which: Which) -> bool:
    return all(reading.get(key) == which.get(key) for key in KEY)
