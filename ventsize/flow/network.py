"""How the flow divides over a net of runs, and what mixture each run carries.

A net is the part of a job's graph that carries one kind of gas and hangs together. Flows are signed
along the walk of their run: positive from the run's start to its end.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from graphlib import CycleError, TopologicalSorter

import networkx as nx

from ventsize.flow.stream import Stream, mix_streams
from ventsize.gas.mixture import with_water
from ventsize.run.graph import Node, VentGraph, is_outdoors, net_of, node_of
from ventsize.run.model import Run

_ROUNDING = 1e-12  # of a flow; a smaller difference is none
_ROUNDS = 50  # at most, through the joints of a circulating flow, until what is mixed there has settled
_SLOWEST = 0.98  # of a change, what the next one is; slower than this, nothing is made of it
_SETTLED = 1e-10  # of temperature and flow at a joint; a smaller change from round to round is none

Leaves = Callable[[str, Stream], Stream]
"""What the stream of a run, by the run's name, has become where it leaves the run."""


@lru_cache(maxsize=64)
def nets(graph: VentGraph, carries: str) -> tuple[nx.MultiGraph, ...]:
    """The nets of one kind of gas. Worked out once for a graph, since every rate asks again."""
    whole = net_of(graph, carries)
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
    before: Mapping[str, Stream] | None = None,
) -> dict[str, Stream]:
    """The stream in each run, mixed where runs meet.

    sources: the stream that enters the net at a node (an appliance's flue gas, the air outdoors).
    idle: the gas that stands in runs without flow; its mass flow is not used.
    leaves: what becomes of a stream on its way through a run; without it, nothing does.
    before: the streams at nearly the same flows, from which a circulating flow is begun.
    """
    if len(flows) == 1:
        return _alone(runs, flows, sources, idle, leaves)
    mixing = _Mixing(flows, sources, leaves)
    for name, flow in flows.items():
        if flow:
            start, end = node_of(runs[name], runs[name].start), node_of(runs[name], runs[name].end)
            mixing.lead(name, *((start, end) if flow > 0 else (end, start)))
    mixing.streams = {name: replace(idle, mass_flow=0.0) for name in flows}
    mixing.streams.update((name, stream) for name, stream in (before or {}).items() if flows[name])
    for circle in _downstream_order(mixing.upstream):
        if len(circle) == 1:
            mixing.mix(circle[0])
        else:
            mixing.circulate(circle)
    return mixing.streams


def _alone(
    runs: Mapping[str, Run],
    flows: Mapping[str, float],
    sources: Mapping[Node, Stream],
    idle: Stream,
    leaves: Leaves | None,
) -> dict[str, Stream]:
    """The stream in the only run of a net: that of the end it comes from."""
    ((name, flow),) = flows.items()
    source = sources.get(node_of(runs[name], runs[name].start if flow > 0.0 else runs[name].end))
    stream = replace(source if flow and source else idle, mass_flow=abs(flow))
    if leaves and flow:
        leaves(name, stream)
    return {name: stream}


class _Mixing:
    """Streams on their way through the joints of a net; see `carry`.

    streams: by run. upstream: of each joint, the joints from which something flows to it.
    """

    def __init__(self, flows: Mapping[str, float], sources: Mapping[Node, Stream], leaves: Leaves | None) -> None:
        self._flows, self._sources, self._leaves = flows, sources, leaves
        self._into: dict[Node, list[str]] = {}
        self._out_of: dict[Node, list[str]] = {}
        self.upstream: dict[Node, set[Node]] = {}
        self.streams: dict[str, Stream] = {}

    def lead(self, name: str, first: Node, last: Node) -> None:
        """Note that a run's gas flows from one joint to another."""
        self._out_of.setdefault(first, []).append(name)
        self._into.setdefault(last, []).append(name)
        self.upstream.setdefault(last, set()).add(first)

    def mix(self, node: Node, *, again: bool = False) -> bool:
        """Mix what arrives at a node; whether what leaves it has changed. again: leave alone what has not."""
        streams, leaves = self.streams, self._leaves
        going = self._out_of.get(node, ())
        arriving = [leaves(key, streams[key]) if leaves else streams[key] for key in self._into.get(node, ())]
        if node in self._sources:
            arriving.append(self._sources[node])
        if not going or not arriving:
            return False
        mixed = mix_streams(arriving)
        # Water that has left the gas is no longer part of the flow.
        whole = math.fsum(abs(self._flows[key]) for key in going)
        kept = mixed.mass_flow / whole if mixed.mass_flow and whole else 1.0
        kept = kept if abs(kept - 1.0) > _ROUNDING else 1.0
        changed = False
        for key in going:
            found = replace(mixed, mass_flow=kept * abs(self._flows[key]))
            if not again or _differ(found, streams[key]):
                streams[key], changed = found, True
        return changed

    def circulate(self, circle: Sequence[Node]) -> None:
        """Mix at the joints of a circulating flow again and again, every third time going on as far as it tends."""
        going = [key for node in circle for key in self._out_of.get(node, ())]
        seen: list[dict[str, Stream]] = []
        for _ in range(_ROUNDS):
            if not any([self.mix(node, again=True) for node in circle]):
                return
            seen.append({key: self.streams[key] for key in going})
            if len(seen) == 3:
                self.streams.update(_tending(seen, going))
                seen.clear()


def _tending(seen: Sequence[Mapping[str, Stream]], names: Sequence[str]) -> dict[str, Stream]:
    """Where streams would come to if they went on as they did last: Aitken's method, by the first one's warmth."""
    a, b, c = (streams[names[0]].temperature for streams in seen)
    slower = (c - b) / (b - a) if b != a else 0.0
    if not 0.0 < abs(slower) < _SLOWEST:
        return {}
    part = slower / (1.0 - slower)
    found = {}
    for name in names:
        last, now = seen[1][name], seen[2][name]
        share = now.mixture.fraction("water")
        found[name] = replace(
            now,
            temperature=now.temperature + part * (now.temperature - last.temperature),
            mass_flow=now.mass_flow + part * (now.mass_flow - last.mass_flow),
            mixture=with_water(now.mixture, share=share + part * (share - last.mixture.fraction("water")))
            if share
            else now.mixture,
        )
    return found


def _differ(one: Stream, other: Stream) -> bool:
    apart = abs(one.temperature - other.temperature) > _SETTLED * one.temperature
    apart = apart or abs(one.mixture.fraction("water") - other.mixture.fraction("water")) > _SETTLED
    return apart or abs(one.mass_flow - other.mass_flow) > _SETTLED * one.mass_flow


def _downstream_order(upstream: Mapping[Node, set[Node]]) -> Iterator[Sequence[Node]]:
    """Joints with everything that flows to them before them, each alone; those of a circulating flow together."""
    try:
        for node in tuple(TopologicalSorter(upstream).static_order()):
            yield (node,)
    except CycleError:
        downstream = nx.DiGraph((first, last) for last, firsts in upstream.items() for first in firsts)
        parts = nx.condensation(downstream)
        for part in nx.topological_sort(parts):
            yield list(parts.nodes[part]["members"])


def pressures(spread: Spread, *, runs: Mapping[str, Run], rises: Mapping[str, float]) -> dict[Node, float]:
    """Total pressure against ambient at every joint [Pa], from the openings inwards.

    rises: how much higher the pressure stands at each run's start than at its end [Pa].
    """
    found: dict[Node, float] = {}
    for parent, node, key in spread.ways:
        rise = rises[key]
        found[node] = found.get(parent, 0.0) + (rise if node_of(runs[key], runs[key].start) == node else -rise)
    return found
