"""The naive reading against figures worked by hand, so that it can be trusted where it differs from the program.

Every expected value was worked on paper from the design's sections 4 to 6; feet throughout.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.contract.by_hand import FT, air, asked, came_to, counted, furnace, page, row, vent
from tests.contract.reading import amount, length, temperature


@pytest.mark.parametrize(
    ("text", "feet"),
    [
        ("12 ft 6 in", 12.5),
        ("2 1/2 in", 2.5 / 12),
        ("1,200 ft", 1200),
        ("-3 ft", -3),
        ("3.048 m", 10),
        ("1e-05 ft", 1e-5),
    ],
)
def test_lengths(text: str, feet: float) -> None:
    """As people write them."""
    assert length(text) / FT == pytest.approx(feet)


def test_other_quantities() -> None:
    """80 MBH are 80,000 Btu/h; 32 degF and 0 degC are 273.15 K."""
    assert amount("80 MBH", "power") == amount("80,000 Btu/h", "power") == pytest.approx(23445.7, abs=0.1)
    assert temperature("32 degF") == pytest.approx(273.15) == pytest.approx(temperature("0 degC"))


def test_deductions_add_up() -> None:
    """10 + 20 ft of pipe, a long elbow at 3, a short one at 8 in 3 in pipe, a turned-down end at 4: 45 ft."""
    answer = asked(page([row(45)]), vent(10, "elbow-90-long", 20, "elbow-90-short", "terminal-elbow-down"))
    assert came_to(answer) == ("within", set())
    assert answer.figures["vent"].equivalent == pytest.approx(45 * FT)


@pytest.mark.parametrize(
    ("feet", "verdict"), [("45 ft", "within"), ("44 ft 11.995 in", "within"), ("44 ft 11.98 in", "over")]
)
def test_equal_is_within_to_a_hundredth_of_an_inch(feet: str, verdict: str) -> None:
    """45 ft against 45 ft, five thousandths of an inch less, two hundredths less."""
    assert asked(page([row(feet)]), vent(45, "terminal-open")).verdict == verdict


@pytest.mark.parametrize(("count", "equivalent"), [(1, 33), (2, 33), (3, 36), (4, 36)])
def test_begun_pairs(count: int, equivalent: int) -> None:
    """30 ft and one or two 45s are 33 ft, three or four 36 ft."""
    run = vent(straight="30 ft", fittings={"elbow-45": count, "terminal-open": 1})
    del run["pieces"]
    assert asked(page([row()]), run).figures["vent"].equivalent == pytest.approx(equivalent * FT)


def test_the_larger_figure_at_a_change_of_size() -> None:
    """3 in to 4 in: 2 ft and 4 ft, so 4 ft; 10 + 4 + 20 = 34 ft, against 90 ft and 40 ft: the shorter."""
    rows = [row(90), row(40, size="4 in")]
    run = vent(10, {"fitting": "increaser", "size": "4 in"}, 20, "terminal-open")
    assert asked(page(rows), run).verdict == "within"
    run = vent(10, {"fitting": "increaser", "size": "4 in"}, 26.1, "terminal-open")
    assert came_to(asked(page(rows), run)) == ("over", {"length"})  # 40.1 of 40
    assert came_to(asked(page(rows[:1]), run)) == ("not covered", {"size"})


def test_shares() -> None:
    """10 ft of 40 in 3 in, and 4 + 20 ft of 32 in 4 in: 0.25 + 0.75 = 1; a foot more is over."""
    rows = [row(40), row(32, size="4 in")]
    table = page(rows, mixed_sizes="shares")
    assert asked(table, vent(10, {"fitting": "increaser", "size": "4 in"}, 20, "terminal-open")).verdict == "within"
    more = asked(table, vent(10, {"fitting": "increaser", "size": "4 in"}, 21, "terminal-open"))
    assert came_to(more) == ("over", {"shares"})


def test_a_fitting_with_no_deduction() -> None:
    """The table deducts, and says nothing of a coupling; a table without deductions charges nothing."""
    run = vent(10, "coupling", 10, "terminal-open")
    assert came_to(asked(page([row()]), run)) == ("incomplete", {"no deduction"})
    assert asked(page([row()], deductions={}), run).verdict == "within"


def test_an_end_nobody_listed_is_charged_as_an_open_one() -> None:
    """10 ft and an implied open end at 2 ft are 12 ft; where only a screened end is charged, nothing is known."""
    assert asked(page([row(12)], deductions={"terminal-open": "2 ft"}), vent(10)).verdict == "within"
    assert asked(page([row(11)], deductions={"terminal-open": "2 ft"}), vent(10)).verdict == "over"
    answer = asked(page([row()], deductions={"terminal-screened": "2 ft"}), vent(10))
    assert came_to(answer) == ("incomplete", {"no deduction"})
    assert asked(page([row(10)], deductions={"elbow-90-long": "2 ft"}), vent(10)).verdict == "within"


@pytest.mark.parametrize(
    ("parts", "verdict"),
    [
        ((30, "elbow-90-long", 20, "elbow-90-long", "terminal-open"), "within"),  # 50 of 50 at two
        ((30, "elbow-90-long", 20, "elbow-90-long", "elbow-45", "terminal-open"), "over"),  # an odd 45: three, 40
        ((30, "elbow-45", 10, "elbow-22", "terminal-open"), "within"),  # one pair: 40 of 60
        ((30, "elbow-90-long", 20, "terminal-elbow-down"), "within"),  # the end turns: 50 of 50 at two
        ((31, "elbow-90-long", 20, "terminal-elbow-down"), "over"),
        ((1, *["elbow-90-long"] * 4, "terminal-open"), "over"),  # more than listed
    ],
)
def test_elbow_count(parts: tuple[Any, ...], verdict: str) -> None:
    """Rows of 70, 60, 50 and 40 ft by number of elbows, in a table that deducts nothing."""
    assert asked(page([counted([70, 60, 50, 40])], deductions={}), vent(*parts)).verdict == verdict


def test_what_is_named_is_added_to_the_straight_length() -> None:
    """tee-through at 2 ft in an elbow-count row: 48 + 2 of 50 within; a coupling that nobody names costs nothing."""
    table = page([counted([50])], deductions={"tee-through": "2 ft"})
    assert asked(table, vent(24, "tee-through", 24, "coupling", "terminal-open")).verdict == "within"
    assert asked(table, vent(25, "tee-through", 24, "terminal-open")).verdict == "over"


def test_lists_that_begin_with_one_and_what_is_not_permitted() -> None:
    """No elbow takes the length of one; two are not permitted."""
    table = page([counted([50, "not permitted"], first_elbows=1)], deductions={})
    assert asked(table, vent(50, "terminal-open")).verdict == "within"
    assert came_to(asked(table, vent(50.1, "terminal-open"))) == ("over", {"length"})
    two = asked(table, vent(5, "elbow-90-long", "elbow-90-long", "terminal-open"))
    assert came_to(two) == ("over", {"not permitted"})
    assert came_to(asked(page([row("not permitted")]), vent(1, "terminal-open"))) == ("over", {"not permitted"})


def test_elbows_each() -> None:
    """A mitered elbow as two 90s: 50 ft at two, not 60 ft at one."""
    table = page([counted([70, 60, 50])], deductions={}, elbows_each={"elbow-90-mitered": 2})
    assert asked(table, vent(50, "elbow-90-mitered", "terminal-open")).verdict == "within"
    assert asked(table, vent(51, "elbow-90-mitered", "terminal-open")).verdict == "over"


def test_elbows_included() -> None:
    """Two are included: of short 8, long 3, long 3 laid out the first two, so 20 + 3; counted the cheapest, 20 + 8."""
    laid = vent(20, "elbow-90-short", "elbow-90-long", "elbow-90-long", "terminal-open")
    answer = asked(page([row(elbows_included=2)]), laid)
    assert answer.figures["vent"].equivalent == pytest.approx(23 * FT)
    run = vent(straight="20 ft", fittings={"elbow-90-short": 1, "elbow-90-long": 2, "terminal-open": 1})
    del run["pieces"]
    answer = asked(page([row(elbows_included=2)]), run)
    assert answer.figures["vent"].equivalent == pytest.approx(28 * FT)


def test_listed_from_the_other_end() -> None:
    """The first elbows are those at the appliance, whichever end the list begins with."""
    run = vent("terminal-open", "elbow-90-long", "elbow-90-long", "elbow-90-short", 20)
    run["between"] = ["outdoors", "furnace"]
    answer = asked(page([row(elbows_included=1)]), run)
    assert answer.figures["vent"].equivalent == pytest.approx(26 * FT)  # the short one is free: 20 + 3 + 3


@pytest.mark.parametrize(
    ("altitude", "verdict"),
    [("2000 ft", "over"), ("1999 ft", "within"), ("4500 ft", "over"), ("4501 ft", "not covered")],
)
def test_bands(altitude: str, verdict: str) -> None:
    """To 2,000 ft 90 ft, from there to 4,500 ft 50 ft; a run of 60 ft. At 2,000 ft the upper row holds."""
    rows = [row(90, altitude=["0 ft", "2000 ft"]), row(50, altitude=["2000 ft", "4500 ft"])]
    assert asked(page(rows), vent(60, "terminal-open"), site={"altitude": altitude}).verdict == verdict


@pytest.mark.parametrize(("altitude", "allowed"), [(1900, 100), (2000, 100), (2001, 96), (4000, 92), (4500, 88)])
def test_the_altitude_factor(altitude: int, allowed: int) -> None:
    """4 % a step begun above 2,000 ft: 88 % at 4,500 ft, as the design works it."""
    high = row(100)
    del high["altitude"]
    table = page([high], altitude_factor={"above": "2000 ft", "per": "1000 ft", "less": "4 %"})
    site = {"altitude": f"{altitude} ft"}
    assert asked(table, vent(allowed, "terminal-open"), site=site).verdict == "within"
    assert asked(table, vent(allowed + 1, "terminal-open"), site=site).verdict == "over"


def test_no_band_high_up_and_no_altitude() -> None:
    """A row without a band above 2,000 ft asks for a word; a site without altitude is incomplete always."""
    high = row()
    del high["altitude"]
    site = {"altitude": "2001 ft"}
    answer = asked(page([high]), vent(5, "terminal-open"), site=site)
    assert came_to(answer) == ("incomplete", {"altitude not confirmed"})
    said = ["The table holds at this altitude."]
    assert asked(page([high]), vent(5, "terminal-open"), site=site, confirmed=said).verdict == "within"
    assert asked(page([high]), vent(5, "terminal-open"), site={}).verdict == "incomplete"


def test_inputs_between_rows() -> None:
    """80 between 60 (50 ft, at least 3) and 100 (40 ft, at least 8): 40 ft and 8 ft; above all: not covered."""
    rows = [row(50, input="60 kBtu/h", minimum="3 ft"), row(40, input="100 kBtu/h", minimum="8 ft")]
    assert asked(page(rows), vent(40, "terminal-open")).verdict == "within"
    assert came_to(asked(page(rows), vent(41, "terminal-open"))) == ("over", {"length"})
    assert came_to(asked(page(rows), vent(7, "terminal-open"))) == ("short", {"minimum"})
    assert came_to(asked(page(rows), vent(9, "terminal-open"), plant=[furnace(kbtu=101)])) == ("not covered", {"input"})


def test_never_the_neighbours_of_a_row_for_exactly_this_input() -> None:
    """80 exists, for a screened end only; 60 and 100 hold for any end, and do not step in."""
    rows = [row(input="60 kBtu/h"), row(ends=["terminal-screened"]), row(input="100 kBtu/h")]
    assert came_to(asked(page(rows), vent(9, "terminal-open"))) == ("not covered", {"conditions"})
    rows[1] = row(30, ends=["terminal-open"])
    assert asked(page(rows), vent(30, "terminal-open")).verdict == "within"
    assert came_to(asked(page(rows), vent(30))) == ("incomplete", {"end not listed"})


def test_the_row_that_says_more_wins() -> None:
    """20 ft for two pipes with an open end, 30 ft for two pipes, 40 ft for all."""
    rows = [row(40), row(30, pipes="two"), row(20, pipes="two", ends=["terminal-open"])]
    other = air(5, "terminal-open")
    runs = {"terminal-open": 20, "terminal-elbow-down": 30}
    for end, feet in runs.items():
        charged = 4 if end == "terminal-elbow-down" else 0
        assert asked(page(rows), vent(feet - charged, end), other).runs["vent"] == "within"
        assert asked(page(rows), vent(feet - charged + 1, end), other).runs["vent"] == "over"
    assert asked(page(rows), vent(40, "terminal-open")).verdict == "within"  # air from the room


def test_two_rows_for_one_case() -> None:
    """Equally many conditions, and both can hold: an error; disjoint ones are not."""
    both = page([row(ends=["terminal-open"]), row(materials=["pvc-40"])])
    assert asked(both, vent(9, "terminal-open")).error == "two rows for one case"
    either = page([row(pipes="one"), row(pipes="two")])
    assert asked(either, vent(9, "terminal-open")).verdict == "within"


def test_where_the_air_comes_from() -> None:
    """Not said, and rows for one and two pipes: asked. Said, or the same row anyway: not asked."""
    rows = [row(pipes="one"), row(80, pipes="two")]
    silent = furnace()
    del silent["air"]
    assert came_to(asked(page(rows), vent(9, "terminal-open"), plant=[silent])) == (
        "incomplete",
        {"not said which row"},
    )
    assert asked(page(rows), vent(9, "terminal-open")).verdict == "within"
    assert asked(page([row()]), vent(9, "terminal-open"), plant=[silent]).verdict == "within"
    assert asked(page([row()]), vent(9, "terminal-open"), plant=[furnace(air="pipe")]).verdict == "incomplete"
    limited = page([row()], limits={"same_size": True})
    assert asked(limited, vent(9, "terminal-open"), plant=[silent]).verdict == "incomplete"
