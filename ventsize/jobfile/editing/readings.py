"""Readings and symptoms in a job's data: one reading for each place, rate and kind of one appliance.

A reading that names the only appliance, or the only run that meets its place, is the same as one that leaves it out.
Those taken before a repair are history: nothing replaces them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ventsize.jobfile.editing.values import Data, clear, insert_item, items, put, value_at

KEY = ("place", "rate", "run", "appliance")
"""What tells one reading from another, beside what was measured; left out where the place alone does."""
BEFORE, CONFIRMED = "before_repair", "confirmed"
_CARRIES = {"collar": "flue gas", "terminal": "flue gas", "air pipe": "combustion air"}

Which = Mapping[str, str | None]


def reading_at(data: Data, which: Which, kind: str) -> Data:
    """A reading as typed; an empty table where there is none."""
    numbers = _numbers(data, which, kind)
    return dict(items(data, ("reading",))[numbers[-1]]) if numbers else {}


def set_reading(data: Data, which: Which, kind: str, value: str | float, **more: str | bool) -> Data:
    """The data with a value read, in place of all that was read there before; other keys of the last one stay.

    more: further keys, such as `when`.
    """
    given = {key: which[key] for key in KEY if which.get(key) is not None}
    before = reading_at(data, which, kind)
    if before.get(kind) != value:
        before.pop(CONFIRMED, None)
    reading = {**given, **before, kind: value, **more}
    numbers = _numbers(data, which, kind)
    if not numbers:
        return insert_item(data, ("reading",), reading)
    data = put(data, ("reading", numbers[-1]), reading)
    for number in reversed(numbers[:-1]):
        data = clear(data, ("reading", number))
    return data


def clear_reading(data: Data, which: Which, kind: str) -> Data:
    """The data without a reading."""
    for number in reversed(_numbers(data, which, kind)):
        data = clear(data, ("reading", number))
    return data if items(data, ("reading",)) or "reading" not in data else clear(data, ("reading",))


def repaired(data: Data, what: str, which: Sequence[bool] | None = None) -> Data:
    """The data with its readings put before a repair: they are to be taken again.

    what: was repaired. which: whether it was before each of the readings; else before all of them.
    """
    for number, reading in enumerate(items(data, ("reading",))):
        if isinstance(reading, dict) and not reading.get(BEFORE) and (which is None or which[number]):
            note = "; ".join(filter(None, (reading.get("note"), f"before: {what}")))
            data = put(data, ("reading", number), {**reading, BEFORE: True, "note": note})
    return data


def seen_at(data: Data, what: str, rate: str) -> int | None:
    """The number of a symptom at a rate, from 0; None where it is not among the data's."""
    for number, seen in enumerate(items(data, ("symptom",))):
        if isinstance(seen, dict) and seen.get("what") == what and seen.get("rate", "") in ("", rate):
            return number
    return None


def toggle_seen(data: Data, what: str, rate: str, *, when: str) -> Data:
    """The data with a symptom, or without it where it is there."""
    number = seen_at(data, what, rate)
    if number is None:
        return insert_item(data, ("symptom",), {"what": what, "rate": rate, "when": when})
    left = clear(data, ("symptom", number))
    return left if left["symptom"] else clear(left, ("symptom",))


def _numbers(data: Data, which: Which, kind: str) -> list[int]:
    wanted = _meant(data, which)
    return [
        number
        for number, reading in enumerate(items(data, ("reading",)))
        if isinstance(reading, dict) and kind in reading and not reading.get(BEFORE) and _meant(data, reading) == wanted
    ]


def _meant(data: Data, keys: Mapping[str, Any]) -> tuple[str, ...]:
    """Place, rate, run and appliance, what goes without saying filled in."""
    place, rate, run, appliance = (str(keys.get(key) or "") for key in KEY)
    names = [str(value_at(one, ("name",), "")) for one in items(data, ("appliance",))]
    if not appliance and len(names) == 1:
        appliance = names[0]
    runs = [str(value_at(one, ("name",), "")) for one in items(data, ("run",)) if _runs_there(one, place, appliance)]
    return place, rate, run or (runs[0] if len(runs) == 1 else ""), appliance


def _runs_there(run: Any, place: str, appliance: str) -> bool:
    """Whether a run meets a place that does not name one."""
    other = "outdoors" if place == "terminal" else appliance
    return value_at(run, ("carries",)) == _CARRIES.get(place, "-") and other in (value_at(run, ("between",)) or [])
