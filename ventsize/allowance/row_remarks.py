"""What runs against the order every table has: more elbows, more input, a smaller size or a higher site allow less."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ventsize.allowance.model import NOT_PERMITTED, SAME_LENGTH, AllowanceTable, Row, by_input, by_size
from ventsize.finding import Finding, Value, Where
from ventsize.gas.atmosphere import HIGHEST_ALTITUDE, HIGHEST_SITE


def order_doubts(table: AllowanceTable) -> Iterator[Finding]:
    """What is out of order, each at its row. Rows are held against others that hold for the same conditions."""
    yield from _elbow_order(table)
    yield from _row_order(table)
    yield from _heights(table)


def _heights(table: AllowanceTable) -> Iterator[Finding]:
    for row in table.rows:
        if row.has_band and HIGHEST_SITE < row.altitude[1] <= HIGHEST_ALTITUDE:  # higher still is a fault of the table
            values: dict[str, Value] = {"label": row.label, "altitude": row.altitude_labels[1]}
            yield Finding("row-above-any-house", Where(row=row.number), values)


def _elbow_order(table: AllowanceTable) -> Iterator[Finding]:
    for row in table.rows:
        for at, (entry, following) in enumerate(pairwise(row.allowable_by_elbows or ())):
            if entry == NOT_PERMITTED or following == NOT_PERMITTED or following <= entry + SAME_LENGTH:
                continue
            fewer, more = row.length_labels[at : at + 2]
            values: dict[str, Value] = {
                "label": row.label, "elbows": row.first_elbows + at + 1, "allowed": more, "with_fewer": fewer
            }  # fmt: skip
            yield Finding("more-with-more-elbows", Where(row=row.number), values)


def _row_order(table: AllowanceTable) -> Iterator[Finding]:
    for of_one_size in by_size(table.rows):
        for rows in _alike(of_one_size, by_band=True):
            yield from _never_longer(sorted(rows, key=lambda row: row.input), "longer-at-larger-input")
    for of_one_input in by_input(table.rows):
        for rows in _alike(of_one_input, by_band=True):
            yield from _never_longer(sorted(rows, key=lambda row: -row.size), "longer-in-smaller-size")
        for of_size in by_size(of_one_input):
            for rows in _alike(of_size, by_band=False):
                yield from _never_longer(sorted(rows, key=lambda row: row.altitude), "longer-at-higher-altitude")


def _alike(rows: Sequence[Row], *, by_band: bool) -> list[list[Row]]:
    """Rows of one kind that hold for the same conditions, and by_band: at the same altitudes."""
    found: dict[tuple[object, ...], list[Row]] = {}
    for row in rows:
        holds = row.holds_for
        kind = (row.counts_elbows, row.first_elbows, row.elbows_included)
        band = tuple(round(end, 3) for end in row.altitude) if by_band and row.has_band else ()
        key = (kind, band, holds.pipes, frozenset(holds.ends), frozenset(holds.materials), holds.air_size)
        found.setdefault(key, []).append(row)
    return list(found.values())


def _never_longer(rows: Sequence[Row], code: str) -> Iterator[Finding]:
    for one, other in pairwise(rows):
        if one.budget is None or other.budget is None or other.budget <= one.budget + SAME_LENGTH:
            continue
        values: dict[str, Value] = {
            "label": other.label, "allowed": other.length_labels[0], "other_row": one.number, "other_label": one.label,
            "other_allowed": one.length_labels[0],
        }  # fmt: skip
        yield Finding(code, Where(row=other.number), values)
