"""Options, repairs and headroom as text, and as objects for JSON (SI, keys that end in their unit)."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from ventsize.quantity import System, show_feet, show_length
from ventsize.studies.headroom import Headroom, Line
from ventsize.studies.options import Found, Option
from ventsize.studies.repairs import Repair, RunRepairs

Object = dict[str, Any]
WIDTH = 80
SHOWN = 10

DECIDES = "The maker's instructions and the local code decide. Check the job again after a change is made to it."


def options_text(found: Found, system: System) -> str:
    """The acceptable options ranked; where there is none, what comes nearest and what would help."""
    return "\n".join(_options(found, system)) + "\n"


def _options(found: Found, system: System) -> Iterator[str]:
    failed = ", ".join(f"{count:,} {verdict}" for verdict, count in found.failures.items())
    within = found.looked_at - sum(found.failures.values())
    yield f"{found.looked_at:,} options looked at; {within:,} within" + (f"; {failed}" if failed else "")
    if found.smallest is not None:
        yield from _wrapped(f"Smallest size that is within: {found.smallest.words}")
    for number, option in enumerate(found.acceptable[:SHOWN], start=1):
        yield from _wrapped(f"{number:>3}  {_option(option, system)}", "     ")
    if not found.acceptable:
        yield "No option is within. The nearest:"
        for option, helps in zip(found.misses, found.what_would_help, strict=False):
            yield from _wrapped(f"  - {option.words}: it would take {helps}", "    ")
    elif found.misses:
        yield "Not within, the nearest first:"
        for option in found.misses[:3]:
            yield from _wrapped(f"  - {option.words}: {option.check.reason}", "    ")
    yield from _wrapped(DECIDES)


def _option(option: Option, system: System) -> str:
    parts = [option.words, f"{option.joints} joints"]
    if option.check.margin is not None:
        parts.append(f"{show_length(option.check.margin, system)} to spare")
    if option.cost is not None:
        parts.append(f"cost {option.cost}")
    if any(run.within_by_calculation is False for run in option.check.runs):
        parts.append("by calculation over: ask the maker")
    return "; ".join(parts)


def repairs_text(answers: list[RunRepairs], system: System) -> str:
    """Every run's repairs or savings."""
    lines: list[str] = []
    for answer in answers:
        lines += _wrapped(f"{answer.run}: {answer.verdict.upper()}. {answer.reason}", "  ")
        lines += _wrapped(f"  {answer.missing}", "  ") if answer.missing else []
        if answer.verdict == "over":
            head = "  Changes that bring it within:" if answer.repairs else "  No change looked at brings it within."
            lines.append(head)
        elif answer.savings:
            lines.append("  What can be saved, still within:")
        for repair in (*answer.repairs, *answer.savings):
            lines += _wrapped(f"  - {_repair(repair, system)}", "    ")
    return "\n".join([*lines, *_wrapped(DECIDES)]) + "\n"


def _repair(repair: Repair, system: System) -> str:
    parts = [repair.words]
    if repair.won is not None:
        gained = "won" if repair.won >= 0 else "given up"
        parts.append(f"{show_length(abs(repair.won), system)} {gained}")
    if repair.margin is not None:
        parts.append(f"{show_length(repair.margin, system)} to spare")
    if repair.cost is not None:
        parts.append(f"cost {repair.cost:+}")
    if repair.within_by_calculation is False:
        parts.append("by calculation over: ask the maker")
    return "; ".join(parts)


def headroom_text(answers: list[Headroom], system: System) -> str:
    """What is left of each run's allowance, and the chart as a table."""
    return "\n".join(line for answer in answers for line in _headroom(answer, system)) + "\n"


def _headroom(answer: Headroom, system: System) -> Iterator[str]:
    yield from _wrapped(f"{answer.run}: {answer.verdict.upper()}. {answer.reason}", "  ")
    if answer.left_by_calculation is not None:
        less = "more pipe than the allowance pressure carries"
        said = "left" if answer.left_by_calculation >= 0 else less
        yield f"  By calculation: {show_length(abs(answer.left_by_calculation), system)} {said}"
    for room in answer.rooms:
        yield f"  Room for {room.more} more {room.fitting}"
    yield f"  Straight pipe by number of {answer.elbow}, by the table / by calculation:"
    for line in answer.lines:
        yield from _wrapped(f"  {line.label}: {_points(line, system)}", "      ")
    yield f"  This run: {show_length(answer.straight, system)} straight, {answer.elbows} elbows"


def _points(line: Line, system: System) -> str:
    cells = []
    for point in line.points:
        figures = (point.by_table, point.by_calculation)
        cells.append(f"{point.elbows}: " + " / ".join("none" if f is None else show_feet(f, system) for f in figures))
    return "; ".join(cells)


def _wrapped(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent=indent, drop_whitespace=True) or [""]


def options_object(found: Found) -> Object:
    """The options for JSON."""
    return {
        "looked_at": found.looked_at,
        "total": found.total,
        "order": found.order,
        "acceptable": [_option_object(option) for option in found.acceptable],
        "smallest": None if found.smallest is None else _option_object(found.smallest),
        "misses": [_option_object(option) for option in found.misses],
        "what_would_help": list(found.what_would_help),
        "failures": dict(found.failures),
    }


def _option_object(option: Option) -> Object:
    return {
        "option": option.words,
        "verdict": option.check.verdict,
        "reason": option.check.reason,
        "margin_m": option.check.margin,
        "joints": option.joints,
        "largest_size_m": option.largest,
        "cost": None if option.cost is None else str(option.cost),
        "within_by_calculation": {run.run.name: run.within_by_calculation for run in option.check.runs},
    }


def repairs_object(answers: list[RunRepairs]) -> Object:
    """The repairs for JSON."""
    return {
        "runs": [
            {
                "name": answer.run,
                "verdict": answer.verdict,
                "reason": answer.reason,
                "margin_m": answer.margin,
                "missing": answer.missing,
                "repairs": [_repair_object(repair) for repair in answer.repairs],
                "savings": [_repair_object(repair) for repair in answer.savings],
            }
            for answer in answers
        ]
    }


def _repair_object(repair: Repair) -> Object:
    return {
        "changes": [change.words for change in repair.changes],
        "touched": repair.touched,
        "won_m": repair.won,
        "margin_m": repair.margin,
        "cost": None if repair.cost is None else str(repair.cost),
        "within_by_calculation": repair.within_by_calculation,
    }


def headroom_object(answers: list[Headroom]) -> Object:
    """The headroom for JSON."""
    return {
        "runs": [
            {
                "name": answer.run,
                "verdict": answer.verdict,
                "left_m": answer.left,
                "left_by_calculation_m": answer.left_by_calculation,
                "more": {room.fitting: room.more for room in answer.rooms},
                "elbow": answer.elbow,
                "straight_length_m": answer.straight,
                "elbows": answer.elbows,
                "lines": [
                    {
                        "size": line.label,
                        "points": [
                            {
                                "elbows": point.elbows,
                                "by_table_m": point.by_table,
                                "by_calculation_m": point.by_calculation,
                            }
                            for point in line.points
                        ],
                    }
                    for line in answer.lines
                ],
            }
            for answer in answers
        ]
    }
