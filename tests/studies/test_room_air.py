"""Room air: which method governs, what counts, what is missing, and that what it says would do, does."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.studies.support import again, scenario
from ventsize.catalog.folders import shipped_table
from ventsize.check.inputs import Inputs
from ventsize.cli import main
from ventsize.finding import Finding
from ventsize.jobfile.job import job_from_text
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.room import Exhaust, Opening, OtherAppliance, Room, RoomBeside
from ventsize.quantity import System
from ventsize.report.room_air import render
from ventsize.studies.room_air import RoomAir, room_air
from ventsize.studies.room_air.rules import read_rules

CUBIC_FOOT = 0.3048**3
SQUARE_INCH = 0.0254**2
BTU = 1055.05585262 / 3600  # W in a Btu/h
CUBIC_FOOT_A_MINUTE = CUBIC_FOOT / 60
SHORT = Path(__file__).parents[2] / "scenarios" / "basement-short-of-air.toml"
BASE = scenario("basement-short-of-air")


def codes(cautions: Iterable[Finding]) -> list[str]:
    """What is said, without its values."""
    return [caution.code for caution in cautions]


def heater(input_: float = 40_000, connector: float | None = 4) -> OtherAppliance:
    """A water heater with natural draft, in Btu/h and inches."""
    return OtherAppliance(
        name="water heater",
        input=input_ * BTU,
        draft="natural",
        connector=None if connector is None else connector * 0.0254,
    )


def opening(area: float, to: str = "outdoors", **more: object) -> Opening:
    """An opening, in square inches."""
    return Opening(to=to, area=area * SQUARE_INCH, **more)  # type: ignore[arg-type]


def room(volume: float = 2000, **more: object) -> Room:
    """A basement with the furnace of 80 000 and a water heater of 40 000 Btu/h; volume in cubic feet."""
    given_ = {"appliances": ("furnace",), "others": (heater(),), **more}
    return Room(name="basement", volume=volume * CUBIC_FOOT, **given_)  # type: ignore[arg-type]


def with_room(one: Room) -> Inputs:
    """The scenario with this room instead."""
    return again(BASE, replace(BASE.job, rooms=(one,)))


def answer(one: Room) -> RoomAir:
    """What the study says of this room."""
    (found,) = room_air(with_room(one)).rooms
    return found


def test_the_standard_method_where_nothing_is_known() -> None:
    """IFGC 304.5.1 and its worked example: 120 000 Btu/h asks 6000 ft³; of 400 ft³ there, 5600 are missing."""
    found = answer(room(400))
    assert found.governing == "standard"
    assert found.required == pytest.approx(6000 * CUBIC_FOOT, rel=1e-5)
    assert found.missing == pytest.approx(5600 * CUBIC_FOOT, rel=1e-5)
    assert found.verdict == "not enough"
    assert answer(room(6000.1)).verdict == "enough"


def test_a_tight_house_bars_the_standard_method() -> None:
    """IFGC 304.5: below 0.40 ACH only the other; at 0.20, 15/0.2 · 80 + 21/0.2 · 40 = 10 200 ft³."""
    found = answer(room(6000.1, infiltration=0.20 / 3600))
    assert found.governing == "known infiltration"
    assert found.required == pytest.approx(10_200 * CUBIC_FOOT, rel=1e-5)
    assert found.verdict == "not enough"


def test_either_method_in_a_loose_house() -> None:
    """At 0.40 ACH and above either may be used: 15/0.5 · 80 + 21/0.5 · 40 = 4080 ft³ is less than 6000."""
    found = answer(room(4100, infiltration=0.50 / 3600))
    assert found.governing == "known infiltration"
    assert found.required == pytest.approx(4080 * CUBIC_FOOT, rel=1e-5)
    assert found.verdict == "enough"


@pytest.mark.parametrize(
    ("areas", "at", "counts"),
    [
        ((120, 120), ("top", "bottom"), True),
        ((120, 119), ("top", "bottom"), False),
        ((120, 120), ("top", "top"), False),
        ((120, 120), ("top", None), None),
        ((240,), ("top",), False),
    ],
)
def test_a_room_on_the_same_storey(areas: tuple[int, ...], at: tuple[str | None, ...], counts: bool | None) -> None:
    """IFGC 304.5.3.1: two openings of 1 in² for 1000 Btu/h each, one high and one low; unsaid is not assumed."""
    openings = tuple(opening(area, "hall", at=one) for area, one in zip(areas, at, strict=True))
    beside = (RoomBeside(name="hall", volume=5000 * CUBIC_FOOT),)
    found = answer(room(beside=beside, openings=openings))
    assert found.beside[0].counts is counts
    assert found.verdict == {True: "enough", False: "not enough", None: "cannot be told"}[counts]


def test_a_room_on_another_storey() -> None:
    """IFGC 304.5.3.2: 2 in² for 1000 Btu/h all together; a wooden louver of 300 in² leaves 75."""
    beside = (RoomBeside(name="hall", volume=5000 * CUBIC_FOOT, storey="other"),)
    enough = room(beside=beside, openings=(opening(100, "hall"), opening(140, "hall")))
    assert answer(enough).verdict == "enough"
    found = answer(room(beside=beside, openings=(opening(300, "hall", louver="wood"),)))
    assert found.verdict == "not enough"
    assert found.counted == pytest.approx(2000 * CUBIC_FOOT)


def test_a_room_with_appliances_of_its_own_lends_nothing() -> None:
    """Its air is not there for this room alone (IFGC 304.5 counts the appliances of the whole space)."""
    openings = tuple(opening(200, "hall", at=at) for at in ("top", "bottom"))
    one = room(beside=(RoomBeside(name="hall", volume=5000 * CUBIC_FOOT),), openings=openings)
    hall = Room(name="hall", volume=5000 * CUBIC_FOOT, others=(heater(),))
    assert answer(one).verdict == "enough"
    rooms = room_air(again(BASE, replace(BASE.job, rooms=(one, hall)))).rooms
    assert rooms[0].verdict == "cannot be told"


def test_rules_of_nothing_are_refused(tmp_path: Path) -> None:
    """A rule that asks for no air would make every room enough."""
    own = tmp_path / "own.toml"
    text = shipped_table("room-air.toml").read_text(encoding="utf-8")
    for before in ("15 ft³/h", "0.60 ACH", "0.35 ft³/min", "50 ft³", "0.75"):
        assert before in text
        unit = before.partition(" ")[2]
        changed = text.replace(f'"{before}"', f'"0 {unit}"') if unit else text.replace("= 0.75", "= 0.0")
        assert changed != text
        own.write_text(changed, encoding="utf-8")
        with pytest.raises(InputError):
            read_rules(own)


def test_openings_outdoors_beside_some_volume() -> None:
    """IFGC 304.7: 2000 of 6000 ft³ leaves two thirds: 20 in² each direct, 40 through horizontal ducts."""
    both = (opening(20, at="top"), opening(20, at="bottom"))
    assert answer(room(openings=both)).verdict == "enough"
    ducts = tuple(replace(one, way="horizontal duct") for one in both)
    assert answer(room(openings=ducts)).verdict == "not enough"


def test_one_opening_is_no_smaller_than_the_connectors() -> None:
    """IFGC 304.6.2: 120 000 / 3000 · 2/3 = 26.7 in², and at least π/4 · (3² + 6²) = 35.3 in² of connectors."""
    one = room(others=(heater(connector=6),), openings=(opening(35, at="top"),))
    assert answer(one).verdict == "not enough"
    assert answer(replace(one, openings=(opening(35.4, at="top"),))).verdict == "enough"
    unknown = replace(one, others=(heater(connector=None),), openings=(opening(60, at="top"),))
    assert answer(unknown).verdict == "cannot be told"


def test_air_blown_in_makes_up_for_exhaust() -> None:
    """IFGC 304.9: 0.35 ft³/min for 1000 Btu/h is 42 ft³/min, and the dryer's 180 besides."""
    dryer = (Exhaust(name="dryer", flow=180 * CUBIC_FOOT_A_MINUTE),)
    assert answer(room(supply=43 * CUBIC_FOOT_A_MINUTE)).verdict == "enough"
    assert answer(room(supply=43 * CUBIC_FOOT_A_MINUTE, exhausts=dryer)).verdict == "not enough"
    assert answer(room(supply=223 * CUBIC_FOOT_A_MINUTE, exhausts=dryer)).verdict == "enough"


def test_what_rests_on_memory_or_on_a_cap_is_said() -> None:
    """One opening alone goes by a figure from memory; 0.9 ACH is held to 0.60 (IFGC 304.5.2)."""
    cautions = answer(room(openings=(opening(60, at="top"),))).cautions
    assert "enough-from-memory" in codes(cautions)
    capped = [c for c in answer(room(infiltration=0.9 / 3600)).cautions if c.code == "infiltration-at-most"]
    assert [c.values["greatest"] for c in capped] == [pytest.approx(0.60)]


@settings(max_examples=60, deadline=None)
@given(volume=st.floats(100, 5900), input_=st.floats(20_000, 400_000), rate=st.none() | st.floats(0.1, 0.39))
def test_what_would_do_does(volume: float, input_: float, rate: float | None) -> None:
    """Each cure outdoors, carried out, makes the room enough; a little less of it does not."""
    one = room(volume, others=(heater(input_),), infiltration=None if rate is None else rate / 3600)
    found = answer(one)
    least = 9.0001 * SQUARE_INCH  # nothing narrower than 3 in is proposed
    for cure in found.cures:
        if cure.free_area is None or cure.volume is not None:
            continue
        way = "horizontal duct" if "horizontal" in cure.name else "direct"
        for share, verdict in ((1.0, "enough"), (0.99, "not enough")):
            if share < 1 and cure.free_area <= least:
                continue
            made = tuple(
                Opening(to="outdoors", area=cure.free_area * share, way=way, at=at)  # type: ignore[arg-type]
                for at in ("top", "bottom")[: cure.count]
            )
            assert answer(replace(one, openings=made)).provisions[1 if cure.count == 2 else 2].enough is (
                verdict == "enough"
            )


def test_the_smallest_is_named() -> None:
    """One opening takes less than two: 26.7 against 2 · 20 in²."""
    found = answer(room())
    assert found.smallest == "one opening outdoors"
    assert "the smallest to make" in render(room_air(with_room(room())), System.US)


def test_a_room_beside_that_would_do_is_named_with_what_its_openings_lack() -> None:
    """120 000 Btu/h ask 240 in² to another storey: with 75 there, 165 more; a room too small is not proposed."""
    openings = (opening(300, "hall", louver="wood"),)
    hall = RoomBeside(name="hall", volume=4001 * CUBIC_FOOT, storey="other")
    found = answer(room(beside=(hall,), openings=openings))
    (cure,) = [cure for cure in found.cures if cure.room == "hall"]
    assert cure.free_area == pytest.approx(240 * SQUARE_INCH, rel=1e-5)
    assert cure.more == pytest.approx(165 * SQUARE_INCH, rel=1e-5)
    made = (opening(240.001, "hall"),)
    assert answer(room(beside=(hall,), openings=made)).verdict == "enough"
    small = answer(room(beside=(replace(hall, volume=3999 * CUBIC_FOOT),), openings=openings))
    assert not any(cure.room for cure in small.cures)


def test_the_smallest_counts_what_is_there_already() -> None:
    """Five square inches more indoors are less to make than a new opening outdoors."""
    openings = (opening(120, "hall", at="top"), opening(115, "hall", at="bottom"))
    found = answer(room(beside=(RoomBeside(name="hall", volume=5000 * CUBIC_FOOT),), openings=openings))
    assert found.smallest == "two openings to hall, high and low"


def test_fans_compete_for_the_air() -> None:
    """180 ft³/min out and 0.35 · 120 = 42 burnt, 0.35 ACH of 1920 ft³ = 11.2 in; the rest by an orifice of C = 0.60.

    ½ · 1.2 kg/m³ · (Q / (0.60 · A))²; a draft of 2 to 5 Pa turns round (common practice, no source).
    """
    dryer = (Exhaust(name="dryer", flow=180 * CUBIC_FOOT_A_MINUTE),)
    one = room(1920, infiltration=0.35 / 3600, exhausts=dryer, openings=(opening(28, at="top"),))
    fans = answer(one).fans
    assert fans is not None and fans.hard
    through = (180 + 42 - 0.35 * 1920 / 60) * CUBIC_FOOT_A_MINUTE
    assert fans.missing == pytest.approx(through, rel=1e-4)
    assert fans.pull == pytest.approx(0.6 * (through / (0.6 * 28 * SQUARE_INCH)) ** 2, rel=1e-4)
    supplied = answer(replace(one, supply=223 * CUBIC_FOOT_A_MINUTE))
    assert supplied.fans is not None and supplied.fans.missing == 0.0 and not supplied.fans.hard
    assert answer(room()).fans is None
    closed = answer(room(exhausts=dryer))
    assert closed.fans is not None and closed.fans.pull is None and closed.fans.hard
    assert "fans-may-turn-flue" in codes(closed.cautions)


def test_an_appliance_that_no_room_names_is_mentioned() -> None:
    """A furnace without an air pipe breathes from somewhere."""
    study = room_air(with_room(room(appliances=())))
    assert "air-in-no-room" in codes(study.cautions)


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ('["furnace"]', '["furnce"]', "perhaps 'furnace'"),
        ("0.35 ACH", "35 ACH", "no house has this air change rate"),
        ("1,920 ft³", "1,920 ft", "volume"),
        ('to = "outdoors"', 'to = "attic"', "there is no room 'attic' beside it"),
        ('draft = "natural"', 'draft = "some"', "'fan', 'natural' or 'direct'"),
        ('louver = "wood"', 'free_share = 1.5', "cannot be free"),
        ('louver = "wood"', 'louver = "wood"\nfree_share = 0.5', "both given"),
    ],
)  # fmt: skip
def test_bad_keys_are_said_in_a_sentence(before: str, after: str, said: str) -> None:
    """Each names the room, the fault and what is expected."""
    text = SHORT.read_text(encoding="utf-8")
    assert before in text
    with pytest.raises(InputError) as caught:
        job_from_text(text.replace(before, after, 1), file="job.toml")
    assert said in str(caught.value)
    assert "room 'basement'" in str(caught.value)


def test_the_verb(capsys: pytest.CaptureFixture[str]) -> None:
    """Status 1 where a room is short, 2 where the job has none; lines fit 80 columns."""
    assert main(["roomair", str(SHORT)]) == 1
    text = capsys.readouterr().out
    assert "Room air, basement: not enough" in text
    assert max(map(len, text.splitlines())) <= 80
    assert main(["roomair", str(SHORT), "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["enough"] is False
    assert main(["roomair", str(SHORT.with_name("simple-pass.toml"))]) == 2
    assert "it has no [[room]]" in capsys.readouterr().err


def test_the_opening_that_is_there_is_moved_or_enlarged_before_another_is_made() -> None:
    """Two of 39 in² at the top: 120,000 Btu/h ask for 30 in² each, so that moving one does it; one of 10 is enlarged.

    One opening alone: 1 in² per 3,000 Btu/h, 40 in² (NFPA 54 9.3.3.2), 30 more than the 10 there are.
    """
    both = answer(room(10.0, openings=(opening(39, at="top"), opening(39, at="top")), infiltration=None))
    assert both.cures[0].name.startswith("move one of the two openings outdoors to the bottom")
    assert both.smallest == both.cures[0].name
    small = answer(room(10.0, openings=(opening(10, at="top"),)))
    first = small.cures[0]
    assert first.name == "enlarge the opening outdoors that is there"
    assert first.more is not None and first.free_area is not None
    assert first.more == pytest.approx(first.free_area - 10 * SQUARE_INCH)
    assert first.free_area == pytest.approx(40 * SQUARE_INCH, rel=0.01)
    assert not any("there" in cure.name for cure in answer(room(10.0)).cures)


def test_direct_vent_is_left_out_and_the_category_is_asked() -> None:
    """Only draft hoods and Category I are what the rule is for (NFPA 54 9.3.1, from memory)."""
    direct = replace(heater(), name="boiler", draft="direct")
    without, beside = (answer(room(others=others)) for others in ((heater(),), (heater(), direct)))
    assert beside.power == without.power and beside.required == without.required
    assert [c.values["name"] for c in without.cautions if c.code == "category-missing"] == ["water heater"]
    known = answer(room(others=(replace(heater(), category="I"),))).cautions
    assert "category-missing" not in codes(known)
    piped = scenario("simple-pass")
    job = replace(piped.job, rooms=(room(others=()),))
    alone = room_air(again(piped, job)).rooms[0]
    assert alone.power == 0.0 and alone.verdict == "enough"
