"""What a page says beside the length, in whole jobs: what the job says of itself decides which row and limit hold."""

from __future__ import annotations

from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from tests.check.jobs import TABLE, Data, checked, job, pipe, run
from ventsize.allowance.reading import table_from_data
from ventsize.check.inputs import prepare, read_inputs
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check
from ventsize.jobfile.job import job_from_data
from ventsize.jobfile.problems import InputError

FOOT = 0.3048
END = {"fitting": "terminal-open"}
BEND = {"fitting": "elbow-90-long"}
ROW = TABLE["row"][1]  # 80 kBtu/h, 3 in, up to 4500 ft: 90 ft


def page(*rows: Data, **more: Any) -> Data:
    """The table of the tests with other rows and more keys."""
    return {**deepcopy(TABLE), "row": [{**ROW, **one} for one in rows or ({},)], **more}


def open_ones(found: JobCheck) -> set[tuple[str, str]]:
    """Codes of what is not met or not known, with the state."""
    return {(outcome.because.code, outcome.state) for outcome in found.conditions if outcome.state != "met"}


def stated(data: Data, **of_appliance: Any) -> Data:
    data["appliance"][0].update(of_appliance)
    return data


AIR = run("air", "furnace", "outdoors", pipe(10, "up"), END, carries="combustion air")


def test_one_pipe_or_two_by_what_the_job_says() -> None:
    """31 ft of vent: 30 ft with two pipes, 40 ft with one. An air run is a second pipe; a [[room]] is none."""
    by_pipes = page({"pipes": "one", "allowable": "40 ft"}, {"pipes": "two", "allowable": "30 ft"})
    vent = [pipe(31), END]
    assert checked(job(vent), by_pipes).verdict == "incomplete"
    assert ("case-not-said", "not known") in open_ones(checked(job(vent), by_pipes))
    assert checked(stated(job(vent), air="room"), by_pipes).verdict == "within"
    piped = job(vent)
    piped["run"].append(deepcopy(AIR))
    assert checked(piped, by_pipes).verdict == "over"
    roomed = job(vent)
    roomed["room"] = [{"name": "basement", "volume": "6000 ft3", "appliances": ["furnace"]}]
    assert checked(roomed, by_pipes).verdict == "within"
    together = checked(roomed, {**by_pipes, "counts": "runs together"})
    assert ("air-not-said", "not known") in open_ones(together)  # a room says what it holds, not what a sum leaves out
    same = page({"pipes": "one", "allowable": "40 ft", "size": "2 in"}, {})
    assert checked(job(vent), same).verdict == "within"  # either way the same row


def test_the_end_has_to_be_listed_where_rows_ask_for_it() -> None:
    """A plain open end is implied for the loss, and is no listed end for the page."""
    by_end = page(
        {"ends": ["terminal-open"], "allowable": "40 ft"}, {"ends": ["terminal-screened"], "allowable": "30 ft"}
    )
    assert checked(job([pipe(31), END]), by_end).verdict == "within"
    assert checked(job([pipe(31)]), by_end).verdict == "incomplete"


def test_a_part_of_a_way_has_the_end_of_the_way() -> None:
    """The run to the joint leads to the same terminal as the run from it; not every row has to ask for one."""
    by_end = page({"ends": ["terminal-open"], "allowable": "40 ft"}, {"size": "4 in"})
    parts = [run("a", "furnace", "J", pipe(10)), run("b", "J", "outdoors", pipe(10), END)]
    assert checked(job(runs=parts), by_end).verdict == "within"
    assert checked(job(runs=[parts[0], run("b", "J", "outdoors", pipe(10))]), by_end).verdict == "incomplete"


def test_materials_are_those_of_every_piece() -> None:
    """One length of CPVC among PVC."""
    of_pvc = page({"materials": ["pvc-40"]})
    assert checked(job([pipe(10), END]), of_pvc).verdict == "within"
    assert checked(job([pipe(10), pipe(5, material="cpvc-40"), END]), of_pvc).verdict == "not covered"


def test_a_material_on_one_piece_is_of_that_piece() -> None:
    """One length of CPVC first: the PVC behind it stays PVC, for the page, for counts_as, and for gas of 150 degF."""
    mixed = [pipe(10, material="cpvc-40"), pipe(20), END]
    assert checked(job(mixed), page({"materials": ["cpvc-40"]})).verdict == "not covered"
    doubled = checked(job(mixed), page({"allowable": "40 ft"}, counts_as={"cpvc-40": 2.0}))
    assert (doubled.verdict, doubled.runs[0].table.equivalent_length) == ("within", pytest.approx(40 * FOOT))  # type: ignore[union-attr]
    assert checked(job(mixed, flue_temperature="150 degF")).verdict == "unsafe"
    every = [{**piece, "material": "cpvc-40"} for piece in mixed]
    assert checked(job(every, flue_temperature="150 degF")).verdict == "within"


def test_pairs_of_sizes() -> None:
    """A vent of 3 in beside an air pipe of 2 in: 20 ft for both."""
    paired = page({"air_size": "2 in", "allowable": "20 ft"}, {"air_size": "3 in", "allowable": "60 ft"})
    for feet, air_size, verdict in ((20, "2 in", "within"), (21, "2 in", "over"), (60, "3 in", "within")):
        data = job([pipe(feet), END])
        data["run"].append({**deepcopy(AIR), "size": air_size})
        found = checked(data, paired)
        assert found.verdict == verdict, (feet, air_size)
    small = checked(
        data | {"run": [data["run"][0], {**deepcopy(AIR), "size": "2 in", "pieces": [pipe(21), END]}]}, paired
    )
    assert small.run("air") is not None and small.run("air").verdict == "over"  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("limits", "pieces", "expected"),
    [
        ({"longest_level": "20 ft"}, [pipe(50, "up"), BEND, pipe(20, "east"), END], None),
        ({"longest_level": "20 ft"}, [pipe(5, "up"), BEND, pipe(21, "east"), END], "level-over"),
        ({"longest_level": "20 ft"}, [pipe(15), pipe(6), END], "level-not-said"),
        ({"longest_level": "20 ft"}, [pipe(21, rise="20 ft"), END], "level-over"),  # sloped is not vertical
        ({"longest_rise": "20 ft"}, [pipe(20, "up"), END], None),
        ({"longest_rise": "20 ft"}, [pipe(21, "up"), END], "rise-over"),
        ({"longest_rise": "20 ft"}, [pipe(20, "up"), BEND, pipe(5, "east"), END], None),
        ({"longest_rise": "20 ft"}, [pipe(21, "down"), END], None),
        ({"longest_rise": "20 ft"}, [pipe(21, rise="1 ft"), END], "rise-over"),  # a sloped pipe goes up as a whole
        ({"longest_rise": "20 ft"}, [pipe(21, "east", rise="3 in"), END], "rise-over"),  # as does a level one
        ({"most_elbows": 1}, [pipe(5), BEND, pipe(5), {"fitting": "elbow-45"}, END], "too-many-elbows"),
    ],
)  # fmt: skip
def test_limits_of_a_laid_out_run(limits: Data, pieces: list[Data], expected: str | None) -> None:
    """The pipe as it lies, in feet."""
    found = checked(job(pieces), page({"allowable": "300 ft"}, limits=limits))
    assert {code for code, _ in open_ones(found)} == ({expected} if expected else set())


def test_a_vent_listed_from_outdoors_goes_up_on_the_way_out() -> None:
    """Down as it is listed is up for the gas, and level pipe neither."""
    vent = run("vent", "outdoors", "furnace", END, *[pipe(1, "east")] * 3, BEND, pipe(21, "down"))
    for most, expected in (("20 ft", {"rise-over"}), ("21 ft", set())):
        found = checked(job(runs=[vent]), page(limits={"longest_rise": most}))
        assert {code for code, _ in open_ones(found)} == expected


@pytest.mark.parametrize("heading", ["up", "down"])
def test_an_air_pipe_goes_up_whichever_way_it_is_listed(heading: str) -> None:
    """21 ft of 20, and a foot back."""
    back = "down" if heading == "up" else "up"
    air = [pipe(21, heading), BEND, pipe(3, "east"), BEND, pipe(1, back), END]
    found = checked(job(runs=[
        run("vent", "furnace", "outdoors", pipe(5, "east"), END),
        run("air", "furnace", "outdoors", *air, carries="combustion air"),
    ]), page(limits={"longest_rise": "20 ft"}))  # fmt: skip
    assert {code for code, _ in open_ones(found)} == {"rise-over"}


def test_a_counted_run_longer_than_a_limit_is_not_known() -> None:
    """How it lies nobody has said."""
    counted = run("vent", "furnace", "outdoors", straight="20 ft", fittings={"terminal-open": 1})
    del counted["pieces"]
    limited = page(limits={"longest_level": "20 ft"})
    assert checked(job(runs=[counted]), limited).verdict == "within"
    counted["straight"] = "21 ft"
    assert open_ones(checked(job(runs=[counted]), limited)) == {("level-not-laid-out", "not known")}


def test_limits_hold_for_a_whole_way() -> None:
    """12 and 12 ft of rise in two runs are 24 of 20."""
    parts = [run("a", "furnace", "J", pipe(12, "up")), run("b", "J", "outdoors", pipe(12, "up"), END)]
    found = checked(job(runs=parts), page(limits={"longest_rise": "20 ft"}))
    assert found.verdict == "over" and ("rise-over", "not met") in open_ones(found)


@pytest.mark.parametrize(
    ("vent", "air", "limits", "expected"),
    [
        (25, 10, {"longest_difference": "15 ft"}, None),
        (26, 10, {"longest_difference": "15 ft"}, "difference-over"),
        (10, 26, {"longest_difference": "15 ft"}, "difference-over"),
        (10, None, {"longest_difference": "15 ft"}, "other-pipe-not-known"),
        (10, 10, {"same_size": True}, None),
    ],
)
def test_limits_between_vent_and_air(vent: float, air: float | None, limits: Data, expected: str | None) -> None:
    """Straight lengths of both, whole ways; without a word on the air it is asked."""
    data = job([pipe(vent), END])
    if air is not None:
        data["run"].append({**deepcopy(AIR), "pieces": [pipe(air), END]})
    assert {code for code, _ in open_ones(checked(data, page(limits=limits)))} == ({expected} if expected else set())
    if air is None:
        assert checked(stated(data, air="room"), page(limits=limits)).verdict == "within"


EXPOSED = [{"size": "3 in", "outdoor": "0 degF", "insulation": "0 in", "allowable": "12 ft"}]


@pytest.mark.parametrize(
    ("surroundings", "design", "expected"),
    [
        ("heated space", None, None), ("attic", "5 degF", "exposed-over"), ("attic", None, "design-outdoor-missing"),
        ("49 degF", "5 degF", "exposed-over"), ("50 degF", "5 degF", None), ("-5 degF", "5 degF", "exposed-over"),
        ("outdoors", "-1 degF", "exposed-not-in-table"),
        (None, "5 degF", "surroundings-not-said"),
    ],
)  # fmt: skip
def test_pipe_in_the_cold(surroundings: str | None, design: str | None, expected: str | None) -> None:
    """13 ft of it, of 12 ft permitted at 0 °F."""
    data = job([pipe(13, **({"surroundings": surroundings} if surroundings else {})), END])
    if design:
        data["site"]["design_outdoor"] = design
    assert {code for code, _ in open_ones(checked(data, page(exposed=EXPOSED)))} == ({expected} if expected else set())


def test_a_runs_surroundings_speak_for_its_pipes() -> None:
    """As does its insulation."""
    data = job([pipe(13), END], surroundings="attic")
    data["site"]["design_outdoor"] = "5 degF"
    assert checked(data, page(exposed=EXPOSED)).verdict == "over"
    wool = [*EXPOSED, {"size": "3 in", "outdoor": "0 degF", "insulation": "1/2 in", "allowable": "30 ft"}]
    assert checked(data, page(exposed=wool)).verdict == "over"
    data["run"][0]["insulation"] = {"thickness": "3/4 in"}
    assert checked(data, page(exposed=wool)).verdict == "within"


def test_the_first_elbows_from_the_appliance_are_included() -> None:
    """Short, long, long with two included: the last, 3 ft; listed from outdoors they are the same elbows."""
    included = page({"allowable": "23 ft", "elbows_included": 2})
    pieces: list[Data] = [
        pipe(5, "up"), {"fitting": "elbow-90-short"}, pipe(5, "north"), {"fitting": "elbow-90-long"}, pipe(5, "up"),
        {"fitting": "elbow-90-long"}, pipe(5, "east"), END,
    ]  # fmt: skip
    found = checked(job(pieces), included)
    assert found.runs[0].table is not None
    assert found.runs[0].table.equivalent_length == pytest.approx(23 * FOOT)
    back = {"up": "down", "north": "south", "east": "west"}
    turned = [{**one, **({"heading": back[one["heading"]]} if "heading" in one else {})} for one in pieces[::-1]]
    other = checked(job(runs=[run("vent", "outdoors", "furnace", *turned)]), included)
    assert other.runs[0].table is not None
    assert other.runs[0].table.equivalent_length == pytest.approx(23 * FOOT)


def test_a_footnote_is_confirmed_in_the_job() -> None:
    """Word for word, and only then is it a pass."""
    noted = page(confirm=["Terminals on one wall."])
    data = job([pipe(10), END])
    assert open_ones(checked(data, noted)) == {("footnotes-open", "not known")}
    assert checked({**data, "confirmed": ["Terminals on one wall."]}, noted).verdict == "within"


@pytest.mark.parametrize(
    ("pascals", "verdict", "code"),
    [(200, "within", None), (2, "over", "pressure-over")],
)
def test_a_row_by_pressure_is_decided_by_calculation(pascals: float, verdict: str, code: str | None) -> None:
    """What the run loses at its highest rate against what the row permits; its budget is that pressure."""
    row = {key: value for key, value in ROW.items() if key != "allowable"}
    pressed = {**deepcopy(TABLE), "row": [{**row, "allowable_pressure": f"{pascals} Pa"}]}
    found = checked(job(), pressed)
    assert found.verdict == verdict
    assert {one for one, _ in open_ones(found)} == ({code} if code else set())
    rate = found.runs[0].rates[0]
    assert rate.budget_pressure == pytest.approx(pascals) and found.runs[0].table is not None
    assert found.runs[0].table.allowable_length is None


@pytest.mark.parametrize("low_first", [True, False])
def test_a_row_by_pressure_is_decided_at_the_highest_rate(low_first: bool) -> None:
    """A pressure that low fire keeps and high fire does not is over, in whatever order the rates are listed."""
    data = job()
    high = data["appliance"][0]["rate"][0]
    rates = [{**high, "name": "low", "input": "40 kBtu/h"}, high]
    data["appliance"][0]["rate"] = rates if low_first else rates[::-1]
    low, top = sorted(rate.flow.pressure_drop for rate in checked(data).runs[0].rates)
    row = {key: value for key, value in ROW.items() if key != "allowable"}
    for pascals, verdict in (((low + top) / 2, "over"), (2 * top, "within")):
        pressed = {**deepcopy(TABLE), "row": [{**row, "allowable_pressure": f"{pascals!r} Pa"}]}
        assert checked(data, pressed).verdict == verdict


@pytest.mark.parametrize("heading", ["east", "down"])
def test_only_the_high_end_of_the_band_above_a_row_by_pressure(heading: str) -> None:
    """Nominal below and the high end above, with draft that hinders on top of both: not known."""
    vent = job([pipe(40, heading), END])
    flow = checked(vent).runs[0].rates[0].flow
    between = (flow.pressure_drop + flow.pressure_drop_high) / 2 + max(0.0, -flow.draft)
    row = {key: value for key, value in ROW.items() if key != "allowable"}
    pressed = {**deepcopy(TABLE), "row": [{**row, "allowable_pressure": f"{between!r} Pa"}]}
    assert open_ones(checked(vent, pressed)) == {("pressure-uncertain", "not known")}


def test_a_way_over_several_inputs_includes_its_elbows_once() -> None:
    """Two furnaces of 40 on one vent. Two elbows in a's own run use up both included; the third is charged: 3 ft."""
    rows = [
        {"input": "40 kBtu/h", "allowable": "100 ft", "elbows_included": 2},
        {"elbows_included": 2, "allowable": "34 ft"},
    ]
    table = page(*rows)
    table["deductions"]["tee-through"] = table["deductions"]["tee-branch"] = "1 ft"
    runs = [
        run("va", "furnace", "J", pipe(10), BEND, BEND), run("vb", "other", "J", pipe(10)),
        run("v", "J", "outdoors", pipe(20), BEND, END),
    ]  # fmt: skip
    data = job(runs=runs)
    data["appliance"][0]["rate"][0]["input"] = "40 kBtu/h"
    data["appliance"][0] |= {"backflow_prevented": True}
    data["appliance"].append({**deepcopy(data["appliance"][0]), "name": "other"})
    data["joint"] = [{"name": "J", "fitting": "tee", "in_line": ["va", "v"]}]
    assert checked(data, table).verdict == "within"  # 10 + 20 + 3 + 1 for the tee = 34
    data["run"][2]["pieces"][0] = pipe(20.1)
    assert checked(data, table).verdict == "over"


def test_the_pages_own_fittings_are_usable_by_name() -> None:
    """Deducted, and figured with the page's loss."""
    own = page({"allowable": "14 ft"}, fitting=[{"name": "wall-kit", "kind": "terminal", "k": 3.0}])
    own["deductions"]["wall-kit"] = "4 ft"
    found = checked(job([pipe(10), {"fitting": "wall-kit"}]), own)
    assert found.verdict == "within" and found.runs[0].table is not None
    assert found.runs[0].table.equivalent_length == pytest.approx(14 * FOOT)
    assert found.runs[0].rates[0].flow.pieces[-1].k == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("more", "place", "near"),
    [
        ({"deductions": {**TABLE["deductions"], "elbow-90-lnog": "3 ft"}}, "deductions", "elbow-90-long"),
        ({"counts_as": {"pcv-40": 2.0}}, "counts_as", "pvc-40"),
    ],
)
def test_a_name_that_nothing_explains_is_an_error_where_a_job_is_judged_by_it(
    more: Data, place: str, near: str
) -> None:
    """With the table, the place and the nearest known name; a table that judges no run may say what it likes."""
    with pytest.raises(InputError) as refused:
        checked(job(), page(**more))
    assert [place in str(problem) and near in str(problem) for problem in refused.value.problems] == [True]
    read = job_from_data({**job(), "tables": ["other.toml"]}, file="test.toml")
    tables = {
        "table.toml": table_from_data(TABLE, file="table.toml"),
        "other.toml": table_from_data(page(**more), file="o"),
    }
    assert check(prepare(read, file="test.toml", tables=tables)).verdict == "within"


@pytest.mark.parametrize(
    ("name", "verdict", "code", "figures"),
    [
        # (scenario, verdict, what decides, equivalent and allowed length of the vent in feet, as its note works them)
        ("wall-kit", "over", "length-over", (22, 21)),
        ("room-or-pipe", "incomplete", "case-not-said", None),
        ("paired-sizes", "within", "length-within", (40, 43)),
        ("high-country", "over", "length-over", (31, 30)),
        ("liner-in-the-chimney", "over", "level-over", None),
        ("bare-pipe-in-the-cold", "over", "exposed-over", (55, 90)),
        ("page-by-pressure", "within", "pressure-not-length", None),
    ],
)
def test_demonstrations_of_what_a_page_can_say(
    root: Path, name: str, verdict: str, code: str, figures: tuple[float, float] | None
) -> None:
    """Each turns on its own condition, as its note works it by hand."""
    found = check(read_inputs(root / "scenarios" / f"{name}.toml"))
    assert (found.verdict, found.decides.because.code) == (verdict, code)
    answer = found.runs[0].table
    assert answer is not None
    if figures is not None:
        assert (answer.equivalent_length, answer.allowable_length) == (
            pytest.approx(figures[0] * FOOT), pytest.approx(figures[1] * FOOT)
        )  # fmt: skip


def test_the_liners_shares_are_those_of_its_note(root: Path) -> None:
    """43 of 110 ft in 3 in and 50 of 110 ft in 4 in."""
    found = check(read_inputs(root / "scenarios" / "liner-in-the-chimney.toml"))
    assert found.runs[0].table is not None
    assert sorted(share.length / FOOT for share in found.runs[0].table.shares) == pytest.approx([43, 50])
    assert found.runs[0].table.used == pytest.approx((43 + 50) / 110)
