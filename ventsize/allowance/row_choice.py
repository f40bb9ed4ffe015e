"""Which rows of a table answer for a run: those that hold for its case, at its input or on both sides of it.

What a row says it holds for is judged first, then the input. Among rows of one input that apply, the one that names
more conditions wins. Where rows exist for exactly this input and none of them applies, no neighbour is asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ventsize.allowance.case import RowCase, Unknown
from ventsize.allowance.model import (
    AllowanceTable,
    Row,
    by_input,
    held_at,
    same_input,
)
from ventsize.finding import Finding, Outcome, Value, Where, length, power


@dataclass(frozen=True, slots=True)
class Chosen:
    """The rows that answer for one size: one, or the two around the input; none where an outcome says why."""

    rows: tuple[Row, ...] = ()
    refused: Outcome | None = None


def choose(table: AllowanceTable, case: RowCase, *, size: float, label: str, input: float, altitude: float) -> Chosen:
    """The rows of a table for pipe of a nominal size [m] at an input [W] and an altitude [m].

    label: the size in words
    """
    of_size = _of_size(table, case, size)
    if not of_size:
        listed = tuple(dict.fromkeys(row.size_label for row in sorted(table.rows, key=lambda row: row.size)))
        return _not_covered("size-in-table", "size-not-in-table", {"sizes": (label,), "listed": listed})
    at_altitude = held_at(of_size, altitude)
    if not at_altitude:
        bands = sorted(of_size, key=lambda row: row.altitude)
        return _not_covered("altitude-in-table", "altitude-not-in-table", {
            "altitude": length(altitude), "size": label,
            "bands": tuple(dict.fromkeys(row.band_label for row in bands)),
        })  # fmt: skip
    by_end = tuple(row for row in at_altitude if row.holds_for.ends)
    if case.ends is None and by_end:
        return _not_said(by_end, ("ends",), label)
    exact = [row for row in table.rows if same_input(row.input, input)]
    asked = [row for row in at_altitude if same_input(row.input, input)] if exact else list(at_altitude)
    if not asked:
        return _not_covered("input-in-table", "input-elsewhere-in-table", {
            "input": power(input), "size": label, "rows": tuple(dict.fromkeys(row.label for row in exact)),
        })  # fmt: skip
    return _by_conditions(case, tuple(asked), label=label, input=input)


def _of_size(table: AllowanceTable, case: RowCase, size: float) -> tuple[Row, ...]:
    """The rows for pipe of a nominal size [m]; kept with the table, since a job asks for few."""
    kept: dict[tuple[str, float], tuple[Row, ...]] = table.memo.setdefault("rows of size", {})
    key = (case.carries, round(size, 6))
    if key not in kept:
        kept[key] = tuple(row for row in table.rows if case.fits_size(row, size))
    return kept[key]


def _by_conditions(case: RowCase, rows: tuple[Row, ...], *, label: str, input: float) -> Chosen:
    """The rows that apply, whatever the job does not say; else what would have to be said, or why none does."""
    states = {row.number: case.state(row) for row in rows}
    possible = tuple(row for row in rows if states[row.number] != "not met")
    if not possible:
        return _not_covered("case-in-table", "no-row-for-case", _conditions_of(rows, label))
    if all(states[row.number] == "met" for row in possible):
        found = _around(possible, input)
        return Chosen(found) if found else _no_input(possible, label=label, input=input)
    answers = {
        tuple(row.number for row in _around([row for row in possible if each.state(row) == "met"], input))
        for each in case.completions(possible)
    }
    if len(answers) == 1:
        chosen = next(iter(answers))
        if chosen:
            return Chosen(tuple(row for row in possible if row.number in chosen))
        return _no_input(possible, label=label, input=input)
    unknown: tuple[Unknown, ...] = tuple(dict.fromkeys(name for row in possible for name in case.unknown(row)))
    return _not_said(possible, unknown, label)


def _not_said(rows: Sequence[Row], unknown: tuple[Unknown, ...], label: str) -> Chosen:
    because = Finding("case-not-said", Where(), {**_conditions_of(rows, label), "unknown": unknown})
    return Chosen(refused=Outcome(condition="case-in-table", state="not known", because=because))


def _conditions_of(rows: Sequence[Row], label: str) -> dict[str, Value]:
    named = tuple(dict.fromkeys(text for row in rows for text in row.holds_for.labels))
    return {"size": label, "conditions": named}


def _around(rows: Sequence[Row], input: float) -> tuple[Row, ...]:
    """The row for an input [W], or the two around it; none where it lies beyond them."""
    of_inputs = [max(alike, key=lambda row: row.holds_for.count) for alike in by_input(rows)]
    below = above = None
    for row in of_inputs:  # least input first
        if same_input(row.input, input):
            return (row,)
        if row.input < input:
            below = row
        elif above is None:
            above = row
    return (below, above) if below is not None and above is not None else ()


def _no_input(rows: Sequence[Row], *, label: str, input: float) -> Chosen:
    ordered = sorted(rows, key=lambda row: row.input)
    return _not_covered("input-in-table", "input-not-in-table", {
        "input": power(input), "size": label, "inputs": tuple(dict.fromkeys(row.input_label for row in ordered)),
        "nearest": power(min((row.input for row in ordered), key=lambda one: abs(one - input))),
    })  # fmt: skip


def _not_covered(condition: str, code: str, values: dict[str, Value]) -> Chosen:
    because = Finding(code, Where(), values)
    return Chosen(refused=Outcome(condition=condition, state="not met", because=because, if_not="not covered"))
