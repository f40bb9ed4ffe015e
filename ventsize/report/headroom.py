"""Headroom as text, and as an object for JSON (SI, keys that end in their unit)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from ventsize.quantity import System, show_feet
from ventsize.report.keys import Keys
from ventsize.report.text_parts import table, wrapped
from ventsize.report.wording import reason
from ventsize.studies.headroom import Headroom, Line, Point

ABREAST = 3  # sizes, in 80 columns


def render(answers: list[Headroom], system: System) -> str:
    """What is left of each run's allowance, and the chart as a table."""
    return "\n".join(line for answer in answers for line in _headroom(answer, system)) + "\n"


def _headroom(answer: Headroom, system: System) -> Iterator[str]:
    why = reason(answer.decides, system, with_run=False)
    yield from wrapped(f"{answer.run}: {answer.verdict.upper()}. {why}", "  ")
    if answer.left_by_calculation is not None:
        less = "more pipe than the allowance pressure carries"
        said = "left" if answer.left_by_calculation >= 0 else less
        yield f"  By calculation: {show_feet(abs(answer.left_by_calculation), system)} {said}"
    for room in answer.rooms:
        yield f"  Room for {room.more} more {room.fitting}" if room.more else f"  No room for another {room.fitting}"
    yield f"  Straight pipe by number of {answer.elbow}, by the table / by calculation:"
    for at in range(0, len(answer.lines), ABREAST):
        yield from _chart(answer.lines[at : at + ABREAST], system)
    elbows = f"{answer.elbows} elbow{'s' * (answer.elbows != 1)}"
    yield f"  This run: {show_feet(answer.straight, system)} straight, {elbows}"


def _chart(lines: Sequence[Line], system: System) -> Iterator[str]:
    points = [{point.elbows: _both(point, system) for point in line.points} for line in lines]
    columns = (("elbows", 8), *((line.label, 22) for line in lines))
    elbows = sorted({number for of_size in points for number in of_size})
    yield from table(columns, ((str(number), *(of_size.get(number, "") for of_size in points)) for number in elbows))


def _both(point: Point, system: System) -> str:
    figures = (point.by_table, point.by_calculation)
    return " / ".join("none" if figure is None else show_feet(figure, system) for figure in figures)


def as_object(answers: list[Headroom]) -> dict[str, Any]:
    """The headroom for JSON."""
    return {
        "runs": [
            {
                **_RUN(answer),
                "more": {room.fitting: room.more for room in answer.rooms},
                "lines": [{"size": line.label, "points": _POINT.each(line.points)} for line in answer.lines],
            }
            for answer in answers
        ]
    }


_RUN = Keys(Headroom, "name:run verdict left_m left_by_calculation_m elbow straight_length_m:straight elbows")
_POINT = Keys(Point, "elbows by_table_m by_calculation_m")
