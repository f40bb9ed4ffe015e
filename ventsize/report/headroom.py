"""Headroom as text, and as an object for JSON (SI, keys that end in their unit)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ventsize.quantity import System, show_feet, show_length
from ventsize.report.text_parts import wrapped
from ventsize.report.wording import reason
from ventsize.studies.headroom import Headroom, Line

Object = dict[str, Any]


def render(answers: list[Headroom], system: System) -> str:
    """What is left of each run's allowance, and the chart as a table."""
    return "\n".join(line for answer in answers for line in _headroom(answer, system)) + "\n"


def _headroom(answer: Headroom, system: System) -> Iterator[str]:
    why = reason(answer.decides, system, with_run=False)
    yield from wrapped(f"{answer.run}: {answer.verdict.upper()}. {why}", "  ")
    if answer.left_by_calculation is not None:
        less = "more pipe than the allowance pressure carries"
        said = "left" if answer.left_by_calculation >= 0 else less
        yield f"  By calculation: {show_length(abs(answer.left_by_calculation), system)} {said}"
    for room in answer.rooms:
        yield f"  Room for {room.more} more {room.fitting}"
    yield f"  Straight pipe by number of {answer.elbow}, by the table / by calculation:"
    for line in answer.lines:
        yield from wrapped(f"  {line.label}: {_points(line, system)}", "      ")
    yield f"  This run: {show_length(answer.straight, system)} straight, {answer.elbows} elbows"


def _points(line: Line, system: System) -> str:
    cells = []
    for point in line.points:
        figures = (point.by_table, point.by_calculation)
        cells.append(f"{point.elbows}: " + " / ".join("none" if f is None else show_feet(f, system) for f in figures))
    return "; ".join(cells)


def as_object(answers: list[Headroom]) -> Object:
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
