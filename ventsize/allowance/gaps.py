"""What a table leaves unanswered: runs that it could judge but for a deduction that is not in it."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.allowance.model import AllowanceTable, by_size
from ventsize.finding import Finding, Where

USUAL = ("elbow-90-long", "elbow-90-short", "elbow-45", "terminal-open")
"""Fittings that a run of plastic pipe usually has (common practice, no source)."""


def gaps_of(table: AllowanceTable) -> tuple[Finding, ...]:
    """What would leave a common run `incomplete`."""
    return tuple(_gaps(table))


def _gaps(table: AllowanceTable) -> Iterator[Finding]:
    plain = [row for row in table.rows if not row.counts_elbows and not row.by_pressure]
    if not plain:
        return
    if not table.deducts:
        yield Finding("no-deductions", Where())
        return
    lacking = tuple(name for name in USUAL if name not in table.deductions)
    if lacking:
        yield Finding("usual-deductions-missing", Where(), {"fittings": lacking})
    sizes = [(rows[0].size, rows[0].size_label) for rows in by_size(plain)]
    for name, deduction in table.deductions.items():
        without = tuple(label for size, label in sizes if deduction.at(size) is None)
        if without:
            yield Finding("deduction-misses-sizes", Where(), {"fitting": name, "sizes": without})
