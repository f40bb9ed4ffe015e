"""A run as an allowance table counts it: feet and fittings, without their order."""

from __future__ import annotations

import math
from itertools import pairwise

from ventsize.allowance.counted import Counted, CountedFitting, SizedLength
from ventsize.allowance.model import AllowanceTable
from ventsize.catalog.records import same_size
from ventsize.check.paths import Path
from ventsize.finding import Where
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import VentGraph
from ventsize.run.joints import joint_between
from ventsize.run.model import Piece, Run

_Key = tuple[str, tuple[float, ...], float | None]


def counted(run: Run) -> Counted:
    """What of a run a table counts."""
    lengths: dict[tuple[float, str], list[float]] = {}
    pieces: dict[_Key, list[Piece]] = {}
    for piece in run.pieces:
        if piece.fitting is None:
            lengths.setdefault((piece.before.nominal, piece.before.label), []).append(piece.length)
        else:
            pieces.setdefault((piece.name, _sizes(piece), piece.table_length), []).append(piece)
    return Counted(
        name=run.name,
        carries=run.carries,
        straight_by_size=tuple(
            [SizedLength(size=size, label=label, length=math.fsum(parts)) for (size, label), parts in lengths.items()]
        ),
        fittings=tuple([_fitting(run.name, sizes, alike) for (_, sizes, _), alike in pieces.items()]),
        reaches_outdoors=OUTDOORS in (run.start, run.end),
    )


def _fitting(run: str, sizes: tuple[float, ...], alike: list[Piece]) -> CountedFitting:
    first = alike[0]
    assert first.fitting is not None
    angle = first.fitting.angle
    return CountedFitting(
        name=first.name,
        kind=first.fitting.kind,
        sizes=sizes,
        angle_degrees=None if angle is None else math.degrees(angle),
        count=len(alike),
        table_length=first.table_length,
        where=Where(run=run, piece=first.number),
        implied=first.implied and first.kind == "terminal",
    )


def _sizes(piece: Piece) -> tuple[float, ...]:
    if piece.before is piece.after:
        return (piece.before.nominal,)
    before, after = piece.before.nominal, piece.after.nominal
    return (before,) if before == after else (before, after)


def counted_joints(way: Path, *, graph: VentGraph, table: AllowanceTable) -> dict[str, CountedFitting]:
    """What joins each run of a way to the one before it, by the name of the run further from the appliance."""
    found = {}
    for before, after in pairwise(way):
        fitting = _at_joint(joint_between(before, after), before, after, graph, table)
        if fitting is not None:
            found[after.name] = fitting
    return found


def _at_joint(joint: str, before: Run, after: Run, graph: VentGraph, table: AllowanceTable) -> CountedFitting | None:
    sizes = (before.section_at(joint).nominal, after.section_at(joint).nominal)
    if len(graph.runs_at(joint)) == 2:
        if same_size(*sizes):
            return None
        name = "increaser" if sizes[1] > sizes[0] else "reducer"
        return CountedFitting(name=name, kind="size change", sizes=sizes, where=Where(joint=joint))
    junction = graph.junctions.get(joint)
    if junction is None:
        return CountedFitting(name="a tee or wye", kind="tee", sizes=sizes[1:], where=Where(joint=joint))
    in_line = before.name in junction.in_line and after.name in junction.in_line
    names = _AT_A_JOINT[junction.fitting, in_line]
    listed = (name for name in names if name in table.deductions or name in table.elbows_each)
    return CountedFitting(name=next(listed, names[0]), kind="tee", sizes=sizes[1:], where=Where(joint=joint))


_AT_A_JOINT: dict[tuple[str, bool], tuple[str, ...]] = {
    ("tee", True): ("tee-through", "tee"),
    ("tee", False): ("tee-branch", "tee"),
    ("wye", True): ("wye-through", "wye"),
    ("wye", False): ("wye",),
}
"""By the fitting at a joint, and whether the way leads straight through it: the names a table may have for that."""
