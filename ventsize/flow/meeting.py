"""What the gas loses where runs meet: in a tee or wye, or at a change of size that nobody listed."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ventsize.finding import Finding, Where
from ventsize.flow import junctions
from ventsize.flow.pieces import RunWalk, SectionFlow
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import VentGraph
from ventsize.run.model import Run, Section

_ANGLE = {"tee": math.pi / 2, "wye": math.pi / 4}
"""Between the branch and the straight way [rad]."""

REVERSAL = 0.02  # share of the combined flow over which a leg's loss passes from one pattern of flow to the next
SAME_BORE = 0.01  # bores nearer than this are of one size


@dataclass(frozen=True, slots=True, kw_only=True)
class LegLoss:
    """The loss of one run in the fitting where it joins, or leaves, the combined stream.

    at: the stream whose velocity k is stated on. pressure_drop: may be negative [Pa].
    """

    joint: str
    fitting: str
    section: Section
    at: SectionFlow
    k: float
    pressure_drop: float
    method: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """A tee or wye with the three runs that meet in it.

    legs: the runs' names: the two in line, then the branch. bores: theirs, in the same order [m].
    """

    joint: str
    fitting: str
    legs: tuple[str, str, str]
    bores: tuple[float, float, float]

    def combined(self, arriving: Sequence[float]) -> int:
        """The leg that carries the whole stream; of equals, one in line, so that a dead leg is not the branch's peer.

        arriving: flows of the legs towards the joint [kg/s].
        """
        size = [abs(flow) for flow in arriving]
        if size[2] > max(size[0], size[1]) * (1.0 + 1e-12):
            return 2
        return 0 if size[0] >= size[1] else 1

    def coefficients(self, arriving: Sequence[float]) -> tuple[float, float, float]:
        """Loss coefficients of the legs, on the velocity of the combined one, whose own is nothing [-].

        Just after a leg's flow has turned round, the loss passes from what it was to what it will be, so that it
        follows the flow without a step.
        """
        at = self.combined(arriving)
        whole = abs(arriving[at])
        if whole == 0.0:
            return 0.0, 0.0, 0.0
        if at == 2:
            return self._head_on(arriving)
        merging = arriving[at] < 0.0
        through, share = 1 - at, min(1.0, abs(arriving[2]) / whole)
        run, branch = self._in_line(at, share, merging=merging)
        if merging and share < REVERSAL:
            # A branch that has begun to feed the stream it was fed by until now.
            _, before = self._in_line(at, 0.0, merging=False)
            branch += (1.0 - share / REVERSAL) * (-before - branch)
        return (run, 0.0, branch) if through == 0 else (0.0, run, branch)

    def _in_line(self, combined: int, share: float, *, merging: bool) -> tuple[float, float]:
        """Coefficients of the straight leg and the branch by Crane; share: the branch's, of the flow [-]."""
        bore = self.bores[combined]
        loss = (junctions.merging_loss if merging else junctions.parting_loss)(
            angle=_ANGLE[self.fitting],
            run_bore=bore,
            branch_bore=min(self.bores[2], bore),
            run_flow=1.0 - share,
            branch_flow=share,
        )
        return loss.k_run, loss.k_branch

    def _head_on(self, arriving: Sequence[float]) -> tuple[float, float, float]:
        merging = arriving[2] < 0.0
        whole = abs(arriving[2])
        shares = [min(1.0, abs(arriving[leg]) / whole) for leg in (0, 1)]
        found = [
            junctions.head_on_loss(branch_bore=self.bores[2], run_bore=bore, share=share, merging=merging)
            for bore, share in zip(self.bores[:2], shares, strict=True)
        ]
        for still in (0, 1):
            if shares[still] < REVERSAL:
                # The whole stream still turns between the branch and the other leg: Crane's losses there.
                straight, turned = self._in_line(1 - still, 1.0, merging=not merging)
                ratio = (self.bores[2] / self.bores[1 - still]) ** 4
                part = 1.0 - shares[still] / REVERSAL
                found[1 - still] += part * (turned * ratio - found[1 - still])
                found[still] += part * ((turned - straight) * ratio - found[still])
        return found[0], found[1], 0.0

    def pressures(self, arriving: Sequence[float], *, per_flow: Sequence[float]) -> tuple[float, float, float]:
        """How much higher the total pressure stands in each leg than in the combined one [Pa].

        per_flow: velocity pressure in each leg per flow squared [Pa·s²/kg²].
        """
        at = self.combined(arriving)
        toward = 1.0 if arriving[at] < 0.0 else -1.0
        unit = toward * per_flow[at] * arriving[at] ** 2
        a, b, c = self.coefficients(arriving)
        return a * unit, b * unit, c * unit


def meetings(graph: VentGraph, runs: Mapping[str, Run]) -> tuple[Meeting, ...]:
    """The tees and wyes among some runs, as the job's [[joint]] records have them."""
    found = []
    for joint, legs in _joints(graph, runs).items():
        record = graph.junctions.get(joint)
        if record is None or len(legs) != 3:
            continue
        by_name = {run.name: run for run in legs}
        (branch,) = by_name.keys() - set(record.in_line)
        names = (*record.in_line, branch)
        bores = tuple(by_name[name].section_at(joint).bore for name in names)
        found.append(Meeting(joint=joint, fitting=record.fitting, legs=names, bores=bores))  # type: ignore[arg-type]
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeetingLosses:
    """What runs lose at the joints where they meet others.

    of: each run's losses. still: for a run at rest, how much higher the stream that passes its joint makes it stand
    at its start than at its end [Pa]. findings: about the joints.
    """

    of: Mapping[str, tuple[LegLoss, ...]]
    still: Mapping[str, float]
    findings: tuple[Finding, ...]


def meeting_losses(
    graph: VentGraph,
    *,
    runs: Mapping[str, Run],
    flows: Mapping[str, float],
    walks: Mapping[str, RunWalk],
    outwards: bool,
) -> MeetingLosses:
    """Each run's losses at the joints where it meets others.

    flows: signed along each run's walk [kg/s]. outwards: whether the gas goes to the open air, or comes from there.
    """
    found: dict[str, tuple[LegLoss, ...]] = {}
    still: dict[str, float] = {}
    findings: list[Finding] = []
    known = {meeting.joint: meeting for meeting in meetings(graph, runs)}
    changes = unlisted_changes(graph, runs)
    for joint, legs in _joints(graph, runs).items():
        losses: dict[str, LegLoss] = {}
        if joint in known:
            losses = _losses_at(graph, known[joint], flows, walks)
            still.update(_stagnant_at(graph, known[joint], flows, walks, outwards=outwards))
            findings += _findings(known[joint], _arriving(graph, known[joint], flows))
        elif joint in changes:
            small, large = changes[joint].small.name, changes[joint].large.name
            loss = changes[joint].loss(walks[small])
            losses = {} if loss is None else {small: loss}
            findings.append(Finding("size-change-at-joint", Where(joint=joint), {"small": small, "large": large}))
        elif len(legs) > 2:
            findings.append(Finding("junction-loss-left-out", Where(joint=joint)))
        for name, loss in losses.items():
            found[name] = (*found.get(name, ()), loss)
    findings += _parted_at_collars(graph, runs)
    return MeetingLosses(of=found, still=still, findings=tuple(findings))


def _joints(graph: VentGraph, runs: Mapping[str, Run]) -> dict[str, list[Run]]:
    legs: dict[str, list[Run]] = {}
    apart = {OUTDOORS, *graph.appliances}
    for run in runs.values():
        for joint in (run.start, run.end):
            if joint not in apart:
                legs.setdefault(joint, []).append(run)
    return legs


def _parted_at_collars(graph: VentGraph, runs: Mapping[str, Run]) -> list[Finding]:
    ends = Counter(joint for run in runs.values() for joint in (run.start, run.end))
    return [Finding("loss-at-collar-left-out", Where(appliance=name)) for name in graph.appliances if ends[name] > 1]


def toward(run: Run, joint: str) -> float:
    """1 where a run is walked towards a joint, -1 where away from it."""
    return 1.0 if run.end == joint else -1.0


def _arriving(graph: VentGraph, meeting: Meeting, flows: Mapping[str, float]) -> list[float]:
    return [flows[name] * toward(graph.runs[name], meeting.joint) for name in meeting.legs]


def _losses_at(
    graph: VentGraph, meeting: Meeting, flows: Mapping[str, float], walks: Mapping[str, RunWalk]
) -> dict[str, LegLoss]:
    """The losses of the two runs that make up the combined one, or part from it."""
    arriving = _arriving(graph, meeting, flows)
    if not any(arriving):
        return {}
    at = meeting.combined(arriving)
    combined = graph.runs[meeting.legs[at]]
    flow = walks[combined.name].at_joint(meeting.joint)
    return {
        name: LegLoss(
            joint=meeting.joint,
            fitting=meeting.fitting,
            section=combined.section_at(meeting.joint),
            at=flow,
            k=k,
            pressure_drop=k * flow.dynamic_pressure,
            method=junctions.HEAD_ON_SOURCE if at == 2 else junctions.SOURCE,
        )
        for name, k, own in zip(meeting.legs, meeting.coefficients(arriving), arriving, strict=True)
        if own and name != combined.name
    }


def _stagnant_at(
    graph: VentGraph, meeting: Meeting, flows: Mapping[str, float], walks: Mapping[str, RunWalk], *, outwards: bool
) -> dict[str, float]:
    """How much higher a leg at rest stands at its start than at its end for the stream that passes it [Pa].

    The formulas hold at no flow in a leg too. What they lower the pressure by in a vent at rest, or raise it by in an
    air pipe, is left out: nobody is to rely on a stream's pull to keep flue gas out of an appliance that is off.
    """
    arriving = _arriving(graph, meeting, flows)
    if not any(arriving) or all(arriving):
        return {}
    at = meeting.combined(arriving)
    dynamic = walks[meeting.legs[at]].at_joint(meeting.joint).dynamic_pressure
    merging = 1.0 if arriving[at] < 0.0 else -1.0
    found = {}
    for name, k, own in zip(meeting.legs, meeting.coefficients(arriving), arriving, strict=True):
        raised = merging * k * dynamic
        if not own and raised and (raised > 0.0) is outwards:
            found[name] = raised * toward(graph.runs[name], meeting.joint)
    return found


def _findings(meeting: Meeting, arriving: Sequence[float]) -> list[Finding]:
    if not any(arriving):
        return []
    at = meeting.combined(arriving)
    where = Where(joint=meeting.joint)
    found = []
    if at == 2:
        found.append(Finding("head-on-junction", where, {"fitting": meeting.fitting}))
    elif meeting.bores[2] > meeting.bores[at] * (1.0 + SAME_BORE):
        found.append(Finding("branch-wider-than-run", where))
    first, second = meeting.bores[0], meeting.bores[1]
    if abs(first - second) > SAME_BORE * max(first, second):
        found.append(Finding("runs-in-line-differ", where))
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class UnlistedChange:
    """Two runs of different size that meet without a fitting: a sudden change, on the smaller one's velocity.

    section: the smaller one's there. widening, narrowing: K where its gas leaves it there, and where it enters [-].
    """

    joint: str
    small: Run
    large: Run
    section: Section
    widening: float
    narrowing: float

    def loss(self, walk: RunWalk) -> LegLoss | None:
        """What the smaller run loses there; None where nothing flows. walk: of that run."""
        at = walk.at(self.section)
        if not at.velocity:
            return None
        k = self.widening if walk.forward is (self.small.end == self.joint) else self.narrowing
        return LegLoss(
            joint=self.joint,
            fitting="size change",
            section=self.section,
            at=at,
            k=k,
            pressure_drop=k * at.dynamic_pressure,
            method=junctions.SUDDEN_SOURCE,
        )


def unlisted_changes(graph: VentGraph, runs: Mapping[str, Run]) -> dict[str, UnlistedChange]:
    """Every change of size between two runs that no fitting is listed for, by joint."""
    found = {}
    for joint, legs in _joints(graph, runs).items():
        if len(legs) != 2:
            continue
        small, large = sorted(legs, key=lambda run: run.section_at(joint).bore)
        section, other = small.section_at(joint), large.section_at(joint)
        if other.bore - section.bore > SAME_BORE * other.bore:
            ratio = (section.bore / other.bore) ** 2
            found[joint] = UnlistedChange(
                joint=joint,
                small=small,
                large=large,
                section=section,
                widening=(1.0 - ratio) ** 2,
                narrowing=0.5 * (1.0 - ratio),
            )
    return found
