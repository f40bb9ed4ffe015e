"""Differences between two states of a file, place by place."""

from __future__ import annotations

from typing import Any

import pytest

from ventsize.jobfile.differences import Difference, differences
from ventsize.jobfile.editing import clear, insert_pieces, move_item, put
from ventsize.report.differences import difference_words

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
ELBOW = {"fitting": "elbow-45"}


@pytest.mark.parametrize(
    ("was", "now", "place", "one", "other"),
    [
        (JOB, put(JOB, ("run", 0, "pieces", 2, "pipe"), "14 ft"), "run 'vent', piece 3, pipe", "12 ft", "14 ft"),
        (JOB, insert_pieces(JOB, 0, 3, [ELBOW]), "run 'vent', piece 4", None, ELBOW),
        (JOB, clear(JOB, ("run", 0, "pieces", 1)), "run 'vent', piece 2", {"fitting": "elbow-90-long"}, None),
        (JOB, put(JOB, ("run", 1, "fittings", "elbow-90-long"), 3), "run 'air', fittings, elbow-90-long", 2, 3),
        (JOB, put(JOB, ("title",), "Barn"), "title", "House", "Barn"),
        (JOB, put(JOB, ("note",), "dog"), "note", None, "dog"),
        (TABLE, put(TABLE, ("row", 0, "allowable"), "80 ft"), "row 1, allowable", "90 ft", "80 ft"),
        (TABLE, put(TABLE, ("deductions", "elbow-45", "2 in"), "1 ft"), "deductions, elbow-45, 2 in", "2 ft", "1 ft"),
    ],
)
def test_one_edit_is_one_difference(was: Any, now: Any, place: str, one: Any, other: Any) -> None:
    """At its place, with what stood there and what stands there now."""
    assert differences(was, now) == (Difference(place, one, other),)


def test_a_move_is_a_move() -> None:
    """Nothing else is different."""
    (moved,) = differences(JOB, move_item(JOB, ("run", 0, "pieces", 0), 1))
    assert moved.moved and moved.place == "run 'vent', pieces"


def test_pieces_are_followed_when_others_come_before_them() -> None:
    """What came, what changed; and what went as a whole."""
    old = {"run": [{"name": "vent", "pieces": [{"pipe": "1 ft"}, ELBOW]}]}
    new = {"run": [{"name": "vent", "pieces": [{"pipe": "9 ft"}, {"pipe": "1 ft"}, {"fitting": "elbow-22"}]}]}
    came = Difference("run 'vent', piece 1", None, {"pipe": "9 ft"})
    assert differences(old, new) == (came, Difference("run 'vent', piece 3, fitting", "elbow-45", "elbow-22"))
    assert [one.place for one in differences({"title": "x", **new}, {"title": "x", "note": "y"})] == ["note", "run"]


def test_no_difference_is_none() -> None:
    """The same data have nothing to say."""
    assert differences(JOB, JOB) == () and differences({}, {}) == ()


def test_each_kind_of_difference_has_its_words() -> None:
    """Changed, added, taken out, moved, made empty."""
    nows = (put(JOB, ("title",), ""), insert_pieces(JOB, 0, 3, [ELBOW]), clear(JOB, ("run", 0, "pieces", 1)))
    nows += (move_item(JOB, ("run", 0, "pieces", 0), 1),)
    said = [difference_words(one).partition(": ")[2] for now in nows for one in differences(JOB, now)]
    assert len({words.split()[0] for words in said}) == 4
