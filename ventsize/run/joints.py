"""Where one run goes on as another: whether the route turns there, and what two runs meet in."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from ventsize.finding import Finding, Where
from ventsize.jobfile import job as typed
from ventsize.jobfile.headings import opposite
from ventsize.run import geometry
from ventsize.run.model import Piece, Run

if TYPE_CHECKING:
    from ventsize.run.graph import VentGraph

BRANCH_ANGLE = {"tee": 90.0, "wye": 45.0}  # degrees, between the branch and the runs in line


def with_turns(graph: VentGraph) -> Mapping[str, Run]:
    """The runs, with the turns that nothing makes where one goes on as another on a way out, at the outer of them."""
    found = {
        name: dict.fromkeys(one for one in run.unturned if one.where.joint is None) for name, run in graph.runs.items()
    }
    for path in graph.every_way():
        for missing in _crossings(path, graph):
            found[missing.where.run or ""][missing] = None
    return {
        name: run if tuple(found[name]) == run.unturned else replace(run, unturned=tuple(found[name]))
        for name, run in graph.runs.items()
    }


def _crossings(path: Sequence[Run], graph: VentGraph) -> Iterator[Finding]:
    """Turns not made between the last heading before a joint of a way, or several, and the first one behind it."""
    since: list[Piece] = []
    joint, turned = "", 0.0
    for number, run in enumerate(path):
        inner = run.start if run.start in graph.appliances else run.end
        if number:
            inner = joint = joint_between(path[number - 1], run)
            turned += turn_at(joint, path[number - 1], run, graph)
        for piece in run.pieces if run.start == inner else _turned_round(run.pieces):
            since.append(piece)
            if piece.heading is None:
                continue
            if joint:
                where = Where(run=run.name, joint=joint)
                yield from geometry.turns_not_made(geometry.spans(since), where, joints=math.radians(turned))
            since, joint, turned = [piece], "", 0.0


def turn_at(joint: str, first: Run, second: Run, graph: VentGraph) -> float:
    """How far a joint turns the gas on the way from one run to another [degrees]; one nobody described as a tee."""
    junction = graph.junctions.get(joint)
    if junction is None:
        return 0.0 if len(graph.runs_at(joint)) == 2 else BRANCH_ANGLE["tee"]
    in_line = first.name in junction.in_line and second.name in junction.in_line
    return 0.0 if in_line else BRANCH_ANGLE[junction.fitting]


def _turned_round(pieces: Sequence[Piece]) -> list[Piece]:
    return [
        replace(piece, heading=None if piece.heading is None else opposite(piece.heading)) for piece in reversed(pieces)
    ]


def joint_between(first: Run, second: Run) -> str:
    """The joint at which two runs of a way meet."""
    shared = {first.start, first.end} & {second.start, second.end}
    return min(shared - {typed.OUTDOORS})
