"""The fittings that a page names itself, as records of a catalog: usable by name in a job that the table judges."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType

from ventsize.allowance.model import AllowanceTable, TableFitting
from ventsize.catalog.library import Catalog
from ventsize.catalog.records import FittingRecord, Loss

# What a page gives no loss for is figured as the shipped record of its kind that it is likest; an elbow by its angle,
# by the methods that hold for every angle.
LIKEST = {"terminal": "terminal-open", "entrance": "entrance-open", "coupling": "coupling"}
BEND = Loss(method="Rennels bend", others=("Crane miter", "Rennels miter", "Blevins miter"))
BEND_DIAMETERS = 1.0
UNKNOWN = Loss(k=1.0, k_low=0.0, k_high=2.0)  # of any other fitting: about one velocity head, and nobody knows


def with_own_fittings(catalog: Catalog, tables: Iterable[AllowanceTable]) -> Catalog:
    """A catalog with the fittings of some tables; where two define one name, the first table's."""
    own: dict[str, FittingRecord] = {}
    for table in tables:
        for fitting in table.fittings:
            own.setdefault(fitting.name, fitting_record(fitting, table, catalog.fittings))
    return replace(catalog, fittings=MappingProxyType({**catalog.fittings, **own})) if own else catalog


def fitting_record(fitting: TableFitting, table: AllowanceTable, shipped: Mapping[str, FittingRecord]) -> FittingRecord:
    """The record of a page's own fitting.

    shipped: records by name, for what the page does not say
    """
    likest = shipped.get(LIKEST.get(fitting.kind, ""))
    record = FittingRecord(
        name=fitting.name,
        title=fitting.title,
        source=f"{table.title}: {table.source}",
        kind=fitting.kind,
        angle=fitting.angle,
        bend_diameters=BEND_DIAMETERS if fitting.angle else None,
    )
    k = fitting.k
    if fitting.kind in ("terminal", "entrance") and likest is not None:
        # a page's figure is for the whole end, which loses no less than a plain open one
        return replace(
            record,
            loss=BEND if fitting.angle and k is None else None,
            leaving=_no_less(likest.leaving, k),
            entering=_no_less(likest.entering, k),
        )
    if k is not None:
        return replace(record, loss=Loss(k=k, k_low=k, k_high=k))
    if fitting.kind == "elbow":
        return replace(record, loss=BEND)
    return replace(record, loss=UNKNOWN if likest is None else likest.loss)


def _no_less(plain: Loss | None, k: float | None) -> Loss | None:
    """The loss of a plain open end, or a page's figure where that is more."""
    if plain is None or k is None or plain.k is None or k <= plain.k:
        return plain
    return Loss(k=k, k_low=k, k_high=k)


def clashes(tables: Iterable[AllowanceTable]) -> list[tuple[AllowanceTable, TableFitting]]:
    """Fittings that two tables define by one name, and differently: the later table, and its fitting."""
    first: dict[str, TableFitting] = {}
    found = []
    for table in tables:
        for fitting in table.fittings:
            known = first.setdefault(fitting.name, fitting)
            if replace(known, title=fitting.title) != fitting:
                found.append((table, fitting))
    return found
