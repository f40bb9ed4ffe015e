"""What a table says about a run."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ventsize.allowance.model import Row
from ventsize.allowance.shares import SizeShare
from ventsize.finding import Finding, Outcome, Verdict, deciding

CONDITIONS = (
    "gas-in-table",
    "size-in-table",
    "altitude-in-table",
    "input-in-table",
    "fittings-in-table",
    "elbows-allowed",
    "length-allowed",
    "length-enough",
)
"""The conditions of a pass that every table judges, in the order in which they are looked at."""

CASE, CONFIRMED_ALTITUDE, FOOTNOTES = "case-in-table", "altitude-confirmed", "footnotes-confirmed"
PRESSURE = "pressure-allowed"
"""That a run loses no more than a row permits that gives a pressure; the calculation says whether."""


@dataclass(frozen=True, slots=True)
class DeductionLine:
    """What fittings of one kind add to the length compared: so many, each [m], together [m], by whom.

    pairs: whether begun pairs are counted. origin: "material" for what a foot of a material counts beyond a foot,
    with the name of the material.
    """

    fitting: str
    count: int
    each: float
    total: float
    origin: Literal["table", "override", "material"]
    pairs: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TableAnswer:
    """The table's answer for a run, and how it was reached.

    outcomes: each of `CONDITIONS` as far as it could be looked at; what stops the look-up is the last of them
    straight_length: straight pipe of all runs counted [m]
    findings: what is worth knowing whatever the verdict
    required: the conditions that a pass by this table needs, by name; `PRESSURE` is for the calculation to add
    rows: the rows that were read: one, or two around the input, for each size
    row: the one of them that governs
    pipe_size: nominal size that it answers for: of an air pipe its own, where the row pairs sizes [m]
    row_input: input of the row that governs [W]
    row_size: size of that row as the table writes it
    equivalent_length: the length compared: straight pipe and deductions, or in an elbow-count row the
        straight length [m]
    allowable_length: what the governing row allows; None where it permits none [m]
    minimum_length: the largest minimum of the rows read, if any states one [m]
    used: share of the allowance used
    elbows: 90° elbows counted, in an elbow-count row
    budget_length: straight pipe the governing row allows with its fewest elbows: the allowance as pipe alone [m]
    permitted: in an elbow-count row, numbers of elbows and the length permitted with each [m]
    allowable_pressure: what the run may lose at its highest rate, by a row that gives a pressure; the least of those
        read [Pa]
    altitude_share: of the governing row's figure that counts at this altitude, where the page has a factor
    free: fittings that cost nothing by the governing row, and how many of each
    shares: what each size uses of its own allowance, where the table adds shares
    turns: elbows of more than 30° in the runs counted
    most_elbows: how many of them the table permits; None where it sets no limit
    note: what the table says besides
    """

    outcomes: tuple[Outcome, ...]
    straight_length: float
    findings: tuple[Finding, ...] = ()
    required: tuple[str, ...] = CONDITIONS
    rows: tuple[Row, ...] = ()
    row: Row | None = None
    pipe_size: float | None = None
    row_input: float | None = None
    row_size: str | None = None
    equivalent_length: float | None = None
    allowable_length: float | None = None
    minimum_length: float | None = None
    used: float | None = None
    deductions: tuple[DeductionLine, ...] = ()
    elbows: int | None = None
    budget_length: float | None = None
    permitted: tuple[tuple[int, float], ...] | None = None
    allowable_pressure: float | None = None
    altitude_share: float = 1.0
    free: tuple[tuple[str, int], ...] = ()
    shares: tuple[SizeShare, ...] = ()
    turns: int = 0
    most_elbows: int | None = None
    note: str = ""

    @property
    def decides(self) -> Outcome:
        """The outcome that settles the table's answer: the most severe; where all are met, that of the length."""
        worst = deciding(self.outcomes)
        assert worst is not None  # a look-up that got nowhere says so
        if worst.state != "met":
            return worst
        return next((outcome for outcome in self.outcomes if outcome.condition == "length-allowed"), worst)

    @property
    def verdict(self) -> Verdict:
        """The table's verdict; only `within` is a pass."""
        return self.decides.verdict
