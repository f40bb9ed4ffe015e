"""Look-ups over several sizes, several runs, ends and overrides; worked by hand, in feet."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.allowance.asking import EXAMPLE_TABLE, ask, code, noted, said
from tests.allowance.support import FOOT, HEAD, INCH, KBTU_H, fitting, row, run, table
from ventsize.allowance.case import Site
from ventsize.allowance.elbows import elbows_of, is_counted
from ventsize.allowance.lookup import look_up

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


@pytest.mark.parametrize(("degrees", "elbows"), [
    (45, 1), (46, 2), (91, 2), (92, 4), (100, 4), (181, 4), (182, 6), (None, 2),
])  # fmt: skip
def test_a_turn_is_as_many_elbows_as_it_takes(degrees, elbows):
    """Two of them, of 90° each within a degree; two of 45° are one, and where no angle is given it is a right one."""
    bend = replace(fitting("elbow-90-long", 2), angle_degrees=degrees)
    assert elbows_of(table(row(["9 ft"])), run(1, bend)) == elbows


@pytest.mark.parametrize(("each", "counts"), [("0", False), ("0.05", True), ("1", True)])
def test_what_a_table_says_an_elbow_counts_as(each, counts):
    """Of a twentieth, twenty are one; of nothing it is none."""
    read = table(row(["9 ft"]), elbows_each=f"elbow-45 = {each}")
    assert is_counted(read, fitting("elbow-45")) is counts
    assert elbows_of(read, run(1, fitting("elbow-45", 20))) == round(20 * float(each))


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


def test_a_size_of_which_nothing_is_used_goes_by_its_shorter_row():
    """3 in only at an increaser that takes nothing, with 50 and 60 ft around the input: none of 50 ft."""
    lengths = (("30 ft", "60", "2 in"), ("30 ft", "100", "2 in"), ("60 ft", "60", "3 in"), ("50 ft", "100", "3 in"))
    rows = [row(allows, input=f"{kbtu} kBtu/h", size=size) for allows, kbtu, size in lengths]
    read = table(*rows, deductions='increaser = "0 ft"', head=HEAD + 'mixed_sizes = "shares"\n')
    for feet, verdict in ((30, "within"), (30.1, "over")):
        answer = ask(read, run({2: feet}, fitting("increaser", size=2, to=3)))
        used = {share.row.size_label: (share.used, share.allowable) for share in answer.shares}
        assert (answer.verdict, used["3 in"]) == (verdict, (0.0, pytest.approx(50 * FOOT)))


@pytest.mark.parametrize(("kbtu", "between"), [(70, True), (80, False)])
def test_runs_together_between_two_inputs(kbtu, between):
    """Two rows for each run: between 60 and 80 kBtu/h the finding names both, at 80 there is nothing between."""
    read = table(row("60 ft", input="60 kBtu/h"), row("50 ft"), head=TOGETHER)
    answer = ask(read, run(20), run(25, carries="combustion air"), kbtu=kbtu)
    found = [dict(one.values) for one in answer.findings if one.code == "input-between-rows"]
    assert answer.allowable_length == pytest.approx(50 * FOOT)
    assert [(one["lower"], one["higher"]) for one in found] == [("60 kBtu/h", "80 kBtu/h")] * between


def test_rows_of_pairs_ask_what_the_other_pipe_is():
    """A vent of 3 in beside an air pipe of 4 in has a row; beside one of 2 in, or of no size yet, it has none."""
    read = table(row("90 ft") + 'air_size = "4 in"\n')
    two = Site(altitude=0.0, pipes="two")
    sites = [replace(two, sizes={"combustion air": (size * INCH,)}) for size in (4, 2)]
    verdicts = [look_up(read, input=80 * KBTU_H, site=site, counted=[run(9)]).verdict for site in (*sites, two)]
    assert verdicts == ["within", "not covered", "incomplete"]
    alone = replace(sites[0], pipes="one")
    assert look_up(read, input=80 * KBTU_H, site=alone, counted=[run(9)]).verdict == "not covered"


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
