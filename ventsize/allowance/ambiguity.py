"""Rows between which a table does not decide: both apply to one case, and name equally many conditions.

Where a third row names more conditions and holds for all that the two have in common, it decides, and they do not
contradict each other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from ventsize.allowance.model import (
    ONE_PIPE,
    SAME_ALTITUDE,
    TWO_PIPES,
    AllowanceTable,
    Pipes,
    Row,
    by_input,
    same_altitude,
)
from ventsize.catalog.records import same_size
from ventsize.jobfile.job import Carries

_Kind = Literal["vent", "air"]


@dataclass(frozen=True, slots=True)
class _Region:
    """The cases of one input that a row applies to; None where it does not say.

    own: size of the run judged; other: of the other pipe, which is then there [m]. low, high: altitude [m].
    """

    own: float
    other: float | None
    pipes: Pipes | None
    ends: frozenset[str] | None
    materials: frozenset[str] | None
    low: float
    high: float
    row: Row

    @property
    def count(self) -> int:
        return self.row.holds_for.count


def ambiguous_pairs(table: AllowanceTable) -> Iterator[tuple[Row, Row]]:
    """Pairs of rows that contradict each other, in the order of the file; for each row at most the first found."""
    kinds: dict[Carries, _Kind] = {"flue gas": "vent", "combustion air": "air"}
    found: set[tuple[int, int]] = set()
    for rows in by_input(table.rows):
        for kind in (kinds[gas] for gas in table.applies_to):
            regions = [region for row in rows if (region := _region(row, kind)) is not None]
            for of_one_size in _by_own_size(regions):
                found |= {_numbers(one, other) for one, other in _clashes(of_one_size)}
    by_number = {row.number: row for row in table.rows}
    for one, other in sorted(found, key=lambda pair: pair[::-1]):
        yield by_number[one], by_number[other]


def _numbers(one: _Region, other: _Region) -> tuple[int, int]:
    first, second = sorted((one.row.number, other.row.number))
    return first, second


def _region(row: Row, kind: _Kind) -> _Region | None:
    """Where a row applies to a vent, or to an air pipe; None where it never does."""
    holds = row.holds_for
    low, high = row.altitude
    if low > high or (kind == "air" and holds.pipes == ONE_PIPE):
        return None
    two = kind == "air" or holds.air_size is not None
    paired = holds.air_size is not None
    return _Region(
        own=holds.air_size if kind == "air" and holds.air_size is not None else row.size,
        other=(row.size if kind == "air" else holds.air_size) if paired else None,
        pipes=TWO_PIPES if two else holds.pipes,
        ends=frozenset(holds.ends) or None,
        materials=frozenset(holds.materials) or None,
        low=low,
        high=high,
        row=row,
    )


def _by_own_size(regions: Sequence[_Region]) -> list[list[_Region]]:
    found: list[list[_Region]] = []
    for region in sorted(regions, key=lambda region: region.own):
        if found and same_size(found[-1][-1].own, region.own):
            found[-1].append(region)
        else:
            found.append([region])
    return found


def _clashes(regions: Sequence[_Region]) -> Iterator[tuple[_Region, _Region]]:
    """Regions of one size and input that overlap and nobody decides between. By altitude, lowest first."""
    held: list[_Region] = []
    for region in sorted(regions, key=lambda region: (region.low, region.row.number)):
        held = [other for other in held if _meet(other, region)]
        clash = next(
            (other for other in held if other.count == region.count and _undecided(other, region, regions)), None
        )
        if clash is not None:
            yield clash, region
        held.append(region)


def _meet(one: _Region, other: _Region) -> bool:
    """Whether two bands have more in common than the altitude at which one ends and the other starts."""
    if same_altitude(one.low, other.low):
        return True
    return one.low < other.high - SAME_ALTITUDE and other.low < one.high - SAME_ALTITUDE


def _undecided(one: _Region, other: _Region, regions: Sequence[_Region]) -> bool:
    """Whether some case belongs to both, and no row that names more conditions holds for it."""
    if one.pipes is not None and other.pipes is not None and one.pipes != other.pipes:
        return False
    if one.other is not None and other.other is not None and not same_size(one.other, other.other):
        return False
    ends, materials = _common(one.ends, other.ends), _common(one.materials, other.materials)
    if (ends is not None and not ends) or (materials is not None and not materials):
        return False
    pipes = one.pipes or other.pipes
    opposite = one.other if one.other is not None else other.other
    better = [third for third in regions if third.count > one.count and _meet(third, one) and _meet(third, other)]
    return not all(
        _covered(max(one.low, other.low), min(one.high, other.high), [
            third for third in better
            if third.pipes in (None, each) and _within(end, third.ends)
            and (third.materials is None or (materials is not None and materials <= third.materials))
            and (third.other is None or (opposite is not None and same_size(opposite, third.other)))
        ])
        for each in ((pipes,) if pipes else (ONE_PIPE, TWO_PIPES))
        for end in (sorted(ends) if ends is not None else (None,))
    )  # fmt: skip


def _common(one: frozenset[str] | None, other: frozenset[str] | None) -> frozenset[str] | None:
    if one is None or other is None:
        return other if one is None else one
    return one & other


def _within(end: str | None, ends: frozenset[str] | None) -> bool:
    return ends is None or (end is not None and end in ends)


def _covered(low: float, high: float, regions: Sequence[_Region]) -> bool:
    """Whether bands together hold every altitude [m] from low to high."""
    reached = low
    for region in sorted(regions, key=lambda region: region.low):
        if region.low > reached + SAME_ALTITUDE:
            return False
        reached = max(reached, region.high)
        if reached >= high - SAME_ALTITUDE:
            return True
    return False
