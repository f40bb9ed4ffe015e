"""Words for the findings of `finding.codes.CHECKOVER`."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.report.wording import Values


def _tick(values: Values) -> str:
    at = values.raw["at"]
    return f"'{values['rule']}'" + (f" at '{at}'" if at else "")


def _not_asked(values: Values) -> str:
    places = values.raw["places"]
    assert isinstance(places, tuple)
    asked = f"it is asked of {', '.join(str(one) or 'the job as a whole' for one in places)}"
    return f"ticked off where it is not asked: {_tick(values)}; {asked if places else 'it is not asked of this job'}"


WORDS: dict[str, str | Callable[[Values], str]] = {
    "run-verdict": "{verdict}",
    "table-has-each-fitting": "the table {table} has an answer for each of its fittings",
    "material-without-limit": "gas at {gas}; the record of {materials} names no limit",
    "gas-beside-limit": "gas at {gas}, {material} up to {limit}",
    "growth-not-known": "the record of a material does not say how it grows",
    "grows-by-length": (
        "counted, so its longest straight is not known; it grows {growth} in {each}, from {coldest} to {hottest}"
    ),
    "straight-grows": "its straight of {straight} grows {growth:bore}, from {coldest} to {hottest}",
    "piece-drops-away": "{piece} drops away from the appliance",
    "piece-is-level": "{piece} is level",
    "piece-falls-toward": "{piece} falls {slope} toward the appliance",
    "piece-falls-away": "{piece} falls {slope} away from the appliance",
    "not-laid-out": "counted, not laid out",
    "piece-without-rise": "no rise is given for {pieces}",
    "nothing-lies-level": "no pipe of it lies level",
    "least-slope": "at least {slope} toward the appliance",
    "spot-without-drain": "{at}: {depth:bore} of water without a drain",
    "spots-drained": "as laid out, it has none without a drain",
    "lie-not-given": "how it lies is not given in full",
    "no-flue-run": "no run carries its flue gas",
    "no-pressure-at-trap": "the flow was not found, and so no pressure at the trap",
    "seal-not-given": (
        "the vent's pressure is up to {water:bore} of water; the depth of the seal (trap_seal) is not given"
    ),
    "seal-to-spare": (
        "the vent's pressure is up to {water:bore} of water, the seal {seal:bore} deep: {spare:bore} to spare"
    ),
    "no-room-in-job": "the job describes no room",
    "in-no-room": "no room names it",
    "room-has-air": "{room}: {verdict}",
    "asked-elsewhere": "what the job says here needs {what}",
    "tick-of-no-rule": lambda values: f"ticked off by a rule that is not here: {_tick(values)}; {values['expected']}",
    "tick-not-asked": _not_asked,
    "limits-from-memory": "limits from memory, to be checked before use: {count}",
    "rules-outranked": (
        "the maker's instructions and the local code outrank every rule here, and differ by place and edition"
    ),
}
