"""Friction: what holds at every flow, and what is said outside the firm ground."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ventsize.flow.friction import (
    LAMINAR_LIMIT,
    TURBULENT_LIMIT,
    friction_cautions,
    friction_factor,
    pressure_gradient,
    regime,
)

reynolds_numbers = st.floats(1.0, 1e6)
roughnesses = st.floats(0.0, 0.05)


@given(reynolds_numbers, st.floats(1.0, 1.5), roughnesses)
def test_more_flow_never_loses_less(reynolds: float, more: float, roughness: float) -> None:
    """f Re² does not fall anywhere, the step at Re 2040 included: a vent's flow is then unique."""

    def loss(re: float) -> float:
        return friction_factor(reynolds=re, relative_roughness=roughness) * re**2

    assert loss(reynolds * more) >= loss(reynolds) * (1 - 1e-12)


@pytest.mark.parametrize("edge", [LAMINAR_LIMIT, TURBULENT_LIMIT])
def test_loss_rises_across_the_edges_of_a_regime(edge: float) -> None:
    """A hair below and above the edge."""
    below, above = (friction_factor(reynolds=edge * s, relative_roughness=0.0) * s**2 for s in (1 - 1e-9, 1 + 1e-9))
    assert above >= below


@given(reynolds_numbers, roughnesses, st.floats(0.0, 0.01))
def test_rougher_never_loses_less(reynolds: float, roughness: float, more: float) -> None:
    """At one Reynolds number a rougher pipe has no smaller factor."""
    smooth = friction_factor(reynolds=reynolds, relative_roughness=roughness)
    assert friction_factor(reynolds=reynolds, relative_roughness=roughness + more) >= smooth * (1 - 1e-9)


@pytest.mark.parametrize(
    ("reynolds", "expected"),
    [(0, "laminar"), (2039, "laminar"), (2040, "transition"), (3999, "transition"), (4000, "turbulent")],
)
def test_regimes(reynolds: float, expected: str) -> None:
    """The edges belong to the faster regime, as the friction factor has it."""
    assert regime(reynolds) == expected


def test_no_flow_is_no_loss() -> None:
    """At Reynolds number zero the factor is finite, so that the loss is zero and not undefined."""
    factor = friction_factor(reynolds=0.0, relative_roughness=0.0)
    assert math.isfinite(factor)
    assert pressure_gradient(friction_factor=factor, bore=0.05, density=1.2, velocity=0.0) == 0.0


@pytest.mark.parametrize(("reynolds", "roughness"), [(-1.0, 0.0), (math.nan, 0.0), (1e4, -1e-9), (1e4, math.nan)])
def test_nonsense_is_refused(reynolds: float, roughness: float) -> None:
    """A negative or undefined argument is an error, not a number."""
    with pytest.raises(ValueError, match="is not a number of zero or more"):
        friction_factor(reynolds=reynolds, relative_roughness=roughness)


@pytest.mark.parametrize(
    ("reynolds", "roughness", "words"),
    [(3000, 0.0, "between laminar and turbulent"), (1e4, 0.06, "rougher than"), (0, 0.0, "nothing flows")],
)
def test_cautions(reynolds: float, roughness: float, words: str) -> None:
    """What leaves the firm ground is named."""
    (caution,) = friction_cautions(reynolds=reynolds, relative_roughness=roughness)
    assert words in caution


@pytest.mark.parametrize("reynolds", [1000, 10_000])
def test_no_caution_on_firm_ground(reynolds: float) -> None:
    """Plain laminar and plain turbulent flow need no words."""
    assert friction_cautions(reynolds=reynolds, relative_roughness=1e-5) == ()
