"""What a page asks for beside the length, at the look-up; worked by hand, in feet."""

from __future__ import annotations

import pytest

from tests.allowance.asking import EXAMPLE_TABLE, ask, code, noted, said
from tests.allowance.support import FOOT, HEAD, KBTU_H, fitting, row, run, table
from ventsize.allowance.answer import CONDITIONS
from ventsize.allowance.case import Site
from ventsize.allowance.counted import Counted
from ventsize.allowance.lookup import conditions_of, look_up
from ventsize.allowance.reading import table_from_text
from ventsize.jobfile.problems import InputError

TOGETHER = HEAD.replace("each run", "runs together")


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
        ((fitting("elbow-90-long", 2, override=0), fitting("elbow-30", 5)), "within"),  # 30° is no more than 30°
        ((fitting("elbow-90-long", 2), fitting("elbow-31")), "over"),
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


def test_little_is_left_at_altitude():
    """Three steps of 31 %: 7 ft of 100 are left, also of each entry by elbows; after a fourth none."""
    factor = HEAD + 'altitude_factor = { above = "2000 ft", per = "1000 ft", less = "31 %" }\n'
    for page in (BARE, BARE.replace('allowable = "100 ft"', 'allowable_by_elbows = ["100 ft", "50 ft"]')):
        read = table_from_text(factor + page, file="t")
        answers = [ask(read, run(feet), feet=4500) for feet in (6.9, 7.1)]
        assert [answer.verdict for answer in answers] == ["within", "over"]
        assert answers[0].allowable_length == pytest.approx(7 * FOOT)
        assert code(ask(read, run(0.1), feet=5500)) == "nothing-left-at-altitude"
    assert answers[0].permitted == ((0, pytest.approx(7 * FOOT)), (1, pytest.approx(3.5 * FOOT)))
    assert ask(read, run(0.1), feet=5500).permitted == ()
    by_pressure = BARE.replace('allowable = "100 ft"', 'allowable_pressure = "100 Pa"')
    assert ask(table_from_text(factor + by_pressure, file="t"), run(1), feet=4500).allowable_pressure == pytest.approx(
        7
    )


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
    low = ask(page, run(10), feet=2000)
    assert low.verdict == "within" and "altitude-needs-no-word" in {one.because.code for one in low.outcomes}
    answer = ask(page, run(10), feet=2001)
    assert (answer.verdict, code(answer)) == ("incomplete", "altitude-not-confirmed")
    confirmed = Site(altitude=2001 * FOOT, confirmed=frozenset(["The table holds at this altitude."]))
    high = look_up(page, input=80 * KBTU_H, site=confirmed, counted=[run(10)])
    assert high.verdict == "within" and "altitude-confirmed" in {one.because.code for one in high.outcomes}
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
    assert answer.allowable_length == pytest.approx(answer.equivalent_length / used)
    assert ask(SHARED, run(92, fitting("elbow-90-short"))).shares == ()  # one size is no mixture


def test_shares_of_next_to_nothing():
    """1 ft of 40 and 2 ft of 100 use 4.5 %: divided so, 3 / 0.045 = 66.7 ft are allowed."""
    answer = ask(SHARED, run({2: 1, 3: 2}))
    assert (answer.verdict, answer.used) == ("within", pytest.approx(0.045))
    assert answer.allowable_length == pytest.approx(3 / 0.045 * FOOT)
    assert ask(SHARED, run({2: 0, 3: 0})).allowable_length in (40 * FOOT, 100 * FOOT)  # of none, that of either


def test_a_change_of_size_goes_to_the_size_that_may_have_least():
    """At 70 kBtu/h the least of 2 in is 10 ft, of 3 in 50: (5 + 2) / 10 and 10 / 50 make 0.9."""
    read = table(
        row("100 ft", size="2 in", input="60 kBtu/h"), row("10 ft", size="2 in"),
        row("60 ft", input="60 kBtu/h"), row("50 ft"),
        head=HEAD + 'mixed_sizes = "shares"\n', deductions='increaser = "2 ft"',
    )  # fmt: skip
    answer = ask(read, run({2: 5, 3: 10}, fitting("increaser", size=2, to=3)), kbtu=70)
    assert answer.used == pytest.approx(0.9)


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


@pytest.mark.parametrize(("text", "asked"), [
    (row("90 ft"), ()), (row("90 ft") + 'pipes = "two"\n' + row("40 ft", size="2 in"), ("case-in-table",)),
    (BARE + row("40 ft", size="2 in"), ("altitude-confirmed",)),
    ('altitude_factor = { above = "0 ft", per = "1 ft", less = "1 %" }\n' + BARE, ()),
    ('confirm = ["One wall."]\n' + row("90 ft"), ("footnotes-confirmed",)),
    (row("90 ft") + '[[exposed]]\nsize = "3 in"\noutdoor = "0 degF"\ninsulation = "0 in"\nallowable = "9 ft"\n',
     ("exposed-allowed",)),
    ('[limits]\nlongest_level = "9 ft"\nsame_size = true\n' + row("90 ft"), ("level-allowed", "sizes-alike")),
])  # fmt: skip
def test_what_a_pass_by_a_page_needs(text: str, asked: tuple[str, ...]) -> None:
    """Beside what every page asks, what this one says beyond a length, be it in one row of several."""
    assert conditions_of(table_from_text(HEAD + text, file="t")) == (*CONDITIONS, *asked)
