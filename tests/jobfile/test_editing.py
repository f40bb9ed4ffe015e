"""Edits do what they say, change nothing that was handed out, and refuse in one sentence what makes no sense."""

from __future__ import annotations

import copy
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ventsize.jobfile import document, editing, job
from ventsize.jobfile.editing import Data, EditError
from ventsize.jobfile.editing.routes import still_to_place, take_from_count
from ventsize.jobfile.editing.values import KEY_ORDER

UP, EAST = {"pipe": "4 ft", "heading": "up"}, {"pipe": "18 ft", "heading": "east"}
ELBOW, END = {"fitting": "elbow-90-long"}, {"fitting": "terminal-open"}
JOB: Data = tomllib.loads("""
title = "Shed"
[[appliance]]
name = "heater"
fuel = "natural gas"
[[appliance.rate]]
name = "high"
input = "80 kBtu/h"
excess_air = 0.35
flue_temperature = "110 degF"
[[run]]
name = "vent"
carries = "flue gas"
between = ["heater", "tee-1"]
size = "3 in"
material = "pvc-40"
pieces = [{ pipe = "4 ft", heading = "up" }, { fitting = "elbow-90-long" }, { pipe = "18 ft", heading = "east" },
  { fitting = "terminal-open" }]
[[run]]
name = "common"
carries = "flue gas"
between = ["tee-1", "outdoors"]
size = "3 in"
material = "pvc-40"
table = "t.toml"
straight = "27 ft"
rise = "3 ft"
fittings = { "elbow-90-long" = 3, "terminal-open" = 1 }
[[joint]]
name = "tee-1"
fitting = "tee"
in_line = ["vent", "common"]
""")


@pytest.fixture(autouse=True)
def nothing_changed() -> Any:
    """Whatever a test does to the job, the job that was handed out is as it was."""
    before = copy.deepcopy(JOB)
    yield
    assert before == JOB


def pieces(data: Data, run: int = 0) -> list[Any]:
    """The pieces of a run."""
    return editing.pieces_of(data, run)


def test_values() -> None:
    """A value typed, cleared, and typed where there was no table yet; all else is shared, not copied."""
    data = editing.put(JOB, ("site", "altitude"), "5200 ft")
    assert data["site"] == {"altitude": "5200 ft"} and list(data)[:2] == ["title", "site"]
    assert data["run"] is JOB["run"]
    assert editing.put(data, ("site", "altitude"), None)["site"] == {}
    assert editing.clear(JOB, ("site", "altitude")) is JOB
    assert list(editing.put(JOB, ("run", 0, "table"), "t.toml")["run"][0])[-2:] == ["table", "pieces"]
    assert len(editing.clear(JOB, ("appliance", 0, "rate", 0))["appliance"][0]["rate"]) == 0


@pytest.mark.parametrize(
    "path", [("run", 7, "size"), ("title", "x"), ("run", "vent"), ("title", 0), ("appliance", 0, "rate", 3, "input")]
)
def test_values_nowhere(path: editing.Path) -> None:
    """A path that leads nowhere is one sentence."""
    with pytest.raises(EditError):
        editing.put(JOB, path, "x")


def test_pieces_in_and_out() -> None:
    """Put in, taken out, copied."""
    assert pieces(editing.insert_pieces(JOB, 0, 1, [ELBOW, UP])) == [UP, ELBOW, UP, ELBOW, EAST, END]
    assert pieces(editing.insert_pieces(JOB, 0, 99, [ELBOW]))[-1] == ELBOW
    assert pieces(editing.remove_pieces(JOB, 0, {0, 3})) == [ELBOW, EAST]
    assert pieces(editing.duplicate_pieces(JOB, 0, [0, 1])) == [UP, ELBOW, UP, ELBOW, EAST, END]
    assert editing.duplicate_pieces(JOB, 0, []) is JOB


def test_pieces_moved() -> None:
    """A selection moves together, as far as the run goes."""
    assert pieces(editing.move_pieces(JOB, 0, [0], 2)) == [ELBOW, EAST, UP, END]
    assert pieces(editing.move_pieces(JOB, 0, [1, 2], -5)) == [ELBOW, EAST, UP, END]
    assert pieces(editing.move_pieces(JOB, 0, [0, 2], 1)) == [ELBOW, UP, END, EAST]
    assert editing.places_after_move([1, 2], 9, 4) == [2, 3]
    assert editing.places_after_move([], 1, 4) == []


@given(st.sets(st.integers(0, 3)), st.integers(-6, 6))
def test_moving_loses_no_piece(places: set[int], by: int) -> None:
    """Whatever moves: the same pieces, and those selected are where they are said to be."""
    moved = pieces(editing.move_pieces(JOB, 0, places, by))
    assert sorted(map(str, moved)) == sorted(map(str, pieces(JOB)))
    assert [moved[n] for n in editing.places_after_move(places, by, 4)] == editing.pieces_at(JOB, 0, places)


def test_fittings_replaced() -> None:
    """All elbows to another kind: in the layout, in the count, or in a selection only."""
    data = editing.replace_fitting(JOB, "elbow-90-long", "elbow-90-short")
    assert pieces(data)[1] == {"fitting": "elbow-90-short"}
    assert data["run"][1]["fittings"] == {"elbow-90-short": 3, "terminal-open": 1}
    assert editing.replace_fitting(JOB, "elbow-90-long", "x", run=0, places=[0, 2])["run"] == JOB["run"]
    merged = editing.replace_fitting(JOB, "elbow-90-long", "terminal-open", run=1)
    assert merged["run"][1]["fittings"] == {"terminal-open": 4}


def test_one_size_for_the_whole_run() -> None:
    """The fittings that changed it are gone."""
    changers = ("increaser", "reducer")
    data = editing.insert_pieces(JOB, 0, 2, [{"fitting": "increaser", "size": "4 in"}])
    assert editing.one_size(data, 0, "3 in", changers=changers)["run"] == JOB["run"]


def test_a_route_walked() -> None:
    """Pipe after pipe, with the elbow for each turn: none straight on, one aside, two back."""
    data = editing.put(JOB, ("run", 0, "pieces"), [])
    for length, heading in (("4 ft", "up"), ("2 ft", "up"), ("18 ft", "east"), ("3 ft", "west"), ("1 ft", None)):
        data = editing.walk(data, 0, length, heading, turn=("elbow-90-long",))
    kinds = [piece.get("heading", piece.get("fitting", "-")) for piece in pieces(data)]
    elbow = "elbow-90-long"
    assert kinds == ["up", "up", elbow, "east", elbow, elbow, "west", "-"]
    assert editing.heading_before(data, 0, 4) == "east" and editing.heading_before(data, 0) is None
    within = editing.walk(editing.put(JOB, ("run", 0, "pieces"), [UP, EAST]), 0, "1 ft", "north", turn=(elbow,), at=1)
    assert [piece.get("heading", elbow) for piece in pieces(within)] == ["up", elbow, "north", elbow, "east"]


def test_counts() -> None:
    """Fittings by number; none of it takes it off the list."""
    assert editing.set_count(JOB, 1, "elbow-45", 2)["run"][1]["fittings"]["elbow-45"] == 2
    assert "elbow-90-long" not in editing.set_count(JOB, 1, "elbow-90-long", 0)["run"][1]["fittings"]


def test_open_ends_stand_outdoors() -> None:
    """A run listed from outdoors starts with its end of pipe."""
    data = editing.put(JOB, ("run", 1, "between"), ["outdoors", "tee-1"])
    laid_out = pieces(editing.to_laid_out(data, 1, open_ends=["terminal-open"]), 1)
    assert laid_out == [END, {"pipe": "27 ft", "rise": "3 ft"}, ELBOW, ELBOW, ELBOW]


def test_names_are_followed() -> None:
    """A new name reaches all that refers to it."""
    assert editing.rename(JOB, ("run", 0), "stub")["joint"][0]["in_line"] == ["stub", "common"]
    assert editing.rename(JOB, ("appliance", 0), "boiler")["run"][0]["between"] == ["boiler", "tee-1"]
    data = editing.rename(JOB, ("joint", 0), "tee-9")
    assert [run["between"] for run in data["run"]] == [["heater", "tee-9"], ["tee-9", "outdoors"]]
    assert editing.rename_table(JOB, "t.toml", "u.toml")["run"][1]["table"] == "u.toml"
    assert editing.rename(JOB, ("appliance", 0, "rate", 0), "full")["run"] is JOB["run"]
    assert editing.refers_to(JOB, ("run", 0)) == ("tee-1",)
    assert editing.refers_to(JOB, ("appliance", 0)) == ("vent",)


def test_a_renamed_rate_keeps_its_switch_setting() -> None:
    """The setting of a pressure switch goes by the name of the rate."""
    data = editing.put(JOB, ("appliance", 0, "inducer"), {"switch": {"high": "0.9 in w.c.", "low": "0.4 in w.c."}})
    renamed = editing.rename(data, ("appliance", 0, "rate", 0), "full")
    assert renamed["appliance"][0]["inducer"]["switch"] == {"full": "0.9 in w.c.", "low": "0.4 in w.c."}


@pytest.mark.parametrize(
    ("kind", "records"),
    [
        ("", (job.Job,)), ("site", (job.Site,)), ("appliance", (job.Appliance,)), ("rate", (job.Rate,)),
        ("run", (job.Run,)), ("pieces", (job.PipePiece, job.FittingPiece)), ("joint", (job.Joint,)),
    ],
)  # fmt: skip
def test_every_key_has_its_place(kind: str, records: tuple[type, ...]) -> None:
    """A key that a job knows and the order does not would be written last, below its table's longest list."""
    for record in records:
        assert set(document.known_keys(record)) <= set(KEY_ORDER[kind])


def test_passing_another_name_while_typing() -> None:
    """Half-typed names that meet another's for a moment take nothing of it along."""
    data = editing.insert_item(JOB, ("appliance",), {"name": "h"})
    for name in ("he", "heater", "heater 2"):
        data = editing.rename(data, ("appliance", 1), name)
    assert data["run"] == JOB["run"]


def test_copies_and_variants() -> None:
    """Copies have a name of their own, variants a title."""
    data = editing.duplicate(JOB, ("run", 0))
    assert editing.names_of(data, ("run",)) == ["vent", "vent 2", "common"]
    assert editing.variant(JOB)["title"] == "Shed 2"
    assert editing.variant(JOB, ["Shed 2"])["title"] == "Shed 3"


COUNTED = {
    "run": [
        {
            "between": ["furnace", "outdoors"],
            "pieces": [
                {"pipe": "40 ft", "rise": "10 ft"},
                {"fitting": "elbow-90-long"},
                {"fitting": "elbow-90-long"},
                {"fitting": "elbow-45"},
                {"fitting": "terminal-open"},
            ],
        }
    ]
}


def test_what_is_walked_is_taken_from_the_count() -> None:
    """40 ft and two elbows were counted: 10 ft up, an elbow and 12 ft 6 in north leave 17 ft 6 in and one elbow."""
    data, left = COUNTED, 5
    placed = [
        {"pipe": "10 ft", "heading": "up"},
        {"fitting": "elbow-90-long"},
        {"pipe": "12 ft 6 in", "heading": "north"},
    ]
    for piece in placed:
        there = data["run"][0]["pieces"]
        at = len(there) - left
        data = editing.put(data, ("run", 0, "pieces"), [*there[:at], piece, *there[at:]])
        data, left = take_from_count(data, 0, [piece], left)
    pieces = data["run"][0]["pieces"]
    assert pieces[:3] == placed
    assert pieces[3:] == [
        {"pipe": "17 ft 6 in"},
        {"fitting": "elbow-90-long"},
        {"fitting": "elbow-45"},
        {"fitting": "terminal-open"},
    ]
    assert still_to_place(data, 0, left) == "17 ft 6 in, 1 elbow-90-long, 1 elbow-45, 1 terminal-open"


def test_more_than_was_counted_takes_nothing_else() -> None:
    """Feet beyond the count are more feet; a fitting that was not counted leaves those that were."""
    data, left = take_from_count(COUNTED, 0, [{"pipe": "50 ft", "heading": "east"}, {"fitting": "wye"}], 5)
    assert left == 4 and still_to_place(data, 0, left) == "2 elbow-90-long, 1 elbow-45, 1 terminal-open"


def test_what_is_left_keeps_the_units_of_the_count() -> None:
    """9 m counted, 3 ft placed: 9 - 0.9144 m are left, in meters."""
    metric = editing.put(COUNTED, ("run", 0, "pieces", 0), {"pipe": "9 m"})
    data, _ = take_from_count(metric, 0, [{"pipe": "3 ft", "heading": "east"}], 5)
    assert data["run"][0]["pieces"][0] == {"pipe": "8085.6 mm"}
