"""What makes a table ambiguous or impossible: each fault a place in the file, a problem, what is expected."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ventsize.allowance.model import (
    NOT_PERMITTED,
    SAME_ALTITUDE,
    SAME_LENGTH,
    AllowanceTable,
    Deduction,
    Row,
    by_input,
    by_size,
)
from ventsize.catalog.records import same_size
from ventsize.gas.atmosphere import HIGHEST_ALTITUDE, LOWEST_ALTITUDE

Fault = tuple[str, str, str]


def faults_of(table: AllowanceTable) -> tuple[Fault, ...]:
    """Every fault between values that are each right by themselves."""
    return tuple(_faults(table))


def _faults(table: AllowanceTable) -> Iterator[Fault]:
    if not table.source.strip():
        yield "source", "the table has no source", "what it was copied from: manual, page, date"
    if not table.applies_to:
        yield "applies_to", "the table is for nothing", "'flue gas', 'combustion air' or both"
    if not table.rows:
        yield "", "the table has no row", "at least one [[row]]"
    for name, deduction in table.deductions.items():
        yield from _deduction_faults(f"deductions, {name}", deduction)
    for row in table.rows:
        yield from _row_faults(row)
    for of_one_size in by_size(table.rows):
        for rows in by_input(of_one_size):
            yield from _case_faults(sorted(rows, key=lambda row: row.altitude))


def _deduction_faults(place: str, deduction: Deduction) -> Iterator[Fault]:
    if deduction.length is None and not deduction.by_size:
        yield place, "no size is listed", "a length such as '5 ft', or lengths by size"
    for one, other in pairwise(sorted(deduction.by_size, key=lambda entry: entry.size)):
        if same_size(one.size, other.size):
            yield place, f"'{one.label}' and '{other.label}' are one size", "each size once"


def _case_faults(rows: Sequence[Row]) -> Iterator[Fault]:
    """Rows of one size and input, lowest band first: each is held against the one that reaches highest."""
    widest = rows[0]
    for row in rows[1:]:
        yield from _pair_faults(*sorted((widest, row), key=lambda r: r.number))
        widest = max(widest, row, key=lambda r: r.altitude[1])


def _row_faults(row: Row) -> Iterator[Fault]:
    place = f"row {row.number}"
    low, high = row.altitude
    yield from _altitude_faults(row, place)
    if low > high:
        expected = "the lower altitude first"
        yield f"{place}, altitude", f"the band {row.band_label} is upside down", expected
    if row.allowable is None and row.allowable_by_elbows is None:
        yield place, "it allows nothing", "allowable or allowable_by_elbows"
    if row.allowable is not None and row.allowable_by_elbows is not None:
        yield place, "it has two kinds of length", "either allowable or allowable_by_elbows"
    elif row.allowable_by_elbows is not None:
        yield from _entry_faults(row, f"{place}, allowable_by_elbows")
    lengths = [e for e in (row.allowable, *(row.allowable_by_elbows or ())) if isinstance(e, float)]
    if lengths and row.minimum is not None and row.minimum > max(lengths) + SAME_LENGTH:
        yield f"{place}, minimum", "the minimum is above what the row allows", "a length below the allowable"


def _altitude_faults(row: Row, place: str) -> Iterator[Fault]:
    """An end of the band where no air pressure can be told: a digit too many, as a rule."""
    for end, label in zip(row.altitude, row.altitude_labels, strict=True):
        if not LOWEST_ALTITUDE <= end <= HIGHEST_ALTITUDE:
            yield f"{place}, altitude", f"no building stands at {label}", "the altitude that the page names"


def _entry_faults(row: Row, place: str) -> Iterator[Fault]:
    entries = row.allowable_by_elbows or ()
    if not entries:
        yield place, "the list is empty", "straight lengths with 0, 1, 2 … elbows, or 'not permitted'"
    for count, (entry, following) in enumerate(pairwise(entries)):
        if entry == NOT_PERMITTED and following != NOT_PERMITTED:
            yield (
                place,
                f"{count} elbows are not permitted, yet {count + 1} are",
                "'not permitted' from some number of elbows on",
            )
            return


def _pair_faults(one: Row, other: Row) -> Iterator[Fault]:
    """Two rows that answer one case. A band upside down is a fault by itself and says nothing here."""
    (low, high), (other_low, other_high) = one.altitude, other.altitude
    if low > high or other_low > other_high:
        return
    same_start = abs(low - other_low) <= SAME_ALTITUDE
    place, case = f"row {other.number}", f"{other.input_label}, {other.size_label}"
    if same_start and abs(high - other_high) <= SAME_ALTITUDE:
        yield (
            place,
            f"it is for the same case as row {one.number} ({case}, {other.band_label})",
            "each case once",
        )
    elif same_start or (low < other_high - SAME_ALTITUDE and other_low < high - SAME_ALTITUDE):
        yield (
            f"{place}, altitude",
            f"the band {other.band_label} overlaps {one.band_label} of row {one.number} ({case})",
            "bands that meet at most at one altitude",
        )
