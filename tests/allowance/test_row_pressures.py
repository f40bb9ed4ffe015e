"""Rows held against one another, where a foot of pipe takes a pascal, so that a length is its pressure."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest

from tests.allowance.support import FOOT, row, table
from ventsize.allowance.budget import Losses, RowPressure, implied_pressures
from ventsize.finding import Amount


def a_pascal_a_foot(**_: float) -> Losses:
    """Whatever the row."""
    return Losses(straight=1.0 / FOOT)


def found(lengths: Sequence[float | list[str]]) -> list[RowPressure]:
    """Rows of one size and of inputs one above the other."""
    rows = [
        row(each if isinstance(each, list) else f"{each} ft", input=f"{40 + 10 * number} kBtu/h")
        for number, each in enumerate(lengths)
    ]
    return list(implied_pressures(table(*rows), a_pascal_a_foot))


def doubted(lengths: Sequence[float | list[str]]) -> list[int]:
    """Numbers of the rows that stand out."""
    return [one.row.number for one in found(lengths) if one.doubts]


@pytest.mark.parametrize(
    ("odd", "stands_out"),
    [(77.5, False), (78.6, True), (59 / 1.29, False), (59 / 1.31, True)],
)
def test_of_rows_that_agree_a_third_more_or_less_stands_out(odd: float, stands_out: bool) -> None:
    """The middle of 57 to 62 and a long one is 60, of which 1.3 times is 78; with a short one 59, and 45.4."""
    assert doubted([57, 58, 59, 60, 61, 62, odd]) == [7] * stands_out


@pytest.mark.parametrize(("log", "stands_out"), [(0.58, False), (0.61, True), (-0.58, False), (-0.61, True)])
def test_of_rows_that_differ_four_robust_deviations_stand_out(log: float, stands_out: bool) -> None:
    """Of the logarithms -0.2, -0.1, ∓0.05, 0, 0.1, 0.2 and an odd one: median 0, median deviation 0.1, 4 x 0.148."""
    logs = [-0.2, -0.1, math.copysign(0.05, -log), 0.0, 0.1, 0.2, log]
    assert doubted([60.0 * math.exp(one) for one in logs]) == [7] * stands_out


def test_what_is_usual_is_said() -> None:
    """From 60 over 1.3 to 60 times 1.3; of three rows nobody knows."""
    rows = found([57, 58, 59, 60, 61, 62, 70])
    assert all(one.usual == pytest.approx((60 / 1.3, 60 * 1.3)) for one in rows)
    assert [one.pressure for one in rows] == pytest.approx([57, 58, 59, 60, 61, 62, 70])
    assert [one.usual for one in found([20, 30, 40])] == [None] * 3


@pytest.mark.parametrize(("long", "stands_out"), [(79, False), (81, True)])
def test_of_few_rows_four_times_the_others_stands_out(long: float, stands_out: bool) -> None:
    """10 and 20: more than 80."""
    assert doubted([10, 20, long]) == [3] * stands_out


@pytest.mark.parametrize(("length", "stands_out"), [(249, False), (251, True)])
def test_one_row_of_more_than_any_appliance_gives(length: float, stands_out: bool) -> None:
    """1 in w.c., 250 Pa; a usual one leaves 60 (common practice)."""
    assert doubted([length]) == [1] * stands_out
    for one in (doubt for each in found([length]) for doubt in each.doubts):
        limit, times = one.values["limit"], one.values["times"]
        assert isinstance(limit, Amount) and isinstance(times, Amount)
        assert (limit.value, times.value) == pytest.approx((250.0, 251.0 / 60.0))


@pytest.mark.parametrize(("typed", "stands_out"), [("83 ft", True), ("73 ft", False)])
def test_an_entry_by_elbows_that_is_twice_the_others(typed: str, stands_out: bool) -> None:
    """Two digits the wrong way round: 38 as 83 is 2.2 times the middle of the list; 37 as 73 is 1.9 times."""
    entries = ["40 ft", "39 ft", typed, "38 ft", "37 ft", "36 ft"]
    assert doubted([entries]) == [1] * stands_out


def test_a_limit_that_rows_share_may_be_low() -> None:
    """Three rows end at 30, where the others allow 57 to 62: the page goes no further for them. A fourth at 29 does."""
    assert doubted([57, 58, 59, 60, 61, 62, 40]) == [7]
    assert doubted([100, 100, 110, 105, 120, 118, 90]) == []
    sizes = [row("30 ft", input=f"{40 + 10 * number} kBtu/h") for number in range(4)]
    long = [row(f"{feet} ft", size="2 in", input=f"{feet} kBtu/h") for feet in (25, 26, 27, 28, 29)]

    def of_size(*, size: float, **_: float) -> Losses:
        return Losses(straight=(0.1 if size > 0.06 else 1.0) / FOOT)

    assert not [one for one in implied_pressures(table(*sizes, *long), of_size) if one.doubts]


def test_what_cannot_be_worked_out_is_said_and_holds_nobody_up() -> None:
    """A size that no material has is left out; a gas without properties is named with its reason."""

    def fails(*, input: float, **_: float) -> Losses | None:
        if input > 20_000.0:
            raise ValueError("too hot.")
        return None if input < 13_000.0 else Losses(straight=1.0 / FOOT)

    rows = list(implied_pressures(table(row("9 ft", input="40 kBtu/h"), row("8 ft", input="50 kBtu/h"),
                                        row("7 ft", input="80 kBtu/h")), fails))  # fmt: skip
    assert [(one.row.number, one.pressure) for one in rows] == [(2, pytest.approx(8.0)), (3, None)]
    (doubt,) = rows[1].doubts
    assert (doubt.code, doubt.values["why"]) == ("row-pressure-not-known", "too hot")


def test_ends_that_a_page_has_in_its_deductions_are_left_out() -> None:
    """Pipe of 1 Pa a foot, an end of 30: rows of 60 in one size and 600 in another, ten times as wide, agree bare."""

    def with_end(*, size: float, **_: float) -> Losses:
        wide = size > 0.06
        return Losses(straight=(0.1 if wide else 1.0) / FOOT, end=30.0 if wide else 3.0)

    small = [row(f"{60 + number} ft", size="2 in", input=f"{40 + 10 * number} kBtu/h") for number in range(4)]
    wide = [row(f"{600 + 10 * number} ft", input=f"{40 + 10 * number} kBtu/h") for number in range(4)]
    pressures = [one.pressure for one in implied_pressures(table(*small, *wide), with_end)]
    assert pressures == pytest.approx([60, 61, 62, 63] * 2)
