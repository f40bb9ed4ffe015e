"""The losses that the solver of loops puts together, against the same losses worked out piece by piece."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.check.jobs import Data, pipe, run, two_furnaces
from ventsize.check.inputs import prepare
from ventsize.check.verdict import check
from ventsize.flow.balance import NetLosses
from ventsize.flow.friction import friction_factor, in_ramp
from ventsize.flow.laws import friction_numbers
from ventsize.flow.rate_flow import RunFlow
from ventsize.jobfile.job import job_from_data
from ventsize.run.graph import VentGraph

END: Data = {"fitting": "terminal-open"}
ELBOW: Data = {"fitting": "elbow-90-long"}


def net(carries: str, fitting: str, kbtu: float) -> tuple[VentGraph, dict[str, RunFlow]]:
    """Two furnaces on one vent, or air pipe, at one temperature: a tee or wye, a change of size in a run and one where
    two runs meet without a fitting, elbows, one with a coefficient of its own, ends, and a rise; one run is listed
    against the gas."""
    data = two_furnaces()
    data["cooling"] = False
    data["joint"][0]["fitting"] = fitting
    grown = {"fitting": "increaser", "size": "4 in"}
    data["run"] = [
        run("va", "J", "furnace", ELBOW, pipe(7, "down"), {**ELBOW, "k": 0.7}, pipe(3, "east"), size="3 in"),
        run("vb", "other", "J", pipe(5, "up"), ELBOW, pipe(4, "east"), ELBOW),
        run("v", "J", "K", pipe(6, "up"), grown, pipe(2, "up")),
        run("w", "K", "outdoors", pipe(6, "up"), ELBOW, pipe(2, "east"), END, size="6 in"),
    ]
    data["joint"][0]["in_line"] = ["vb", "v"]
    for one in data["run"]:
        one["carries"] = carries
        del one["table"]
    for one, share in zip(data["appliance"], (1.0, 0.4), strict=True):
        one["rate"][0]["input"] = f"{kbtu * share} kBtu/h"
    inputs = prepare(job_from_data(data, file="test.toml"), file="test.toml", tables={})
    return inputs.graph, {one.run.name: one.rates[0].flow for one in check(inputs).runs}


NETS = pytest.mark.parametrize(
    ("carries", "fitting", "kbtu"),
    [
        ("flue gas", "tee", 60.0),
        ("flue gas", "wye", 3.0),
        ("combustion air", "tee", 60.0),
        ("combustion air", "wye", 9.0),
    ],
)
OUTSIDE = 1.29


def laws(graph: VentGraph, flows: dict[str, RunFlow], added: float = 0.0) -> NetLosses:
    """The losses of these runs, with their streams."""
    return NetLosses(
        graph, [flow.run for flow in flows.values()], streams={name: flow.stream for name, flow in flows.items()},
        outside_density=OUTSIDE, added=np.full(len(flows), added),
    )  # fmt: skip


def moving(flows: dict[str, RunFlow]) -> NDArray[np.float64]:
    """Flows along the walks of the runs [kg/s]."""
    return np.array([flow.stream.mass_flow * (1.0 if flow.forward else -1.0) for flow in flows.values()])


@NETS
def test_losses_are_those_worked_out_piece_by_piece(carries: str, fitting: str, kbtu: float) -> None:
    """Of every run, from its start to its end, buoyancy taken off by the heights; what is added comes on top."""
    graph, flows = net(carries, fitting, kbtu)
    found, _ = laws(graph, flows, added=3.0)(moving(flows))
    for loss, flow in zip(found, flows.values(), strict=True):
        rise = sum(piece.rise for piece in flow.run.pieces)
        expected = flow.pressure_drop * (1.0 if flow.forward else -1.0)
        expected -= (OUTSIDE - flow.stream.density) * 9.80665 * rise
        assert loss == pytest.approx(expected + 3.0, rel=1e-9, abs=1e-12), flow.run.name


@NETS
@pytest.mark.parametrize("turned", [1.0, -1.0])
def test_slopes_are_those_of_the_losses_with_real_fittings(
    carries: str, fitting: str, kbtu: float, turned: float
) -> None:
    """Newton's matrix against differences of the losses, with the gas and against it."""
    graph, flows = net(carries, fitting, kbtu)
    losses, at = laws(graph, flows), turned * moving(flows)
    _, slopes = losses(at)
    for column, flow in enumerate(at):
        step = np.zeros(len(at))
        step[column] = 2e-5 * abs(flow)
        difference = (losses(at + step)[0] - losses(at - step)[0]) / (2.0 * step[column])
        assert slopes[:, column] == pytest.approx(difference, rel=1e-3, abs=1e-4 * np.max(np.abs(difference)))


def test_a_net_at_rest_loses_nothing() -> None:
    """No loss and no slope but that of laminar friction, nor a division by nothing."""
    graph, flows = net("flue gas", "tee", 60.0)
    found, slopes = laws(graph, flows)(np.zeros(len(flows)))
    rises = np.array([sum(piece.rise for piece in flow.run.pieces) for flow in flows.values()])
    density = np.array([flow.stream.density for flow in flows.values()])
    assert found == pytest.approx(-(OUTSIDE - density) * 9.80665 * rises)
    assert np.isfinite(slopes).all() and (np.diag(slopes) > 0.0).all()


@pytest.mark.parametrize("rough", [0.0, 1e-3, 0.03])
def test_friction_numbers_are_friction_with_its_slope(rough: float) -> None:
    """f Re2 by the law of one flow at a time, but on the ramp, which is straight; slopes by differences."""
    reynolds = np.array([50.0, 2000.0, 2042.0, 2055.0, 2061.0, 5e3, 4e4, 3e5])
    top = friction_factor(reynolds=2060.4, relative_roughness=rough) * 2060.4**2
    value, slope = friction_numbers(reynolds, np.full(8, rough), np.full(8, top))
    for one, found in zip(reynolds.tolist(), value.tolist(), strict=True):
        expected = friction_factor(reynolds=one, relative_roughness=rough) * one**2
        if in_ramp(one):
            expected = 64 * 2040.0 + (one - 2040.0) / 20.4 * (top - 64 * 2040.0)
        assert found == pytest.approx(expected, rel=1e-9)
    ends = [friction_numbers(reynolds * (1.0 + off), np.full(8, rough), np.full(8, top))[0] for off in (-1e-6, 1e-6)]
    assert slope == pytest.approx((ends[1] - ends[0]) / (2e-6 * reynolds), rel=1e-5)


@pytest.mark.parametrize(("reynolds", "inside"), [(2039.9, False), (2040.0, True), (2060.3, True), (2060.5, False)])
def test_where_the_ramp_is(reynolds: float, inside: bool) -> None:
    """From Re 2040 to 1 % above it."""
    assert in_ramp(reynolds) is inside
