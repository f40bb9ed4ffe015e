"""One rate and weather: what every piece loses there, and how that adds up to what the taps show.

Along a tree of runs the pressure at a tap is what lies between it and the open air, added up. Each piece's loss follows
its flow by a power law through three flows that were solved.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ventsize.check.appliances import surroundings
from ventsize.check.budget import gradient_of
from ventsize.finding import Finding
from ventsize.flow.pieces import PieceFlow, section_flow
from ventsize.flow.rate_flow import RateFlow, RunFlow
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.model import Run, Section
from ventsize.studies.readings.conditions import Conditions
from ventsize.studies.readings.places import AIR, FLUE, Tap, ordered
from ventsize.studies.readings.readout import dynamic_at, head_at, shown

Array = NDArray[np.float64]
PieceKey = tuple[str, int]
"""A piece: its run, and its number among the run's `ordered` pieces, from 0."""

LESS, MORE = 0.7, 1.25  # shares of the flow through which the power laws are drawn


class Case:
    """A rate and weather.

    rows: numbers of the taps read in it. keys: every piece. loss, low, high, draft, dynamic: theirs [Pa].
    path: of each tap of pressure in a pipe, which pieces lie between it and the open air, +1 in a vent and -1 in an
    air pipe. base: what the taps show [Pa], [K] or [-], not a number where that is not known; why: the reason then.
    """

    def __init__(self, conditions: Conditions, rate: str, outdoor: float | None, taps: Mapping[int, Tap]) -> None:
        self.conditions, self.rate, self.outdoor = conditions, rate, outdoor
        self.rows = np.array(list(taps), dtype=int)
        self.taps = tuple(taps.values())
        self._known: dict[PieceKey, Array] = {}
        self.flow = conditions.flow(rate, outdoor)
        self.divided = any(run.divided or not run.settled for run in self.flow.runs.values())
        self.keys: list[PieceKey] = [
            (name, number) for name, run in self.flow.runs.items() for number in range(len(run.run.pieces))
        ]
        self.index = {key: place for place, key in enumerate(self.keys)}
        found = self._pieces(self.flow)
        self.pieces = found
        self.loss = np.array([piece.pressure_drop for piece in found])
        self.low = np.array([piece.pressure_drop_low for piece in found])
        self.high = np.array([piece.pressure_drop_high for piece in found])
        self.draft = np.array([piece.draft for piece in found])
        self.dynamic = np.array([piece.at.dynamic_pressure for piece in found])
        self.power, self.bend = self._laws()
        self.base, self.why = self.values(self.flow)
        self.path = np.zeros((len(self.taps), len(self.keys)))
        self.tap_piece = np.zeros(len(self.taps), dtype=int)
        self.tap_dynamic = np.zeros(len(self.taps))
        for row, tap in enumerate(self.taps):
            if tap.run is not None and tap.kind == "pressure" and not self.divided:
                run = self.flow.runs[tap.run]
                self.path[row] = self.between(tap.run, tap.position)
                self.tap_piece[row] = self.index[tap.run, max(tap.position - 1, 0)]
                self.tap_dynamic[row] = dynamic_at(run, tap.position)
        self.in_pipe = np.array([tap.run is not None and tap.kind == "pressure" for tap in self.taps], dtype=bool)
        self.in_air = np.array([tap.carries == AIR for tap in self.taps], dtype=bool)
        self.head_path, self.head = self._head()

    def _pieces(self, flow: RateFlow) -> list[PieceFlow]:
        made = []
        for run in flow.runs.values():
            by_piece = dict(zip(map(id, run.run.pieces), run.pieces, strict=True))
            made += [by_piece[id(piece)] for piece in ordered(run.run)]
        return made

    def values(self, flow: RateFlow) -> tuple[Array, tuple[Finding | None, ...]]:
        """What the taps show of a flow, and why not where they show nothing."""
        found = [shown(tap, flow, self.conditions, as_it_should_be=self.flow) for tap in self.taps]
        values = np.array([math.nan if isinstance(value, Finding) else value for value in found], dtype=float)
        return values, tuple(value if isinstance(value, Finding) else None for value in found)

    def changed(self, *, air: float = 0.0, warmth: float = 0.0, input: float = 1.0, weather: float = 0.0) -> Array:
        """What the taps show with another burning or weather [K], by a solve."""
        outdoor = self.outdoor
        if weather:
            outdoor = (surroundings(self.conditions.inputs).outdoor if outdoor is None else outdoor) + weather
        flow = self.conditions.flow(self.rate, outdoor, air=air, warmth=warmth, input=input)
        return self.values(flow)[0]

    def _laws(self) -> tuple[Array, Array]:
        """Of each piece, n and m in loss = loss0 · exp(ln s · (n + m · ln s)), s being the share of the flow."""
        less, more = (
            np.array([piece.pressure_drop for piece in self._pieces(self._at_flow(share))]) for share in (LESS, MORE)
        )
        with np.errstate(divide="ignore", invalid="ignore"):
            below = np.log(less / self.loss) / math.log(LESS)
            above = np.log(more / self.loss) / math.log(MORE)
        bend = (above - below) / (math.log(MORE) - math.log(LESS))
        power = below - bend * math.log(LESS)
        sound = np.isfinite(power) & np.isfinite(bend)
        return np.where(sound, power, 2.0), np.where(sound, bend, 0.0)

    def _at_flow(self, share: float) -> RateFlow:
        return self.conditions.flow(self.rate, self.outdoor, flow=share)

    def losses(self, shares: Array) -> Array:
        """Every piece's loss at shares of its flow [Pa]."""
        logs = np.log(np.maximum(shares, 1e-6))
        return np.asarray(self.loss * np.exp(logs * (self.power + self.bend * logs)))

    def between(self, run: str, position: int) -> Array:
        """Which pieces lie between a place and the open air: +1 for those of a vent, -1 for those of an air pipe."""
        if (run, position) in self._known:
            return self._known[run, position]
        found = self._known[run, position] = np.zeros(len(self.keys))
        for key in self.way_out(run, position):
            found[self.index[key]] = 1.0 if self.flow.runs[run].run.carries == FLUE else -1.0
        return found

    def way_out(self, run: str, position: int) -> list[PieceKey]:
        """The pieces between a place and the open air, from there on."""
        flow = self.flow.runs[run]
        keys: list[PieceKey] = []
        seen = set()
        here = position
        while flow.run.name not in seen:
            seen.add(flow.run.name)
            towards_end = _outdoors_ahead(flow)
            numbers = range(here, len(flow.run.pieces)) if towards_end else range(here - 1, -1, -1)
            keys += [(flow.run.name, number) for number in numbers]
            joint = flow.run.end if towards_end else flow.run.start
            following = [] if joint == OUTDOORS else self._leading_on(flow, joint)
            if not following:
                break
            flow = following[0]
            here = 0 if flow.run.start == joint else len(flow.run.pieces)
        return keys

    def _leading_on(self, flow: RunFlow, joint: str) -> list[RunFlow]:
        return [
            other
            for other in self.flow.runs.values()
            if other.run.carries == flow.run.carries
            and other is not flow
            and joint == (other.run.start if _outdoors_ahead(other) else other.run.end)
        ]

    def _head(self) -> tuple[Array, float]:
        """What the inducer works against: which losses count toward it, and the head as it should be [Pa]."""
        counts = np.zeros(len(self.keys))
        if not self.conditions.alone or self.divided:
            return counts, 0.0
        name = self.conditions.inputs.job.appliances[0].name
        for run in self.conditions.inputs.graph.runs_at(name):
            counts += np.abs(self.between(run.name, 0 if run.start == name else len(run.pieces)))
        return counts, head_at(name, self.flow)

    def shares_of(self, run: str) -> Array:
        """Of each piece's flow, how much that of a run is: what a loss of that run's flow takes off it."""
        at = self.flow.runs[run].stream.mass_flow
        flows = np.array([self.flow.runs[name].stream.mass_flow for name, _ in self.keys])
        return np.asarray(np.divide(at, flows, out=np.zeros_like(flows), where=flows > 0.0))

    def gradient_at(self, tap: Tap) -> float:
        """What straight pipe of the size at a tap loses, at the mean state of the gas along it [Pa/m]."""
        assert tap.run is not None
        run = self.flow.runs[tap.run]
        section = section_at(run.run, tap.position)
        return gradient_of(run, section, section_flow(section, run.stream))


def section_at(run: Run, position: int) -> Section:
    """The section behind so many of a run's pieces."""
    pieces = ordered(run)
    return pieces[position - 1].after if position else pieces[0].before


def _outdoors_ahead(flow: RunFlow) -> bool:
    """Whether the open air lies towards the run's end, the way its gas comes from or goes to."""
    return flow.forward if flow.run.carries == FLUE else not flow.forward
