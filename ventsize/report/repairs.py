"""Repairs and savings as text, and as an object for JSON (SI, keys that end in their unit)."""

from __future__ import annotations

from typing import Any

from ventsize.quantity import System, show_length
from ventsize.report.keys import Keys
from ventsize.report.money import change_object, change_words
from ventsize.report.options import DECIDES
from ventsize.report.text_parts import wrapped
from ventsize.report.wording import reason, say
from ventsize.studies.repairs import Repair, RunRepairs

SURE = 0.95  # less sure than this is said
NEW_PARTS = (
    "New parts are what the job then takes more of; what it takes to cut into pipe that hangs already is not counted."
)
ELSEWHERE = "Where route or end may be another:"


def render(answers: list[RunRepairs], system: System) -> str:
    """Every run's repairs or savings, numbered through."""
    lines: list[str] = []
    number = 0
    for answer in answers:
        why = reason(answer.decides, system, with_run=False)
        lines += wrapped(f"{answer.run}: {answer.verdict.upper()}. {why}", "  ")
        if answer.verdict not in ("over", "within"):
            lines += wrapped("  Nothing can be repaired before this is settled.", "  ")
        if answer.verdict == "over":
            head = "  Changes that bring it within:" if answer.repairs else "  No change looked at brings it within."
            lines.append(head)
        elif answer.savings:
            lines.append("  What can be saved, still within:")
        for repair in (*answer.repairs, *answer.savings):
            if repair is answer.first_elsewhere:
                lines.append(f"  {ELSEWHERE}")
            number += 1
            facts = "; ".join([repair_words(repair, system), *repair_facts(repair, system)])
            lines += wrapped(f"{number:>4}  {facts}", "      ")
    if any(repair.cost is not None for answer in answers for repair in (*answer.repairs, *answer.savings)):
        lines += wrapped(NEW_PARTS)
    return "\n".join([*lines, *wrapped(DECIDES)]) + "\n"


def repair_words(repair: Repair, system: System) -> str:
    """What is changed."""
    return ", and ".join(say(change.what, system, place=False) for change in repair.changes)


def repair_facts(repair: Repair, system: System) -> list[str]:
    """What a repair wins, leaves, costs, and what the calculation says of it."""
    parts = []
    if repair.won is not None:
        gained = "gained" if repair.won >= 0 else "lost"
        parts.append(f"{show_length(abs(repair.won), system)} {gained}")
    if repair.margin is not None:
        parts.append(f"{show_length(repair.margin, system)} to spare")
    if repair.cost is not None:
        parts += change_words(repair.cost, system)
    if repair.within_by_calculation is False:
        parts.append("by calculation over: ask the maker")
    elif repair.share_inside is not None and repair.share_inside < SURE:
        parts.append(f"by calculation within, {repair.share_inside:.0%} sure")
    return parts


def as_object(answers: list[RunRepairs], system: System) -> dict[str, Any]:
    """The repairs for JSON."""
    return {
        "runs": [
            {
                **_RUN(answer),
                "reason": reason(answer.decides, system, with_run=False),
                "repairs": [_repair_object(repair, system) for repair in answer.repairs],
                "savings": [_repair_object(repair, system) for repair in answer.savings],
            }
            for answer in answers
        ]
    }


_RUN = Keys(RunRepairs, "name:run verdict margin_m")
_REPAIR = Keys(Repair, "elsewhere touched won_m margin_m within_by_calculation share_inside_allowance:share_inside")


def _repair_object(repair: Repair, system: System) -> dict[str, Any]:
    return {
        "changes": [say(change.what, system, place=False) for change in repair.changes],
        "codes": [change.what.code for change in repair.changes],
        **_REPAIR(repair),
        "cost": None if repair.cost is None else change_object(repair.cost),
    }
