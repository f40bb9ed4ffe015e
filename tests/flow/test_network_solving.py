"""Nets with loops and several openings: what must hold whatever the layout."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.flow.grids import firing, random_grid, vent_graph
from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.flow.balance import NetLosses
from ventsize.flow.friction import LAMINAR_LIMIT, RAMP_END, friction_factor
from ventsize.flow.laws import friction_factors, ramped_friction_factor
from ventsize.flow.meeting import Meeting
from ventsize.flow.network import _Mixing, cycles, nets, spread
from ventsize.flow.solve import solve
from ventsize.jobfile.problems import InputError

JOB = """
title = "Invented"
[site]
altitude = "300 ft"
outdoor = "20 degF"
indoor = "68 degF"
[[appliance]]
name = "a"
fuel = "natural gas"
[[appliance.rate]]
name = "high"
input = "90 kBtu/h"
excess_air = 0.3
flue_temperature = "120 degF"
[[appliance]]
name = "b"
fuel = "natural gas"
[[appliance.rate]]
name = "high"
input = "60 kBtu/h"
excess_air = 0.5
flue_temperature = "105 degF"
"""
RUN = """
[[run]]
name = "{name}"
carries = "flue gas"
between = ["{start}", "{end}"]
size = "{size}"
material = "pvc-40"
pieces = [{{ pipe = "{length} ft", heading = "{heading}" }}, {{ fitting = "elbow-90-long" }}]
"""


def run(name: str, start: str, end: str, *, size: str = "3 in", length: int = 10, heading: str = "east") -> str:
    """One run of the job."""
    return RUN.format(name=name, start=start, end=end, size=size, length=length, heading=heading)


def write(folder: Path, *parts: str) -> Path:
    """A job file."""
    path = folder / "job.toml"
    path.write_text(JOB + "".join(parts), encoding="utf-8")
    return path


TEE = '[[joint]]\nname = "t"\nfitting = "tee"\nin_line = ["a1", "out"]\n'


def test_two_alike_pipes_share_alike(tmp_path: Path) -> None:
    """By symmetry each of two parallel pipes carries half, at one pressure on both ends."""
    job = write(
        tmp_path,
        run("a1", "a", "t"), run("b1", "b", "t"),
        run("left", "t", "u"), run("right", "t", "u"), run("out", "u", "outdoors", size="4 in"),
    )  # fmt: skip
    for rate in check(read_inputs(job)).runs[2].rates:
        whole = rate.flow.stream.mass_flow
        assert rate.flow.settled
        assert whole > 0.0
    both = {r.run.name: r.rates[0].flow for r in check(read_inputs(job)).runs}
    assert both["left"].stream.mass_flow == pytest.approx(both["right"].stream.mass_flow, rel=1e-9)
    assert both["left"].start_pressure == pytest.approx(both["right"].start_pressure)


def test_a_second_way_out_never_costs_pressure(tmp_path: Path) -> None:
    """Another opening lowers the pressure at the collars; flows in and out agree to 1e-9."""
    one = write(tmp_path, run("a1", "a", "t"), run("b1", "b", "t"), run("out", "t", "outdoors"))
    before = {r.run.name: r.rates[0].flow for r in check(read_inputs(one)).runs}
    two = write(
        tmp_path, run("a1", "a", "t"), run("b1", "b", "t"), run("out", "t", "outdoors"),
        run("other", "t", "outdoors", length=25),
    )  # fmt: skip
    after = {r.run.name: r.rates[0].flow for r in check(read_inputs(two)).runs}
    assert after["a1"].start_pressure < before["a1"].start_pressure
    out = after["out"].stream.mass_flow + after["other"].stream.mass_flow
    assert out == pytest.approx(before["out"].stream.mass_flow, rel=1e-9)


def test_losses_at_a_tee_follow_the_split_around_a_loop(tmp_path: Path) -> None:
    """Tees inside a loop settle too, with the pressure around it closed."""
    job = write(
        tmp_path,
        run("a1", "a", "t"), run("b1", "b", "v"), run("long", "t", "v", length=30), run("out", "t", "outdoors"),
        run("other", "v", "outdoors", size="4 in"), TEE,
        '[[joint]]\nname = "v"\nfitting = "wye"\nin_line = ["long", "other"]\n',
    )  # fmt: skip
    for rate in check(read_inputs(job)).runs[0].rates:
        assert rate.flow.settled


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        ((run("a1", "a", "t"), run("out", "t", "outdoors"), run("x", "t", "s"), run("y", "t", "s")), "'x', 'y'"),
        ((run("a1", "a", "outdoors"), run("x", "s", "outdoors"), run("y", "s", "outdoors")), "no appliance is joined"),
    ],
    ids=["loop that leads nowhere", "opening nobody reaches"],
)  # fmt: skip
def test_runs_that_serve_nothing_are_named(tmp_path: Path, parts: tuple[str, ...], said: str) -> None:
    """A loop without an appliance and an opening that nothing reaches are slips, and are named."""
    with pytest.raises(InputError, match=said):
        read_inputs(write(tmp_path, *parts))


def test_slopes_are_those_of_the_losses() -> None:
    """Newton's matrix against differences of the losses themselves, flows turned round included."""
    grid = random_grid(joints=12, loops=3, outlets=2, seed=4)
    graph = vent_graph(grid)
    runs = list(graph.runs.values())
    streams = {name: flow.stream for name, flow in solve(graph, firing(grid)).runs.items()}
    losses = NetLosses(graph, runs, streams=streams, outside_density=1.2, added=np.zeros(len(runs)))
    flows: NDArray[np.float64] = np.linspace(-0.05, 0.07, len(runs))
    _, slopes = losses(flows)
    for column in range(len(runs)):
        step = np.zeros(len(runs))
        step[column] = 1e-6 * abs(flows[column])
        difference = (losses(flows + step)[0] - losses(flows - step)[0]) / (2.0 * step[column])
        assert slopes[:, column] == pytest.approx(difference, rel=1e-5, abs=1e-6 * np.max(np.abs(difference)))


def test_loops_close_on_themselves() -> None:
    """Around a loop, every joint is entered as often as it is left: any flow around it changes no balance."""
    grid = random_grid(joints=25, loops=6, outlets=1, seed=2)
    graph = vent_graph(grid)
    (net,) = nets(graph, "flue gas")
    found = cycles(spread(net), runs=graph.runs)
    assert len(found) == 6
    for loop in found:
        balance: dict[str, float] = {}
        for name, sign in loop.items():
            balance[graph.runs[name].start] = balance.get(graph.runs[name].start, 0.0) - sign
            balance[graph.runs[name].end] = balance.get(graph.runs[name].end, 0.0) + sign
        assert set(balance.values()) == {0.0}


def test_friction_over_arrays_is_the_friction_law() -> None:
    """One law in two forms: one flow at a time, and many at once."""
    reynolds = np.geomspace(10.0, 3e5, 200)
    found = friction_factors(reynolds, np.full_like(reynolds, 2e-5))
    law = [friction_factor(reynolds=float(r), relative_roughness=2e-5) for r in reynolds]
    assert found == pytest.approx(law, rel=1e-9)


def test_the_ramp_joins_the_two_laws() -> None:
    """The ramp starts where laminar friction ends, ends where turbulent friction is, and rises all the way."""
    ends = [
        ramped_friction_factor(reynolds=r, relative_roughness=1e-5) for r in (LAMINAR_LIMIT, RAMP_END * (1 - 1e-12))
    ]
    assert ends[0] == pytest.approx(64.0 / LAMINAR_LIMIT)
    assert ends[1] == pytest.approx(friction_factor(reynolds=RAMP_END, relative_roughness=1e-5))
    inside = np.linspace(LAMINAR_LIMIT, RAMP_END, 20)
    loss = [ramped_friction_factor(reynolds=float(r), relative_roughness=1e-5) * r * r for r in inside]
    assert loss == sorted(loss)


def test_a_leg_that_turns_round_changes_its_loss_without_a_step() -> None:
    """At a tee whose branch reverses, or whose straight leg does, pressures go over into one another."""
    meeting = Meeting(joint="t", fitting="tee", legs=("a", "b", "c"), bores=(0.078, 0.078, 0.078))
    for legs in ([1.0, -1.0, 0.0], [0.0, -1.0, 1.0], [0.0, 1.0, -1.0]):
        still = legs.index(0.0)
        other = 1 if still == 0 else 0
        found = []
        for small in (-1e-7, 1e-7):
            moved = list(legs)
            moved[still] += small
            moved[other] -= small
            raised = meeting.pressures(moved, per_flow=(1.0, 1.0, 1.0))
            found.append([one - raised[other] for one in raised])
        assert found[0] == pytest.approx(found[1], abs=1e-3), legs


def test_a_circulating_flow_is_mixed_until_no_joint_changes(monkeypatch: pytest.MonkeyPatch) -> None:
    """One joint that has come to rest does not stop the other."""
    changes = iter([True, False, False, True, False, False])
    monkeypatch.setattr(_Mixing, "mix", lambda self, node, *, again: next(changes))
    _Mixing({}, {}, None).circulate([("joint", "a"), ("joint", "b")])
    assert list(changes) == []
