"""Every lookup rule as a case small enough to work by hand; the arithmetic stands beside it, in feet."""

from __future__ import annotations

import pytest

from tests.allowance.asking import EXAMPLE_TABLE, ask, code, noted, said
from tests.allowance.support import FOOT, KBTU_H, fitting, row, run, table
from ventsize.allowance.model import held_at


# Plain row: 3 in, 90 ft allowed, 5 ft at least.
@pytest.mark.parametrize(
    ("straight", "fittings", "verdict", "equivalent"),
    [
        (60, (), "within", 60),
        # 60 + 3 × 3 + 2 × 8 + 1.5 + 0 = 86.5
        (
            60,
            (fitting("elbow-90-long", 3), fitting("elbow-90-short", 2), fitting("elbow-45"), fitting("terminal-open")),
            "within",
            86.5,
        ),
        # 66 + 3 × 8 = 90: equal is within
        (66, (fitting("elbow-90-short", 3),), "within", 90),
        # 90 ft and 0.009 in: still equal to a hundredth of an inch
        (90 + 0.009 / 12, (), "within", 90 + 0.009 / 12),
        # 90 ft and 0.011 in: over
        (90 + 0.011 / 12, (), "over", 90 + 0.011 / 12),
        (66.5, (fitting("elbow-90-short", 3),), "over", 90.5),
        # 5 ft of pipe is not short of 5 ft, whatever else there is; 2 + 3 = 5 ft of equivalent length are
        (5, (), "within", 5),
        (2, (fitting("elbow-90-long"),), "short", 5),
        (4.9, (), "short", 4.9),
        # a count of zero is none: 60
        (60, (fitting("elbow-90-short", 0),), "within", 60),
        # the job's own 10 ft instead of the table's 8: 60 + 10 = 70
        (60, (fitting("elbow-90-short", override=10),), "within", 70),
        # an override stands in for a deduction the table lacks: 60 + 12 = 72
        (60, (fitting("tee-branch", override=12),), "within", 72),
    ],
)  # fmt: skip
def test_plain_row(straight, fittings, verdict, equivalent):
    """Straight pipe plus deductions is held against the allowance."""
    answer = ask(EXAMPLE_TABLE, run(straight, *fittings))
    assert answer.verdict == verdict
    assert answer.equivalent_length == pytest.approx(equivalent * FOOT, rel=1e-12)
    assert answer.straight_length == pytest.approx(straight * FOOT, rel=1e-12)
    assert answer.allowable_length == pytest.approx(90 * FOOT, rel=1e-12)
    assert answer.minimum_length == pytest.approx(5 * FOOT, rel=1e-12)
    assert answer.used == pytest.approx(equivalent / 90, rel=1e-12)
    assert answer.row_input == pytest.approx(80 * KBTU_H, rel=1e-6)
    assert answer.row_size == "3 in"
    assert answer.budget_length == answer.allowable_length


# Elbow-count row: 2 in; 70, 65, 60, 55 ft with 0, 1, 2, 3 elbows; 4 not permitted.
@pytest.mark.parametrize(
    ("straight", "fittings", "verdict", "elbows", "allowable"),
    [
        (70, (), "within", 0, 70),
        (70.1, (), "over", 0, 70),
        (65, ("elbow-90-long",), "within", 1, 65),
        (60, ("elbow-90-long", "elbow-90-short"), "within", 2, 60),
        (60.1, ("elbow-90-long", "elbow-90-mitered"), "over", 2, 60),
        # two 45s are one
        (65, ("elbow-45", "elbow-45"), "within", 1, 65),
        # an odd 45 is a whole one: 1 + 2 = 3
        (55, ("elbow-90-long", "elbow-45", "elbow-45", "elbow-45"), "within", 3, 55),
        (60, ("elbow-90-long", "elbow-45", "elbow-45", "elbow-45"), "over", 3, 55),
        # 22½ and 45 together are a pair of small ones
        (65, ("elbow-45", "elbow-22"), "within", 1, 65),
        # 60° is more than 45°: a whole one
        (60, ("elbow-60", "elbow-60"), "within", 2, 60),
        # a return bend takes two
        (60, ("return-bend",), "within", 2, 60),
        # 91° is a 90 cut badly: one
        (65, ("elbow-91",), "within", 1, 65),
        # a terminal that turns down is an elbow, and so is a tee that turns the gas; a straight terminal is not
        (65, ("tee-branch",), "within", 1, 65),
        (70, ("terminal-open", "coupling"), "within", 0, 70),
        (10, ("elbow-90-long",) * 4, "over", 4, None),
        (10, ("elbow-90-long",) * 7, "over", 7, None),
    ],
)  # fmt: skip
def test_elbow_count_row(straight, fittings, verdict, elbows, allowable):
    """Straight pipe alone is held against the entry for the number of elbows; deductions are not added."""
    answer = ask(EXAMPLE_TABLE, run(straight, *(fitting(name, size=2) for name in fittings), size=2))
    assert (answer.verdict, answer.elbows) == (verdict, elbows)
    assert answer.equivalent_length == pytest.approx(straight * FOOT)
    if allowable is None:
        assert answer.allowable_length is None and answer.used is None
        assert (said(answer)["elbows"], said(answer)["most"]) == (elbows, 3)
    else:
        assert answer.allowable_length == pytest.approx(allowable * FOOT)
        assert answer.used == pytest.approx(straight / allowable)
    assert answer.budget_length == pytest.approx(70 * FOOT)


def test_not_permitted_and_not_listed_say_which():
    """Too many elbows is over either way, and the person is told whether the table rules it out or stops."""
    elbows = [fitting("elbow-90-long", size=2)]
    assert code(ask(EXAMPLE_TABLE, run(10, *elbows * 4, size=2))) == "elbows-not-permitted"
    assert code(ask(EXAMPLE_TABLE, run(10, *elbows * 5, size=2))) == "elbows-not-listed"


def test_row_that_permits_nothing():
    """A size the maker rules out is over at any length."""
    answer = ask(table(row(["not permitted"])), run(1))
    assert answer.verdict == "over"
    assert answer.budget_length is None
    assert code(answer) == "no-pipe-permitted"
    assert code(ask(table(row("not permitted")), run(1))) == "no-pipe-permitted"


@pytest.mark.parametrize(
    ("elbows_each", "name", "count", "expected"),
    [
        ("elbow-45 = 1", "elbow-45", 2, 2),  # each 45 a whole one
        ("elbow-45 = 0.5", "elbow-45", 3, 2),  # 1.5, and a part counts as a whole
        ("elbow-90-mitered = 2", "elbow-90-mitered", 1, 2),
        ("tee-branch = 2", "tee-branch", 1, 2),
        ("terminal-elbow-down = 0", "terminal-elbow-down", 1, 0),
    ],
)
def test_the_table_may_count_elbows_its_own_way(elbows_each, name, count, expected):
    """Two 45s are one only "unless the table says otherwise"."""
    allowance = table(row(["70 ft", "65 ft", "60 ft"]), elbows_each=elbows_each)
    answer = ask(allowance, run(60, fitting(name, count)))
    assert (answer.verdict, answer.elbows) == ("within", expected)


def test_size_must_match():
    """Nothing is read from the row of another size."""
    answer = ask(EXAMPLE_TABLE, run(5, size=4))
    assert answer.verdict == "not covered"
    assert (said(answer)["sizes"], said(answer)["listed"]) == (("4 in",), ("2 in", "3 in"))


def test_metric_size_near_an_inch_size_is_another_size():
    """75 mm is not 3 in (76.2 mm), but 76.2 mm is."""
    assert ask(EXAMPLE_TABLE, run(50, size=75 / 25.4)).verdict == "not covered"
    assert ask(table(row("90 ft", size="76.2 mm")), run(50)).verdict == "within"


BANDS = table(
    row("50 ft", band=("0 ft", "2000 ft")),
    row("40 ft", band=("2000 ft", "4500 ft")),
    row("30 ft", band=("5000 ft", "7000 ft")),
)


@pytest.mark.parametrize(
    ("feet", "allowable"),
    [
        (-1, None),  # below the lowest band
        (0, 50),  # closed at the lower end
        (1999.9, 50),
        (2000, 40),  # where another band starts, it is that one
        (4500, 40),  # closed at the upper end, where none starts
        (4501, None),  # a gap
        (4999, None),
        (5000, 30),
        (7000, 30),
        (7001, None),
    ],
)
def test_altitude_bands(feet, allowable):
    """A band holds its lower end, and its upper end unless another starts there; a gap is not covered."""
    answer = ask(BANDS, run(10), feet=feet)
    if allowable is None:
        assert answer.verdict == "not covered"
        assert any("4500 ft" in band for band in said(answer)["bands"])  # type: ignore[union-attr]
    else:
        assert answer.verdict == "within"
        assert answer.allowable_length == pytest.approx(allowable * FOOT)


def test_any_row_of_the_size_that_starts_at_the_upper_end_opens_the_band():
    """From 2000 ft on this size has another row, if only for another input: this one is read below 2000 ft."""
    allowance = table(
        row("50 ft", band=("0 ft", "2000 ft")), row("40 ft", input="60 kBtu/h", band=("2000 ft", "4000 ft"))
    )
    assert ask(allowance, run(45), feet=1999).verdict == "within"
    at_the_edge = ask(allowance, run(45), feet=2000)
    assert at_the_edge.verdict == "not covered"


def test_a_row_that_starts_within_a_band_does_not_end_it():
    """At 2,000 ft a row for two pipes begins, and that for one goes on."""
    one, two = row("90 ft") + 'pipes = "one"\n', row("80 ft", band=("2000 ft", "4500 ft")) + 'pipes = "two"\n'
    assert len(held_at(table(one, two).rows, 2000 * FOOT)) == 2


def test_a_row_of_another_size_does_not_open_the_band():
    """Bands are read among the rows of the run's own size."""
    allowance = table(row("50 ft", band=("0 ft", "2000 ft")), row("40 ft", size="2 in", band=("2000 ft", "4000 ft")))
    assert ask(allowance, run(45), feet=2000).verdict == "within"


def test_metric_altitude_at_the_end_of_a_band():
    """1371.6 m is 4500 ft whichever way it was typed."""
    answer = ask(EXAMPLE_TABLE, run(60), feet=1371.6000000001 / FOOT)
    assert answer.verdict == "within"


def test_no_altitude_is_incomplete():
    """The band is part of the case: without an altitude there is no row."""
    answer = ask(EXAMPLE_TABLE, run(60), feet=None)
    assert answer.verdict == "incomplete"
    assert code(answer) == "altitude-missing"


INPUTS = table(
    row("60 ft", input="60 kBtu/h", minimum="4 ft"),
    row("40 ft", input="80 kBtu/h", minimum="9 ft"),
    row("45 ft", input="100 kBtu/h", minimum="6 ft"),
)


@pytest.mark.parametrize(
    ("kbtu", "straight", "verdict", "allowable", "minimum", "row_input"),
    [
        (60, 60, "within", 60, 4, 60),
        (70, 40, "within", 40, 9, 80),  # the shorter of 60 and 40; the larger minimum of 4 and 9
        (70, 41, "over", 40, 9, 80),
        (70, 8, "short", 40, 9, 80),
        (90, 41, "over", 40, 9, 80),  # the shorter of 40 and 45, though it is the lower input
        (100, 45, "within", 45, 6, 100),
        (80 * (1 + 1e-8), 40, "within", 40, 9, 80),  # the same input, but for rounding
    ],
)
def test_input_between_rows(kbtu, straight, verdict, allowable, minimum, row_input):
    """Between two inputs the shorter length counts, nothing in between; both rows are named."""
    answer = ask(INPUTS, run(straight), kbtu=kbtu)
    assert answer.verdict == verdict
    assert answer.allowable_length == pytest.approx(allowable * FOOT)
    assert answer.minimum_length == pytest.approx(minimum * FOOT)
    assert answer.row_input == pytest.approx(row_input * KBTU_H, rel=1e-6)
    if kbtu in (70, 90):
        both = ("60 kBtu/h", "80 kBtu/h") if kbtu == 70 else ("80 kBtu/h", "100 kBtu/h")
        between = next(finding for finding in answer.findings if finding.code == "input-between-rows")
        assert (between.values["lower"], between.values["higher"], between.values["used"]) == (*both, "80 kBtu/h")
        assert len(answer.rows) == 2
        within = next(one.because for one in answer.outcomes if one.condition == "length-allowed")
        assert (within.values["lower"], within.values["higher"]) == both  # the sentence that cites the row says so
    else:
        assert "input-between-rows" not in noted(answer)


@pytest.mark.parametrize("kbtu", [59, 101, 20, 500])
def test_input_outside_the_rows(kbtu):
    """With a row on one side only, nothing is stretched."""
    answer = ask(INPUTS, run(10), kbtu=kbtu)
    assert answer.verdict == "not covered"
    assert said(answer)["inputs"] == ("60 kBtu/h", "80 kBtu/h", "100 kBtu/h")


def test_only_row_is_not_stretched_to_a_smaller_input():
    """A smaller input might well do with more pipe; the table does not say so."""
    answer = ask(EXAMPLE_TABLE, run(10), kbtu=79)
    assert answer.verdict == "not covered"
    assert said(answer)["inputs"] == ("80 kBtu/h",)


NEIGHBORS = (
    row("60 ft", input="60 kBtu/h", band=("0 ft", "9000 ft")),
    row("50 ft", input="80 kBtu/h", band=("0 ft", "4500 ft")),
    row("30 ft", input="100 kBtu/h", band=("0 ft", "9000 ft")),
)


def test_the_neighbors_of_an_input_that_the_page_lists_are_never_asked():
    """80 is listed up to 4500 ft: higher up the page has no answer for it, though it has for 60 and 100."""
    allowance = table(*NEIGHBORS)
    assert code(ask(allowance, run(1), feet=6000)) == "input-elsewhere-in-table"
    assert ask(allowance, run(1), feet=6000).verdict == "not covered"
    assert ask(allowance, run(31), feet=4000).verdict == "within"
    assert ask(allowance, run(31), feet=6000, kbtu=79).verdict == "over"  # the shorter of 60 and 30
    other_size = table(NEIGHBORS[0], row("50 ft", size="2 in"), NEIGHBORS[2])
    assert ask(other_size, run(1)).verdict == "not covered"  # 80 is listed in 2 in, and left out in 3 in


def test_between_elbow_rows_the_entry_for_this_run_decides():
    """With 0 elbows the first row is shorter (50 < 55); with 2, the second (30 < 40); with 3 none is permitted."""
    allowance = table(
        row(["50 ft", "45 ft", "40 ft", "35 ft"], input="60 kBtu/h"),
        row(["55 ft", "42 ft", "30 ft", "not permitted"], input="100 kBtu/h"),
    )
    assert ask(allowance, run(51)).verdict == "over"
    assert ask(allowance, run(50)).row_input == pytest.approx(60 * KBTU_H)
    assert ask(allowance, run(31, fitting("elbow-90-long", 2))).verdict == "over"
    answer = ask(allowance, run(30, fitting("elbow-90-long", 2)))
    assert (answer.verdict, answer.row_input) == ("within", pytest.approx(100 * KBTU_H))
    assert ask(allowance, run(1, fitting("elbow-90-long", 3))).verdict == "over"


@pytest.mark.parametrize("name", ["tee-branch", "elbow-90-mitered", "terminal-screened", "coupling", "silencer"])
def test_fitting_without_deduction(name):
    """On a table that deducts, a fitting it does not list leaves the answer open, however short the run."""
    answer = ask(EXAMPLE_TABLE, run(10, fitting(name)))
    assert answer.verdict == "incomplete"
    assert (code(answer), said(answer)["fitting"]) == ("no-deduction", name)
    assert answer.equivalent_length is None and answer.used is None


def test_fitting_without_deduction_on_a_run_too_long_anyway():
    """Whatever the fitting costs, the run is over; and what is missing is among the conditions."""
    answer = ask(EXAMPLE_TABLE, run(200, fitting("tee-branch")))
    assert answer.verdict == "over"
    assert {outcome.because.code for outcome in answer.outcomes if outcome.state != "met"} == {
        "no-deduction", "length-over",
    }  # fmt: skip
    assert answer.equivalent_length is None


def test_size_the_deduction_does_not_list():
    """The short elbow is listed for 2 and 3 in only."""
    allowance = table(row("90 ft", size="4 in"), deductions='elbow-90-short = { "2 in" = "5 ft", "3 in" = "8 ft" }')
    answer = ask(allowance, run(10, fitting("elbow-90-short", size=4), size=4))
    assert answer.verdict == "incomplete"
    assert code(answer) == "no-deduction-at-size"
    assert said(answer) == {"fitting": "elbow-90-short", "listed": ("2 in", "3 in")}


@pytest.mark.parametrize("name", ["elbow-90-long", "elbow-45", "tee-through", "silencer"])
def test_plain_table_that_deducts_nothing_says_nothing_of_elbows(name):
    """A bare length with no deductions answers only for straight pipe and its end."""
    allowance = table(row("90 ft"))
    assert ask(allowance, run(10, fitting(name))).verdict == "incomplete"
    assert ask(allowance, run(90, fitting("terminal-open"), fitting("coupling", 3))).verdict == "within"


@pytest.mark.parametrize("name", ["tee-through", "silencer"])
def test_other_fittings_in_an_elbow_count_row(name):
    """A fitting that the table does not name costs nothing there; one that it deducts is added: 60 + 6 > 65."""
    cells = ["70 ft", "65 ft"]
    assert ask(table(row(cells)), run(70, fitting(name))).verdict == "within"
    charged = table(row(cells), deductions=f'{name} = "6 ft"')
    answer = ask(charged, run(60, fitting(name), fitting("elbow-90-long")))
    assert answer.verdict == "over"
    assert answer.equivalent_length == pytest.approx(66 * FOOT)
    assert ask(charged, run(59, fitting(name), fitting("elbow-90-long"))).verdict == "within"
