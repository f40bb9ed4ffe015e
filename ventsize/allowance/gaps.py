"""What a table leaves unanswered: runs that it could judge but for a deduction that is not in it."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.allowance.model import AllowanceTable, by_size

USUAL = ("elbow-90-long", "elbow-90-short", "elbow-45", "terminal-open")
"""Fittings that a run of plastic pipe usually has (common practice, no source)."""


def gaps_of(table: AllowanceTable) -> tuple[str, ...]:
    """One sentence for each thing that would leave a common run `incomplete`."""
    return tuple(_gaps(table))


def _gaps(table: AllowanceTable) -> Iterator[str]:
    if all(row.counts_elbows for row in table.rows):
        return
    if not table.deducts:
        yield (
            "No deductions are typed in, so that only straight pipe can be judged: a run with any elbow, tee or wye "
            "comes out incomplete, never within."
        )
        return
    lacking = [name for name in USUAL if name not in table.deductions]
    if lacking:
        yield f"No deduction for {', '.join(lacking)}: a run that has one comes out incomplete, never within."
    sizes = [(rows[0].size, rows[0].size_label) for rows in by_size(table.rows)]
    for name, deduction in table.deductions.items():
        without = [label for size, label in sizes if deduction.at(size) is None]
        if without:
            yield f"No deduction for {name} in {', '.join(without)}, which the rows have: such a run is incomplete."
