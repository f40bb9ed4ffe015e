"""One row against the runs: the length compared, the length allowed, and what is missing to compare."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from ventsize.allowance.answer import DeductionLine
from ventsize.allowance.counted import (
    COUPLING,
    ENTRANCE,
    IN_THE_LENGTHS,
    SIZE_CHANGE,
    TERMINAL,
    Counted,
    CountedFitting,
)
from ventsize.allowance.model import (
    NOT_PERMITTED,
    SAME_LENGTH,
    AllowanceTable,
    Entry,
    Row,
)
from ventsize.finding import Finding, Outcome, Where

ROUNDING = 1e-6  # of converted angles, and of sums of shares of an elbow
ABOUT = 1.0  # degrees; an elbow of 91° is still one of 90°


@dataclass(frozen=True, slots=True)
class Comparison:
    """A row compared with the runs.

    compared: length held against the row [m]
    allowable: what the row allows [m]; None where it permits none
    elbows: 90° elbows counted, in an elbow-count row
    missing: what the table does not say and would have to
    """

    row: Row
    compared: float
    allowable: float | None
    elbows: int | None
    lines: tuple[DeductionLine, ...]
    missing: tuple[Outcome, ...]

    @property
    def margin(self) -> float:
        """Length left [m]; minus infinity where the row permits none."""
        return -math.inf if self.allowable is None else self.allowable - self.compared

    @property
    def fits(self) -> bool:
        """Whether the length is within the row, to a hundredth of an inch."""
        return self.margin >= -SAME_LENGTH

    @property
    def shortfall(self) -> float:
        """Length lacking to the row's minimum [m]; minus infinity where it states none."""
        return -math.inf if self.row.minimum is None else self.row.minimum - self.compared


@dataclass(frozen=True, slots=True)
class _Addition:
    """What a fitting adds: a length [m] by the table or the job's override, or what is missing."""

    fitting: CountedFitting
    each: float = 0.0
    origin: Literal["table", "override"] = "table"
    missing: Finding | None = None


def compare(row: Row, table: AllowanceTable, counted: Sequence[Counted], ends: Collection[str]) -> Comparison:
    """One row against the runs that count together. `ends`: names of terminals and entrances."""
    additions = [
        addition
        for run in counted
        for fitting in run.present
        if (addition := _addition(row, table, fitting)) is not None
    ]
    missing = [addition.missing for addition in additions if addition.missing]
    if not row.counts_elbows:
        missing += [end for run in counted if (end := _missing_end(table, run, ends))]
    lines = _lines(addition for addition in additions if not addition.missing)
    elbows = sum(elbows_of(table, run) for run in counted) if row.counts_elbows else None
    return Comparison(
        row=row,
        compared=sum(run.straight for run in counted) + sum(line.total for line in lines),
        allowable=_allowable(row, elbows),
        elbows=elbows,
        lines=lines,
        missing=tuple(_not_known(finding) for finding in dict.fromkeys(missing)),
    )


def _allowable(row: Row, elbows: int | None) -> float | None:
    if row.allowable_by_elbows is None or elbows is None:
        return row.allowable
    entry: Entry = row.allowable_by_elbows[elbows] if elbows < len(row.allowable_by_elbows) else NOT_PERMITTED
    return None if entry == NOT_PERMITTED else entry


def elbows_of(table: AllowanceTable, run: Counted) -> int:
    """90° elbows of a run as an elbow-count row counts them.

    Two elbows of 45° or less are one, and an odd one is a whole, unless the table says otherwise
    (`elbows_each`); a turn of more than 90° is as many as it takes.
    """
    whole = small = 0
    shares = 0.0
    for fitting in run.present:
        if fitting.name in table.elbows_each:
            shares += table.elbows_each[fitting.name] * fitting.count
        elif fitting.turns:
            angle = fitting.angle_degrees if fitting.angle_degrees else 90.0
            if angle <= 45.0 + ROUNDING:
                small += fitting.count
            else:
                whole += fitting.count * math.ceil((angle - ABOUT) / 90.0)
    return whole + math.ceil(small / 2) + math.ceil(shares - ROUNDING)


def _addition(row: Row, table: AllowanceTable, fitting: CountedFitting) -> _Addition | None:
    """What a fitting adds to the length compared; None where it adds nothing by the kind of row."""
    if row.counts_elbows and (fitting.turns or fitting.name in table.elbows_each):
        return None
    if fitting.table_length is not None:
        return _Addition(fitting, each=fitting.table_length, origin="override")
    unlisted = fitting.name not in table.deductions
    if fitting.implied and (unlisted or row.counts_elbows):  # where that matters, `_missing_end` says so
        return None
    if row.counts_elbows and unlisted and fitting.kind in {TERMINAL, ENTRANCE, COUPLING}:
        return None
    each = _deduction(table, fitting)
    if each is not None:
        return _Addition(fitting, each=each)
    if not table.deducts and fitting.kind in IN_THE_LENGTHS:
        return None
    return _Addition(fitting, missing=_what_is_missing(row, table, fitting))


def _deduction(table: AllowanceTable, fitting: CountedFitting) -> float | None:
    """The table's length [m] for a fitting; at a size change the larger of those for its two sizes."""
    deduction = table.deductions.get(fitting.name)
    if deduction is None:
        return None
    found = [deduction.at(size) for size in fitting.sizes]
    lengths = [length for length in found if length is not None]
    if fitting.kind != SIZE_CHANGE and len(lengths) < len(found):
        return None
    return max(lengths, default=None)


def _not_known(finding: Finding) -> Outcome:
    return Outcome(condition="fittings-in-table", state="not known", because=finding)


def _what_is_missing(row: Row, table: AllowanceTable, fitting: CountedFitting) -> Finding:
    if fitting.name in table.deductions:
        listed = tuple(entry.label for entry in table.deductions[fitting.name].by_size)
        return Finding("no-deduction-at-size", fitting.where, {"fitting": fitting.name, "listed": listed})
    code = "fitting-beside-elbows" if row.counts_elbows else "no-deduction"
    return Finding(code, fitting.where, {"fitting": fitting.name})


def _missing_end(table: AllowanceTable, run: Counted, ends: Collection[str]) -> Finding | None:
    """A run to the outdoors has an end; where the table charges for one, the run must say which.

    A run that lists none ends as a plain open pipe, and is complete where the table says what that costs.
    """
    ends_listed = (f for f in run.present if f.kind in {TERMINAL, ENTRANCE})
    if not run.reaches_outdoors or any(not f.implied or f.name in table.deductions for f in ends_listed):
        return None
    charged = tuple(
        name
        for name, deduction in table.deductions.items()
        if (name in ends or name.startswith(("terminal-", "entrance-"))) and deduction.largest > SAME_LENGTH
    )
    return Finding("end-not-listed", Where(run=run.name or None), {"charged": charged}) if charged else None


def _lines(additions: Iterator[_Addition]) -> tuple[DeductionLine, ...]:
    """Additions of one fitting, length and origin put together."""
    counts: dict[tuple[str, float, Literal["table", "override"]], int] = {}
    for addition in additions:
        key = (addition.fitting.name, addition.each, addition.origin)
        counts[key] = counts.get(key, 0) + addition.fitting.count
    return tuple(
        DeductionLine(fitting=name, count=count, each=each, total=count * each, origin=origin)
        for (name, each, origin), count in counts.items()
    )
