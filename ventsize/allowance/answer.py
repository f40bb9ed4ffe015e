"""What a table says about a run."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ventsize.allowance.model import Row

Verdict = Literal["within", "over", "short", "not covered", "incomplete"]


@dataclass(frozen=True, slots=True)
class DeductionLine:
    """What fittings of one kind add to the length compared: so many, each [m], together [m], by whom."""

    fitting: str
    count: int
    each: float
    total: float
    origin: Literal["table", "override"]


@dataclass(frozen=True, slots=True)
class TableAnswer:
    """The table's verdict on a run, and how it was reached.

    verdict: only `within` is a pass
    reason: one sentence for the person in front of the vent
    straight_length: straight pipe of all runs counted [m]
    rows: the rows that were read: one, or two around the input, for each size
    row_input: input of the row that governs [W]
    row_size: size of that row as the table writes it
    equivalent_length: the length compared: straight pipe and deductions, or in an elbow-count row the
        straight length [m]
    allowable_length: what the governing row allows; None where it permits none [m]
    minimum_length: the largest minimum of the rows read, if any states one [m]
    used: share of the allowance used
    elbows: 90° elbows counted, in an elbow-count row
    budget_length: straight pipe the governing row allows with no elbow: the allowance as pipe alone [m]
    turns: elbows of more than 30° in the runs counted
    most_elbows: how many of them the table permits; None where it sets no limit
    note: what the table says besides
    """

    verdict: Verdict
    reason: str
    straight_length: float
    cautions: tuple[str, ...] = ()
    rows: tuple[Row, ...] = ()
    row_input: float | None = None
    row_size: str | None = None
    equivalent_length: float | None = None
    allowable_length: float | None = None
    minimum_length: float | None = None
    used: float | None = None
    deductions: tuple[DeductionLine, ...] = ()
    elbows: int | None = None
    budget_length: float | None = None
    turns: int = 0
    most_elbows: int | None = None
    note: str = ""

    @property
    def too_many_elbows(self) -> bool:
        """Whether the runs have more elbows than the table permits, whatever their length."""
        return self.most_elbows is not None and self.turns > self.most_elbows
