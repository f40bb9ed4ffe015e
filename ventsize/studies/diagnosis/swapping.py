"""Pipe of another size than the job says, over some pieces of a vent: what it costs more, or less."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ventsize.catalog.records import PipeRecord
from ventsize.flow.fittings import local_loss
from ventsize.flow.pieces import SectionFlow, section_flow
from ventsize.flow.rate_flow import RunFlow
from ventsize.run.model import Piece, Run, Section
from ventsize.studies.readings.case import Case
from ventsize.studies.readings.model import Swap
from ventsize.studies.readings.narrow import narrow_k
from ventsize.studies.readings.places import ordered

NEAR = 2  # how many sizes below and above are looked at: 3 in for 2 in, past the 2 1/2 in that few carry
WIDER, ROUGHER = 0.03, 0.005  # of the bore; pipe of another material that differs by less loses about as much


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Some pieces of a run in another size, or in the same one of another material: `section`.

    first, last: numbers among its `ordered` pieces. part: how much of a single pipe, where not the whole of it is.
    whole: whether it is all of the run.
    """

    run: str
    first: int
    last: int
    section: Section
    part: float | None = None
    whole: bool = False


def stretches(run: Run, materials: Sequence[PipeRecord] = ()) -> Iterator[Stretch]:
    """The whole run, all of it from some piece on and all up to one, stretches between two pipes, and parts of each.

    Fittings and terminal go with them. The whole run is looked at in the other `materials`' same size too.
    """
    pieces = ordered(run)
    end = len(pieces) - 1
    pipes = [number for number, piece in enumerate(pieces) if piece.is_pipe and piece.length > 0.0]
    for first in sorted({0, *pipes}):
        for last in sorted({*pipes, end}):
            inside = pieces[first : last + 1]
            if first > last or any(p.before is not inside[0].before or p.after is not inside[0].before for p in inside):
                continue
            section = inside[0].before
            whole = first == 0 and last == end
            for other in _near(section) + (_of_others(materials, section) if whole else []):
                yield Stretch(run=run.name, first=first, last=last, section=other, whole=whole)
    for number in pipes:
        for other in _near(pieces[number].before):
            yield Stretch(run=run.name, first=number, last=number, section=other, part=1.0)


def _near(section: Section) -> list[Section]:
    sizes = sorted(section.material.sizes, key=lambda size: size.bore)
    here = next(number for number, size in enumerate(sizes) if size is section.size)
    near = (*sizes[max(0, here - NEAR) : here], *sizes[here + 1 : here + 1 + NEAR])
    return [Section(material=section.material, size=size) for size in near]


def _of_others(materials: Sequence[PipeRecord], section: Section) -> list[Section]:
    """The same nominal size in the materials that lose another pressure in it."""
    found: list[Section] = []
    for material in materials:
        size = material.size(section.nominal)
        if material.name == section.material.name or size is None:
            continue
        rougher = abs(material.roughness / size.bore - section.roughness / section.bore)
        if abs(size.bore / section.bore - 1.0) > WIDER or rougher > ROUGHER:
            found.append(Section(material=material, size=size))
    return found


def swap(case: Case, stretch: Stretch) -> Swap:
    """What a stretch costs more in a case, and the velocity pressure at taps in it."""
    flow = case.flow.runs[stretch.run]
    pieces = ordered(flow.run)
    section = pieces[stretch.first].before
    other = stretch.section
    here, there = (section_flow(one, flow.stream) for one in (section, other))
    steps = np.zeros(len(case.keys))
    dynamic = np.ones(len(case.taps))
    ratios = np.ones(len(case.keys))
    if here.dynamic_pressure == 0.0:
        return Swap(ratio=ratios, steps=steps, dynamic=dynamic)
    last = stretch.last
    for number in range(stretch.first, last + 1):
        place = case.index[stretch.run, number]
        ratio = _ratio(case.pieces[place].piece, here, there, other, case.pieces[place].k)
        ratios[place] = 1.0 + (ratio - 1.0) * (1.0 if stretch.part is None else stretch.part)
    if stretch.first > 0 or stretch.part is not None:
        into = _step(flow, True, section, other, here, there)
        steps[case.index[stretch.run, stretch.first]] += into
    if last < len(pieces) - 1 or stretch.part is not None:
        out = _step(flow, False, section, other, here, there)
        beyond = last + 1 if stretch.part is None else last  # behind what is read where the stretch ends
        steps[case.index[stretch.run, beyond]] += out
    if stretch.part is None:
        for row, tap in enumerate(case.taps):
            at_start = tap.position == 0 and stretch.first == 0
            if tap.run == stretch.run and (stretch.first < tap.position <= last + 1 or at_start):
                dynamic[row] = there.dynamic_pressure / here.dynamic_pressure
    return Swap(ratio=ratios, steps=steps, dynamic=dynamic)


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
        plastic=other.plastic,
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
