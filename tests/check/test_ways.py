"""Ways out as one run: turns at joints, changes of size between runs, elbows, and ways too many to compare.

Expected lengths by hand from the tables.
"""

from __future__ import annotations

import math
from copy import deepcopy
from dataclasses import replace

import pytest

from tests.check.jobs import TABLE, Data, checked, job, pipe, run, two_furnaces
from tests.words import because
from ventsize.allowance.reading import table_from_data
from ventsize.check.inputs import prepare
from ventsize.check.result import JobCheck
from ventsize.check.variants import Variants
from ventsize.finding import Amount
from ventsize.jobfile.job import FittingPiece, job_from_data

END: Data = {"fitting": "terminal-open"}


def _table(**deductions: str) -> Data:
    table = deepcopy(TABLE)
    table["deductions"] |= {name.replace("_", "-"): length for name, length in deductions.items()}
    table["row"] += [{**row, "input": "40 kBtu/h"} for row in TABLE["row"]]
    return table


def _joined(fitting: str) -> Data:
    data = two_furnaces()
    data["joint"][0]["fitting"] = fitting
    return data


def _in_two(first: list[Data], second: list[Data], size: str = "3 in") -> Data:
    return job(runs=[run("v1", "furnace", "J", *first), run("v2", "J", "outdoors", *second, END, size=size)])


@pytest.mark.parametrize(("joint", "heading", "verdict"), [
    ("tee", "up", "within"), ("tee", "north", "incomplete"), ("wye", "up", "incomplete"), ("wye", "east", "within"),
])  # fmt: skip
def test_a_branch_turns_as_far_as_its_joint(joint: str, heading: str, verdict: str) -> None:
    """A branch that comes in eastward and goes on up: a tee makes 90°, a wye of 45° does not; neither makes 180°."""
    data = _joined(joint)
    onward = "south" if heading == "north" else heading
    for leg, own in zip(data["run"], (onward, "north" if heading == "north" else "east", onward), strict=True):
        leg["pieces"][0]["heading"] = own
    table = _table(tee_through="1 ft", tee_branch="3 ft", wye_through="1 ft", wye="3 ft")
    found = checked(data, table)
    assert found.verdict == verdict
    if verdict == "incomplete":
        because_of = found.decides.because
        assert because_of.code == "turn-not-made" and because_of.where.joint == "J"
        turned = because_of.values["turned"]
        assert isinstance(turned, Amount) and math.degrees(turned.value) == pytest.approx(90 if joint == "tee" else 45)


def test_a_turn_mended_in_one_run_is_mended_for_the_other() -> None:
    """A variant takes over the runs it leaves alone, but not what was found at the joint before."""
    data = _in_two([pipe(10, "up")], [pipe(10, "east")])
    read = job_from_data(data, file="test.toml")
    inputs = prepare(read, file="test.toml", tables={"table.toml": table_from_data(TABLE, file="table.toml")})
    first = read.runs[0]
    turned = replace(first, pieces=(*(first.pieces or ()), FittingPiece(fitting="elbow-90-long")))
    assert Variants(inputs).judge({}).verdict == "incomplete"
    assert Variants(inputs).judge({"v1": turned}).verdict == "within"


def test_a_change_of_size_between_runs_goes_by_the_dearer_name_at_its_sizes() -> None:
    """From 3 to 4 in: 1 and 2 ft as an increaser, though 9 ft at 6 in; 3 ft as a reducer: 10 + 77 + 3 is 90 ft."""
    table = deepcopy(TABLE)
    table["deductions"]["increaser"] = {"3 in": "1 ft", "4 in": "2 ft", "6 in": "9 ft"}
    for feet, verdict in ((77, "within"), (77.1, "over")):
        assert checked(_in_two([pipe(10)], [pipe(feet)], size="4 in"), table).verdict == verdict


def test_a_wye_makes_no_pair_with_an_elbow_of_a_run() -> None:
    """A 45 in the branch, one behind the wye, and the wye: three begun pairs, so three elbows."""
    data = _joined("wye")
    for leg in data["run"][1:]:
        leg["pieces"].insert(1, {"fitting": "elbow-45"})
    for most, verdict in ((3, "within"), (2, "over")):
        lengths = [f"{50 - number} ft" for number in range(most + 1)]
        rows = [{"input": kbtu, "size": "3 in", "allowable_by_elbows": lengths} for kbtu in ("40 kBtu/h", "80 kBtu/h")]
        table = {**deepcopy(TABLE), "row": rows}
        del table["deductions"]
        assert checked(data, table).verdict == verdict


def test_ways_that_are_not_all_compared_are_no_pass() -> None:
    """Eight pairs of pipes side by side are 256 ways out, more than the 200 that are taken."""
    found = checked(_pairs_of_pipes(8), _table(tee_through="0 ft", tee_branch="0 ft"))
    assert ("ways-counted", "not known", "too-many-ways") in states(found)
    few = checked(_pairs_of_pipes(7), _table(tee_through="0 ft", tee_branch="0 ft"))
    assert ("ways-counted", "met", "ways-counted") in states(few)


@pytest.mark.parametrize(("pairs", "state"), [(2, "met"), (3, "not known")])
def test_so_many_ways_as_are_taken_are_all_there_are(pairs: int, state: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of four that are taken: two pairs of pipes side by side have four, three have eight."""
    monkeypatch.setattr("ventsize.check.paths.MOST_WAYS", 4)
    found = checked(_pairs_of_pipes(pairs), _table(tee_through="0 ft", tee_branch="0 ft"))
    assert {one[1] for one in states(found) if one[0] == "ways-counted"} == {state}


def test_a_run_that_is_a_whole_way_is_no_part_of_one() -> None:
    """Beside a vent in two runs the air pipe in one is judged by itself."""
    data = _in_two([pipe(10)], [pipe(10)])
    data["run"].append(run("air", "furnace", "outdoors", pipe(10), END, carries="combustion air"))
    found = checked(data)
    assert found.verdict == "within"
    assert {one.run for one in found.conditions if one.condition == "way-allowed"} == {"v1", "v2"}
    assert {one.run for one in found.conditions if one.condition == "length-enough"} == {"air"}


def states(found: JobCheck) -> set[tuple[str, str, str]]:
    return {(outcome.condition, outcome.state, outcome.because.code) for outcome in found.conditions}


def _pairs_of_pipes(count: int) -> Data:
    """A vent that divides and meets again so many times."""
    runs = [run("r0", "furnace", "A0", pipe(1))]
    for number in range(count):
        runs += [run(f"{side}{number}", f"A{number}", f"B{number}", pipe(1)) for side in "pq"]
        outer = "outdoors" if number == count - 1 else f"A{number + 1}"
        runs.append(run(f"r{number + 1}", f"B{number}", outer, pipe(1), *([END] if outer == "outdoors" else [])))
    data = job(runs=runs)
    data["joint"] = [
        {"name": f"{end}{number}", "fitting": "tee", "in_line": [f"r{number + (end == 'B')}", f"p{number}"]}
        for number in range(count) for end in "AB"
    ]  # fmt: skip
    return data


def test_a_way_is_not_covered_where_a_part_of_it_is_not() -> None:
    """Two inputs, so two look-ups: the branch's input stands in no row, and the way says so."""
    data = _joined("tee")
    data["appliance"][0]["rate"][0]["input"] = "30 kBtu/h"
    found = checked(data, _table(tee_through="1 ft", tee_branch="3 ft"))
    (way,) = [one for one in found.conditions if one.condition == "way-allowed" and one.run == "va"]
    assert (way.verdict, way.because.code) == ("not covered", "input-not-in-table")


@pytest.mark.parametrize(("feet", "verdict"), [(80, "over"), (60, "incomplete")])
def test_a_way_is_over_whatever_is_missing(feet: int, verdict: str) -> None:
    """10 ft of a branch and 80 or 60 ft on: 93 of 90 ft with the tee, and an elbow without a word."""
    data = _joined("tee")
    data["run"][2]["pieces"] = [pipe(feet), {"fitting": "elbow-22"}, END]
    assert checked(data, _table(tee_through="3 ft", tee_branch="3 ft")).verdict == verdict


def test_a_way_has_the_materials_of_all_its_runs() -> None:
    """A branch of CPVC into a common vent of PVC, on rows for one of them each: looked up apart each finds its row."""
    data = _joined("tee")
    for leg in data["run"]:
        leg["material"] = "cpvc-40" if leg["name"] != "v" else "pvc-40"
    table = _table(tee_through="1 ft", tee_branch="3 ft")
    mixed = {**table, "row": [{**row, "materials": ["cpvc-40", "pvc-40"]} for row in table["row"]]}
    assert checked(data, mixed).verdict == "within"
    of_each = {"40 kBtu/h": ["cpvc-40"], "80 kBtu/h": ["pvc-40"]}
    apart = {**table, "row": [{**row, "materials": of_each[row["input"]]} for row in table["row"]]}
    for more in ([], [{"input": "40 kBtu/h", "size": "6 in", "allowable": "9 ft"}]):  # not every row asks
        found = checked(data, {**apart, "row": [*apart["row"], *more]})
        assert found.verdict == "not covered"
    assert [one.because.code for one in found.conditions if one.condition == "way-allowed"][0] == "no-row-for-case"


def test_what_a_table_adds_up_is_all_judged_by_it() -> None:
    """Two furnaces on one vent, each with an air pipe of its own by no table: the sum has a part nobody counts."""
    data = _joined("tee")
    for name in ("furnace", "other"):
        data["run"].append(run(f"air of {name}", name, "outdoors", pipe(5), END, carries="combustion air"))
        del data["run"][-1]["table"]
    found = checked(data, {**_table(tee_through="1 ft", tee_branch="3 ft"), "counts": "runs together"})
    apart = {one.run for one in found.conditions if one.because.code == "counted-apart"}
    assert apart == {"va", "vb", "v"}


def test_a_pressure_row_asks_for_no_deduction() -> None:
    """The loss holds each fitting: an elbow with a figure for another size only is no question there."""
    table = deepcopy(TABLE)
    table["deductions"]["elbow-90-long"] = {"6 in": "3 ft"}
    table["row"] = [{"input": "80 kBtu/h", "size": "3 in", "allowable_pressure": "3 in w.c."}]
    assert checked(job(), table).verdict == "within"


def test_a_limit_holds_for_runs_that_no_table_judges_too() -> None:
    """Two elbows in the run by the table, one in a run by none, and two are permitted: over, whatever is missing."""
    elbow: Data = {"fitting": "elbow-90-long"}
    data = _in_two([pipe(5), elbow, elbow], [pipe(5), elbow])
    del data["run"][1]["table"]
    found = checked(data, {**TABLE, "limits": {"most_elbows": 2}})
    assert (found.verdict, because(found)) == ("over", "too-many-elbows")


def test_a_limit_on_cold_pipe_holds_for_runs_by_another_table_too() -> None:
    """The common vent's page limits pipe in the cold to 10 ft; the branch, by another page, runs 15 ft in the attic."""
    exposed = [{"size": "3 in", "outdoor": "-10 degF", "insulation": "0 in", "allowable": "10 ft"}]
    for feet, verdict in ((15, "over"), (10, "within")):
        data = _in_two([pipe(feet, surroundings="attic")], [pipe(5, surroundings="heated space")])
        data["run"][0]["table"] = "other.toml"
        data["site"]["design_outdoor"] = "0 degF"
        assert checked(data, {**TABLE, "exposed": exposed}, other=TABLE).verdict == verdict


def test_an_end_that_counts_as_an_elbow_has_a_word() -> None:
    """An open end nobody lists counts as one elbow by the page, which deducts for another end: 50 ft with one."""
    table = deepcopy(TABLE)
    table["deductions"] = {"terminal-screened": "3 ft"}
    row = {"input": "80 kBtu/h", "size": "3 in", "allowable_by_elbows": ["60 ft", "50 ft"]}
    counted = {**table, "row": [row], "elbows_each": {"terminal-open": 1}}
    assert [checked(job([pipe(feet)]), counted).verdict for feet in (50, 51)] == ["within", "over"]
    assert checked(job([pipe(50)]), {**table, "row": [row]}).verdict == "incomplete"


def test_a_tee_at_a_change_of_size_goes_by_the_larger_figure() -> None:
    """Branches of 3 in into a tee of 4 in: 67 ft in 3 in, so 10 + 67 + 10 and the reducer at 3 ft: 90."""
    data = _joined("tee")
    data["run"][2]["size"] = "4 in"
    table = _table(tee_through="0 ft")
    for large, verdict in (("67 ft", "within"), ("68 ft", "over"), (None, "incomplete")):
        figures = {"4 in": "1 ft", **({"3 in": large} if large else {})}
        table["deductions"]["tee-branch"] = figures
        assert checked(data, table).verdict == verdict


@pytest.mark.parametrize(("feet", "verdict"), [(10, "incomplete"), (3, "short")])
def test_an_air_pipe_is_short_by_its_own_length(feet: int, verdict: str) -> None:
    """At least 8 ft: the vent has 5 ft and 6, the latter by another page, the air pipe, counted with the 5 ft, 10 or 3.

    That another page judges a part of what this one adds up leaves it incomplete all the same.
    """
    data = _in_two([pipe(5)], [pipe(6)])
    data["run"][1]["table"] = "other.toml"
    data["run"].append(run("air", "furnace", "outdoors", pipe(feet), END, carries="combustion air"))
    rows = [{**row, "minimum": "8 ft"} for row in TABLE["row"]]
    found = checked(data, {**TABLE, "row": rows, "counts": "runs together"}, other=TABLE)
    assert found.verdict == verdict


@pytest.mark.parametrize(("feet", "verdict"), [(55, "within"), (57, "over")])
def test_a_way_by_one_table_is_looked_up_as_one_run(feet: int, verdict: str) -> None:
    """By shares 45 ft and 3 for the change of size, of 90 ft in 3 in, then 55 or 57 of 120 in 4 in: 0.99, and 1.01."""
    data = _in_two([pipe(45)], [pipe(feet)], size="4 in")
    assert checked(data, {**TABLE, "mixed_sizes": "shares"}).verdict == verdict


def test_a_way_of_which_no_run_has_a_table_is_incomplete() -> None:
    """Nothing to look up, for the parts and for the whole."""
    data = _in_two([pipe(10)], [pipe(10)])
    for one in data["run"]:
        del one["table"]
    found = checked(data)
    assert found.verdict == "incomplete"
    assert {one.because.code for one in found.conditions if one.condition == "way-allowed"} == {"way-length-unknown"}


@pytest.mark.parametrize("last", [False, True])
def test_a_run_listed_towards_the_appliance_counts_as_the_gas_goes(last: bool) -> None:
    """22 ft of which 21 rise, of 20 permitted; listed inward the same pipe heads down.

    A short and a long elbow, of which the first from the appliance is included: 22 + 3 ft.
    """
    back = {"up": "down", "east": "west"}
    short, long = {"fitting": "elbow-90-short"}, {"fitting": "elbow-90-long"}
    bent, plain = [pipe(10, "up"), short, pipe(1, "east"), long, pipe(5, "up")], [pipe(6, "up")]
    inward = [{**one, **({"heading": back[one["heading"]]} if "heading" in one else {})} for one in bent[::-1]]
    if last:
        runs = [run("v1", "furnace", "J", *plain), run("v2", "outdoors", "J", END, *inward)]
    else:
        runs = [run("v1", "J", "furnace", *inward), run("v2", "J", "outdoors", *plain, END)]
    for most, verdict in (("21 ft", "within"), ("20 ft", "over")):
        assert checked(job(runs=runs), {**TABLE, "limits": {"longest_rise": most}}).verdict == verdict
    for allowable, verdict in (("25 ft", "within"), ("24 ft 11 in", "over")):
        rows = [{**row, "allowable": allowable, "elbows_included": 1} for row in TABLE["row"]]
        assert checked(job(runs=runs), {**TABLE, "row": rows}).verdict == verdict


@pytest.mark.parametrize(("feet", "verdict"), [(17, "within"), (18, "over")])
def test_each_part_of_a_way_reads_its_own_rows(feet: int, verdict: str) -> None:
    """30 ft for one furnace in 3 in, 120 for anything else: 10 ft, 3 for the change of size, 17 or 18 ft in 4 in.

    The rows ask for a material, so that each part is looked up again as a part of its way.
    """
    data = _joined("tee")
    data["run"][2] |= {"size": "4 in", "pieces": [pipe(feet), END]}
    table = _table(tee_through="0 ft", tee_branch="0 ft")
    long = {"allowable": "120 ft", "materials": ["pvc-40"]}
    short = ("40 kBtu/h", "3 in")
    table["row"] = [
        {**row, **long, **({"allowable": "30 ft"} if (row["input"], row["size"]) == short else {})}
        for row in table["row"]
    ]
    assert checked(data, table).verdict == verdict


def test_the_other_material_of_a_change_of_size_counts_too() -> None:
    """A run may end in an increaser of CPVC behind which no pipe says so."""
    wider: Data = {"fitting": "increaser", "size": "4 in"}
    for made, verdict in (({}, "within"), ({"material": "cpvc-40"}, "not covered")):
        data = _in_two([pipe(5), {**wider, **made}], [pipe(5)], size="4 in")
        rows = [{**row, "materials": ["pvc-40"]} for row in TABLE["row"]]
        assert checked(data, {**TABLE, "row": rows}).verdict == verdict


@pytest.mark.parametrize(("end", "verdict"), [("terminal-open", "within"), ("terminal-screened", "not covered")])
def test_each_part_of_a_way_by_two_pages_has_the_end_of_the_whole(end: str, verdict: str) -> None:
    """Three runs, of which only the last lists an end; both pages are for an open one, and count vent and air together.

    The air pipe is one run, and has its own.
    """
    page = {**TABLE, "row": [{**row, "ends": ["terminal-open"]} for row in TABLE["row"]]}
    page["deductions"] = {**TABLE["deductions"], "terminal-screened": "1 ft"}
    runs = [
        run("v1", "furnace", "I", pipe(5), table="other.toml"), run("v2", "I", "J", pipe(5)),
        run("v3", "J", "outdoors", pipe(5), {"fitting": end}),
    ]  # fmt: skip
    assert checked(job(runs=runs), page, other={**page, "title": "Another"}).verdict == verdict
    together = two_furnaces()
    together["run"][2]["pieces"][-1] = {"fitting": end}
    for name in ("furnace", "other"):
        together["run"].append(run(f"air of {name}", name, "outdoors", pipe(5), END, carries="combustion air"))
    both = _table(tee_through="1 ft", tee_branch="3 ft", terminal_screened="1 ft")
    both["row"] = [{**row, "ends": ["terminal-open"]} for row in both["row"]]
    assert checked(together, {**both, "counts": "runs together"}).verdict == verdict
