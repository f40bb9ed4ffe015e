"""Looking a run up in an allowance table: which rows answer, what they allow, and whether the run keeps to it.

The conditions stand in this order: what the table is for, sizes, altitude, input, deductions, elbows, lengths. The
first of the look-up that is not met ends it. Nothing is interpolated and nothing is extrapolated.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from ventsize.allowance.answer import TableAnswer
from ventsize.allowance.comparing import Comparison, compare
from ventsize.allowance.counted import Counted
from ventsize.allowance.model import (
    EACH_RUN,
    NOT_PERMITTED,
    SAME_ALTITUDE,
    SAME_LENGTH,
    AllowanceTable,
    Row,
    by_size,
    same_input,
)
from ventsize.catalog.records import same_size
from ventsize.finding import Finding, Outcome, Value, Where, length, power
from ventsize.quantity import show_size


@dataclass(frozen=True, slots=True)
class _Case:
    """One question put to a table."""

    table: AllowanceTable
    input: float
    altitude: float | None
    counted: tuple[Counted, ...]

    @property
    def sizes(self) -> tuple[float, ...]:
        found: list[float] = []
        for size in sorted(size for run in self.counted for size in run.sizes):
            if not found or not same_size(found[-1], size):
                found.append(size)
        return tuple(found)

    @property
    def straight(self) -> float:
        return sum(run.straight for run in self.counted)

    def label(self, size: float) -> str:
        """A size as the job writes it, else as the table does, else by its name."""
        for run in self.counted:
            if label := run.label_of(size):
                return label
        rows = self.table.rows_of_size(size)
        return rows[0].size_label if rows else show_size(size)

    def labels(self, sizes: Sequence[float]) -> tuple[str, ...]:
        return tuple(self.label(size) for size in sizes)


def look_up(
    table: AllowanceTable,
    *,
    input: float,
    altitude: float | None,
    counted: Sequence[Counted],
    ends: Collection[str] = (),
) -> TableAnswer:
    """What a table says about a run, or about the runs it counts together.

    input: the highest gross input of the appliance [W]
    altitude: of the site; None where the job does not say [m]
    counted: one run, or the vent and air runs where the table counts them together
    ends: names of terminals and entrances besides those that begin with "terminal-" or "entrance-"

    Raises ValueError where several runs are put to a table that counts each run by itself.
    """
    if not counted:
        raise ValueError("no run to look up")
    if table.counts == EACH_RUN and len(counted) > 1:
        raise ValueError("the table counts each run by itself")
    case = _Case(table, input, altitude, tuple(counted))
    found: list[Outcome] = []
    rows: list[Row] = []
    for outcome in _conditions(case, rows):
        found.append(outcome)
        if outcome.state != "met":
            return TableAnswer(outcomes=tuple(found), straight_length=case.straight, findings=tuple(_findings(case)))
    return _judged(case, found, [compare(row, case.table, case.counted, ends) for row in rows])


def _conditions(case: _Case, rows: list[Row]) -> Iterator[Outcome]:
    """Whether the table has rows for this case, condition by condition; those that answer go into `rows`."""
    if not case.sizes:
        yield Outcome(condition="size-in-table", state="not known", because=Finding("nothing-to-look-up"))
        return
    yield _gas(case)
    yield _size(case)
    if case.altitude is None:
        yield Outcome(condition="altitude-in-table", state="not known", because=Finding("altitude-missing"))
        return
    held = {size: case.table.rows_at(size, case.altitude) for size in case.sizes}
    yield _altitude(case, held, case.altitude)
    for size in case.sizes:
        pair = _around(held[size], case.input)
        if not pair:
            yield _not_covered("input-in-table", "input-not-in-table", {
                "input": power(case.input), "size": case.label(size),
                "inputs": tuple(dict.fromkeys(row.input_label for row in held[size])),
                "nearest": power(min((row.input for row in held[size]), key=lambda one: abs(one - case.input))),
            })  # fmt: skip
            return
        rows += pair
    listed = tuple(dict.fromkeys(row.input_label for row in rows))
    yield _met("input-in-table", "input-in-table", {"input": power(case.input), "inputs": listed})


def _met(condition: str, code: str, values: dict[str, Value], row: int | None = None) -> Outcome:
    return Outcome(condition=condition, state="met", because=Finding(code, Where(row=row), values))


def _not_covered(condition: str, code: str, values: dict[str, Value]) -> Outcome:
    return Outcome(condition=condition, state="not met", because=Finding(code, Where(), values), if_not="not covered")


def _gas(case: _Case) -> Outcome:
    meant: tuple[str, ...] = case.table.applies_to
    for run in case.counted:
        if run.carries not in meant:
            return _not_covered("gas-in-table", "gas-not-in-table", {"carries": run.carries, "meant": meant})
    return _met("gas-in-table", "gas-in-table", {"meant": meant})


def _size(case: _Case) -> Outcome:
    missing = [size for size in case.sizes if not case.table.rows_of_size(size)]
    if missing:
        listed = tuple(rows[0].size_label for rows in by_size(case.table.rows))
        return _not_covered("size-in-table", "size-not-in-table", {"sizes": case.labels(missing), "listed": listed})
    return _met("size-in-table", "size-in-table", {"sizes": case.labels(case.sizes)})


def _altitude(case: _Case, held: dict[float, tuple[Row, ...]], altitude: float) -> Outcome:
    for size, rows in held.items():
        if not rows:
            bands = sorted(case.table.rows_of_size(size), key=lambda row: row.altitude)
            edge = any(abs(row.altitude[1] - altitude) <= SAME_ALTITUDE for row in bands)
            return _not_covered("altitude-in-table", "altitude-not-in-table", {
                "altitude": length(altitude), "size": case.label(size),
                "bands": tuple(dict.fromkeys(row.band_label for row in bands)), "at_an_edge": int(edge),
            })  # fmt: skip
    bands_read = tuple(dict.fromkeys(row.band_label for rows in held.values() for row in rows))
    return _met("altitude-in-table", "altitude-in-table", {"altitude": length(altitude), "bands": bands_read})


def _around(held: tuple[Row, ...], input: float) -> tuple[Row, ...]:
    """The row for an input [W], or the two around it; none where it lies beyond them."""
    exact = [row for row in held if same_input(row.input, input)]
    if exact:
        return (exact[0],)
    below = [row for row in held if row.input < input]
    above = [row for row in held if row.input > input]
    return (below[-1], above[0]) if below and above else ()


def _judged(case: _Case, before: list[Outcome], comparisons: list[Comparison]) -> TableAnswer:
    """The answer by the rows read: the strictest comparison governs."""
    governing = min(comparisons, key=lambda comparison: comparison.margin)
    missing = list(dict.fromkeys(outcome for c in comparisons for outcome in c.missing))
    minima = [c.row.minimum for c in comparisons if c.row.minimum is not None]
    turns, most = sum(run.turns for run in case.counted), case.table.most_elbows
    too_many = most is not None and turns > most
    if missing:
        outcomes = [*before, *missing]
    else:
        fittings = _met("fittings-in-table", "fittings-in-table", {})
        shortest = max(comparisons, key=lambda comparison: comparison.shortfall)
        outcomes = [
            *before, fittings, _elbows(case, turns, most), _length(governing), _least(shortest, governing)
        ]  # fmt: skip
    allowed = None if too_many else governing.allowable
    return TableAnswer(
        outcomes=tuple(outcomes),
        straight_length=case.straight,
        findings=(*_findings(case), *_used_rows(case, governing, comparisons), *_overrides(case, governing)),
        rows=tuple(comparison.row for comparison in comparisons),
        row_input=governing.row.input,
        row_size=governing.row.size_label,
        equivalent_length=None if missing else governing.compared,
        allowable_length=allowed,
        minimum_length=max(minima, default=None),
        used=governing.compared / allowed if allowed and not missing else None,
        deductions=governing.lines,
        elbows=governing.elbows,
        budget_length=governing.row.budget,
        turns=turns,
        most_elbows=most,
        note=case.table.note,
    )


def _elbows(case: _Case, turns: int, most: int | None) -> Outcome:
    together = int(case.table.counts != EACH_RUN)
    if most is None:
        return _met("elbows-allowed", "elbows-not-limited", {"elbows": turns})
    if turns <= most:
        return _met("elbows-allowed", "elbows-within-limit", {"elbows": turns, "most": most, "together": together})
    values: dict[str, Value] = {"elbows": turns, "most": most, "together": together}
    because = Finding("too-many-elbows", Where(), values)
    return Outcome(condition="elbows-allowed", state="not met", because=because, if_not="over")


def _length(governing: Comparison) -> Outcome:
    """Whether the length compared is within the governing row."""
    row, allowed = governing.row, governing.allowable
    if allowed is None:
        return Outcome(
            condition="length-allowed", state="not met", because=_not_permitted(governing), if_not="over"
        )  # fmt: skip
    values = {**_compared(governing), "allowed": length(allowed)}
    if governing.fits:
        return _met("length-allowed", "length-within", {**values, "left": length(governing.margin)}, row.number)
    because = Finding("length-over", Where(row=row.number), {**values, "beyond": length(-governing.margin)})
    return Outcome(condition="length-allowed", state="not met", because=because, if_not="over")


def _compared(comparison: Comparison) -> dict[str, Value]:
    values: dict[str, Value] = {"compared": length(comparison.compared), "label": comparison.row.label}
    if comparison.elbows is not None:
        values["elbows"] = comparison.elbows
        values["added"] = length(sum(line.total for line in comparison.lines))
    return values


def _not_permitted(comparison: Comparison) -> Finding:
    """The row permits no length with so many elbows."""
    row, entries, count = comparison.row, comparison.row.allowable_by_elbows or (), comparison.elbows or 0
    permitted = [number for number, entry in enumerate(entries) if entry != NOT_PERMITTED]
    values: dict[str, Value] = {"label": row.label, "elbows": count}
    if not permitted:
        return Finding("no-pipe-permitted", Where(row=row.number), values)
    values["most"] = permitted[-1]
    code = "elbows-not-permitted" if count < len(entries) else "elbows-not-listed"
    return Finding(code, Where(row=row.number), values)


def _least(shortest: Comparison, governing: Comparison) -> Outcome:
    """Whether the run is as long as the rows' minimum asks."""
    least = shortest.row.minimum
    if least is None:
        return _met("length-enough", "no-minimum", {})
    values = {**_compared(shortest), "least": length(least)}
    if shortest.shortfall <= SAME_LENGTH or not governing.fits:
        return _met("length-enough", "length-enough", values, shortest.row.number)
    because = Finding("length-short", Where(row=shortest.row.number), {**values, "short": length(shortest.shortfall)})
    return Outcome(condition="length-enough", state="not met", because=because, if_not="short")


def _used_rows(case: _Case, governing: Comparison, comparisons: list[Comparison]) -> Iterator[Finding]:
    """Where the input stands between two rows: which of the two was used."""
    pair = [c.row for c in comparisons if same_size(c.row.size, governing.row.size)]
    if len(pair) > 1:
        values: dict[str, Value] = {
            "input": power(case.input), "lower": pair[0].input_label, "higher": pair[1].input_label,
            "used": governing.row.input_label,
        }  # fmt: skip
        yield Finding("input-between-rows", Where(row=governing.row.number), values)


def _findings(case: _Case) -> Iterator[Finding]:
    """What is worth knowing whichever the verdict."""
    if len(case.sizes) > 1:
        yield Finding("mixed-sizes", Where(), {"sizes": case.labels(case.sizes)})
    carried = {run.carries for run in case.counted}
    if case.table.counts != EACH_RUN and carried < set(case.table.applies_to):
        left_out: tuple[str, ...] = tuple(sorted(set(case.table.applies_to) - carried))
        yield Finding("counted-without", Where(), {"gases": left_out})


def _overrides(case: _Case, governing: Comparison) -> Iterator[Finding]:
    """The job's own lengths, used or passed over, always named."""
    used = [line for line in governing.lines if line.origin == "override"]
    for line in used:
        yield Finding("length-from-job", Where(), {"fitting": line.fitting, "length": length(line.each)})
    if governing.row.counts_elbows:
        names = {f.name for run in case.counted for f in run.present if f.table_length is not None}
        for name in sorted(names - {line.fitting for line in used}):
            yield Finding("length-from-job-unused", Where(), {"fitting": name})
