"""What flows through a pipe by hand; what a piece loses is its own; outdoors there is no pressure."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.check.jobs import checked, job
from ventsize.flow.pieces import RunWalk, SectionFlow, leaves_at, section_flow
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
    assert [piece.overridden for piece in found] == [number == own for number in range(len(found))]
    assert found[own].k == 9.0 and found[other].k == pytest.approx(usual, rel=0.01)  # the gas is hardly another


def test_still_air_outdoors_is_at_no_pressure() -> None:
    """Everything is counted from there, with the help of draft and without it."""
    assert [end for _, end in checked(job()).runs[0].rates[0].flow.levels] == [0.0] * 4


def test_a_stream_at_rest_loses_nothing() -> None:
    """In pipe or fittings, by any method; and none of it flows."""
    run = checked(job()).runs[0].run
    still = Stream(mass_flow=0.0, mixture=DRY_AIR, temperature=273.15, pressure=101_325.0)
    for piece in RunWalk(run, stream=still, forward=True, outside_density=1.2).pieces():
        assert piece.at == SectionFlow(
            velocity=0.0, reynolds=0.0, friction_factor=0.0, gradient=0.0, dynamic_pressure=0.0, regime="at rest"
        )
        assert (piece.k, piece.k_low, piece.k_high, piece.pressure_drop) == (0.0, 0.0, 0.0, 0.0)
    assert still.volume_flow == 0.0


def test_volume_flow() -> None:
    """10 g/s of air of 0 °C and one atmosphere, 1.2920 kg/m³."""
    air = Stream(mass_flow=0.01, mixture=DRY_AIR, temperature=273.15, pressure=101_325.0)
    assert air.volume_flow == pytest.approx(0.01 / 1.2920, rel=1e-3)


@pytest.mark.parametrize(
    ("ends", "counted", "leaves"),
    [
        (("a", "outdoors"), False, (False, True)), (("outdoors", "a"), False, (False, True)),
        (("outdoors", "outdoors"), False, (False, True)), (("a", "outdoors"), True, (True, True)),
        (("outdoors", "a"), True, (False, False)),
    ],
)  # fmt: skip
def test_where_gas_leaves_the_pipe(ends: tuple[str, str], counted: bool, leaves: tuple[bool, bool]) -> None:
    """With gas that goes as the run is listed, at an end of pipe listed last and not at one listed first; of a run that
    is only counted, wherever that end is outdoors. With gas that goes back, the other way round."""
    run = replace(checked(job()).runs[0].run, start=ends[0], end=ends[1], counted=counted)
    for piece, out in zip((run.pieces[0], run.pieces[-1]), leaves, strict=True):
        assert leaves_at(run, piece, forward=True) is out
        assert leaves_at(run, piece, forward=False) is not out
