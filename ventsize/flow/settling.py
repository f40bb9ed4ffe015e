"""How the flow of a net with loops or several openings settles, and the findings about it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

import networkx as nx

from ventsize.finding import Finding, Where
from ventsize.flow.friction import in_ramp
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import node_of

if TYPE_CHECKING:
    from ventsize.flow.rate_flow import RunFlow

LEAST_PART, MOST_PART = 0.1, 2.0  # of the way to the next flow that is gone


def next_part(part: float, before: Mapping[str, float], way: Mapping[str, float]) -> float:
    """How much of the way to the next flow to go, from how the way has changed: Aitken's relaxation.

    Gas and flow may chase each other to and fro, or come near each other only slowly; this shortens or lengthens.
    """
    if not before:
        return part
    turned = {name: way[name] - before[name] for name in way}
    size = math.fsum(change * change for change in turned.values())
    if size == 0.0:
        return part
    found = -part * math.fsum(before[name] * turned[name] for name in turned) / size
    return min(MOST_PART, max(LEAST_PART, found))


def unclosed(loops: Sequence[Mapping[str, float]], rises: Mapping[str, float]) -> float:
    """The largest pressure left over around a loop, over the largest along a run [-]."""
    scale = max(max(map(abs, rises.values())), 1.0)
    return max(abs(math.fsum(sign * rises[name] for name, sign in loop.items())) for loop in loops) / scale


def loop_findings(rate: str, solved: Mapping[str, RunFlow], *, outwards: bool, settled: bool) -> Iterator[Finding]:
    """Findings about a net with loops: no flow found, flow in the step of friction, an opening that works backwards."""
    if not settled:
        yield Finding("flow-not-found", Where(rate=rate), {"runs": tuple(sorted(solved))})
        return
    round_and_round = _circulating(solved)
    if round_and_round:
        yield Finding("gas-circulates", Where(rate=rate), {"runs": tuple(round_and_round)})
    for name, flow in solved.items():
        where = Where(run=name, rate=rate)
        sections = {id(piece.section): piece.section for piece in flow.run.pieces}
        if any(in_ramp(flow.at(section).reynolds) for section in sections.values()):
            yield Finding("flow-in-friction-step", where)
        last = flow.run.end if flow.forward else flow.run.start
        first = flow.run.start if flow.forward else flow.run.end
        if flow.stream.mass_flow and OUTDOORS in (last, first) and (first == OUTDOORS) is outwards:
            yield Finding("outdoor-air-enters-vent" if outwards else "air-pipe-blows-out", where)


def _circulating(solved: Mapping[str, RunFlow]) -> list[str]:
    """The runs of a circle that gas flows round."""
    ways = nx.MultiDiGraph()
    for name, flow in solved.items():
        ends = node_of(flow.run, flow.run.start), node_of(flow.run, flow.run.end)
        if flow.stream.mass_flow:
            ways.add_edge(*(ends if flow.forward else reversed(ends)), key=name)
    try:
        return sorted(key for *_, key in nx.find_cycle(ways))
    except nx.NetworkXNoCycle:
        return []
