"""One question put to a table: runs that it judges together, and the job around them."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field

from ventsize.allowance.case import COMBUSTION_AIR, FLUE_GAS, RowCase, Site
from ventsize.allowance.counted import Counted
from ventsize.allowance.model import ONE_PIPE, TWO_PIPES, AllowanceTable, Row
from ventsize.catalog.records import same_size
from ventsize.finding import Finding, Outcome, Value, Verdict, Where
from ventsize.jobfile.job import Carries
from ventsize.quantity import show_size


@dataclass(frozen=True, slots=True)
class Question:
    """One question put to a table. read: the rows that answer, each with the size it answers for."""

    table: AllowanceTable
    input: float
    site: Site
    counted: tuple[Counted, ...]
    ends: Collection[str]
    read: list[tuple[float, Row]] = field(default_factory=list)

    @property
    def sizes(self) -> tuple[float, ...]:
        return distinct(size for run in self.counted for size in run.sizes)

    @property
    def gases(self) -> tuple[Carries, ...]:
        return tuple(dict.fromkeys(run.carries for run in self.counted))

    @property
    def straight(self) -> float:
        return math.fsum(run.straight for run in self.counted)

    def label(self, size: float) -> str:
        """A size as the job writes it, else as the table does, else by its name."""
        for run in self.counted:
            if label := run.label_of(size):
                return label
        rows = self.table.rows_of_size(size)
        return rows[0].size_label if rows else show_size(size)

    def labels(self, sizes: Sequence[float]) -> tuple[str, ...]:
        return tuple(self.label(size) for size in sizes)

    def of_gas(self, carries: Carries) -> RowCase:
        """What the rows' conditions are held against, for the pipe that carries this."""
        runs = [run for run in self.counted if run.carries == carries]
        pipes = TWO_PIPES if carries == COMBUSTION_AIR else self.site.pipes
        other = self.site.sizes.get(FLUE_GAS if carries == COMBUSTION_AIR else COMBUSTION_AIR)
        ends = [run.ends for run in runs if run.reaches_outdoors] or [run.ends for run in runs]
        known = [name for listed in ends if listed for name in listed]
        return RowCase(
            carries=carries,
            pipes=pipes,
            ends=None if None in ends else tuple(known),
            materials=frozenset().union(*(run.materials for run in runs)),
            other_sizes=() if pipes == ONE_PIPE else other or None,
        )


def distinct(sizes: Iterable[float]) -> tuple[float, ...]:
    found: list[float] = []
    for size in sorted(sizes):
        if not found or not same_size(found[-1], size):
            found.append(size)
    return tuple(found)


def met(condition: str, code: str, values: dict[str, Value], row: int | None = None) -> Outcome:
    return Outcome(condition=condition, state="met", because=Finding(code, Where(row=row), values))


def not_met(
    condition: str, code: str, values: dict[str, Value], row: int | None = None, *, verdict: Verdict = "over"
) -> Outcome:
    return Outcome(condition=condition, state="not met", because=Finding(code, Where(row=row), values), if_not=verdict)
