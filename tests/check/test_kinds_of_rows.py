"""Rows of several kinds for one pipe, or on one way; and what a job does not say of one of several appliances.

Expected lengths by hand from the tables.
"""

from __future__ import annotations

from copy import deepcopy

import pytest

from tests.check.jobs import TABLE, Data, checked, job, pipe, run, two_furnaces
from tests.words import because
from ventsize.finding import Amount

END: Data = {"fitting": "terminal-open"}
ELBOW: Data = {"fitting": "elbow-90-long"}


def _row(input: str = "80 kBtu/h", size: str = "3 in", **more: object) -> Data:
    return {"input": input, "size": size, **more}


def _page(*rows: Data, deductions: Data | None = None, **more: object) -> Data:
    """The table of the tests with other rows."""
    return {**TABLE, "deductions": {**TABLE["deductions"], **(deductions or {})}, "row": list(rows), **more}


@pytest.mark.parametrize(("pressure", "verdict"), [("3 in w.c.", "within"), ("0.001 in w.c.", "over")])
def test_a_pressure_that_only_the_whole_way_is_looked_up_at(pressure: str, verdict: str) -> None:
    """Each run has a row of lengths for its own material; the row for both together gives a pressure."""
    ends: Data = {"ends": ["terminal-open"]}
    table = _page(
        _row(allowable="90 ft", materials=["pvc-40"], **ends),
        _row(allowable="90 ft", materials=["cpvc-40"], **ends),
        _row(allowable_pressure=pressure, materials=["pvc-40", "cpvc-40"]),
    )
    runs = [run("v1", "furnace", "J", pipe(10)), run("v2", "J", "outdoors", pipe(10), END, material="cpvc-40")]
    assert checked(job(runs=runs), table).verdict == verdict


@pytest.mark.parametrize(("feet", "verdict"), [(10, "within"), (15, "over")])
def test_shares_go_by_the_row_of_which_more_is_used(feet: int, verdict: str) -> None:
    """At 3 in 20 + 10 and two elbows at 8 ft: 46 of 60 ft, and 30 of 40 by count. With 15 ft: 51 of 50 ft by that row.

    The row by count allows the shorter length, 40 ft, and less of it is used: 35 of 40.
    """
    table = _page(
        _row("60 kBtu/h", allowable_by_elbows=["60 ft", "50 ft", "40 ft"]),
        _row("100 kBtu/h", allowable="50 ft"),
        _row("60 kBtu/h", "4 in", allowable="200 ft"), _row("100 kBtu/h", "4 in", allowable="200 ft"),
        deductions={"elbow-90-long": "8 ft", "increaser": "0 ft"}, mixed_sizes="shares",
    )  # fmt: skip
    pieces = [pipe(20), ELBOW, pipe(feet), ELBOW, {"fitting": "increaser", "size": "4 in"}, pipe(2), END]
    assert checked(job(pieces), table).verdict == verdict


@pytest.mark.parametrize(("each", "verdict"), [("1 ft", "within"), ("2 ft", "over")])
def test_a_change_to_a_size_without_a_length_counts_in_the_other(each: str, verdict: str) -> None:
    """1 of 20 ft in 2 in and 18 of 20 in 3 in: 19, and the increaser to 4 in, of which a row gives a pressure."""
    table = _page(
        _row(size="2 in", allowable="20 ft"), _row(allowable="20 ft"),
        _row(size="4 in", allowable_pressure="3 in w.c."),
        deductions={"increaser": {"2 in": "0 ft", "3 in": "0 ft", "4 in": each}}, mixed_sizes="shares",
    )  # fmt: skip
    to_3, to_4 = ({"fitting": "increaser", "size": size} for size in ("3 in", "4 in"))
    assert checked(job([pipe(1), to_3, pipe(18), to_4, pipe(5), END], size="2 in"), table).verdict == verdict


@pytest.mark.parametrize("row", [{"allowable_pressure": "3 in w.c."}, {"allowable_by_elbows": ["90 ft"] * 12}])
def test_fittings_that_are_no_length_by_their_own_page_are_none_by_another(row: Data) -> None:
    """10 ft and nine elbows, then 10 ft on a page of 30 ft, by which nine elbows would be 27: nobody adds them up."""
    other = {**_page(_row(**row)), "deductions": {}}
    for elbows, feet, verdict in ((9, 10, "incomplete"), (9, 21, "over"), (0, 10, "within")):
        first = run("v1", "furnace", "J", pipe(10), *[ELBOW] * elbows, table="other.toml")
        bare = run("v1", "furnace", "I", pipe(5), table="other.toml"), {**first, "between": ["I", "J"], "name": "v2"}
        bare[1]["pieces"] = [pipe(5), *first["pieces"][1:]]
        for inner in ([first], bare):  # all the fittings may stand in one of two runs
            data = job(runs=[*inner, run("v3", "J", "outdoors", pipe(feet), END)])
            found = checked(data, _page(_row(allowable="30 ft")), other=other)
            assert found.verdict == verdict
            assert verdict != "incomplete" or because(found) == "way-length-unknown"


@pytest.mark.parametrize(("allowable", "verdict"), [("55 ft", "within"), ("54 ft", "over")])
def test_the_length_that_a_job_gives_an_elbow_decides_which_is_included(allowable: str, verdict: str) -> None:
    """20 + 5 ft; a long elbow that takes 30 by the job, a short one at 5, of which the cheaper is included: 55 ft."""
    data = job(runs=[
        run("vent", "furnace", "outdoors", pipe(20), {**ELBOW, "table_length": "30 ft"}, END),
        run("air", "furnace", "outdoors", pipe(5), {"fitting": "elbow-90-short"}, END, carries="combustion air"),
    ])  # fmt: skip
    table = _page(_row(allowable=allowable, elbows_included=1), counts="runs together")
    assert checked(data, table).verdict == verdict


@pytest.mark.parametrize(("more", "of_row"), [
    ({"limits": {"same_size": True}}, {}), ({"limits": {"longest_difference": "20 ft"}}, {}),
    ({}, {"air_size": "3 in"}),
])  # fmt: skip
@pytest.mark.parametrize("air", ["pipe", "room", None])
def test_what_one_of_two_appliances_does_not_say_is_not_known(more: Data, of_row: Data, air: str | None) -> None:
    """One furnace has an air pipe of 3 in; of the other's air nobody knows. Only the common vent's page asks."""
    data = two_furnaces()
    for name in ("furnace", "other")[: 2 if air == "pipe" else 1]:
        data["run"].append(run(f"air of {name}", name, "outdoors", pipe(5), END, carries="combustion air"))
    if air:
        data["appliance"][1]["air"] = air
    for one in data["run"]:
        one["table"] = "table.toml" if one["name"] == "v" else "other.toml"
    rows = [_row(input, allowable="90 ft") for input in ("40 kBtu/h", "80 kBtu/h")]
    plain = _page(*rows, deductions={"tee-through": "1 ft", "tee-branch": "3 ft"})
    asks = {**deepcopy(plain), **more, "row": [{**row, **of_row} for row in rows]}
    of_room = "not covered" if of_row else "within"  # a row for an air pipe is for none of them then
    wanted = {"pipe": "within", "room": of_room, None: "incomplete"}[air]
    assert checked(data, asks, other=plain).verdict == wanted


@pytest.mark.parametrize(("table", "verdict"), [("table.toml", "not covered"), (None, "incomplete")])
def test_pipe_that_no_table_judges_is_no_material_of_a_page(table: str | None, verdict: str) -> None:
    """A row for PVC alone at 60 kBtu/h, one for any pipe at 100: with CPVC on the way 80 lies below all that hold."""
    rows = [_row("60 kBtu/h", allowable="90 ft", materials=["pvc-40"]), _row("100 kBtu/h", allowable="90 ft")]
    inner = run("v1", "furnace", "J", pipe(3), material="cpvc-40", table=table)
    outer = run("v2", "J", "outdoors", pipe(5), END, table="table.toml")
    if table is None:
        del inner["table"]
    assert checked(job(runs=[inner, outer]), _page(*rows)).verdict == verdict


@pytest.mark.parametrize(("allowable", "verdict"), [("29 ft", "within"), ("28 ft", "over")])
def test_fittings_are_known_as_length_where_one_of_two_rows_deducts(allowable: str, verdict: str) -> None:
    """10 and three elbows at 3 ft by the plain row of the inner page, then 10 ft by another page: 29 ft.

    The inner page's other row around the input counts elbows, and is no reason not to know their length.
    """
    counts = _row("100 kBtu/h", allowable_by_elbows=["90 ft"] * 4)
    inner = run("v1", "furnace", "J", pipe(10), *[ELBOW] * 3, table="other.toml")
    data = job(runs=[inner, run("v2", "J", "outdoors", pipe(10), END)])
    other = _page(_row("60 kBtu/h", allowable="90 ft"), counts)
    assert checked(data, _page(_row(allowable=allowable)), other=other).verdict == verdict


@pytest.mark.parametrize(("most", "verdict"), [("20 ft", "within"), ("19 ft", "over")])
@pytest.mark.parametrize("longer", [0, 1])
def test_vent_and_air_differ_by_what_the_worst_of_two_appliances_says(longer: int, most: str, verdict: str) -> None:
    """Vents of 20 and 30 ft beside 10 ft of air pipe each: 10 and 20 ft apart, whichever furnace comes first."""
    data = two_furnaces()
    data["run"][longer]["pieces"] = [pipe(20)]
    for name in ("furnace", "other"):
        data["run"].append(run(f"air of {name}", name, "outdoors", pipe(10), END, carries="combustion air"))
    for one in data["run"]:
        one["table"] = "table.toml" if one["name"] == "v" else "other.toml"
    rows = [_row(input, allowable="90 ft") for input in ("40 kBtu/h", "80 kBtu/h")]
    plain = _page(*rows, deductions={"tee-through": "1 ft", "tee-branch": "3 ft"})
    assert checked(data, {**plain, "limits": {"longest_difference": most}}, other=plain).verdict == verdict


@pytest.mark.parametrize(("feet", "verdict"), [(40, "within"), (41, "over")])
@pytest.mark.parametrize("first", [True, False])
def test_altitude_takes_its_part_off_on_a_way_too(first: bool, feet: int, verdict: str) -> None:
    """100 ft less 10 % for each of three steps begun between 2,000 and 4,500 ft are 70: 30 ft by another page, and 40.

    Whichever of the two pages has the factor.
    """
    factor = {"above": "2000 ft", "per": "1000 ft", "less": "10 %"}
    runs = [run("v1", "furnace", "J", pipe(30)), run("v2", "J", "outdoors", pipe(feet), END)]
    runs[not first]["table"] = "other.toml"
    data = job(runs=runs, altitude="4500 ft")
    assert checked(data, _page(_row(allowable="100 ft"), altitude_factor=factor), other=TABLE).verdict == verdict


def test_a_way_without_a_least_length_may_be_as_short_as_it_is() -> None:
    """An inch by each of two pages."""
    runs = [run("v1", "furnace", "J", pipe(1 / 12), table="other.toml"), run("v2", "J", "outdoors", pipe(1 / 12), END)]
    assert checked(job(runs=runs), other={**TABLE, "title": "Another"}).verdict == "within"


def test_another_pipe_of_a_sum_does_not_count_on_a_way_by_two_pages() -> None:
    """20 ft of vent, of which the inner page adds up 10 ft and 1 ft of air pipe in 2 in, of that allowing 15 ft.

    The way of the flue gas is not held to what is allowed for the air pipe; that a part of the sum is judged elsewhere
    leaves it incomplete.
    """
    runs = [
        run("v1", "furnace", "J", pipe(10), table="other.toml"), run("v2", "J", "outdoors", pipe(10), END),
        run("air", "furnace", "outdoors", pipe(1), END, carries="combustion air", table="other.toml", size="2 in"),
    ]  # fmt: skip
    sums = _page(_row(allowable="90 ft"), _row(size="2 in", allowable="15 ft"), counts="runs together")
    found = checked(job(runs=runs), other=sums)
    assert (found.verdict, because(found)) == ("incomplete", "counted-apart")


@pytest.mark.parametrize(("feet", "verdict"), [(8, "within"), (7.9, "short")])
def test_on_a_way_over_two_inputs_each_pipe_has_its_least_length(feet: float, verdict: str) -> None:
    """20 ft of vent and 8 or 7.9 of air pipe, counted together, where each is to have 8 ft."""
    data = two_furnaces()
    for name in ("furnace", "other"):
        data["run"].append(run(f"air of {name}", name, "outdoors", pipe(feet), END, carries="combustion air"))
    rows = [_row(input, allowable="90 ft", minimum="8 ft") for input in ("40 kBtu/h", "80 kBtu/h")]
    table = _page(*rows, deductions={"tee-through": "1 ft", "tee-branch": "3 ft"}, counts="runs together")
    assert checked(data, table).verdict == verdict


@pytest.mark.parametrize(("allowable", "least", "expected"), [
    ("30 ft", "5 ft", ("way-over", {"compared": 31, "allowed": 30, "beyond": 1})),
    ("90 ft", "40 ft", ("way-short", {"straight": 31, "least": 40})),
    ("31 ft", "31 ft", ("way-within", {"compared": 31, "allowed": 31})),
])  # fmt: skip
def test_what_a_way_over_two_pages_is_held_to(allowable: str, least: str, expected: tuple[str, dict[str, int]]) -> None:
    """21 and 10 ft, in feet; of two pages the shorter length and the longer minimum."""
    runs = [run("v1", "furnace", "J", pipe(21), table="other.toml"), run("v2", "J", "outdoors", pipe(10), END)]
    found = checked(
        job(runs=runs), _page(_row(allowable=allowable)), other=_page(_row(allowable="99 ft", minimum=least))
    )
    (because_of,) = {one.because for one in found.conditions if one.condition == "way-allowed" and one.run == "v1"}
    figures = {name: value.value / 0.3048 for name, value in because_of.values.items() if isinstance(value, Amount)}
    assert (because_of.code, figures) == (expected[0], pytest.approx(expected[1]))
