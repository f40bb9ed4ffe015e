"""One row against the runs judged together: the length compared, the length allowed, and what is missing to compare."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from ventsize.allowance.charging import Charges, charges_of
from ventsize.allowance.counted import Counted
from ventsize.allowance.elbows import elbows_of
from ventsize.allowance.model import NOT_PERMITTED, SAME_LENGTH, AllowanceTable, Row
from ventsize.allowance.shares import SizeShare
from ventsize.catalog.records import same_size


@dataclass(frozen=True, slots=True)
class Comparison:
    """A row compared with the runs.

    compared: length held against the row [m]
    straight: the least straight length of a pipe that the row's minimum holds for [m]
    allowable: what the row allows here [m]; None where it permits none, or gives a pressure
    pressure: what the row allows, where it gives that [Pa]
    share: of the row's figure that counts at this altitude
    elbows: 90° elbows counted, in an elbow-count row
    """

    row: Row
    compared: float
    straight: float
    allowable: float | None
    pressure: float | None
    share: float
    elbows: int | None
    charges: Charges

    @property
    def margin(self) -> float:
        """Length left [m]; minus infinity where the row permits none, infinity where it limits no length."""
        if self.row.by_pressure:
            return math.inf
        return -math.inf if self.allowable is None else self.allowable - self.compared

    @property
    def fits(self) -> bool:
        """Whether the length is within the row, to a hundredth of an inch."""
        return self.margin >= -SAME_LENGTH

    @property
    def shortfall(self) -> float:
        """Length lacking to the row's minimum [m]; minus infinity where it states none."""
        return -math.inf if self.row.minimum is None else self.row.minimum - self.straight

    def length_in(self, size: float, stricter: Collection[float], runs: Sequence[Counted]) -> float:
        """What of the length compared is in pipe of a nominal size [m].

        stricter: sizes of shorter allowance, to which their changes of size belong
        """
        pipe = (part.length for run in runs for part in run.straight_by_size if same_size(part.size, size))
        return math.fsum(pipe) + math.fsum(
            charge.total
            for charge in self.charges.charges
            if any(same_size(one, size) for one in charge.sizes)
            and not any(same_size(one, other) for one in charge.sizes for other in stricter)
        )


def compare(
    row: Row, table: AllowanceTable, runs: Sequence[Counted], ends: Collection[str], *, share: float
) -> Comparison:
    """One row against the runs that are judged together.

    ends: names of terminals and entrances. share: of the row's figure that counts at this altitude.
    """
    charges = charges_of(row, table, runs, ends)
    elbows = sum(elbows_of(table, run) for run in runs) if row.counts_elbows else None
    return Comparison(
        row=row,
        compared=math.fsum(run.straight for run in runs) + charges.total,
        straight=_shortest(runs),
        allowable=allowable(row, elbows, share),
        pressure=None if row.allowable_pressure is None else row.allowable_pressure * share,
        share=share,
        elbows=elbows,
        charges=charges,
    )


def _shortest(runs: Sequence[Counted]) -> float:
    """The shortest of the pipes, by what they carry; a minimum holds for each [m]."""
    lengths: dict[str, float] = {}
    for run in runs:
        lengths[run.carries] = lengths.get(run.carries, 0.0) + run.straight
    return min(lengths.values())


def allowable(row: Row, elbows: int | None, share: float) -> float | None:
    """What a share of a row allows [m], by so many elbows where it counts them; None where it permits none."""
    entry = row.allowable if elbows is None else row.entry(elbows)
    if entry is None or entry == NOT_PERMITTED or share <= 0.0:
        return None
    return entry * share


def permitted(row: Row, share: float) -> Iterator[tuple[int, float]]:
    """Numbers of elbows that an elbow-count row permits, and the length with each [m] at a share of it."""
    for number, entry in enumerate(row.allowable_by_elbows or (), start=row.first_elbows):
        if entry != NOT_PERMITTED and share > 0.0:
            yield number, entry * share


def shares(by_size: Sequence[tuple[float, Sequence[Comparison]]], runs: Sequence[Counted]) -> list[SizeShare]:
    """Each size's length over its own allowance; of two rows around the input the one of which more is used.

    A change of size belongs to the size with the shorter allowance.
    """
    found: list[SizeShare] = []
    stricter: list[float] = []
    for size, comparisons in sorted(by_size, key=lambda item: min(one.allowable or 0.0 for one in item[1])):
        each = [SizeShare(one.row, one.length_in(size, stricter, runs), one.allowable) for one in comparisons]
        found.append(max(each, key=lambda one: (one.used, -(one.allowable or 0.0))))
        stricter.append(size)
    return found
