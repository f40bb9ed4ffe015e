"""What the gas loses where runs meet in a tee or wye."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ventsize.flow import junctions
from ventsize.flow.pieces import RunWalk, SectionFlow
from ventsize.run.graph import VentGraph
from ventsize.run.model import Run, Section


@dataclass(frozen=True, slots=True, kw_only=True)
class JunctionLoss:
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
) -> tuple[dict[str, tuple[JunctionLoss, ...]], tuple[str, ...]]:
    """Each run's losses at the joints where it meets others, and what has to be said about them.

    flows: signed along each run's walk [kg/s].
    """
    found: dict[str, tuple[JunctionLoss, ...]] = {}
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
) -> tuple[dict[str, JunctionLoss], list[str]]:
    """The losses of the two runs that make up the combined one."""
    if not any(arriving.values()):
        return {}, []
    combined = max(arriving, key=lambda name: abs(arriving[name]))
    converging = arriving[combined] < 0
    record = graph.junctions[joint]
    straight = [name for name in record.in_line if name != combined]
    if combined not in record.in_line:
        said = f"joint '{joint}': both streams meet head-on in the {record.fitting}, for which no method is at hand"
        return {}, [f"{said}; its loss is left out"]
    (through,) = straight
    (branch,) = (name for name in arriving if name not in record.in_line)
    combined_section = graph.runs[combined].section_at(joint)
    at = walks[combined].at(combined_section)
    if at.regime == "at rest":
        return {}, []
    share = abs(arriving[branch]) / abs(arriving[combined])
    pair = junctions.losses(
        fitting=record.fitting,
        converging=converging,
        run_bore=combined_section.bore,
        branch_bore=graph.runs[branch].section_at(joint).bore,
        branch_share=share,
    )
    return {
        name: JunctionLoss(
            joint=joint,
            fitting=record.fitting,
            section=combined_section,
            at=at,
            k=k,
            pressure_drop=k * at.dynamic_pressure,
            method=pair.method,
        )
        for name, k in ((through, pair.k_run), (branch, pair.k_branch))
        if arriving[name]
    }, list(pair.cautions)
