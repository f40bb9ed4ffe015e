"""The naive reading where the contract can be read in two ways: the one taken, by hand."""

from __future__ import annotations

from typing import Any

import pytest

from tests.contract.by_hand import air, asked, counted, furnace, page, row, vent
from tests.contract.reading import Data


def verdict(table: Data, *runs: Data, **more: Any) -> str:
    """The naive verdict."""
    return asked(table, *runs, site={"altitude": "500 ft", "design_outdoor": "-5 degF"}, **more).verdict


def test_tees_that_turn() -> None:
    """One elbow and a tee-branch are two: 50 ft for two, 60 for one; 30 degrees are not among most_elbows."""
    table = page([counted([70, 60, 50])], deductions={})
    assert verdict(table, vent(55, "elbow-90-long", "tee-branch")) == "over"
    limited = page([row()], deductions={}, limits={"most_elbows": 1})
    assert verdict(limited, vent(5, "elbow-90-long", "tee-branch")) == "over"
    assert verdict(limited, vent(5, "elbow-90-long", "elbow-30")) == "within"
    assert verdict(limited, vent(5, "elbow-90-long", "tee-through")) == "within"


def test_sloped_pipe_and_pipe_going_down() -> None:
    """20 ft east that rise 6 in, of 10 ft: over; that fall 6 in: within."""
    table = page([row()], deductions={}, limits={"longest_rise": "10 ft"})
    sloped = {"pipe": "20 ft", "heading": "east", "rise": "6 in"}
    assert verdict(table, vent(sloped)) == "over"
    assert verdict(table, vent({**sloped, "rise": "-6 in"})) == "within"
    assert verdict(table, vent((11, "down"))) == "within"


def test_which_way_air_goes_up() -> None:
    """Walking outward it goes down: the air goes up."""
    table = page([row()], deductions={}, limits={"longest_rise": "10 ft"})
    assert verdict(table, vent(5, air_end()), air((11, "down"))) == "over"
    assert verdict(table, vent(5), air((11, "up"))) == "over"
    assert verdict(table, vent(5), air((9, "up"))) == "within"


def air_end() -> str:
    """An end that costs nothing."""
    return "terminal-open"


def test_the_same_two_sizes_in_both_pipes() -> None:
    """3 and 4 in in each; 3 and 4 against 3 is not the same however it is read."""
    table = page([row(), row(size="4 in")], deductions={}, limits={"same_size": True})
    grow = {"fitting": "increaser", "size": "4 in"}
    assert verdict(table, vent(5, grow, 5), air(5, grow, 5)) == "over"
    assert verdict(table, vent(5, grow, 5), air(5)) == "over"
    assert verdict(table, vent(5), air(5, grow, 5)) == "over"


def test_exposed_pipe_of_two_kinds() -> None:
    """8 ft bare of 10 and 8 ft insulated of 20: 16 of 10, 11 ft bare is over in both."""
    exposed = [
        {"size": "3 in", "outdoor": "-10 degF", "insulation": "0 in", "allowable": "10 ft"},
        {"size": "3 in", "outdoor": "-20 degF", "insulation": "0 in", "allowable": "7 ft"},
        {"size": "3 in", "outdoor": "-10 degF", "insulation": "1/2 in", "allowable": "20 ft"},
    ]
    table = page([row()], exposed=exposed)
    bare: Data = {"pipe": "8 ft", "surroundings": "attic"}
    wrapped = {**bare, "insulation": {"thickness": "1/2 in"}}
    assert verdict(table, vent(bare, wrapped, "terminal-open")) == "over"
    longer = {**bare, "pipe": "11 ft"}
    assert verdict(table, vent(longer, wrapped, "terminal-open")) == "over"
    assert verdict(table, vent(bare, "terminal-open")) == "within"  # -10 governs, not -20
    part = {"pipe": "1 ft"}
    assert verdict(table, vent(bare, part, "terminal-open")) == "incomplete"


def test_included_elbows_of_runs_together() -> None:
    """Vent 40 + long 3, air 40 + long 3, one included: 83 of 82 with one free."""
    table = page([row(82, elbows_included=1)], counts="runs together")
    runs = vent(40, "elbow-90-long", "terminal-open"), air(40, "elbow-90-long", "terminal-open")
    assert verdict(table, *runs) == "over"


def test_minimum_of_runs_together() -> None:
    """Vent 20 ft, air 3 ft, at least 5: the air is short, the sum is not."""
    table = page([row(minimum="5 ft")], counts="runs together")
    runs = vent(20, "terminal-open"), air(3, "terminal-open")
    assert verdict(table, *runs) == "short"
    runs = vent(1, "terminal-open"), air(3, "terminal-open")
    assert verdict(table, *runs) == "short"


def test_minimum_with_fittings() -> None:
    """3 ft and an elbow at 3 ft, at least 5."""
    table = page([row(minimum="5 ft")])
    assert verdict(table, vent(3, "elbow-90-long", "terminal-open")) == "short"


def test_a_room_on_a_table_for_runs_together() -> None:
    """A [[room]] names the appliance, `air` is not said."""
    silent = furnace()
    del silent["air"]
    table = page([row()], counts="runs together")
    room = [{"name": "basement", "appliances": ["furnace"]}]
    assert verdict(table, vent(5, "terminal-open"), plant=[silent], room=room) == "incomplete"


def test_a_blank_line_of_the_page() -> None:
    """80 kBtu/h stands on the page for 2 in only; 3 in at 60 and 100."""
    table = page([row(input="60 kBtu/h"), row(size="2 in"), row(input="100 kBtu/h")])
    assert verdict(table, vent(5, "terminal-open")) == "not covered"


def test_a_row_for_an_end_that_cannot_change_anything() -> None:
    """The run is at 80; the row that asks for the end is at 100."""
    table = page([row(), row(input="100 kBtu/h", ends=["terminal-open"])])
    assert verdict(table, vent(5)) == "incomplete"


def test_pairs_over_a_way() -> None:
    """One 45 in each of two runs: two begun pairs at 3 ft: 20 + 6 of 24."""
    first = vent(10, "elbow-45", between=["furnace", "half way"], name="first")
    second = vent(10, "elbow-45", "terminal-open", between=["half way", "outdoors"], name="second")
    assert verdict(page([row(24)]), first, second) == "over"


@pytest.mark.parametrize(("feet", "comes_to"), [(30, "over"), (29, "within")])
def test_way_with_a_change_of_size_in_shares(feet: int, comes_to: str) -> None:
    """The 4 ft of the change count in 3 in: 14 / 40 + 30 / 46 = 1.002, and with 29 ft 0.980."""
    table = page([row(40), row(46, size="4 in")], mixed_sizes="shares")
    run = vent(10, {"fitting": "increaser", "size": "4 in"}, feet, "terminal-open")
    assert verdict(table, run) == comes_to


def test_a_later_elbow() -> None:
    """One included; a 45, then a 90 that no longer fits, then a 45: 20 + 3 + pair 3."""
    table = page([row(24, elbows_included=1)])
    run = vent(20, "elbow-45", "elbow-90-long", "elbow-45", "terminal-open")
    assert verdict(table, run) == "over"


def test_one_figure_at_a_change_of_size() -> None:
    """The short elbow has figures for 2 and 3 in; grown to 4 in at it there is none."""
    run = vent(10, {"fitting": "elbow-90-short", "size": "4 in"}, 10, "terminal-open")
    table = page([row(), row(size="4 in")])
    assert verdict(table, run) == "incomplete"


def test_a_given_length_in_an_elbow_count_row() -> None:
    """48 ft and an elbow of table_length 3 ft, of 50 at one elbow."""
    table = page([counted([60, 50])], deductions={})
    run = vent(24, {"fitting": "elbow-90-long", "table_length": "3 ft"}, 24, "terminal-open")
    assert verdict(table, run) == "over"


def test_a_pressure_row_on_a_table_that_deducts() -> None:
    """A coupling without a deduction."""
    pressed = row()
    del pressed["allowable"]
    table = page([{**pressed, "allowable_pressure": "1 in w.c."}])
    run = vent(5, "coupling", "terminal-open")
    assert verdict(table, run) == "within"


def test_air_by_another_table() -> None:
    """The vent's table counts runs together, the air pipe names none."""
    other = air(5, "terminal-open")
    del other["table"]
    table = page([row()], counts="runs together")
    assert verdict(table, vent(5, "terminal-open"), other) == "incomplete"


def test_a_part_of_a_way_and_its_end() -> None:
    """Both runs are looked up in rows for an open end."""
    first = vent(10, between=["furnace", "half way"], name="first")
    second = vent(10, "terminal-open", between=["half way", "outdoors"], name="second")
    table = page([row(ends=["terminal-open"])])
    assert verdict(table, first, second) == "within"


def test_a_turn_at_a_joint() -> None:
    """East, then north beyond a plain joint of two runs."""
    first = vent((10, "east"), between=["furnace", "half way"], name="first")
    second = vent((10, "north"), "terminal-open", between=["half way", "outdoors"], name="second")
    assert verdict(page([row()]), first, second) == "incomplete"


def test_a_band_beside_none() -> None:
    """One row to 4,500 ft, one without a band."""
    bare = row(50)
    del bare["altitude"]
    table = page([row(), bare])
    assert verdict(table, vent(60, "terminal-open")) == "error"


def test_an_end_in_elbows_each() -> None:
    """The page counts a turned-down end as an elbow, and has no word on an open one."""
    table = page([counted([60])], deductions={}, elbows_each={"terminal-elbow-down": 1})
    assert verdict(table, vent(5)) == "within"


def test_a_change_of_size_between_runs() -> None:
    """20 ft in 3 in, then 20 ft in 4 in: 44 ft with the increaser that joins them, of 42."""
    first = vent(20, between=["furnace", "half way"], name="first")
    second = vent(20, "terminal-open", between=["half way", "outdoors"], name="second", size="4 in")
    table = page([row(42), row(42, size="4 in")])
    assert verdict(table, first, second) == "over"


def test_a_fitting_with_figures_for_other_sizes() -> None:
    """A short elbow has figures for 2 and 3 in; the run is of 4 in, by number of elbows."""
    table = page([counted([60, 50], size="4 in")])
    run = vent(10, "elbow-90-short", "terminal-open", size="4 in")
    assert verdict(table, run) == "incomplete"


def test_the_material_of_one_piece() -> None:
    """10 ft of CPVC, then the run's PVC: not all of one material; and counted double, 10 x 2 + 10."""
    table = page([row(35)], counts_as={"cpvc-40": 2.0}, deductions={})
    run = vent({"pipe": "10 ft", "material": "cpvc-40"}, 10)
    assert verdict(table, run) == "within"
    table = page([row(materials=["cpvc-40"])], deductions={})
    assert verdict(table, run) == "not covered"


def test_elbows_in_a_table_of_both_kinds_of_rows() -> None:
    """In 3 in 50 ft at one elbow, in 4 in a plain row: 48 ft and an elbow with a deduction of 3 ft."""
    table = page([counted([60, 50]), row(size="4 in")])
    run = vent(48, "elbow-90-long", "terminal-open")
    assert verdict(table, run) == "within"
