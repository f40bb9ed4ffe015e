"""What pipe and fittings of a run cost under one row of a table, and what the table would have to say and does not."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from typing import Literal

from ventsize.allowance.counted import (
    ENTRANCE,
    IN_THE_LENGTHS,
    TERMINAL,
    UNDESCRIBED,
    Counted,
    CountedFitting,
)
from ventsize.allowance.elbows import Which, included_elbows, is_counted
from ventsize.allowance.model import SAME_LENGTH, AllowanceTable, Deduction, Row
from ventsize.finding import Finding, Value, Where

Origin = Literal["table", "override", "material"]
Each = tuple[str, float, Origin, bool]


@dataclass(frozen=True, slots=True)
class Charge:
    """What fittings of one kind, or pipe of one material, add to the length compared.

    sizes: nominal; two at a size change [m]. count: how many, or how many begun pairs; each: for one of these [m].
    origin: the table's word on a fitting, the job's own length, or the table's word on a material
    """

    name: str
    sizes: tuple[float, ...]
    count: int
    each: float
    origin: Origin = "table"
    pairs: bool = False

    @property
    def total(self) -> float:
        """All of them together [m]."""
        return self.count * self.each


@dataclass(frozen=True, slots=True)
class Charges:
    """What a row makes of runs that it judges together.

    free: fittings that cost nothing, by name: so many; missing: what the table does not say and would have to
    """

    charges: tuple[Charge, ...]
    free: dict[str, int] = field(default_factory=dict)
    missing: tuple[Finding, ...] = ()

    @property
    def total(self) -> float:
        """What is added to the straight pipe [m]."""
        return math.fsum(charge.total for charge in self.charges)


def charges_of(row: Row, table: AllowanceTable, runs: Sequence[Counted], ends: Collection[str]) -> Charges:
    """What fittings and materials of some runs add under a row. `ends`: names of terminals and entrances."""
    walk = _Walk(row, table, ends)
    included = included_elbows(table, runs, allowed=row.elbows_included, cost=lambda one: cost_of_one(table, one))
    for number, run in enumerate(runs):
        walk.run(number, run, included)
    return Charges(tuple(walk.charges), walk.free, tuple(dict.fromkeys(walk.missing)))


def cost_of_one(table: AllowanceTable, fitting: CountedFitting) -> float | None:
    """What one of a fitting takes, by the job or else by the table [m]; None where neither says."""
    if fitting.table_length is not None:
        return fitting.table_length
    deduction = table.deductions.get(fitting.name)
    each = None if deduction is None else deduction_at(deduction, fitting)
    return each / 2 if each is not None and deduction is not None and deduction.per_two else each


def deduction_at(deduction: Deduction, fitting: CountedFitting) -> float | None:
    """The figure of a deduction for a fitting's size [m]; at a change of size the larger of two, both needed."""
    if deduction.length is not None:
        return deduction.length
    found = [deduction.at(size) for size in fitting.sizes]
    lengths = [length for length in found if length is not None]
    return max(lengths) if len(lengths) == len(found) else None


class _Walk:
    """Goes through the fittings of runs, one run after the other."""

    def __init__(self, row: Row, table: AllowanceTable, ends: Collection[str]) -> None:
        self._row = row
        self._table = table
        self._ends = ends
        self.charges: list[Charge] = []
        self.free: dict[str, int] = {}
        self.missing: list[Finding] = []

    def run(self, number: int, run: Counted, included: dict[Which, int]) -> None:
        pairs: dict[str, list[tuple[CountedFitting, int]]] = {}
        self._materials(run)
        for at, fitting in enumerate(run.fittings):
            if not fitting.count:
                continue
            free = included.get((number, at), 0)
            self._free(fitting.name, free)
            left = fitting.count - free
            if left and self._is_paired(fitting):
                pairs.setdefault(fitting.name, []).append((fitting, left))
            elif left:
                self._fitting(fitting, left)
        for name, alike in pairs.items():
            self._pairs(name, alike)
        if (end := self._end_not_listed(run)) is not None:
            self.missing.append(end)

    def _free(self, name: str, count: int) -> None:
        if count:
            self.free[name] = self.free.get(name, 0) + count

    def _materials(self, run: Counted) -> None:
        """What a foot of a material counts beyond a foot."""
        for part in run.straight_by_size:
            factor = self._table.counts_as.get(part.material, 1.0)
            if factor != 1.0 and part.length:
                self.charges.append(Charge(part.material, (part.size,), 1, (factor - 1.0) * part.length, "material"))

    def _is_paired(self, fitting: CountedFitting) -> bool:
        deduction = self._table.deductions.get(fitting.name)
        if deduction is None or not deduction.per_two or fitting.table_length is not None:
            return False
        return not self._is_counted(fitting) or all(row.counts_elbows for row in self._table.rows)

    def _is_counted(self, fitting: CountedFitting) -> bool:
        return self._row.counts_elbows and is_counted(self._table, fitting)

    def _pairs(self, name: str, alike: Sequence[tuple[CountedFitting, int]]) -> None:
        """Each begun pair of a run costs the table's figure."""
        each = self._table.deductions[name].length or 0.0
        count = sum(number for _, number in alike)
        if each <= 0.0:
            self._free(name, count)
            return
        sizes = tuple(sorted({size for fitting, _ in alike for size in fitting.sizes}))
        self.charges.append(Charge(name, sizes, math.ceil(count / 2), each, pairs=True))

    def _fitting(self, fitting: CountedFitting, count: int) -> None:
        listed = fitting.name in self._table.deductions
        if self._row.by_pressure and fitting.name != UNDESCRIBED:
            self._free(fitting.name, count)  # the loss that is compared holds each fitting
        elif fitting.table_length is not None:
            self.charges.append(Charge(fitting.name, fitting.sizes, count, fitting.table_length, "override"))
        elif self._is_counted(fitting):
            if self._is_wordless_end(fitting):
                self.missing.append(self._no_word(fitting))
            elif listed and all(row.counts_elbows for row in self._table.rows):
                self._listed(fitting, count)  # no other row can have been meant by it
        elif listed:
            self._listed(fitting, count)
        elif fitting.implied:
            self._free(fitting.name, count)  # where that matters, `_end_not_listed` says so
        elif self._costs_nothing(fitting):
            self._free(fitting.name, count)
        else:
            self.missing.append(self._no_word(fitting))

    def _listed(self, fitting: CountedFitting, count: int) -> None:
        each = deduction_at(self._table.deductions[fitting.name], fitting)
        if each is None:
            labels = tuple(entry.label for entry in self._table.deductions[fitting.name].by_size)
            values: dict[str, Value] = {"fitting": fitting.name, "listed": labels}
            self.missing.append(Finding("no-deduction-at-size", fitting.where, values))
        elif each > 0.0:
            self.charges.append(Charge(fitting.name, fitting.sizes, count, each))
        else:
            self._free(fitting.name, count)

    def _costs_nothing(self, fitting: CountedFitting) -> bool:
        """Whether a fitting the table has no word for is in its lengths."""
        if fitting.name == UNDESCRIBED:
            return False
        if self._row.counts_elbows:
            return not self._is_wordless_end(fitting)
        return not self._table.deducts and fitting.kind in IN_THE_LENGTHS

    def _is_wordless_end(self, fitting: CountedFitting) -> bool:
        """Whether it is an outdoor end that the table has no word for, though it deducts for some end."""
        if fitting.kind not in (TERMINAL, ENTRANCE) or fitting.table_length is not None:
            return False
        if fitting.name in self._table.deductions or fitting.name in self._table.elbows_each:
            return False
        return bool(charged_ends(self._table, self._ends))

    def _no_word(self, fitting: CountedFitting) -> Finding:
        return Finding("no-deduction", fitting.where, {"fitting": fitting.name})

    def _end_not_listed(self, run: Counted) -> Finding | None:
        """A run to the outdoors has an end; where the table charges for one, the run must say which.

        A run that lists none ends as a plain open pipe, and is complete where the table says what that costs.
        """
        if not run.reaches_outdoors or self._row.by_pressure:
            return None
        ends = [one for one in run.present if one.kind in (TERMINAL, ENTRANCE)]
        named = {*self._table.deductions, *(self._table.elbows_each if self._row.counts_elbows else ())}
        if any(not end.implied or end.name in named for end in ends):
            return None
        charged = charged_ends(self._table, self._ends)
        if not ends and not any(self._table.deductions[name].largest > SAME_LENGTH for name in charged):
            return None
        return Finding("end-not-listed", Where(run=run.name or None), {"charged": charged}) if charged else None


def charged_ends(table: AllowanceTable, ends: Collection[str]) -> tuple[str, ...]:
    """Outdoor ends that the table has a deduction for, by name. `ends`: names of terminals and entrances."""
    own = {fitting.name for fitting in table.fittings if fitting.kind in (TERMINAL, ENTRANCE)}
    return tuple(
        name for name in table.deductions if name in ends or name in own or name.startswith(("terminal-", "entrance-"))
    )
