"""Differences between two states of a file, in words a person at the job knows."""

from __future__ import annotations

from typing import Any

import pytest

from ventsize.jobfile.differing import differences
from ventsize.jobfile.editing import clear, insert_pieces, move_item, put

JOB: dict[str, Any] = {
    "title": "House",
    "site": {"altitude": "620 ft"},
    "appliance": [{"name": "furnace", "rate": [{"name": "high", "input": "80 MBH"}]}],
    "run": [
        {
            "name": "vent",
            "size": "3 in",
            "pieces": [
                {"pipe": "3 ft", "heading": "up"},
                {"fitting": "elbow-90-long"},
                {"pipe": "12 ft", "heading": "north"},
                {"fitting": "terminal-open"},
            ],
        },
        {"name": "air", "straight": "20 ft", "fittings": {"elbow-90-long": 2}},
    ],
}
TABLE: dict[str, Any] = {
    "source": "page 12",
    "deductions": {"elbow-90-long": "5 ft", "elbow-45": {"2 in": "2 ft"}},
    "row": [
        {"input": "80 MBH", "altitude": ["0 ft", "2000 ft"], "allowable": "90 ft"},
        {"input": "60 MBH", "altitude": ["0 ft", "2000 ft"], "allowable_by_elbows": ["50 ft", "45 ft"]},
    ],
}


@pytest.mark.parametrize(
    ("now", "said"),
    [
        (put(JOB, ("run", 0, "pieces", 2, "pipe"), "14 ft"), ["vent, piece 3: length 12 ft -> 14 ft"]),
        (insert_pieces(JOB, 0, 3, [{"fitting": "elbow-45"}]), ["vent, piece 4: added (elbow-45)"]),
        (clear(JOB, ("run", 0, "pieces", 1)), ["vent, piece 2: taken out (elbow-90-long)"]),
        (put(JOB, ("run", 1, "fittings", "elbow-90-long"), 3), ["air, count: elbow-90-long 2 -> 3"]),
        (put(JOB, ("site", "altitude"), ""), ["site: altitude 620 ft -> (empty)"]),
        (put(JOB, ("title",), "Barn"), ["file: title House -> Barn"]),
        (
            put(JOB, ("appliance", 0, "rate", 0, "input"), "90 MBH"),
            ["appliance 'furnace', rate 'high': input 80 MBH -> 90 MBH"],
        ),
        (move_item(JOB, ("run", 0, "pieces", 0), 1), ["vent: pieces in another order"]),
        (put(JOB, ("run", 0, "k"), {"a": {"b": 1}}), ["vent: k added"]),
    ],
)
def test_a_job(now: dict[str, Any], said: list[str]) -> None:
    """One edit, one line."""
    assert list(differences(JOB, now)) == said


@pytest.mark.parametrize(
    ("now", "said"),
    [
        (put(TABLE, ("row", 0, "allowable"), "80 ft"), ["row 1: allowed 90 ft -> 80 ft"]),
        (
            put(TABLE, ("row", 1, "allowable_by_elbows"), ["50 ft", "44 ft", "40 ft"]),
            ["row 2: allowed with 1 elbow 45 ft -> 44 ft", "row 2: allowed with 2 elbows (empty) -> 40 ft"],
        ),
        (
            put(TABLE, ("row", 0, "altitude"), ["0 ft", "3000 ft"]),
            ["row 1: altitude 0 ft to 2000 ft -> 0 ft to 3000 ft"],
        ),
        (put(TABLE, ("deductions", "elbow-90-long"), "6 ft"), ["deduction: elbow-90-long 5 ft -> 6 ft"]),
        (put(TABLE, ("deductions", "elbow-45", "2 in"), "1 ft"), ["deduction, elbow-45: 2 in 2 ft -> 1 ft"]),
    ],
)
def test_a_table(now: dict[str, Any], said: list[str]) -> None:
    """Rows by their number, deductions by their fitting."""
    assert list(differences(TABLE, now)) == said


def test_no_difference_is_none() -> None:
    """The same data have nothing to say."""
    assert differences(JOB, JOB) == () and differences({}, {}) == ()
