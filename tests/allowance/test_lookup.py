"""Every lookup rule as a case small enough to work by hand; the arithmetic stands beside it, in feet."""

from __future__ import annotations

import pytest

from tests.allowance.support import EXAMPLE, FOOT, HEAD, KBTU_H, fitting, row, run, table
from ventsize.allowance.answer import TableAnswer
from ventsize.allowance.case import Site
from ventsize.allowance.counted import Counted
from ventsize.allowance.lookup import look_up
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.reading import table_from_text
from ventsize.jobfile.problems import InputError

EXAMPLE_TABLE = table_from_text(EXAMPLE, file="table.toml")


def ask(
    allowance: AllowanceTable, *runs: Counted, kbtu: float = 80, feet: float | None = 1000, one_way: bool = False
) -> TableAnswer:
    """Look runs up at an input in kBtu/h and an altitude in feet."""
    site = Site(altitude=None if feet is None else feet * FOOT)
    return look_up(allowance, input=kbtu * KBTU_H, site=site, counted=runs, one_way=one_way)


def code(answer: TableAnswer) -> str:
    """The code of what settles an answer."""
    return answer.decides.because.code


def said(answer: TableAnswer) -> dict[str, object]:
    """What settles an answer, as values."""
    return dict(answer.decides.because.values)


def noted(answer: TableAnswer) -> set[str]:
    """Codes of what is worth knowing besides."""
    return {finding.code for finding in answer.findings}


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


MIXED = table(
    row("40 ft", size="2 in", minimum="3 ft"),
    row("90 ft", size="3 in", minimum="7 ft"),
    deductions=(
        'elbow-90-short = { "2 in" = "5 ft", "3 in" = "8 ft" }\nincreaser = { "3 in" = "2 ft", "2 in" = "1 ft" }'
    ),
)


def test_mixed_sizes_the_strictest_governs():
    """12 + 20 pipe, 5 and 8 elbows, 2 (the larger) for the size change: 47 > 40 of the 2 in row."""
    fittings = (
        fitting("elbow-90-short", size=2),
        fitting("increaser", size=2, to=3),
        fitting("elbow-90-short", size=3),
    )
    answer = ask(MIXED, run({2: 12, 3: 20}, *fittings))
    assert answer.verdict == "over"
    assert answer.equivalent_length == pytest.approx(47 * FOOT)
    assert answer.row_size == "2 in"
    assert "mixed-sizes" in noted(answer)
    # 10 + 15 + 15 = 40: just within
    assert ask(MIXED, run({2: 10, 3: 15}, *fittings)).verdict == "within"


def test_mixed_sizes_the_larger_minimum_counts():
    """2 + 4 = 6 ft is above the 3 ft of one row and below the 7 ft of the other."""
    answer = ask(MIXED, run({2: 2, 3: 4}))
    assert answer.verdict == "short"
    assert answer.minimum_length == pytest.approx(7 * FOOT)
    assert code(answer) == "length-short"


def test_mixed_sizes_every_size_must_have_a_row():
    """One foot of a size that is not in the table, or a fitting of it, and the table has no answer."""
    assert ask(MIXED, run({2: 10, 4: 1})).verdict == "not covered"
    answer = ask(MIXED, run(10, fitting("increaser", size=3, to=4)))
    assert answer.verdict == "not covered"
    assert code(answer) == "size-not-in-table"


def test_size_change_listed_for_one_of_its_sizes():
    """The larger of two figures needs both."""
    for figures, verdict in (('"2 in" = "1 ft", "3 in" = "2 ft"', "within"), ('"3 in" = "2 ft"', "incomplete")):
        one = table(row("40 ft", size="2 in"), row("90 ft"), deductions=f"increaser = {{ {figures} }}")
        answer = ask(one, run({2: 10, 3: 10}, fitting("increaser", size=2, to=3)))
        assert answer.verdict == verdict


def test_size_change_in_elbow_count_rows():
    """It costs nothing there unless the table deducts it by name."""
    rows = (row(["40 ft", "35 ft"], size="2 in"), row(["90 ft", "85 ft"]))
    change = fitting("increaser", size=2, to=3)
    assert ask(table(*rows), run({2: 10, 3: 30}, change)).verdict == "within"
    deducted = table(*rows, deductions='increaser = "1 ft"')
    assert ask(deducted, run({2: 10, 3: 30}, change)).verdict == "over"  # 40 + 1 of 40
    assert ask(deducted, run({2: 10, 3: 29}, change)).verdict == "within"


def test_mixed_kinds_of_row():
    """3 in, plain: 90 - (30 + 6) = 54 left; 2 in, by elbows: 60 - 30 = 30 left, the strictest."""
    answer = ask(EXAMPLE_TABLE, run({2: 10, 3: 20}, fitting("elbow-90-long", size=2), fitting("elbow-90-long")))
    assert (answer.verdict, answer.row_size, answer.elbows) == ("within", "2 in", 2)
    assert answer.used == pytest.approx(30 / 60)


@pytest.mark.parametrize("name", ["terminal-screened", "terminal-elbow-down", "entrance-open"])
def test_terminal_the_table_charges_for_must_be_listed(name):
    """A run to the outdoors ends somehow: leaving the terminal out must not save its deduction."""
    allowance = table(row("90 ft"), deductions=f'{name} = "4 ft"\nterminal-open = "0 ft"')
    answer = ask(allowance, run(60))
    assert answer.verdict == "incomplete"
    assert (code(answer), name in said(answer)["charged"]) == ("end-not-listed", True)
    assert ask(allowance, run(60, outdoors=False)).verdict == "within"
    assert ask(allowance, run(60, fitting("terminal-open"))).verdict == "within"
    assert ask(allowance, run(86, fitting(name))).verdict == "within"
    assert ask(allowance, run(86.1, fitting(name))).verdict == "over"


def test_terminal_of_another_name_that_the_catalog_knows():
    """A terminal of the user's own name counts as one when the caller says that it is."""
    allowance = table(row("90 ft"), deductions='rain-hood = "4 ft"')
    asked = {"input": 80 * KBTU_H, "site": Site(altitude=0.0), "counted": [run(60)]}
    assert look_up(allowance, **asked).verdict == "within"
    assert look_up(allowance, **asked, ends={"rain-hood"}).verdict == "incomplete"


def test_what_the_run_carries():
    """A vent table says nothing about an air pipe."""
    vent_only = table(row("90 ft"), head=HEAD.replace('"flue gas", "combustion air"', '"flue gas"'))
    answer = ask(vent_only, run(10, carries="combustion air"))
    assert answer.verdict == "not covered"
    assert said(answer) == {"carries": "combustion air", "meant": ("flue gas",)}


TOGETHER = HEAD.replace("each run", "runs together")


def test_runs_together_add_up():
    """(20 + 2 × 3) + (25 + 3) = 54 against one allowance."""
    runs = (
        run(20, fitting("elbow-90-long", 2)),
        run(25, fitting("elbow-90-long", 1), carries="combustion air"),
    )
    for allowed, verdict in (("54 ft", "within"), ("53 ft", "over")):
        answer = ask(table(row(allowed), deductions='elbow-90-long = "3 ft"', head=TOGETHER), *runs)
        assert answer.verdict == verdict
        assert answer.straight_length == pytest.approx(45 * FOOT)
        assert answer.equivalent_length == pytest.approx(54 * FOOT)
        assert answer.deductions[0].count == 3


def test_runs_together_by_elbows():
    """One odd 45 in each run is a whole elbow in each: 2, and 20 + 25 = 45 ft."""
    allowance = table(row(["60 ft", "50 ft", "45 ft"]), head=TOGETHER)
    runs = (run(20, fitting("elbow-45")), run(25, fitting("elbow-45"), carries="combustion air"))
    answer = ask(allowance, *runs)
    assert (answer.verdict, answer.elbows) == ("within", 2)
    assert answer.straight_length == pytest.approx(45 * FOOT)


def test_runs_together_in_two_sizes():
    """Each size of either run must have a row; 2 in is the strictest: 20 + 25 = 45 > 40."""
    allowance = table(row("40 ft", size="2 in"), row("90 ft"), head=TOGETHER)
    assert ask(allowance, run(20), run(25, size=2, carries="combustion air")).verdict == "over"
    assert ask(allowance, run(20), run(25, size=4, carries="combustion air")).verdict == "not covered"


def test_runs_together_with_one_run_says_so():
    """Half of what the table adds up is not in sight; the reader is told."""
    answer = ask(table(row("90 ft"), head=TOGETHER), run(20))
    assert answer.verdict == "within"
    assert "counted-without" in noted(answer)


def test_two_runs_at_once_need_a_table_that_adds_them():
    """Summing runs the table counts singly would be a mistake of the program, not of the person."""
    with pytest.raises(ValueError, match="by itself"):
        ask(EXAMPLE_TABLE, run(1), run(1))
    with pytest.raises(ValueError, match="no run"):
        ask(EXAMPLE_TABLE)


def test_overrides_are_shown():
    """A figure of the job's own is never mistaken for the table's."""
    answer = ask(EXAMPLE_TABLE, run(10, fitting("elbow-90-short", override=10), fitting("elbow-90-short")))
    assert {(line.count, line.origin) for line in answer.deductions} == {(1, "override"), (1, "table")}
    assert "length-from-job" in noted(answer)
    elbow = fitting("elbow-90-long", size=2, override=1)
    answer = ask(EXAMPLE_TABLE, run(10, elbow, size=2))
    assert answer.elbows == 1 and answer.equivalent_length == pytest.approx(11 * FOOT)  # counted, and added
    assert "length-from-job" in noted(answer)


def test_what_is_over_or_short_is_so_whatever_a_deduction_would_add():
    """One tee that the table has no word for: 91 ft of 90, and 2 ft of at least 5, are settled without it."""
    read = table(row("90 ft", minimum="5 ft"), deductions='elbow-45 = "1 ft"')
    odd = fitting("tee-branch")
    assert [ask(read, run(feet, odd)).verdict for feet in (91, 89, 2)] == ["over", "incomplete", "short"]


def test_the_worst_of_what_several_sizes_lack_settles():
    """2 in asks for the end; 4 in is not in the table at this altitude."""
    low = row("90 ft", size="4 in", band=("0 ft", "100 ft"))
    read = table(row("40 ft", size="2 in") + 'ends = ["terminal-screened"]\n', low)
    answer = ask(read, run({2: 10, 4: 10}))
    assert answer.verdict == "not covered"


def test_margin_is_said():
    """Over and short come with how much."""
    for feet, expected, name, margin in (
        (100, "length-over", "beyond", 10),
        (2, "length-short", "short", 3),
        (60, "length-within", "left", 30),
    ):
        answer = ask(EXAMPLE_TABLE, run(feet))
        assert code(answer) == expected
        assert answer.decides.because.values[name].value == pytest.approx(margin * FOOT)


def test_nothing_counted_is_not_a_pass():
    """An empty run has no size, hence no row."""
    empty = Counted(carries="flue gas", straight_by_size=())
    assert ask(EXAMPLE_TABLE, empty).verdict == "incomplete"


def test_impossible_lengths_are_refused():
    """A negative or undefined length would flatter the result."""
    for length in (-1.0, float("nan")):
        with pytest.raises(ValueError, match="straight length"):
            run(length)
        with pytest.raises(ValueError, match="table length"):
            fitting("elbow-45", override=length)
    with pytest.raises(ValueError, match="-1 of"):
        fitting("elbow-45", -1)


@pytest.mark.parametrize("key", ["applies_to", "counts"])
def test_a_table_must_say_what_it_is_for_and_how_it_counts(key):
    """Either, left out, would have to be guessed, and the guess could flatter the run."""
    head = {"applies_to": 'applies_to = ["flue gas"]\n', "counts": 'counts = "each run"\n'}
    bare = 'title = "Invented"\nsource = "Invented for this test"\n'
    bare += "".join(line for name, line in head.items() if name != key)
    with pytest.raises(InputError, match=f"the key '{key}' is missing"):
        table(row("90 ft"), head=bare)


def test_a_terminal_deducted_by_an_elbow_count_table_is_added():
    """Straight length compared: 10 ft + 4 ft for the screen, of 20 ft. A terminal not listed adds nothing."""
    rows = row(["20 ft", "16 ft"])
    listed = table(rows, deductions='terminal-screened = "4 ft"')
    end = fitting("terminal-screened")
    assert ask(listed, run(10, end)).equivalent_length == pytest.approx(14 * FOOT)
    assert ask(table(rows), run(10, end)).equivalent_length == pytest.approx(10 * FOOT)


LIMITED = HEAD + "most_elbows = 2\n"


@pytest.mark.parametrize(
    ("fittings", "verdict"),
    [
        ((fitting("elbow-90-long", 2),), "within"),
        ((fitting("elbow-90-long", 2), fitting("elbow-22", 5)), "within"),  # 22½° is no more than 30°
        ((fitting("elbow-90-long", 3),), "over"),
        ((fitting("elbow-90-long"), fitting("elbow-45", 2)), "over"),  # each one, whatever its angle
        ((fitting("elbow-90-long", 2), fitting("terminal-elbow-down")), "over"),
    ],
)
@pytest.mark.parametrize("rows", [row("90 ft"), row(["90 ft"] * 9)], ids=["lengths", "by elbows"])
def test_a_page_may_limit_the_elbows(fittings, verdict, rows):
    """However short the run: one elbow more than the page permits is over, and says so."""
    names = {f.name for f in fittings}
    deducted = "\n".join(f'{name} = "1 ft"' for name in names)
    limited = table(rows, deductions=deducted, head=LIMITED)
    free = table(rows, deductions=deducted)
    assert ask(free, run(10, *fittings)).verdict == "within"
    answer = ask(limited, run(10, *fittings))
    assert answer.verdict == verdict
    if verdict == "over":
        assert code(answer) == "too-many-elbows" and said(answer) == {"elbows": 3, "most": 2, "together": 0}
    assert (answer.allowable_length is None) == (verdict == "over")


def test_runs_counted_together_share_the_elbows():
    """Two in the vent and one in the air pipe are three of the page's two."""
    text = LIMITED.replace("each run", "runs together")
    shared = table(row("90 ft"), deductions='elbow-90-long = "1 ft"', head=text)
    vent, air = run(10, fitting("elbow-90-long", 2)), run(10, fitting("elbow-90-long", 1), carries="combustion air")
    answer = ask(shared, vent, air)
    assert answer.verdict == "over" and said(answer)["together"] == 1


def test_too_many_elbows_and_too_long():
    """Both are said: fewer elbows alone would not do."""
    limited = table(row("90 ft"), deductions='elbow-90-long = "1 ft"', head=LIMITED)
    answer = ask(limited, run(100, fitting("elbow-90-long", 3)))
    open_ones = {outcome.because.code for outcome in answer.outcomes if outcome.state != "met"}
    assert answer.verdict == "over" and open_ones == {"length-over", "too-many-elbows"}


@pytest.mark.parametrize("limit", ["-1", "1.5", '"8"', "true"])
def test_a_limit_of_elbows_is_a_whole_number(limit):
    """Said with the key and what is expected."""
    with pytest.raises(InputError, match="most_elbows.*(whole number|below|0)"):
        table(row("90 ft"), head=HEAD + f"most_elbows = {limit}\n")


# What a page says beside the length, at the look-up

BARE = '[[row]]\ninput = "80 kBtu/h"\nsize = "3 in"\nallowable = "100 ft"\n'


def test_the_altitude_factor_takes_from_the_allowance_alone():
    """At 4,500 ft three steps of 4 %: 88 of 100 ft; the minimum stays."""
    factor = HEAD + 'altitude_factor = { above = "2000 ft", per = "1000 ft", less = "4 %" }\n'
    page = table_from_text(factor + BARE + 'minimum = "5 ft"\n', file="t")
    assert ask(page, run(88), feet=4500).verdict == "within"
    answer = ask(page, run(88.1), feet=4500)
    assert (answer.verdict, answer.altitude_share) == ("over", pytest.approx(0.88))
    assert answer.minimum_length == pytest.approx(5 * FOOT) and "altitude-factor-applied" in noted(answer)
    assert ask(page, run(100), feet=2000).verdict == "within"
    assert code(ask(page, run(1), feet=40000)) == "nothing-left-at-altitude"


def test_a_page_without_altitudes_above_2000_ft():
    """Somebody has to say that it holds there, in these words."""
    page = table_from_text(HEAD + BARE, file="t")
    assert ask(page, run(10), feet=2000).verdict == "within"
    answer = ask(page, run(10), feet=2001)
    assert (answer.verdict, code(answer)) == ("incomplete", "altitude-not-confirmed")
    confirmed = Site(altitude=2001 * FOOT, confirmed=frozenset(["The table holds at this altitude."]))
    assert look_up(page, input=80 * KBTU_H, site=confirmed, counted=[run(10)]).verdict == "within"
    assert ask(page, run(10), feet=None).verdict == "incomplete"


@pytest.mark.parametrize(("confirmed", "verdict"), [
    ((), "incomplete"), (("One wall.",), "incomplete"), (("One wall.", "No  closet."), "within"),
    (("one wall.", "No closet."), "incomplete"),
])  # fmt: skip
def test_footnotes_are_confirmed_word_for_word(confirmed, verdict):
    """Each of them."""
    page = table(row("90 ft"), head=HEAD + 'confirm = ["One wall.", "No closet."]\n')
    site = Site(altitude=0.0, confirmed=frozenset(" ".join(text.split()) for text in confirmed))
    assert look_up(page, input=80 * KBTU_H, site=site, counted=[run(10)]).verdict == verdict


SHARED = table(
    row("40 ft", size="2 in"), row("100 ft"), head=HEAD + 'mixed_sizes = "shares"\n',
    deductions='elbow-90-short = { "2 in" = "5 ft", "3 in" = "8 ft" }\nincreaser = "2 ft"',
)  # fmt: skip


@pytest.mark.parametrize(
    ("feet", "verdict", "used"),
    [
        # 2 in: 13 + 5 + 2 for the change of size = 20 of 40; 3 in: 42 + 8 = 50 of 100
        ({2: 13, 3: 42}, "within", 1.0),
        ({2: 13, 3: 42.1}, "over", 1.001),
        ({2: 14, 3: 42}, "over", 1.025),
        ({2: 13, 3: 32}, "within", 0.9),
    ],
)
def test_shares_of_mixed_sizes(feet, verdict, used):
    """Each size's length over its own allowance, added up; the change of size goes to the shorter allowance."""
    fittings = (
        fitting("elbow-90-short", size=2), fitting("increaser", size=2, to=3), fitting("elbow-90-short", size=3),
    )  # fmt: skip
    answer = ask(SHARED, run(feet, *fittings))
    assert (answer.verdict, sum(one.used for one in answer.shares)) == (verdict, pytest.approx(used))
    assert answer.used == pytest.approx(used)
    assert ask(SHARED, run(92, fitting("elbow-90-short"))).shares == ()  # one size is no mixture


def test_a_row_that_gives_a_pressure():
    """Its length is free, but for a minimum; the pressure is handed on, and a pass needs the calculation's word."""
    pressed = (
        '[[row]]\ninput = "{} kBtu/h"\nsize = "3 in"\naltitude = ["0 ft", "4500 ft"]\nallowable_pressure = "{} Pa"\n'
    )
    page = table_from_text(HEAD + pressed.format(60, 90) + pressed.format(100, 70) + 'minimum = "5 ft"\n', file="t")
    answer = ask(page, run(500, fitting("tee-branch", 3)))
    assert (answer.verdict, answer.allowable_length) == ("within", None)
    assert answer.allowable_pressure == pytest.approx(70)  # the stricter of the two around
    assert "pressure-allowed" in answer.required
    assert ask(page, run(4)).verdict == "short"


def test_runs_together_each_reach_the_minimum():
    """A minimum of 6 ft: 20 ft of vent do not make up for 5 ft of air pipe."""
    page = table(row("90 ft", minimum="6 ft"), head=TOGETHER)
    assert ask(page, run(20), run(6, carries="combustion air")).verdict == "within"
    assert ask(page, run(20), run(5, carries="combustion air")).verdict == "short"


def test_parts_of_one_way_count_run_by_run():
    """An odd 45 in each part is a whole elbow in each: two, 60 ft; in one part they are a pair, 65 ft."""
    page = table(row(["70 ft", "65 ft", "60 ft"]))
    apart = (run(30, fitting("elbow-45"), outdoors=False), run(33, fitting("elbow-45")))
    assert ask(page, *apart, one_way=True).verdict == "over"
    assert ask(page, run(63, fitting("elbow-45", 2))).verdict == "within"


def test_what_limits_a_run_is_looked_at_whether_or_not_a_row_answers():
    """Too many elbows are over, whatever the table says of the size."""
    page = table(row("90 ft"), head=LIMITED)
    answer = ask(page, run(10, *[fitting("elbow-90-long", size=4)] * 3, size=4))
    assert answer.verdict == "over"
    assert {o.because.code for o in answer.outcomes if o.state != "met"} == {"size-not-in-table", "too-many-elbows"}


def test_every_condition_of_a_pass_is_among_the_outcomes():
    """What a table asks for is looked at, each by its name; a condition that is missing is no pass."""
    page = table(
        row("90 ft") + 'pipes = "one"\n', row("80 ft") + 'pipes = "two"\n',
        head=HEAD + 'confirm = ["One wall."]\n[limits]\nlongest_level = "40 ft"\nsame_size = true\n',
    )  # fmt: skip
    site = Site(altitude=0.0, pipes="one", confirmed=frozenset(["One wall."]))
    answer = look_up(page, input=80 * KBTU_H, site=site, counted=[run(10)])
    assert answer.verdict == "within"
    assert {outcome.condition for outcome in answer.outcomes} == set(answer.required)
    assert {"case-in-table", "footnotes-confirmed", "level-allowed", "sizes-alike"} <= set(answer.required)
