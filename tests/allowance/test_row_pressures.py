"""Which rows of a page stand apart from the others, on both sides of each limit. A meter of pipe takes 1 Pa."""

from __future__ import annotations

import math

import pytest

from tests.allowance.support import KBTU_H, row, table
from ventsize.allowance.budget import Losses, _common_limit, implied_pressures
from ventsize.finding import Amount, Finding


def doubts(*rows: str | list[str], straight: float = 1.0) -> list[Finding]:
    """Of rows at 50, 51 … kBtu/h in one size."""
    text = [row(allows, input=f"{50 + number} kBtu/h") for number, allows in enumerate(rows)]
    found = implied_pressures(table(*text), lambda **_: Losses(straight))
    return [doubt for one in found for doubt in one.doubts if doubt.code == "row-pressure-unlikely"]


def typed(*meters: float) -> list[object]:
    """The lengths that stand apart, as typed."""
    return [doubt.values["typed"] for doubt in doubts(*[f"{length!r} m" for length in meters])]


@pytest.mark.parametrize(("length", "apart"), [(12.9, False), (13.1, True), (7.75, False), (7.6, True)])
def test_rows_of_one_pressure_may_be_rounded_by_three_tenths(length: float, apart: bool) -> None:
    """All but one within a thousandth of 10 m: up to 1.3 times as long, or as short, is rounding."""
    assert typed(9.99, 9.995, 10.0, 10.005, 10.01, length) == ([f"{length!r} m"] if apart else [])


def test_four_rows_are_enough_to_say_so() -> None:
    """Of three, one has to be four times the others."""
    assert typed(9.99, 10.0, 10.01, 13.1) == ["13.1 m"] and typed(9.99, 10.0, 13.1) == []


@pytest.mark.parametrize(("length", "apart"), [(18.0, False), (18.2, True), (5.55, False), (5.5, True)])
def test_rows_that_differ_may_do_so_by_four_of_their_own_widths(length: float, apart: bool) -> None:
    """Half of them a tenth off on a logarithmic scale: a width of 1.4826 x 0.1, and four of these are a factor of 1.81.

    1.4826 is the standard deviation of a normal spread over its median absolute deviation (1 / 0.6745).
    """
    low, high = [9.048, 9.0483, 9.0486], [11.0514, 11.0517, 11.052]
    others = [*low, 10.0, *high[:2]] if length > 10.0 else [*low[:2], 10.0, *high]
    assert typed(*others, length) == ([f"{length!r} m"] if apart else [])


@pytest.mark.parametrize(("others", "length", "apart"), [
    ((10.0, 12.0), 47.9, False), ((10.0, 12.0), 48.1, True), ((10.0,), 39.9, False), ((10.0,), 40.1, True),
])  # fmt: skip
def test_of_two_or_three_rows_one_has_to_be_four_times_the_longest(
    others: tuple[float, ...], length: float, apart: bool
) -> None:
    """Less may be another fan."""
    found = doubts(*[f"{one!r} m" for one in (*others, length)])
    assert [one.values["typed"] for one in found] == ([f"{length!r} m"] if apart else [])
    for one in found:
        middle, least, most = sum(others) / len(others), min(others), max(others)
        figures = [value.value for name in ("times", "least", "most") if isinstance(value := one.values[name], Amount)]
        assert figures == pytest.approx([length / middle, least, most])


@pytest.mark.parametrize(("pascals", "apart"), [(249.0, False), (251.0, True)])
def test_one_row_alone_is_held_against_what_appliances_leave(pascals: float, apart: bool) -> None:
    """250 Pa at most, some 60 as a rule (common practice, no source)."""
    found = doubts("10 m", straight=pascals / 10)
    assert len(found) == apart
    for one in found:
        times, limit = one.values["times"], one.values["limit"]
        assert isinstance(times, Amount) and isinstance(limit, Amount)
        assert (times.value, limit.value) == pytest.approx((pascals / 60.0, 250.0))


def test_two_rows_at_one_limit_may_both_be_absurd() -> None:
    """300 Pa each: that they share a length makes neither of them low."""
    assert len(doubts("10 m", "10 m", straight=30.0)) == 2


def test_of_few_rows_too_those_at_a_limit_may_be_low() -> None:
    """1 Pa in the short one; 5, 50 and 60 at 30 m: the first of these is below the middle of all four, 27.5."""
    pressures = {50: 1 / 9, 51: 5 / 30, 52: 50 / 30, 53: 60 / 30}

    def of(*, input: float, **_: float) -> Losses:
        return Losses(pressures[round(input / KBTU_H)])

    lengths = zip(pressures, ("9 m", "30 m", "30 m", "30 m"), strict=True)
    found = implied_pressures(table(*[row(text, input=f"{kbtu} kBtu/h") for kbtu, text in lengths]), of)
    assert [bool(one.doubts) for one in found] == [False, False, True, True]


@pytest.mark.parametrize(("lengths", "limit"), [
    ([30, 20, 20, 5], 20), ([40, 30, 20, 20], None), ([30, 20, 10], None), ([20, 20], 20),
    ([50, 40, 20, 20, *range(1, 17)], 20), ([50, 40, 30, 20, 20, *range(1, 16)], None),
])  # fmt: skip
def test_a_limit_that_several_rows_share(lengths: list[float], limit: float | None) -> None:
    """One row may be above it, or one in ten."""
    assert _common_limit(lengths) == limit


@pytest.mark.parametrize("each", [0.0, math.inf])
def test_pipe_that_loses_nothing_or_all_there_is_says_nothing(each: float) -> None:
    """A row at an input of nothing, or beyond what can be figured."""
    assert implied_pressures(table(row("10 m")), lambda **_: Losses(each)) == ()


def test_what_a_permission_takes() -> None:
    """10 m at 2 Pa, two elbows at 3 and an end of 4 Pa: 30 Pa, and 26 where the page deducts for the end."""
    losses = Losses(2.0, elbow=3.0, end=4.0)
    assert (losses.taken(10.0, 2), losses.without_end.taken(10.0, 2)) == (30.0, 26.0)


@pytest.mark.parametrize(("length", "meant"), [("75 m", "7.5 m"), ("71 m", "11 m")])
def test_of_few_rows_what_was_meant_may_be_half_as_much_again(length: str, meant: str) -> None:
    """11 m by the middle of two others: 7.5 is 1.47 times less, and a point left out; 7.1 is 1.55 times less."""
    (found,) = doubts("10 m", "12 m", length)
    assert found.values["meant"] == meant


@pytest.mark.parametrize(("wanted", "meant"), [(2.6, "9.99 m"), (2.4, None)])
def test_of_one_row_what_was_meant_may_be_a_factor_of_four_off(wanted: float, meant: str | None) -> None:
    """999 m that ought to be 2.6 or 2.4 by the usual 60 Pa: 9.99 is 3.8 and 4.2 times that."""
    (found,) = doubts("999 m", straight=60.0 / wanted)
    assert found.values.get("meant") == meant


@pytest.mark.parametrize(("entry", "apart"), [("88 m", False), ("99 m", True), ("27 m", False), ("23 m", True)])
def test_an_entry_by_elbows_is_twice_or_half_the_others(entry: str, apart: bool) -> None:
    """50, 49, 48 and 45 m: 88 is 1.80 times the middle and 99 is 2.02, 27 is 0.56 and 23 is 0.48: a slip, past two.

    Of fewer than four entries nothing is said.
    """
    found = doubts(["50 m", "49 m", entry, "48 m", "45 m"])
    assert [(one.values["typed"], one.values["elbows"]) for one in found] == ([(entry, 2)] if apart else [])
    assert all(one.values["meant"] is not None for one in found)
    assert [len(doubts(["50 m", "49 m", "490 m", *more])) for more in ([], ["48 m"])] == [0, 1]
