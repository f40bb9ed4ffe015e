"""Keys of a job for what has been checked by hand: [[checked]], one for each rule of the check-over ticked off.

[[checked]]
rule = "terminal-above-grade"   # its name in check-over.toml
at = "vent"                     # the run, appliance or material it was checked at; none for the job as a whole
value = "14 in"                 # where something was measured: the rule's limit judges it
met = true                      # where nothing was measured, or the rule has no limit
note = "behind the shrub"       # by itself it leaves the rule open
date = 2026-11-20
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import Annotated, Any

from pydantic import BeforeValidator

from ventsize.jobfile.document import rare_record
from ventsize.jobfile.field_types import Expected, Text
from ventsize.quantity import Unusable

EARLIEST = datetime.date(1970, 1, 1)


def _date(value: Any) -> datetime.date:
    if isinstance(value, datetime.datetime) or not isinstance(value, datetime.date):
        raise Unusable(f"{value!r:.40} is not a date", "a date without quotes such as 2026-11-20")
    if value < EARLIEST:
        raise Unusable(f"{value} is too early", "a date such as 2026-11-20")
    return value


def _yes_or_no(value: Any) -> bool:
    if not isinstance(value, bool):
        raise Unusable(f"{value!r:.40} is neither", "true or false, without quotes")
    return value


Date = Annotated[datetime.date, BeforeValidator(_date), Expected("a date without quotes such as 2026-11-20")]
YesOrNo = Annotated[bool, BeforeValidator(_yes_or_no), Expected("true or false")]


@rare_record
class Tick:
    """One rule checked by hand, or noted on: value as typed, since what is measured is the rule's to say."""

    rule: Text
    date: Date
    at: Text = ""
    value: Text | None = None
    met: YesOrNo | None = None
    note: Text = ""


def tick_faults(ticks: tuple[Tick, ...]) -> Iterator[tuple[str, str, str]]:
    """What is wrong between the keys of ticks: (place, problem, expected)."""
    seen: set[tuple[str, str]] = set()
    for number, tick in enumerate(ticks, start=1):
        place = f"checked {number}, {tick.rule:.40}"
        if tick.value is None and tick.met is None and not tick.note:
            problem = "it says neither what was measured nor whether it is met, and has no note"
            yield place, problem, "value = '14 in', met = true, or a note"
        if (tick.rule, tick.at) in seen:
            at = f" at '{tick.at:.40}'" if tick.at else ""
            yield place, f"the rule is ticked off twice{at}", "each rule once at each place"
        seen.add((tick.rule, tick.at))
