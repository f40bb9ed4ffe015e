"""What flows through a pipe by hand; what a piece loses is its own; outdoors there is no pressure."""

from __future__ import annotations

import math

import pytest

from tests.check.jobs import checked, job
from ventsize.flow.pieces import section_flow
from ventsize.flow.stream import Stream
from ventsize.gas.mixture import DRY_AIR


@pytest.mark.parametrize(("pressure", "density"), [(101_325.0, 1.2920), (50_000.0, 0.6376)])
def test_velocity_and_its_pressure(pressure: float, density: float) -> None:
    """Air of 0 °C: p M / (R T) with 28.966 g/mol; v = m / (rho A), q = rho v2 / 2, Re = rho v d / mu, f q / d."""
    section = checked(job()).runs[0].run.pieces[0].before
    stream = Stream(mass_flow=0.01, mixture=DRY_AIR, temperature=273.15, pressure=pressure)
    found = section_flow(section, stream)
    velocity = 0.01 / (density * math.pi * section.bore**2 / 4)
    assert found.velocity == pytest.approx(velocity, rel=1e-3)
    assert found.dynamic_pressure == pytest.approx(density * velocity**2 / 2, rel=1e-3)
    assert found.reynolds == pytest.approx(density * velocity * section.bore / stream.viscosity, rel=1e-3)
    assert found.gradient == pytest.approx(found.friction_factor * density * velocity**2 / 2 / section.bore, rel=1e-3)


@pytest.mark.parametrize("first", [True, False])
def test_a_coefficient_of_the_job_is_that_pieces_own(first: bool) -> None:
    """Two elbows of one kind, one with a K of 9: the other loses what it loses in any job."""
    pieces = [{"pipe": "9 ft"}, {"fitting": "elbow-90-long"}, {"pipe": "9 ft"}, {"fitting": "elbow-90-long"}]
    usual = checked(job(pieces)).runs[0].rates[0].flow.pieces[1].k
    own, other = (1, 3) if first else (3, 1)
    pieces[own] = {**pieces[own], "k": 9.0}  # type: ignore[dict-item]
    found = checked(job(pieces)).runs[0].rates[0].flow.pieces
    assert found[own].k == 9.0 and found[other].k == pytest.approx(usual, rel=0.01)  # the gas is hardly another


def test_still_air_outdoors_is_at_no_pressure() -> None:
    """Everything is counted from there, with the help of draft and without it."""
    assert [end for _, end in checked(job()).runs[0].rates[0].flow.levels] == [0.0] * 4
