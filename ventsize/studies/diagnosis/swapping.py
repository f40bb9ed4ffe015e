"""Pipe of another size than the job says, over some pieces of a vent: what it costs more, or less."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ventsize.catalog.records import PipeSize
from ventsize.flow.fittings import local_loss
from ventsize.flow.pieces import SectionFlow, section_flow
from ventsize.flow.solve import RunFlow
from ventsize.run.model import Piece, Run, Section
from ventsize.studies.readings.case import Case
from ventsize.studies.readings.model import Swap
from ventsize.studies.readings.narrow import narrow_k
from ventsize.studies.readings.places import ENDS, ordered

SMALLER, LARGER = 2, 1  # how many sizes below and above are looked at


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Some pieces of a run in another size.

    first, last: numbers among its `ordered` pieces. part: how much of a single pipe, where not the whole of it is.
    """

    run: str
    first: int
    last: int
    size: PipeSize
    part: float | None = None


def stretches(run: Run) -> Iterator[Stretch]:
    """Every stretch of a vent between two of its pipes, to its end too, and a part of each pipe; in each size near."""
    pieces = ordered(run)
    pipes = [number for number, piece in enumerate(pieces) if piece.is_pipe and piece.length > 0.0]
    for place, first in enumerate(pipes):
        for last in pipes[place:]:
            inside = pieces[first : last + 1]
            if any(piece.before is not inside[0].before or piece.after is not inside[0].before for piece in inside):
                continue
            to_the_end = last == len(pieces) - 2 and pieces[-1].kind in ENDS
            for size in _near(inside[0].before):
                yield Stretch(run=run.name, first=first, last=last, size=size)
                if to_the_end:
                    yield Stretch(run=run.name, first=first, last=last + 1, size=size)
                if first == last:
                    yield Stretch(run=run.name, first=first, last=last, size=size, part=1.0)


def _near(section: Section) -> list[PipeSize]:
    sizes = sorted(section.material.sizes, key=lambda size: size.bore)
    here = next(number for number, size in enumerate(sizes) if size is section.size)
    return [*sizes[max(0, here - SMALLER) : here], *sizes[here + 1 : here + 1 + LARGER]]


def swap(case: Case, stretch: Stretch) -> Swap:
    """What a stretch costs more in a case, and the velocity pressure at taps in it."""
    flow = case.flow.runs[stretch.run]
    pieces = ordered(flow.run)
    section = pieces[stretch.first].before
    other = Section(material=section.material, size=stretch.size)
    here, there = (section_flow(one, flow.stream) for one in (section, other))
    extra = np.zeros(len(case.keys))
    dynamic = np.ones(len(case.taps))
    if here.dynamic_pressure == 0.0:
        return Swap(extra=extra, dynamic=dynamic)
    last = stretch.last
    for number in range(stretch.first, last + 1):
        place = case.index[stretch.run, number]
        ratio = _ratio(case.pieces[place].piece, here, there, other, case.pieces[place].k)
        extra[place] = case.loss[place] * (ratio - 1.0) * (1.0 if stretch.part is None else stretch.part)
    if stretch.first > 0 or stretch.part is not None:
        into = _step(flow, True, section, other, here, there)
        extra[case.index[stretch.run, stretch.first]] += into
    if last < len(pieces) - 1 or stretch.part is not None:
        out = _step(flow, False, section, other, here, there)
        beyond = last + 1 if stretch.part is None else last  # behind what is read where the stretch ends
        extra[case.index[stretch.run, beyond]] += out
    if stretch.part is None:
        for row, tap in enumerate(case.taps):
            at_start = tap.position == 0 and stretch.first == 0
            if tap.run == stretch.run and (stretch.first < tap.position <= last + 1 or at_start):
                dynamic[row] = there.dynamic_pressure / here.dynamic_pressure
    return Swap(extra=extra, dynamic=dynamic)


def _ratio(piece: Piece, here: SectionFlow, there: SectionFlow, other: Section, k: float) -> float:
    """What a piece would lose in the other size, over what it loses."""
    if piece.is_pipe:
        return there.gradient / here.gradient
    dynamic = there.dynamic_pressure / here.dynamic_pressure
    if piece.fitting is None or piece.k is not None or k <= 0.0:
        return dynamic
    loss = local_loss(
        piece.fitting,
        bore=other.bore,
        reynolds=there.reynolds,
        friction_factor=there.friction_factor,
        roughness=other.roughness,
        leaving=True,
        with_spread=False,
    )
    return dynamic * loss.k / k


def _step(
    flow: RunFlow, at_first: bool, section: Section, other: Section, here: SectionFlow, there: SectionFlow
) -> float:
    """What the sudden change of size at one end of a stretch loses [Pa]."""
    narrows = (at_first is flow.forward) is (other.bore < section.bore)
    smaller, larger = sorted((section.bore, other.bore))
    velocity = max(here.dynamic_pressure, there.dynamic_pressure)
    share = (smaller / larger) ** 2
    whole = narrow_k(open_bore=smaller, bore=larger) * share**2
    widens = (1.0 - share) ** 2
    return velocity * (whole - widens if narrows else widens)
