"""[[pipe]] records: what a table file holds, checked and made into `PipeRecord`."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from ventsize.catalog.properties import Conductivity, Expansion, Fault, NominalSize, Source, Written
from ventsize.catalog.records import Matter, PipeRecord, PipeSize, same_size
from ventsize.jobfile.document import record
from ventsize.jobfile.field_types import Expected, Length, PositiveLength, Temperature

USUAL_TOLERANCE = 0.01  # of the bore, either way, where a record does not say (common practice, no source)
AGREEMENT = 0.10  # a bore further than this from outside less two walls is a typing mistake


Roughness = Annotated[Length, Expected("a roughness such as '0.0015 mm'")]


@record
class SizeEntry:
    """One size as typed. One of outside, wall and bore may be left out: it follows from the others.

    bores: the least and the greatest bore that the standard lets through.
    """

    nominal: NominalSize
    outside: PositiveLength | None = None
    wall: PositiveLength | None = None
    bore: PositiveLength | None = None
    bores: Annotated[tuple[PositiveLength, PositiveLength] | None, Expected("such as ['51.3 mm', '52.7 mm']")] = None


@record
class PipeEntry:
    """A [[pipe]] as typed."""

    name: Written
    source: Source
    roughness: Roughness
    sizes: Annotated[tuple[SizeEntry, ...], Expected("a list of sizes such as { nominal = '3 in', … }")]
    title: Written | None = None
    made_of: Annotated[Matter, Expected("plastic or metal")] = "plastic"
    roughnesses: Annotated[
        tuple[Roughness, Roughness] | None, Expected("the least and the most, such as ['0.0015 mm', '0.046 mm']")
    ] = None
    conductivity: Conductivity | None = None
    expansion: Expansion | None = None
    temperature_limit: Temperature | None = None
    joined_by: Written | None = None
    flexible: bool = False


def pipe_faults(entry: PipeEntry) -> Iterator[Fault]:
    """What cannot be in a [[pipe]] though each number by itself could."""
    if not entry.sizes:
        yield "", "it has no sizes", "at least one"
    least, most = entry.roughnesses or (entry.roughness, entry.roughness)
    if not least <= entry.roughness <= most:
        yield "roughnesses", "the roughness taken is not between them", "the least and the most it may be"
    seen: list[float] = []
    for size in entry.sizes:
        place = f"size {size.nominal.label}"
        if any(same_size(size.nominal.length, other) for other in seen):
            yield place, "the size is listed twice", "each size once"
        seen.append(size.nominal.length)
        fault = _size_fault(size)
        if fault:
            yield place, *fault
        elif entry.roughness > _bore(size) / 2:
            yield place, "the roughness is more than half the bore", "a smaller roughness"


def pipe_record(entry: PipeEntry) -> PipeRecord:
    """The record of a [[pipe]] without faults."""
    least, most = entry.roughnesses or (entry.roughness, entry.roughness)
    return PipeRecord(
        name=entry.name,
        title=entry.title or entry.name,
        source=entry.source,
        sizes=tuple(sorted(map(_size, entry.sizes), key=lambda size: size.nominal)),
        roughness=entry.roughness,
        roughness_least=least,
        roughness_most=most,
        made_of=entry.made_of,
        conductivity=entry.conductivity,
        expansion=entry.expansion,
        temperature_limit=entry.temperature_limit,
        joined_by=entry.joined_by or "",
        flexible=entry.flexible,
    )


def _size_fault(size: SizeEntry) -> tuple[str, str] | None:
    if [size.outside, size.wall, size.bore].count(None) > 1:
        return "two of outside, wall and bore are missing", "at least two of the three"
    if size.outside is not None and size.wall is not None and size.wall >= size.outside / 2:
        return "the wall is thicker than the radius", "a wall of less than half the outside diameter"
    if size.outside is not None and size.bore is not None and size.bore >= size.outside:
        return "the bore is not smaller than the outside diameter", "a smaller bore"
    if size.outside is not None and size.wall is not None and size.bore is not None:
        between = size.outside - 2 * size.wall
        if abs(size.bore / between - 1) > AGREEMENT:
            return "bore, wall and outside diameter do not agree", "a bore near outside less two walls"
    if size.bores is not None and not size.bores[0] <= _bore(size) <= size.bores[1]:
        return "the bore is not between the bores it may have", "the least and the greatest bore, in this order"
    return None


def _bore(size: SizeEntry) -> float:
    if size.bore is not None:
        return size.bore
    return (size.outside or 0.0) - 2 * (size.wall or 0.0)


def _size(size: SizeEntry) -> PipeSize:
    bore = _bore(size)
    wall = size.wall if size.wall is not None else ((size.outside or 0.0) - bore) / 2
    outside = size.outside if size.outside is not None else bore + 2 * wall
    least, most = size.bores or (bore * (1.0 - USUAL_TOLERANCE), bore * (1.0 + USUAL_TOLERANCE))
    return PipeSize(
        nominal=size.nominal.length,
        label=size.nominal.label,
        outside=outside,
        wall=wall,
        bore=bore,
        bore_least=least,
        bore_most=most,
    )
