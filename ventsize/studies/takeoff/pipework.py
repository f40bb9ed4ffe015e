"""The pipe of a takeoff: what lies in one line, what of it is cut from which stock, and what holds it up."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ventsize.catalog.records import FittingRecord
from ventsize.quantity import show_length
from ventsize.run.model import Piece, Run, Section
from ventsize.studies.takeoff.cutting import CutPlan, cut_list, on_grid
from ventsize.studies.takeoff.practice import Saw, Stock
from ventsize.studies.takeoff.tally import SMALL, Cut, PipeCuts, Tally


@dataclass(frozen=True, slots=True, kw_only=True)
class _Straight:
    """Pipe in one line between two fittings. before, after: those fittings, None at an end of the run."""

    run: Run
    place: str
    section: Section
    length: float
    vertical: bool
    before: FittingRecord | None
    after: FittingRecord | None


def laid_out(tally: Tally, run: Run) -> None:
    """The cuts, couplings and hangers of a run that is laid out."""
    for straight in _straights(run):
        _hung(tally, straight.section, straight.length, vertical=straight.vertical)
        _cut(tally, straight)


def _straights(run: Run) -> list[_Straight]:
    """The pipes of a laid-out run, those in one line and of one size made one."""
    found: list[_Straight] = []
    before: FittingRecord | None = None
    group: list[Piece] = []
    for piece in (*run.pieces, None):
        if piece is not None and piece.is_pipe and (not group or _in_line(group[-1], piece)):
            group.append(piece)
            continue
        if group:
            found.append(_straight(run, group, before, piece.fitting if piece is not None else None))
        turned = piece is not None and piece.is_pipe
        group = [piece] if piece is not None and turned else []
        before = None if turned or piece is None else piece.fitting
    return [straight for straight in found if straight.length > SMALL]


def _in_line(first: Piece, second: Piece) -> bool:
    return first.after is second.before and first.heading == second.heading


def _straight(run: Run, group: list[Piece], before: FittingRecord | None, after: FittingRecord | None) -> _Straight:
    return _Straight(
        run=run,
        place=group[0].place,
        section=group[0].after,
        length=math.fsum(piece.length for piece in group),
        vertical=group[0].heading in ("up", "down"),
        before=before,
        after=after,
    )


def _stock(tally: Tally, place: str, section: Section, length: float) -> Stock | None:
    """How the pipe of a section is sold; None, and said, where that is not known. length: needed there [m]."""
    stock = tally.practice.stock(section.material.name)
    if stock is None:
        tally.lack(
            f"{place}: {show_length(length, tally.system)} of {section.label} {section.material.name}: no stock length "
            "is known; add the material to takeoff.toml"
        )
    return stock


def _cut(tally: Tally, straight: _Straight) -> None:
    section = straight.section
    stock = _stock(tally, straight.place, section, straight.length)
    if stock is None:
        return
    off = math.fsum(_taken_off(tally, section, end) for end in (straight.before, straight.after))
    length = straight.length - off
    if length <= SMALL:
        tally.lack(f"{straight.place}: the fittings at its ends take off more than its length; no pipe is cut for it")
        return
    parts = _parts(length, max(stock.lengths), 0.0 if stock.socketed else tally.practice.saw.usable)
    if len(parts) > 1 and not stock.joinable:
        have, need = (show_length(value, tally.system) for value in (max(stock.lengths), length))
        tally.lack(
            f"{straight.place}: {need} of {section.label} {section.material.name} in one piece, which may not be "
            f"joined, and the longest stock is {have}"
        )
        return
    if len(parts) > 1 and stock.socketed:
        tally.note(f"{section.material.name}: each length has a socket, and joins the next without a coupling")
    elif len(parts) > 1:
        tally.note(
            "a straight longer than stock is made of whole lengths and a rest; with its couplings elsewhere, or with "
            "longer stock, fewer lengths might do"
        )
        tally.add("coupling", section, len(parts) - 1)
        tally.cemented(section, 2 * (len(parts) - 1))
    pipe = (section.material.name, section.nominal)
    tally.sections[pipe] = section
    tally.cuts[pipe] += [
        Cut(run=straight.run.name, place=straight.place, length=part, taken_off=off if number == 0 else 0.0)
        for number, part in enumerate(parts)
    ]


def _taken_off(tally: Tally, section: Section, fitting: FittingRecord | None) -> float:
    """What a fitting takes off a pipe that ends in it [m]; nothing, and a note, where that is not known."""
    if fitting is None or fitting.name in tally.practice.nothing:
        return 0.0
    known = tally.practice.end_to_center(fitting=fitting.name, material=section.material.name, nominal=section.nominal)
    if known is None:
        tally.note(
            f"{fitting.name} {section.label}: dimensions not known; the pipe in it is counted to its center, too long"
        )
        return 0.0
    tally.note(
        f"{fitting.name} {section.label}: {show_length(known.length, tally.system)} from its center to the end of the "
        f"pipe in it is taken off ({known.source})"
    )
    return known.length


def _parts(length: float, longest: float, usable: float) -> list[float]:
    """A straight as pieces no longer than stock: whole lengths and a rest; a stub is shared with the one before it."""
    whole = int((length + SMALL) // longest)
    rest = length - whole * longest
    if rest <= SMALL:
        return [longest] * whole if whole else [length]
    if whole and rest < usable:
        return [longest] * (whole - 1) + [(longest + rest) / 2] * 2
    return [longest] * whole + [rest]


def counted(tally: Tally, run: Run) -> None:
    """A run of which only the total is known: whole lengths, no cut list."""
    section, length = run.first_section, run.straight_length
    if length <= SMALL:
        return
    _hung(tally, section, length, vertical=False)
    stock = _stock(tally, f"run '{run.name}'", section, length)
    if stock is None:
        return
    longest = on_grid(max(stock.lengths))
    number = math.ceil(length / longest - 1e-9)
    tally.add("pipe", section, number, length=longest)
    tally.lack(
        f"run '{run.name}' is counted, not laid out: {number} of {show_length(longest, tally.system)} is the least "
        "that makes its length; no cut list and no couplings"
    )


def _hung(tally: Tally, section: Section, length: float, *, vertical: bool) -> None:
    stock = tally.practice.stock(section.material.name)
    spacing = stock and (stock.vertical if vertical else stock.horizontal)
    if not spacing:
        way = "vertical" if vertical else "horizontal"
        tally.lack(f"{section.material.name}: the spacing of supports of {way} pipe is not known; none are counted")
        return
    tally.add("hanger", section, math.ceil(length / spacing - 1e-9))


Plans = dict[tuple[object, ...], CutPlan]
"""Cut lists by what was asked for."""


def cut_lists(tally: Tally, *, seconds: float, plans: Plans | None = None) -> list[PipeCuts]:
    """How the pieces of each material and size are cut; the stock is added to what is bought.

    seconds: for each list. plans: made before; new ones are added.
    """
    known: Plans = {} if plans is None else plans
    lists = []
    for pipe, cuts in sorted(tally.cuts.items()):
        section = tally.sections[pipe]
        stock = tally.practice.stock(section.material.name)
        assert stock is not None  # nothing is cut of a material without
        saw = tally.practice.saw
        lengths = sorted(cut.length for cut in cuts)
        plan = _plan_of(lengths, stock, saw, known, seconds)
        for bar in plan.bars:
            tally.add("pipe", section, bar.count, length=bar.stock)
        lists.append(PipeCuts(material=section.material.name, label=section.label, cuts=tuple(cuts), plan=plan))
    return lists


def _plan_of(lengths: list[float], stock: Stock, saw: Saw, known: Plans, seconds: float) -> CutPlan:
    """The best way to cut these. What is left of a length without its socket is of no use."""
    most, usable = (1, 2.0 * max(stock.lengths)) if stock.socketed else (None, saw.usable)
    asked = (*lengths, None, *stock.lengths, None, saw.kerf, usable, most)
    plan = known.get(asked)
    if plan is None:
        plan = cut_list(lengths, stocks=stock.lengths, kerf=saw.kerf, usable=usable, most=most, seconds=seconds)
        known[asked] = plan
    return plan
