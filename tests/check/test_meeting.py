"""What a table counts where runs meet, and which runs it counts together. Expected lengths by hand from the tables."""

from __future__ import annotations

from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
import tomlkit

from tests.check.jobs import TABLE, Data, checked, job
from tests.words import because, codes
from ventsize.allowance.reading import table_from_data
from ventsize.check.inputs import prepare, read_inputs
from ventsize.check.verdict import check
from ventsize.jobfile.job import job_from_data
from ventsize.jobfile.problems import InputError

FOOT = 0.3048
TERMINAL: Data = {"fitting": "terminal-open"}


def _run(name: str, start: str, end: str, *pieces: Data, **changed: Any) -> Data:
    return {
        "name": name, "carries": "flue gas", "between": [start, end], "size": "3 in", "material": "pvc-40",
        "table": "table.toml", "pieces": list(pieces), **changed,
    }  # fmt: skip


def _pipe(feet: float, heading: str | None = None, **more: Any) -> Data:
    return {"pipe": f"{feet} ft", **({"heading": heading} if heading else {}), **more}


def _two_appliances(*, joint: str | None = "tee", in_line: tuple[str, str] = ("va", "v")) -> Data:
    """Two furnaces of half the input each, joined at J; the common run goes outdoors."""
    data = job(runs=[
        _run("va", "furnace", "J", _pipe(10)), _run("vb", "other", "J", _pipe(10)),
        _run("v", "J", "outdoors", _pipe(10), TERMINAL),
    ])  # fmt: skip
    first = data["appliance"][0]
    first["rate"][0]["input"] = "40 kBtu/h"
    first["backflow_prevented"] = True
    data["appliance"].append({**deepcopy(first), "name": "other"})
    if joint is not None:
        data["joint"] = [{"name": "J", "fitting": joint, "in_line": list(in_line)}]
    return data


def _table(**deductions: str) -> Data:
    table = deepcopy(TABLE)
    table["deductions"] |= {name.replace("_", "-"): length for name, length in deductions.items()}
    table["row"] += [{**row, "input": "40 kBtu/h"} for row in TABLE["row"]]
    return table


# A tee or wye


def test_a_tee_that_the_table_says_nothing_of_makes_the_way_incomplete() -> None:
    """A fitting with no deduction, on a table that deducts, is missing, at a joint as in a run."""
    found = checked(_two_appliances(), _table())
    assert found.verdict == "incomplete"
    assert because(found) == "no-deduction" and found.decides.because.values == {"fitting": "tee-through"}


@pytest.mark.parametrize(
    ("through", "branch", "verdict"),
    [("70 ft", "70 ft", "within"), ("70 ft 1 in", "3 ft", "over"), ("3 ft", "70 ft 1 in", "over")],
)
def test_each_way_counts_the_tee_as_it_passes_it(through: str, branch: str, verdict: str) -> None:
    """10 + 10 ft of pipe and what the table takes for the tee, straight through and by the branch, against 90 ft."""
    assert checked(_two_appliances(), _table(tee_through=through, tee_branch=branch)).verdict == verdict


def test_one_deduction_for_a_tee_serves_both_ways() -> None:
    """A table may have one figure for a tee, however the gas passes it."""
    assert checked(_two_appliances(), _table(tee="70 ft")).verdict == "within"
    assert checked(_two_appliances(), _table(tee="70 ft 1 in")).verdict == "over"


def test_a_wye_is_counted_as_a_wye() -> None:
    """Its branch by `wye`; a tee's length is no wye's."""
    table = _table(tee_through="1 ft", tee_branch="1 ft", wye_through="2 ft", wye="70 ft 1 in")
    assert checked(_two_appliances(joint="wye"), table).verdict == "over"


def test_what_nobody_described_cannot_be_counted() -> None:
    """Without a [[joint]] it is not known what the runs meet in."""
    found = checked(_two_appliances(joint=None), _table(tee_through="1 ft", tee_branch="1 ft"))
    assert found.verdict == "incomplete"
    assert because(found) == "no-deduction" and found.decides.because.where.joint == "J"


# Two runs that are one pipe


def _in_two(first: list[Data], second: list[Data], **changed: Any) -> Data:
    return job(runs=[_run("v1", "furnace", "J", *first), _run("v2", "J", "outdoors", *second, TERMINAL, **changed)])


def test_a_turn_between_two_runs_needs_an_elbow() -> None:
    """As within one run: a route that turns and lists nothing that turns it is not complete."""
    found = checked(_in_two([_pipe(10, "up")], [_pipe(10, "east")]))
    assert found.verdict == "incomplete"
    assert because(found) == "turn-not-made"
    elbow: Data = {"fitting": "elbow-90-long"}
    assert checked(_in_two([_pipe(10, "up"), elbow], [_pipe(10, "east")])).verdict == "within"
    assert checked(_in_two([_pipe(10, "up")], [elbow, _pipe(10, "east")])).verdict == "within"
    misfit: Data = {"fitting": "elbow-45"}
    assert because(checked(_in_two([_pipe(10, "up"), misfit], [_pipe(10, "east")]))) == "turn-not-made"


def test_a_run_listed_the_other_way_heads_the_other_way() -> None:
    """Up from the furnace, listed from the joint down to it: the heading at the joint is still up."""
    data = _in_two([_pipe(10, "down")], [_pipe(10, "up")])
    data["run"][0]["between"] = ["J", "furnace"]
    assert checked(data).verdict == "within"
    data["run"][1]["pieces"][0]["heading"] = "north"
    assert checked(data).verdict == "incomplete"


def test_the_runs_in_line_in_a_tee_do_not_turn() -> None:
    """What is named as going straight through does go straight on."""
    data = _two_appliances()
    for run, heading in zip(data["run"], ("up", "east", "up"), strict=True):
        run["pieces"][0]["heading"] = heading
    table = _table(tee_through="1 ft", tee_branch="3 ft")
    assert checked(data, table).verdict == "within"
    data["run"][2]["pieces"][0]["heading"] = "west"
    assert checked(data, table).verdict == "incomplete"


def test_a_change_of_size_between_two_runs_is_counted() -> None:
    """10 + 10 ft and an increaser at 1 ft by the table; without a deduction for it the way is incomplete."""
    data = _in_two([_pipe(10)], [_pipe(69)], size="4 in")
    assert checked(data).verdict == "within"  # 80 ft of the 90 ft of 3 in
    data["run"][1]["pieces"][0]["pipe"] = "79 ft 1 in"
    assert checked(data).verdict == "over"
    table = deepcopy(TABLE)
    del table["deductions"]["increaser"]
    found = checked(data, table)
    assert found.verdict == "incomplete"
    assert found.decides.because.values == {"fitting": "increaser"} and found.decides.because.where.joint == "J"
    one_name = {
        **TABLE,
        "deductions": {name: length for name, length in TABLE["deductions"].items() if name != "reducer"},
    }
    assert checked(_in_two([_pipe(10)], [_pipe(79)], size="4 in"), one_name).verdict == "within"  # 1 ft, by that name


def test_gas_does_not_pass_another_appliances_collar() -> None:
    """A vent that ends at another appliance blows into it."""
    data = _two_appliances()
    data["run"][1]["between"] = ["other", "furnace"]
    del data["joint"]
    with pytest.raises(InputError, match="'other'.*'furnace'.*a tee or wye"):
        checked(data)


# Vent and air counted together


def _vent_and_air(vent_table: str, air_table: str) -> Data:
    air = _run("air", "furnace", "outdoors", carries="combustion air", table=air_table)
    del air["pieces"]
    air |= {"straight": "50 ft", "fittings": {"entrance-open": 1}}
    return job(runs=[_run("vent", "furnace", "outdoors", _pipe(50), TERMINAL, table=vent_table), air])


def _together(**changed: Any) -> Data:
    table = deepcopy(TABLE) | {"counts": "runs together"} | changed
    table["deductions"]["entrance-open"] = "0 ft"
    return table


def _checked(data: Data, tables: dict[str, Data]) -> Any:
    read = job_from_data(data, file="test.toml")
    made = {name: table_from_data(table, file=name) for name, table in tables.items()}
    return check(prepare(read, file="test.toml", tables=made))


@pytest.mark.parametrize("name", ["table.toml", "./table.toml", "copy-of-table.toml"])
def test_one_table_by_two_names_is_one_table(name: str) -> None:
    """50 + 50 ft against 90 ft, however the file is named, and be it a copy."""
    found = _checked(_vent_and_air("table.toml", name), {"table.toml": _together(), name: _together()})
    assert {run.verdict for run in found.runs} == {"over"}
    assert found.runs[0].table.equivalent_length == pytest.approx(100 * FOOT)


def test_one_table_by_a_path_and_a_link(tmp_path: Path) -> None:
    """From files: beside the job, by a roundabout path, and by a link."""
    (tmp_path / "table.toml").write_text(tomlkit.dumps(_together()))
    (tmp_path / "link.toml").symlink_to(tmp_path / "table.toml")
    for other in ("link.toml", f"../{tmp_path.name}/table.toml"):
        (tmp_path / "job.toml").write_text(tomlkit.dumps(_vent_and_air("table.toml", other)))
        assert check(read_inputs(tmp_path / "job.toml")).verdict == "over"


def test_a_run_judged_elsewhere_leaves_the_others_incomplete() -> None:
    """The table counts vent and air together; with the air on another table, its length is missing there."""
    other = deepcopy(TABLE) | {"title": "Another table"}
    other["deductions"]["entrance-open"] = "0 ft"
    found = _checked(_vent_and_air("table.toml", "other.toml"), {"table.toml": _together(), "other.toml": other})
    vent, air = found.runs
    assert (vent.verdict, air.verdict, found.verdict) == ("incomplete", "within", "incomplete")
    assert because(vent) == "counted-apart" and vent.decides.because.values == {"runs": ("air",)}


def test_of_two_sizes_counted_together_lengths_are_in_the_rows_size() -> None:
    """The row of 2 in governs both: the vent of 3 in has its length as 2 in pipe, by its own pressure gradient."""
    data = _vent_and_air("table.toml", "table.toml")
    data["run"][0]["pieces"][0]["pipe"] = "10 ft"
    data["run"][1] |= {"size": "2 in", "straight": "10 ft"}
    found = _checked(data, {"table.toml": _together()})
    for run in found.runs:
        assert run.table.row_size == "2 in"
        assert run.reference_section.label == "2 in"
        rate = run.rates[0]
        assert rate.allowance_pressure == pytest.approx(60 * FOOT * rate.gradient)


# What is not there yet


def test_pipe_without_a_length_is_not_complete() -> None:
    """A pipe of 0 ft is one whose length nobody has typed yet; so is a count with no straight pipe."""
    found = checked(job([{"pipe": "0 ft"}, TERMINAL]))
    assert found.verdict == "incomplete"
    assert because(found) == "pipe-without-length" and found.decides.because.where.piece == 1
    assert checked(job([_pipe(10), {"pipe": "0 ft"}, TERMINAL])).verdict == "incomplete"
    counted = job()
    del counted["run"][0]["pieces"]
    counted["run"][0] |= {"straight": "0 ft", "fittings": {"terminal-open": 1}}
    assert checked(counted).verdict == "incomplete"


@pytest.mark.parametrize(
    ("deductions", "verdict"),
    [
        ({"terminal-open": "0 ft", "terminal-screened": "5 ft"}, "within"),
        ({"terminal-open": "80 ft 1 in", "terminal-screened": "5 ft"}, "over"),
        ({"terminal-screened": "5 ft"}, "incomplete"),
        ({"elbow-90-long": "3 ft"}, "within"),
    ],
)
def test_a_run_that_lists_no_terminal_ends_as_an_open_pipe(deductions: Data, verdict: str) -> None:
    """10 ft of pipe of 90 ft allowed, and what the table takes for a plain open end, where it says so.

    A terminal that is listed needs a word on any page that deducts.
    """
    assert checked(job([_pipe(10)]), deepcopy(TABLE) | {"deductions": deductions}).verdict == verdict
    listed = checked(job([_pipe(10), TERMINAL]), deepcopy(TABLE) | {"deductions": deductions})
    assert listed.verdict == (verdict if "terminal-open" in deductions else "incomplete")


def test_the_allowance_as_pressure_is_of_the_allowed_length() -> None:
    """In an elbow-count row: 70 ft with one elbow as pressure; the budget is the largest of what is permitted.

    90 ft with no elbow and an open end, K = 1 (a jet into still air loses its velocity pressure), loses more than
    70 ft with one long elbow of K well below that of 20 ft of pipe (0.03 x 20 / 0.25 = 2.4).
    """
    row = {"input": "80 kBtu/h", "size": "3 in", "altitude": ["0 ft", "4500 ft"]}
    table = deepcopy(TABLE) | {"row": [{**row, "allowable_by_elbows": ["90 ft", "70 ft"]}]}
    rate = checked(job(), table).runs[0].rates[0]
    assert rate.allowance_pressure == pytest.approx(70 * FOOT * rate.gradient)
    budget = 90 * FOOT * rate.gradient + rate.reference.dynamic_pressure
    assert rate.budget_pressure == pytest.approx(budget)


def test_a_coupling_does_not_turn() -> None:
    """A fitting of the job's own that turns is an elbow, and counts as one."""
    data = job([_pipe(10), {"fitting": "bent"}, _pipe(10), TERMINAL])
    data["fitting"] = [{
        "name": "bent", "title": "Bent coupling", "kind": "coupling", "angle": "90 deg", "source": "invented",
        "loss": {"k": 0.3, "k_low": 0.2, "k_high": 0.4},
    }]  # fmt: skip
    with pytest.raises(InputError, match="does not turn"):
        checked(data)


def test_fittings_alone_are_no_run() -> None:
    """With no straight pipe listed at all there is a length still to be measured, alone and as a part of a way."""
    assert checked(job([TERMINAL])).verdict == "incomplete"
    assert checked(job([{"fitting": "elbow-90-long"}, TERMINAL])).verdict == "incomplete"
    assert checked(_in_two([_pipe(10)], [])).verdict == "incomplete"


def test_a_turn_is_seen_across_pipes_without_a_heading() -> None:
    """From up to east something must turn the gas, whatever the pipes between say of themselves."""
    found = checked(job([_pipe(10, "up"), _pipe(1), _pipe(10, "east"), TERMINAL]))
    assert found.verdict == "incomplete" and because(found) == "turn-not-made"
    elbow: Data = {"fitting": "elbow-90-long"}
    assert checked(job([_pipe(10, "up"), elbow, _pipe(1), _pipe(10, "east"), TERMINAL])).verdict == "within"
    assert checked(job([_pipe(10, "up"), _pipe(1), _pipe(10, "up"), TERMINAL])).verdict == "within"


@pytest.mark.parametrize("order", [(0, 1, 2), (2, 1, 0), (1, 0, 2)])
def test_a_turn_is_seen_across_a_run_without_a_heading(order: tuple[int, ...]) -> None:
    """The run between the two that head somewhere says nothing; in whichever order they are listed."""
    runs = [
        _run("v1", "furnace", "J", _pipe(10, "up")),
        _run("m", "J", "K", _pipe(1)),
        _run("v3", "K", "outdoors", _pipe(10, "east"), TERMINAL),
    ]
    assert checked(job(runs=[runs[n] for n in order])).verdict == "incomplete"
    runs[1]["pieces"].append({"fitting": "elbow-90-long"})
    assert checked(job(runs=[runs[n] for n in order])).verdict == "within"


def test_pipe_of_which_no_limit_is_known_is_named() -> None:
    """A material of the job's own may say nothing of temperature: the verdict then says that it did not ask."""
    data = job(material="mine")
    size = {"nominal": "3 in", "outside": "3.5 in", "wall": "0.2 in"}
    data["pipe"] = [
        {"name": "mine", "title": "Invented", "source": "invented", "roughness": "0.0015 mm", "sizes": [size]}
    ]
    assert "limit-not-known" in codes(checked(data))
    data["pipe"][0]["temperature_limit"] = "140 degF"
    assert "limit-not-known" not in codes(checked(data))
