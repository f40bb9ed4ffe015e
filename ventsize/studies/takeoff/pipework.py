"""The pipe of a takeoff: what lies in one line, what of it is cut from which stock, and what holds it up."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from ventsize.catalog.records import FittingRecord
from ventsize.finding import Finding, Value, Where
from ventsize.finding import length as amount
from ventsize.run.model import Piece, Run, Section
from ventsize.studies.takeoff.couplings import joined
from ventsize.studies.takeoff.cutting import CutPlan, cut_list, on_grid
from ventsize.studies.takeoff.practice import Practice, Reach, Saw, Stock, Which
from ventsize.studies.takeoff.tally import SMALL, Cut, PipeCuts, Tally

AtJoints = Mapping[str, FittingRecord]
"""The fitting where runs meet, by the joint's name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Straight:
    """Pipe in one line between two fittings. before, after: those fittings, None at a collar or an open end."""

    where: Where
    section: Section
    length: float
    vertical: bool
    before: FittingRecord | None
    after: FittingRecord | None

    def reaches(self, practice: Practice) -> list[tuple[FittingRecord, Reach]]:
        """What the fittings at its ends take off, those that take something."""
        fittings = [fitting for fitting in (self.before, self.after) if fitting is not None]
        return [(fitting, practice.reach(fitting, self.section)) for fitting in fittings]

    def cut_length(self, practice: Practice, which: Which) -> float:
        """How long its pipe is cut in all [m]; zero or less where its fittings leave no room."""
        return self.length - math.fsum(reach.at(which) for _, reach in self.reaches(practice))


def where_of(run: Run, index: int) -> Where:
    """The place of a piece of a run; index: from 0."""
    listed = sum(not piece.implied for piece in run.pieces[:index]) + 1
    return Where(run=run.name, piece=None if run.counted else listed)


def straights(run: Run, at_joints: AtJoints) -> list[Straight]:
    """The pipes of a laid-out run, those in one line and of one size made one."""
    found: list[Straight] = []
    before: FittingRecord | None = at_joints.get(run.start)
    group: list[tuple[int, Piece]] = []
    for index, piece in enumerate((*run.pieces, None)):
        if piece is not None and piece.is_pipe and (not group or _in_line(group[-1][1], piece)):
            group.append((index, piece))
            continue
        if group:
            after = at_joints.get(run.end) if piece is None else piece.fitting
            found.append(_straight(run, group, before, after))
        turned = piece is not None and piece.is_pipe
        group = [(index, piece)] if piece is not None and turned else []
        before = None if turned or piece is None else piece.fitting
    return [straight for straight in found if straight.length > SMALL]


def _in_line(first: Piece, second: Piece) -> bool:
    return first.after is second.before and first.heading == second.heading


def _straight(
    run: Run, group: list[tuple[int, Piece]], before: FittingRecord | None, after: FittingRecord | None
) -> Straight:
    index, first = group[0]
    return Straight(
        where=where_of(run, index),
        section=first.after,
        length=math.fsum(piece.length for _, piece in group),
        vertical=first.heading in ("up", "down"),
        before=before,
        after=after,
    )


def parts(length: float, *, stock: Stock, saw: Saw) -> list[float]:
    """A straight as pieces no longer than stock [m]: whole lengths and a rest; a stub is shared with the one before."""
    longest, usable = max(stock.lengths), 0.0 if stock.socketed else saw.usable
    whole = int((length + SMALL) // longest)
    rest = length - whole * longest
    if rest <= SMALL:
        return [longest] * whole if whole else [length]
    if whole and rest < usable:
        return [longest] * (whole - 1) + [(longest + rest) / 2] * 2
    return [longest] * whole + [rest]


def laid_out(tally: Tally, run: Run, at_joints: AtJoints) -> None:
    """The cuts, couplings and hangers of a run that is laid out."""
    for straight in straights(run, at_joints):
        _hung(tally, straight.section, straight.length, vertical=straight.vertical)
        _cut(tally, straight)


def _stock(tally: Tally, where: Where, section: Section, length: float) -> Stock | None:
    """How the pipe of a section is sold; None, and said, where that is not known. length: needed there [m]."""
    stock = tally.practice.stock(section.material.name)
    if stock is None:
        values: dict[str, Value] = {"length": amount(length), "size": section.label, "material": section.material.name}
        tally.lack(Finding("takeoff-no-stock", where, values))
    return stock


def _cut(tally: Tally, straight: Straight) -> None:
    section, practice = straight.section, tally.practice
    stock = _stock(tally, straight.where, section, straight.length)
    if stock is None:
        return
    _reaches_told(tally, straight)
    length = straight.cut_length(practice, tally.which)
    if length <= SMALL:
        tally.lack(Finding("takeoff-no-room", straight.where, {"length": amount(straight.length)}))
        return
    if straight.cut_length(practice, "high") <= SMALL:
        tally.note(Finding("takeoff-tight", straight.where, {"length": amount(straight.length)}))
    made = parts(length, stock=stock, saw=practice.saw)
    if len(made) > 1 and not stock.joinable:
        values: dict[str, Value] = {"length": amount(length), "size": section.label, "material": section.material.name}
        tally.lack(
            Finding("takeoff-not-joinable", straight.where, {**values, "stock": amount(max(stock.lengths))}),
        )
        return
    if len(made) > 1 and stock.socketed:
        tally.note(Finding("takeoff-sockets", values={"material": section.material.name}))
    elif len(made) > 1:
        tally.note(Finding("takeoff-couplings"))
        tally.add("coupling", section, len(made) - 1)
    tally.joined(section, (len(made) - 1) * (1 if stock.socketed else 2))
    pipe = (section.material.name, section.nominal)
    tally.sections[pipe] = section
    off = straight.length - length
    tally.cuts[pipe] += [
        Cut(where=straight.where, length=part, taken_off=off if number == len(made) else 0.0)
        for number, part in enumerate(made, start=1)
    ]


def _reaches_told(tally: Tally, straight: Straight) -> None:
    for fitting, reach in straight.reaches(tally.practice):
        if not reach.high:
            continue
        values: dict[str, Value] = {
            "fitting": fitting.name,
            "size": straight.section.label,
            "length": amount(reach.length),
            "source": reach.source,
        }
        if not reach.is_estimated:
            tally.note(Finding("takeoff-reach", values=values))
            continue
        found = Finding(
            "takeoff-reach-estimated", values={**values, "low": amount(reach.low), "high": amount(reach.high)}
        )
        tally.note(found)
        tally.estimated[found.key] = found


def counted(tally: Tally, run: Run) -> None:
    """A run of which only the total is known: whole lengths, no cut list."""
    section, length = run.first_section, run.straight_length
    if length <= SMALL:
        return
    _hung(tally, section, length, vertical=False)
    stock = _stock(tally, Where(run=run.name), section, length)
    if stock is None:
        return
    longest = on_grid(max(stock.lengths))
    number = math.ceil(length / longest - 1e-9)
    tally.add("pipe", section, number, length=longest)
    tally.lack(Finding("takeoff-counted", Where(run=run.name), {"number": number, "stock": amount(longest)}))


def _hung(tally: Tally, section: Section, length: float, *, vertical: bool) -> None:
    stock = tally.practice.stock(section.material.name)
    spacing = stock and (stock.vertical if vertical else stock.horizontal)
    if not spacing:
        values = {"material": section.material.name, "way": "vertical" if vertical else "horizontal"}
        tally.lack(Finding("takeoff-no-supports", values=values))
        return
    tally.add("hanger", section, math.ceil(length / spacing - 1e-9))


Plans = dict[tuple[object, ...], tuple[CutPlan, list[float]]]
"""Cut lists with the pieces in their order, by what was asked for."""


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
        plan, lengths = _plan_of(cuts, stock, tally.practice.saw, known, seconds)
        cuts = [replace(cut, length=length) for cut, length in zip(cuts, lengths, strict=True)]
        for bar in plan.bars:
            tally.add("pipe", section, bar.count, length=bar.stock)
        lists.append(PipeCuts(material=section.material.name, label=section.label, cuts=tuple(cuts), plan=plan))
    return lists


def _plan_of(cuts: list[Cut], stock: Stock, saw: Saw, known: Plans, seconds: float) -> tuple[CutPlan, list[float]]:
    """The best way to cut these. What is left of a length without its socket is of no use."""
    most, usable = (1, 2.0 * max(stock.lengths)) if stock.socketed else (None, saw.usable)
    lengths = [cut.length for cut in cuts]
    places = [cut.where for cut in cuts]
    coupled = [n for n, (a, b) in enumerate(pairwise(places)) if a == b and b not in places[n + 2 : n + 3]]
    asked = (*lengths, None, *coupled, None, *stock.lengths, None, saw.kerf, usable, most)
    if asked not in known:
        known[asked] = joined(
            lengths,
            [] if stock.socketed else coupled,
            plan_of=lambda pieces: cut_list(
                sorted(pieces),
                stocks=stock.lengths,
                kerf=saw.kerf,
                usable=usable,
                thinnest=saw.thinnest,
                most=most,
                seconds=seconds,
            ),
            stock=max(stock.lengths),
            kerf=saw.kerf,
            least=saw.usable,
        )
    return known[asked]
