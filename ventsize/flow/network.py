"""How the flow divides over a net of runs, and what mixture each run carries.

A net is the part of a job's graph that carries one kind of gas and hangs together. Flows are signed
along the walk of their run: positive from the run's start to its end.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import networkx as nx

from ventsize.flow.stream import Stream, mix_streams
from ventsize.jobfile.problems import InputError, Problem
from ventsize.run.graph import Node, VentGraph, is_outdoors, node_of
from ventsize.run.model import Run


def nets(graph: VentGraph, carries: str, *, file: str) -> list[nx.MultiGraph]:
    """The nets of one kind of gas. InputError where runs form a loop or reach several openings."""
    whole = graph.of_kind(carries)
    found = []
    for nodes in nx.connected_components(whole):
        net = whole.subgraph(nodes)
        names = ", ".join(sorted(f"'{key}'" for *_, key in net.edges(keys=True)))
        outlets = len([node for node in nodes if is_outdoors(node)])
        if outlets > 1:
            problem = f"these runs reach the open air at {outlets} places, which is not solved yet"
            raise InputError(Problem(file, f"runs {names}", problem, "one outlet"))
        if net.number_of_edges() >= len(nodes):
            problem = "these runs form a loop, which is not solved yet"
            raise InputError(Problem(file, f"runs {names}", problem, "a tree with one outlet"))
        found.append(net)
    return found


def outlet_of(net: nx.MultiGraph) -> Node:
    """The node of a net's opening to the open air."""
    outlet: Node = next(node for node in net if is_outdoors(node))
    return outlet


def distribute(net: nx.MultiGraph, *, runs: Mapping[str, Run], injected: Mapping[str, float]) -> dict[str, float]:
    """Each run's mass flow [kg/s], by mass balance over a tree.

    injected: what each appliance gives to the net, negative for what it takes [kg/s].
    """
    flows: dict[str, float] = {}
    gathered = {node: injected.get(node, 0.0) for node in net if isinstance(node, str)}
    for parent, node in reversed(list(nx.bfs_edges(net, outlet_of(net)))):
        run = runs[next(iter(net[parent][node]))]
        flows[run.name] = gathered[node] if node_of(run, run.start) == node else -gathered[node]
        if isinstance(parent, str):
            gathered[parent] += gathered[node]
    return flows


def carry(
    net: nx.MultiGraph,
    *,
    runs: Mapping[str, Run],
    flows: Mapping[str, float],
    sources: Mapping[Node, Stream],
    idle: Stream,
) -> dict[str, Stream]:
    """The stream in each run, mixed where runs meet.

    sources: the stream that enters the net at a node (an appliance's flue gas, the air outdoors).
    idle: the gas that stands in runs without flow; its mass flow is not used.
    """
    downstream = nx.MultiDiGraph()
    downstream.add_nodes_from(net)
    for name, flow in flows.items():
        start, end = node_of(runs[name], runs[name].start), node_of(runs[name], runs[name].end)
        if flow:
            downstream.add_edge(*((start, end) if flow > 0 else (end, start)), key=name)
    streams = {name: replace(idle, mass_flow=0.0) for name in flows}
    for node in nx.topological_sort(downstream):
        arriving = [streams[key] for *_, key in downstream.in_edges(node, keys=True)]
        if node in sources:
            arriving.append(sources[node])
        if not arriving:
            continue
        mixed = mix_streams(arriving)
        for *_, key in downstream.out_edges(node, keys=True):
            streams[key] = replace(mixed, mass_flow=abs(flows[key]))
    return streams


def pressures(net: nx.MultiGraph, *, runs: Mapping[str, Run], rises: Mapping[str, float]) -> dict[Node, float]:
    """Total pressure against ambient at every joint [Pa], from the opening inwards.

    rises: how much higher the pressure stands at each run's start than at its end [Pa].
    """
    outlet = outlet_of(net)
    found: dict[Node, float] = {outlet: 0.0}
    for parent, node in nx.bfs_edges(net, outlet):
        run = runs[next(iter(net[parent][node]))]
        rise = rises[run.name]
        found[node] = found[parent] + (rise if node_of(run, run.start) == node else -rise)
    return found
