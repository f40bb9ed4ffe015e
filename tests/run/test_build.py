"""A typed run resolved: sections, implied pieces, ends, and which way it goes."""

from __future__ import annotations

import math
from typing import Any

import pytest

from tests.check.jobs import Data, checked, job, table_of_two, two_furnaces
from ventsize.finding import Amount
from ventsize.jobfile.problems import InputError
from ventsize.run.model import Run


def built(pieces: list[Data], **changed: Any) -> Run:
    """The resolved run of a job."""
    return checked(job(pieces, **changed)).runs[0].run


def test_size_holds_from_a_size_change_on() -> None:
    """An increaser changes every piece after it, and stands between two sections itself."""
    run = built(
        [
            {"pipe": "2 ft"},
            {"fitting": "increaser", "size": "4 in"},
            {"pipe": "3 ft"},
            {"fitting": "elbow-90-long"},
            {"fitting": "terminal-open"},
        ]
    )
    assert [piece.section.label for piece in run.pieces] == ["3 in", "3 in", "4 in", "4 in", "4 in"]
    assert (run.pieces[1].before.label, run.pieces[1].after.label) == ("3 in", "4 in")
    assert run.straight_length == pytest.approx(5 * 0.3048)


@pytest.mark.parametrize("place", ["pipe", "elbow"])
def test_an_unlisted_size_change_is_counted_and_said(place: str) -> None:
    """Size given on a pipe or an elbow: the change is there all the same, with its loss."""
    piece = {"pipe": "3 ft"} if place == "pipe" else {"fitting": "elbow-90-long"}
    run = built([{"pipe": "2 ft"}, {**piece, "size": "4 in"}, {"fitting": "terminal-open"}])
    assert [p.name for p in run.pieces if p.implied] == ["increaser"]
    (found,) = run.findings
    assert (found.code, found.where.piece) == ("size-change-implied", 2)


def test_a_material_is_that_pieces_own() -> None:
    """A length and an elbow of CPVC among PVC; only a size holds from its piece on."""
    cpvc = {"material": "cpvc-40"}
    parts = [{"pipe": "2 ft"}, {"pipe": "3 ft", **cpvc}, {"fitting": "elbow-90-long", **cpvc}, {"fitting": "elbow-45"}]
    run = built([*parts, {"fitting": "increaser", "size": "4 in", **cpvc}, {"pipe": "1 ft"}])
    assert [piece.after.material.name for piece in run.pieces] == [
        "pvc-40", "cpvc-40", "cpvc-40", "pvc-40", "cpvc-40", "pvc-40", "pvc-40"
    ]  # fmt: skip
    bores = {
        name: built([{"pipe": "1 ft"}], material=name, size="4 in").pieces[0].after.bore
        for name in ("pvc-40", "cpvc-40")
    }
    assert (run.pieces[4].after.bore, run.pieces[5].before.bore) == (bores["cpvc-40"], bores["pvc-40"])


def test_a_liner_may_begin_at_the_increaser() -> None:
    """Liner that comes in no 2 in: what it grows from is of the run's material."""
    liner = {"material": "flexible-liner-corrugated"}
    run = built([{"fitting": "increaser", "size": "3 in", **liner}, {"pipe": "1 ft", **liner}], size="2 in")
    assert run.pieces[0].before.material.name == "pvc-40"
    assert [piece.after.material.name for piece in run.pieces] == ["flexible-liner-corrugated"] * 3


def test_an_open_end_is_counted_where_none_is_listed() -> None:
    """A run to the open air loses its velocity there, listed or not."""
    run = built([{"pipe": "2 ft"}])
    assert run.pieces[-1].implied and run.pieces[-1].kind == "terminal"
    assert [finding.code for finding in run.findings] == ["open-end-implied"]


def test_an_open_end_stands_where_the_walk_begins() -> None:
    """Listed from outdoors inwards, in the size the pipe has there."""
    inwards = [{"pipe": "2 ft"}, {"fitting": "reducer", "size": "2 in"}, {"pipe": "3 ft"}]
    run = built(inwards, between=["outdoors", "furnace"])
    assert [piece.name for piece in run.pieces] == ["terminal-open", "pipe", "reducer", "pipe"]
    assert (run.pieces[0].implied, run.pieces[0].section.label) == (True, "3 in")


def test_a_counted_terminal_is_the_only_one() -> None:
    """Among other fittings, none of which is at a place."""
    counted = {"straight": "20 ft", "fittings": {"elbow-90-long": 2, "terminal-open": 1, "coupling": 1}}
    data = job([])
    del data["run"][0]["pieces"]
    data["run"][0].update(counted)
    run = checked(data).runs[0].run
    assert [piece.name for piece in run.pieces if piece.kind == "terminal"] == ["terminal-open"]
    assert not any(piece.implied for piece in run.pieces)


def test_a_drain_stands_at_its_fitting() -> None:
    """On every piece that stands for a tee with a drain, and on no other."""
    run = built([{"pipe": "2 ft"}, {"fitting": "elbow-90-long", "drain": True}, {"pipe": "2 ft"}])
    assert [piece.drain for piece in run.pieces] == [False, True, False, False]


def test_an_elbow_of_a_material_without_that_size_is_refused() -> None:
    """It is not made of the run's material instead."""
    with pytest.raises(InputError, match="no such size") as refused:
        built([{"pipe": "2 ft"}, {"fitting": "elbow-90-long", "material": "flexible-liner-corrugated"}], size="2 in")
    assert [problem.place for problem in refused.value.problems] == ["run 'vent', piece 2"]


@pytest.mark.parametrize(
    ("pieces", "said"),
    [
        ([{"pipe": "1 ft"}, {"fitting": "increaser"}], "to which size"),
        ([{"pipe": "1 ft"}, {"fitting": "increaser", "size": "2 in"}], "larger"),
        ([{"pipe": "1 ft"}, {"fitting": "reducer", "size": "4 in"}], "smaller"),
        ([{"pipe": "1 ft"}, {"fitting": "increaser", "size": "3 in"}], "leaves the size"),
        ([{"fitting": "terminal-open"}, {"pipe": "1 ft"}], "not at an open end"),
        ([{"fitting": "entrance-open"}, {"pipe": "1 ft"}], "lets air in"),
        ([{"pipe": "1 ft"}, {"fitting": "entrance-open"}], "lets air in"),
        ([{"pipe": "1 ft", "heading": "up", "rise": "-1 ft"}], "heads up"),
        ([{"pipe": "1 ft", "rise": "2 ft"}], "further than it is long"),
        ([{"pipe": "1 ft", "material": "pvc-41"}], "pvc-40"),
        ([{"pipe": "1 ft", "size": "2.2 in"}], "no such size"),
    ],
)
def test_what_cannot_be_built_is_said(pieces: list[Data], said: str) -> None:
    """One sentence that names the piece."""
    with pytest.raises(InputError, match=said) as refused:
        built(pieces)
    assert "run 'vent', piece" in str(refused.value)


@pytest.mark.parametrize(("rise", "known", "up"), [
    ("4 ft", True, 4.0), ("-4 ft", True, -4.0), ("9 ft", True, 9.0), (None, False, 0.0),
])  # fmt: skip
def test_a_counted_run_knows_its_rise_where_it_is_given(rise: str | None, known: bool, up: float) -> None:
    """9 ft of pipe as one piece, then its fittings one by one, then the open end."""
    data = job([])
    del data["run"][0]["pieces"]
    data["run"][0] |= {"straight": "9 ft", "fittings": {"elbow-45": 2}} | ({"rise": rise} if rise else {})
    run = checked(data).runs[0].run
    assert [piece.name for piece in run.pieces] == ["pipe", "elbow-45", "elbow-45", "terminal-open"]
    assert (run.rise_known, run.pieces[0].rise_known) == (known, known)
    assert run.pieces[0].rise == pytest.approx(up * 0.3048) and run.straight_length == pytest.approx(9 * 0.3048)


def test_couplings_turn_nothing() -> None:
    """Up, one 45 with couplings before and behind it, east: half of the turn is made."""
    coupling = {"fitting": "coupling"}
    parts = [coupling] * 8 + [{"fitting": "elbow-45"}] + [coupling] * 8
    (missing,) = built([{"pipe": "1 ft", "heading": "up"}, *parts, {"pipe": "1 ft", "heading": "east"}]).unturned
    turns = {name: math.degrees(amount.value) for name, amount in missing.values.items() if isinstance(amount, Amount)}
    assert turns == pytest.approx({"turned": 45.0, "needed": 90.0})


def test_a_terminal_within_a_common_vent_is_refused() -> None:
    """A furnace's own vent ends at the tee: no end of it is open."""
    data = two_furnaces()
    data["run"][0]["pieces"].append({"fitting": "terminal-open"})
    with pytest.raises(InputError, match="not at an open end") as refused:
        checked(data, table_of_two(single={"allowable": "90 ft"}, common={"allowable": "90 ft"}))
    assert [problem.place for problem in refused.value.problems] == ["run 'va', piece 2"]


def test_walking_from_outdoors_inwards_changes_nothing() -> None:
    """Which end the list starts from is the person's choice."""
    outwards = [
        {"pipe": "10 ft", "heading": "up"},
        {"fitting": "elbow-90-long"},
        {"pipe": "20 ft", "heading": "east"},
        {"fitting": "terminal-open"},
    ]
    inwards = [
        {"fitting": "terminal-open"},
        {"pipe": "20 ft", "heading": "west"},
        {"fitting": "elbow-90-long"},
        {"pipe": "10 ft", "heading": "down"},
    ]
    one = checked(job(outwards)).runs[0].rates[0]
    other = checked(job(inwards, between=["outdoors", "furnace"])).runs[0].rates[0]
    assert other.flow.pressure_drop == pytest.approx(one.flow.pressure_drop, rel=1e-12)
    assert other.flow.draft == pytest.approx(one.flow.draft, rel=1e-12)
    assert other.static_pressure_at_appliance == pytest.approx(one.static_pressure_at_appliance, rel=1e-9)


def test_an_air_pipe_enters_where_a_vent_leaves() -> None:
    """The same open end costs an entrance loss, not an exit loss, where air comes in."""
    vent = checked(job([{"pipe": "9 ft"}, {"fitting": "terminal-open"}])).runs[0].rates[0]
    air = checked(job([{"pipe": "9 ft"}, {"fitting": "terminal-open"}], carries="combustion air")).runs[0].rates[0]
    assert vent.flow.pieces[-1].k == 1.0
    assert 0.4 < air.flow.pieces[-1].k < 1.0
    assert air.static_pressure_at_appliance is not None and air.static_pressure_at_appliance < 0


@pytest.mark.parametrize(
    ("meant", "near"), [("Outdoors", "perhaps 'outdoors'"), ("nowhere", "one of: furnace, outdoors")]
)
def test_a_joint_that_leads_nowhere_is_named(meant: str, near: str) -> None:
    """Not its terminal, which was put there for the open air; other faults of the run are still said."""
    with pytest.raises(InputError) as refused:
        built([{"pipe": "2 ft"}, {"fitting": "terminal-open"}], between=["furnace", meant])
    (said,) = refused.value.problems
    assert said.problem == f"it ends at '{meant}', where nothing else begins"
    assert said.expected == f"an appliance, 'outdoors' or a joint: {near}"
    with pytest.raises(InputError) as refused:
        built([{"pipe": "2 ft"}, {"fitting": "elbow-9"}], between=["furnace", meant])
    assert len(refused.value.problems) == 2
    counted = {"straight": "9 ft", "fittings": {"terminal-open": 1}, "between": ["furnace", meant]}
    data = job([])
    del data["run"][0]["pieces"]
    data["run"][0].update(counted)
    with pytest.raises(InputError, match="where nothing else begins"):
        checked(data)


@pytest.mark.parametrize(("key", "value"), [("material", "pvc-41"), ("size", "2.2 in")])
def test_a_key_of_a_run_is_named(key: str, value: str) -> None:
    """Which of its keys is wrong, not only which run."""
    with pytest.raises(InputError) as refused:
        built([{"pipe": "2 ft"}], **{key: value})
    assert [problem.place for problem in refused.value.problems] == [f"run 'vent', {key}"]
