"""What in a table is worth a second look: worked out once for a table, and kept with it."""

from __future__ import annotations

from dataclasses import dataclass

from ventsize.allowance.budget import RowPressure
from ventsize.allowance.implied import ELBOW, FUEL, doubts_on_deductions, row_pressures
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.row_remarks import order_doubts
from ventsize.catalog.library import Catalog
from ventsize.finding import Finding


@dataclass(frozen=True, slots=True)
class TableDoubts:
    """What is said of a table, whatever job asks.

    rows: of single rows, each with its number; deductions: of deductions, the value "fitting" says which
    pressures: what each row comes to
    """

    rows: tuple[Finding, ...]
    deductions: tuple[Finding, ...]
    pressures: tuple[RowPressure, ...]

    @property
    def all(self) -> tuple[Finding, ...]:
        """Those of rows, then those of deductions."""
        return (*self.rows, *self.deductions)


def doubts_of(table: AllowanceTable, catalog: Catalog) -> TableDoubts:
    """What in a table is worth a second look by this catalog."""
    key = _what_it_hangs_on(table, catalog)
    kept = table.memo.get("doubts")
    if kept is not None and kept[0] == key:
        found: TableDoubts = kept[1]
        return found
    pressures = row_pressures(table, catalog)
    found = TableDoubts(
        rows=(*(doubt for row in pressures for doubt in row.doubts), *order_doubts(table)),
        deductions=tuple(doubts_on_deductions(table, catalog)),
        pressures=pressures,
    )
    table.memo["doubts"] = (key, found)
    return found


def _what_it_hangs_on(table: AllowanceTable, catalog: Catalog) -> tuple[object, ...]:
    """The records of a catalog that a table's doubts hang on; a job's own records make another catalog each time."""
    fittings = tuple(catalog.fittings.get(name) for name in (ELBOW, *table.deductions))
    return (fittings, tuple(catalog.pipes.values()), catalog.fuels.get(FUEL))
