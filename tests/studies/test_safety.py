"""Shut it off: every line that says so is reached, and stands before anything else on its page.

Limits: 9 ppm over eight hours and 35 ppm over one in a room (40 CFR 50.8); 400 ppm air-free in flue gas (ANSI Z21.47
and Z21.13, from memory).
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.studies.readings_of import data_of, inputs_of
from ventsize.check.shut_off import URGENT, air_free
from ventsize.check.verdict import check
from ventsize.quantity import System
from ventsize.report import diagnosis as diagnosis_report
from ventsize.report import readings as readings_report
from ventsize.studies.diagnosis import diagnose
from ventsize.studies.readings import readings
from ventsize.studies.readings.result import ReadingsStudy

FLUE = {"place": "collar", "rate": "high"}
ROOM = {"place": "room"}
Taken = list[dict[str, Any]]

STOPS: list[tuple[str, Taken, list[str]]] = [
    ("co-in-room-leave", [{**ROOM, "carbon_monoxide": "35 ppm"}], []),
    ("co-alarm", [], ["carbon monoxide alarm sounds"]),
    ("co-in-room", [{**ROOM, "carbon_monoxide": "9 ppm"}], []),
    ("flue-gas-in-room", [], ["flue gas in the room"]),
    ("co-in-flue", [{**FLUE, "carbon_monoxide_air_free": "401 ppm"}], []),
    ("co-in-flue", [{**FLUE, "carbon_monoxide": "300 ppm"}, {**FLUE, "oxygen": "6 %"}], []),  # 421 air-free
    ("co-in-flue", [{**FLUE, "carbon_monoxide": "300 ppm"}], []),  # with the job's own excess air
    ("co-in-flue", [{**FLUE, "carbon_monoxide_air_free": "0.05 ppm"}], []),  # 0.05 % typed as ppm: 500 ppm
    ("oxygen-near-zero", [{**FLUE, "oxygen": "0.9 %"}], []),
    ("oxygen-near-zero", [{**FLUE, "oxygen": "0 %"}], []),
    ("vent-too-hot", [{**FLUE, "temperature": "150 degF"}], []),
    ("flue-gas-in-inlet", [{"place": "air pipe", "rate": "high", "oxygen": "19.4 %"}], []),
    ("flue-gas-in-inlet", [{"place": "air pipe", "rate": "high", "carbon_dioxide": "1.2 %"}], []),
    ("flue-gas-in-inlet", [{"place": "air pipe", "rate": "high", "carbon_monoxide": "20 ppm"}], []),
    ("flue-gas-in-inlet", [{"place": "air pipe", "rate": "high", "carbon_monoxide": "0.002 ppm"}], []),  # 0.002 %
    (
        "switch-closed-below-setting",
        [{"place": "switch", "rate": "high", "pressure": "0.6 in w.c."}],
        ["switch closed"],
    ),
]


def study_of(taken: Taken, seen: list[str]) -> ReadingsStudy:
    """Of readings and symptoms on a job."""
    data = {**data_of("trips-on-the-vent"), "symptom": [{"what": what, "rate": "high"} for what in seen]}
    return readings(inputs_of(data, *taken))


@pytest.mark.parametrize(("code", "taken", "seen"), STOPS)
def test_every_line_is_reached_and_comes_first(code: str, taken: Taken, seen: list[str]) -> None:
    """In the readings, in the diagnosis: before the title, before any foot of pipe."""
    data = {**data_of("trips-on-the-vent"), "symptom": [{"what": what, "rate": "high"} for what in seen]}
    study = study_of(taken, seen)
    assert [finding.code for finding in study.stops] == [code]
    assert study.stops[0].severity == "stop" and not study.all_expected
    inputs = inputs_of(data, *taken)
    settled = check(inputs).decides
    assert (settled.verdict, settled.condition, settled.because.code) == ("unsafe", "not-shut-off", code)
    found = diagnose(inputs)
    assert not found.all_well and found.by_table.verdict == "within"  # the table knows nothing of it
    for text in (readings_report.render(study, System.US), diagnosis_report.render(found, System.US)):
        lines = text.splitlines()
        assert lines[0] == "SHUT IT OFF" and lines[1].startswith("  ! Shut it off.")
        assert " ft" not in text.partition("Trips at night")[0]
    for made in (readings_report.as_object(study, System.SI), diagnosis_report.as_object(found, System.SI)):
        assert [one["code"] for one in made["shut_off"]] == [code]


def test_every_code_that_says_so_is_tried() -> None:
    assert {code for code, _, _ in STOPS} == set(URGENT) - {"not-read-again"}


SOUND: list[Taken] = [
    [{**ROOM, "carbon_monoxide": "8 ppm"}],
    [{**FLUE, "carbon_monoxide_air_free": "90 ppm"}],
    [{**FLUE, "carbon_monoxide": "60 ppm"}, {**FLUE, "oxygen": "6 %"}],
    [{**FLUE, "oxygen": "1.6 %"}],
    [{"place": "air pipe", "rate": "high", "oxygen": "20.6 %"}],
    [{"place": "switch", "rate": "high", "pressure": "1.1 in w.c."}],
]


@pytest.mark.parametrize("taken", SOUND)
def test_what_is_within_its_limit_stops_nothing(taken: Taken) -> None:
    assert study_of(taken, ["switch closed"]).stops == ()
    assert shut_off_in({"what": "switch closed"}, *taken) == ("met", "nothing-says-shut-off")


@pytest.mark.parametrize("taken", [{"oxygen": "6 ppm"}, {"carbon_monoxide": "6 %"}, {"carbon_monoxide": "0.005 ppm"}])
def test_a_reading_in_another_unit_is_no_pass_until_it_is_typed_again(taken: dict[str, str]) -> None:
    """What was probably meant would stop nothing, and is not known; confirmed, 6 ppm of oxygen is none."""
    assert study_of([{**FLUE, **taken}], ["switch closed"]).stops == ()
    assert shut_off_in({"what": "switch closed"}, {**FLUE, **taken}) == ("not known", "unit-of-reading")
    sure = {**FLUE, **taken, "confirmed": True}
    expected = ("met", "nothing-says-shut-off") if "0.005 ppm" in taken.values() else ("not met", "oxygen-near-zero")
    expected = ("not met", "co-in-flue") if "6 %" in taken.values() else expected
    assert shut_off_in({"what": "switch closed"}, sure) == expected


def shut_off_in(symptom: dict[str, str], *taken: dict[str, Any]) -> tuple[str, str]:
    """The state of the condition of a pass that holds readings and symptoms, and its evidence."""
    checked = check(inputs_of({**data_of("trips-on-the-vent"), "symptom": [symptom]}, *taken))
    (found,) = [one for one in checked.conditions if one.condition == "not-shut-off"]
    return found.state, found.because.code


def test_several_are_said_the_most_urgent_first() -> None:
    study = study_of([{**FLUE, "oxygen": "0.5 %"}, {**ROOM, "carbon_monoxide": "50 ppm"}], ["flue gas in the room"])
    assert [one.code for one in study.stops] == ["co-in-room-leave", "flue-gas-in-room", "oxygen-near-zero"]


@pytest.mark.parametrize(("read", "warned"), [("-4.9 Pa", False), ("-5.2 Pa", True), ("-21 Pa", True)])
def test_a_room_under_suction_warns_of_what_else_may_spill(read: str, warned: bool) -> None:
    """5 Pa for appliances with a draft hood (CGSB 51.71, from memory); said before the causes."""
    taken = [{**ROOM, "pressure": read}, {**FLUE, "pressure": "0.4 in w.c."}]
    found = diagnose(inputs_of(data_of("trips-on-the-vent"), *taken))
    text = diagnosis_report.render(found, System.US)
    assert ("room-may-spill" in [one.code for one in found.cautions]) is warned
    assert ("! the room is at" in text.partition("measured")[0]) is warned
    assert text.count("draft hood") <= 1 + (not warned)


STALE = [one for one in STOPS if one[1]]


@pytest.mark.parametrize(("code", "taken", "seen"), STALE)
def test_what_stopped_before_a_repair_stops_until_it_is_read_again(code: str, taken: Taken, seen: list[str]) -> None:
    """Nothing has been shown to be well by a repair; another quantity, or the same at another rate, shows nothing."""
    before = [{**one, "before_repair": True} for one in taken]
    others = [{**FLUE, "rate": "low", "oxygen": "6 %"}, {**FLUE, "rate": "low", "carbon_monoxide": "10 ppm"}]
    study = study_of([*before, *others], seen)
    assert [one.code for one in study.stops] == [code, "not-read-again"]
    assert shut_off_in({"what": seen[0] if seen else "gurgles"}, *before, *others) == ("not met", code)
    for report in (readings_report.render(study, System.US),):
        assert report.startswith("SHUT IT OFF") and "None" not in report
    good = {"oxygen": "6 %", "carbon_dioxide": "0 %", "pressure": "1.4 in w.c.", "temperature": "110 degF"} | {
        kind: "1 ppm" for kind in ("carbon_monoxide", "carbon_monoxide_air_free")
    }
    fresh = {"air pipe": {**good, "oxygen": "20.9 %"}}
    again = [{key: fresh.get(one["place"], good).get(key, value) for key, value in one.items()} for one in taken]
    assert study_of([*before, *again], seen).stops == ()


def test_a_reading_taken_again_after_a_repair_is_what_counts() -> None:
    study = study_of([{**FLUE, "oxygen": "0.5 %", "before_repair": True}, {**FLUE, "oxygen": "6 %"}], [])
    assert study.stops == () and study.readings[0].before == pytest.approx(0.005)


def test_carbon_monoxide_above_a_hundred_calls_for_service() -> None:
    one = study_of([{**FLUE, "carbon_monoxide_air_free": "150 ppm"}], []).readings[0]
    assert one.verdict == "marginal" and one.because is not None and one.because.code == "co-in-flue-high"


def test_air_free_is_the_gas_without_the_air_added() -> None:
    """Half air, half products of no excess air: twice what is read; 20.9 / (20.9 - 10.45) = 2."""
    assert air_free(100e-6, 0.1045) == pytest.approx(200e-6)


def test_a_switch_open_well_above_its_setting_is_the_switchs_fault() -> None:
    study = study_of([{"place": "switch", "rate": "high", "pressure": "1.1 in w.c."}], ["switch open"])
    assert [one.code for one in study.symptoms] == ["switch-open-above-setting"]
