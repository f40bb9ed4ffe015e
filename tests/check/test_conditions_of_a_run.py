"""Conditions of a run beside the table, each on both sides: its own water, the speed of the gas, the bore."""

from __future__ import annotations

import pytest

from tests.check.jobs import Data, checked, job, pipe, run
from ventsize.check.result import JobCheck

END: Data = {"fitting": "terminal-open"}


def state(found: JobCheck, condition: str) -> tuple[str, str, str]:
    """State, verdict and reason of a condition of the one run."""
    (one,) = [outcome for outcome in found.conditions if outcome.condition == condition]
    return one.state, one.verdict, one.because.code


@pytest.mark.parametrize(
    ("rise", "drain", "comes_to"),
    [
        ("-4 in", False, ("not met", "unsafe", "water-closes-pipe")),  # 4 in deep in a bore of about 2 in
        ("-4 in", True, ("met", "within", "no-water-seal")),
        ("-1 in", False, ("met", "within", "no-water-seal")),  # narrows it: a doubt
    ],
)
def test_a_low_spot_that_its_own_water_closes(rise: str, drain: bool, comes_to: tuple[str, str, str]) -> None:
    """Down into a sag and up again by an inch more, in 2 in pipe."""
    pieces = [{"pipe": "5 ft", "rise": rise, "drain": drain}, {"pipe": "5 ft", "rise": "5 in"}, END]
    found = checked(job(pieces, size="2 in"))
    assert state(found, "no-water-seal") == comes_to
    assert found.verdict == comes_to[1]


@pytest.mark.parametrize(("first", "verdict"), [(True, "within"), (False, "unsafe")])
def test_a_drain_above_a_low_spot_does_not_drain_it(first: bool, verdict: str) -> None:
    """Down 4 in and up 3, then on up: the drain is at the lower end of the first pipe that rises, or of the next."""
    up = [{"pipe": "5 ft", "rise": "3 in", "drain": first}, {"pipe": "5 ft", "rise": "5 in", "drain": not first}]
    found = checked(job([{"pipe": "5 ft", "rise": "-4 in"}, *up, END], size="2 in"))
    assert found.verdict == verdict


@pytest.mark.parametrize("counted_first", [True, False])
def test_a_low_spot_beside_a_counted_run(counted_first: bool) -> None:
    """Down 2 ft and up again: how the rest of the way lies, which nobody knows, makes that no better."""
    elbow: Data = {"fitting": "elbow-90-long"}
    sag = [pipe(3, "up"), elbow, pipe(1, "east"), elbow, pipe(2, "down"), elbow, pipe(1, "east"), elbow, pipe(2, "up")]
    ends = [("furnace", "J"), ("J", "outdoors")][:: 1 if counted_first else -1]
    counted = run("counted", *ends[0], straight="5 ft")
    del counted["pieces"]
    found = checked(job(runs=[counted, run("laid out", *ends[1], *sag)]))
    assert {(one.run, one.because.code) for one in found.conditions if one.condition == "no-water-seal"} == {
        ("laid out", "water-closes-pipe"), ("counted", "fall-not-known"),
    }  # fmt: skip
    assert found.verdict == "unsafe"


@pytest.mark.parametrize(("input", "comes_to"), [("80 kBtu/h", "met"), ("4000 kBtu/h", "not known")])
def test_gas_faster_than_the_calculation_holds_for(input: str, comes_to: str) -> None:
    """4,000,000 Btu/h through 2 in: some 1.5 m3/s in 20 cm2, beyond Mach 0.3."""
    found = state(checked(job(input=input, size="2 in")), "inside-envelope")
    assert found[0] == comes_to and (comes_to == "met" or found[2] in ("too-fast", "loss-too-large"))


@pytest.mark.parametrize(("bore", "comes_to"), [
    (103, "inside-envelope"), (50, "inside-envelope"), (49.9, "bore-not-of-size"),
    (200, "inside-envelope"), (201, "bore-not-of-size"),
])  # fmt: skip
def test_a_bore_that_is_not_that_of_its_size(bore: float, comes_to: str) -> None:
    """100 mm pipe: from half its name to twice."""
    data = job(size="100 mm", material="mine")
    size = {"nominal": "100 mm", "outside": f"{bore + 10} mm", "wall": "5 mm", "bore": f"{bore} mm"}
    data["pipe"] = [{"name": "mine", "source": "invented", "roughness": "0.0015 mm", "sizes": [size]}]
    assert state(checked(data), "inside-envelope")[2] == comes_to
