"""Friction: what holds at every flow, and what is said outside the firm ground."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.studies.support import again, scenario
from ventsize.check.verdict import check
from ventsize.flow.friction import (
    LAMINAR_LIMIT,
    TURBULENT_LIMIT,
    friction_factor,
    pressure_gradient,
    regime,
    roughness_codes,
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


@pytest.mark.parametrize(("roughness", "said"), [(0.0, False), (0.05, False), (0.0501, True), (0.16, True)])
def test_what_the_data_do_not_reach_is_said(roughness: float, said: bool) -> None:
    """Colebrook's equation rests on Nikuradse's sand up to a twentieth of the bore (Moody 1944, from memory)."""
    assert bool(roughness_codes(roughness)) is said


def test_a_result_says_that_its_pipe_is_rougher_than_the_data() -> None:
    """12 mm in a 3 in pipe, 16 % of the bore: the job's own material, named among the cautions at each rate."""
    base = scenario("simple-pass")
    record = {
        "name": "rough",
        "title": "Rough pipe",
        "source": "Invented",
        "roughness": "12 mm",
        "sizes": [{"nominal": "3 in", "outside": "3.5 in", "wall": "0.229 in"}],
    }
    runs = tuple(replace(run, material="rough") for run in base.job.runs)
    inputs = again(base, replace(base.job, pipes=(record,), runs=runs))
    said = [finding for finding in check(inputs).findings if finding.code == "rough-beyond-data"]
    assert [one.where.run for one in said] == ["vent", "air"]
    assert "rough-beyond-data" not in {finding.code for finding in check(base).findings}
