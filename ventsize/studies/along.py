"""What a gauge and a thermometer moved along each run would show, at each rate, with cooling and without."""

from __future__ import annotations

from dataclasses import dataclass

from ventsize.check.inputs import Inputs
from ventsize.check.verdict import check
from ventsize.finding import Finding
from ventsize.flow.cooling import Point
from ventsize.flow.rate_flow import RunFlow
from ventsize.jobfile.job import OUTDOORS
from ventsize.studies.profile import Marks, marks_along

Place = tuple[float, float]
"""Distance along the gas's way [m], and static pressure against ambient there [Pa]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AlongRate:
    """One run at one firing rate, counted the way the gas moves.

    start, end: the joints it moves between. points: temperatures on the way, with cooling. marks: what it passes.
    pressure: static, with cooling; pressure_plain: with the gas at one temperature all along.
    """

    run: str
    carries: str
    rate: str
    start: str
    end: str
    points: tuple[Point, ...]
    marks: Marks
    pressure: tuple[Place, ...]
    pressure_plain: tuple[Place, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Along:
    """Every run with flow at every rate. cooling: whether the job itself has it on."""

    title: str
    rates: tuple[AlongRate, ...]
    cooling: bool
    cautions: tuple[Finding, ...]

    def of(self, run: str) -> tuple[AlongRate, ...]:
        """One run at each of its rates."""
        return tuple(rate for rate in self.rates if rate.run == run)


def along(inputs: Inputs) -> Along:
    """The study. Raises InputError as `check` does."""
    plain, cooled = (check(inputs, cooling=cooling) for cooling in (False, True))
    found = []
    for bare, run in zip(plain.runs, cooled.runs, strict=True):
        for before, rate in zip(bare.rates, run.rates, strict=True):
            flow = rate.flow
            if not flow.stream.mass_flow or flow.cooling is None:
                continue
            ends = (run.run.start, run.run.end)
            found.append(
                AlongRate(
                    run=run.run.name,
                    carries=run.run.carries,
                    rate=rate.name,
                    start=ends[0] if flow.forward else ends[1],
                    end=ends[1] if flow.forward else ends[0],
                    points=flow.cooling.points,
                    marks=marks_along(run.run, run.serves, forward=flow.forward),
                    pressure=static_pressures(flow),
                    pressure_plain=static_pressures(before.flow),
                )
            )
    return Along(title=inputs.job.title, rates=tuple(found), cooling=inputs.job.cooling, cautions=cooled.findings)


def static_pressures(flow: RunFlow) -> tuple[Place, ...]:
    """What a manometer shows along a run, the way the gas moves: two places a piece, where it begins and ends.

    A fitting is a step at its place; what is lost in a tee or wye stands at the joint, and beyond an open end there is
    the pressure of the air outdoors.
    """
    forward = flow.forward
    first, last = (flow.run.start, flow.run.end) if forward else (flow.run.end, flow.run.start)
    total = flow.total_pressure(first)
    total -= sum(junction.pressure_drop for junction in flow.junctions if junction.joint == first)
    entering = total - (flow.total_pressure(first) - flow.static_pressure(first))
    distance = 0.0
    found = []
    for piece in flow.pieces if forward else reversed(flow.pieces):
        found.append((distance, total - piece.at.dynamic_pressure))
        distance += piece.piece.length
        total -= piece.pressure_drop - piece.draft
        found.append((distance, total - piece.at.dynamic_pressure))
    leaving = total - (flow.total_pressure(last) - flow.static_pressure(last))
    found[0] = (0.0, 0.0 if first == OUTDOORS else entering)
    found[-1] = (distance, 0.0 if last == OUTDOORS else leaving)
    return tuple(found)
