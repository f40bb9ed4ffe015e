"""[[fuel]] records: what a table file holds, checked and made into `FuelRecord`."""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import Annotated

from ventsize.catalog.properties import Fault, Source, Written
from ventsize.catalog.records import FuelRecord
from ventsize.jobfile.document import record
from ventsize.jobfile.field_types import Expected, Fraction

SUM_TOLERANCE = 1e-3  # published analyses are rounded; what is within this is scaled to one


@record
class FuelEntry:
    """A [[fuel]] as typed."""

    name: Written
    source: Source
    mole_fractions: Annotated[
        dict[str, Fraction], Expected("shares of gases such as { methane = 0.95, nitrogen = 0.05 }")
    ]
    title: Written | None = None


def fuel_faults(entry: FuelEntry) -> Iterator[Fault]:
    """What cannot be in a [[fuel]] though each value by itself could."""
    total = sum(entry.mole_fractions.values())
    if abs(total - 1.0) > SUM_TOLERANCE:
        yield "mole_fractions", f"the mole fractions add up to {total:.4g}", "1 in all"


def fuel_record(entry: FuelEntry) -> FuelRecord:
    """The record of a [[fuel]] without faults; its fractions add up to one."""
    total = sum(entry.mole_fractions.values())
    return FuelRecord(
        name=entry.name,
        title=entry.title or entry.name,
        source=entry.source,
        mole_fractions=MappingProxyType({gas: share / total for gas, share in entry.mole_fractions.items()}),
    )
