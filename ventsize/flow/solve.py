"""The flow in a job's runs at every firing rate.

The flows are known at the appliances: flue gas leaves there, combustion air arrives there. What each
run carries follows from that (`network`), what it loses from what it carries (`pieces`,
`junctions`), and the pressures from both.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import networkx as nx

from ventsize.flow import network
from ventsize.flow.cooling import Climate, CoolingWalk, RunCooling, cool_run
from ventsize.flow.meeting import LegLoss, meeting_losses
from ventsize.flow.pieces import PieceFlow, RunWalk, SectionFlow
from ventsize.flow.stream import Stream
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import KINDS, Node, VentGraph, is_outdoors
from ventsize.run.model import Run, Section


@dataclass(frozen=True, slots=True, kw_only=True)
class Firing:
    """Which appliances fire, and how: one firing rate, or a named combination of them.

    rates: each appliance's rate by name, None where it is off.
    flue, air: each firing appliance's stream of flue gas and of combustion air.
    outdoors: the air outside, at rest.
    climate: what pipes run through, where gas is to cool on its way; None for one temperature in each run.
    """

    name: str
    rates: Mapping[str, str | None]
    flue: Mapping[str, Stream]
    air: Mapping[str, Stream]
    outdoors: Stream
    climate: Climate | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RunFlow:
    """One run with its stream.

    forward: whether the gas moves the way the run is walked.
    pressure_drop: loss of total pressure, ends and junctions included, buoyancy not [Pa];
    its low and high from the spread of fitting methods.
    draft: buoyancy along the run, positive where it helps the gas along [Pa].
    start_pressure, end_pressure: total pressure against ambient at the run's two joints [Pa].
    """

    run: Run
    stream: Stream
    forward: bool
    pieces: tuple[PieceFlow, ...]
    junctions: tuple[LegLoss, ...]
    pressure_drop: float
    pressure_drop_low: float
    pressure_drop_high: float
    draft: float
    start_pressure: float
    end_pressure: float
    walk: RunWalk

    def at(self, section: Section) -> SectionFlow:
        """The run's stream in a section, be it one of the run's own or another."""
        return self.walk.at(section)

    def static_pressure(self, joint: str) -> float:
        """What a manometer shows against ambient at one of the run's joints [Pa]."""
        total = self.start_pressure if joint == self.run.start else self.end_pressure
        walk = self.walk
        at = walk.at_joint(joint) if isinstance(walk, CoolingWalk) else self.at(self.run.section_at(joint))
        return total - at.dynamic_pressure

    @property
    def cooling(self) -> RunCooling | None:
        """How the gas cools on its way; None where it is figured at one temperature."""
        return self.walk.cooling if isinstance(self.walk, CoolingWalk) else None


@dataclass(frozen=True, slots=True, kw_only=True)
class RateFlow:
    """Every run of a job at one firing rate (or combination)."""

    firing: Firing
    runs: Mapping[str, RunFlow]
    cautions: tuple[str, ...]


def solve(graph: VentGraph, firing: Firing, *, file: str) -> RateFlow:
    """The flow in every run at one firing rate. Raises InputError for loops and for several outlets."""
    flows: dict[str, RunFlow] = {}
    cautions: list[str] = []
    for carries in KINDS:
        for net in network.nets(graph, carries, file=file):
            part, said = _solve_net(graph, net, firing, carries)
            flows.update(part)
            cautions += said
    return RateFlow(firing=firing, runs={name: flows[name] for name in graph.runs}, cautions=tuple(cautions))


def _solve_net(
    graph: VentGraph, net: nx.MultiGraph, firing: Firing, carries: str
) -> tuple[dict[str, RunFlow], tuple[str, ...]]:
    outwards = carries == "flue gas"
    taken_in: Mapping[str, Stream] = firing.flue if outwards else firing.air
    injected = {name: stream.mass_flow if outwards else -stream.mass_flow for name, stream in taken_in.items()}
    names = [key for *_, key in net.edges(keys=True)]
    runs = {name: graph.runs[name] for name in names}
    flows = network.distribute(net, runs=runs, injected=injected)
    sources: dict[Node, Stream] = {n: firing.outdoors for n in net if is_outdoors(n)}
    if outwards:
        sources = {name: stream for name, stream in taken_in.items() if name in net}
    idle = next(iter(sources.values()), firing.outdoors)
    leaves = None if firing.climate is None else _cooling(runs, flows, firing.climate)
    streams = network.carry(net, runs=runs, flows=flows, sources=sources, idle=idle, leaves=leaves)
    walks = {name: _walk(runs[name], streams[name], flows[name], outwards, firing) for name in names}
    junctions, cautions = meeting_losses(graph, runs=runs, flows=flows, walks=walks)
    solved = {name: sum_up(runs[name], streams[name], walks[name], junctions.get(name, ())) for name in names}
    rises = {name: (flow.pressure_drop - flow.draft) * (1.0 if flow.forward else -1.0) for name, flow in solved.items()}
    levels = network.pressures(net, runs=runs, rises=rises)
    by_joint = {OUTDOORS: 0.0, **{node: level for node, level in levels.items() if isinstance(node, str)}}
    return {
        name: replace(flow, start_pressure=by_joint[flow.run.start], end_pressure=by_joint[flow.run.end])
        for name, flow in solved.items()
    }, cautions


def _cooling(runs: Mapping[str, Run], flows: Mapping[str, float], climate: Climate) -> network.Leaves:
    """What a run's stream has become where it leaves the run."""
    return lambda name, stream: cool_run(runs[name], stream=stream, forward=flows[name] > 0.0, climate=climate).outlet


def _walk(run: Run, stream: Stream, flow: float, outwards: bool, firing: Firing) -> RunWalk:
    # A run at rest is taken to lead the way its gas would go: a vent outwards, an air pipe inwards.
    leads_out = run.end == OUTDOORS or run.start != OUTDOORS
    forward = flow > 0.0 if flow else leads_out is outwards
    outside = firing.outdoors.density
    if firing.climate is not None:
        return CoolingWalk(run, stream=stream, forward=forward, outside_density=outside, climate=firing.climate)
    return RunWalk(run, stream=stream, forward=forward, outside_density=outside)


def sum_up(run: Run, stream: Stream, walk: RunWalk, junctions: tuple[LegLoss, ...]) -> RunFlow:
    """A run's losses put together; its pressures are still to be found."""
    pieces = walk.pieces()
    extra = math.fsum(junction.pressure_drop for junction in junctions)
    return RunFlow(
        run=run,
        stream=stream,
        forward=walk.forward,
        pieces=pieces,
        junctions=junctions,
        pressure_drop=math.fsum(p.pressure_drop for p in pieces) + extra,
        pressure_drop_low=math.fsum(p.pressure_drop_low for p in pieces) + extra,
        pressure_drop_high=math.fsum(p.pressure_drop_high for p in pieces) + extra,
        draft=math.fsum(p.draft for p in pieces),
        start_pressure=0.0,
        end_pressure=0.0,
        walk=walk,
    )
