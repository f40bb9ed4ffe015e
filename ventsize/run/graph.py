"""A job's runs as a graph: joints are nodes, runs are edges between them.

Flue gas and combustion air are two graphs that share only the appliances and the open air. The
open air is at one pressure, so that every run that reaches it gets a node of its own there.
"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

import networkx as nx

from ventsize.catalog.library import Catalog
from ventsize.jobfile import job as typed
from ventsize.jobfile.document import nearest
from ventsize.jobfile.problems import InputError, Problem
from ventsize.run.build import build_run
from ventsize.run.joints import with_turns
from ventsize.run.model import Run

KINDS = ("flue gas", "combustion air")
MOST_WAYS = 200  # from one appliance, in a net of many loops; more than any vent has

Node = str | tuple[str, str]
"""A joint by name, or an opening to the open air: ("outdoors", the run that ends there)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class VentGraph:
    """Every run of a job, and which runs meet where. Each is itself alone: what follows from it is kept by identity.

    junctions: the fitting at a joint, by the joint's name, where the job tells.
    appliances: names of the appliances, each the joint at its collar.
    """

    runs: Mapping[str, Run]
    junctions: Mapping[str, typed.Joint]
    appliances: tuple[str, ...]

    def every_way(self) -> Iterator[tuple[Run, ...]]:
        """The ways of both gases from every appliance that lead through several runs."""
        if all(typed.OUTDOORS in (run.start, run.end) for run in self.runs.values()):
            return
        for carries, appliance in itertools.product(KINDS, self.appliances):
            yield from (way for way in paths_out(self, appliance, carries) if len(way) > 1)

    def leads_out(self, run: Run) -> bool:
        """Whether a run is listed from the appliance outwards; one between joints just as far out counts as it is."""
        if run.start in self.appliances or run.end in self.appliances:
            return run.start in self.appliances
        far = _hops_out(_joined(self, run.carries))
        return far[node_of(run, run.start)] >= far[node_of(run, run.end)]

    def runs_at(self, joint: str) -> tuple[Run, ...]:
        """The runs that meet at a joint."""
        return tuple(run for run in self.runs.values() if joint in (run.start, run.end))


Joined = tuple[tuple[Node, Node, str], ...]
"""Which runs meet where, however they are built: both nodes and the name of each."""


def _joined(graph: VentGraph, carries: str) -> Joined:
    runs = (run for run in graph.runs.values() if run.carries == carries)
    return tuple((node_of(run, run.start), node_of(run, run.end), run.name) for run in runs)


def net_of(graph: VentGraph, carries: str) -> nx.MultiGraph:
    """The runs that carry one kind of gas, not to be changed; edges are keyed by the run's name."""
    return _net(_joined(graph, carries))


@lru_cache(maxsize=32)
def _net(joined: Joined) -> nx.MultiGraph:
    net = nx.MultiGraph()
    for start, end, name in joined:
        net.add_edge(start, end, key=name)
    return net


@lru_cache(maxsize=128)
def paths_out(graph: VentGraph, appliance: str, carries: str) -> tuple[tuple[Run, ...], ...]:
    """The ways of one gas from an appliance to the open air, appliance first: at most one more than MOST_WAYS."""
    return tuple(tuple(graph.runs[name] for name in way) for way in _ways_out(_joined(graph, carries), appliance))


@lru_cache(maxsize=128)
def _ways_out(joined: Joined, appliance: str) -> tuple[tuple[str, ...], ...]:
    net = _net(joined)
    if appliance not in net:
        return ()
    openings = [node for node in net if is_outdoors(node)]
    ways = itertools.islice(nx.all_simple_edge_paths(net, appliance, openings), MOST_WAYS + 1)
    return tuple(tuple(name for *_, name in way) for way in ways)


@lru_cache(maxsize=128)
def _hops_out(joined: Joined) -> Mapping[Node, int]:
    """How many runs lie between a joint and the nearest opening."""
    net = _net(joined)
    return dict(nx.multi_source_dijkstra_path_length(net, {node for node in net if is_outdoors(node)}))


def node_of(run: Run, joint: str) -> Node:
    """The node of a run's joint: its name, or for the open air one node for each run."""
    return (typed.OUTDOORS, run.name) if joint == typed.OUTDOORS else joint


def is_outdoors(node: Node) -> bool:
    """Whether a node is an opening to the open air."""
    return isinstance(node, tuple)


def build_graph(job: typed.Job, *, catalog: Catalog, file: str) -> VentGraph:
    """The graph of a job's runs.

    Raises InputError, naming the run or joint, where a run ends nowhere, where runs reach no outdoors
    or no appliance, where the two kinds of gas share a joint, and for every fault of a single run.
    """
    runs: dict[str, Run] = {}
    lost = _lost_joints(job)
    faults = [Problem(file, *_dead_end(job, run, joint)) for run in job.runs for joint in run.between if joint in lost]
    for run in job.runs:
        # A joint that leads nowhere is said once: a terminal there was put at what was meant for the open air.
        start, end = (typed.OUTDOORS if joint in lost else joint for joint in run.between)
        try:
            runs[run.name] = build_run(replace(run, between=(start, end)) if lost else run, catalog=catalog, file=file)
        except InputError as error:
            faults += error.problems
    if faults:
        raise InputError(faults)
    junctions = {joint.name: joint for joint in job.joints}
    graph = graph_of(runs, junctions=junctions, appliances=tuple(appliance.name for appliance in job.appliances))
    faults = [Problem(file, *fault) for fault in _faults(graph)]
    if faults:
        raise InputError(faults)
    return graph


def graph_of(
    runs: Mapping[str, Run], *, junctions: Mapping[str, typed.Joint], appliances: tuple[str, ...]
) -> VentGraph:
    """The graph of runs already built, with what follows from how they meet."""
    graph = VentGraph(runs=runs, junctions=junctions, appliances=appliances)
    return replace(graph, runs=with_turns(graph))


Fault = tuple[str, str, str]


def _lost_joints(job: typed.Job) -> set[str]:
    """Joints that are neither an appliance nor the open air, and that no other run meets."""
    met = Counter(joint for run in job.runs for joint in run.between)
    known = {typed.OUTDOORS, *(appliance.name for appliance in job.appliances)}
    return {joint for joint, count in met.items() if count == 1 and joint not in known}


def _faults(graph: VentGraph) -> list[Fault]:
    return _shared_joints(graph) or [
        *_junction_faults(graph),
        *_collars_joined(graph),
        *(fault for carries in KINDS for fault in _connection_faults(graph, carries)),
    ]


def _shared_joints(graph: VentGraph) -> list[Fault]:
    seen: dict[str, str] = {}
    found = []
    for run in graph.runs.values():
        for joint in (run.start, run.end):
            if joint == typed.OUTDOORS or joint in graph.appliances:
                continue
            if seen.setdefault(joint, run.carries) != run.carries:
                problem = f"joint '{joint}' is already one of a run that carries {seen[joint]}"
                found.append((f"run '{run.name}'", problem, "a joint of its own for each kind of gas"))
    return found


def _junction_faults(graph: VentGraph) -> list[Fault]:
    found = []
    for name, joint in graph.junctions.items():
        meeting = [run.name for run in graph.runs_at(name)]
        if not meeting:
            joints = {j for run in graph.runs.values() for j in (run.start, run.end)} - {typed.OUTDOORS}
            found.append((f"joint '{name}'", "no run starts or ends there", nearest(name, joints)))
            continue
        if len(meeting) != 3:
            found.append((f"joint '{name}'", f"{len(meeting)} runs meet in this {joint.fitting}", "three runs"))
        for run in joint.in_line:
            if run not in meeting:
                problem = f"run '{run}' does not meet it"
                found.append((f"joint '{name}', in_line", problem, f"two of: {', '.join(meeting)}"))
        if joint.in_line[0] == joint.in_line[1]:
            found.append((f"joint '{name}', in_line", "both runs are the same one", "two different runs"))
    return found


def _collars_joined(graph: VentGraph) -> list[Fault]:
    """An appliance whose gas would have to pass another's collar."""
    return [
        (
            f"run '{run.name}'",
            f"it goes from the collar of one appliance, '{run.start}', to that of another, '{run.end}'",
            "a joint of its own (a tee or wye) where their gas meets",
        )
        for run in graph.runs.values()
        if run.start in graph.appliances and run.end in graph.appliances
    ]


def _connection_faults(graph: VentGraph, carries: str) -> list[Fault]:
    net = net_of(graph, carries)
    found: list[Fault] = []
    for nodes in nx.connected_components(net):
        names = ", ".join(sorted(f"'{key}'" for *_, key in net.edges(nodes, keys=True)))
        place = f"runs {names}" if "," in names else f"run {names}"
        if not any(is_outdoors(node) for node in nodes):
            found.append((place, "no run of these reaches the open air", f"one that ends at '{typed.OUTDOORS}'"))
        elif not any(node in graph.appliances for node in nodes):
            found.append((place, "no appliance is joined to it", f"one of: {', '.join(graph.appliances)}"))
        else:
            found += _side_loops(graph, net.subgraph(nodes))
    return found


def _side_loops(graph: VentGraph, net: nx.MultiGraph) -> list[Fault]:
    """Runs of a net that lie on no way from an appliance to the open air: a loop that leads back to where it began."""
    outside = object()  # stands for the open air and, joined to every appliance, closes every way to it
    whole = nx.Graph()
    for start, end in net.edges():
        whole.add_edge(*(outside if is_outdoors(node) else node for node in (start, end)))
    for name in graph.appliances:
        if name in net:
            whole.add_edge(name, outside)
    useful = {
        frozenset(edge)
        for part in nx.biconnected_component_edges(whole)
        if any(outside in edge for edge in part)
        for edge in part
    }
    idle = [
        key
        for start, end, key in net.edges(keys=True)
        if frozenset(outside if is_outdoors(node) else node for node in (start, end)) not in useful
    ]
    if not idle:
        return []
    names = ", ".join(sorted(f"'{key}'" for key in idle))
    problem = "they form a loop that leads from no appliance to the open air"
    return [(f"runs {names}", problem, "runs on a way from an appliance to 'outdoors'")]


def _dead_end(job: typed.Job, run: typed.Run, node: str) -> Fault:
    joints = (joint for other in job.runs if other.carries == run.carries for joint in other.between if joint != node)
    known = [typed.OUTDOORS, *(appliance.name for appliance in job.appliances), *joints]
    problem = f"it ends at '{node:.40}', where nothing else begins"
    return (f"run '{run.name}'", problem, f"an appliance, '{typed.OUTDOORS}' or a joint: {nearest(node, known)}")
