"""The takeoff: what it takes to build the runs of a job, with the exact cut list of every pipe laid out."""

from __future__ import annotations

import math
from collections import Counter
from itertools import pairwise

from ventsize.catalog.library import Catalog
from ventsize.check.inputs import Inputs
from ventsize.finding import Finding, Value, Where
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import VentGraph
from ventsize.run.model import Piece, Run
from ventsize.studies.takeoff.joints import sockets
from ventsize.studies.takeoff.pipework import AtJoints, Plans, counted, cut_lists, laid_out, where_of
from ventsize.studies.takeoff.practice import Practice, Which
from ventsize.studies.takeoff.tally import Item, ItemKey, PipeCuts, Takeoff, Tally


def takeoff(
    inputs: Inputs,
    *,
    practice: Practice,
    seconds: float = 10.0,
    plans: Plans | None = None,
    ranged: bool = True,
) -> Takeoff:
    """What it takes to build every run of a job.

    practice: how pipe is sold, cut, joined and hung.
    seconds: for the cut list of each material and size; where they do not suffice the list says so.
    plans: cut lists made before, for other jobs; new ones are added.
    ranged: whether it is also taken off with every estimated length at either end of its range.
    """
    tally, lists = _tallied(inputs, practice, "middle", seconds, plans)
    items = listed(tally.items)
    others: list[tuple[Item, ...]] = []
    for which in _ENDS if ranged and tally.estimated else ():
        other, _ = _tallied(inputs, practice, which, seconds, plans)
        if not other.missing.keys() - tally.missing.keys():  # pipe that has no room left makes nothing cheaper
            others.append(listed(other.items))
    return Takeoff(
        title=inputs.job.title,
        items=items,
        cut_lists=tuple(lists),
        notes=tuple(tally.notes.values()),
        missing=tuple(tally.missing.values()),
        joints=tally.joints,
        estimated=tuple(tally.estimated.values()),
        ends_of_range=tuple(other for other in others if other != items),
    )


_ENDS: tuple[Which, ...] = ("low", "high")


def _tallied(
    inputs: Inputs, practice: Practice, which: Which, seconds: float, plans: Plans | None
) -> tuple[Tally, list[PipeCuts]]:
    tally = Tally(practice, which)
    at_joints = fittings_at_joints(inputs.graph, inputs.catalog)
    for run in inputs.graph.runs.values():
        _fittings(tally, run)
        _gaps(tally, run)
        _close(tally, run)
        _insulated(tally, run)
        _kits(tally, run)
        if run.counted:
            counted(tally, run)
        else:
            laid_out(tally, run, at_joints)
    _meetings(tally, inputs)
    lists = cut_lists(tally, seconds=seconds, plans=plans)
    _bought_by_the_piece(tally)
    return tally, lists


def listed(counts: Counter[ItemKey]) -> tuple[Item, ...]:
    """What is bought, in the order of a list."""
    return tuple(
        Item(what=what, material=material, sizes=sizes, label=label, length=length, quantity=number)
        for (what, material, sizes, label, length), number in sorted(counts.items(), key=_order)
    )


def fittings_at_joints(graph: VentGraph, catalog: Catalog) -> AtJoints:
    """The fitting at each joint where runs meet, where the job says which."""
    return {name: catalog.fittings[joint.fitting] for name, joint in graph.junctions.items()}


def _order(item: tuple[ItemKey, int]) -> tuple[int, str, str, tuple[float, ...], float]:
    """Pipe first, then fittings, then what holds and seals them."""
    what, material, sizes, _, length = item[0]
    last = ("hanger", "insulation", "cement", "primer")
    place = 0 if what == "pipe" else 2 + last.index(what) if what in last else 1
    return place, what, material, sizes, length or 0.0


# Fittings


def _fittings(tally: Tally, run: Run) -> None:
    for index, piece in enumerate(run.pieces):
        if piece.fitting is None or piece.name in tally.practice.nothing:
            continue
        where = where_of(run, index)
        if piece.implied:
            tally.note(Finding("takeoff-implied", where, {"fitting": piece.name}))
        if piece.fitting.kind == "tee":
            tally.note(Finding("takeoff-tee", where, {"fitting": piece.name}))
        if piece.before is piece.after:
            tally.add(piece.name, piece.section)
        else:
            _size_change(tally, piece)
        tally.joined(piece.section, sockets(piece.fitting, tally.practice))


def _gaps(tally: Tally, run: Run) -> None:
    """Places where the run turns or changes its pipe, and no fitting is listed that does so."""
    for turn in run.unturned:
        tally.lack(turn)
    for index, (first, second) in enumerate(pairwise(run.pieces), start=1):
        one, other = first.after.material.name, second.before.material.name
        if one != other:
            values = {"before": one, "after": other}
            tally.lack(Finding("takeoff-pipe-changes", where_of(run, index), values))


def _close(tally: Tally, run: Run) -> None:
    """Fittings that follow each other with no pipe listed between them."""
    for index, (first, second) in enumerate(pairwise(run.pieces), start=1):
        if run.counted or first.fitting is None or second.fitting is None:
            continue
        if sockets(first.fitting, tally.practice) and sockets(second.fitting, tally.practice):
            values: dict[str, Value] = {"first": first.name, "second": second.name}
            tally.note(Finding("takeoff-close", where_of(run, index), values))


def _size_change(tally: Tally, piece: Piece) -> None:
    wide, narrow = sorted((piece.before, piece.after), key=lambda section: -section.nominal)
    label = f"{wide.label} x {narrow.label}"
    tally.items[(piece.name, wide.material.name, (wide.nominal, narrow.nominal), label, None)] += 1


def _meetings(tally: Tally, inputs: Inputs) -> None:
    """The fittings where runs meet."""
    graph = inputs.graph
    ends = {joint for run in graph.runs.values() for joint in (run.start, run.end)}
    for joint in sorted(ends - {OUTDOORS, *graph.appliances}):
        runs = graph.runs_at(joint)
        widest = max((run.section_at(joint) for run in runs), key=lambda section: section.nominal)
        if joint in graph.junctions:
            tally.add(graph.junctions[joint].fitting, widest)
            tally.joined(widest, 3)
            if len({run.section_at(joint).nominal for run in runs}) > 1:
                tally.lack(Finding("takeoff-junction-sizes", Where(joint=joint), {"size": widest.label}))
        elif len(runs) > 2:
            tally.lack(Finding("takeoff-junction", Where(joint=joint)))


def _insulated(tally: Tally, run: Run) -> None:
    for piece in run.pieces:
        if piece.is_pipe and piece.insulation is not None:
            section = piece.section
            tally.insulation[(section.nominal, piece.insulation.thickness, section.label)] += piece.length


def _kits(tally: Tally, run: Run) -> None:
    """What an outdoor end takes besides its fitting: plates or flashing, sealant, a screen."""
    if OUTDOORS not in (run.start, run.end):
        return
    pieces = run.pieces if run.end == OUTDOORS else run.pieces[::-1]
    end = next((piece for piece in reversed(pieces) if piece.kind in ("terminal", "entrance")), None)
    pipe = next((piece for piece in reversed(pieces) if piece.is_pipe), None)
    if end is None or pipe is None:
        return
    through = None if pipe.heading is None else "roof" if pipe.heading == "up" else "wall"
    kits = [kit for kit in tally.practice.kits if end.name in kit.ends]
    if through is None and any(kit.through for kit in kits):
        tally.lack(Finding("takeoff-opening", Where(run=run.name)))
    for kit in kits:
        if kit.through in (None, through):
            tally.note(Finding("takeoff-kit", Where(run=run.name), {"kit": kit.name, "source": kit.source}))
            for part, number in kit.parts.items():
                section = end.section
                tally.items[(part, "", (section.nominal,), section.label, None)] += number


def _bought_by_the_piece(tally: Tally) -> None:
    """Insulation in its lengths; cement and primer in cans."""
    each = tally.practice.insulation.length
    for (nominal, thickness, label), total in sorted(tally.insulation.items()):
        number = math.ceil(total / each - 1e-9)
        tally.items[("insulation", "", (nominal, thickness), label, each)] += number
    cement = tally.practice.cement
    for material, joints in tally.cemented.items():
        for what, per_can in (("cement", cement.joints_per_can), ("primer", cement.joints_per_primer_can)):
            tally.items[(what, material, (), "", None)] += math.ceil(joints / per_can)
    if tally.cemented:
        values: dict[str, Value] = {"joints": sum(tally.cemented.values()), "source": cement.source}
        tally.note(Finding("takeoff-cement", values=values))
