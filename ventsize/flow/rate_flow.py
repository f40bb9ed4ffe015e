"""What is found of the flow in a job's runs at one firing rate, and what it is found from."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from ventsize.finding import Finding
from ventsize.flow.cooling import Climate, RunCooling
from ventsize.flow.doubt import LAYOUT, Doubts, range_of, run_terms, share_within
from ventsize.flow.ends import CALM, Ends
from ventsize.flow.meeting import LegLoss
from ventsize.flow.pieces import PieceFlow, RunWalk, SectionFlow
from ventsize.flow.stream import Stream
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.model import Run, Section


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


def straight_outdoors(flow: RunFlow, *, wind: float, room: float | None) -> RunFlow:
    """A run between an appliance and the open air, by itself, with its pressures.

    wind: at its outdoor end; room: of the room, None where the job does not state it [Pa].
    """
    ends_outdoors = flow.run.end == OUTDOORS
    sign = 1.0 if flow.forward is ends_outdoors else -1.0

    def level(outdoors: float, draft: float) -> tuple[float, float]:
        inner = outdoors + sign * (flow.pressure_drop - draft)
        return (inner, outdoors) if ends_outdoors else (outdoors, inner)

    unhelped = min(0.0, flow.draft)
    levels = Levels(level(wind, flow.draft), level(wind, unhelped), level(0.0, flow.draft), level(0.0, unhelped))
    return replace(flow, levels=levels, room=room)
