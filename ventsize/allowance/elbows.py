"""Elbows as a table counts them: so many 90s, and which of a run's elbows an allowance has in it already."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from ventsize.allowance.counted import ELBOW, Counted, CountedFitting
from ventsize.allowance.model import RUNS_TOGETHER, AllowanceTable

ROUNDING = 1e-6  # of converted angles, and of sums of shares of an elbow
ALIKE = 6  # decimals of a meter to which lengths are told apart: 3 ft and 0.9144 m are one
ABOUT = 1.0  # degrees; an elbow of 91° is still one of 90°


@dataclass(slots=True)
class Tally:
    """A sum of elbows: whole 90s, elbows of 45° or less, of which two are one, and what the table counts itself."""

    whole: int = 0
    small: int = 0
    shares: float = field(default=0.0)

    @property
    def count(self) -> int:
        """90° elbows; an odd small one is a whole."""
        return self.whole + math.ceil(self.small / 2) + math.ceil(self.shares - ROUNDING)

    def add(self, table: AllowanceTable, fitting: CountedFitting, count: int) -> None:
        """Add so many of a fitting."""
        if fitting.name in table.elbows_each:
            self.shares += table.elbows_each[fitting.name] * count
        elif fitting.turns:
            angle = fitting.angle_degrees if fitting.angle_degrees else 90.0
            if angle <= 45.0 + ROUNDING:
                self.small += count
            else:
                self.whole += count * math.ceil((angle - ABOUT) / 90.0)


def elbows_of(table: AllowanceTable, run: Counted) -> int:
    """90° elbows of a run as an elbow-count row counts them.

    Two elbows of 45° or less are one, and an odd one is a whole, unless the table says otherwise
    (`elbows_each`); a turn of more than 90° is as many as it takes.
    """
    own, joints = Tally(), Tally()  # a wye between two runs makes no pair with an elbow of one of them
    for fitting in run.present:
        tally = own if fitting.where.joint is None else joints
        tally.add(table, fitting, fitting.count)
    return own.count + joints.count


def is_counted(table: AllowanceTable, fitting: CountedFitting) -> bool:
    """Whether a fitting is an elbow, or several, where a row counts elbows."""
    each = table.elbows_each.get(fitting.name)
    return fitting.turns if each is None else each > 0.0


Which = tuple[int, int]
"""A fitting by the place of its run, and its place in that run's list."""

Cost = Callable[[CountedFitting], "float | None"]
"""What one of a fitting takes, by the job or else by the table [m]; None where neither says."""


def included_elbows(table: AllowanceTable, runs: Sequence[Counted], *, allowed: int, cost: Cost) -> dict[Which, int]:
    """How many of each fitting are among the elbows that a row includes.

    allowed: 90° elbows that cost nothing.

    They are the first along the run from the appliance, as long as they count no more than `allowed`; where no
    order is known, those with the smallest deduction. Ends and tees that turn the gas are none of them.
    """
    found: dict[Which, int] = {}
    if allowed <= 0:
        return found
    tally = Tally()
    for which, fitting in _in_order(table, runs, cost):
        tally.add(table, fitting, 1)
        if tally.count > allowed:
            break
        found[which] = found.get(which, 0) + 1
    return found


def _in_order(table: AllowanceTable, runs: Sequence[Counted], cost: Cost) -> Iterator[tuple[Which, CountedFitting]]:
    """Elbows one by one, the first to be included first."""
    if table.counts == RUNS_TOGETHER:  # one allowance for two pipes, which both begin at the appliance
        every = [item for number, run in enumerate(runs) for item in _elbows(table, number, run)]
        yield from _cheapest_first(table, every, cost)
        return
    for number, run in enumerate(runs):
        elbows = _elbows(table, number, run)
        if run.laid_out:
            placed = [(place, which, fitting) for which, fitting in elbows for place in fitting.order]
            yield from ((which, fitting) for _, which, fitting in sorted(placed, key=lambda item: item[0]))
        else:
            yield from _cheapest_first(table, elbows, cost)


def _elbows(table: AllowanceTable, number: int, run: Counted) -> list[tuple[Which, CountedFitting]]:
    return [
        ((number, at), fitting)
        for at, fitting in enumerate(run.fittings)
        if fitting.count and fitting.kind == ELBOW and is_counted(table, fitting)
    ]


def _cheapest_first(
    table: AllowanceTable, elbows: Sequence[tuple[Which, CountedFitting]], cost: Cost
) -> Iterator[tuple[Which, CountedFitting]]:
    """Of two that take the same length the one that counts as more elbows, so that no more is saved than must be."""

    def each(item: tuple[Which, CountedFitting]) -> tuple[float, int]:
        length, pair = cost(item[1]), Tally()
        pair.add(table, item[1], 2)
        return (math.inf if length is None else round(length, ALIKE)), -pair.count

    for which, fitting in sorted(elbows, key=each):
        for _ in range(fitting.count):
            yield which, fitting
