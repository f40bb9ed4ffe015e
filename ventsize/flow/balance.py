"""How the flow divides where a net has loops or several openings: the losses of its runs and joints, put together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ventsize.flow.laws import RunLaws
from ventsize.flow.loops import LoopFlows, close_loops, solved
from ventsize.flow.meeting import Meeting, meetings, toward, unlisted_changes
from ventsize.flow.stream import Stream
from ventsize.run.graph import VentGraph
from ventsize.run.model import Run

Array = NDArray[np.float64]
_REACH = 1e-6  # of the flow through a joint, over which slopes are taken
_AT_REST = 1e-9  # of the largest flow; what stands for it at a joint without any
DENSE = 60  # runs; in nets of no more than that, sparse matrices cost more than they save
_NEARER = 0.01  # of what a loop is off; nearer is no use while the gas is another
_EASY = (0.25, 1.0)  # shares of the junctions' losses, solved for in turn where all at once does not go


@dataclass(frozen=True, slots=True, kw_only=True)
class _Joint:
    meeting: Meeting
    rows: tuple[int, ...]
    signs: tuple[float, ...]
    per_flow: tuple[float, ...]


class NetLosses:
    """Losses of a net's runs with what they lose at tees, wyes and changes of size, and the slopes of all that.

    added: pressure put on each run's loss besides [Pa], for what `RunLaws` does not know of.
    """

    def __init__(
        self,
        graph: VentGraph,
        runs: Sequence[Run],
        *,
        streams: Mapping[str, Stream],
        outside_density: float,
        added: Array,
        junction_share: float = 1.0,
    ) -> None:
        self._laws = RunLaws(runs, streams=streams, outside_density=outside_density)
        self.added = added
        self._share = junction_share
        rows = {run.name: index for index, run in enumerate(runs)}
        by_name = {run.name: run for run in runs}
        self._joints = []
        for meeting in meetings(graph, by_name):
            own = [by_name[name] for name in meeting.legs]
            areas = [run.section_at(meeting.joint).area for run in own]
            self._joints.append(
                _Joint(
                    meeting=meeting,
                    rows=tuple(rows[run.name] for run in own),
                    signs=tuple(toward(run, meeting.joint) for run in own),
                    per_flow=tuple(
                        1.0 / (2.0 * streams[run.name].density * area**2) for run, area in zip(own, areas, strict=True)
                    ),
                )
            )
        self._changes = [
            (
                rows[change.small.name],
                toward(change.small, change.joint),
                1.0 / (2.0 * streams[change.small.name].density * change.section.area**2),
                change.widening,
                change.narrowing,
            )
            for change in unlisted_changes(graph, by_name).values()
        ]

    def __call__(self, flows: Array) -> tuple[Array, Any]:
        """Losses [Pa] and the matrix of their slopes [Pa·s/kg], sparse where the net is large."""
        losses, diagonal = self._laws(flows)
        losses = losses + self.added
        for row, sign, per_flow, widening, narrowing in self._changes:
            flow = flows[row]
            k = widening if sign * flow > 0.0 else narrowing
            losses[row] += k * per_flow * flow * abs(flow)
            diagonal[row] += 2.0 * k * per_flow * abs(flow)
        entries: list[tuple[int, int, float]] = []
        least = _AT_REST * float(np.max(np.abs(flows), initial=0.0))
        for joint in self._joints:
            entries += self._joint(joint, flows, losses, least)
        entries += [(row, row, slope) for row, slope in enumerate(diagonal.tolist())]
        return losses, _matrix(entries, (len(flows), len(flows)))

    def _joint(self, joint: _Joint, flows: Array, losses: Array, least: float) -> list[tuple[int, int, float]]:
        """Adds a joint's losses to its runs'; the entries of its slopes."""
        arriving = [float(flows[row]) * sign for row, sign in zip(joint.rows, joint.signs, strict=True)]
        raised = joint.meeting.pressures(arriving, per_flow=joint.per_flow)
        for row, sign, pressure in zip(joint.rows, joint.signs, raised, strict=True):
            losses[row] += self._share * sign * pressure
        reach = _REACH * max(*(abs(flow) for flow in arriving), least)
        if reach == 0.0:
            return []
        entries = []
        for column, (at, own_sign) in enumerate(zip(joint.rows, joint.signs, strict=True)):
            moved = list(arriving)
            moved[column] += reach
            there = joint.meeting.pressures(moved, per_flow=joint.per_flow)
            for row, sign, before, after in zip(joint.rows, joint.signs, raised, there, strict=True):
                entries.append((row, at, self._share * sign * own_sign * (after - before) / reach))
        return entries


def balance(
    graph: VentGraph,
    runs: Sequence[Run],
    *,
    loops: Sequence[Mapping[str, float]],
    start: Mapping[str, float],
    streams: Mapping[str, Stream],
    outside_density: float,
    rises: Mapping[str, float] | None,
    ends: Mapping[str, float],
) -> LoopFlows:
    """The flows at which the pressure around every loop adds up.

    start: flows that balance at every joint [kg/s].
    rises: what each run really loses at these, start to end [Pa], where the laws here do not know all of it (gas that
    cools on its way); they are then moved by what they are off. None where the start is no more than a balance.
    ends: what wind at its outdoor end adds to each run's loss [Pa].
    """
    rows = {run.name: index for index, run in enumerate(runs)}
    placed = [(rows[name], column, sign) for column, loop in enumerate(loops) for name, sign in loop.items()]
    matrix = _matrix(placed, (len(runs), len(loops)))
    flows = np.array([start[run.name] for run in runs])
    extra = np.array([ends[run.name] for run in runs])

    def losses(share: float) -> NetLosses:
        return NetLosses(
            graph, runs, streams=streams, outside_density=outside_density, added=extra, junction_share=share
        )

    whole = losses(1.0)
    if rises is None:
        found = close_loops(whole, start=_spread_out(whole, flows, matrix), cycles=matrix)
    else:
        now = np.array([rises[run.name] for run in runs])
        laws, slopes = whole(flows)
        extra = whole.added = extra + now - laws
        found = close_loops(whole, start=flows, cycles=matrix, known=(now, slopes), part=_NEARER)
    if found.converged:
        return found
    flows = close_loops(losses(0.0), start=flows, cycles=matrix).flows
    for share in _EASY:
        found = close_loops(losses(share), start=flows, cycles=matrix)
        flows = found.flows
    return found


def _spread_out(losses: NetLosses, flows: Array, cycles: Any) -> Array:
    """A first guess: the flows that runs would share, did each resist as much at any flow as at the mean one."""
    mean = np.full_like(flows, max(float(np.mean(np.abs(flows))), 1e-9))
    _, resistance = losses._laws(mean)
    around = cycles.T
    resisted = cycles * resistance[:, None] if isinstance(cycles, np.ndarray) else cycles.multiply(resistance[:, None])
    by_loop = solved(around @ resisted, -(around @ (resistance * flows)))
    return flows if by_loop is None else np.asarray(flows + cycles @ by_loop)


def _matrix(entries: Sequence[tuple[int, int, float]], shape: tuple[int, int]) -> Any:
    """A matrix of (row, column, value), values in one place added up: sparse where it is large."""
    rows, columns, values = zip(*entries, strict=True)
    if max(shape) > DENSE:
        from scipy.sparse import coo_array

        return coo_array((values, (rows, columns)), shape=shape).tocsr()
    found = np.zeros(shape)
    np.add.at(found, (rows, columns), values)
    return found
