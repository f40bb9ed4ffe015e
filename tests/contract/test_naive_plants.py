"""The naive reading by hand, continued: two pipes, limits, the cold, trees, turns, and errors of the files."""

from __future__ import annotations

from typing import Any

import pytest

from tests.contract.by_hand import FT, air, asked, came_to, furnace, page, row, vent
from tests.contract.reading import Data


def test_pairs_of_sizes() -> None:
    """3 in vent with 2 in air: 20 ft for both; the air is looked up by its own size in that row."""
    rows = [row(20, air_size="2 in"), row(60, air_size="3 in")]
    small = air(20, "terminal-open", size="2 in")
    assert asked(page(rows), vent(20, "terminal-open"), small).verdict == "within"
    answer = asked(page(rows), vent(21, "terminal-open"), small)
    assert (answer.runs["vent"], answer.runs["air"]) == ("over", "within")
    assert asked(page(rows), vent(60, "terminal-open"), air(60, "terminal-open")).verdict == "within"
    assert came_to(asked(page(rows), vent(9, "terminal-open"))) == ("not covered", {"conditions"})


def test_materials_are_all_of_the_run() -> None:
    """One CPVC pipe among PVC is a run of both."""
    rows = [row(materials=["pvc-40"]), row(50, materials=["pvc-40", "cpvc-40"], ends=["terminal-open"])]
    run = vent(10, {"pipe": "5 ft", "material": "cpvc-40"}, "terminal-open")
    assert asked(page(rows), run).figures["vent"].allowable == pytest.approx(50 * FT)
    assert came_to(asked(page(rows[:1]), run)) == ("not covered", {"conditions"})


def test_counts_as() -> None:
    """10 ft of flexible liner count as 20; the minimum is of pipe as it stands."""
    table = page([row(20, minimum="11 ft")], counts_as={"flexible-liner-corrugated": 2.0})
    answer = asked(table, vent(10, "terminal-open", material="flexible-liner-corrugated"))
    assert answer.figures["vent"].equivalent == pytest.approx(20 * FT)
    assert came_to(answer) == ("short", {"minimum"})


@pytest.mark.parametrize(
    ("limits", "parts", "expected"),
    [
        ({"most_elbows": 2}, (5, "elbow-90-long", "elbow-45", "terminal-open"), None),
        ({"most_elbows": 2}, (5, "elbow-90-long", "elbow-45", "terminal-elbow-down"), "most_elbows"),
        ({"longest_level": "10 ft"}, ((20, "up"), "elbow-90-long", (10, "east"), "terminal-open"), None),
        ({"longest_level": "10 ft"}, ((20, "up"), "elbow-90-long", (11, "east"), "terminal-open"), "longest_level"),
        ({"longest_level": "10 ft"}, ((20, "up"), "elbow-90-long", 11, "terminal-open"), "longest_level not known"),
        ({"longest_rise": "10 ft"}, ((10, "up"), "elbow-90-long", (50, "east"), "terminal-open"), None),
        ({"longest_rise": "10 ft"}, ((11, "up"), "elbow-90-long", (5, "east"), "terminal-open"), "longest_rise"),
    ],
)
def test_limits(limits: Data, parts: tuple[Any, ...], expected: str | None) -> None:
    """Beside the length: most elbows, level and rising pipe; what cannot be known is asked."""
    assert {fault.reason for fault in asked(page([row()], limits=limits), vent(*parts)).faults} == (
        {expected} if expected else set()
    )


def test_limits_of_both_pipes() -> None:
    """20 ft and 12 ft differ by 8; 3 in and 2 in are not the same size."""
    rows = [row(), row(size="2 in")]
    runs = vent(20, "terminal-open"), air(12, "terminal-open")
    assert asked(page(rows, limits={"longest_difference": "8 ft"}), *runs).verdict == "within"
    assert asked(page(rows, limits={"longest_difference": "7 ft"}), *runs).verdict == "over"
    same = page(rows, limits={"same_size": True})
    assert asked(same, *runs).verdict == "within"
    assert asked(same, vent(20, "terminal-open"), air(12, "terminal-open", size="2 in")).verdict == "over"


@pytest.mark.parametrize(
    ("design", "pipe", "verdict", "reasons"),
    [
        ("-5 degF", {"surroundings": "attic"}, "within", set()),  # the row of -10 with bare pipe: 10 of 10
        ("0 degF", {"surroundings": "49 degF"}, "within", set()),  # 0 degF governs: 10 of 15
        ("0 degF", {"surroundings": "51 degF"}, "within", set()),
        ("-11 degF", {"surroundings": "outdoors"}, "not covered", {"exposed"}),
        (None, {"surroundings": "outdoors"}, "incomplete", {"coldest day not said"}),
        (None, {"surroundings": "heated space"}, "within", set()),
        ("-5 degF", {}, "incomplete", {"surroundings not said"}),
        ("-5 degF", {"surroundings": "attic", "insulation": {"thickness": "1/4 in"}}, "within", set()),
        ("-5 degF", {"surroundings": "attic", "pipe": "11 ft"}, "over", {"exposed"}),
        ("-5 degF", {"surroundings": "attic", "pipe": "20 ft", "insulation": {"thickness": "1/2 in"}}, "within", set()),
    ],
)
def test_exposed_pipe(design: str | None, pipe: Data, verdict: str, reasons: set[str]) -> None:
    """At -10 degF 10 ft bare and 20 ft with half an inch; at 0 degF 15 ft bare."""
    exposed = [
        {"size": "3 in", "outdoor": "-10 degF", "insulation": "0 in", "allowable": "10 ft"},
        {"size": "3 in", "outdoor": "-10 degF", "insulation": "1/2 in", "allowable": "20 ft"},
        {"size": "3 in", "outdoor": "0 degF", "insulation": "0 in", "allowable": "15 ft"},
    ]
    site = {"altitude": "500 ft", **({"design_outdoor": design} if design else {})}
    answer = asked(page([row()], exposed=exposed), vent({"pipe": "10 ft", **pipe}, "terminal-open"), site=site)
    assert came_to(answer) == (verdict, reasons)


def test_footnotes() -> None:
    """Word for word."""
    table = page([row()], confirm=["Terminals on one wall."])
    run = vent(9, "terminal-open")
    assert asked(table, run, confirmed=["Terminals on one wall."]).verdict == "within"
    assert came_to(asked(table, run, confirmed=["terminals on one wall"])) == ("incomplete", {"footnote"})


def test_runs_together() -> None:
    """Vent 50 + 3 and air 37 ft are 90 of 90; a foot more is over in both; with no word of the air nothing is known."""
    table = page([row()], counts="runs together")
    answer = asked(table, vent(50, "elbow-90-long", "terminal-open"), air(37, "terminal-open"))
    assert answer.verdict == "within"
    answer = asked(table, vent(50, "elbow-90-long", "terminal-open"), air(38, "terminal-open"))
    assert answer.runs == {"vent": "over", "air": "over"}
    silent = furnace()
    del silent["air"]
    answer = asked(table, vent(5, "terminal-open"), plant=[silent])
    assert came_to(answer) == ("incomplete", {"air not said on runs together"})


def test_a_way_of_two_runs() -> None:
    """30 + 40 ft in 3 in, then 4 in: 70 + 4 for the change of size, of the shorter, 74 ft; a foot less is over."""
    first = vent(30, between=["furnace", "half way"], name="first")
    second = vent(40, "terminal-open", between=["half way", "outdoors"], name="second", size="4 in")
    assert asked(page([row(74), row(90, size="4 in")]), first, second).verdict == "within"
    assert asked(page([row(73), row(90, size="4 in")]), first, second).verdict == "over"


def tree(common: float) -> tuple[Data, ...]:
    """Two appliances of 40 kBtu/h, 10 ft and 20 ft to a tee, whose branch is the second, and a common vent."""
    return (
        vent(10, between=["one", "tee"], name="a"),
        vent(20, between=["tee", "two"], name="b"),
        vent(common, "terminal-open", between=["tee", "outdoors"], name="c"),
    )


def test_a_tree() -> None:
    """The second way is 20 + 7 for the branch + the common part, of 60 ft, the shortest of 60 (80) and 70 (40)."""
    rows = [row(60), row(70, input="40 kBtu/h")]
    plant = [furnace("one", 40), furnace("two", 40)]
    joint = [{"name": "tee", "fitting": "tee", "in_line": ["a", "c"]}]
    assert asked(page(rows), *tree(33), plant=plant, joint=joint).verdict == "within"
    answer = asked(page(rows), *tree(34), plant=plant, joint=joint)
    assert answer.runs == {"a": "within", "b": "over", "c": "over"}  # a: 10 + 2 + 34
    assert came_to(asked(page(rows[:1]), *tree(9), plant=plant, joint=joint))[0] == "not covered"


def test_two_pipes_side_by_side() -> None:
    """10 ft, 20 or 30 ft side by side, 10 ft: gas that divides is in no table, and the longer way is over besides.

    It is 10 + 7 + 30 + 7 + 10 by the tees' branches.
    """
    first = vent(10, between=["furnace", "in"], name="first")
    short = vent(20, between=["in", "out"], name="short")
    longer = vent(30, between=["out", "in"], name="longer")
    last = vent(10, "terminal-open", between=["out", "outdoors"], name="last")
    joint = [
        {"name": "in", "fitting": "tee", "in_line": ["first", "short"]},
        {"name": "out", "fitting": "tee", "in_line": ["short", "last"]},
    ]
    assert asked(page([row(64)]), first, short, longer, last, joint=joint).verdict == "not covered"
    answer = asked(page([row(63)]), first, short, longer, last, joint=joint)
    assert answer.runs == {"first": "over", "short": "not covered", "longer": "over", "last": "over"}


@pytest.mark.parametrize(
    ("between", "verdict"),
    [
        (("elbow-90-long",), "within"),
        (("elbow-22", "elbow-22"), "incomplete"),
        (("elbow-45", "elbow-45"), "within"),
        ((), "incomplete"),
        ((3,), "incomplete"),
        ((3, "elbow-45", 4, "elbow-45"), "within"),
        (({"pipe": "3 ft", "material": "flexible-liner-corrugated"},), "within"),
        (("tee-branch",), "within"),
    ],
)
def test_turns(between: tuple[Any, ...], verdict: str) -> None:
    """From up to east, across whatever stands between."""
    run = vent((10, "up"), *between, (10, "east"), "terminal-open")
    assert asked(page([row()], deductions={}), run).verdict == verdict


def test_ends_out_of_place() -> None:
    """An entrance on a flue, an end inside, and an end on a run that does not reach outdoors."""
    wrong = [
        vent(9, "entrance-open"),
        vent("terminal-open", 9),
        vent(straight="9 ft", fittings={"terminal-open": 2}, pieces=None),
    ]
    del wrong[2]["pieces"]
    for run in wrong:
        assert asked(page([row()]), run).error == "end out of place"
    assert asked(page([row()], deductions={}), vent(9), air(9, "entrance-open")).error is None


def test_names_that_nothing_explains() -> None:
    """In the deductions, and in the job; a page's own fitting explains its name."""
    wrong = page([row()], deductions={"elbow-90-lnog": "3 ft"})
    assert asked(wrong, vent(9)).error == "unknown name in the table"
    assert asked(page([row()]), vent(9, "elbow-90-lnog", 1)).error == "unknown fitting"
    own = page([row()], deductions={"wall-kit": "5 ft"}, fitting=[{"name": "wall-kit", "kind": "terminal"}])
    assert asked(own, vent(9, "wall-kit")).figures["vent"].equivalent == pytest.approx(14 * FT)


def test_gas_hotter_than_the_pipe() -> None:
    """PVC takes 140 degF, CPVC 194 degF; exactly the limit is not hotter."""
    hot = furnace()
    hot["rate"][0]["flue_temperature"] = "141 degF"
    assert came_to(asked(page([row()]), vent(9, "terminal-open"), plant=[hot])) == ("unsafe", {"gas too hot"})
    assert asked(page([row()]), vent(9, "terminal-open", material="cpvc-40"), plant=[hot]).verdict == "within"
    hot["rate"][0]["flue_temperature"] = "140 degF"
    assert asked(page([row()]), vent(9, "terminal-open"), plant=[hot]).verdict == "within"


def test_what_settles() -> None:
    """Over before short, not covered and incomplete."""
    runs = vent(91, "terminal-open"), air(9, "coupling", "terminal-open")
    assert asked(page([row()]), *runs).verdict == "over"
    assert asked(page([row()]), *runs).runs == {"vent": "over", "air": "incomplete"}
