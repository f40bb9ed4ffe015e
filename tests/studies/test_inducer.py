"""The inducer: shares of speed, where it runs out, and the fixed-speed point."""

from __future__ import annotations

from pathlib import Path

import pytest

from ventsize.check.inputs import Inputs, prepare, read_inputs
from ventsize.check.verdict import check
from ventsize.jobfile.job import job_from_text
from ventsize.jobfile.problems import InputError
from ventsize.studies.fan_curve import curve_through
from ventsize.studies.inducer import inducer_study

SCENARIOS = Path(__file__).parents[2] / "scenarios"


def long_run(kind: str, *changes: tuple[str, str]) -> Inputs:
    """A long-run scenario, changed."""
    text = (SCENARIOS / f"long-run-{kind}.toml").read_text()
    for before, after in changes:
        assert before in text
        text = text.replace(before, after)
    return prepare(job_from_text(text, file="job.toml"), file="job.toml")


def test_head_needed_is_switch_and_vent_and_air() -> None:
    """By hand: the setting, and what the vent loses; the draft of its rise helps, and is left out (no air pipe)."""
    inputs = long_run("adaptive")
    for rate, run_rate in zip(inducer_study(inputs).rates, check(inputs).runs[0].rates, strict=True):
        loss = run_rate.flow.pressure_drop
        assert run_rate.flow.draft > 0.0
        assert rate.air == 0.0
        assert rate.vent == pytest.approx(loss)
        assert rate.needed == pytest.approx(rate.switch + loss)


def test_share_of_speed_satisfies_the_affinity_laws() -> None:
    """head = s² H(q / s), with the curve evaluated apart from the search."""
    inputs = long_run("adaptive")
    study = inducer_study(inputs)
    curve = curve_through(study.curves[0].points)
    for rate in study.rates:
        assert rate.speed is not None
        assert rate.speed**2 * curve.head(rate.flow / rate.speed) == pytest.approx(rate.needed, rel=1e-6)
        assert rate.left == pytest.approx(1.0 - rate.speed)


def test_lengthened_to_where_it_runs_out_it_needs_all_its_speed() -> None:
    """The length found, put into the job as straight pipe of the same size, takes the inducer to 100 %."""
    plain = ("[site]", "cooling = false\n\n[site]")  # where gas cools it matters which pipe is made longer
    high = inducer_study(long_run("adaptive", plain)).rates[0]
    assert high.runs_out_at is not None
    longer = 20 * 0.3048 + high.runs_out_at - high.vent_length
    changed = long_run(
        "adaptive", ('pipe = "20 ft", heading = "north"', f'pipe = "{longer:.6f} m", heading = "north"'), plain
    )
    assert inducer_study(changed).rates[0].speed == pytest.approx(1.0, abs=1e-4)


def test_fixed_speed_point_lies_on_the_curve_and_on_the_vent() -> None:
    """The head of the curve at the flow found is what the vent takes with the excess air found."""
    inputs = long_run("fixed-speed")
    study = inducer_study(inputs)
    curve = curve_through(study.curves[0].points)
    high = study.rates[0]
    assert high.fixed.flow is not None
    assert high.fixed.excess_air is not None
    assert high.fixed.exchanger_drop is not None
    text = (SCENARIOS / "long-run-fixed-speed.toml").read_text()
    text = text.replace("excess_air = 0.35", f"excess_air = {high.fixed.excess_air!r}")
    there = check(prepare(job_from_text(text, file="job.toml"), file="job.toml")).runs[0].rates[0].flow
    assert there.stream.volume_flow == pytest.approx(high.fixed.flow, rel=1e-6)
    taken = there.pressure_drop + high.fixed.exchanger_drop
    assert curve.head(high.fixed.flow) == pytest.approx(taken, rel=1e-5)
    assert high.fixed.exchanger_drop == pytest.approx(
        high.switch
        * (there.stream.mass_flow / check(inputs).runs[0].rates[0].flow.stream.mass_flow) ** 2
        * check(inputs).runs[0].rates[0].flow.stream.density
        / there.stream.density,
        rel=1e-9,
    )


def test_a_vent_too_long_for_a_fixed_speed_opens_the_switch() -> None:
    """Where the flow falls, the drop across the exchanger falls below the setting."""
    study = inducer_study(long_run("fixed-speed", ('pipe = "30 ft"', 'pipe = "240 ft"')))
    high = study.rates[0]
    assert high.fixed.excess_air is None or high.fixed.excess_air < 0.35
    assert not high.fixed.burns
    assert {finding.code for finding in study.findings} & {"fan-switch-opens", "fan-short-of-air"}


def test_what_no_curve_can_meet_is_said() -> None:
    """A curve that ends below the flow: no number, a sentence."""
    short = (
        '["38 ft³/min", "0 in w.c."]',
        '["30.5 ft³/min", "0.8 in w.c."]',
    )
    high_curve = ('["0 ft³/min", "2.2 in w.c."],\n  ["10 ft³/min", "2.05 in w.c."],\n', "")
    tiny = [("20 ft³/min", "3 ft³/min"), ("30 ft³/min", "4 ft³/min"), short, ("30.5 ft³/min", "5 ft³/min")]
    study = inducer_study(long_run("adaptive", high_curve, *tiny))
    assert study.rates[0].at_top_speed is None
    assert study.rates[0].fixed.flow is None
    assert study.rates[0].fixed.why is not None and study.rates[0].fixed.why.code == "fan-curve-misses-flow"


def test_the_switch_opens_at_the_rate_that_needs_more_than_there_is() -> None:
    """Sixty feet further, high fire needs more head than top speed gives, and its switch opens; low fire does not."""
    high, low = inducer_study(read_inputs(SCENARIOS / "switch-opens-at-high-fire.toml")).rates
    assert high.at_top_speed is not None and high.at_top_speed < high.needed
    assert high.fixed.why is not None and high.fixed.why.code == "fan-switch-opens" and low.fixed.burns
    assert high.runs_out_at is not None and high.runs_out_at < high.vent_length
    assert high.fixed.excess_air is not None and high.fixed.excess_air < 0.35
    for kind in ("adaptive", "fixed-speed"):  # the same run before
        assert all(rate.fixed.burns for rate in inducer_study(long_run(kind)).rates)


def test_examples_are_called_so_and_learning_is_told() -> None:
    """Nobody takes an invented curve for the appliance's own; an adaptive inducer must learn again."""
    adaptive, fixed = (inducer_study(long_run(kind)) for kind in ("adaptive", "fixed-speed"))
    for study in (adaptive, fixed):
        assert study.curves[0].example
        assert "fan-curve-example" in {finding.code for finding in study.cautions}
    assert "inducer-relearns" in {finding.code for finding in adaptive.cautions}
    assert "inducer-relearns" not in {finding.code for finding in fixed.cautions}


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (('["10 ft³/min", "2.05 in w.c."]', '["10 ft³/min", "2.5 in w.c."]'), "the head rises"),
        (("switch = { high", "switch = { hihg"), "no firing rate is named 'hihg'"),
        (('source = "Invented for demonstration"\n', ""), "source"),
    ],
)
def test_bad_curves_are_refused(change: tuple[str, str], said: str) -> None:
    """One sentence, with the place."""
    with pytest.raises(InputError, match=said):
        long_run("adaptive", change)


def test_a_job_without_an_inducer_says_what_is_expected() -> None:
    """Nothing is assumed of a fan nobody described."""
    with pytest.raises(InputError, match="no appliance has an inducer"):
        inducer_study(read_inputs(SCENARIOS / "simple-pass.toml"))
