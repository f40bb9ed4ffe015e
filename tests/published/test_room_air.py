"""Room air against the published table of the model fuel gas code, and against worked examples of others."""

from __future__ import annotations

import pytest

from ventsize.quantity import Dimension, parse
from ventsize.studies.room_air.rules import read_rules

RULES = read_rules()
CUBIC_FOOT = 0.3048**3
SQUARE_INCH = 0.0254**2


def btu(power: float) -> float:
    """An input in Btu/h as watts."""
    return parse(f"{power} Btu/h", Dimension.POWER)


# IFGC appendix E, table E-1: input, standard, fan-assisted at 0.20 and 0.40 ACH, other at 0.20 and 0.40 ACH.
TABLE_E_1 = [
    (5_000, 250, 375, 188, 525, 263),
    (100_000, 5_000, 7_500, 3_750, 10_500, 5_250),
    (120_000, 6_000, 9_000, 4_500, 12_600, 6_300),
]


@pytest.mark.parametrize("row", TABLE_E_1)
def test_volumes_of_the_published_table(row: tuple[int, ...]) -> None:
    """IFGC appendix E, table E-1, which gives whole cubic feet."""
    power, standard, *known = (row[0], row[1], *row[2:])
    watts = btu(power)
    assert RULES.standard_volume(watts) / CUBIC_FOOT == pytest.approx(standard, rel=1e-5)
    found = [
        RULES.infiltration_volume(fan=fan * watts, natural=(1 - fan) * watts, air_changes=rate / 3600) / CUBIC_FOOT
        for fan in (1, 0)
        for rate in (0.20, 0.40)
    ]
    assert found == pytest.approx(known, abs=0.51)


def test_an_air_change_rate_above_the_greatest_is_not_used() -> None:
    """IFGC 304.5.2: no more than 0.60 air changes an hour may be used."""
    volumes = [RULES.infiltration_volume(fan=1e4, natural=0, air_changes=rate / 3600) for rate in (0.6, 0.9)]
    assert volumes[0] == pytest.approx(volumes[1])


def test_worked_volumes() -> None:
    """Worked examples of a builders' journal and of a license course: 7000 ft³ (875 ft² by 8 ft), and 4000 ft³."""
    assert RULES.standard_volume(btu(140_000)) / CUBIC_FOOT == pytest.approx(875 * 8, rel=1e-5)
    assert RULES.standard_volume(btu(80_000)) / CUBIC_FOOT == pytest.approx(4_000, rel=1e-5)
    assert RULES.standard_volume(btu(80_000)) > 20 * 18 * 8 * CUBIC_FOOT  # the room of that example is too small


def test_worked_openings_indoors() -> None:
    """A worked answer on a building code forum: 112 000 Btu/h takes 112 in² each, or 224 in² from another storey.

    It is what 120 000 Btu/h lack in a room of 400 ft³, which serves 8000.
    """
    assert RULES.standard_volume(btu(8_000)) / CUBIC_FOOT == pytest.approx(400, rel=1e-5)
    assert RULES.same_storey.needed(btu(112_000)) / SQUARE_INCH == pytest.approx(112, rel=1e-5)
    assert RULES.other_storey.needed(btu(112_000)) / SQUARE_INCH == pytest.approx(224, rel=1e-5)
    # IFGC 304.5.3.1: no less than 100 in² each.
    assert RULES.same_storey.needed(btu(80_000)) / SQUARE_INCH == pytest.approx(100, rel=1e-5)


def test_openings_outdoors_by_hand() -> None:
    """IFGC 304.6: 1 in² for 4000 (direct, vertical), 2000 (horizontal) and 3000 Btu/h (single), at 140 000 Btu/h."""
    power = btu(140_000)
    assert RULES.direct.needed(power) / SQUARE_INCH == pytest.approx(35, rel=1e-5)
    assert RULES.horizontal_duct.needed(power) / SQUARE_INCH == pytest.approx(70, rel=1e-5)
    assert RULES.single.needed(power) / SQUARE_INCH == pytest.approx(46.67, rel=1e-3)
    # IFGC 304.10 (as told by a published code check): three quarters of a metal louver is free, a quarter of wood.
    assert RULES.direct.needed(power) / RULES.louver.metal / SQUARE_INCH == pytest.approx(46.67, rel=1e-3)
    assert RULES.direct.needed(power) / RULES.louver.wood / SQUARE_INCH == pytest.approx(140, rel=1e-5)


def test_combination_by_hand() -> None:
    """IFGC 304.7, from memory: 160 000 Btu/h asks 8000 ft³; with 3000 there, 5/8 of 40 in² is 25 in²."""
    power = btu(160_000)
    factor = 1 - 3_000 * CUBIC_FOOT / RULES.standard_volume(power)
    assert factor == pytest.approx(0.625, rel=1e-5)
    assert RULES.direct.needed(power, factor=factor) / SQUARE_INCH == pytest.approx(25, rel=1e-4)
