"""Junction losses against Crane's equations, worked examples, and the limit of all flow in one leg."""

from __future__ import annotations

import math

import pytest

from ventsize.flow.junctions import merging_loss, parting_loss

INCH, FOOT, GPM = 0.0254, 0.3048, 6.30901964e-5
TEE, WYE = math.pi / 2, math.pi / 4

# Crane TP-410, 2009, equations for equal diameters with the errata, evaluated by hand: branch share of the combined
# flow, then joining branch, joining run, parting branch, parting run. On the combined velocity.
EQUAL_TEE = [
    (0.25, -0.0422, 0.3250, 1.0379, -0.0625),
    (1 / 3, 0.1333, 0.4056, 1.0678, -0.0741),
    (0.50, 0.4125, 0.5250, 1.1556, 0.0000),
    (0.75, 0.7906, 0.6000, 1.3660, 0.0844),
    (1.00, 1.1000, 0.5500, 1.6900, 0.3000),
]


@pytest.mark.parametrize(("share", "join_branch", "join_run", "part_branch", "part_run"), EQUAL_TEE)
def test_equal_tee(share: float, join_branch: float, join_run: float, part_branch: float, part_run: float) -> None:
    """All four coefficients of a tee of one size."""
    legs = {"run_bore": 0.1, "branch_bore": 0.1, "run_flow": 1 - share, "branch_flow": share}
    joining, parting = merging_loss(angle=TEE, **legs), parting_loss(angle=TEE, **legs)
    assert joining.k_branch == pytest.approx(join_branch, abs=1e-4)
    assert joining.k_run == pytest.approx(join_run, abs=1e-4)
    assert parting.k_branch == pytest.approx(part_branch, abs=1e-4)
    assert parting.k_run == pytest.approx(part_run, abs=1e-4)


def test_equal_wye() -> None:
    """A 45° wye of one size with half the flow in the branch: same source."""
    legs = {"run_bore": 0.1, "branch_bore": 0.1, "run_flow": 1.0, "branch_flow": 1.0}
    joining, parting = merging_loss(angle=WYE, **legs), parting_loss(angle=WYE, **legs)
    assert joining.k_branch == pytest.approx(0.2186, abs=1e-4)
    assert joining.k_run == pytest.approx(0.3975, abs=1e-4)
    assert parting.k_branch == pytest.approx(0.3800, abs=1e-4)
    assert parting.k_run == pytest.approx(0.0, abs=1e-4)


def test_narrow_branch() -> None:
    """A 2 in schedule 40 branch into a 3 in run, half the flow each: same source."""
    loss = merging_loss(angle=TEE, run_bore=3.068 * INCH, branch_bore=2.067 * INCH, run_flow=1.0, branch_flow=1.0)
    assert loss.k_branch == pytest.approx(0.9424, abs=2e-4)
    assert loss.k_run == pytest.approx(0.5250, abs=1e-4)


def test_crane_example_7_35() -> None:
    """Crane TP-410, Ex. 7-35: a 4 in schedule 40 tee, 300 gpm in the run and 100 gpm joining from the branch.

    Published: K -0.042 branch, 0.325 run; combined 10.08 ft/s; heads -0.0666 ft and 0.5133 ft.
    """
    bore = 4.026 * INCH
    loss = merging_loss(angle=TEE, run_bore=bore, branch_bore=bore, run_flow=300 * GPM, branch_flow=100 * GPM)
    velocity = 400 * GPM / (math.pi * bore**2 / 4)
    head = velocity**2 / (2 * 9.80665) / FOOT
    assert velocity / FOOT == pytest.approx(10.08, rel=0.005)
    assert loss.k_branch == pytest.approx(-0.042, abs=0.0005)
    assert loss.k_run == pytest.approx(0.325, rel=0.005)
    assert loss.k_branch * head == pytest.approx(-0.0666, rel=0.01)
    assert loss.k_run * head == pytest.approx(0.5133, rel=0.005)


def test_crane_example_7_36() -> None:
    """Crane TP-410, Ex. 7-36: a 6 in schedule 80 wye of 45°, 400 gpm leaving straight and 250 gpm by the branch.

    Published: K 0.4646 branch, -0.0683 run.
    """
    bore = 5.761 * INCH
    loss = parting_loss(angle=WYE, run_bore=bore, branch_bore=bore, run_flow=400 * GPM, branch_flow=250 * GPM)
    assert loss.k_branch == pytest.approx(0.4646, rel=0.005)
    assert loss.k_run == pytest.approx(-0.0683, rel=0.005)


def test_all_flow_through_the_branch_is_a_turn_through_a_tee() -> None:
    """One stream through a tee's branch: Crane's 60 f_T, Hooper and Darby say 1.1 to 1.2 in 2 in pipe (±10 %)."""
    loss = merging_loss(angle=TEE, run_bore=0.0525, branch_bore=0.0525, run_flow=0.0, branch_flow=1.0)
    assert 1.0 <= loss.k_branch <= 1.3
