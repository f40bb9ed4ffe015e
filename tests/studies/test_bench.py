"""The bench: what either inducer does on a longer vent, against the inducer study of that vent and by hand."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from tests.studies.support import SCENARIOS, scenario
from ventsize.check.inputs import prepare
from ventsize.check.verdict import check
from ventsize.cli import main
from ventsize.jobfile.lesson import Changed
from ventsize.jobfile.problems import InputError
from ventsize.quantity import System
from ventsize.report.bench import as_object, gauges, render
from ventsize.report.wording.appliance import NO_PERMIT
from ventsize.studies.altering.altered import altered
from ventsize.studies.bench import ADAPTIVE, FIXED, TWO_SPEED, BenchStep, bench, power_cut, set_up
from ventsize.studies.fan import FanPoint
from ventsize.studies.fan_curve import curve_through
from ventsize.studies.inducer import inducer_study

FOOT = 0.3048
LONG = scenario("long-run-adaptive")
HIGH, LOW = 0, 1


def point(step: BenchStep, kind: str, at: int = HIGH) -> FanPoint:
    """What an inducer does at a step, at the highest rate or another."""
    return step.rates[at].points[kind]


def test_a_step_is_the_inducer_study_of_that_vent() -> None:
    """Speed of the one that adapts; point of one at top speed."""
    found = bench(LONG, start=15 * FOOT, step=100 * FOOT, count=2, fixed_speed=1.0)
    for step in found.steps:
        study = inducer_study(altered(LONG, Changed(straight=step.length))).rates[0]
        assert point(step, ADAPTIVE).speed == pytest.approx(min(1.0, study.speed or 1.0))
        assert point(step, FIXED).burns == study.fixed.burns
        if study.fixed.burns:
            assert point(step, FIXED).flow == pytest.approx(study.fixed.flow)
            assert point(step, FIXED).excess_air == pytest.approx(study.fixed.excess_air)
    assert point(found.steps[0], FIXED).burns and not point(found.steps[-1], FIXED).burns


def test_the_fixed_one_stands_on_the_turned_down_curve() -> None:
    """By the affinity laws: at a share s the fan gives s² H(q/s), and that is vent and exchanger together."""
    found = bench(LONG, start=15 * FOOT, step=10 * FOOT, count=1, fixed_speed=0.85)
    curve = curve_through(next(a.inducer for a in LONG.job.appliances if a.inducer).curve)
    fixed = point(found.steps[0], FIXED)
    assert fixed.flow is not None and fixed.exchanger_drop is not None and fixed.excess_air is not None
    head = 0.85**2 * curve.head(fixed.flow / 0.85)
    moved = altered(LONG, Changed(straight=found.steps[0].length, excess_air=fixed.excess_air))
    vent = inducer_study(moved).rates[0].vent
    assert head == pytest.approx(vent + fixed.exchanger_drop, rel=1e-4)


def test_the_one_that_adapts_holds_until_its_top_speed() -> None:
    """Flow and switch stay as they are, speed rises; then the switch opens and the burner is out: no figures of it."""
    found = bench(LONG, start=15 * FOOT, step=20 * FOOT)
    below = [s for s in found.steps if point(s, ADAPTIVE).speed < 1.0]
    beyond = [s for s in found.steps if not point(s, ADAPTIVE).burns]
    assert len(below) > 5 and beyond
    assert len({point(s, ADAPTIVE).flow for s in below}) == 1
    speeds = [point(s, ADAPTIVE).speed for s in below]
    assert speeds == sorted(speeds)
    flows = [flow for s in found.steps if (flow := point(s, FIXED).flow) is not None]
    assert 2 < len(flows) < len(found.steps) and flows == sorted(flows, reverse=True)
    silent = [point(s, FIXED) for s in found.steps if not point(s, FIXED).burns]
    for out in (*(point(s, ADAPTIVE) for s in beyond), *silent):
        assert (out.flow, out.excess_air, out.exchanger_drop) == (None, None, None)
        assert out.why is not None


def test_it_reaches_top_speed_where_the_study_says_it_runs_out() -> None:
    """The length found by the study lies between the last step that holds the flow and the first that does not."""
    found = bench(LONG, start=15 * FOOT, step=5 * FOOT, count=25)
    runs_out = inducer_study(LONG).rates[0].runs_out_at
    holds = [s.length for s in found.steps if point(s, ADAPTIVE).speed < 1.0]
    slips = [s.length for s in found.steps if point(s, ADAPTIVE).speed == 1.0]
    assert max(holds) <= (runs_out or 0.0) + 0.01 <= min(slips) + 0.02


def test_the_switch_opens_below_what_is_written_on_it() -> None:
    """The drop goes with the square of the flow: at 0.62 of 0.75 in w.c. 91 % of it are left.

    By hand, with 16.4 lb of air to a pound of fuel: (1 + 16.4 x 1.35) x 0.909 = 1 + 16.4 x 1.225, so that some 22 % of
    excess air are left; the water that condenses besides makes it a point more.
    """
    found = bench(LONG, start=15 * FOOT, step=5 * FOOT, count=20)
    for at, (opens, holds) in enumerate(((0.62, 0.75), (0.28, 0.35))):
        drops = [drop for s in found.steps if (drop := point(s, TWO_SPEED, at).exchanger_drop) is not None]
        assert opens <= min(drops) / 249.09 < opens + 0.02 < max(drops) / 249.09 < holds + 0.02
        assert not point(found.steps[-1], TWO_SPEED, at).burns
    assert found.rates[HIGH].air_at_switch == pytest.approx(0.225, abs=0.015)


def test_high_fire_trips_and_low_fire_runs() -> None:
    """The demonstration: sixty feet more, and the two-speed one is out at high fire alone."""
    found = bench(scenario("switch-opens-at-high-fire"), start=65 * FOOT, step=60 * FOOT, count=1)
    assert [found.rates[at].speed for at in (HIGH, LOW)] == [0.90, 0.64]
    assert all(point(found.steps[0], TWO_SPEED, at).burns for at in (HIGH, LOW))
    assert [point(found.steps[1], TWO_SPEED, at).burns for at in (HIGH, LOW)] == [False, True]
    told = next(f for f in found.findings if f.code == "bench-one-rate-out" and f.values["kind"] == TWO_SPEED)
    assert (told.values["out"], told.values["on"]) == ("high", "low")


def test_the_power_is_cut_and_it_learns_again() -> None:
    """At the speeds of the short vent the switches open; then it learns, and burns on what is left of its top speed."""
    found = power_cut(set_up(LONG, start=15 * FOOT), 115 * FOOT)
    assert [m.burning for m in found.moments[:2]] == [False, False]
    first, second = (m for m in found.moments if m.what.code == "start-learns")
    assert first.speed == pytest.approx(inducer_study(altered(LONG, Changed(straight=115 * FOOT))).rates[0].speed)
    assert first.burning and second.burning and second.speed < first.speed
    assert not any(m.what.code == "start-switch-stays-open" for m in found.moments)


def test_at_top_speed_both_are_one() -> None:
    """One fan: beyond the top speed of the one that adapts the two do the same."""
    last = bench(LONG, start=15 * FOOT, fixed_speed=1.0, step=20 * FOOT, count=8).steps[-1]
    assert point(last, ADAPTIVE) == point(last, FIXED)


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"fixed_speed": 1.5}, "20 % to 100 %"),
        ({"rate": "hihg"}, "there is no rate 'hihg'; expected perhaps 'high'"),
        ({"appliance": "boiler"}, "no appliance 'boiler' has an inducer"),
        ({"count": 0}, "1 to 60 steps"),
    ],
)
def test_what_cannot_be_is_said(options: dict[str, object], said: str) -> None:
    """One sentence each."""
    with pytest.raises(InputError, match=said):
        bench(LONG, **options)  # type: ignore[arg-type]


def test_a_job_without_an_inducer() -> None:
    """Nothing is assumed of a fan nobody described."""
    with pytest.raises(InputError, match="no appliance has an inducer"):
        bench(scenario("simple-pass"))


def test_text_gauges_and_json() -> None:
    """In 80 columns; the word OPEN, not a colour."""
    found = bench(LONG, start=15 * FOOT)
    text = render(found, System.US)
    assert max(map(len, text.splitlines())) <= 80
    assert "OPEN" in text and "closed" in text
    drawn = "\n".join(gauges(found.steps[-1], found, System.SI))
    assert max(map(len, drawn.splitlines())) <= 78
    assert "SWITCH OPEN" in drawn and "burner out" in drawn
    assert all(title in drawn for title in ("A adapts", "T two speeds", "F one speed"))
    json.dumps(as_object(found, System.US), allow_nan=False)


def test_the_verb(capsys: pytest.CaptureFixture[str]) -> None:
    """Text and JSON; a bad length is one sentence."""
    job = str(SCENARIOS / "long-run-adaptive.toml")
    assert main(["bench", job, "--start", "20 ft", "--steps", "2", "--fixed", "95 %", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["fixed_speed"] == pytest.approx(0.95)
    assert main(["bench", job, "--start", "20 flt"]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_a_switch_that_has_opened_stays_open_on_a_longer_vent() -> None:
    """Also where there is less air than the fuel needs: the switch opens with more than that."""
    found = bench(LONG, start=100 * FOOT, step=350 * FOOT, count=1, fixed_speed=0.83)
    fixed = [point(step, FIXED) for step in found.steps]
    assert [one.why and one.why.code for one in fixed] == ["fan-switch-opens", "fan-short-of-air"]
    assert all("SWITCH OPEN" in list(gauges(step, found, System.US))[2] for step in found.steps)
    assert " - " not in "\n".join(gauges(found.steps[-1], found, System.US))


def test_a_closed_switch_is_no_permit() -> None:
    """Every step is judged by the check of the job with that much pipe, at the job's highest rate: 26 ft by its row.

    By hand: three long elbows count 3 ft each by the demonstration table and the terminal 0 ft, so that 17 ft of
    straight pipe are allowed.
    """
    found = bench(LONG, start=15 * FOOT, step=5 * FOOT, count=8)
    for step in found.steps:
        job = check(altered(LONG, Changed(run="vent", straight=step.length)))
        assert step.table.verdict == job.runs[0].verdict
        assert step.table.decides == job.runs[0].decides
    assert found.straight_allowed == pytest.approx(17 * FOOT)
    assert [step.table.verdict for step in found.steps] == ["within"] + 8 * ["over"]
    assert found.steps[1].table.allowable == pytest.approx(26 * FOOT)
    assert point(found.steps[-1], ADAPTIVE).burns, "the point of it: the switch is content where the table is not"
    at_low = bench(LONG, rate="low", start=15 * FOOT, step=5 * FOOT, count=2)
    assert at_low.straight_allowed == pytest.approx(17 * FOOT), "the table is asked at the highest rate"


def test_the_table_stands_beside_the_switch() -> None:
    """On the gauges, in the rows, in the findings, on the chart and in JSON; never a pass without the table's."""
    found = bench(LONG, start=15 * FOOT, step=5 * FOOT, count=8)
    drawn = "\n".join(gauges(found.steps[-1], found, System.US))
    assert "closed" in drawn and "the table allows 26 ft: OVER" in drawn and NO_PERMIT in drawn
    text = render(found, System.US)
    assert f"{NO_PERMIT}: with 55.0 ft of straight pipe a switch is still closed" in " ".join(text.split())
    assert "▲ 17 ft" in text and "OVER" in text
    steps = as_object(found, System.US)["steps"]
    assert [step["table"]["verdict"] for step in steps] == ["within"] + 8 * ["over"]
    assert NO_PERMIT not in "\n".join(gauges(found.steps[0], found, System.US))


def test_a_job_whose_table_gives_no_length() -> None:
    """No table, no permit: the words are never WITHIN."""
    without = replace(LONG.job, tables=(), runs=tuple(replace(run, table=None) for run in LONG.job.runs))
    found = bench(prepare(without, file=LONG.file), start=15 * FOOT, count=1)
    assert {step.table.verdict for step in found.steps} == {"incomplete"} and found.straight_allowed is None
    assert "it gives no length" in "\n".join(gauges(found.steps[0], found, System.US))
    render(found, System.US)
