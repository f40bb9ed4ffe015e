"""Typing mistakes in a table are pointed at; a sound table is left in peace."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from tests.allowance.support import FOOT, HEAD, INCH, KBTU_H, row, table
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.plausibility import (
    implied_pressures,
    likely_slip,
    order_remarks,
    unknown_fittings,
)
from ventsize.allowance.reading import read_table, table_from_text
from ventsize.jobfile.problems import InputError


def pressure(*, input: float, size: float, altitude: float, length: float) -> float:
    """Turbulent flow in smooth pipe: loss as flow^1.75 / bore^4.75 (Blasius), thinner air counted roughly."""
    return 1e-13 * input**1.75 / size**4.75 * length / (1 - altitude / 44300) ** 5.256 / 1e3


def budget_table(change: str = "", to: str = "") -> AllowanceTable:
    """Twelve rows of one pressure to within rounding, with one figure changed if wanted."""
    rows = []
    for kbtu in (50, 70, 90, 110):
        for inches in (2, 2.5, 3):
            each_foot = pressure(input=kbtu * KBTU_H, size=inches * INCH, altitude=600, length=FOOT)
            at_70 = pressure(input=70 * KBTU_H, size=2 * INCH, altitude=600, length=FOOT)
            rows.append(
                row(
                    f"{round(36 * at_70 / each_foot)} ft",
                    input=f"{kbtu} kBtu/h",
                    size=f"{inches} in",
                    band=("0 m", "600 m"),
                )
            )
    text = HEAD + "\n".join(rows)
    assert change in text
    return table_from_text(text.replace(change, to, 1) if change else text, file="table.toml")


def remarks(read: AllowanceTable) -> list[str]:
    return [found.remark for found in implied_pressures(read, pressure) if found.remark]


def test_sound_table():
    """Rows of one budget show one pressure, and no remark."""
    found = implied_pressures(budget_table(), pressure)
    assert len(found) == 12
    assert all(0.95 < one.ratio < 1.05 for one in found)
    assert remarks(budget_table()) == []


@pytest.mark.parametrize(
    ("typed", "meant", "slip"),
    [
        ("63 ft", "36 ft", "two digits swapped"),
        ("360 ft", "36 ft", "a digit too few or too many"),
        ("3 ft", "3", "a digit too few or too many"),
        ("96 ft", "36 ft", "one wrong digit"),
    ],
)
def test_one_slip(typed, meant, slip):
    """The row at 70 kBtu/h in 2 in pipe allows 36 ft; each slip is found, named, and left as it is."""
    read = budget_table('"36 ft"', f'"{typed}"')
    said = remarks(read)
    assert len(said) == 1
    assert "70 kBtu/h, 2 in" in said[0] and typed in said[0] and meant in said[0] and slip in said[0]
    assert [one.length_labels[0] for one in read.rows].count(typed) == 1


def test_row_at_a_limit_shared_by_others():
    """Large pipe is often cut at one longest length: low pressure there is no mistake."""
    rows = [
        row("36 ft", input="70 kBtu/h", size="2 in"),
        row("37 ft", input="70 kBtu/h", size="2.01 in"),
        row("24 ft", input="90 kBtu/h", size="2 in"),
        row("17 ft", input="110 kBtu/h", size="2 in"),
        row("66 ft", input="50 kBtu/h", size="2 in"),
        row("100 ft", input="50 kBtu/h", size="4 in"),
        row("100 ft", input="70 kBtu/h", size="4 in"),
    ]
    assert remarks(table(*rows)) == []


def test_too_few_rows_to_say():
    """Of three rows none can be called the odd one."""
    rows = [row(text, input=f"{kbtu} kBtu/h") for text, kbtu in (("9 ft", 50), ("90 ft", 70), ("900 ft", 90))]
    assert remarks(table(*rows)) == []
    assert implied_pressures(table(row(["not permitted"])), pressure) == ()


@pytest.mark.parametrize(
    ("typed", "factor", "said"),
    [
        ("52 ft", 25 / 52, "25 ft would fit (two digits swapped)"),
        ("9 m", 10, "90 m would fit"),
        ("125 ft", 0.1, "12.5 ft would fit"),
        ("12.5 m", 10, "125 m would fit"),
        ("400 ft", 0.1, "40 ft would fit"),
        ("80 ft", 30 / 80, "30 ft would fit (one wrong digit)"),
        ("no figure", 2, ""),
    ],
)
def test_likely_slip(typed, factor, said):
    """The likeliest slip of the keys that would give the length the other rows lead one to expect."""
    slip = likely_slip(typed, factor, 0.02)
    assert slip.startswith(said) if said else slip == ""


def test_more_elbows_never_allow_more():
    """It is a caution, not a fault: the table may be printed so."""
    said = order_remarks(table(row(["70 ft", "56 ft", "60 ft", "not permitted"])))
    assert len(said) == 1
    assert re.search(r"Row 1 .* 2 elbows \(60 ft\) .* 1 \(56 ft\)", said[0])


@pytest.mark.parametrize(
    ("rows", "where"),
    [
        ((row("40 ft"), row("50 ft", input="90 kBtu/h")), "at the larger input"),
        ((row("40 ft"), row("50 ft", size="2 in")), "in the smaller size"),
        ((row("40 ft"), row("50 ft", band=("4500 ft", "9000 ft"))), "at the higher altitude"),
    ],
)
def test_rows_out_of_order(rows, where):
    """More input, less bore or thinner air never allows more pipe."""
    said = order_remarks(table(*rows))
    assert len(said) == 1
    assert "Row 2" in said[0] and where in said[0] and "(50 ft)" in said[0]
    assert order_remarks(table(rows[0])) == ()


def test_unknown_names_in_the_table():
    """A misspelled deduction deducts nothing: the name is pointed at, with the nearest known one."""
    read = table(row("90 ft"), deductions='elbow-90-lnog = "3 ft"\nelbow-45 = "1 ft"')
    said = unknown_fittings(read, {"elbow-90-long", "elbow-45"})
    assert len(said) == 1
    assert "elbow-90-lnog" in said[0] and "'elbow-90-long'" in said[0]


def test_demonstration_tables_are_in_order(root: Path):
    """The invented figures are at least possible ones."""
    for path in (root / "tables").glob("demo-*.toml"):
        assert order_remarks(read_table(path)) == (), path.name


def test_where_nothing_can_be_worked_out():
    """The row says why, and the others are held against one another without it."""

    def failing(*, input: float, size: float, altitude: float, length: float) -> float:
        if altitude > 12000:
            raise ValueError("there is no air")
        return pressure(input=input, size=size, altitude=altitude, length=length)

    text = HEAD + row("40 ft") + row("40 ft", input="90 kBtu/h")
    read = table_from_text(text, file="table.toml")
    high = replace(read, rows=(read.rows[0], replace(read.rows[1], altitude=(0.0, 13716.0))))
    sound, failed = implied_pressures(high, failing)
    assert sound.ratio == 1.0 and failed.pressure is None
    assert "row 2" in failed.remark and "there is no air" in failed.remark


@pytest.mark.parametrize(("top", "said"), [("15,000 ft", False), ("16,000 ft", True)])
def test_a_band_above_any_house(top, said):
    """Read as it stands, and pointed at: a digit too many covers sites that the page does not."""
    remarked = order_remarks(table(row("40 ft", band=("0 ft", top))))
    assert bool(remarked) is said
    assert not said or top in remarked[0]


@pytest.mark.parametrize("band", [("0 ft", "45000 ft"), ("-5000 ft", "0 ft")])
def test_a_band_where_no_building_stands_is_refused(band):
    """Where there is no air pressure to reckon with (standard atmosphere, lowest layer), in one sentence."""
    with pytest.raises(InputError) as caught:
        table(row("40 ft", band=band))
    assert [str(problem) for problem in caught.value.problems if "no building stands at" in str(problem)]
