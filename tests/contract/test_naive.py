"""The naive reading against figures worked by hand, so that it can be trusted where it differs from the program.

Every expected value was worked on paper from the design's sections 4 to 6; feet throughout.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.contract.naive import Answer, judge
from tests.contract.reading import Data, amount, length, temperature

FT = 0.3048
DEDUCTIONS: Data = {
    "elbow-90-long": "3 ft",
    "elbow-90-short": {"2 in": "5 ft", "3 in": "8 ft"},
    "elbow-45": {"per_two": "3 ft"},
    "tee-branch": "7 ft",
    "tee-through": "2 ft",
    "increaser": {"2 in": "1 ft", "3 in": "2 ft", "4 in": "4 ft"},
    "terminal-open": "0 ft",
    "terminal-elbow-down": "4 ft",
}


def row(feet: Any = 90, **more: Any) -> Data:
    """A row at 80 kBtu/h in 3 in."""
    base: Data = {"input": "80 kBtu/h", "size": "3 in", "altitude": ["0 ft", "4500 ft"]}
    return {**base, "allowable": feet if isinstance(feet, str) else f"{feet} ft", **more}


def counted(lengths: list[Any], **more: Any) -> Data:
    """An elbow-count row at 80 kBtu/h in 3 in."""
    texts = [one if isinstance(one, str) else f"{one} ft" for one in lengths]
    base: Data = {"input": "80 kBtu/h", "size": "3 in", "altitude": ["0 ft", "4500 ft"]}
    return {**base, "allowable_by_elbows": texts, **more}


def page(rows: list[Data], **more: Any) -> Data:
    """A table of these rows."""
    base: Data = {"applies_to": ["flue gas", "combustion air"], "counts": "each run", "deductions": DEDUCTIONS}
    return {**base, "row": rows, **more}


def pieces(*parts: Any) -> list[Data]:
    """Feet of pipe, or (feet, heading), or a fitting's name, or a piece as it stands."""
    found: list[Data] = []
    for part in parts:
        if isinstance(part, str):
            found.append({"fitting": part})
        elif isinstance(part, dict):
            found.append(part)
        elif isinstance(part, tuple):
            found.append({"pipe": f"{part[0]} ft", "heading": part[1]})
        else:
            found.append({"pipe": f"{part} ft"})
    return found


def vent(*parts: Any, **more: Any) -> Data:
    """A vent of the furnace, of 3 in pipe."""
    base: Data = {"name": "vent", "carries": "flue gas", "between": ["furnace", "outdoors"], "size": "3 in"}
    return {**base, "material": "pvc-40", "table": "t.toml", "pieces": pieces(*parts), **more}


def air(*parts: Any, **more: Any) -> Data:
    """Its air pipe."""
    return {**vent(*parts), "name": "air", "carries": "combustion air", **more}


def furnace(name: str = "furnace", kbtu: float = 80, **more: Any) -> Data:
    """An appliance of one rate."""
    rate = {"name": "high", "input": f"{kbtu} kBtu/h", "excess_air": 0.35, "flue_temperature": "110 degF"}
    return {"name": name, "fuel": "natural gas", "rate": [rate], "air": "room", **more}


def asked(table: Data, *runs: Data, site: Data | None = None, plant: list[Data] | None = None, **more: Any) -> Answer:
    """The naive answer."""
    job: Data = {"title": "By hand", "site": {"altitude": "500 ft"} if site is None else site}
    job.update(appliance=plant or [furnace()], run=list(runs), **more)
    return judge(job, {"t.toml": table})


def came_to(answer: Answer) -> tuple[str, set[str]]:
    """Verdict and reasons."""
    return answer.verdict, {fault.reason for fault in answer.faults}


@pytest.mark.parametrize(
    ("text", "feet"), [("12 ft 6 in", 12.5), ("2 1/2 in", 2.5 / 12), ("1,200 ft", 1200), ("-3 ft", -3), ("3.048 m", 10)]
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
    assert came_to(asked(page(rows), vent(30))) == ("incomplete", {"not said which row"})


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


def test_pairs_of_sizes() -> None:
    """3 in vent with 2 in air: 20 ft for both; the air is looked up by its own size in that row."""
    rows = [row(20, air_size="2 in"), row(60, air_size="3 in")]
    small = air(20, "terminal-open", size="2 in")
    assert asked(page(rows), vent(20, "terminal-open"), small).verdict == "within"
    answer = asked(page(rows), vent(21, "terminal-open"), small)
    assert (answer.runs["vent"], answer.runs["air"]) == ("over", "within")
    assert asked(page(rows), vent(60, "terminal-open"), air(60, "terminal-open")).verdict == "within"
    assert came_to(asked(page(rows), vent(9, "terminal-open"))) == ("not covered", {"conditions"})


def test_materials_are_all_of_the_run() -> None:
    """One CPVC pipe among PVC is a run of both."""
    rows = [row(materials=["pvc-40"]), row(50, materials=["pvc-40", "cpvc-40"], ends=["terminal-open"])]
    run = vent(10, {"pipe": "5 ft", "material": "cpvc-40"}, "terminal-open")
    assert asked(page(rows), run).figures["vent"].allowable == pytest.approx(50 * FT)
    assert came_to(asked(page(rows[:1]), run)) == ("not covered", {"conditions"})


def test_counts_as() -> None:
    """10 ft of flexible liner count as 20; the minimum is of pipe as it stands."""
    table = page([row(20, minimum="11 ft")], counts_as={"flexible-liner-corrugated": 2.0})
    answer = asked(table, vent(10, "terminal-open", material="flexible-liner-corrugated"))
    assert answer.figures["vent"].equivalent == pytest.approx(20 * FT)
    assert came_to(answer) == ("short", {"minimum"})


@pytest.mark.parametrize(
    ("limits", "parts", "expected"),
    [
        ({"most_elbows": 2}, (5, "elbow-90-long", "elbow-45", "terminal-open"), None),
        ({"most_elbows": 2}, (5, "elbow-90-long", "elbow-45", "terminal-elbow-down"), "most_elbows"),
        ({"longest_level": "10 ft"}, ((20, "up"), "elbow-90-long", (10, "east"), "terminal-open"), None),
        ({"longest_level": "10 ft"}, ((20, "up"), "elbow-90-long", (11, "east"), "terminal-open"), "longest_level"),
        ({"longest_level": "10 ft"}, ((20, "up"), "elbow-90-long", 11, "terminal-open"), "longest_level not known"),
        ({"longest_rise": "10 ft"}, ((10, "up"), "elbow-90-long", (50, "east"), "terminal-open"), None),
        ({"longest_rise": "10 ft"}, ((11, "up"), "elbow-90-long", (5, "east"), "terminal-open"), "longest_rise"),
    ],
)
def test_limits(limits: Data, parts: tuple[Any, ...], expected: str | None) -> None:
    """Beside the length: most elbows, level and rising pipe; what cannot be known is asked."""
    assert {fault.reason for fault in asked(page([row()], limits=limits), vent(*parts)).faults} == (
        {expected} if expected else set()
    )


def test_limits_of_both_pipes() -> None:
    """20 ft and 12 ft differ by 8; 3 in and 2 in are not the same size."""
    rows = [row(), row(size="2 in")]
    runs = vent(20, "terminal-open"), air(12, "terminal-open")
    assert asked(page(rows, limits={"longest_difference": "8 ft"}), *runs).verdict == "within"
    assert asked(page(rows, limits={"longest_difference": "7 ft"}), *runs).verdict == "over"
    same = page(rows, limits={"same_size": True})
    assert asked(same, *runs).verdict == "within"
    assert asked(same, vent(20, "terminal-open"), air(12, "terminal-open", size="2 in")).verdict == "over"


@pytest.mark.parametrize(
    ("design", "pipe", "verdict", "reasons"),
    [
        ("-5 degF", {"surroundings": "attic"}, "within", set()),  # the row of -10 with bare pipe: 10 of 10
        ("0 degF", {"surroundings": "49 degF"}, "within", set()),  # 0 degF governs: 10 of 15
        ("0 degF", {"surroundings": "51 degF"}, "within", set()),
        ("-11 degF", {"surroundings": "outdoors"}, "not covered", {"exposed"}),
        (None, {"surroundings": "outdoors"}, "incomplete", {"coldest day not said"}),
        (None, {"surroundings": "heated space"}, "within", set()),
        ("-5 degF", {}, "incomplete", {"surroundings not said"}),
        ("-5 degF", {"surroundings": "attic", "insulation": {"thickness": "1/4 in"}}, "within", set()),
        ("-5 degF", {"surroundings": "attic", "pipe": "11 ft"}, "over", {"exposed"}),
        ("-5 degF", {"surroundings": "attic", "pipe": "20 ft", "insulation": {"thickness": "1/2 in"}}, "within", set()),
    ],
)
def test_exposed_pipe(design: str | None, pipe: Data, verdict: str, reasons: set[str]) -> None:
    """At -10 degF 10 ft bare and 20 ft with half an inch; at 0 degF 15 ft bare."""
    exposed = [
        {"size": "3 in", "outdoor": "-10 degF", "insulation": "0 in", "allowable": "10 ft"},
        {"size": "3 in", "outdoor": "-10 degF", "insulation": "1/2 in", "allowable": "20 ft"},
        {"size": "3 in", "outdoor": "0 degF", "insulation": "0 in", "allowable": "15 ft"},
    ]
    site = {"altitude": "500 ft", **({"design_outdoor": design} if design else {})}
    answer = asked(page([row()], exposed=exposed), vent({"pipe": "10 ft", **pipe}, "terminal-open"), site=site)
    assert came_to(answer) == (verdict, reasons)


def test_footnotes() -> None:
    """Word for word."""
    table = page([row()], confirm=["Terminals on one wall."])
    run = vent(9, "terminal-open")
    assert asked(table, run, confirmed=["Terminals on one wall."]).verdict == "within"
    assert came_to(asked(table, run, confirmed=["terminals on one wall"])) == ("incomplete", {"footnote"})


def test_runs_together() -> None:
    """Vent 50 + 3 and air 37 ft are 90 of 90; a foot more is over in both; with no word of the air nothing is known."""
    table = page([row()], counts="runs together")
    answer = asked(table, vent(50, "elbow-90-long", "terminal-open"), air(37, "terminal-open"))
    assert answer.verdict == "within"
    answer = asked(table, vent(50, "elbow-90-long", "terminal-open"), air(38, "terminal-open"))
    assert answer.runs == {"vent": "over", "air": "over"}
    silent = furnace()
    del silent["air"]
    answer = asked(table, vent(5, "terminal-open"), plant=[silent])
    assert came_to(answer) == ("incomplete", {"air not said on runs together"})


def test_a_way_of_two_runs() -> None:
    """30 + 40 ft in 3 in, then 4 in: 70 + 4 for the change of size, of the shorter, 74 ft; a foot less is over."""
    first = vent(30, between=["furnace", "half way"], name="first")
    second = vent(40, "terminal-open", between=["half way", "outdoors"], name="second", size="4 in")
    assert asked(page([row(74), row(90, size="4 in")]), first, second).verdict == "within"
    assert asked(page([row(73), row(90, size="4 in")]), first, second).verdict == "over"


def tree(common: float) -> tuple[Data, ...]:
    """Two appliances of 40 kBtu/h, 10 ft and 20 ft to a tee, whose branch is the second, and a common vent."""
    return (
        vent(10, between=["one", "tee"], name="a"),
        vent(20, between=["tee", "two"], name="b"),
        vent(common, "terminal-open", between=["tee", "outdoors"], name="c"),
    )


def test_a_tree() -> None:
    """The second way is 20 + 7 for the branch + the common part, of 60 ft, the shortest of 60 (80) and 70 (40)."""
    rows = [row(60), row(70, input="40 kBtu/h")]
    plant = [furnace("one", 40), furnace("two", 40)]
    joint = [{"name": "tee", "fitting": "tee", "in_line": ["a", "c"]}]
    assert asked(page(rows), *tree(33), plant=plant, joint=joint).verdict == "within"
    answer = asked(page(rows), *tree(34), plant=plant, joint=joint)
    assert answer.runs == {"a": "within", "b": "over", "c": "over"}  # a: 10 + 2 + 34
    assert came_to(asked(page(rows[:1]), *tree(9), plant=plant, joint=joint))[0] == "not covered"


@pytest.mark.parametrize(
    ("between", "verdict"),
    [
        (("elbow-90-long",), "within"),
        (("elbow-22", "elbow-22"), "incomplete"),
        (("elbow-45", "elbow-45"), "within"),
        ((), "incomplete"),
        ((3,), "incomplete"),
        ((3, "elbow-45", 4, "elbow-45"), "within"),
        (({"pipe": "3 ft", "material": "flexible-liner-corrugated"},), "within"),
        (("tee-branch",), "within"),
    ],
)
def test_turns(between: tuple[Any, ...], verdict: str) -> None:
    """From up to east, across whatever stands between."""
    run = vent((10, "up"), *between, (10, "east"), "terminal-open")
    assert asked(page([row()], deductions={}), run).verdict == verdict


def test_ends_out_of_place() -> None:
    """An entrance on a flue, an end inside, and an end on a run that does not reach outdoors."""
    wrong = [
        vent(9, "entrance-open"),
        vent("terminal-open", 9),
        vent(straight="9 ft", fittings={"terminal-open": 2}, pieces=None),
    ]
    del wrong[2]["pieces"]
    for run in wrong:
        assert asked(page([row()]), run).error == "end out of place"
    assert asked(page([row()], deductions={}), vent(9), air(9, "entrance-open")).error is None


def test_names_that_nothing_explains() -> None:
    """In the deductions, and in the job; a page's own fitting explains its name."""
    wrong = page([row()], deductions={"elbow-90-lnog": "3 ft"})
    assert asked(wrong, vent(9)).error == "unknown name in the table"
    assert asked(page([row()]), vent(9, "elbow-90-lnog", 1)).error == "unknown fitting"
    own = page([row()], deductions={"wall-kit": "5 ft"}, fitting=[{"name": "wall-kit", "kind": "terminal"}])
    assert asked(own, vent(9, "wall-kit")).figures["vent"].equivalent == pytest.approx(14 * FT)


def test_gas_hotter_than_the_pipe() -> None:
    """PVC takes 140 degF, CPVC 194 degF; exactly the limit is not hotter."""
    hot = furnace()
    hot["rate"][0]["flue_temperature"] = "141 degF"
    assert came_to(asked(page([row()]), vent(9, "terminal-open"), plant=[hot])) == ("unsafe", {"gas too hot"})
    assert asked(page([row()]), vent(9, "terminal-open", material="cpvc-40"), plant=[hot]).verdict == "within"
    hot["rate"][0]["flue_temperature"] = "140 degF"
    assert asked(page([row()]), vent(9, "terminal-open"), plant=[hot]).verdict == "within"


def test_what_settles() -> None:
    """Over before short, not covered and incomplete."""
    runs = vent(91, "terminal-open"), air(9, "coupling", "terminal-open")
    assert asked(page([row()]), *runs).verdict == "over"
    assert asked(page([row()]), *runs).runs == {"vent": "over", "air": "incomplete"}
