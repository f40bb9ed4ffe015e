"""The takeoff: everything in the runs is bought once, nothing is left out in silence."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from ventsize.catalog.properties import Nominal
from ventsize.check.inputs import Inputs, prepare
from ventsize.jobfile.job import job_from_text
from ventsize.jobfile.problems import InputError
from ventsize.studies.takeoff import takeoff
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
    taken = takeoff(job(LAID_OUT), practice=practice)
    assert taken.complete
    pipework = {"pipe": 3, "coupling": 2, "elbow-90-long": 2, "hanger": 7, "cement": 1, "primer": 1}
    assert counts(taken) == pipework | {"wall plate": 2, "sealant": 1}
    (cuts,) = taken.cut_lists
    assert sorted(round(cut.length / FOOT, 6) for cut in cuts.cuts) == [2, 3, 3, 10, 10]
    assert cuts.plan.fewest and cuts.plan.least_waste


def test_pieces_make_the_run(practice: Practice) -> None:
    """What is cut is as long as the straight pipe of the run, where nothing is taken off."""
    inputs = job(LAID_OUT)
    taken = takeoff(inputs, practice=practice)
    total = math.fsum(cut.length for cuts in taken.cut_lists for cut in cuts.cuts)
    assert math.isclose(total, inputs.graph.runs["vent"].straight_length)
    assert any("dimensions not known" in note for note in taken.notes)


def test_fittings_take_off_their_length(practice: Practice) -> None:
    """An elbow with 3 in from center to pipe end takes 3 in off each pipe in it: 6 in off the one between two."""
    size = Nominal(3 * INCH, "3 in")
    end = EndToCenter(fitting="elbow-90-long", size=size, length=3 * INCH, source="invented")
    taken = takeoff(job(LAID_OUT), practice=replace(practice, ends=(end,)))
    off = sorted(round(cut.taken_off / INCH, 6) for cuts in taken.cut_lists for cut in cuts.cuts if cut.taken_off)
    assert off == [3, 3, 6]
    assert not any("dimensions" in note for note in taken.notes)


def test_fittings_too_long_for_the_pipe_between_them(practice: Practice) -> None:
    """Two elbows closer than their own lengths cannot be built, and that is said."""
    size = Nominal(3 * INCH, "3 in")
    end = EndToCenter(fitting="elbow-90-long", size=size, length=20 * INCH, source="invented")
    taken = takeoff(job(LAID_OUT.replace("3 ft", "1 ft")), practice=replace(practice, ends=(end,)))
    assert any("more than its length" in sentence for sentence in taken.missing)


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
    assert any("40 ft" in sentence and "may not be joined" in sentence for sentence in taken.missing)
    short = takeoff(job(rest.replace("40", "30"), "flexible-liner-corrugated"), practice=practice)
    assert counts(short)["pipe"] == 1 and short.cut_lists[0].plan.bars[0].stock == pytest.approx(35 * FOOT)


def test_socketed_pipe(practice: Practice) -> None:
    """Push-fit pipe joins by its own sockets: 4.3 m is 2 + 2 + 0.5 cut to 0.3, no coupling, one piece a length."""
    text = HEAD.replace('size = "3 in"', 'size = "80 mm"') + "material = 'pp-metric'\n"
    text += "pieces = [ { pipe = '4.3 m', heading = 'up' }, { fitting = 'elbow-90-long' }, { pipe = '20 cm' } ]"
    taken = takeoff(prepare(job_from_text(text, file="job"), file="job"), practice=practice)
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
    assert "roof flashing" not in counts(unknown) and any("wall or a roof" in said for said in unknown.missing)


def test_dimensions_from_memory_are_said_to_be(practice: Practice) -> None:
    """What is taken off by a shipped figure carries its source, which tells to measure before cutting."""
    taken = takeoff(job(LAID_OUT.replace("elbow-90-long", "elbow-90-short")), practice=practice)
    assert any("3 1/16 in" in note and "measure one before you cut" in note for note in taken.notes)


def test_a_counted_run_has_no_cut_list(practice: Practice) -> None:
    """Of a total of feet only the least number of lengths is known, and the takeoff is not called complete."""
    taken = takeoff(job("straight = '24 ft'\nfittings = { elbow-90-long = 3 }"), practice=practice)
    assert counts(taken)["pipe"] == 3 and counts(taken)["elbow-90-long"] == 3
    assert not taken.complete and taken.cut_lists == ()


def test_a_material_nobody_described(practice: Practice) -> None:
    """Pipe without a known stock length is missing, never left out in silence."""
    taken = takeoff(job("pieces = [ { pipe = '8 ft', heading = 'up' } ]", "stainless-thin"), practice=practice)
    assert any("no stock length is known" in sentence for sentence in taken.missing)


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
