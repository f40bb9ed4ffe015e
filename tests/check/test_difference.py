"""What sets a table's length and the calculated one apart, of lengths made up for the question."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from ventsize.check.difference import difference, shares
from ventsize.finding import Amount, Finding


def piece(name: str, feet: float = 0.0) -> Any:
    """A pipe of so many feet, or a fitting."""
    kind = "pipe" if feet else "elbow" if name.startswith("elbow") else "terminal"
    section = SimpleNamespace(label="3 in")
    return SimpleNamespace(piece=SimpleNamespace(
        name=name, length=feet, is_pipe=bool(feet), section=section, kind=kind))  # fmt: skip


def line(name: str, count: int, total: float, *, pairs: bool = False) -> Any:
    return SimpleNamespace(fitting=name, count=count, total=total, pairs=pairs)


def answer(*lines: Any, **more: Any) -> Any:
    """Of a table that deducts so much."""
    made = {"deductions": lines, "free": (), "elbows": None, "budget_length": None, "allowable_length": 90.0}
    return SimpleNamespace(**{"equivalent_length": 1.0, **made, **more})


def rate(*pieces: tuple[Any, float], draft: float = 0.0) -> Any:
    """Pieces, each with its calculated length; draft: against the gas, as length. A foot loses 2 Pa."""
    total = sum(length for _, length in pieces)
    return SimpleNamespace(
        name="high", gradient=2.0, equivalent_length=total, counted_pressure=2.0 * (total + draft),
        flow=SimpleNamespace(pieces=[one for one, _ in pieces], pressure_drop=2.0 * total),
        piece_lengths=[length for _, length in pieces],
    )  # fmt: skip


def found(table: Any, calculated: Any) -> Finding:
    said = difference(table, calculated)
    assert said is not None
    return said


def amounts(said: Finding) -> dict[str, float]:
    return {name: value.value for name, value in said.values.items() if isinstance(value, Amount)}


@pytest.mark.parametrize(("by_table", "calculated", "alike"), [
    (100.0, 102.03, True), (100.0, 102.05, False), (102.03, 100.0, True), (102.05, 100.0, False),
])  # fmt: skip
def test_two_lengths_are_alike_within_a_fiftieth_of_the_longer(by_table: float, calculated: float, alike: bool) -> None:
    """2 % of 102.04 are 2.0408; of the shorter, 2.00."""
    elbow = line("elbow-90-long", 1, by_table - 90.0)
    said = found(answer(elbow), rate((piece("pipe", 90.0), 90.0), (piece("elbow-90-long"), calculated - 90.0)))
    assert (said.code == "lengths-agree") is alike


@pytest.mark.parametrize(("elbow", "draft", "code"), [
    (1.0, 0.0, "lengths-agree"), (0.9, 0.15, "lengths-agree"),  # the draft makes up for most of it
    (1.0, 0.4, "lengths-differ-by-draft"), (2.0, 0.3, "lengths-differ-by-fitting"),
    (2.0, 1.0, "lengths-differ-by-draft"),
])  # fmt: skip
def test_draft_against_the_gas_is_part_of_the_calculated_length(elbow: float, draft: float, code: str) -> None:
    """9 ft of pipe and an elbow that the table takes for 1 ft, so 10 ft; 2 % of it are 0.2."""
    said = found(
        answer(line("elbow-90-long", 1, 1.0)),
        rate((piece("pipe", 9.0), 9.0), (piece("elbow-90-long"), elbow), draft=draft),
    )
    assert said.code == code
    expected = {"by_table": 10.0, "by_calculation": 9.0 + elbow + draft, "draft": draft}
    assert {name: amounts(said)[name] for name in expected} == pytest.approx(expected)


@pytest.mark.parametrize(("pipe_by_calculation", "elbow_by_calculation", "who"), [
    (9.0, 3.0, "elbow-90-long"), (12.0, 5.5, "3 in pipe"), (7.0, 4.5, "3 in pipe"), (8.5, 2.0, "elbow-90-long"),
])  # fmt: skip
def test_what_is_furthest_out_is_named(pipe_by_calculation: float, elbow_by_calculation: float, who: str) -> None:
    """The table has 9 ft of pipe and two elbows at 2.5 ft: longest apart on the side of the whole difference."""
    elbows = (piece("elbow-90-long"), elbow_by_calculation / 2)
    said = found(answer(line("elbow-90-long", 2, 5.0)), rate((piece("pipe", 9.0), pipe_by_calculation), elbows, elbows))
    assert said.values["name"] == who and said.values["count"] == (1 if "pipe" in who else 2)
    own = amounts(said)
    table, calculation = (9.0, pipe_by_calculation) if "pipe" in who else (5.0, elbow_by_calculation)
    assert (own["share_by_table"], own["share_by_calculation"]) == pytest.approx((table, calculation))


def test_the_share_of_elbows_of_which_some_are_free() -> None:
    """Three elbows of which one is included: 6 ft of deductions for two are a share of 3 x 6 / 3; pairs as they are."""
    elbows = [(piece("elbow-90-long"), 1.0)] * 3
    of = {"free": (("elbow-90-long", 1), ("terminal-open", 2))}
    (share,) = shares(answer(line("elbow-90-long", 2, 6.0), line("elbow-90-long", 0, 9.0), **of), rate(*elbows))
    assert (share.by_table, share.count, share.is_pipe) == (6.0, 3, False)
    (two_sizes,) = shares(answer(line("elbow-90-long", 1, 4.0), line("elbow-90-long", 2, 2.0)), rate(*elbows))
    assert two_sizes.by_table == 6.0
    (pairs,) = shares(answer(line("elbow-90-long", 2, 6.0, pairs=True)), rate(*elbows))
    assert pairs.by_table == 6.0
    odd = line("elbow-90-long", 2, 6.0, pairs=True), line("elbow-90-long", 1, 3.0)
    (with_an_odd_one,) = shares(answer(*odd, **of), rate(*elbows))
    assert with_an_odd_one.by_table == 9.0


def test_a_piece_without_a_calculated_length_adds_none() -> None:
    """Pipe of another size than the row's, where nothing flows."""
    (pipe,) = shares(answer(), rate((piece("pipe", 9.0), 9.0), (piece("pipe", 1.0), 0.0)))
    still = rate((piece("pipe", 9.0), 9.0), (piece("pipe", 1.0), 0.0))
    still.piece_lengths[1] = None
    assert shares(answer(), still) == (pipe,)


def test_the_elbows_of_an_elbow_count_row_are_what_they_take_off() -> None:
    """90 ft with none and 70 with two: the elbows are 20 ft, whatever their kinds; without elbows nobody is."""
    row: dict[str, Any] = {"elbows": 2, "budget_length": 90.0, "allowable_length": 70.0}
    pieces = (piece("pipe", 40.0), 41.0), (piece("elbow-90-long"), 4.0), (piece("elbow-45"), 3.0)
    pipe, elbows = shares(answer(**row), rate(*pieces))
    assert (pipe.name, pipe.by_table, pipe.by_calculation) == ("3 in pipe", 40.0, 41.0)
    assert (elbows.name, elbows.count, elbows.by_table, elbows.by_calculation) == ("elbows", 2, 20.0, 7.0)
    assert (pipe.is_pipe, elbows.is_pipe) == (True, False)
    assert [share.name for share in shares(answer(**row), rate(pieces[0]))] == ["3 in pipe"]
    for lacking in ("elbows", "budget_length", "allowable_length"):
        assert "elbows" not in [share.name for share in shares(answer(**{**row, lacking: None}), rate(*pieces))]


def test_without_one_of_the_lengths_there_is_no_difference() -> None:
    """A table that gives none, or a run in which nothing flows."""
    still = rate((piece("pipe", 9.0), 9.0))
    assert difference(answer(equivalent_length=None), still) is None
    still.equivalent_length = None
    assert difference(answer(), still) is None
