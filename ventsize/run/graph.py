"""A job's runs as a graph: joints are nodes, runs are edges between them.

Flue gas and combustion air are two graphs that share only the appliances and the open air. The
open air is at one pressure, so that every run that reaches it gets a node of its own there.
"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

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

    def runs_at(self, joint: str) -> tuple[Run, ...]:
        """The runs that meet at a joint."""
        return tuple(run for run in self.runs.values() if joint in (run.start, run.end))


@dataclass(frozen=True, slots=True, eq=False)
class Net:
    """Runs that carry one kind of gas. Each is itself alone, as its graph is.

    ends: the two nodes of each run, by its name. ways: from each node, where runs lead, and which.
    """

    ends: Mapping[str, tuple[Node, Node]]
    ways: Mapping[Node, Sequence[tuple[Node, str]]]

    def parts(self) -> Iterator[Net]:
        """The nets that hang together."""
        seen: set[Node] = set()
        for first in self.ways:
            if first in seen:
                continue
            inside, waiting = {first}, [first]
            while waiting:
                fresh = {node for node, _ in self.ways[waiting.pop()]} - inside
                inside |= fresh
                waiting += fresh
            seen |= inside
            yield _net({name: ends for name, ends in self.ends.items() if ends[0] in inside})


def _net(ends: Mapping[str, tuple[Node, Node]]) -> Net:
    ways: dict[Node, list[tuple[Node, str]]] = {}
    for name, (start, end) in ends.items():
        ways.setdefault(start, []).append((end, name))
        ways.setdefault(end, []).append((start, name))
    return Net(ends, ways)


@lru_cache(maxsize=32)
def net_of(graph: VentGraph, carries: str) -> Net:
    """The runs that carry one kind of gas."""
    runs = (run for run in graph.runs.values() if run.carries == carries)
    return _net({run.name: (node_of(run, run.start), node_of(run, run.end)) for run in runs})


@lru_cache(maxsize=128)
def paths_out(graph: VentGraph, appliance: str, carries: str) -> tuple[tuple[Run, ...], ...]:
    """The ways of one gas from an appliance to the open air, appliance first: at most one more than MOST_WAYS."""
    ways = itertools.islice(_ways_out(net_of(graph, carries), appliance), MOST_WAYS + 1)
    return tuple(tuple(graph.runs[name] for name in way) for way in ways)


def _ways_out(net: Net, appliance: str) -> Iterator[tuple[str, ...]]:
    """Every way to an opening that passes no node twice, by the names of its runs."""
    entered: dict[Node, str] = {appliance: ""}  # nodes on the way, with the run that leads to each
    ahead = [iter(net.ways.get(appliance, ()))]
    while ahead:
        step = next((step for step in ahead[-1] if step[0] not in entered), None)
        if step is None:
            ahead.pop()
            entered.popitem()
        elif is_outdoors(step[0]):
            yield (*itertools.islice(entered.values(), 1, None), step[1])
        else:
            entered[step[0]] = step[1]
            ahead.append(iter(net.ways[step[0]]))


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
    found: list[Fault] = []
    for net in net_of(graph, carries).parts():
        names = ", ".join(sorted(f"'{name}'" for name in net.ends))
        place = f"runs {names}" if "," in names else f"run {names}"
        if not any(is_outdoors(node) for node in net.ways):
            found.append((place, "no run of these reaches the open air", f"one that ends at '{typed.OUTDOORS}'"))
        elif not any(node in graph.appliances for node in net.ways):
            found.append((place, "no appliance is joined to it", f"one of: {', '.join(graph.appliances)}"))
        elif len(net.ends) >= len(net.ways):  # a loop: no tree has as many runs as nodes
            found += _side_loops(graph, net)
    return found


def _side_loops(graph: VentGraph, net: Net) -> list[Fault]:
    """Runs of a net that lie on no way from an appliance to the open air: a loop that leads back to where it began."""
    import networkx as nx  # late: most vents have no loop, and a check of those should not wait for it

    outside = object()  # stands for the open air and, joined to every appliance, closes every way to it
    between = {
        name: frozenset(outside if is_outdoors(node) else node for node in ends) for name, ends in net.ends.items()
    }
    whole = nx.Graph(tuple(ends) for ends in between.values() if len(ends) == 2)
    whole.add_edges_from((name, outside) for name in graph.appliances if name in net.ways)
    useful = {
        frozenset(edge)
        for part in nx.biconnected_component_edges(whole)
        if any(outside in edge for edge in part)
        for edge in part
    }
    idle = [name for name, ends in between.items() if ends not in useful]
    if not idle:
        return []
    names = ", ".join(sorted(f"'{name}'" for name in idle))
    problem = "they form a loop that leads from no appliance to the open air"
    return [(f"runs {names}", problem, "runs on a way from an appliance to 'outdoors'")]


def _dead_end(job: typed.Job, run: typed.Run, node: str) -> Fault:
    joints = (joint for other in job.runs if other.carries == run.carries for joint in other.between if joint != node)
    known = [typed.OUTDOORS, *(appliance.name for appliance in job.appliances), *joints]
    problem = f"it ends at '{node:.40}', where nothing else begins"
    return (f"run '{run.name}'", problem, f"an appliance, '{typed.OUTDOORS}' or a joint: {nearest(node, known)}")
