"""A run as an allowance table counts it: feet and fittings, how they lie and what they run through."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

from ventsize.allowance.charging import cost_of_one
from ventsize.allowance.counted import (
    ELBOW,
    ENTRANCE,
    SIZE_CHANGE,
    TEE,
    TERMINAL,
    UNDESCRIBED,
    ColdPipe,
    Counted,
    CountedFitting,
    SizedLength,
)
from ventsize.allowance.exposed import COLD_BELOW, COLD_SPACES
from ventsize.allowance.model import AllowanceTable
from ventsize.catalog.records import FittingRecord, same_size
from ventsize.check.paths import Path
from ventsize.finding import Where
from ventsize.jobfile.job import OUTDOORS
from ventsize.quantity import Dimension, QuantityError, parse
from ventsize.run.graph import VentGraph
from ventsize.run.joints import BRANCH_ANGLE, joint_between
from ventsize.run.model import Piece, Run

_Key = tuple[str, tuple[float, ...], float | None]
ROUNDING = 1e-6  # m; of a rise that is the whole length
HEATED = "heated space"


def counted(run: Run, table: AllowanceTable | None = None, *, outward: bool) -> Counted:
    """What of a run a table counts.

    table: for what only some tables ask: the order of elbows
    outward: whether the run is listed from the appliance on
    """
    lengths: dict[tuple[float, str, str], list[float]] = {}
    pieces: dict[_Key, list[tuple[int, Piece]]] = {}
    for place, piece in enumerate(run.pieces if outward else run.pieces[::-1]):
        if piece.fitting is None:
            key = (piece.before.nominal, piece.before.label, piece.before.material.name)
            lengths.setdefault(key, []).append(piece.length)
        else:
            pieces.setdefault((piece.name, _sizes(piece), piece.table_length), []).append((place, piece))
    ordered = table is not None and not run.counted and any(row.elbows_included for row in table.rows)
    level, rising, unsaid = _lie(run, outward)
    cold, cold_unsaid = _cold(run)
    return Counted(
        name=run.name,
        carries=run.carries,
        straight_by_size=tuple(
            [SizedLength(size, label, math.fsum(parts), material) for (size, label, material), parts in lengths.items()]
        ),
        fittings=tuple([_fitting(run.name, sizes, alike, ordered) for (_, sizes, _), alike in pieces.items()]),
        reaches_outdoors=OUTDOORS in (run.start, run.end),
        materials=materials_of(run),
        ends=ends_of(run),
        laid_out=not run.counted,
        level=level,
        rising=rising,
        unsaid=unsaid,
        cold=cold,
        cold_unsaid=cold_unsaid,
    )


def _fitting(run: str, sizes: tuple[float, ...], alike: list[tuple[int, Piece]], ordered: bool) -> CountedFitting:
    first = alike[0][1]
    assert first.fitting is not None
    return CountedFitting(
        name=first.name,
        kind=first.fitting.kind,
        sizes=sizes,
        angle_degrees=_degrees(first.fitting),
        count=len(alike),
        table_length=first.table_length,
        where=Where(run=run, piece=first.number),
        implied=first.implied and first.kind == TERMINAL,
        order=tuple([place for place, _ in alike]) if ordered and first.fitting.kind == ELBOW else (),
    )


def _degrees(fitting: FittingRecord) -> float | None:
    return None if fitting.angle is None else math.degrees(fitting.angle)


def _sizes(piece: Piece) -> tuple[float, ...]:
    if piece.before is piece.after:
        return (piece.before.nominal,)
    before, after = piece.before.nominal, piece.after.nominal
    return (before,) if before == after else (before, after)


def materials_of(run: Run) -> frozenset[str]:
    """Of all that is in a run, by name."""
    return frozenset(section.material.name for piece in run.pieces for section in (piece.before, piece.after))


def ends_of(run: Run) -> tuple[str, ...] | None:
    """The outdoor ends that a run lists, by name; None where it lists none."""
    found = tuple(
        piece.name
        for piece in run.pieces
        if piece.fitting is not None and piece.fitting.kind in (TERMINAL, ENTRANCE) and not piece.implied
    )
    return found or None


def _lie(run: Run, outward: bool) -> tuple[float, float, float]:
    """Pipe that is not vertical, pipe that goes up, and pipe that does not say [m]; a sloped one goes up as a whole.

    A vent's goes up on the way out; an air pipe's either way, whichever is more.
    """
    level = up = down = unsaid = 0.0
    for piece in run.pieces:
        if not piece.length:
            continue
        if piece.heading is None and not piece.rise_known:
            unsaid += piece.length
            continue
        vertical = abs(piece.rise) >= piece.length - ROUNDING
        level += 0.0 if vertical else piece.length
        up += piece.length if piece.rise > 0.0 else 0.0
        down += piece.length if piece.rise < 0.0 else 0.0
    if run.carries == "combustion air":
        return level, max(up, down), unsaid
    return level, up if outward else down, unsaid


def _cold(run: Run) -> tuple[tuple[ColdPipe, ...], float]:
    """Pipe in unheated space by size and insulation, and the length of pipe that does not say what it runs through."""
    found: dict[tuple[float, str, float], float] = {}
    unsaid = 0.0
    for piece in run.pieces:
        if not piece.length:
            continue
        is_cold = None if piece.surroundings is None else _is_cold(piece.surroundings)
        if is_cold is None:
            unsaid += piece.length
        elif is_cold:
            thickness = 0.0 if piece.insulation is None else piece.insulation.thickness
            key = (piece.before.nominal, piece.before.label, thickness)
            found[key] = found.get(key, 0.0) + piece.length
    return tuple(ColdPipe(size, label, thick, length) for (size, label, thick), length in found.items()), unsaid


@lru_cache(maxsize=256)
def _is_cold(surroundings: str) -> bool | None:
    """Whether surroundings are unheated; None where they cannot be read."""
    if surroundings in COLD_SPACES:
        return True
    if surroundings == HEATED:
        return False
    try:
        return parse(surroundings, Dimension.TEMPERATURE) < COLD_BELOW - ROUNDING
    except QuantityError:
        return None


def counted_joints(way: Path, *, graph: VentGraph, table: AllowanceTable) -> dict[str, tuple[CountedFitting, ...]]:
    """What joins each run of a way to the one before it, by the name of the run further from the appliance."""
    return {
        after.name: tuple(_at_joint(joint_between(before, after), before, after, graph, table))
        for before, after in pairwise(way)
    }


def _at_joint(joint: str, before: Run, after: Run, graph: VentGraph, table: AllowanceTable) -> Iterator[CountedFitting]:
    sizes = (before.section_at(joint).nominal, after.section_at(joint).nominal)
    at: tuple[float, ...] = sizes[1:]
    if not same_size(*sizes):
        at = sizes  # what stands at a change of size goes by the larger of two figures
        yield _size_change(joint, sizes, before, table)
    if len(graph.runs_at(joint)) == 2:
        return
    junction = graph.junctions.get(joint)
    if junction is None:
        yield CountedFitting(name=UNDESCRIBED, kind=TEE, sizes=at, where=Where(joint=joint))
        return
    in_line = before.name in junction.in_line and after.name in junction.in_line
    names = _AT_A_JOINT[junction.fitting, in_line]
    name = next((name for name in names if name in table.deductions or name in table.elbows_each), names[0])
    angle = None if in_line else BRANCH_ANGLE[junction.fitting]
    yield CountedFitting(name=name, kind=TEE, sizes=at, angle_degrees=angle, where=Where(joint=joint))


def _size_change(joint: str, sizes: tuple[float, float], before: Run, table: AllowanceTable) -> CountedFitting:
    """A change of size between two runs, named by the way of the gas; the dearer name where a page has both."""
    grows = (sizes[1] > sizes[0]) == (before.carries == "flue gas")
    names = ("increaser", "reducer") if grows else ("reducer", "increaser")
    found = [CountedFitting(name=name, kind=SIZE_CHANGE, sizes=sizes, where=Where(joint=joint)) for name in names]
    if all(one.name in table.deductions for one in found):
        return max(found, key=lambda one: math.inf if (each := cost_of_one(table, one)) is None else each)
    return found[0]


_AT_A_JOINT: dict[tuple[str, bool], tuple[str, ...]] = {
    ("tee", True): ("tee-through", "tee"),
    ("tee", False): ("tee-branch", "tee"),
    ("wye", True): ("wye-through", "wye"),
    ("wye", False): ("wye",),
}
"""By the fitting at a joint, and whether the way leads straight through it: the names a table may have for that."""
