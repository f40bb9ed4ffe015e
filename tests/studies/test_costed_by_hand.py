"""Four jobs costed by hand in a sheet, without a look at the code: equal to the cent, and cut as well or better.

Each sheet has how many, what, the price of one (or one pack) and the hours of one. Hand-worked: lengths are center to
center, an elbow takes 3 in (3 in pipe) or 2 in (2 in pipe) off each pipe in it, an increaser 1 in. Supports every 4 ft
level and 10 ft upright (2018 IRC Table P2605.1). Pipe comes in 10 ft, hangers in packs of 10.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

from ventsize.catalog.properties import Nominal
from ventsize.check.inputs import prepare
from ventsize.jobfile.job import job_from_text
from ventsize.studies.pricing.files import read_prices
from ventsize.studies.pricing.prices import PriceList, cost
from ventsize.studies.takeoff import takeoff
from ventsize.studies.takeoff.practice import EndToCenter, Practice, read_practice

INCH = 0.0254

PRICES = """item,size,length,price,pack,hours,currency
pipe,3 in,10 ft,22.45,,0.35,USD
pipe,2 in,10 ft,11.20,,0.35,USD
pipe,4 in,10 ft,31.60,,0.35,USD
coupling,3 in,,3.15,,0.10,USD
coupling,4 in,,5.60,,0.10,USD
elbow-90-long,,,6.85,,0.15,USD
elbow-90-short,,,1.95,,0.15,USD
terminal-elbow-down,,,5.25,,0.25,USD
increaser,4 in x 3 in,,7.90,,0.15,USD
insulation,4 in,,14.75,,0.20,USD
hanger,,,18.50,10,0.10,USD
wall plate,,,4.25,,0.20,USD
roof flashing,,,18.60,,0.50,USD
sealant,,,6.40,,,USD
cement,,,9.49,,,USD
primer,,,8.29,,,USD
labor,,,70.00,,,USD
mark-up,,,20 %,,,
charge: Trip,,,85.00,,,USD
tax,,,8 %,,,
"""

Sheet = list[tuple[int, str, str, str]]
CANS: Sheet = [(1, "cement", "9.49", "0"), (1, "primer", "8.29", "0")]


def walls(openings: int) -> Sheet:
    """What openings in a wall take: a plate on either side, and sealant."""
    return [(2 * openings, "wall plate", "4.25", "0.20"), (openings, "sealant", "6.40", "0")]


HEAD = """
title = "Job"
[[appliance]]
name = "furnace"
fuel = "natural gas"
rate = [{ name = "high", input = "80 kBtu/h", excess_air = 0.35, flue_temperature = "110 degF" }]
"""


def run(name: str, carries: str, size: str, pieces: str) -> str:
    """A run of a job file."""
    return (
        f"[[run]]\nname = '{name}'\ncarries = '{carries}'\nbetween = ['furnace', 'outdoors']\nsize = '{size}'\n"
        f"material = 'pvc-40'\npieces = [{pieces}]\n"
    )


ONE = run(
    "vent",
    "flue gas",
    "3 in",
    "{ pipe = '12 ft', heading = 'up' }, { fitting = 'elbow-90-long' }, { pipe = '13 ft', heading = 'east' }, "
    "{ fitting = 'elbow-90-long' }, { pipe = '3 ft', heading = 'north' }, { fitting = 'terminal-open' }",
)
# Cut: 11 ft 9 in = 10 ft + 1 ft 9 in; 12 ft 6 in = 10 ft + 2 ft 6 in; 2 ft 9 in. The three short ones come from one.
SHEET_ONE: Sheet = [
    (3, "pipe", "22.45", "0.35"),
    (2, "coupling", "3.15", "0.10"),
    (2, "elbow-90-long", "6.85", "0.15"),
    (1, "pack of 10 hangers, 7 used", "18.50", "0.70"),
    *walls(1),
    *CANS,
]

TWO = "".join(
    run(
        name,
        carries,
        "2 in",
        f"{{ pipe = '{up}', heading = 'up' }}, {{ fitting = 'elbow-90-short' }}, "
        f"{{ pipe = '{east}', heading = 'east' }}, {{ fitting = '{end}' }}",
    )
    for name, carries, up, east, end in (
        ("vent", "flue gas", "8 ft", "9 ft 6 in", "terminal-elbow-down"),
        ("air", "combustion air", "7 ft", "9 ft", "entrance-open"),
    )
)
# Cut: 94, 110, 82 and 106 in; no two of them come from one length. Hangers: 1 + 3 + 1 + 3.
SHEET_TWO: Sheet = [
    (4, "pipe", "11.20", "0.35"),
    (2, "elbow-90-short", "1.95", "0.15"),
    (1, "terminal-elbow-down", "5.25", "0.25"),
    (1, "pack of 10 hangers, 8 used", "18.50", "0.80"),
    *walls(2),
    *CANS,
]

THREE = run(
    "vent",
    "flue gas",
    "3 in",
    "{ pipe = '4 ft', heading = 'up' }, { fitting = 'increaser', size = '4 in' }, "
    "{ pipe = '15 ft', heading = 'up', insulation = { thickness = '1 in' } }, { fitting = 'terminal-open' }",
)
# Cut: 47 in of 3 in; 179 in of 4 in = 10 ft + 59 in, a coupling. Hangers of two sizes, a pack each.
SHEET_THREE: Sheet = [
    (1, "pipe, 3 in", "22.45", "0.35"),
    (2, "pipe, 4 in", "31.60", "0.35"),
    (1, "coupling", "5.60", "0.10"),
    (1, "increaser", "7.90", "0.15"),
    (1, "pack of 10 hangers, 3 in, 1 used", "18.50", "0.10"),
    (1, "pack of 10 hangers, 4 in, 2 used", "18.50", "0.20"),
    (3, "insulation, 6 ft", "14.75", "0.20"),
    (1, "roof flashing", "18.60", "0.50"),
    (1, "sealant", "6.40", "0"),
    *CANS,
]

# The fourth has a list of its own: packs of its elbows and hangers, tax on everything, two charges, another hour.
FOUR = run(
    "vent",
    "flue gas",
    "2 in",
    "{ pipe = '3 ft', heading = 'up' }, { fitting = 'increaser', size = '3 in' }, { pipe = '5 ft', heading = 'up' }, "
    "{ fitting = 'elbow-90-long' }, "
    "{ pipe = '14 ft 6 in', heading = 'east', surroundings = 'attic', insulation = { thickness = '1/2 in' } }, "
    "{ fitting = 'elbow-90-long' }, { pipe = '6 ft', heading = 'up' }, { fitting = 'terminal-open' }",
) + run(
    "air",
    "combustion air",
    "3 in",
    "{ pipe = '2 ft', heading = 'up' }, { fitting = 'elbow-90-short' }, { pipe = '11 ft 3 in', heading = 'west' }, "
    "{ fitting = 'elbow-45' }, { pipe = '2 ft' }, { fitting = 'elbow-45' }, { pipe = '7 ft', heading = 'west' }, "
    "{ fitting = 'terminal-open' }",
)
PRICES_FOUR = """item;size;price;pack;hours;currency
pipe;2 in;$11,20;;0,35;USD
pipe;3 in;22,45;;0,35;USD
coupling;3 in;3,15;;0,10;USD
elbow-45;3 in;5,40;;0,15;USD
elbow-90-long;3 in;58,00;10;0,15;USD
elbow-90-short;3 in;4,40;;0,15;USD
increaser;3 in x 2 in;4,85;;0,15;USD
roof flashing;;18,60;;0,50;USD
sealant;;6,40;;;USD
wall plate;;4,25;;0,20;USD
hanger;2 in;1,85;;0,10;USD
hanger;3 in;31,25;25;0,10;USD
insulation;;14,90;;0,25;USD
cement;;9,49;;;USD
primer;;8,29;;;USD
labor;;82,40;;;USD
mark-up;;12,5 %;;;
tax on everything;;7,75 %;;;
charge: Permit;;85,00;;;USD
charge: Trip;;45,00;;;USD
"""
# Cut, 3 in: long elbows 4 in off, short 3 1/8, 45s 1 3/4, increaser 1. Vent 55, 166 (a coupling), 68; air 20 7/8,
# 130 1/8 (a coupling), 20 1/2, 82 1/4 in. Five lengths: 120 whole; 68 + 46 of the 166; 82 1/4 + 20 7/8; 55 + 40 of the
# 130 1/8; 20 1/2 + its 90 1/8. 2 in: 35 in. Hangers in 3 in: 1 + 4 + 1, and 1 + 3 + 1 + 2; in 2 in: 1.
SHEET_FOUR: Sheet = [
    (1, "pipe, 2 in", "11.20", "0.35"),
    (5, "pipe, 3 in", "22.45", "0.35"),
    (2, "coupling", "3.15", "0.10"),
    (2, "elbow-45", "5.40", "0.15"),
    (1, "pack of 10 elbow-90-long, 2 used", "58.00", "0.30"),
    (1, "elbow-90-short", "4.40", "0.15"),
    (1, "increaser", "4.85", "0.15"),
    (1, "roof flashing", "18.60", "0.50"),
    (2, "sealant", "6.40", "0"),
    (2, "wall plate", "4.25", "0.20"),
    (1, "hanger, 2 in", "1.85", "0.10"),
    (1, "pack of 25 hangers, 3 in, 13 used", "31.25", "1.30"),
    (3, "insulation, 6 ft", "14.90", "0.25"),
    *CANS,
]


@pytest.fixture
def practice(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Practice:
    """The shipped figures with the fittings measured."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    measured = {
        "elbow-90-long": {3: 3},
        "elbow-90-short": {2: 2},
        "terminal-elbow-down": {2: 2},
        "increaser": {3: 1, 4: 1},
    }
    ends = tuple(
        EndToCenter(fitting=name, size=Nominal(size * INCH, f"{size} in"), length=off * INCH, source="measured")
        for name, sizes in measured.items()
        for size, off in sizes.items()
    )
    return replace(read_practice(), ends=ends)


@pytest.fixture
def prices(tmp_path: Path) -> PriceList:
    """The list of the sheets."""
    path = tmp_path / "sheet.csv"
    path.write_text(PRICES, encoding="utf-8")
    return read_prices(path)


def cents(value: Decimal) -> Decimal:
    """As a sheet rounds."""
    return value.quantize(Decimal("0.01"), ROUND_HALF_UP)


@pytest.mark.parametrize(
    ("job", "sheet", "total", "lengths"),
    [
        (ONE, SHEET_ONE, "450.04", 3),
        (TWO, SHEET_TWO, "489.06", 4),
        (THREE, SHEET_THREE, "563.25", 3),
    ],
)
def test_equal_to_the_cent(
    job: str, sheet: Sheet, total: str, lengths: int, practice: Practice, prices: PriceList
) -> None:
    """Materials, hours and total of the sheet; no more stock lengths than by hand."""
    taken = takeoff(prepare(job_from_text(HEAD + job, file="job"), file="job"), practice=practice)
    costs = cost(taken, prices)
    materials = sum((cents(Decimal(price) * number) for number, _, price, _ in sheet), Decimal(0))
    hours = sum((Decimal(each) * number for number, _, _, each in sheet), Decimal(0))
    assert costs.whole and (costs.materials, costs.hours) == (materials, hours)
    marked = cents(materials * Decimal("0.20"))
    by_hand = materials + marked + cents(hours * 70) + Decimal(85) + cents((materials + marked) * Decimal("0.08"))
    assert costs.total == by_hand == Decimal(total)
    assert sum(cuts.plan.number for cuts in taken.cut_lists) <= lengths


def test_a_coupling_goes_where_it_saves_a_length(practice: Practice, tmp_path: Path) -> None:
    """Two straights are longer than stock. Each as a whole length and a rest takes six lengths; by hand five do."""
    path = tmp_path / "four.csv"
    path.write_text(PRICES_FOUR, encoding="utf-8")
    measured = {"elbow-90-long": 4.0, "elbow-90-short": 3.125, "elbow-45": 1.75}
    ends = [EndToCenter(fitting="increaser", size=Nominal(n * INCH, f"{n} in"), length=INCH, source="") for n in (2, 3)]
    ends += [
        EndToCenter(fitting=name, size=Nominal(3 * INCH, "3 in"), length=off * INCH, source="measured")
        for name, off in measured.items()
    ]
    practice = replace(practice, ends=tuple(ends))
    taken = takeoff(prepare(job_from_text(HEAD + FOUR, file="job"), file="job"), practice=practice)
    costs = cost(taken, read_prices(path))
    materials = sum((Decimal(price) * number for number, _, price, _ in SHEET_FOUR), Decimal(0))
    hours = sum((Decimal(each) * number for number, _, _, each in SHEET_FOUR), Decimal(0))
    assert costs.whole and (costs.materials, costs.hours) == (materials, hours) == (Decimal("343.28"), Decimal("6.25"))
    # 343.28 and 12.5 % of it, 42.91; 6.25 h at 82.40, 515.00; 85 and 45; 7.75 % of the 1,031.19, 79.92.
    assert costs.total == Decimal("1111.11")
    assert sum(cuts.plan.number for cuts in taken.cut_lists) <= 6
