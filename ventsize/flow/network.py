"""How the flow divides over a net of runs, and what mixture each run carries.

A net is the part of a job's graph that carries one kind of gas and hangs together. Flows are signed
along the walk of their run: positive from the run's start to its end.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from graphlib import CycleError, TopologicalSorter

import networkx as nx

from ventsize.flow.stream import Stream, mix_streams
from ventsize.run.graph import Node, VentGraph, is_outdoors, node_of
from ventsize.run.model import Run

_ROUNDING = 1e-12  # of a flow; a smaller difference is none
_ROUNDS = 50  # through the joints of a circulating flow, until what is mixed there has settled

Leaves = Callable[[str, Stream], Stream]
"""What the stream of a run, by the run's name, has become where it leaves the run."""


@lru_cache(maxsize=64)
def nets(graph: VentGraph, carries: str) -> tuple[nx.MultiGraph, ...]:
    """The nets of one kind of gas. Worked out once for a graph, since every rate asks again."""
    whole = graph.of_kind(carries)
    parts = list(nx.connected_components(whole))
    return (whole,) if len(parts) == 1 else tuple(whole.subgraph(nodes).copy() for nodes in parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """A net as the ways from the open air inwards, and what is left over.

    ways: (joint nearer to an opening, joint reached from it, run), openings first: a tree, if the openings count as
    one. closing: runs that would close a loop, or join one opening to another.
    """

    ways: tuple[tuple[Node, Node, str], ...]
    closing: tuple[str, ...]


@lru_cache(maxsize=512)
def spread(net: nx.MultiGraph) -> Spread:
    """The shortest ways from a net's openings to every joint."""
    reached: set[Node] = {node for node in net if is_outdoors(node)}
    waiting = deque(sorted(reached, key=str))
    ways: list[tuple[Node, Node, str]] = []
    while waiting:
        parent = waiting.popleft()
        for _, node, key in net.edges(parent, keys=True):
            if node not in reached:
                reached.add(node)
                ways.append((parent, node, key))
                waiting.append(node)
    taken = {key for *_, key in ways}
    return Spread(ways=tuple(ways), closing=tuple(key for *_, key in net.edges(keys=True) if key not in taken))


def distribute(spread: Spread, *, runs: Mapping[str, Run], injected: Mapping[str, float]) -> dict[str, float]:
    """Each run's mass flow [kg/s] by mass balance, with none in the runs that close a loop.

    injected: what each appliance gives to the net, negative for what it takes [kg/s].
    """
    flows = dict.fromkeys(spread.closing, 0.0)
    gathered: dict[Node, float] = {}
    for parent, node, key in reversed(spread.ways):
        flow = gathered.get(node, 0.0) + (injected.get(node, 0.0) if isinstance(node, str) else 0.0)
        flows[key] = flow if node_of(runs[key], runs[key].start) == node else -flow
        gathered[parent] = gathered.get(parent, 0.0) + flow
    return flows


def cycles(spread: Spread, *, runs: Mapping[str, Run]) -> list[dict[str, float]]:
    """The loop that each closing run closes: its runs, 1 where they are taken along their walk, -1 against it."""
    above = {node: (parent, key) for parent, node, key in spread.ways}
    found = []
    for closing in spread.closing:
        run = runs[closing]
        loop = {closing: 1.0}
        for node, sign in ((node_of(run, run.end), 1.0), (node_of(run, run.start), -1.0)):
            while node in above:
                parent, key = above[node]
                along = 1.0 if node_of(runs[key], runs[key].start) == node else -1.0
                loop[key] = loop.get(key, 0.0) + sign * along
                node = parent
        found.append({key: value for key, value in loop.items() if value})
    return found


def carry(
    *,
    runs: Mapping[str, Run],
    flows: Mapping[str, float],
    sources: Mapping[Node, Stream],
    idle: Stream,
    leaves: Leaves | None = None,
) -> dict[str, Stream]:
    """The stream in each run, mixed where runs meet.

    sources: the stream that enters the net at a node (an appliance's flue gas, the air outdoors).
    idle: the gas that stands in runs without flow; its mass flow is not used.
    leaves: what becomes of a stream on its way through a run; without it, nothing does.
    """
    into: dict[Node, list[str]] = {}
    out_of: dict[Node, list[str]] = {}
    upstream: dict[Node, set[Node]] = {}
    for name, flow in flows.items():
        if flow:
            start, end = node_of(runs[name], runs[name].start), node_of(runs[name], runs[name].end)
            first, last = (start, end) if flow > 0 else (end, start)
            out_of.setdefault(first, []).append(name)
            into.setdefault(last, []).append(name)
            upstream.setdefault(last, set()).add(first)
    streams = {name: replace(idle, mass_flow=0.0) for name in flows}
    for node in _downstream_order(upstream):
        going = out_of.get(node, ())
        if not going:
            continue
        arriving = [leaves(key, streams[key]) if leaves else streams[key] for key in into.get(node, ())]
        if node in sources:
            arriving.append(sources[node])
        if not arriving:
            continue
        mixed = mix_streams(arriving)
        # Water that has left the gas is no longer part of the flow.
        whole = math.fsum(abs(flows[key]) for key in going)
        kept = mixed.mass_flow / whole if mixed.mass_flow and whole else 1.0
        kept = kept if abs(kept - 1.0) > _ROUNDING else 1.0
        for key in going:
            streams[key] = replace(mixed, mass_flow=kept * abs(flows[key]))
    return streams


def _downstream_order(upstream: Mapping[Node, set[Node]]) -> Iterator[Node]:
    """Joints with everything that flows to them before them; those on a circulating flow again and again."""
    try:
        yield from tuple(TopologicalSorter(upstream).static_order())
    except CycleError:
        downstream = nx.DiGraph((first, last) for last, firsts in upstream.items() for first in firsts)
        parts = nx.condensation(downstream)
        for part in nx.topological_sort(parts):
            members = list(parts.nodes[part]["members"])
            yield from members * (1 if len(members) == 1 else _ROUNDS)


def pressures(spread: Spread, *, runs: Mapping[str, Run], rises: Mapping[str, float]) -> dict[Node, float]:
    """Total pressure against ambient at every joint [Pa], from the openings inwards.

    rises: how much higher the pressure stands at each run's start than at its end [Pa].
    """
    found: dict[Node, float] = {}
    for parent, node, key in spread.ways:
        rise = rises[key]
        found[node] = found.get(parent, 0.0) + (rise if node_of(runs[key], runs[key].start) == node else -rise)
    return found
