"""What an answer says beside its verdict: the row, the figures of its evidence, and what is worth knowing."""

from __future__ import annotations

import math

import pytest

from tests.allowance.asking import EXAMPLE_TABLE, ask, code, noted, said
from tests.allowance.support import FOOT, HEAD, INCH, KBTU_H, fitting, row, run, table
from ventsize.finding import Amount, Finding

SHARED = table(row("40 ft", size="2 in"), row("100 ft"), head=HEAD + 'mixed_sizes = "shares"\n')


def amount(values: dict[str, object], name: str) -> float:
    """A value of a finding in SI."""
    found = values[name]
    assert isinstance(found, Amount)
    return found.value


def finding(found: tuple[Finding, ...], wanted: str) -> dict[str, object]:
    """The values of the finding with a code."""
    (one,) = (dict(one.values) for one in found if one.code == wanted)
    return one


@pytest.mark.parametrize(("feet", "size"), [({2: 30, 3: 20}, "2 in"), ({2: 6, 3: 60}, "3 in")])
def test_the_row_of_shares_is_that_of_the_size_that_uses_most(feet: dict[float, float], size: str) -> None:
    """75 % and 20 %; 15 % and 60 %."""
    answer = ask(SHARED, run(feet))
    assert (answer.row_size, answer.pipe_size) == (size, pytest.approx(float(size[0]) * INCH))
    assert amount(said(answer), "used") == pytest.approx(feet[2] / 40 + feet[3] / 100)
    assert said(answer)["sizes"] == ("2 in", "3 in") and size in str(said(answer)["label"])
    assert "mixed-sizes-shared" in noted(answer)


def test_of_what_may_not_be_there_at_all_more_is_used_than_a_figure_can_say() -> None:
    """A foot of 2 in pipe, of which none is permitted: a million times too much, and no length would do."""
    none = table(row("not permitted", size="2 in"), row("100 ft"), head=HEAD + 'mixed_sizes = "shares"\n')
    answer = ask(none, run({2: 1, 3: 20}))
    assert (answer.verdict, code(answer), answer.allowable_length) == ("over", "shares-over", None)
    assert amount(said(answer), "used") == 1e6


def test_elbows_are_said_where_a_row_counts_them() -> None:
    """By elbows: two of them, and the 45's 1 ft 6 in added to 10 ft. Not in a row that gives one length."""
    by_elbows = ask(EXAMPLE_TABLE, run(10, fitting("elbow-90-long", 2, size=2), size=2))
    assert by_elbows.decides.because.values["elbows"] == 2
    assert amount(said(by_elbows), "added") == pytest.approx(0.0)
    plain = ask(EXAMPLE_TABLE, run(10, fitting("elbow-90-long", 2)))
    assert "elbows" not in plain.decides.because.values
    assert amount(said(plain), "compared") == pytest.approx(16 * FOOT)


def test_deductions_are_added_up_by_name_and_figure() -> None:
    """3 long-turn at 3 ft, 2 short-turn at 8 ft."""
    answer = ask(EXAMPLE_TABLE, run(10, fitting("elbow-90-long", 3), fitting("elbow-90-short", 2)))
    lines = {line.fitting: (line.count, line.each / FOOT, line.total / FOOT) for line in answer.deductions}
    assert lines == {
        "elbow-90-long": (3, pytest.approx(3.0), pytest.approx(9.0)),
        "elbow-90-short": (2, pytest.approx(8.0), pytest.approx(16.0)),
    }


TWO_INPUTS = table(row("100 ft", input="60 kBtu/h"), row("90 ft", input="80 kBtu/h"), row("80 ft", input="100 kBtu/h"))


def test_the_two_inputs_around_are_said() -> None:
    """At 70: 60 and 80, of which the shorter, 80, was used. At 80 none is."""
    answer = ask(TWO_INPUTS, run(10), kbtu=70)
    values = finding(answer.findings, "input-between-rows")
    assert (values["lower"], values["higher"], values["used"]) == ("60 kBtu/h", "80 kBtu/h", "80 kBtu/h")
    assert amount(values, "input") == pytest.approx(70 * KBTU_H)
    assert said(answer)["lower"] == "60 kBtu/h" and said(answer)["higher"] == "80 kBtu/h"
    assert "input-between-rows" not in noted(ask(TWO_INPUTS, run(10), kbtu=80))


@pytest.mark.parametrize(("feet", "left"), [(1500, 1.0), (4500, 0.94), (6500, 0.9)])
def test_what_altitude_takes_off_is_said_where_it_does(feet: float, left: float) -> None:
    """2 % for each 1,000 ft begun above 2,000 ft."""
    less = HEAD + 'altitude_factor = { above = "2000 ft", per = "1000 ft", less = "2 %" }\n'
    page = table('[[row]]\ninput = "80 kBtu/h"\nsize = "3 in"\nallowable = "100 ft"\n', head=less)
    answer = ask(page, run(10), feet=feet)
    assert answer.altitude_share == pytest.approx(left)
    assert ("altitude-factor-applied" in noted(answer)) is (left < 1.0)
    if left < 1.0:
        values = finding(answer.findings, "altitude-factor-applied")
        assert (amount(values, "share"), amount(values, "altitude")) == pytest.approx((left, feet * FOOT))


def test_a_twentieth_left_at_altitude_is_a_length() -> None:
    """Of 100 ft: 5, not nothing."""
    less = HEAD + 'altitude_factor = { above = "2000 ft", per = "1000 ft", less = "95 %" }\n'
    page = table('[[row]]\ninput = "80 kBtu/h"\nsize = "3 in"\nallowable = "100 ft"\n', head=less)
    assert [ask(page, run(length), feet=2500).verdict for length in (4.9, 5.1)] == ["within", "over"]
    by_elbows = table(
        '[[row]]\ninput = "80 kBtu/h"\nsize = "3 in"\nallowable_by_elbows = ["100 ft", "not permitted"]\n', head=less
    )
    assert code(ask(by_elbows, run(1, fitting("elbow-90-long")), feet=2500)) == "elbows-not-permitted"


def test_sizes_are_remarked_on_where_there_are_several() -> None:
    """The strictest governs; of one size there is nothing to say."""
    strictest = table(row("40 ft", size="2 in"), row("100 ft"))
    values = finding(ask(strictest, run({2: 5, 3: 5})).findings, "mixed-sizes")
    assert values["sizes"] == ("2 in", "3 in")
    assert not noted(ask(strictest, run(5))) & {"mixed-sizes", "mixed-sizes-shared"}


@pytest.mark.parametrize(
    ("counts", "carries", "said_so"),
    [
        ("runs together", ("flue gas",), True),
        ("runs together", ("flue gas", "combustion air"), False),
        ("each run", ("flue gas",), False),
    ],
)
def test_one_pipe_of_a_page_that_adds_both(counts: str, carries: tuple[str, ...], said_so: bool) -> None:
    """What is not in sight is named."""
    page = table(row("90 ft"), head=HEAD.replace('counts = "each run"', f'counts = "{counts}"'))
    answer = ask(page, *(run(10, carries=gas) for gas in carries))  # type: ignore[arg-type]
    assert ("counted-without" in noted(answer)) is said_so
    if said_so:
        assert finding(answer.findings, "counted-without")["gases"] == ("combustion air",)


def test_nothing_used_of_nothing() -> None:
    """No pipe at all, of sizes whose shares are added: the row's own allowance is what is left to say."""
    answer = ask(SHARED, run({2: 0, 3: 0}))
    assert amount(said(answer), "used") == 0.0
    assert answer.allowable_length is not None and math.isfinite(answer.allowable_length)
