"""What the gas loses where runs meet in a tee or wye."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ventsize.flow import junctions
from ventsize.flow.pieces import RunWalk, SectionFlow
from ventsize.run.graph import VentGraph
from ventsize.run.model import Run, Section

_ANGLE = {"tee": math.pi / 2, "wye": math.pi / 4}
"""Between the branch and the straight way [rad]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LegLoss:
    """The loss of one run in the fitting where it joins, or leaves, the combined stream.

    at: the combined stream, whose velocity k is stated on. pressure_drop: may be negative [Pa].
    """

    joint: str
    fitting: str
    section: Section
    at: SectionFlow
    k: float
    pressure_drop: float
    method: str


def meeting_losses(
    graph: VentGraph, *, runs: Mapping[str, Run], flows: Mapping[str, float], walks: Mapping[str, RunWalk]
) -> tuple[dict[str, tuple[LegLoss, ...]], tuple[str, ...]]:
    """Each run's losses at the joints where it meets others, and what has to be said about them.

    flows: signed along each run's walk [kg/s].
    """
    found: dict[str, tuple[LegLoss, ...]] = {}
    cautions: list[str] = []
    for joint, legs in _joints(graph, runs).items():
        if len(legs) < 3:
            continue
        if joint not in graph.junctions:
            cautions.append(f"joint '{joint}': no [[joint]] says which fitting it is, so its loss is left out")
            continue
        # What arrives at the joint is positive.
        arriving = {run.name: flows[run.name] * (1.0 if run.end == joint else -1.0) for run in legs}
        losses, caution = _losses_at(graph, joint, arriving, walks)
        cautions += caution
        for name, loss in losses.items():
            found[name] = (*found.get(name, ()), loss)
    return found, tuple(cautions)


def _joints(graph: VentGraph, runs: Mapping[str, Run]) -> dict[str, list[Run]]:
    legs: dict[str, list[Run]] = {}
    for run in runs.values():
        for joint in (run.start, run.end):
            if joint != "outdoors" and joint not in graph.appliances:
                legs.setdefault(joint, []).append(run)
    return legs


def _losses_at(
    graph: VentGraph, joint: str, arriving: Mapping[str, float], walks: Mapping[str, RunWalk]
) -> tuple[dict[str, LegLoss], list[str]]:
    """The losses of the two runs that make up the combined one, or part from it."""
    if not any(arriving.values()):
        return {}, []
    record = graph.junctions[joint]
    combined = max(arriving, key=lambda name: abs(arriving[name]))
    if combined not in record.in_line:
        said = f"joint '{joint}': both streams meet head-on in the {record.fitting}, for which no method is at hand"
        return {}, [f"{said}; its loss is left out"]
    (through,) = (name for name in record.in_line if name != combined)
    (branch,) = (name for name in arriving if name not in record.in_line)
    section = graph.runs[combined].section_at(joint)
    branch_bore = graph.runs[branch].section_at(joint).bore
    loss = (junctions.merging_loss if arriving[combined] < 0 else junctions.parting_loss)(
        angle=_ANGLE[record.fitting],
        run_bore=section.bore,
        branch_bore=min(branch_bore, section.bore),
        run_flow=abs(arriving[through]),
        branch_flow=abs(arriving[branch]),
    )
    cautions = [f"joint '{joint}': {caution}" for caution in loss.cautions]
    if branch_bore > section.bore:
        cautions.append(f"joint '{joint}': the branch is wider than the run, and is figured as wide as the run")
    at = walks[combined].at(section)
    return {
        name: LegLoss(
            joint=joint,
            fitting=record.fitting,
            section=section,
            at=at,
            k=k,
            pressure_drop=k * at.dynamic_pressure,
            method=junctions.SOURCE,
        )
        for name, k in ((through, loss.k_run), (branch, loss.k_branch))
        if arriving[name]
    }, cautions
