"""The takeoff: everything in the runs is bought once, nothing is left out in silence."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import pytest

from ventsize.catalog.library import load_catalog
from ventsize.catalog.properties import Nominal
from ventsize.check.inputs import Inputs, prepare
from ventsize.finding import Finding, length
from ventsize.jobfile.job import job_from_text
from ventsize.jobfile.problems import InputError
from ventsize.run.model import Section
from ventsize.studies.proposal import proposal
from ventsize.studies.takeoff import fittings_at_joints, takeoff
from ventsize.studies.takeoff.joints import joints_of
from ventsize.studies.takeoff.practice import EndToCenter, Practice, read_practice, with_stock
from ventsize.studies.takeoff.tally import Takeoff

FOOT, INCH = 0.3048, 0.0254

HEAD = """
title = "Job"
[[appliance]]
name = "furnace"
fuel = "natural gas"
[[appliance.rate]]
name = "high"
input = "80 kBtu/h"
excess_air = 0.35
flue_temperature = "110 degF"
[[run]]
name = "vent"
carries = "flue gas"
between = ["furnace", "outdoors"]
size = "3 in"
"""


def job(rest: str, material: str = "pvc-40") -> Inputs:
    """A job of one run."""
    return prepare(job_from_text(f"{HEAD}material = '{material}'\n{rest}", file="job"), file="job")


@pytest.fixture
def practice(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Practice:
    """The shipped figures, whatever the user's own are."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    return read_practice()


def codes(found: Iterable[Finding]) -> set[str]:
    """Their codes."""
    return {one.code for one in found}


def exact(practice: Practice, **reaches: float) -> Practice:
    """With these center-to-end lengths, in inches at any size, and nothing taken off for the other fittings."""
    names = {end.fitting for end in practice.ends}
    given = {name.replace("_", "-"): value for name, value in reaches.items()}
    ends = [EndToCenter(fitting=name, bores=0.0, source="invented") for name in sorted(names - given.keys())]
    for name, value in given.items():
        for size in (2, 3, 4):
            nominal = Nominal(size * INCH, f"{size} in")
            ends.append(EndToCenter(fitting=name, size=nominal, length=value * INCH, source="invented"))
    return replace(practice, ends=tuple(ends))


def counts(taken: Takeoff) -> dict[str, int]:
    """How many of each, whatever its size."""
    found: dict[str, int] = {}
    for item in taken.items:
        found[item.what] = found.get(item.what, 0) + item.quantity
    return found


LAID_OUT = """pieces = [
  { pipe = "12 ft", heading = "up" },
  { fitting = "elbow-90-long" },
  { pipe = "9 ft", heading = "east", surroundings = "attic" },
  { pipe = "4 ft", heading = "east" },
  { fitting = "elbow-90-long" },
  { pipe = "3 ft", heading = "north" },
  { fitting = "terminal-open" },
]"""


def test_worked_by_hand(practice: Practice) -> None:
    """12, 13 (two pipes in one line) and 3 ft from 10-ft lengths.

    12 = 10 + 2 and 13 = 10 + 3, each with a coupling; the stubs 2, 3, 3 come from one length more. Supports: 12 ft
    upright at 10 ft are 2; 13 ft and 3 ft at 4 ft are 4 and 1 (2018 IRC Table P2605.1: 4 ft level, 10 ft upright).
    Joints: two elbows and two couplings of two each, 8. The plain open end is not bought; it heads north, through a
    wall, which takes a plate on either side and sealant (common practice, no source).
    """
    taken = takeoff(job(LAID_OUT), practice=exact(practice))
    assert taken.complete and taken.joints == 8
    pipework = {"pipe": 3, "coupling": 2, "elbow-90-long": 2, "hanger": 7, "cement": 1, "primer": 1}
    assert counts(taken) == pipework | {"wall plate": 2, "sealant": 1}
    (cuts,) = taken.cut_lists
    assert sorted(round(cut.length / FOOT, 6) for cut in cuts.cuts) == [2, 3, 3, 10, 10]
    assert cuts.plan.fewest and cuts.plan.least_waste


def test_pieces_make_the_run(practice: Practice) -> None:
    """What is cut is as long as the straight pipe of the run, where nothing is taken off."""
    inputs = job(LAID_OUT)
    taken = takeoff(inputs, practice=exact(practice))
    total = math.fsum(cut.length for cuts in taken.cut_lists for cut in cuts.cuts)
    assert math.isclose(total, inputs.graph.runs["vent"].straight_length)
    assert "takeoff-reach-estimated" not in codes(taken.notes) and not taken.estimated


def test_fittings_take_off_their_length(practice: Practice) -> None:
    """An elbow with 3 in from center to pipe end takes 3 in off each pipe in it: 6 in off the one between two."""
    taken = takeoff(job(LAID_OUT), practice=exact(practice, elbow_90_long=3))
    off = sorted(round(cut.taken_off / INCH, 6) for cuts in taken.cut_lists for cut in cuts.cuts if cut.taken_off)
    assert off == [3, 3, 6]
    assert "takeoff-reach" in codes(taken.notes) and not taken.estimated


def test_fittings_too_long_for_the_pipe_between_them(practice: Practice) -> None:
    """Two elbows closer than their own lengths cannot be built, and that is said."""
    taken = takeoff(job(LAID_OUT.replace("3 ft", "1 ft")), practice=exact(practice, elbow_90_long=20))
    assert codes(taken.missing) == {"takeoff-no-room"}


def test_a_stub_is_no_stub(practice: Practice) -> None:
    """A rest too short to keep is not glued on as a stub: the last two pieces share the length."""
    taken = takeoff(job("pieces = [ { pipe = '20 ft 6 in', heading = 'up' } ]"), practice=practice)
    lengths = [cut.length / FOOT for cuts in taken.cut_lists for cut in cuts.cuts]
    assert lengths == pytest.approx([10, 5.25, 5.25])


def test_what_may_not_be_joined(practice: Practice) -> None:
    """A liner longer than any length sold is not quietly joined."""
    rest = "pieces = [ { pipe = '40 ft', heading = 'up' } ]"
    taken = takeoff(job(rest, "flexible-liner-corrugated"), practice=practice)
    assert not taken.complete and "pipe" not in counts(taken)
    (lack,) = (found for found in taken.missing if found.code == "takeoff-not-joinable")
    assert lack.values["length"] == length(pytest.approx(40 * FOOT)) and lack.values["stock"] == length(35 * FOOT)
    short = takeoff(job(rest.replace("40", "30"), "flexible-liner-corrugated"), practice=practice)
    assert counts(short)["pipe"] == 1 and short.cut_lists[0].plan.bars[0].stock == pytest.approx(35 * FOOT)


def test_socketed_pipe(practice: Practice) -> None:
    """Push-fit pipe joins by its own sockets: 4.3 m is 2 + 2 + 0.5 cut to 0.3, no coupling, one piece a length."""
    text = HEAD.replace('size = "3 in"', 'size = "80 mm"') + "material = 'pp-metric'\n"
    text += "pieces = [ { pipe = '4.3 m', heading = 'up' }, { fitting = 'elbow-90-long' }, { pipe = '20 cm' } ]"
    taken = takeoff(prepare(job_from_text(text, file="job"), file="job"), practice=exact(practice))
    assert "coupling" not in counts(taken) and "cement" not in counts(taken)
    (cuts,) = taken.cut_lists
    bought = {
        (round(bar.stock, 3), tuple(round(piece, 3) for piece in bar.pieces)): bar.count for bar in cuts.plan.bars
    }
    assert bought == {(2.0, (2.0,)): 2, (0.5, (0.3,)): 1, (0.25, (0.2,)): 1}
    assert cuts.plan.fewest and cuts.plan.least_waste


def test_the_opening_is_by_where_the_pipe_heads(practice: Practice) -> None:
    """Up is through the roof; without a heading nothing is counted, and that is said."""
    end = "{ fitting = 'terminal-open' } ]"
    roof = takeoff(job(f"pieces = [ {{ pipe = '8 ft', heading = 'up' }}, {end}"), practice=practice)
    assert counts(roof)["roof flashing"] == 1 and "wall plate" not in counts(roof) and roof.complete
    unknown = takeoff(job(f"pieces = [ {{ pipe = '8 ft' }}, {end}"), practice=practice)
    assert "roof flashing" not in counts(unknown) and "takeoff-opening" in codes(unknown.missing)


def test_dimensions_from_memory_are_said_to_be(practice: Practice) -> None:
    """What is taken off by a shipped figure carries its source, which tells to measure before cutting."""
    taken = takeoff(job(LAID_OUT.replace("elbow-90-long", "elbow-90-drain")), practice=practice)
    (note,) = (found for found in taken.notes if found.code == "takeoff-reach")
    assert note.values["length"] == length(3.0625 * INCH) and "measure one" in str(note.values["source"])


def test_a_counted_run_has_no_cut_list(practice: Practice) -> None:
    """Of a total of feet only the least number of lengths is known, and the takeoff is not called complete."""
    taken = takeoff(job("straight = '24 ft'\nfittings = { elbow-90-long = 3 }"), practice=practice)
    assert counts(taken)["pipe"] == 3 and counts(taken)["elbow-90-long"] == 3
    assert not taken.complete and taken.cut_lists == ()


def test_a_material_nobody_described(practice: Practice) -> None:
    """Pipe without a known stock length is missing, never left out in silence."""
    taken = takeoff(job("pieces = [ { pipe = '8 ft', heading = 'up' } ]", "stainless-thin"), practice=practice)
    assert "takeoff-no-stock" in codes(taken.missing)


def test_insulation_in_its_lengths(practice: Practice) -> None:
    """13 ft of insulation are three lengths of 6 ft."""
    rest = "insulation = { thickness = '1 in' }\npieces = [ { pipe = '13 ft', heading = 'up' } ]"
    taken = takeoff(job(rest), practice=practice)
    assert counts(taken)["insulation"] == 3


def test_a_change_of_size_is_one_fitting(practice: Practice) -> None:
    """It has both its sizes, the wider first, and each size its own cut list."""
    pieces = "pieces = [ { pipe = '5 ft' }, { fitting = 'increaser', size = '4 in' }, { pipe = '6 ft' } ]"
    taken = takeoff(job(pieces), practice=practice)
    (item,) = (item for item in taken.items if item.what == "increaser")
    assert item.label == "4 in x 3 in" and item.sizes == pytest.approx((4 * INCH, 3 * INCH))
    assert [cuts.label for cuts in taken.cut_lists] == ["3 in", "4 in"]


def test_other_stock(practice: Practice) -> None:
    """From 20-ft lengths the 13-ft straight needs no coupling."""
    taken = takeoff(job(LAID_OUT), practice=with_stock(practice, lengths=(20 * FOOT,)))
    assert "coupling" not in counts(taken) and counts(taken)["pipe"] == 2


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("bores_low = 0.6", "bores_low = 1.1", "not in order"),
        ("bores = 1.0\n", "", "both or neither"),
        ("bores = 1.0\n", "length = '1 in'\n", "a length and no size"),
        ('kerf = "1/16 in"', 'kerf = "-1 in"', "kerf"),
        ('kerf = "1/16 in"', "kerf = 2", "not text with a unit"),
        ('lengths = ["10 ft"]', "lengths = []", "lengths"),
        ('lengths = ["10 ft"]', 'lengths = ["0.01 mm"]', "too short to be sold"),
        ("joints_per_can = 20", "joints_per_can = 0", "joints_per_can"),
        ("\n[saw]\n", "\n[sow]\n", "unknown key 'sow'"),
        ('material = "abs-40"', 'material = "pvc-40"', "listed twice"),
    ],
)
def test_figures_that_cannot_be(old: str, new: str, said: str, tmp_path: Path) -> None:
    """One clear sentence, with the file and the place."""
    from ventsize.catalog.folders import shipped_table

    text = shipped_table("takeoff.toml").read_text(encoding="utf-8")
    assert old in text
    path = tmp_path / "takeoff.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(InputError) as fault:
        read_practice(path)
    assert said in str(fault.value) and str(path) in str(fault.value)


def test_every_fitting_shipped_has_a_reach(practice: Practice) -> None:
    """In every size of every material: a figure, its range if it is estimated, and where it comes from."""
    catalog = load_catalog()
    for material in catalog.pipes.values():
        for size in material.sizes:
            section = Section(material=material, size=size)
            for fitting in catalog.fittings.values():
                reach = practice.reach(fitting, section)
                assert 0 <= reach.low <= reach.length <= reach.high <= 2 * size.bore and reach.source
                at_end = fitting.kind in ("terminal", "entrance")
                assert at_end or reach.length > 0, f"nothing is known of {fitting.name}"


def test_an_elbow_of_the_jobs_own_is_estimated_by_its_shape(practice: Practice) -> None:
    """Radius 2 bores, 90 degrees: tangent point 2 bores from the center; 1.85 of it for the middle, 0.15 of straight.

    The middle of 1.7 and 2.0 bores is 1.85, and 0.15 more is 2.0; the range is 1.7 to 2.2 + 0.3 bores (from memory of
    how molded bends are made: no source).
    """
    own = replace(load_catalog().fittings["elbow-90-long"], name="own-bend", bend_diameters=2.0)
    section = job(LAID_OUT).graph.runs["vent"].first_section
    reach = practice.reach(own, section)
    assert [value / section.bore for value in (reach.low, reach.length, reach.high)] == pytest.approx([1.7, 2.0, 2.5])


def test_an_estimate_shows_what_the_cost_hangs_on(practice: Practice) -> None:
    """A 10 ft 3 in straight between an end and an elbow that takes off 2 to 4 in: one length, or two and a coupling."""
    pieces = "pieces = [ { pipe = '10 ft 3 in', heading = 'up' }, { fitting = 'elbow-90-long' }, { pipe = '1 ft' } ]"
    size = Nominal(3 * INCH, "3 in")
    end = EndToCenter(
        fitting="elbow-90-long", size=size, length=3 * INCH, low=2 * INCH, high=4 * INCH, source="invented"
    )
    taken = takeoff(job(pieces), practice=replace(practice, ends=(end,)))
    assert codes(taken.estimated) == {"takeoff-reach-estimated"} and "coupling" not in counts(taken)
    low, *_ = taken.ends_of_range
    assert {item.what for item in low} - {item.what for item in taken.items} == {"coupling"}


def test_a_slice_too_thin_to_saw_is_no_rest(practice: Practice) -> None:
    """5 ft and 4 ft 11 3/4 in from 10 ft: after one cut of 1/16 in, 3/16 in are left on the last piece."""
    pieces = "pieces = [ { pipe = '5 ft' }, { fitting = 'elbow-90-long' }, { pipe = '4 ft 11 3/4 in' } ]"
    taken = takeoff(job(pieces), practice=exact(practice))
    (bar,) = taken.cut_lists[0].plan.bars
    assert bar.offcut == 0 and bar.over == pytest.approx(3 / 16 * INCH)
    plan = taken.cut_lists[0].plan
    assert plan.kept == 0 and plan.waste == pytest.approx(INCH / 4)


def test_pieces_rests_and_waste_make_up_what_is_bought(practice: Practice) -> None:
    """Nothing of the pipe that is bought is lost or counted twice."""
    for cuts in takeoff(job(LAID_OUT), practice=practice).cut_lists:
        pieces = math.fsum(cut.length for cut in cuts.cuts)
        assert pieces + cuts.plan.kept + cuts.plan.waste == pytest.approx(cuts.plan.bought)


def test_pipe_at_a_tee_is_cut_to_the_tee(practice: Practice) -> None:
    """Where runs meet the tee takes its length off each of the three pipes, and makes three joints."""
    text = HEAD.replace('between = ["furnace", "outdoors"]', 'between = ["furnace", "tee-1"]')
    text += "material = 'pvc-40'\npieces = [ { pipe = '4 ft', heading = 'up' } ]\n"
    for name, between in (("other", "['boiler', 'tee-1']"), ("common", "['tee-1', 'outdoors']")):
        text += f"[[run]]\nname = '{name}'\ncarries = 'flue gas'\nbetween = {between}\nsize = '3 in'\n"
        text += "material = 'pvc-40'\npieces = [ { pipe = '4 ft', heading = 'up' } ]\n"
    text += "[[joint]]\nname = 'tee-1'\nfitting = 'tee'\nin_line = ['vent', 'common']\n"
    appliance = HEAD[HEAD.index("[[appliance]]") : HEAD.index("[[run]]")].replace("furnace", "boiler")
    inputs = prepare(job_from_text(f"{text}{appliance}", file="job"), file="job")
    taken = takeoff(inputs, practice=exact(practice, tee=2))
    (cuts,) = taken.cut_lists
    assert [round(cut.length / INCH, 6) for cut in cuts.cuts] == [46, 46, 46] and taken.joints == 3


def test_fittings_with_no_pipe_between_are_pointed_at(practice: Practice) -> None:
    """Two 45s side by side need a short piece of pipe between them, which nobody listed; an open end needs none."""
    pieces = LAID_OUT.replace('{ fitting = "elbow-90-long" }', "{ fitting = 'elbow-45' }, { fitting = 'elbow-45' }", 1)
    (close,) = (found for found in takeoff(job(pieces), practice=practice).notes if found.code == "takeoff-close")
    assert close.where.piece == 3 and close.values["first"] == "elbow-45"
    assert "takeoff-close" not in codes(takeoff(job(LAID_OUT), practice=practice).notes)


def test_joints_are_counted_one_way(practice: Practice) -> None:
    """The takeoff's joints are those that options and proposals count."""
    inputs = job(LAID_OUT)
    at_joints = fittings_at_joints(inputs.graph, inputs.catalog)
    by_run = sum(joints_of(run, practice, at_joints) for run in inputs.graph.runs.values())
    (way,) = proposal([inputs], practice=practice).ways
    assert by_run == takeoff(inputs, practice=practice).joints == way.joints
