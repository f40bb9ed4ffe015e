"""Ticks of the check-over in a job's data: one for each rule at each place."""

from __future__ import annotations

import datetime

from ventsize.jobfile.editing.values import Data, clear, insert_item, items, put


def tick_at(data: Data, rule: str, at: str) -> Data:
    """The tick of a rule at a place, as typed; an empty table where there is none."""
    number = _number(data, rule, at)
    return {} if number is None else dict(items(data, ("checked",))[number])


def set_tick(
    data: Data,
    rule: str,
    at: str,
    *,
    date: datetime.date,
    value: str | None = None,
    met: bool | None = None,
    note: str = "",
) -> Data:
    """The data with a rule ticked off at a place, in place of what it was ticked with before."""
    given = {"rule": rule, "at": at, "value": value, "met": met, "note": note}
    tick = {key: item for key, item in given.items() if item not in (None, "")} | {"date": date}
    number = _number(data, rule, at)
    if number is None:
        return insert_item(data, ("checked",), tick)
    return put(data, ("checked", number), tick)


def clear_tick(data: Data, rule: str, at: str) -> Data:
    """The data with a rule not ticked off at a place."""
    number = _number(data, rule, at)
    if number is None:
        return data
    left = clear(data, ("checked", number))
    return left if left["checked"] else clear(left, ("checked",))


def _number(data: Data, rule: str, at: str) -> int | None:
    for number, tick in enumerate(items(data, ("checked",))):
        if isinstance(tick, dict) and (tick.get("rule"), tick.get("at", "")) == (rule, at):
            return number
    return None
