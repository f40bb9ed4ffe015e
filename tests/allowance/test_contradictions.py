"""Rows that contradict each other, against every case looked at one by one: many tables made at random."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator
from typing import Literal, NamedTuple

import pytest

from ventsize.allowance.ambiguity import ambiguous_pairs
from ventsize.allowance.model import AllowanceTable, Conditions, Row
from ventsize.jobfile.job import Carries

INCH, FOOT = 0.0254, 0.3048
VENT, AIR = "flue gas", "combustion air"
ENDS, MATERIALS, SIZES, EDGES = ("a", "b"), ("m", "n"), (2, 3), (0, 1000, 2000, 3000)
GASES: tuple[tuple[Carries, ...], ...] = (("flue gas",), ("combustion air",), ("flue gas", "combustion air"))


class Case(NamedTuple):
    """One pipe of one appliance: what the row is asked for. other: the other pipe's size, None where there is none."""

    carries: str
    own: int
    other: int | None
    end: str
    materials: frozenset[str]
    feet: float


def cases(applies_to: tuple[str, ...]) -> Iterator[Case]:
    """Every case that rows of these words could tell apart, and with an end, a material and a size no row names."""
    made = [frozenset(some) for some in (("m",), ("n",), ("m", "n"), ("z",))]
    heights = sorted({*EDGES, *(edge + 500 for edge in EDGES)})
    for carries, own, end, materials, feet in itertools.product(applies_to, SIZES, (*ENDS, "z"), made, heights):
        for other in (*SIZES, 9, *([None] if carries == VENT else [])):
            yield Case(carries, own, other, end, materials, feet)


def sizes(row: Row, case: Case) -> tuple[int, int | None]:
    """Of the pipe judged, and of the other one: an air pipe goes by the air size where the row has one."""
    size = round(row.size / INCH)
    if row.holds_for.air_size is None:
        return size, None
    air = round(row.holds_for.air_size / INCH)
    return (size, air) if case.carries == VENT else (air, size)


def applies(row: Row, case: Case, starts: set[int]) -> bool:
    """A row of the case's size as a person reads it. starts: altitudes at which rows of this size begin [ft]."""
    holds, other = row.holds_for, sizes(row, case)[1]
    low, high = (round(edge / FOOT) for edge in row.altitude)
    inside = low <= case.feet < high or case.feet == low or (case.feet == high and high not in starts)
    return (
        inside
        and (other is None or case.other == other)
        and holds.pipes in (None, "one" if case.other is None else "two")
        and (not holds.ends or case.end in holds.ends)
        and (not holds.materials or case.materials <= set(holds.materials))
    )


def contradictions(table: AllowanceTable) -> set[tuple[int, int]]:
    """Pairs of rows that some case has to choose between, though they name equally many conditions."""
    found: set[tuple[int, int]] = set()
    for case, kbtu in itertools.product(cases(table.applies_to), {row.input for row in table.rows}):
        of_size = [row for row in table.rows if sizes(row, case)[0] == case.own]
        starts = {round(row.altitude[0] / FOOT) for row in of_size}
        those = [row for row in of_size if row.input == kbtu and applies(row, case, starts)]
        most = max((row.holds_for.count for row in those), default=0)
        numbers = sorted(row.number for row in those if row.holds_for.count == most)
        found |= set(itertools.combinations(numbers, 2))
    return found


def made(draw: random.Random) -> AllowanceTable:
    """Two to six rows, of which most have one input and one size; a band may be a single altitude."""
    rows = []
    for number in range(1, draw.randint(2, 6) + 1):
        low, high = sorted(draw.choices(EDGES, k=2))
        air = draw.choice((None, None, 2, 3))
        holds = Conditions(
            pipes=draw.choice((None, None, "one", "two")) if air is None else draw.choice((None, "two")),
            ends=draw.choice(((), (), ("a",), ("b",), ("a", "b"))),
            materials=draw.choice(((), (), ("m",), ("n",), ("m", "n"))),
            air_size=None if air is None else air * INCH,
        )
        kbtu, size = draw.choice((20e3, 20e3, 20e3, 30e3)), draw.choice((3, 3, 2)) * INCH
        rows.append(Row(number, kbtu, size, (low * FOOT, high * FOOT), 9.0, holds_for=holds))
    return AllowanceTable("t", "t", "t", tuple(rows), draw.choice(GASES), "each run")


def test_rows_contradict_each_other_where_a_case_cannot_choose() -> None:
    """None is named that no case meets; of those that do, each row is named with one that stands below it."""
    seen = {True: 0, False: 0}
    for seed in range(500):
        table = made(random.Random(seed))
        found = [(one.number, other.number) for one, other in ambiguous_pairs(table)]
        expected = contradictions(table)
        assert set(found) <= expected, (seed, found, expected)
        assert found == sorted(found, key=lambda pair: pair[::-1])
        by_number = {row.number: row for row in table.rows}
        higher = {max(pair, key=lambda number: (by_number[number].altitude[0], number)) for pair in expected}
        assert higher <= set(itertools.chain.from_iterable(found)), (seed, found, expected)
        seen[bool(expected)] += 1
    assert min(seen.values()) > 50


@pytest.mark.parametrize("band", [(1000, 3000), (0, 2000)])
def test_rows_that_name_more_decide_where_two_meet(band: tuple[int, int]) -> None:
    """From 1,000 to 2,000 ft, for one pipe and for two; below and above only one of the two holds. For one pipe alone
    they do not decide."""

    def read(number: int, low: int, high: int, pipes: Literal["one", "two"] | None = None) -> Row:
        return Row(number, 20e3, 3 * INCH, (low * FOOT, high * FOOT), 9.0, holds_for=Conditions(pipes=pipes))

    two = (read(1, 0, 2000), read(2, 1000, 3000))
    deciding = (read(3, *band, "one"), read(4, *band, "two"))
    for rows, pairs in (((*two, *deciding), 0), ((*two, deciding[0]), 1)):
        assert len(list(ambiguous_pairs(AllowanceTable("t", "t", "t", rows, (VENT,), "each run")))) == pairs
