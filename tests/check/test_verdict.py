"""How a verdict is reached beyond the look-up: which table, whole ways out, what is missing, why the answers differ."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace
from typing import Any

import pytest

from tests.check.jobs import STRAIGHT, TABLE, Data, checked, job
from tests.words import because, codes, told


def run(name: str, between: list[str], pieces: list[Data], **more: Any) -> Data:
    """A run of flue gas in 3 in pipe, judged by the table of the tests."""
    base = {"name": name, "carries": "flue gas", "between": between, "size": "3 in", "material": "pvc-40"}
    return {**base, "table": "table.toml", "pieces": pieces, **more}


@pytest.mark.parametrize(("feet", "verdict"), [(50, "within"), (51, "over")])
def test_a_way_out_in_two_runs_has_one_allowance(feet: int, verdict: str) -> None:
    """40 ft + 50 ft are 90 ft and within; one foot more is over, although each run alone is far inside."""
    runs = [
        run("first", ["furnace", "half way"], [{"pipe": "40 ft"}]),
        run("second", ["half way", "outdoors"], [{"pipe": f"{feet} ft"}, {"fitting": "terminal-open"}]),
    ]
    result = checked(job(runs=runs))
    assert [one.verdict for one in result.runs] == [verdict, verdict]
    assert result.verdict == verdict


def test_runs_together_share_one_allowance() -> None:
    """Vent 33 ft and air 58 ft are 91 ft of 90 together; each alone would be within."""
    table = {**TABLE, "counts": "runs together"}
    air = run("air", ["furnace", "outdoors"], [{"pipe": "58 ft"}, {"fitting": "terminal-open"}])
    air["carries"] = "combustion air"
    runs = [run("vent", ["furnace", "outdoors"], deepcopy(list(STRAIGHT))), air]
    result = checked(job(runs=runs), table)
    assert [one.verdict for one in result.runs] == ["over", "over"]
    assert result.runs[0].table.equivalent_length == pytest.approx(91 * 0.3048)


def test_the_only_table_that_applies_judges_a_run_that_names_none() -> None:
    """With one table in the job there is nothing to choose; with none there is no answer."""
    data = job()
    del data["run"][0]["table"]
    assert checked(data).verdict == "incomplete"
    data["tables"] = ["table.toml"]
    assert checked(data).verdict == "within"
    data["tables"] = ["table.toml", "other.toml"]
    result = checked(data)
    assert result.verdict == "incomplete" and because(result) == "several-tables-apply"


def test_what_fails_settles_a_job_before_what_is_missing() -> None:
    """One run over, one incomplete: the job is over."""
    over = run("long", ["furnace", "outdoors"], [{"pipe": "91 ft"}, {"fitting": "terminal-open"}])
    air = run("air", ["furnace", "outdoors"], [{"pipe": "1 ft"}, {"fitting": "tee-branch"}], carries="combustion air")
    result = checked(job(runs=[over, air]))
    assert [one.verdict for one in result.runs] == ["over", "incomplete"]
    assert result.verdict == "over"


def test_an_appliance_without_a_vent_makes_a_job_incomplete() -> None:
    """An air pipe alone is not a job."""
    assert checked(job(carries="combustion air")).verdict == "incomplete"


def test_a_turn_without_an_elbow_makes_a_run_incomplete() -> None:
    """What turns the gas is missing, and would cost something."""
    result = checked(job([{"pipe": "3 ft", "heading": "up"}, {"pipe": "3 ft", "heading": "east"}]))
    assert result.verdict == "incomplete" and because(result) == "turn-not-made"


@pytest.mark.parametrize(("fitting", "enough"), [("elbow-22", 4), ("elbow-45", 2), ("elbow-90-short", 1)])
def test_elbows_that_turn_too_little_make_a_run_incomplete(fitting: str, enough: int) -> None:
    """Four of 22½ degrees make a right angle, or two of 45; one fewer does not."""
    table = {**TABLE, "deductions": {**TABLE["deductions"], "elbow-22": "1 ft"}}
    up, east = {"pipe": "3 ft", "heading": "up"}, {"pipe": "3 ft", "heading": "east"}
    for count, verdict in ((enough, "within"), (enough - 1, "incomplete")):
        assert checked(job([up, *[{"fitting": fitting}] * count, east]), table).verdict == verdict


def test_draft_that_hinders_counts_and_draft_that_helps_does_not() -> None:
    """The counted pressure is the loss, and more where warm gas is led down into cold air."""
    up, down = (
        checked(job([{"pipe": "20 ft", "heading": way}, {"fitting": "terminal-open"}], outdoor="-10 degF"))
        .runs[0]
        .rates[0]
        for way in ("up", "down")
    )
    assert up.flow.draft > 0 and up.counted_pressure == up.flow.pressure_drop
    assert down.flow.draft == pytest.approx(-up.flow.draft)
    assert down.counted_pressure == pytest.approx(down.flow.pressure_drop + up.flow.draft)


def test_the_static_pressure_at_the_appliance_is_what_is_lost_behind_it() -> None:
    """On the level, without wind: the loss of the whole run less the velocity pressure at the collar (Bernoulli)."""
    result = checked({**job([{"pipe": "30 ft"}, {"fitting": "terminal-open"}]), "cooling": False})
    (rate,) = result.runs[0].rates
    velocity = rate.flow.stream.mass_flow / rate.flow.stream.density / rate.flow.run.first_section.area
    own = 0.5 * rate.flow.stream.density * velocity**2
    assert rate.static_pressure_at_appliance == pytest.approx(rate.flow.pressure_drop - own, rel=1e-6)
    assert rate.static_pressure_at_appliance > own


def test_the_sentence_names_what_sets_the_two_answers_apart() -> None:
    """Ten short elbows at 5 ft in the table are what makes the difference here, and nothing else."""
    pieces = [{"pipe": "9 ft"}, *[{"fitting": "elbow-90-short", "k": 0.05}] * 8, {"fitting": "terminal-open"}]
    found = checked(job(pieces)).runs[0].difference
    assert found is not None and (found.values["count"], found.values["name"]) == (8, "elbow-90-short")


def test_a_fitting_that_costs_more_than_the_table_says_is_within_with_a_caution() -> None:
    """The table decides; the calculation warns."""
    pieces = [{"pipe": "80 ft"}, {"fitting": "elbow-90-long", "k": 30.0}, {"fitting": "terminal-open"}]
    result = checked(job(pieces))
    assert result.verdict == "within"
    assert result.runs[0].rates[0].within_allowance is False
    assert "over-by-calculation" in codes(result)


def test_every_result_carries_the_standing_cautions() -> None:
    """Carbon monoxide, the maker's instructions, the licensed installer."""
    every = " ".join(told(checked(job())))
    for word in ("carbon monoxide", "maker's instructions", "local code", "licensed", "combustion check", "CO alarm"):
        assert word in every


def test_a_likely_typing_mistake_in_the_table_is_pointed_at() -> None:
    """Smaller pipe allowed more than larger: said with every result, never mended."""
    table = deepcopy(TABLE)
    table["row"][0]["allowable"] = "600 ft"
    found = checked(job(), table)
    assert {("row-pressure-unlikely", 1), ("longer-in-smaller-size", 1)} <= {
        (o.code, o.where.row) for o in found.doubts
    }


def test_a_length_of_the_jobs_own_is_said() -> None:
    """It can carry a run past a fitting the table does not know, so that nobody may overlook it."""
    pieces = [{"pipe": "9 ft"}, {"fitting": "tee-branch", "table_length": "2 ft"}, {"fitting": "terminal-open"}]
    assert "length-from-job" in codes(checked(job(pieces)))


def test_no_allowance_holds_for_pipe_that_the_gas_is_too_hot_for() -> None:
    """PVC is not for gas at 150 °F (its record in tables/pipes.toml says 140 °F): never within, however short."""
    at_the_limit = checked(job(flue_temperature="140 degF"))
    assert at_the_limit.verdict == "within"
    found = checked(job(flue_temperature="150 degF"))
    assert found.verdict == "unsafe"
    assert because(found) == "gas-too-hot" and found.findings[0].code == "gas-too-hot"


def test_a_pass_by_a_row_in_question_says_so() -> None:
    """The row of the higher band allows more than that of the lower: one of them is mistyped."""
    table = deepcopy(TABLE)
    table["row"] += [{**TABLE["row"][1], "altitude": ["4500 ft", "8000 ft"], "allowable": "150 ft"}]
    below = checked(job(), table)
    assert [one.where.run for one in below.doubts if one.code == "longer-at-higher-altitude"] == [None]
    found = checked(job(altitude="5000 ft"), table)
    assert found.verdict == "within"
    said = [(one.where.run, one.where.row) for one in found.doubts if one.code == "longer-at-higher-altitude"]
    assert said == [("vent", 4)]


def test_a_pass_by_a_deduction_in_question_says_so() -> None:
    """5 ft typed as 5 in: the vent passes by it, and the verdict points at it, as do the cautions."""
    table = deepcopy(TABLE)
    table["deductions"]["elbow-90-long"] = "5 in"
    found = checked(job(), table)
    assert found.verdict == "within"
    assert ("deduction-too-small", "elbow-90-long", "vent") in {
        (one.code, one.values.get("fitting"), one.where.run) for one in found.doubts
    }


def test_air_from_a_room_of_unknown_temperature_is_said() -> None:
    """How much water air holds goes by its temperature; where none is given, the outdoor one is taken and said."""
    data = job()
    data["site"] |= {"relative_humidity": 0.4}
    assert "room-air-as-outdoors" not in codes(checked(data))
    del data["site"]["indoor"]
    assert "room-air-as-outdoors" in codes(checked(data))
    data["site"]["relative_humidity"] = 0.0
    assert "room-air-as-outdoors" not in codes(checked(data))


def test_readings_kept_with_a_job_are_named_beside_its_verdict() -> None:
    """A vent within its table can be blocked: the verdict says that it did not ask what was measured."""
    data = job()
    assert "readings-not-asked" not in codes(checked(data))
    data["reading"] = [{"place": "collar", "rate": "high", "pressure": "0.6 in w.c."}]
    found = checked(data)
    assert found.verdict == "within"
    assert "readings-not-asked" in codes(found)


def test_of_a_condition_met_and_not_met_the_worse_is_told() -> None:
    """Whichever comes first: what is asked of a run by a condition's name is never the better of two."""
    found = checked(job()).runs[0]
    met = found.outcomes[0]
    failed = replace(met, state="not met")
    for both in ((met, failed), (failed, met)):
        assert replace(found, outcomes=both).outcome(met.condition) == failed
    assert found.outcome("no such condition") is None
