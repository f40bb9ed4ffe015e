"""Junction losses: continuous, and honest about what the formulas do not cover."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from ventsize.flow.junctions import JunctionLoss, merging_loss, parting_loss

TEE, WYE = math.pi / 2, math.pi / 4


def at_share(function, share: float, *, angle: float, branch_bore: float) -> JunctionLoss:
    return function(angle=angle, run_bore=0.1, branch_bore=branch_bore, run_flow=1 - share, branch_flow=share)


@pytest.mark.parametrize("function", [merging_loss, parting_loss])
@pytest.mark.parametrize("angle", [TEE, WYE])
@pytest.mark.parametrize("branch_bore", [0.05, 0.075, 0.1])
@given(share=st.floats(0.0, 0.999))
def test_continuous_in_the_split(function, angle: float, branch_bore: float, share: float) -> None:
    """No step as flow moves from one leg to the other: a solver must not find two answers, or none."""
    here = at_share(function, share, angle=angle, branch_bore=branch_bore)
    near = at_share(function, share + 1e-7, angle=angle, branch_bore=branch_bore)
    assert near.k_branch == pytest.approx(here.k_branch, abs=1e-5)
    assert near.k_run == pytest.approx(here.k_run, abs=1e-5)


@pytest.mark.parametrize("function", [merging_loss, parting_loss])
@pytest.mark.parametrize("angle", [TEE, WYE])
@pytest.mark.parametrize("branch_bore", [0.05, 0.061, 0.075, 0.1])
@pytest.mark.parametrize("edge", [0.35 / 0.9, 0.357142857, 0.4, 0.5, 0.6, 2 / 3])
def test_continuous_at_the_edges(function, angle: float, branch_bore: float, edge: float) -> None:
    """A hair on each side of every branch share at which a constant of Crane's changes."""
    below = at_share(function, edge - 1e-9, angle=angle, branch_bore=branch_bore)
    at = at_share(function, edge, angle=angle, branch_bore=branch_bore)
    above = at_share(function, edge + 1e-9, angle=angle, branch_bore=branch_bore)
    assert above.k_branch == pytest.approx(below.k_branch, abs=1e-6)
    assert at.k_branch == pytest.approx(below.k_branch, abs=1e-6)
    assert above.k_run == pytest.approx(below.k_run, abs=1e-6)


@given(st.floats(0.01, 0.99), st.floats(1e-6, 1e3))
@example(share=0.395, scale=10.0)
def test_only_the_split_matters(share: float, scale: float) -> None:
    """Flows may be in any unit."""
    one = merging_loss(angle=TEE, run_bore=0.1, branch_bore=0.1, run_flow=1 - share, branch_flow=share)
    other = merging_loss(
        angle=TEE, run_bore=0.1, branch_bore=0.1, run_flow=(1 - share) * scale, branch_flow=share * scale
    )
    assert other.k_branch == pytest.approx(one.k_branch, rel=1e-6, abs=1e-9)
    assert other.k_run == pytest.approx(one.k_run, rel=1e-6, abs=1e-9)


def test_the_faster_stream_may_pull_the_slower() -> None:
    """A small stream joining a large one gains pressure: the coefficient is negative, and is left so."""
    assert merging_loss(angle=TEE, run_bore=0.1, branch_bore=0.1, run_flow=4.0, branch_flow=1.0).k_branch < 0


def test_nothing_flowing_loses_nothing() -> None:
    """No flow in either leg."""
    for function in (merging_loss, parting_loss):
        loss = function(angle=TEE, run_bore=0.1, branch_bore=0.1, run_flow=0.0, branch_flow=0.0)
        assert (loss.k_run, loss.k_branch) == (0.0, 0.0)


@pytest.mark.parametrize(("change", "words"), [({"run_bore": 0.0}, "bores"), ({"branch_flow": -1.0}, "flows")])
def test_nonsense_is_refused(change: dict[str, float], words: str) -> None:
    """A bore that is not above zero, a flow below zero."""
    legs = {"angle": TEE, "run_bore": 0.1, "branch_bore": 0.1, "run_flow": 1.0, "branch_flow": 1.0, **change}
    with pytest.raises(ValueError, match=words):
        merging_loss(**legs)
