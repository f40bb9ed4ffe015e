"""The flow in a job's runs at every firing rate.

The flows are known at the appliances: flue gas leaves there, combustion air arrives there. What each
run carries follows from that (`network`), what it loses from what it carries (`pieces`,
`junctions`), and the pressures from both.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple

import networkx as nx

from ventsize.finding import Finding
from ventsize.flow import friction, network
from ventsize.flow.cooling import Climate, CoolingWalk, RunCooling, cool_run
from ventsize.flow.doubt import LAYOUT, Doubts, range_of, run_terms, share_within
from ventsize.flow.ends import CALM, Ends
from ventsize.flow.meeting import LegLoss, meeting_losses
from ventsize.flow.pieces import FrictionLaw, PieceFlow, RunWalk, SectionFlow
from ventsize.flow.settling import loop_findings, next_part, unclosed
from ventsize.flow.stream import Stream
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import KINDS, Node, VentGraph, is_outdoors
from ventsize.run.model import Run, Section

MOST_ROUNDS = 60  # of finding the flow and what gas it carries
MOST_IN_VAIN = 5  # rounds one after the other in which no flow is found at all
CLOSED = 1e-9  # of the largest pressure along a run; what may be left over around a loop


@dataclass(frozen=True, slots=True, kw_only=True)
class Firing:
    """Which appliances fire, and how: one firing rate, or a named combination of them.

    rates: each appliance's rate by name, None where it is off.
    flue, air: each firing appliance's stream of flue gas and of combustion air.
    outdoors: the air outside, at rest.
    climate: what pipes run through, where gas is to cool on its way; None for one temperature in each run.
    flue_doubts, air_doubts: how far what is stated of the flue gas and of the combustion air may be off.
    ends: wind at the ends outdoors, and the room, as far as the job states them.
    """

    name: str
    rates: Mapping[str, str | None]
    flue: Mapping[str, Stream]
    air: Mapping[str, Stream]
    outdoors: Stream
    climate: Climate | None = None
    flue_doubts: Doubts = Doubts()
    air_doubts: Doubts = Doubts()
    ends: Ends = CALM


class Levels(NamedTuple):
    """Total pressures at a run's start and end against still air outdoors at their level [Pa].

    windy: with the wind that is stated at the ends outdoors; calm: without. unhelped: with the help of draft left
    out, as on a mild day; where the gas has several ways, with the flows as they are.
    """

    windy: tuple[float, float] = (0.0, 0.0)
    windy_unhelped: tuple[float, float] = (0.0, 0.0)
    calm: tuple[float, float] = (0.0, 0.0)
    calm_unhelped: tuple[float, float] = (0.0, 0.0)


LEVEL = Levels()


@dataclass(frozen=True, slots=True, kw_only=True)
class RunFlow:
    """One run with its stream.

    forward: whether the gas moves the way the run is walked.
    pressure_drop: loss of total pressure, ends and junctions included, buoyancy not [Pa].
    doubts: how far the stream may be off; with those of pipe and fittings they make the low and the high.
    draft: buoyancy along the run, positive where it helps the gas along [Pa].
    levels: total pressures at the run's two joints against still air outdoors at their level [Pa].
    room: pressure of the room, against the same [Pa]; None where the job does not state it.
    settled: False where the flow was sought and not found; nothing here then holds.
    divided: whether the gas has another way beside this run: a pipe in parallel, or another opening.
    """

    run: Run
    stream: Stream
    forward: bool
    pieces: tuple[PieceFlow, ...]
    junctions: tuple[LegLoss, ...]
    pressure_drop: float
    doubts: Doubts
    draft: float
    walk: RunWalk
    levels: Levels = LEVEL
    room: float | None = None
    settled: bool = True
    divided: bool = False
    _off: list[float] = field(default_factory=list, init=False, repr=False, compare=False)

    @property
    def pressure_drop_low(self) -> float:
        """The low end of the range that holds nine in ten truths; never above the pressure drop [Pa]."""
        return self.pressure_drop - self._range()[0]

    @property
    def pressure_drop_high(self) -> float:
        """The high end of that range; never below the pressure drop [Pa]."""
        return self.pressure_drop + self._range()[1]

    @property
    def layout_range(self) -> tuple[float, float]:
        """The loss, low and high, as far as lengths, counts, fittings and joints leave it open [Pa].

        For comparing with straight pipe in the same flow, of which bore, friction and gas are in doubt alike.
        """
        below, above = self._range()[2:]
        return self.pressure_drop - below, self.pressure_drop + above

    def share_within(self, pressure: float) -> float:
        """The share of truths that lose no more than a pressure, as `layout_range` has them [-]."""
        layout = [term for term in run_terms(self, self.doubts) if term.cause in LAYOUT]
        return share_within(layout, pressure - self.pressure_drop)

    def _range(self) -> list[float]:
        # Worked out once it is asked for: of ten thousand variants a second, hardly any is.
        if not self._off:
            terms = run_terms(self, self.doubts)
            self._off.extend((*range_of(terms), *range_of(term for term in terms if term.cause in LAYOUT)))
        return self._off

    def at(self, section: Section) -> SectionFlow:
        """The run's stream in a section, be it one of the run's own or another."""
        return self.walk.at(section)

    @property
    def start_pressure(self) -> float:
        """Total pressure where the run starts, with wind as it is stated [Pa]."""
        return self.levels.windy[0]

    @property
    def end_pressure(self) -> float:
        """Total pressure where the run ends, with wind as it is stated [Pa]."""
        return self.levels.windy[1]

    def total_pressure(self, joint: str, *, helped: bool = True, calm: bool = False) -> float:
        """Total pressure against still air outdoors at one of the run's joints [Pa].

        helped: with the help of draft, or without it as on a mild day; calm: without the wind that is stated.
        """
        levels = self.levels
        if calm:
            at = levels.calm if helped else levels.calm_unhelped
        else:
            at = levels.windy if helped else levels.windy_unhelped
        return at[0] if joint == self.run.start else at[1]

    def static_pressure(self, joint: str, *, helped: bool = True, calm: bool = False) -> float:
        """What a manometer shows at one of the run's joints against still air outdoors [Pa]; see `total_pressure`."""
        return self.total_pressure(joint, helped=helped, calm=calm) - self.walk.at_joint(joint).dynamic_pressure

    def static_pressure_to_room(self, joint: str, *, helped: bool = True) -> float:
        """The same against the room, wind and room as they are stated: against outdoors where the room is not [Pa]."""
        return self.static_pressure(joint, helped=helped) - (self.room or 0.0)

    @property
    def cooling(self) -> RunCooling | None:
        """How the gas cools on its way; None where it is figured at one temperature."""
        return self.walk.cooling


@dataclass(frozen=True, slots=True, kw_only=True)
class RateFlow:
    """Every run of a job at one firing rate (or combination)."""

    firing: Firing
    runs: Mapping[str, RunFlow]
    findings: tuple[Finding, ...]


def solve(graph: VentGraph, firing: Firing) -> RateFlow:
    """The flow in every run at one firing rate.

    Where it does not settle, in a net with loops, the runs of that net say so.
    """
    flows: dict[str, RunFlow] = {}
    findings: list[Finding] = []
    for carries in KINDS:
        for net in network.nets(graph, carries):
            part, about = _solved(graph, net, firing, carries)
            flows.update(part)
            findings += about
    return RateFlow(firing=firing, runs={name: flows[name] for name in graph.runs}, findings=tuple(findings))


def _solved(
    graph: VentGraph, net: nx.MultiGraph, firing: Firing, carries: str
) -> tuple[dict[str, RunFlow], tuple[Finding, ...]]:
    """The flow in a net, with what it would be in still air; see `RunFlow.levels`."""
    windy = _Net(graph, net, firing, carries)
    flows, said = windy.solved()
    if not windy.wind_across():
        return flows, said
    still = _Net(graph, net, replace(firing, ends=replace(firing.ends, wind={})), carries).solved()[0]
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

    def __init__(self, graph: VentGraph, net: nx.MultiGraph, firing: Firing, carries: str) -> None:
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
            if known is None or known.inlet != stream:
                grid = None if known is None else known.grid
                self._cooled[name] = cool_run(
                    self._runs[name], stream=stream, forward=forward, climate=climate, grid=grid
                )
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


def sum_up(run: Run, stream: Stream, walk: RunWalk, junctions: tuple[LegLoss, ...], doubts: Doubts) -> RunFlow:
    """A run's losses put together; its pressures are still to be found."""
    pieces = walk.pieces()
    extra = math.fsum([junction.pressure_drop for junction in junctions])
    return RunFlow(
        run=run,
        stream=stream,
        forward=walk.forward,
        pieces=pieces,
        junctions=junctions,
        pressure_drop=math.fsum([piece.pressure_drop for piece in pieces]) + extra,
        doubts=doubts,
        draft=math.fsum([piece.draft for piece in pieces]),
        walk=walk,
    )
