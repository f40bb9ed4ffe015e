"""The takeoff: what it takes to build the runs of a job, with the exact cut list of every pipe laid out."""

from __future__ import annotations

import math
from itertools import pairwise

from ventsize.check.inputs import Inputs
from ventsize.jobfile.job import OUTDOORS
from ventsize.quantity import System, show_length
from ventsize.run.model import Piece, Run
from ventsize.studies.takeoff.pipework import Plans, counted, cut_lists, laid_out
from ventsize.studies.takeoff.practice import Practice
from ventsize.studies.takeoff.tally import Item, ItemKey, Takeoff, Tally

SOCKETS = {"elbow": 2, "tee": 3, "size change": 2, "coupling": 2, "terminal": 1, "entrance": 1}


def takeoff(
    inputs: Inputs,
    *,
    practice: Practice,
    system: System = System.US,
    seconds: float = 10.0,
    plans: Plans | None = None,
) -> Takeoff:
    """What it takes to build every run of a job.

    practice: how pipe is sold, cut, joined and hung. system: units of lengths in sentences.
    seconds: for the cut list of each material and size; where they do not suffice the list says so.
    plans: cut lists made before, for other jobs; new ones are added.
    """
    tally = Tally(practice, system)
    for run in inputs.graph.runs.values():
        _fittings(tally, run)
        _gaps(tally, run)
        _insulated(tally, run)
        _kits(tally, run)
        if run.counted:
            counted(tally, run)
        else:
            laid_out(tally, run)
    _meetings(tally, inputs)
    lists = tuple(cut_lists(tally, seconds=seconds, plans=plans))
    _bought_by_the_piece(tally)
    return Takeoff(
        title=inputs.job.title,
        items=tuple(
            Item(what=what, material=material, sizes=sizes, label=label, length=length, quantity=number)
            for (what, material, sizes, label, length), number in sorted(tally.items.items(), key=_order)
        ),
        cut_lists=lists,
        notes=tuple(tally.notes),
        missing=tuple(tally.missing),
    )


def _order(item: tuple[ItemKey, int]) -> tuple[int, str, str, tuple[float, ...], float]:
    """Pipe first, then fittings, then what holds and seals them."""
    what, material, sizes, _, length = item[0]
    last = ("hanger", "insulation", "cement", "primer")
    place = 0 if what == "pipe" else 2 + last.index(what) if what in last else 1
    return place, what, material, sizes, length or 0.0


# Fittings


def _fittings(tally: Tally, run: Run) -> None:
    for piece in run.pieces:
        if piece.fitting is None or piece.name in tally.practice.nothing:
            continue
        if piece.implied:
            tally.note(f"{piece.place}: one {piece.name} is counted though the job lists none")
        if piece.fitting.kind == "tee":
            tally.note(f"{piece.place}: the {piece.name} is counted as a fitting by itself")
        if piece.before is piece.after:
            tally.add(piece.name, piece.section)
        else:
            _size_change(tally, piece)
        tally.cemented(piece.section, SOCKETS.get(piece.kind, 2))


def _gaps(tally: Tally, run: Run) -> None:
    """Places where the run turns or changes its pipe, and no fitting is listed that does so."""
    for turn in run.unturned:
        tally.lack(f"run '{run.name}': {turn}")
    for first, second in pairwise(run.pieces):
        one, other = first.after.material.name, second.before.material.name
        if one != other:
            tally.lack(f"{second.place}: the pipe changes from {one} to {other}; what joins them is not listed")


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
            tally.cemented(widest, 3)
            if len({run.section_at(joint).nominal for run in runs}) > 1:
                tally.lack(
                    f"joint '{joint}': its runs differ in size; what brings them to {widest.label} is not listed"
                )
        elif len(runs) > 2:
            tally.lack(f"joint '{joint}': the job does not say which fitting is there")


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
        tally.lack(
            f"run '{run.name}': where its last pipe heads is not given, so whether it passes a wall or a roof is not "
            "known; nothing is counted for the opening"
        )
    for kit in kits:
        if kit.through in (None, through):
            tally.note(f"{kit.name}: for the outdoor end of run '{run.name}'. {kit.source}")
            for part, number in kit.parts.items():
                section = end.section
                tally.items[(part, "", (section.nominal,), section.label, None)] += number


def _bought_by_the_piece(tally: Tally) -> None:
    """Insulation in its lengths; cement and primer in cans."""
    each = tally.practice.insulation.length
    for (nominal, thickness, label), total in sorted(tally.insulation.items()):
        shown = f"{label}, {show_length(thickness, tally.system)} thick"
        tally.items[("insulation", "", (nominal,), shown, each)] += math.ceil(total / each - 1e-9)
    cement = tally.practice.cement
    for material, joints in tally.joints.items():
        for what, per_can in (("cement", cement.joints_per_can), ("primer", cement.joints_per_primer_can)):
            tally.items[(what, material, (), "", None)] += math.ceil(joints / per_can)
    if tally.joints:
        tally.note(f"cement and primer: for {sum(tally.joints.values())} joints. {cement.source}")
