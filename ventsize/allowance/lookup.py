"""Looking a run up in an allowance table: which rows answer, what they allow, and the verdict.

The rules stand in this order: what the table is for, sizes, altitude, input, deductions, lengths. The first
that fails gives the verdict. Nothing is interpolated and nothing is extrapolated.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from ventsize.allowance import sentences
from ventsize.allowance.answer import TableAnswer
from ventsize.allowance.comparing import Comparison, compare
from ventsize.allowance.counted import Counted
from ventsize.allowance.model import (
    EACH_RUN,
    RUNS_TOGETHER,
    SAME_LENGTH,
    AllowanceTable,
    Row,
    same_input,
)
from ventsize.catalog.records import same_size
from ventsize.quantity import System, show_size


@dataclass(frozen=True, slots=True)
class _Case:
    """One question put to a table."""

    table: AllowanceTable
    input: float
    altitude: float | None
    counted: tuple[Counted, ...]
    system: System

    @property
    def sizes(self) -> tuple[float, ...]:
        found: list[float] = []
        for size in sorted(size for run in self.counted for size in run.sizes):
            if not found or not same_size(found[-1], size):
                found.append(size)
        return tuple(found)

    def label(self, size: float) -> str:
        """A size as the job writes it, else as the table does, else in the chosen units."""
        for run in self.counted:
            if label := run.label_of(size):
                return label
        rows = self.table.rows_of_size(size)
        return rows[0].size_label if rows else show_size(size)


def look_up(
    table: AllowanceTable,
    *,
    input: float,
    altitude: float | None,
    counted: Sequence[Counted],
    system: System = System.US,
    ends: Collection[str] = (),
) -> TableAnswer:
    """What a table says about a run, or about the runs it counts together.

    input: the highest gross input of the appliance [W]
    altitude: of the site; None where the job does not say [m]
    counted: one run, or the vent and air runs where the table counts them together
    system: of units, for the lengths in the sentences; the verdict does not depend on it
    ends: names of terminals and entrances besides those that begin with "terminal-" or "entrance-"

    Raises ValueError where several runs are put to a table that counts each run by itself.
    """
    if not counted:
        raise ValueError("no run to look up")
    if table.counts == EACH_RUN and len(counted) > 1:
        raise ValueError("the table counts each run by itself")
    case = _Case(table, input, altitude, tuple(counted), system)
    answer = _answer(case, ends)
    return replace(answer, cautions=(*_cautions(case), *answer.cautions))


def _answer(case: _Case, ends: Collection[str]) -> TableAnswer:
    if not case.sizes:
        return _no_answer(case, "incomplete", "The run has no pipe and no fitting to look up.")
    if refusal := _refusal(case):
        return _no_answer(case, "not covered", refusal)
    if case.altitude is None:
        return _no_answer(
            case, "incomplete", "The job gives no altitude, and the table's rows are for bands of altitude."
        )
    rows: list[Row] = []
    for size in case.sizes:
        found = _rows_for(case, size, case.altitude)
        if isinstance(found, str):
            return _no_answer(case, "not covered", found)
        rows += found
    return _judge(case, [compare(row, case.table, case.counted, ends) for row in rows])


def _no_answer(case: _Case, verdict: sentences.NoAnswer, reason: str) -> TableAnswer:
    return TableAnswer(verdict=verdict, reason=reason, straight_length=_straight(case))


def _straight(case: _Case) -> float:
    return sum(run.straight for run in case.counted)


def _refusal(case: _Case) -> str:
    """Why the table is not for this run at all, or an empty string."""
    for run in case.counted:
        if run.carries not in case.table.applies_to:
            meant = " and ".join(case.table.applies_to)
            return f"The table is for {meant}, and this run carries {run.carries}."
    missing = [size for size in case.sizes if not case.table.rows_of_size(size)]
    if missing:
        return sentences.no_size(case.table, [case.label(size) for size in missing])
    return ""


def _rows_for(case: _Case, size: float, altitude: float) -> tuple[Row, ...] | str:
    """The row for the input, or the two around it; else a sentence on what the table does cover."""
    held = case.table.rows_at(size, altitude)
    if not held:
        return sentences.no_altitude(case.table.rows_of_size(size), case.label(size), altitude, case.system)
    exact = [row for row in held if same_input(row.input, case.input)]
    if exact:
        return (exact[0],)
    below = [row for row in held if row.input < case.input]
    above = [row for row in held if row.input > case.input]
    if not below or not above:
        return sentences.no_input(held, case.label(size), case.input, case.system)
    return (below[-1], above[0])


def _judge(case: _Case, comparisons: list[Comparison]) -> TableAnswer:
    """The verdict of the strictest comparison."""
    governing = min(comparisons, key=lambda comparison: comparison.margin)
    minima = [c.row.minimum for c in comparisons if c.row.minimum is not None]
    answer = TableAnswer(
        verdict="incomplete",
        reason="",
        straight_length=_straight(case),
        cautions=_override_cautions(case, governing),
        rows=tuple(comparison.row for comparison in comparisons),
        row_input=governing.row.input,
        row_size=governing.row.size_label,
        allowable_length=governing.allowable,
        minimum_length=max(minima, default=None),
        deductions=governing.lines,
        elbows=governing.elbows,
        budget_length=governing.row.budget,
        turns=sum(run.turns for run in case.counted),
        most_elbows=case.table.most_elbows,
        note=case.table.note,
    )
    missing = tuple(dict.fromkeys(phrase for c in comparisons for phrase in c.missing))
    if missing:
        return replace(answer, reason=sentences.missing(missing))
    answer = replace(
        answer,
        equivalent_length=governing.compared,
        used=governing.compared / governing.allowable if governing.allowable else None,
    )
    if answer.too_many_elbows:
        too_long = "" if governing.fits else f". {sentences.over(governing, case.system)}"
        reason = f"{sentences.too_many_elbows(answer.turns, case.table)}{too_long}."
        return replace(answer, verdict="over", reason=reason, allowable_length=None, used=None)
    shortest = max(comparisons, key=lambda comparison: comparison.shortfall)
    around = sentences.around(case.input, _pair_of(governing, comparisons), governing.row, case.system)
    if not governing.fits:
        reason = sentences.over(governing, case.system)
        return replace(answer, verdict="over", reason=_joined(reason, around))
    if shortest.shortfall > SAME_LENGTH:
        around = sentences.around(case.input, _pair_of(shortest, comparisons), shortest.row, case.system)
        reason = sentences.short(shortest, case.system)
        return replace(answer, verdict="short", reason=_joined(reason, around))
    reason = sentences.within(governing, case.system)
    return replace(answer, verdict="within", reason=_joined(reason, around))


def _joined(reason: str, around: str) -> str:
    return f"{reason}; {around}." if around else f"{reason}."


def _pair_of(one: Comparison, comparisons: list[Comparison]) -> tuple[Row, ...]:
    """The rows of its size that were read beside a comparison's row, itself included."""
    return tuple(c.row for c in comparisons if same_size(c.row.size, one.row.size))


def _cautions(case: _Case) -> tuple[str, ...]:
    """What the reader must know whichever the verdict."""
    found: list[str] = []
    if len(case.sizes) > 1:
        labels = [case.label(size) for size in case.sizes]
        found.append(
            f"Mixed sizes ({', '.join(labels)}): the whole length is held against the row of each size, "
            "and the strictest governs."
        )
    carried = {run.carries for run in case.counted}
    if case.table.counts == RUNS_TOGETHER and carried < set(case.table.applies_to):
        left_out = " and ".join(sorted(set(case.table.applies_to) - carried))
        found.append(f"The table adds vent and air lengths together; no run of {left_out} is counted here.")
    return tuple(found)


def _override_cautions(case: _Case, governing: Comparison) -> tuple[str, ...]:
    """The job's own lengths, used or passed over, always named."""
    used = [line for line in governing.lines if line.origin == "override"]
    found = [
        f"{line.fitting} counts {sentences.length(line.each, case.system)} by the job, not by the table."
        for line in used
    ]
    if governing.row.counts_elbows:
        names = {f.name for run in case.counted for f in run.present if f.table_length is not None}
        found += [
            f"The job's own length for {name} is not used: the row counts it as an elbow."
            for name in sorted(names - {line.fitting for line in used})
        ]
    return tuple(found)
