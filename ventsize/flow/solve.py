"""The flow in a job's runs at every firing rate.

The flows are known at the appliances: flue gas leaves there, combustion air arrives there. What each
run carries follows from that (`network`), what it loses from what it carries (`pieces`,
`junctions`), and the pressures from both.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import networkx as nx

from ventsize.finding import Finding
from ventsize.finding.halting import go_on
from ventsize.flow import friction, network
from ventsize.flow.cooling import Climate, CoolingWalk, RunCooling, cool_run
from ventsize.flow.meeting import meeting_losses
from ventsize.flow.pieces import FrictionLaw, RunWalk
from ventsize.flow.rate_flow import Firing, Levels, RateFlow, RunFlow, sum_up
from ventsize.flow.settling import loop_findings, next_part, unclosed
from ventsize.flow.stream import Stream
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import KINDS, Node, VentGraph, is_outdoors
from ventsize.run.model import Run

MOST_ROUNDS = 60  # of finding the flow and what gas it carries
MOST_IN_VAIN = 5  # rounds one after the other in which no flow is found at all
CLOSED = 1e-9  # of the largest pressure along a run; what may be left over around a loop


Followed = dict[tuple[str, bool, Stream], RunCooling]
"""How streams cooled along the runs of a graph in one climate, by run, direction and stream."""


def solve(graph: VentGraph, firing: Firing, *, followed: Followed | None = None) -> RateFlow:
    """The flow in every run at one firing rate.

    Where it does not settle, in a net with loops, the runs of that net say so.

    followed: of other rates of the same graph and climate, and then of this one too; a run that carries the same at
    several rates is followed once.
    """
    go_on()
    flows: dict[str, RunFlow] = {}
    findings: list[Finding] = []
    for carries in KINDS:
        for net in network.nets(graph, carries):
            part, about = _solved(graph, net, firing, carries, {} if followed is None else followed)
            flows.update(part)
            findings += about
    return RateFlow(firing=firing, runs={name: flows[name] for name in graph.runs}, findings=tuple(findings))


def _solved(
    graph: VentGraph, net: nx.MultiGraph, firing: Firing, carries: str, followed: Followed
) -> tuple[dict[str, RunFlow], tuple[Finding, ...]]:
    """The flow in a net, with what it would be in still air; see `RunFlow.levels`."""
    windy = _Net(graph, net, firing, carries, followed)
    flows, said = windy.solved()
    if not windy.wind_across():
        return flows, said
    still = _Net(graph, net, replace(firing, ends=replace(firing.ends, wind={})), carries, followed).solved()[0]
    found = {
        name: replace(
            flow,
            levels=flow.levels._replace(calm=still[name].levels.calm, calm_unhelped=still[name].levels.calm_unhelped),
            settled=flow.settled and still[name].settled,
        )
        for name, flow in flows.items()
    }
    return found, said


class _Net:
    """One net of runs at one firing rate."""

    def __init__(self, graph: VentGraph, net: nx.MultiGraph, firing: Firing, carries: str, followed: Followed) -> None:
        self._graph = graph
        self._net = net
        self._firing = firing
        self._outwards = carries == "flue gas"
        self._runs = {key: graph.runs[key] for *_, key in net.edges(keys=True)}
        self._spread = network.spread(net)
        wind = firing.ends.wind
        self._wind = {name: wind.get(name, 0.0) * _outdoor_end(run) for name, run in self._runs.items()}
        self._still: Mapping[str, float] = {}
        self._cooled: dict[str, RunCooling] = {}
        self._followed = followed
        self._streams: dict[str, Stream] = {}
        self._sources: dict[Node, Stream] = {n: firing.outdoors for n in net if is_outdoors(n)}
        self._idle = firing.outdoors
        self._doubts = firing.flue_doubts if self._outwards else firing.air_doubts
        if self._outwards:
            burning = {name: stream for name, stream in firing.flue.items() if name in net}
            self._idle = next(iter(burning.values()), firing.outdoors)
            self._sources.update(burning)

    def solved(self) -> tuple[dict[str, RunFlow], tuple[Finding, ...]]:
        """Every run with its flow and pressures, and the findings about them."""
        taken_in = self._firing.flue if self._outwards else self._firing.air
        injected = {n: s.mass_flow if self._outwards else -s.mass_flow for n, s in taken_in.items()}
        given = network.distribute(self._spread, runs=self._runs, injected=injected)
        driven = any(given.values()) or self.wind_across()
        if not self._spread.closing or not driven:
            flows, findings = self._at(given, friction.friction_factor)
            return self._with_pressures(flows, settled=True), findings
        return self._balanced(given)

    def wind_across(self) -> bool:
        """Whether the net's openings are at more than one pressure."""
        ends = self._firing.ends.wind
        return len({ends.get(node[1], 0.0) for node in self._net if is_outdoors(node)}) > 1

    def _at(self, flows: Mapping[str, float], law: FrictionLaw) -> tuple[dict[str, RunFlow], tuple[Finding, ...]]:
        """Every run at flows that are known, without its pressures."""
        runs = self._runs
        leaves = None if self._firing.climate is None else self._cooling(flows, self._firing.climate)
        streams = self._streams = network.carry(
            runs=runs, flows=flows, sources=self._sources, idle=self._idle, leaves=leaves, before=self._streams
        )
        walks = {name: self._walk(run, streams[name], flows[name], law) for name, run in runs.items()}
        met = meeting_losses(self._graph, runs=runs, flows=flows, walks=walks, outwards=self._outwards)
        self._still = met.still
        found = {n: sum_up(run, streams[n], walks[n], met.of.get(n, ()), self._doubts) for n, run in runs.items()}
        return found, met.findings

    def _cooling(self, flows: Mapping[str, float], climate: Climate) -> network.Leaves:
        """What a run's stream has become where it leaves the run; the way there is kept."""

        def leaves(name: str, stream: Stream) -> Stream:
            forward, known = flows[name] > 0.0, self._cooled.get(name)
            if known is not None and known.forward is not forward:
                known = None
            if known is None:
                known = self._followed.get((name, forward, stream))
            if known is None or known.inlet != stream:
                grid = None if known is None else known.grid
                known = cool_run(self._runs[name], stream=stream, forward=forward, climate=climate, grid=grid)
                if grid is None:
                    self._followed[name, forward, stream] = known
            self._cooled[name] = known
            return self._cooled[name].outlet

        return leaves

    def _walk(self, run: Run, stream: Stream, flow: float, law: FrictionLaw) -> RunWalk:
        # A run at rest is taken to lead the way its gas would go: a vent outwards, an air pipe inwards.
        leads_out = run.end == OUTDOORS or run.start != OUTDOORS
        forward = flow > 0.0 if flow else leads_out is self._outwards
        outside, climate = self._firing.outdoors.density, self._firing.climate
        if climate is None:
            return RunWalk(run, stream=stream, forward=forward, outside_density=outside, friction_law=law)
        return CoolingWalk(
            run,
            stream=stream,
            forward=forward,
            outside_density=outside,
            climate=climate,
            friction_law=law,
            cooling=self._cooled.get(run.name),
        )

    def _balanced(self, given: Mapping[str, float]) -> tuple[dict[str, RunFlow], tuple[Finding, ...]]:
        """The flows that close every loop. The gas in each run follows from the flows, and they from the gas."""
        from ventsize.flow.balance import balance
        from ventsize.flow.laws import ramped_friction_factor

        runs = list(self._runs.values())
        loops = network.cycles(self._spread, runs=self._runs)
        flows = dict(given)
        solved, findings = self._at(flows, ramped_friction_factor)
        rises: dict[str, float] | None = None
        way: dict[str, float] = {}
        settled, part, in_vain = False, 1.0, 0
        for _ in range(MOST_ROUNDS):
            found = balance(
                self._graph,
                runs,
                loops=loops,
                start=flows,
                streams={name: flow.stream for name, flow in solved.items()},
                outside_density=self._firing.outdoors.density,
                rises=rises,
                ends=self._wind,
            )
            there = dict(zip(self._runs, found.flows.tolist(), strict=True))
            if rises is None:
                flows = there
            else:
                before, way = way, {name: there[name] - flows[name] for name in flows}
                part = next_part(part, before, way)
                flows = {name: flows[name] + part * way[name] for name in flows}
            solved, findings = self._at(flows, ramped_friction_factor)
            rises = self._rises(solved)
            if found.converged and unclosed(loops, rises) <= CLOSED:
                settled = True
                break
            in_vain = 0 if found.converged else in_vain + 1
            if in_vain == MOST_IN_VAIN:
                break
        about_loops = loop_findings(self._firing.name, solved, outwards=self._outwards, settled=settled)
        return self._with_pressures(solved, settled=settled), (*findings, *about_loops)

    def _with_pressures(self, solved: Mapping[str, RunFlow], *, settled: bool) -> dict[str, RunFlow]:
        around = {name for loop in network.cycles(self._spread, runs=self._runs) for name in loop}
        helped, unhelped = (self._levels(solved, helped=helped) for helped in (True, False))
        calm, calm_unhelped = helped, unhelped
        if any(self._wind.values()):
            calm, calm_unhelped = (self._levels(solved, helped=helped, calm=True) for helped in (True, False))
        return {
            name: replace(
                flow,
                levels=Levels(helped[name], unhelped[name], calm[name], calm_unhelped[name]),
                room=self._firing.ends.room,
                settled=settled,
                divided=name in around,
            )
            for name, flow in solved.items()
        }

    def _levels(
        self, solved: Mapping[str, RunFlow], *, helped: bool, calm: bool = False
    ) -> dict[str, tuple[float, float]]:
        """Total pressure at each run's start and end against still air outdoors [Pa]."""
        rises = self._rises(solved, helped=helped, calm=calm)
        found = network.pressures(self._spread, runs=self._runs, rises=rises)
        wind = {} if calm else self._firing.ends.wind

        def at(run: Run, joint: str) -> float:
            return wind.get(run.name, 0.0) if joint == OUTDOORS else found[joint]

        return {name: (at(run, run.start), at(run, run.end)) for name, run in self._runs.items()}

    def _rises(self, solved: Mapping[str, RunFlow], *, helped: bool = True, calm: bool = False) -> dict[str, float]:
        """How much higher the pressure stands at each run's start than at its end, openings taken as one level [Pa].

        helped: with help from draft. The wind at a run's outdoor end is taken as part of what the run loses.
        """
        return {
            name: (flow.pressure_drop - (flow.draft if helped else min(0.0, flow.draft)))
            * (1.0 if flow.forward else -1.0)
            + self._still.get(name, 0.0)
            + (0.0 if calm else self._wind[name])
            for name, flow in solved.items()
        }


def _outdoor_end(run: Run) -> float:
    """1 for a run that ends outdoors, -1 for one that starts there, 0 for others."""
    return float((run.end == OUTDOORS) - (run.start == OUTDOORS))
