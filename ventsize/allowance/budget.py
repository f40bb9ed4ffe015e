"""One pressure budget for a table: what an appliance's fan gives, of which a page's lengths are the feet.

Straight pipe of the allowed length, with the elbows that are in it and an open end, should lose much the same pressure
in every row of one appliance; where a page has the end in its deductions, its rows agree better without it. A row far
from the others is probably mistyped; and so is one that would take more than any appliance of this kind gives, be it
the only row. What stands out is named for the user to look at, never corrected.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Protocol

import numpy as np

from ventsize.allowance.model import NOT_PERMITTED, SAME_LENGTH, AllowanceTable, Row
from ventsize.allowance.slips import likely_slip
from ventsize.finding import Finding, Value, Where, pressure, share

FEWEST_ROWS = 4  # below this no row can be said to stand apart from the others
LEAST_FACTOR = 1.3  # rounding of lengths to whole feet and to a few sizes explains this much
WIDTHS_APART = 4.0  # robust standard deviations: one row in some ten thousand by chance
NORMAL_FROM_MEDIAN = 1.4826  # standard deviation of a normal spread from its median absolute deviation
FEW_APART = 4.0  # of two or three rows, how many times the pressure of the others is a slip and no other fan
ENTRY_APART = 2.0  # within a row, by number of elbows: how far an entry may be from the row's others
MOST_PRESSURE = 250.0  # Pa; 1 in w.c.: more than appliances of this kind leave for the vent (common practice)
USUAL_PRESSURE = 60.0  # Pa; 0.24 in w.c.: about what they leave (common practice)
USUAL_SPREAD = math.log(4.0)  # how far from it a page may well be


@dataclass(frozen=True, slots=True)
class Losses:
    """What a row's pipe loses: a length of straight pipe [Pa/m], a 90° elbow, a plain open end [Pa]."""

    straight: float
    elbow: float = 0.0
    end: float = 0.0

    def taken(self, length: float, elbows: int) -> float:
        """Pressure that a permission takes: straight pipe [m] with so many elbows and an open end [Pa]."""
        return self.straight * length + self.elbow * elbows + self.end

    @property
    def without_end(self) -> Losses:
        """The same, of a page that has the end in its deductions."""
        return replace(self, end=0.0)


class LossesOf(Protocol):
    """What pipe of a row loses. Raises ValueError or ArithmeticError where that cannot be worked out."""

    def __call__(self, *, input: float, size: float, altitude: float) -> Losses | None:
        """input: gross [W]; size: nominal [m]; altitude [m]. None where no material has the size."""
        ...


@dataclass(frozen=True, slots=True)
class RowPressure:
    """What a row's allowance amounts to.

    length: straight pipe it allows with the fewest elbows [m]
    pressure: what that takes at the row's input and the top of its band; None where it cannot be worked out [Pa]
    usual: least and most that a row of this table may come to without standing out; None with too few rows [Pa]
    doubts: why it stands out, or why nothing can be worked out
    """

    row: Row
    length: float
    pressure: float | None = None
    usual: tuple[float, float] | None = None
    doubts: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Budget:
    """The pressure of a table's rows [Pa]: the middle of them, and how far apart they are, as a logarithm.

    rows: of how many it was made; spread is infinite with too few
    """

    middle: float
    spread: float
    rows: int

    @property
    def widest(self) -> float:
        """How far a row may be from the middle without standing out, as a logarithm."""
        return max(math.log(LEAST_FACTOR), WIDTHS_APART * self.spread)

    @property
    def usual(self) -> tuple[float, float] | None:
        """Least and most that a row may come to without standing out [Pa]; None with too few rows."""
        if self.rows < FEWEST_ROWS:
            return None
        return self.middle / math.exp(self.widest), self.middle * math.exp(self.widest)


def implied_pressures(table: AllowanceTable, losses_of: LossesOf) -> tuple[RowPressure, ...]:
    """The pressure each row allows, and a doubt on those far from the others, or from what there is.

    The band's upper end is taken, where the gas is thinnest and a table must still hold. Rows that permit no length,
    or give a pressure, are left out, and rows at a limit that several share (the longest length) may well be low. A
    row whose pressure cannot be worked out is among those found, with the reason, and is not held against others.
    """
    usable: list[_Usable] = []
    failed: list[RowPressure] = []
    for row in table.rows:
        if row.budget is None:
            continue
        try:
            losses = losses_of(input=row.input, size=row.size, altitude=row.highest_altitude)
        except (ValueError, ArithmeticError) as error:
            failed.append(RowPressure(row=row, length=row.budget, doubts=(_not_worked_out(row, error),)))
            continue
        if losses is not None:
            taken = losses.taken(row.budget, row.first_elbows if row.counts_elbows else row.elbows_included)
            if 0 < taken < math.inf:
                usable.append(_Usable(row, row.budget, taken, losses))
    bare = [replace(each, taken=each.taken - each.losses.end, losses=each.losses.without_end) for each in usable]
    fitted = min((usable, bare), key=lambda one: _fit(one).spread)
    return (*_held_together(fitted), *failed)


@dataclass(frozen=True, slots=True)
class _Usable:
    """A row with the length it allows [m] and the pressure that takes [Pa]."""

    row: Row
    length: float
    taken: float
    losses: Losses


def _not_worked_out(row: Row, error: Exception) -> Finding:
    why = str(error).strip().rstrip(".") or type(error).__name__
    return Finding("row-pressure-not-known", Where(row=row.number), {"label": row.label, "why": why})


def _held_together(usable: Sequence[_Usable]) -> Iterator[RowPressure]:
    """Rows with the pressures they take, each held against the others."""
    if not usable:
        return
    limit, budget = _common_limit([each.length for each in usable]), _fit(usable)
    for each in usable:
        capped = each.taken < budget.middle and _at(limit, each.length)
        # of few rows a longer one may well be low: large pipe is often cut at one longest length
        others = [] if budget.usual else [other.taken for other in usable if other.length < each.length - SAME_LENGTH]
        doubts = () if capped else (*_doubts(each, budget, others), *_entries(each))
        yield RowPressure(row=each.row, length=each.length, pressure=each.taken, usual=budget.usual, doubts=doubts)


def _fit(usable: Sequence[_Usable]) -> Budget:
    """The budget of some rows, those at a common limit left out; of too few, the middle of all."""
    limit = _common_limit([each.length for each in usable])
    judged = [each.taken for each in usable if not _at(limit, each.length)]
    enough = len(judged) >= FEWEST_ROWS
    middle = float(np.median(judged if enough else [each.taken for each in usable] or [math.nan]))
    spread = _spread([math.log(taken / middle) for taken in judged]) if enough else math.inf
    return Budget(middle, spread, len(judged))


def _common_limit(lengths: Sequence[float]) -> float | None:
    """A length that several rows share and hardly any exceeds: a limit set for other reasons than pressure.

    A mistyped row may stand above the limit, so one row in ten may.
    """
    ordered = sorted(lengths, reverse=True)
    for longer, (one, other) in enumerate(pairwise(ordered)):
        if _at(one, other):
            return one
        if longer >= max(1, len(ordered) // 10):
            break
    return None


def _at(limit: float | None, length: float) -> bool:
    return limit is not None and abs(length - limit) <= SAME_LENGTH


def _spread(logs: Sequence[float]) -> float:
    """How far apart rows of this table are, as a robust standard deviation of the logarithm."""
    return NORMAL_FROM_MEDIAN * float(np.median(np.abs(logs)))


def _doubts(each: _Usable, budget: Budget, others: Sequence[float]) -> Iterator[Finding]:
    """Why a row stands out: from the others, or by what no appliance gives. others: shorter ones, of two or three."""
    if budget.usual is not None:
        if abs(math.log(each.taken / budget.middle)) > budget.widest:
            yield _doubt(each.row, 0, each.taken, budget.middle, budget.spread, others=budget.usual)
    elif each.taken > MOST_PRESSURE:
        yield _doubt(each.row, 0, each.taken, USUAL_PRESSURE, USUAL_SPREAD, most=MOST_PRESSURE)
    elif others and each.taken > FEW_APART * max(others):
        middle = float(np.median(others))
        yield _doubt(each.row, 0, each.taken, middle, math.log(1.5), others=(min(others), max(others)))


def _doubt(
    row: Row, at: int, taken: float, usual: float, spread: float, *,
    others: tuple[float, float] | None = None, most: float | None = None,
) -> Finding:  # fmt: skip
    typed = row.length_labels[at]
    slip = likely_slip(typed, usual / taken, spread)
    values: dict[str, Value] = {
        "label": row.label, "typed": typed, "pressure": pressure(taken), "times": share(taken / usual)
    }  # fmt: skip
    if others is not None:
        values |= {"least": pressure(others[0]), "most": pressure(others[1])}
    if most is not None:
        values["limit"] = pressure(most)
    if slip is not None:
        values |= {"meant": slip.meant, "slip": slip.kind}
    if row.counts_elbows:
        values["elbows"] = row.first_elbows + at
    return Finding("row-pressure-unlikely", Where(row=row.number), values)


def _entries(each: _Usable) -> Iterator[Finding]:
    """Entries of one row, by number of elbows, that are far from its others though a slip would explain them."""
    row = each.row
    listed = [(at, entry) for at, entry in enumerate(row.allowable_by_elbows or ()) if entry != NOT_PERMITTED]
    if len(listed) < FEWEST_ROWS:
        return
    taken = [(at, each.losses.taken(float(entry), row.first_elbows + at)) for at, entry in listed]
    middle = float(np.median([pressure_of for _, pressure_of in taken]))
    for at, pressure_of in taken[1:]:
        if abs(math.log(pressure_of / middle)) <= math.log(ENTRY_APART):
            continue
        found = _doubt(row, at, pressure_of, middle, math.log(LEAST_FACTOR), others=(middle, middle))
        if "meant" in found.values:
            yield found
