"""At the appliance: which readings a job offers, and how one just typed is understood and judged."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.studies.support import SCENARIOS, scenario
from ventsize.check.inputs import prepare
from ventsize.jobfile.document import parse_toml
from ventsize.jobfile.editing.readings import clear_reading, reading_at, set_reading
from ventsize.jobfile.job import job_from_data
from ventsize.quantity import System
from ventsize.report.field import accuracy_of, band_of, readable, title_of
from ventsize.studies.diagnosis.result import NextReading
from ventsize.studies.field import MeterSpot, SettingSpot, judged, rates_of, spot_of, spots, spots_along

PRESSURE = next(spot for spot in spots(scenario("simple-pass"), "high") if spot.place == "collar" and
                spot.kind == "pressure")  # fmt: skip


def test_what_kills_is_read_first_and_the_setting_before_the_switch() -> None:
    """Carbon monoxide in the room and in the flue, then what needs no hole in a pipe."""
    found = [(spot.place, spot.kind) for spot in spots(scenario("simple-pass"), "high")]
    assert found[:2] == [("room", "carbon_monoxide"), ("collar", "carbon_monoxide")]
    at = {place: number for number, (place, kind) in reversed(list(enumerate(found))) if "carbon" not in kind}
    assert at["switch setting"] < at["switch"] < at["air pipe"] and at["meter"] < at["air pipe"]
    assert len(found) == len(set(found))


def test_the_page_of_a_reading_that_is_asked_for() -> None:
    """At the appliance it is the one of the list; in a pipe it is made for its place."""
    inputs = scenario("simple-pass")
    asked = NextReading(place="after piece 3", run="vent", carries="flue gas", piece="pipe", rate="high",
                        kind="pressure", here=1.0, there=2.0, apart=3.0)  # fmt: skip
    along = spot_of(inputs, asked)
    assert along.which == {"place": "after piece 3", "rate": "high", "run": "vent", "appliance": None}
    assert along in spots_along(inputs, "high") and judged(inputs, along, 1.0)[0] is not None
    assert spot_of(inputs, replace(asked, place="collar")) == PRESSURE
    inlet = spot_of(inputs, replace(asked, place="terminal", run="air", carries="combustion air"))
    assert inlet.run == "air"


def test_what_can_be_read_follows_from_the_job() -> None:
    """No air pipe, no reading in it; no inducer described, no speed; a shared terminal is offered once."""
    piped, alone = scenario("simple-pass"), scenario("basement-short-of-air")
    assert rates_of(piped) == ("high", "low")
    assert "air pipe" in {spot.place for spot in spots(piped, "high")}
    assert {"air pipe", "inducer"}.isdisjoint(spot.place for spot in spots(alone, "high"))
    shared = scenario("common-vent")
    found = spots(shared, rates_of(shared)[0])
    assert [spot.place for spot in found].count("terminal") == 1
    assert {spot.appliance for spot in found if spot.place == "collar"} == {"boiler 1", "boiler 2"}


@pytest.mark.parametrize(
    ("text", "whole"), [("0.3", "0.3 in w.c."), ("-.3", "-.3 in w.c."), ("77 Pa", "77 Pa"), ("1,000 Pa", "1,000 Pa")]
)
def test_a_bare_figure_gets_its_unit(text: str, whole: str) -> None:
    """What the gauge shows is typed as it stands; a unit that is typed stays."""
    read = readable(PRESSURE, text, System.US)
    assert isinstance(read, tuple) and read[0] == whole
    si = readable(PRESSURE, "77", System.SI)
    assert isinstance(si, tuple) and si == ("77 Pa", pytest.approx(77.0))


def test_what_cannot_be_read_is_a_sentence() -> None:
    """Said at once, not taken."""
    found = readable(PRESSURE, "0.3 bananas", System.US)
    assert isinstance(found, str) and "bananas" in found


def test_every_reading_offered_can_be_judged() -> None:
    """In the middle of its band it is expected; far off it is not; where nothing is known, that is said."""
    for name in ("simple-pass", "long-run-adaptive", "common-vent", "second-visit"):
        inputs = scenario(name)
        for spot in spots(inputs, rates_of(inputs)[0]):
            found = judged(inputs, spot, spot.typical)[0]
            if found is None:
                continue
            if found.kind == "carbon_monoxide":
                assert found.verdict == "expected"  # none at all
                continue
            if found.expected is None:
                assert found.verdict == "not compared" and found.because and not band_of(found, System.US)
                continue
            again = judged(inputs, spot, found.expected)[0]
            assert again is not None and again.verdict == "expected"
            assert band_of(found, System.US)


def test_a_setting_is_typed_once_and_kept_with_the_appliance() -> None:
    """It goes to the firing rate in the data, and judges the switch there from then on; taken away, it is gone."""
    inputs = scenario("simple-pass")
    data = parse_toml((SCENARIOS / "simple-pass.toml").read_text(), file="")
    setting, switch = (spot for spot in spots(inputs, "high") if "switch" in spot.place)
    before = judged(inputs, switch, 300.0)[0]
    assert before is not None and before.verdict == "not compared"
    assert before.because is not None and before.because.code == "no-switch-setting"
    data = setting.put(data, "0.85 in w.c.", "now")
    assert data["appliance"][0]["rate"][0]["switch_opens"] == setting.kept(data) == "0.85 in w.c."
    job = prepare(job_from_data(data, file="job"), file="job", beside=SCENARIOS)
    verdicts = [judged(job, switch, inches * 249.089)[0] for inches in (0.83, 0.9, 1.3)]
    assert [one.verdict for one in verdicts if one] == ["low", "marginal", "expected"]
    assert band_of(verdicts[0], System.US) == "0.950 in w.c. or more" if verdicts[0] else False
    low = next(spot for spot in spots(job, "low") if isinstance(spot, SettingSpot))
    assert low.kept(data) == "" and setting.cleared(data)["appliance"][0]["rate"][0].get("switch_opens") is None


def test_retyping_replaces_however_the_reading_names_its_place() -> None:
    """The only appliance and the only run go without saying; two of the same are one again; a repair's stay."""
    job = {
        "appliance": [{"name": "furnace"}],
        "run": [{"name": "vent", "carries": "flue gas", "between": ["furnace", "outdoors"]}],
        "reading": [
            {"place": "collar", "rate": "high", "pressure": "0.1 in w.c.", "before_repair": True},
            {"place": "collar", "rate": "high", "run": "vent", "pressure": "0.2 in w.c."},
            {"place": "collar", "rate": "high", "appliance": "furnace", "pressure": "0.3 in w.c.", "note": "windy"},
            {"place": "collar", "rate": "low", "pressure": "0.4 in w.c."},
        ],
    }
    which = {"place": "collar", "rate": "high", "appliance": None}
    assert reading_at(job, which, "pressure")["pressure"] == "0.3 in w.c."
    pressures = [one["pressure"] for one in set_reading(job, which, "pressure", "0.5 in w.c.")["reading"]]
    assert pressures == ["0.1 in w.c.", "0.5 in w.c.", "0.4 in w.c."]
    assert [one["pressure"] for one in clear_reading(job, which, "pressure")["reading"]] == [
        "0.1 in w.c.",
        "0.4 in w.c.",
    ]


def test_the_seconds_of_a_meter_go_with_its_dial() -> None:
    """One reading whichever dial is read; a unit of time may be typed, and nothing else."""
    (two,) = (spot for spot in spots(scenario("simple-pass"), "high") if isinstance(spot, MeterSpot))
    one = two.another
    assert "1 ft³" in title_of(one) and "2 ft³" in title_of(two)
    read = readable(one, "36 s", System.US)
    assert isinstance(read, tuple) and read[1] == 36.0
    data = two.put(one.put({}, "36", "now"), "72", "now")
    assert data["reading"] == [
        {"place": "meter", "rate": "high", "meter_seconds": 72.0, "meter_dial": "2 ft³", "when": "now"}
    ]
    assert (one.kept(data), two.kept(data)) == ("", "72 s")
    assert isinstance(readable(one, "36 ft", System.US), str) and isinstance(readable(one, "0", System.US), str)


def test_readings_in_the_data() -> None:
    """One for each place, rate and kind; other keys of it stay; the last one taken away leaves no list."""
    which = {"place": "collar", "rate": "high", "appliance": None}
    data = set_reading({"title": "x"}, which, "pressure", "0.3 in w.c.", when="now")
    data = set_reading(data, which, "oxygen", "6 %")
    data = set_reading({**data, "reading": [{**data["reading"][0], "note": "windy"}, data["reading"][1]]}, which,
                       "pressure", "0.4 in w.c.")  # fmt: skip
    assert len(data["reading"]) == 2
    kept = {"place": "collar", "rate": "high", "pressure": "0.4 in w.c.", "when": "now", "note": "windy"}
    assert reading_at(data, which, "pressure") == kept
    data = clear_reading(clear_reading(data, which, "pressure"), which, "oxygen")
    assert data == {"title": "x"}


def test_the_accuracy_of_a_thermometer_is_a_difference() -> None:
    """Two kelvin are 3.6 °F, not a temperature near absolute zero."""
    inputs = scenario("simple-pass")
    spot = next(one for one in spots(inputs, "high") if one.kind == "temperature")
    found = judged(inputs, spot, 316.0)[0]
    assert found is not None and found.accuracy == 2.0
    assert accuracy_of(found, System.US) == "3.6 °F" and accuracy_of(found, System.SI) == "2 K"
