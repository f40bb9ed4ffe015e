"""What an answer says beside its verdict: what governs, what is allowed, what was read and what was taken off."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.allowance.asking import ask, code, noted, said
from tests.allowance.support import FOOT, HEAD, INCH, fitting, row, run, table
from ventsize.finding import Amount

SHARES = HEAD.replace("counts =", 'mixed_sizes = "shares"\ncounts =')
SHARED = table(row("40 ft", size="2 in"), row("90 ft"), row("not permitted", size="4 in"), head=SHARES)
FACTOR = HEAD + 'altitude_factor = { above = "2000 ft", per = "1000 ft", less = "19 %" }\n'


def any_height(text: str) -> str:
    """A row without its band."""
    return "\n".join(line for line in text.splitlines() if not line.startswith("altitude")) + "\n"


def figure(value: object) -> float:
    assert isinstance(value, Amount)
    return value.value


@pytest.mark.parametrize(("feet", "size", "share"), [
    ({2: 10, 3: 60}, "3 in", 10 / 40 + 60 / 90), ({2: 30, 3: 9}, "2 in", 30 / 40 + 9 / 90),
    ({2: 30, 3: 60}, "2 in", 30 / 40 + 60 / 90),
])  # fmt: skip
def test_of_shares_that_size_governs_which_uses_most(feet: dict[float, float], size: str, share: float) -> None:
    """The length allowed is that which would use all, divided over the sizes as here."""
    answer = ask(SHARED, run(feet))
    assert (answer.verdict, answer.row_size) == ("within" if share <= 1 else "over", size)
    assert code(answer) == ("shares-within" if share <= 1 else "shares-over")
    assert figure(said(answer)["used"]) == pytest.approx(share)
    assert answer.allowable_length == pytest.approx(sum(feet.values()) * FOOT / share)
    assert answer.used == pytest.approx(share)


def test_a_share_of_a_size_that_is_not_permitted() -> None:
    """However short: nothing is allowed, and the share is a number all the same. Of no pipe nothing is used."""
    answer = ask(SHARED, run({3: 10, 4: 1}))
    assert (answer.verdict, answer.row_size, answer.allowable_length, answer.used) == ("over", "4 in", None, None)
    assert figure(said(answer)["used"]) == 1e6
    empty = ask(SHARED, run({2: 0, 3: 0}))
    assert empty.allowable_length == pytest.approx(40 * FOOT) and empty.used == 0.0


@pytest.mark.parametrize(("inches", "verdict"), [(0.009, "within"), (0.011, "over")])
def test_shares_are_compared_to_a_hundredth_of_an_inch_of_the_shorter_row(inches: float, verdict: str) -> None:
    """Half of 10 ft in 2 in and half of 1000 in 3 in, and a hair more of the former."""
    unlike = table(row("10 ft", size="2 in"), row("1000 ft"), head=SHARES)
    assert ask(unlike, run({2: 5 + inches / 12, 3: 500})).verdict == verdict


@pytest.mark.parametrize(("elbows", "feet", "expected"), [
    (1, 6500, "elbows-not-permitted"), (2, 6500, "elbows-not-listed"), (0, 7500, "nothing-left-at-altitude"),
    (1, 7500, "nothing-left-at-altitude"),
])  # fmt: skip
def test_why_a_row_permits_nothing(elbows: int, feet: float, expected: str) -> None:
    """19 % for each of five steps leaves a twentieth at 6,500 ft; a sixth step leaves nothing. At most no elbow."""
    read = table(any_height(row(["60 ft", "not permitted"])), head=FACTOR)
    answer = ask(read, run(1, fitting("elbow-90-long", elbows)), feet=feet)
    assert (answer.verdict, code(answer), answer.allowable_length) == ("over", expected, None)
    assert said(answer)["elbows"] == elbows and said(answer).get("most", 0) == 0


@pytest.mark.parametrize(("feet", "left"), [(-100, 1.0), (0, 1.0), (2000, 1.0), (2001, 0.81), (4000, 0.62)])
def test_what_altitude_takes_off_is_noted(feet: float, left: float) -> None:
    """Nothing is said where it takes off nothing; a row with a band has its own figure."""
    read = table(any_height(row("100 ft")), row("100 ft", size="2 in", band=("-1000 ft", "9000 ft")), head=FACTOR)
    answer = ask(read, run(10), feet=feet)
    assert (answer.altitude_share, answer.allowable_length) == pytest.approx((left, left * 100 * FOOT))
    taken = [finding.values for finding in answer.findings if finding.code == "altitude-factor-applied"]
    assert [(figure(one["share"]), figure(one["altitude"])) for one in taken] == (
        [pytest.approx((left, feet * FOOT))] if left < 1.0 else []
    )
    assert "altitude-factor-applied" not in noted(ask(read, run(10, size=2), feet=feet))


def test_an_elbow_count_row_says_how_many_elbows_and_what_was_added() -> None:
    """50 ft with two elbows and 1 ft for the coupling; a plain row has no such figures."""
    by_count = table(row(["70 ft", "65 ft", "60 ft"]), deductions='coupling = "1 ft"')
    values = said(ask(by_count, run(50, fitting("elbow-90-long", 2), fitting("coupling"))))
    assert values["elbows"] == 2 and figure(values["added"]) == pytest.approx(FOOT)
    assert figure(values["compared"]) == pytest.approx(51 * FOOT) and figure(values["left"]) == pytest.approx(9 * FOOT)
    plain = said(ask(table(row("70 ft")), run(50)))
    assert not {"elbows", "added"} & set(plain) and figure(plain["left"]) == pytest.approx(20 * FOOT)


def test_lines_of_what_was_deducted() -> None:
    """Two elbows of 3 ft in one size and one in another are one line of three; a length of the job's is another."""
    deductions = 'elbow-90-long = "3 ft"\nelbow-45 = { per_two = "4 ft" }'
    read = table(row("90 ft", size="2 in"), row("90 ft"), deductions=deductions)
    long, small = fitting("elbow-90-long", 2), fitting("elbow-90-long", size=2)
    answer = ask(read, run({2: 1, 3: 10}, long, small, replace(long, table_length=1.5), fitting("elbow-45", 3)))
    lines = [(one.fitting, one.count, one.each, one.total, one.origin, one.pairs) for one in answer.deductions]
    assert sorted(lines) == [
        ("elbow-45", 2, pytest.approx(4 * FOOT), pytest.approx(8 * FOOT), "table", True),
        ("elbow-90-long", 2, 1.5, 3.0, "override", False),
        ("elbow-90-long", 3, pytest.approx(3 * FOOT), pytest.approx(9 * FOOT), "table", False),
    ]


def test_rows_around_the_input_are_named_least_and_largest() -> None:
    """Vent and air pipe of one size, each with rows of its own material for 60 and for 100 kBtu/h; 80 has none."""
    rows = [
        row(allows, input=f"{kbtu} kBtu/h") + f'materials = ["{made}"]\n'
        for made, allows in (("pvc-40", "50 ft"), ("abs-40", "60 ft")) for kbtu in (60, 100)
    ]  # fmt: skip
    read = table(*rows, head=HEAD.replace("each run", "runs together"))
    vent, air = replace(run(10), materials=frozenset(["pvc-40"])), run(10, carries="combustion air")
    answer = ask(read, vent, replace(air, materials=frozenset(["abs-40"])))
    assert (said(answer)["lower"], said(answer)["higher"]) == ("60 kBtu/h", "100 kBtu/h")
    between = [finding.values for finding in answer.findings if finding.code == "input-between-rows"]
    assert [(one["lower"], one["higher"]) for one in between] == [("60 kBtu/h", "100 kBtu/h")]
    exact = ask(read, vent, replace(air, materials=frozenset(["abs-40"])), kbtu=100)
    assert not {"lower", "higher"} & set(said(exact)) and "input-between-rows" not in noted(exact)


@pytest.mark.parametrize(("counts", "gases", "left_out"), [
    ("each run", ["flue gas"], None), ("runs together", ["flue gas", "combustion air"], None),
    ("runs together", ["flue gas"], ("combustion air",)), ("runs together", ["combustion air"], ("flue gas",)),
])  # fmt: skip
def test_a_sum_that_lacks_one_of_its_pipes(counts: str, gases: list[str], left_out: tuple[str, ...] | None) -> None:
    """A table that adds up vent and air says so where it was given one of them; of several sizes it says so too."""
    read = table(row("90 ft"), row("90 ft", size="2 in"), head=HEAD.replace("each run", counts))
    answer = ask(read, *[run(10, carries=gas) for gas in gases])  # type: ignore[arg-type]
    found = [finding.values["gases"] for finding in answer.findings if finding.code == "counted-without"]
    assert found == ([left_out] if left_out else [])
    assert "mixed-sizes" not in noted(answer)
    assert "mixed-sizes" in noted(ask(read, *[run({3: 5, 2: 5}, carries=gas) for gas in gases]))  # type: ignore[arg-type]
    assert (answer.straight_length, answer.pipe_size) == pytest.approx((10 * FOOT * len(gases), 3 * INCH))
