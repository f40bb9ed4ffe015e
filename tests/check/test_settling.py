"""Which verdict and which reason settle a job, and what keeps a run from being within."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from tests.check.jobs import TABLE, Data, checked, job, pipe, run, table_of_two
from ventsize.allowance.reading import table_from_data
from ventsize.check import verdict as verdicts
from ventsize.check.conditions import SolvedRun, one_way_for_gas, settling
from ventsize.check.inputs import prepare
from ventsize.check.judging import Answers, judge
from ventsize.finding import Finding, Outcome
from ventsize.flow.rate_flow import RateFlow
from ventsize.jobfile.job import job_from_data

END: Data = {"fitting": "terminal-open"}
OVER, SHORT = [pipe(91), END], [pipe(3), END]  # of 90 ft at most and 5 ft at least
NOT_COVERED = [pipe(10), {"fitting": "increaser", "size": "4 in"}, pipe(10), END]  # no row for 4 in
INCOMPLETE = [pipe(10), {"fitting": "tee-branch"}, END]  # the table says nothing of a tee


@pytest.mark.parametrize(
    ("first", "second", "verdict"),
    [
        (OVER, SHORT, "over"),
        (SHORT, NOT_COVERED, "short"),
        (NOT_COVERED, INCOMPLETE, "not covered"),
        (INCOMPLETE, [pipe(10), END], "incomplete"),
    ],
)
def test_which_verdict_settles_a_job(first: list[Data], second: list[Data], verdict: str) -> None:
    """What fails, before what the table does not cover, before what is missing: no filling in mends the first."""
    row = {"allowable": "90 ft", "minimum": "5 ft"}
    table = table_of_two(single=row, common=row)
    vent, air = (
        run("vent", "furnace", "outdoors", *first),
        run("air", "furnace", "outdoors", *second, carries="combustion air"),
    )
    for order in ([vent, air], [air, vent]):
        found = checked(job(runs=order), table)
        assert found.verdict == verdict and found.decides.run == "vent"


def test_the_reason_is_that_of_the_run_nearest_its_limit() -> None:
    """Both within: 80 ft of 90 is what to speak of, not 10 ft."""
    long = run("long", "furnace", "outdoors", pipe(80), END)
    short = run("short", "furnace", "outdoors", pipe(10), END, carries="combustion air")
    for runs in ([long, short], [short, long]):
        found = checked(job(runs=runs))
        assert found.decides.run == "long"
        assert [one.run.name for name in ("short", "long") if (one := found.run(name))] == ["short", "long"]
        assert found.run("none") is None
        long_run = found.run("long")
        assert long_run is not None and long_run.margin == pytest.approx(10 * 0.3048)
        turns = long_run.outcome("turns-made")
        assert turns is not None and turns.condition == "turns-made" and long_run.outcome("none") is None


def test_the_run_of_a_length_is_spoken_of_before_one_of_a_pressure() -> None:
    """Of a row that gives a pressure no share is used; 3 of 90 ft are one, if a small one."""
    rows = [{"input": "80 kBtu/h", "size": "3 in", "allowable": "90 ft"}]
    rows.append({"input": "80 kBtu/h", "size": "2 in", "allowable_pressure": "3 in w.c."})
    by_pressure = run("vent", "furnace", "outdoors", pipe(3), END, size="2 in")
    found = checked(job(runs=[by_pressure, run("air", "furnace", "outdoors", pipe(3), END, carries="combustion air")]),
                    {**TABLE, "row": rows})  # fmt: skip
    assert (found.verdict, found.decides.run) == ("within", "air")


@pytest.mark.parametrize(("inside", "all_of_them"), [
    ((True, True), True), ((True, False), False), ((True, None), None), ((False, None), None),
])  # fmt: skip
def test_a_run_is_inside_by_calculation_at_every_rate(
    inside: tuple[bool | None, ...], all_of_them: bool | None
) -> None:
    """One at which nobody can say leaves it open."""
    found = checked(job()).runs[0]
    rates = tuple(replace(found.rates[0], within_allowance=one) for one in inside)
    assert replace(found, rates=rates).within_by_calculation is all_of_them


def test_one_rate_without_a_settled_flow_leaves_a_run_incomplete(monkeypatch: pytest.MonkeyPatch) -> None:
    """A flow that was found at one rate says nothing of the other."""
    solve = verdicts.solve

    def one_unsettled(graph: Any, firing: Any, **followed: Any) -> RateFlow:
        found = solve(graph, firing, **followed)
        if firing.name != "low":
            return found
        return replace(found, runs={name: replace(flow, settled=False) for name, flow in found.runs.items()})

    data = job()
    data["appliance"][0]["rate"].append({**data["appliance"][0]["rate"][0], "name": "low", "input": "50 kBtu/h"})
    data["appliance"][0]["trap_seal"] = "5 in"
    before = checked(data)
    assert before.verdict == "within"
    assert [one.state for one in before.conditions if one.condition == "trap-holds"] == ["met"]
    monkeypatch.setattr(verdicts, "solve", one_unsettled)
    after = checked(data)
    assert after.verdict == "incomplete"
    assert [one.because.code for one in after.conditions if one.condition == "trap-holds"] == ["trap-not-judged"]


def test_the_worst_rate_is_the_one_with_draft_against_it() -> None:
    """Led 40 ft down in wide pipe, the hot gas of low fire is held back more than high fire loses by friction."""
    data = job([pipe(40, "down"), END], size="4 in", outdoor="-20 degF")
    high = data["appliance"][0]["rate"][0] | {"flue_temperature": "100 degF"}
    low = {**high, "name": "low", "input": "20 kBtu/h", "flue_temperature": "135 degF"}
    data["appliance"][0]["rate"] = [high, low]
    run_check = checked(data).runs[0]
    by_name = {rate.name: rate for rate in run_check.rates}
    assert by_name["high"].flow.pressure_drop > by_name["low"].flow.pressure_drop
    assert by_name["high"].counted_pressure < by_name["low"].counted_pressure
    assert run_check.worst.name == "low"


def test_what_is_missing_is_named_where_it_stands() -> None:
    """An answer kept for another variant of a run does not carry that one's place along."""
    tables = {"table.toml": table_from_data(TABLE, file="table.toml")}
    answers: Answers = {}
    for place, pieces in (
        (2, [pipe(5), {"fitting": "tee-branch"}, END]),
        (1, [{"fitting": "tee-branch"}, pipe(5), END]),
    ):
        inputs = prepare(job_from_data(job(pieces), file="test.toml"), file="test.toml", tables=tables)
        judged = judge(
            inputs,
            served={"vent": ("furnace",)},
            highest={"furnace": 23445.7},
            answers=answers,
        )
        answer = judged.of["vent"].answer
        assert answer is not None and answer.decides.because.where.piece == place


def test_at_a_change_of_size_the_larger_deduction_counts() -> None:
    """An increaser of 1 ft in 3 in and 6 ft in 4 in: 10 + 10 + 6 ft, at either of its ends."""
    table = {**TABLE, "deductions": {**TABLE["deductions"], "increaser": {"3 in": "1 ft", "4 in": "6 ft"}}}
    answer = checked(job([pipe(10), {"fitting": "increaser", "size": "4 in"}, pipe(10), END]), table).runs[0].table
    assert answer is not None and answer.equivalent_length == pytest.approx(26 * 0.3048)


def test_without_a_table_nobody_knows_what_is_left() -> None:
    """Nor with a fitting that the table has no word for."""
    without = job()
    del without["run"][0]["table"]
    for data in (without, job(INCOMPLETE)):
        assert checked(data).runs[0].margin is None


@pytest.mark.parametrize(("divided", "state"), [
    ((False, False), "met"), ((True, False), "not met"), ((False, True), "not met"), ((True, True), "not met"),
])  # fmt: skip
def test_gas_that_divides_at_one_rate_has_several_ways(divided: tuple[bool, bool], state: str) -> None:
    """A pass is for every rate."""
    flows: Any = tuple(SimpleNamespace(divided=one) for one in divided)
    one_run: Any = SimpleNamespace(name="vent")
    assert one_way_for_gas(SolvedRun(one_run, flows, ())).state == state


def _one(state: Any, condition: str, verdict: Any = "over") -> Outcome:
    return Outcome(condition=condition, state=state, because=Finding(condition), if_not=verdict)


@pytest.mark.parametrize(("outcomes", "code"), [
    ([], "condition-not-looked-at"),
    ([_one("met", "a")], "condition-not-looked-at"),
    ([_one("met", "a"), _one("met", "b")], "a"),
    ([_one("met", "b"), _one("met", "length-allowed"), _one("met", "a")], "length-allowed"),
    ([_one("met", "length-allowed"), _one("met", "way-allowed"), _one("met", "a"), _one("met", "b")], "way-allowed"),
    ([_one("met", "a"), _one("not known", "c")], "c"),
    ([_one("not known", "a"), _one("not met", "c")], "c"),
])  # fmt: skip
def test_a_condition_that_nobody_looked_at_is_no_pass(outcomes: list[Outcome], code: str) -> None:
    """Of two that are required, and others; what is not met or not known speaks for itself."""
    found = settling(outcomes, {"a", "b"})
    assert found.because.code == code
    if code == "condition-not-looked-at":
        missing = ("b",) if outcomes else ("a", "b")
        assert (found.condition, found.because.values) == (missing[0], {"conditions": missing})
    assert (found.verdict == "within") is (code in ("a", "length-allowed", "way-allowed"))
