"""Names in a table that nothing explains: no record of the catalog or the job, and no [[fitting]] of its own."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from ventsize.allowance.model import AllowanceTable
from ventsize.jobfile.document import nearest


@dataclass(frozen=True, slots=True)
class UnknownName:
    """A name that nothing explains: where it stands, whether it is a fitting or a material, the nearest known one."""

    place: str
    kind: str
    name: str
    expected: str


def unknown_names(
    table: AllowanceTable, *, fittings: Collection[str], materials: Collection[str]
) -> Iterator[UnknownName]:
    """Each name that nothing explains, once.

    fittings, materials: names that a catalog and a job know.
    """
    known = {"fitting": {*fittings, *(fitting.name for fitting in table.fittings)}, "material": set(materials)}
    seen: set[tuple[str, str]] = set()
    for place, kind, name in _names(table):
        if name in known[kind] or (kind, name) in seen:
            continue
        seen.add((kind, name))
        yield UnknownName(place, kind, name, nearest(name, known[kind]))


def _names(table: AllowanceTable) -> Iterator[tuple[str, str, str]]:
    """Every name in a table that has to be explained: its place, what it is a name of, the name."""
    yield from (("deductions", "fitting", name) for name in table.deductions)
    yield from (("elbows_each", "fitting", name) for name in table.elbows_each)
    yield from (("counts_as", "material", name) for name in table.counts_as)
    for row in table.rows:
        yield from ((f"row {row.number}, ends", "fitting", name) for name in row.holds_for.ends)
        yield from ((f"row {row.number}, materials", "material", name) for name in row.holds_for.materials)
