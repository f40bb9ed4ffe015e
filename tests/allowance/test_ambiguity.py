"""Rows between which a table does not decide, against every case of a small world asked one by one."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random

import pytest

from tests.allowance.support import FOOT, HEAD, INCH, row
from ventsize.allowance.ambiguity import ambiguous_pairs
from ventsize.allowance.model import AllowanceTable, Row
from ventsize.allowance.reading import table_from_text
from ventsize.catalog.records import same_size

SIZES, NAMED_SIZES = (2.0, 3.0, 4.0), (2.0, 3.0)  # in; a pipe may be of a size, and stand at an end, that no row names
ENDS, NAMED_ENDS = ("terminal-open", "wall-kit", "terminal-screened"), ("terminal-open", "wall-kit")
MATERIALS, NAMED_MATERIALS = ("pvc-40", "cpvc-40", "abs-40"), ("pvc-40", "cpvc-40")
BANDS = (("0 ft", "2000 ft"), ("2000 ft", "4500 ft"), ("0 ft", "4500 ft"), ("1000 ft", "3000 ft"), ("0 ft", "6000 ft"))
ALTITUDES = (500, 1500, 2500, 3500, 5000)  # ft; one between each two ends of bands
MADE_OF = tuple(frozenset(some) for count in (1, 2, 3) for some in itertools.combinations(MATERIALS, count))


@dataclass(frozen=True)
class Case:
    """A pipe that may be: what it carries, its size and that of the other one (none: air from the room) [in]."""

    air: bool
    own: float
    other: float | None
    end: str
    materials: frozenset[str]
    feet: float


def cases(*, air: bool) -> Iterator[Case]:
    """Every one of the small world."""
    others = SIZES if air else (None, *SIZES)
    for own, other, end, made_of, feet in itertools.product(SIZES, others, ENDS, MADE_OF, ALTITUDES):
        yield Case(air, own, other, end, made_of, feet)


def holds(row: Row, case: Case) -> bool:
    """Whether a row is for a case, condition by condition."""
    says = row.holds_for
    vent, air = (case.other, case.own) if case.air else (case.own, case.other)
    paired = says.air_size is not None
    if paired and (air is None or not same_size(says.air_size, air * INCH)):
        return False
    of_row = vent if paired or not case.air else case.own
    assert of_row is not None
    return (
        same_size(row.size, of_row * INCH)
        and says.pipes in (None, "one" if case.other is None else "two")
        and (not says.ends or case.end in says.ends)
        and (not says.materials or case.materials <= set(says.materials))
        and row.altitude[0] <= case.feet * FOOT <= row.altitude[1]
    )


def undecided(table: AllowanceTable, *, air: bool) -> bool:
    """Whether some case has two rows that name equally many conditions, and none that names more."""
    for case in cases(air=air):
        counts = sorted(one.holds_for.count for one in table.rows if holds(one, case))
        if len(counts) > 1 and counts[-1] == counts[-2]:
            return True
    return False


def made(rows: list[str], *, applies_to: str) -> AllowanceTable:
    """A table of rows that may contradict each other, which no file may."""
    read = [table_from_text(HEAD + one, file="t") for one in rows]
    listed = tuple(replace(one.rows[0], number=number) for number, one in enumerate(read, start=1))
    return replace(read[0], rows=listed, applies_to=tuple(applies_to.split(" and ")))


def drawn(chance: Random) -> str:
    """A row with some conditions."""
    found = row("90 ft", size=f"{chance.choice(NAMED_SIZES):g} in", band=chance.choice(BANDS))
    pipes = chance.choice(("", "", "one", "two"))
    if pipes:
        found += f'pipes = "{pipes}"\n'
    if chance.random() < 0.4:
        found += f"ends = {chance.sample(NAMED_ENDS, chance.randint(1, 2))}\n"
    if chance.random() < 0.4:
        found += f"materials = {chance.sample(NAMED_MATERIALS, chance.randint(1, 2))}\n"
    if pipes != "one" and chance.random() < 0.3:
        found += f'air_size = "{chance.choice(NAMED_SIZES):g} in"\n'
    return found


@pytest.mark.parametrize("applies_to", ["flue gas", "combustion air", "flue gas and combustion air"])
def test_as_every_case_asked_by_itself(applies_to: str) -> None:
    """Two to five rows of one input, 250 times, of which a third to two thirds contradict each other."""
    chance, clashing = Random(applies_to), 0
    for _ in range(250):
        table = made([drawn(chance) for _ in range(chance.randint(2, 5))], applies_to=applies_to)
        as_vent = "flue gas" in applies_to and undecided(table, air=False)
        as_air = "combustion air" in applies_to and undecided(table, air=True)
        found = list(ambiguous_pairs(table))
        assert bool(found) is (as_vent or as_air), [(one.label, one.holds_for) for one in table.rows]
        clashing += bool(found)
    assert 60 < clashing < 220


@pytest.mark.parametrize("band", [("1000 ft", "3000 ft"), ("0 ft", "2000 ft")])
def test_a_row_that_names_more_decides_where_two_meet(band: tuple[str, str]) -> None:
    """From 1,000 to 2,000 ft; below and above only one of the two holds."""
    two = [row("90 ft", band=("0 ft", "2000 ft")), row("80 ft", band=("1000 ft", "3000 ft"))]
    deciding = [row("70 ft", band=band) + f'pipes = "{pipes}"\n' for pipes in ("one", "two")]
    assert not list(ambiguous_pairs(made([*two, *deciding], applies_to="flue gas")))
    assert list(ambiguous_pairs(made([*two, deciding[0]], applies_to="flue gas")))


def test_pairs_stand_in_the_order_of_the_file() -> None:
    """By the second of each pair, which is the one that contradicts what stands above it."""
    table = made([row("90 ft", size=size) for size in ("2 in", "3 in", "3 in", "2 in")], applies_to="flue gas")
    assert [(one.number, other.number) for one, other in ambiguous_pairs(table)] == [(2, 3), (1, 4)]


def test_rows_for_one_altitude_alone_meet_there() -> None:
    """Two of 2,000 ft, which is all that either holds for."""
    assert list(ambiguous_pairs(made([row("90 ft", band=("2000 ft", "2000 ft"))] * 2, applies_to="flue gas")))


def test_rows_of_other_inputs_do_not_meet() -> None:
    """The same conditions at 60 and at 80."""
    rows = [row("90 ft", input=f"{input} kBtu/h") for input in (60, 80)]
    assert not list(ambiguous_pairs(made(rows, applies_to="flue gas")))
