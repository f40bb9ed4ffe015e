"""Deductions that look mistyped are pointed at; those of a sound page are left in peace."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from tests.allowance.support import FOOT, row, table
from ventsize.allowance.deduction_remarks import deduction_doubts
from ventsize.allowance.gaps import gaps_of
from ventsize.allowance.implied import doubts_on_deductions, few_of, row_pressures
from ventsize.allowance.reading import read_table
from ventsize.catalog.library import load_catalog
from ventsize.finding import Amount, Finding

ROWS = tuple(row("90 ft", size=size) for size in ("2 in", "3 in", "4 in"))


def nothing(name: str, size: float) -> None:
    """No calculation at hand."""


def found_in(deductions: str) -> list[Finding]:
    """The doubts that need no calculation."""
    return list(deduction_doubts(table(*ROWS, deductions=deductions), nothing))


def feet(finding: Finding, name: str) -> float:
    amount = finding.values[name]
    assert isinstance(amount, Amount)
    return amount.value / FOOT


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
    found = found_in(f'{easier} = "5 ft"\n{harder} = "3 ft"')
    assert [one.code for one in found] == ["deduction-below-easier"]
    assert (found[0].values["fitting"], found[0].values["easier"]) == (harder, (easier,))
    assert (feet(found[0], "deducted"), feet(found[0], "easier_deducted")) == pytest.approx((3, 5))
    assert found_in(f'{easier} = "3 ft"\n{harder} = "3 ft"') == []


def test_the_first_size_out_of_order_is_named() -> None:
    """Lengths by size are held against one another size by size."""
    found = found_in(
        'elbow-90-long = { "2 in" = "3 ft", "3 in" = "5 ft" }\nelbow-90-short = { "2 in" = "5 ft", "3 in" = "4 ft" }'
    )
    assert [one.values["size"] for one in found] == ["3 in"]


def test_of_several_easier_ones_the_least_is_told() -> None:
    """A long 90 at 5 ft and a 45 at 4 ft, beside a short 90 at 3 ft."""
    (found,) = found_in('elbow-90-long = "5 ft"\nelbow-45 = "4 ft"\nelbow-90-short = "3 ft"')
    assert found.values["easier"] == ("elbow-90-long", "elbow-45")
    assert feet(found, "easier_deducted") == pytest.approx(4)


def test_a_figure_for_two_is_held_as_half_of_it() -> None:
    """3 ft for a pair of 45s is 1.5 ft each: no more than the 2 ft of a long 90."""
    pair = 'elbow-45 = { per_two = "3 ft" }\n'
    assert found_in(pair + 'elbow-90-short = "2 ft"') == []
    assert [one.code for one in found_in(pair + 'elbow-90-short = "1 ft"')] == ["deduction-below-easier"]


@pytest.mark.parametrize(
    ("lengths", "odd"),
    [
        (("5 ft", "80 ft", "11 ft"), "3 in"),
        (("5 ft", "8 ft", "1.1 ft"), "3 in"),
        (("0 ft", "8 ft", "11 ft"), "2 in"),
        (("5 ft", "8 ft", "11 ft"), ""),
        (("5 ft", "5 ft", "5 ft"), ""),
        (("0 ft", "0 ft", "0 ft"), ""),
        (("5 ft", "18 ft", "24 ft"), ""),  # 3.6 times in a size of 1.5: 2.4 times as much per inch
        (("5 ft", "19.5 ft", "26 ft"), "2 in"),  # 2.6 times
    ],
)
def test_neighbouring_sizes_are_not_far_apart(lengths: tuple[str, str, str], odd: str) -> None:
    """Equivalent length grows about as the size does; the odd one is named, once."""
    by_size = ", ".join(f'"{size}" = "{text}"' for size, text in zip(("2 in", "3 in", "4 in"), lengths, strict=True))
    found = found_in(f"elbow-90-short = {{ {by_size} }}")
    assert [(one.code, one.values["size"]) for one in found] == ([("deduction-leaps", odd)] if odd else [])
    if lengths[1] == "80 ft":
        assert found[0].values["others"] == ("2 in", "4 in")
        assert (feet(found[0], "other_deducted"), found[0].values["other_size"]) == (pytest.approx(5), "2 in")


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("5 ft", None),
        ("1.35 ft", None),
        ("1.3 ft", "deduction-too-small"),
        ("17.9 ft", None),
        ("18.1 ft", "deduction-too-large"),
    ],
)
def test_held_against_the_calculation(typed: str, code: str | None) -> None:
    """Methods from 2 to 6 ft at the rows' inputs: a length is far when below 2/1.5 or above 6 x 3 ft."""
    read = table(*ROWS, deductions=f'elbow-90-short = "{typed}"')
    found = list(deduction_doubts(read, lambda name, size: (2 * FOOT, 6 * FOOT)))
    assert [one.code for one in found] == ([code] if code else [])
    if code:
        assert (feet(found[0], "least"), feet(found[0], "most")) == pytest.approx((2, 6))
        assert found[0].values["sizes"] == ("2 in", "3 in", "4 in")


@pytest.mark.parametrize(("count", "places"), [
    (0, []), (1, [0]), (2, [0, 1]), (6, [0, 1, 2, 3, 4, 5]), (7, [0, 1, 2, 3, 4, 6]), (11, [0, 2, 4, 6, 8, 10]),
])  # fmt: skip
def test_of_many_flows_a_few_are_taken(count: int, places: list[int]) -> None:
    """The least and the most of them always."""
    assert few_of(count) == places


def test_a_row_takes_its_pipe_and_an_open_end() -> None:
    """Each further foot takes as much; what is left is a velocity head, at sea level of some 1 m/s in 52 mm of bore.

    By hand: 17.1 kg of air, and 1.35 times that, burn with a kg of methane of 55.5 MJ gross, at 5,861 W (20 kBtu/h); a
    cubic meter of the gas at 110 °F is some 1.09 kg.
    """
    one, two = (
        row_pressures(table(row(f"{feet} ft", input="20 kBtu/h", size="2 in", band=("0 ft", "0 ft"))), load_catalog())[
            0
        ].pressure
        for feet in (1, 2)
    )
    assert one is not None and two is not None
    speed = 5861.0 / 55.5e6 * (1.0 + 17.1 * 1.35) / 1.09 / (0.052**2 * math.pi / 4.0)
    assert one - (two - one) == pytest.approx(0.5 * 1.09 * speed**2, rel=0.1)


def test_a_slip_of_units_is_far_from_the_calculation() -> None:
    """5 in for 5 ft. A short 90° elbow of 2 in at 80,000 Btu/h has Re of some 15,000 and f of 0.028; with K of 0.5 or
    more (Crane TP-410, 30 f_T = 0.57) it is 0.5 x 0.17 ft / 0.028, 3 ft of pipe.
    """
    catalog = load_catalog()
    slip = table(*ROWS, deductions='elbow-90-short = "5 in"')
    assert [one.values["fitting"] for one in doubts_on_deductions(slip, catalog)] == ["elbow-90-short"]
    assert list(doubts_on_deductions(table(*ROWS, deductions='elbow-90-short = "5 ft"'), catalog)) == []


def test_a_foot_that_counts_as_less_is_pointed_at() -> None:
    """0.2 for 2.0: pipe that is rougher never counts less."""
    counts_as = "flexible-liner-corrugated = 0.2\npvc-40 = 1.0\ncpvc-40 = 1.05"
    read = table(*ROWS, deductions=f'coupling = "0 ft"\n[counts_as]\n{counts_as}')
    assert [one.code for one in deduction_doubts(read, nothing)] == ["material-counts-less"]


def test_what_an_end_costs_may_be_in_the_allowance() -> None:
    """A terminal for 0 ft is a usual figure, and so is a coupling; an unknown name is none of this one's business."""
    read = table(*ROWS, deductions='terminal-open = "0 ft"\ncoupling = "0 ft"\nthing = "900 ft"')
    assert list(doubts_on_deductions(read, load_catalog())) == []


def test_demonstration_tables_are_sound(root: Path) -> None:
    """No doubt on a page of usual figures."""
    for path in (root / "tables").glob("demo-*.toml"):
        assert list(doubts_on_deductions(read_table(path), load_catalog())) == [], path.name


USUAL = 'elbow-90-long = "3 ft"\nelbow-90-short = "5 ft"\nelbow-45 = "1 ft"\n'


@pytest.mark.parametrize(("deductions", "of_rows", "said"), [
    ("", ROWS, [("no-deductions", {})]), ("", (row(["90 ft"]),), []),
    ("", (row("9 ft").replace("allowable = \"9 ft\"", 'allowable_pressure = "9 Pa"'),), []),
    ("", (row("90 ft"), row(["90 ft"], size="2 in")), [("no-deductions", {})]),
    (USUAL, ROWS, [("usual-deductions-missing", {"fittings": ("terminal-open",)})]),
    (USUAL + 'terminal-open = "0 ft"', ROWS, []),
    (USUAL + 'terminal-open = "0 ft"\ncoupling = { "3 in" = "0 ft" }', (*ROWS[:2], row(["9 ft"], size="4 in")),
     [("deduction-misses-sizes", {"fitting": "coupling", "sizes": ("2 in",)})]),
])  # fmt: skip
def test_what_would_leave_a_common_run_without_an_answer(
    deductions: str, of_rows: tuple[str, ...], said: list[tuple[str, object]]
) -> None:
    """By rows that give a length; one that counts elbows, or gives a pressure, needs no deduction."""
    assert [(one.code, one.values) for one in gaps_of(table(*of_rows, deductions=deductions))] == said
