"""How flows settle: each part of the search by hand, on numbers as small as they can be."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from tests.flow.grids import SECTIONS, stream
from ventsize.flow.loops import close_loops
from ventsize.flow.network import _differ, _tending, carry
from ventsize.flow.settling import loop_findings, next_part, unclosed
from ventsize.flow.stream import Stream, mix_streams
from ventsize.gas.mixture import mixture_of
from ventsize.run.model import Run


@pytest.mark.parametrize(
    ("before", "way", "part", "found"),
    [
        ({}, {"a": 1.0}, 0.7, 0.7),  # nothing to go by
        ({"a": 1.0}, {"a": 1.0}, 0.7, 0.7),  # nor where the way is as it was
        ({"a": 1.0}, {"a": -0.5}, 1.0, 1.0 / 1.5),  # too far by half: two thirds
        ({"a": 1.0}, {"a": 0.4}, 1.0, 1.0 / 0.6),  # too short
        ({"a": 1.0, "b": 2.0}, {"a": -1.0, "b": 1.0}, 0.5, 0.5 * 4.0 / 5.0),  # (2 + 2) over (4 + 1)
        ({"a": 1.0}, {"a": 0.9}, 1.0, 2.0),  # ten times as far is not believed
        ({"a": 1.0}, {"a": -30.0}, 1.0, 0.1),
        ({"a": 1e-3}, {"a": 0.9e-3}, 0.1, 1.0),
    ],
)
def test_part_of_the_way(before: dict[str, float], way: dict[str, float], part: float, found: float) -> None:
    """Aitken's relaxation for several unknowns: - part (before, turn) / (turn, turn), between a tenth and two."""
    assert next_part(part, before, way) == pytest.approx(found)


def test_what_is_left_around_loops() -> None:
    """5 Pa one way, 3 Pa the other: 2 of 5 are left; the worst loop counts; below a pascal, of a pascal."""
    loops = [{"a": 1.0, "b": -1.0}, {"a": 1.0, "c": 1.0}]
    assert unclosed(loops, {"a": 5.0, "b": 3.0, "c": -5.5}) == pytest.approx(2.0 / 5.5)
    assert unclosed(loops, {"a": 0.5, "b": 0.3, "c": -0.5}) == pytest.approx(0.2)


def flowing(start: str, end: str, *, forward: bool = True, mass_flow: float = 0.01, reynolds: float = 9e3) -> Any:
    """A run with its flow, as far as the findings look at it."""
    pieces = tuple(SimpleNamespace(section=section) for section in SECTIONS.values())
    reynolds_at = dict(zip(map(id, SECTIONS.values()), (500.0, reynolds, 700.0), strict=True))
    return SimpleNamespace(
        run=SimpleNamespace(start=start, end=end, carries="flue gas", name=f"{start}-{end}", pieces=pieces),
        forward=forward, stream=SimpleNamespace(mass_flow=mass_flow),
        at=lambda section: SimpleNamespace(reynolds=reynolds_at[id(section)]),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("flow", "outwards", "code"),
    [
        (flowing("a", "outdoors"), True, None),
        (flowing("a", "outdoors", forward=False), True, "outdoor-air-enters-vent"),
        (flowing("outdoors", "a"), True, "outdoor-air-enters-vent"),
        (flowing("outdoors", "a", forward=False), True, None),
        (flowing("outdoors", "a"), False, None),
        (flowing("a", "outdoors"), False, "air-pipe-blows-out"),
        (flowing("a", "outdoors", mass_flow=0.0), False, None),
        (flowing("a", "b"), False, None),
        (flowing("a", "b", reynolds=2_040.0), True, "flow-in-friction-step"),
        (flowing("a", "b", reynolds=2_060.3), True, "flow-in-friction-step"),
        (flowing("a", "b", reynolds=2_039.9), True, None),
        (flowing("a", "b", reynolds=2_060.5), True, None),
    ],
)
def test_what_is_said_of_a_net(flow: Any, outwards: bool, code: str | None) -> None:
    """An opening that works backwards, and flow in the step of friction in one of a run's sizes."""
    found = list(loop_findings("high", {"x": flow}, outwards=outwards, settled=True))
    assert [(one.code, one.where.run, one.where.rate) for one in found] == ([(code, "x", "high")] if code else [])


def test_a_net_that_is_not_found_and_one_that_goes_round() -> None:
    """The runs of the net, or of the circle; of what was not found nothing else is said."""
    round_and_round = {"y": flowing("b", "a"), "x": flowing("a", "b"), "z": flowing("b", "outdoors", forward=False)}
    (lost,) = loop_findings("high", round_and_round, outwards=True, settled=False)
    assert (lost.code, lost.values["runs"]) == ("flow-not-found", ("x", "y", "z"))
    first, *_ = loop_findings("high", round_and_round, outwards=True, settled=True)
    assert (first.code, first.values["runs"]) == ("gas-circulates", ("x", "y"))
    round_and_round["y"].stream.mass_flow = 0.0
    assert all(one.code != "gas-circulates" for one in loop_findings("", round_and_round, outwards=True, settled=True))


def moist(temperature: float, mass_flow: float, water: float) -> Stream:
    """Nitrogen with water."""
    mixture = mixture_of({"nitrogen": 1.0 - water, "water": water})
    return Stream(mass_flow=mass_flow, mixture=mixture, temperature=temperature, pressure=1e5)


@pytest.mark.parametrize(
    ("temperatures", "part"),
    [((300.0, 310.0, 315.0), 1.0), ((300.0, 310.0, 305.0), -1.0 / 3.0), ((300.0, 310.0, 319.9), None),
     ((300.0, 300.0, 310.0), None), ((300.0, 310.0, 310.0), None), ((300.0, 310.0, 319.0), 9.0)],
)  # fmt: skip
def test_where_circulating_streams_tend(temperatures: tuple[float, ...], part: float | None) -> None:
    """Aitken: what halves from round to round has as much before it as its last step, r / (1 - r) of it, in warmth,
    flow and water alike; steps that hardly shrink, or have no ratio, are not drawn out."""
    seen = [
        {"a": moist(t, flow, water), "b": stream(flow)}
        for t, flow, water in zip(temperatures, (0.010, 0.012, 0.013), (0.10, 0.12, 0.13), strict=True)
    ]
    found = _tending(seen, ["a", "b"])
    if part is None:
        assert found == {}
        return
    now, last = temperatures[2], temperatures[1]
    assert found["a"].temperature == pytest.approx(now + part * (now - last))
    assert found["a"].mass_flow == pytest.approx(0.013 + part * 0.001) == found["b"].mass_flow
    assert found["a"].mixture.fraction("water") == pytest.approx(0.13 + part * 0.01)
    assert found["b"].mixture == stream(1.0).mixture


def leg(name: str, start: str, end: str) -> Run:
    """A run without pieces."""
    return Run(name=name, carries="flue gas", start=start, end=end, pieces=(), counted=False, rise_known=True)


RUNS = {one.name: one for one in (leg("x", "a", "j"), leg("y", "b", "j"), leg("z", "outdoors", "j"))}


def test_streams_mix_where_runs_meet() -> None:
    """Two join, one of them listed against the gas, and leave by a third; what has become of each counts, and
    the flow that goes on is less by the water that is gone."""
    sources: Any = {"a": moist(320.0, 0.01, 0.1), "b": moist(300.0, 0.03, 0.02)}
    flows = {"x": 0.01, "y": 0.03, "z": -0.04}
    found = carry(runs=RUNS, flows=flows, sources=sources, idle=stream(1.0))
    assert found["x"] == sources["a"] and found["y"] == sources["b"]
    assert found["z"] == mix_streams([sources["a"], sources["b"]])
    asked = []

    def leaves(name: str, one: Stream) -> Stream:
        asked.append(name)
        return replace(one, mass_flow=0.9 * one.mass_flow, temperature=310.0)

    less = carry(runs=RUNS, flows=flows, sources=sources, idle=stream(1.0), leaves=leaves)
    assert less["z"].mass_flow == pytest.approx(0.036) and less["z"].temperature == pytest.approx(310.0)
    assert sorted(asked) == ["x", "y", "z"]


def test_runs_that_nothing_comes_to_stand_still() -> None:
    """A run without flow, and one that a rounding drives out of a joint where nothing arrives: idle gas, at rest."""
    found = carry(runs=RUNS, flows={"x": 0.0, "y": 0.0, "z": -1e-20}, sources={}, idle=stream(1.0))
    assert all(one == stream(0.0) for one in found.values())
    alone = {"x": RUNS["x"]}
    for flow in (0.01, -0.01, 0.0):
        sources: Any = {"a": moist(320.0, 1.0, 0.1)}
        (one,) = carry(runs=alone, flows={"x": flow}, sources=sources, idle=stream(1.0)).values()
        assert one == (moist(320.0, 0.01, 0.1) if flow > 0.0 else stream(abs(flow)))


@pytest.mark.parametrize(
    ("other", "differs"),
    [((300.0, 0.01, 0.1), False), ((300.001, 0.01, 0.1), True), ((300.0, 0.010001, 0.1), True),
     ((300.0, 0.01, 0.1001), True), ((299.999, 0.01, 0.1), True)],
)  # fmt: skip
def test_what_differs(other: tuple[float, float, float], differs: bool) -> None:
    """A thousandth of a kelvin, a microgram, a tenth of a per mille of water."""
    assert _differ(moist(300.0, 0.01, 0.1), moist(*other)) is differs


CYCLE = np.array([[1.0], [-1.0]])


def test_two_pipes_that_resist_in_proportion() -> None:
    """3 a = b, together 4: one and three, in the one step of Newton's method."""
    resists = np.array([3.0, 1.0])
    found = close_loops(lambda flows: (resists * flows, np.diag(resists)), start=np.array([4.0, 0.0]), cycles=CYCLE)
    assert found.flows == pytest.approx([1.0, 3.0]) and found.losses == pytest.approx([3.0, 3.0])
    assert found.converged and found.steps == 1 and found.unclosed < 1e-12


@pytest.mark.parametrize(("part", "steps"), [(0.0, 6), (0.6, 1)])
def test_two_pipes_that_resist_by_the_square(part: float, steps: int) -> None:
    """3 a2 = b2, together 4: b is root three of a; where half may be left, one step does. Losses that are
    known at the start are not asked for again."""
    asked = []

    def losses(flows: Any) -> Any:
        asked.append(flows)
        return np.array([30.0, 10.0]) * flows**2, np.diag(np.array([60.0, 20.0]) * flows)

    start = np.array([3.0, 1.0])
    found = close_loops(losses, start=start, cycles=CYCLE, known=losses(start), part=part)
    assert found.converged and found.steps <= steps and len(asked) == 1 + found.steps
    assert found.flows == pytest.approx([4.0 / (1.0 + 3.0**0.5), 4.0 / (1.0 + 3.0**-0.5)], abs=0.5 if part else 1e-8)


def test_a_step_too_long_is_halved() -> None:
    """Of arctangents, where Newton's whole step leads away: the loop closes at equal flows all the same."""
    found = close_loops(
        lambda flows: (np.arctan(flows), np.diag(1.0 / (1.0 + flows**2))), start=np.array([5.0, -5.0]), cycles=CYCLE
    )
    assert found.converged and found.flows == pytest.approx([0.0, 0.0], abs=1e-9)


def test_a_loop_that_nothing_resists_is_not_found() -> None:
    """No slope at all, and a step that leads nowhere: said, not gone on with."""
    start = np.array([1.0, 1.0])
    flat = close_loops(lambda flows: (np.array([10.0, 30.0]), np.zeros((2, 2))), start=start, cycles=CYCLE)
    wrong = close_loops(lambda flows: (np.array([10.0, 30.0]) + flows**2, -np.eye(2)), start=start, cycles=CYCLE)
    for found in (flat, wrong):
        assert not found.converged and found.steps == 1
        assert found.unclosed == pytest.approx(20.0 / np.max(np.abs(found.losses)))
