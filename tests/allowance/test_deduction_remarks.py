"""Deductions that look mistyped are pointed at; those of a sound page are left in peace."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.allowance.support import FOOT, row, table
from ventsize.allowance.deduction_remarks import deduction_remarks
from ventsize.allowance.implied import remarks_on_deductions
from ventsize.allowance.reading import read_table
from ventsize.catalog.library import load_catalog
from ventsize.quantity import System

ROWS = tuple(row("90 ft", size=size) for size in ("2 in", "3 in", "4 in"))


def nothing(name: str, size: float) -> None:
    """No calculation at hand."""


def said(deductions: str) -> list[str]:
    """The remarks that need no calculation."""
    return [
        f"{remark.fitting}: {remark.text}" for remark in deduction_remarks(table(*ROWS, deductions=deductions), nothing)
    ]


@pytest.mark.parametrize(
    ("easier", "harder"),
    [
        ("elbow-90-long", "elbow-90-short"),
        ("elbow-45", "elbow-90-short"),
        ("elbow-45-long", "elbow-90-long"),
        ("elbow-90-long", "elbow-90-mitered"),
        ("elbow-90-short", "elbow-90-mitered"),
        ("elbow-22", "elbow-45"),
        ("tee-through", "tee-branch"),
    ],
)
def test_a_harder_turn_never_costs_less(easier: str, harder: str) -> None:
    """A short elbow loses more than a long one, 90° more than 45° of its kind: one of the two is mistyped."""
    found = said(f'{easier} = "5 ft"\n{harder} = "3 ft"')
    assert len(found) == 1
    assert found[0].startswith(f"{harder}: ") and easier in found[0] and "3 ft" in found[0] and "(5 ft)" in found[0]
    assert said(f'{easier} = "3 ft"\n{harder} = "3 ft"') == []


def test_the_first_size_out_of_order_is_named() -> None:
    """Lengths by size are held against one another size by size."""
    found = said(
        'elbow-90-long = { "2 in" = "3 ft", "3 in" = "5 ft" }\nelbow-90-short = { "2 in" = "5 ft", "3 in" = "4 ft" }'
    )
    assert len(found) == 1 and "in 3 in" in found[0]


@pytest.mark.parametrize(
    ("lengths", "odd"),
    [
        (("5 ft", "80 ft", "11 ft"), "80 ft in 3 in but 5 ft in 2 in and 11 ft in 4 in"),
        (("5 ft", "8 ft", "1.1 ft"), "in 4 in"),
        (("0 ft", "8 ft", "11 ft"), "in 2 in"),
        (("5 ft", "8 ft", "11 ft"), ""),
        (("5 ft", "5 ft", "5 ft"), ""),
        (("0 ft", "0 ft", "0 ft"), ""),
    ],
)
def test_neighbouring_sizes_are_not_far_apart(lengths: tuple[str, str, str], odd: str) -> None:
    """Equivalent length grows about as the size does; the odd one is named, once."""
    by_size = ", ".join(f'"{size}" = "{text}"' for size, text in zip(("2 in", "3 in", "4 in"), lengths, strict=True))
    found = said(f"elbow-90-short = {{ {by_size} }}")
    assert len(found) == (1 if odd else 0)
    assert not odd or odd in found[0]


@pytest.mark.parametrize(("typed", "far"), [("5 ft", False), ("2 ft", False), ("1.2 ft", True), ("50 ft", True)])
def test_held_against_the_calculation(typed: str, far: bool) -> None:
    """Methods from 2 to 6 ft at the rows' inputs: a length is far when below 2/1.5 or above 6 x 3 ft."""
    read = table(*ROWS, deductions=f'elbow-90-short = "{typed}"')
    found = deduction_remarks(read, lambda name, size: (2 * FOOT, 6 * FOOT))
    assert len(found) == far
    assert not far or "2.0 ft to 6.0 ft" in found[0].text and "2 in (and in 3 in, 4 in)" in found[0].text
    assert ("passes a vent that is too long" in str(found)) == (typed == "1.2 ft")


def test_a_slip_of_units_is_far_from_the_calculation() -> None:
    """5 in for 5 ft. A short 90° elbow of 2 in at 80,000 Btu/h has Re of some 15,000 and f of 0.028; with K of 0.5 or
    more (Crane TP-410, 30 f_T = 0.57) it is 0.5 x 0.17 ft / 0.028, 3 ft of pipe.
    """
    catalog = load_catalog()
    slip = table(*ROWS, deductions='elbow-90-short = "5 in"')
    assert [remark.fitting for remark in remarks_on_deductions(slip, catalog)] == ["elbow-90-short"]
    assert " m in 2 in" in remarks_on_deductions(slip, catalog, System.SI)[0].text
    assert remarks_on_deductions(table(*ROWS, deductions='elbow-90-short = "5 ft"'), catalog) == ()


def test_what_an_end_costs_may_be_in_the_allowance() -> None:
    """A terminal for 0 ft is a usual figure, and so is a coupling; an unknown name is none of this one's business."""
    read = table(*ROWS, deductions='terminal-open = "0 ft"\ncoupling = "0 ft"\nthing = "900 ft"')
    assert remarks_on_deductions(read, load_catalog()) == ()


def test_demonstration_tables_are_sound(root: Path) -> None:
    """No remark on a page of usual figures."""
    for path in (root / "tables").glob("demo-*.toml"):
        assert remarks_on_deductions(read_table(path), load_catalog()) == (), path.name
