"""The answer as a range, against what can be worked out without drawing a sample."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from ventsize.check.inputs import read_inputs
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check
from ventsize.cli import main
from ventsize.studies.uncertainty import RunUncertainty, Stopped, uncertainty
from ventsize.studies.uncertainty.ranges import Ranges

EXACT = Ranges(
    length=0.0, tape=0.0, input=0.0, excess_air=0.0, flue_temperature=0.0,
    friction=False, bore=False, count=False, fittings=False,
)  # fmt: skip
NINE_IN_TEN = 0.9  # of an even range either way, between its 5 % and 95 % points


@pytest.fixture
def scenario(root: Path) -> Path:
    """A vent laid out, and an air pipe of one straight length."""
    return root / "scenarios" / "simple-pass.toml"


def of(found: tuple[RunUncertainty, ...], run: str, rate: str = "high") -> RunUncertainty:
    """One run at one rate."""
    return next(one for one in found if (one.run, one.rate) == (run, rate))


def drop_of(checked: JobCheck, run: str) -> float:
    """The pressure drop of a run at its first rate [Pa]."""
    return next(one.rates[0].flow.pressure_drop for one in checked.runs if one.run.name == run)


def test_no_range_is_the_check_itself(scenario: Path) -> None:
    """With nothing uncertain, every sample is what `check` says, though friction is solved another way."""
    inputs = read_inputs(scenario)
    found = of(uncertainty(inputs, ranges=EXACT, samples=50).runs, "vent")
    drop = drop_of(check(inputs), "vent")
    for value in (found.pressure_drop.low, found.pressure_drop.median, found.pressure_drop.high):
        assert value == pytest.approx(drop, rel=1e-9)


def test_one_length_spreads_as_it_must(scenario: Path) -> None:
    """One pipe off by up to 1 %: its loss goes straight with its length, so that the range follows by hand."""
    inputs = read_inputs(scenario)
    found = of(
        uncertainty(
            inputs,
            ranges=replace(EXACT, length=0.01),
        ).runs,
        "air",
    )
    run = next(one for one in check(inputs).runs if one.run.name == "air").rates[0]
    (pipe,) = (piece for piece in run.flow.pieces if piece.piece.is_pipe)
    off = NINE_IN_TEN * 0.01 * pipe.pressure_drop
    assert found.pressure_drop.high - found.pressure_drop.median == pytest.approx(off, rel=0.05)
    assert found.pressure_drop.median - found.pressure_drop.low == pytest.approx(off, rel=0.05)
    assert found.matters_most == "length"
    assert dict(found.shares)["length"] == pytest.approx(1.0)


@pytest.mark.parametrize("side", ["low", "high"])
def test_excess_air_spreads_as_the_check_does(scenario: Path, tmp_path: Path, side: str) -> None:
    """The loss only rises with excess air, so that the 5 % point of one is that of the other: a check there tells."""
    ranges = replace(EXACT, excess_air=0.04)
    found = of(uncertainty(read_inputs(scenario), ranges=ranges).runs, "vent")
    air = 0.35 + (1.0 if side == "high" else -1.0) * NINE_IN_TEN * 0.04
    moved = tmp_path / "job.toml"
    moved.write_text(scenario.read_text(encoding="utf-8").replace("excess_air = 0.35", f"excess_air = {air}"))
    there = drop_of(check(read_inputs(moved)), "vent")
    assert getattr(found.pressure_drop, side) == pytest.approx(there, rel=0.002)


def test_the_band_of_fittings_holds_every_sample(scenario: Path) -> None:
    """Fittings alone spread the loss no further than the check's own low and high."""
    inputs = read_inputs(scenario)
    ranges = replace(EXACT, fittings=True)
    found = of(uncertainty(inputs, ranges=ranges).runs, "vent")
    flow = next(one for one in check(inputs).runs if one.run.name == "vent").rates[0].flow
    assert flow.pressure_drop_low <= found.pressure_drop.low < found.pressure_drop.high <= flow.pressure_drop_high


def test_a_seed_gives_the_same_again(scenario: Path) -> None:
    """A result in a report can be had again; another seed differs, and by little."""
    inputs = read_inputs(scenario)
    assert uncertainty(inputs, seed=3) == uncertainty(inputs, seed=3)
    one, other = (of(uncertainty(inputs, seed=seed).runs, "vent").pressure_drop for seed in (3, 4))
    assert one != other
    assert one.high == pytest.approx(other.high, rel=0.005)


def test_the_job_states_its_ranges(scenario: Path, tmp_path: Path) -> None:
    """What the job says of a tape is used; what it does not say stays as usual."""
    job = tmp_path / "job.toml"
    stated = '\n[uncertainty]\nlength = "2 %"\ntape = "1 in"\nflue_temperature = "5 degF"\n'
    job.write_text(scenario.read_text(encoding="utf-8") + stated)
    ranges = uncertainty(read_inputs(job), samples=20).ranges
    assert (ranges.length, ranges.tape) == pytest.approx((0.02, 0.0254))
    assert ranges.flue_temperature == pytest.approx(5 / 1.8)
    assert ranges.excess_air == Ranges().excess_air


def test_on_the_command_line(scenario: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """JSON in SI, and a number of samples out of bounds is refused in a sentence."""
    assert main(["uncertainty", str(scenario), "--json", "--samples", "200"]) == 0
    shown = json.loads(capsys.readouterr().out)
    first = shown["runs"][0]
    assert first["pressure_drop_Pa"]["low"] < first["pressure_drop_Pa"]["high"]
    assert sum(first["share_of_spread"].values()) == pytest.approx(1.0)
    assert main(["uncertainty", str(scenario), "--samples", "3"]) == 2
    assert "3 samples" in capsys.readouterr().err
    assert main(["uncertainty", str(scenario), "--seed", "-3"]) == 2
    assert capsys.readouterr().err == "--seed: -3 is below zero; expected a whole number of zero or more\n"


def test_cooling_is_followed_where_the_job_asks_for_it(root: Path) -> None:
    """With nothing uncertain a cooled job's samples are its cooled check, piece by piece at its own temperature."""
    inputs = read_inputs(root / "scenarios" / "attic-in-the-cold.toml")
    found = of(uncertainty(inputs, ranges=EXACT, samples=50).runs, "vent")
    assert found.pressure_drop.median == pytest.approx(drop_of(check(inputs, cooling=True), "vent"), rel=1e-9)
    assert found.pressure_drop.median != pytest.approx(drop_of(check(inputs, cooling=False), "vent"), rel=1e-3)


def test_it_tells_how_far_it_is_and_can_be_stopped(scenario: Path) -> None:
    """Progress goes up from nothing, and a no ends the work."""
    told: list[float] = []

    def go_on(done: float) -> bool:
        told.append(done)
        return len(told) < 2

    with pytest.raises(Stopped):
        uncertainty(read_inputs(scenario), samples=100, progress=go_on)
    assert told == sorted(told) and told[0] == 0.0 and len(told) == 2


@pytest.mark.parametrize(
    "name", ["simple-pass", "old-two-inch-run", "two-sizes", "counted-run", "second-visit", "propane-metric"]
)
def test_samples_spread_as_the_check_says(root: Path, name: str) -> None:
    """One model of doubt: drawn, or put together by formula, the range is the same within 5 % of its width."""
    inputs = read_inputs(root / "scenarios" / f"{name}.toml")
    flows = {(one.run.name, rate.name): rate.flow for one in check(inputs).runs for rate in one.rates}
    for found in uncertainty(inputs).runs:
        flow, drop = flows[found.run, found.rate], found.pressure_drop
        width = drop.high - drop.low
        assert flow.pressure_drop_low == pytest.approx(drop.low, abs=0.05 * width)
        assert flow.pressure_drop_high == pytest.approx(drop.high, abs=0.05 * width)


def test_every_cause_has_its_share(root: Path) -> None:
    """A counted run has a share of miscounting, a laid out one none."""
    inputs = read_inputs(root / "scenarios" / "counted-run.toml")
    shares = dict(of(uncertainty(inputs, samples=2000).runs, "vent").shares)
    assert shares["count"] > 0.0 and shares["input"] > 0.1 and sum(shares.values()) == pytest.approx(1.0)
    laid_out = read_inputs(root / "scenarios" / "old-two-inch-run.toml")
    shares = dict(of(uncertainty(laid_out, samples=2000).runs, "vent").shares)
    assert shares["count"] == pytest.approx(0.0) and shares["fittings"] > 0.5
