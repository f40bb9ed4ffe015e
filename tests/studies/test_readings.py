"""Readings beside what they should be: bands, surpluses in other words, and what cannot be right."""

from __future__ import annotations

import copy
import math
from typing import Any

import pytest

from tests.studies.readings_of import Data, collar, data_of, inputs_of, reading
from ventsize.check.verdict import check
from ventsize.finding import Amount, Finding
from ventsize.jobfile.problems import InputError
from ventsize.quantity import System
from ventsize.report.readings import render
from ventsize.studies.field import judged, spots
from ventsize.studies.readings import readings
from ventsize.studies.readings.narrow import narrow_k, puddle_k
from ventsize.studies.readings.result import ReadingFound

LONG = "trips-on-the-vent"


def code_of(one: ReadingFound | None) -> str:
    """Of what is said of a reading."""
    assert one is not None and one.because is not None
    return one.because.code


def found(*taken: dict[str, Any], name: str = LONG, cooling: bool = True) -> tuple[ReadingFound, ...]:
    """The study's readings."""
    return readings(inputs_of(data_of(name) | {"cooling": cooling}, *taken)).readings


def test_expected_is_what_the_check_says_at_the_appliance() -> None:
    """Vent and air pipe, at both rates, at the temperature of the day the reading was taken on."""
    data = data_of(LONG)
    for run, place in (("vent", "collar"), ("air", "air pipe")):
        for rate in ("high", "low"):
            here = collar(data, rate, run, outdoor="40 degF")
            one = found(reading(place, rate, pressure=here, outdoor="40 degF"))[0]
            assert one.expected == pytest.approx(here, abs=1e-9)
            assert one.verdict == "expected"


def test_far_off_is_high_or_low_and_suction_counts_as_it_is_read() -> None:
    """High and low are of the number read: an air pipe more restricted reads lower."""
    high, low, air = found(
        reading("collar", pressure=90.0), reading("collar", "low", pressure=2.0), reading("air pipe", pressure=-90.0)
    )
    assert (high.verdict, low.verdict, air.verdict) == ("high", "low", "low")
    assert low.surplus is None
    assert air.surplus is not None and air.surplus.pressure > 0.0 and air.surplus.water is None


def test_a_band_holds_the_spread_of_the_fittings() -> None:
    """No narrower than the range the check prints; fittings with a coefficient of their own have none. Bore, friction
    and the weather stay in doubt."""
    data = data_of(LONG)
    here = collar(data)
    one = found(reading("collar", pressure=here))[0]
    assert one.low is not None and one.high is not None
    rate = next(r for r in check(inputs_of(data)).runs if r.run.name == "vent").rates[0].flow
    assert one.high - one.low >= rate.pressure_drop_high - rate.pressure_drop_low
    fixed = copy.deepcopy(data)
    for piece in fixed["run"][0]["pieces"]:
        if "fitting" in piece:
            piece["k"] = 0.5
    fixed["uncertainty"] = {"length": 0.0, "tape": "0 in", "input": 0.0, "excess_air": 0.0, "flue_temperature": "0 K"}
    narrow = readings(inputs_of(fixed, reading("collar", pressure=here))).readings[0]
    assert narrow.low is not None and narrow.high is not None
    assert narrow.high - narrow.low < 0.75 * (one.high - one.low)
    house = 2.0 * math.hypot(4.0, 3.0)  # Pa: a house and an end are seldom at the pressure of calm open air
    assert narrow.high - narrow.low > house


@pytest.mark.parametrize(("cooling", "off"), [(False, 0.0), (True, 1.2)])
def test_extra_feet_make_the_surplus(cooling: bool, off: float) -> None:
    """The job with so much more straight pipe, solved anew, shows the pressure read; where gas cools, a little less."""
    data = data_of(LONG) | {"cooling": cooling}
    read = collar(data) + 20.0
    surplus = found(reading("collar", pressure=read), cooling=cooling)[0].surplus
    assert surplus is not None
    longer = copy.deepcopy(data)
    pipe = longer["run"][0]["pieces"][2]
    pipe["pipe"] = f"{14 * 0.3048 + surplus.length:.9f} m"
    assert collar(longer) == pytest.approx(read, rel=1e-6, abs=off)


def test_a_narrow_place_and_water_make_the_surplus() -> None:
    """A puddle by what it leaves open; a narrow place by a fitting of that coefficient put into the run."""
    data = data_of(LONG) | {"cooling": False}
    read = collar(data) + 25.0
    surplus = found(reading("collar", pressure=read), cooling=False)[0].surplus
    assert surplus is not None and surplus.water is not None
    k = narrow_k(open_bore=surplus.open_bore, bore=surplus.bore)
    assert puddle_k(surplus.water / surplus.bore) == pytest.approx(k, rel=1e-4)
    blocked = copy.deepcopy(data)
    k = narrow_k(open_bore=surplus.open_bore, bore=surplus.bore)
    blocked["run"][0]["pieces"].insert(3, {"fitting": "coupling", "k": k})
    assert collar(blocked) == pytest.approx(read, rel=1e-6)


def test_accuracy_is_stated_or_assumed() -> None:
    """A share of a pressure is a share of the reading; what is assumed is said."""
    share, usual, gas = found(
        reading("collar", pressure="0.5 in w.c.", accuracy="2 %"),
        reading("collar", "low", pressure="0.5 in w.c."),
        reading("collar", oxygen="6 %"),
    )
    assert share.accuracy == pytest.approx(0.02 * 0.5 * 249.089, rel=1e-4)
    assert not share.accuracy_assumed and usual.accuracy_assumed
    assert usual.accuracy == pytest.approx(2.5)
    assert gas.accuracy == pytest.approx(0.003)
    assumed = readings(inputs_of(data_of(LONG), reading("collar", oxygen="6 %"))).assumed
    assert Finding("accuracy-assumed", values={"kinds": ("oxygen",)}) in assumed


def test_gas_is_compared_with_the_combustion_of_the_rate() -> None:
    """The oxygen and carbon dioxide that the check prints are those expected."""
    gas = check(inputs_of(data_of(LONG))).appliances[0].rates[0].gas
    oxygen, dioxide, air, warm = found(
        reading("collar", oxygen="6 %"),
        reading("collar", carbon_dioxide="8.5 %"),
        reading("air pipe", oxygen="20.9 %"),
        reading("collar", temperature="110 degF"),
    )
    assert oxygen.expected == pytest.approx(gas.oxygen_dry)
    assert dioxide.expected == pytest.approx(gas.carbon_dioxide_dry)
    assert air.expected == pytest.approx(0.2095, abs=3e-4)  # dry air, US Standard Atmosphere 1976
    assert warm.expected == pytest.approx(gas.temperature)
    assert {one.verdict for one in (oxygen, dioxide, air, warm)} == {"expected"}


DOUBTFUL = [
    ({"place": "collar", "pressure": "-0.14 in w.c."}, "vent-under-suction"),
    ({"place": "air pipe", "pressure": "0.14 in w.c."}, "air-pipe-under-pressure"),
    ({"place": "switch", "pressure": "-0.8 in w.c."}, "switch-hoses-exchanged"),
    ({"place": "collar", "oxygen": "20.9 %"}, "oxygen-of-air"),
    ({"place": "collar", "carbon_dioxide": "12.5 %"}, "carbon-dioxide-beyond-fuel"),
    ({"place": "collar", "carbon_dioxide": "0.02 %"}, "carbon-dioxide-of-air"),
    ({"place": "air pipe", "oxygen": "22 %"}, "oxygen-above-air"),
    ({"place": "collar", "pressure": "1000 in w.c."}, "pressure-beyond-appliance"),
    ({"place": "collar", "temperature": "900 degF"}, "temperature-not-of-flue-gas"),
]


@pytest.mark.parametrize(("taken", "code"), DOUBTFUL)
def test_what_cannot_be_right_is_doubted_and_explained(taken: dict[str, str], code: str) -> None:
    """It is kept out of every comparison, and says what it would mean if it were right."""
    one = found({"rate": "high", **taken})[0]
    assert one.verdict == "doubtful"
    assert code_of(one) == code
    assert not readings(inputs_of(data_of(LONG), {"rate": "high", **taken})).all_expected


def test_oxygen_and_carbon_dioxide_that_contradict_each_other() -> None:
    """Either tells the other; both are doubted, and what would go together is said. Within accuracy they may differ."""
    both = found(reading("collar", oxygen="6 %"), reading("collar", carbon_dioxide="10.4 %"))
    assert [one.verdict for one in both] == ["doubtful", "doubtful"]
    assert both[0].because is not None and both[0].because.code == "gases-contradict"
    goes_with = both[0].because.values["goes_with"]
    assert isinstance(goes_with, Amount) and goes_with.value == pytest.approx(0.085, abs=5e-4)
    agreeing = found(reading("collar", oxygen="6 %"), reading("collar", carbon_dioxide="8.3 %"))
    assert [one.verdict for one in agreeing] == ["expected", "expected"]


def test_what_the_job_does_not_tell_is_not_compared() -> None:
    """A switch without a setting, a temperature along a pipe where nothing cools: said, and no verdict."""
    switch, end = found(
        reading("switch", "low", pressure=200.0), reading("terminal", temperature="100 degF"), cooling=False
    )
    assert (switch.verdict, end.verdict) == ("not compared", "not compared")
    assert (code_of(switch), code_of(end)) == ("no-switch-setting", "not-cooled")
    assert switch.expected is None


BAD = [
    ({"place": "rooftop"}, "the job has no place 'rooftop'"),
    ({"place": "colar"}, "perhaps 'collar'"),
    ({"rate": None}, "at which firing rate"),
    ({"place": "zero", "pressure": None, "oxygen": "5 %"}, "of a manometer"),
    ({"place": "room", "pressure": None, "oxygen": "5 %"}, "only its carbon monoxide"),
    ({"place": "meter"}, "read in seconds"),
    ({"place": "after piece 20"}, "no piece 20"),
    ({"place": "after piece 6"}, "open air"),
    ({"place": "after piece 1", "run": "air"}, "counted"),
    ({"place": "switch", "pressure": None, "oxygen": "5 %"}, "only a pressure"),
    ({"place": "inducer"}, "only its speed"),
    ({"place": "terminal", "pressure": None, "speed": "70 %"}, "the inducer's"),
    ({"run": "vemt"}, "perhaps 'vent'"),
    ({"oxygen": "5 %"}, "more than one value"),
    ({"pressure": None}, "no value"),
    ({"accuracy": "0.3 ft"}, "accuracy"),
    ({"accuracy": "0 Pa"}, "no instrument is exact"),
    ({"setting": "0.8 in w.c."}, "not across the switch"),
]


@pytest.mark.parametrize(("change", "says"), BAD)
def test_bad_readings_are_refused_in_a_sentence(change: dict[str, Any], says: str) -> None:
    """Where, what, and what is expected."""
    taken = {"place": "collar", "rate": "high", "pressure": "0.2 in w.c.", **change}
    with pytest.raises(InputError, match=says) as error:
        found({key: value for key, value in taken.items() if value is not None})
    assert "reading 1" in str(error.value)


def test_an_air_pipe_that_is_not_there() -> None:
    """An appliance that takes its air from the room has none to read."""
    with pytest.raises(InputError, match="takes its air from the room"):
        found(reading("air pipe", pressure=-10.0), name="old-two-inch-run")


def test_no_readings_says_what_one_looks_like() -> None:
    """A job without any is told what is expected."""
    with pytest.raises(InputError, match="the job has no reading"):
        readings(inputs_of(data_of(LONG)))


@pytest.mark.parametrize("taken", [reading("switch", pressure="3 in w.c."), reading("inducer", speed="5 %")])
def test_nothing_is_called_high_or_low_from_an_example_inducer(taken: Data) -> None:
    """An invented curve in the job is no measure of the appliance: far off as it is, the reading is not compared."""
    data = data_of("trips-not-the-vent")
    own = data["appliance"][0]["inducer"]
    assert own["example"] is False
    assert readings(inputs_of(data, taken)).readings[0].compared
    data["appliance"][0]["inducer"] = {**own, "example": True}
    study = readings(inputs_of(data, taken))
    assert study.readings[0].verdict == "not compared"
    assert code_of(study.readings[0]) == "example-inducer"
    assert "not compared: the inducer is an example" in " ".join(render(study, System.US).split())


def test_a_setting_read_off_the_switch_counts_beside_an_example_inducer() -> None:
    """What is written on the switch is the appliance's own, whatever curve is beside it."""
    data = data_of("trips-not-the-vent")
    data["appliance"][0]["inducer"] = {**data["appliance"][0]["inducer"], "example": True}
    taken = reading("switch", pressure="0.8 in w.c.", setting="0.6 in w.c.")
    assert readings(inputs_of(data, taken)).readings[0].verdict == "expected"


def test_an_example_of_fixed_speed_does_not_move_the_flow() -> None:
    """The collar of a job is what it is with no inducer described at all."""
    data = data_of("switch-opens-at-high-fire")
    taken = reading("collar", pressure="0.5 in w.c.")
    with_example = readings(inputs_of(data, taken)).readings[0]
    del data["appliance"][0]["inducer"]
    assert with_example.expected == readings(inputs_of(data, taken)).readings[0].expected


def test_the_page_at_the_appliance_and_the_study_show_one_band() -> None:
    """What a kept reading says of the weather and its instrument holds while its value is typed anew."""
    taken = reading("collar", pressure="0.36 in w.c.", accuracy="0.03 in w.c.", outdoor="-10 degF")
    inputs = inputs_of(data_of(LONG), taken)
    spot = next(one for one in spots(inputs, "high") if (one.place, one.kind) == ("collar", "pressure"))
    value = inputs.job.readings[0].value
    assert judged(inputs, spot, value)[0] == readings(inputs).readings[0]


def test_the_manometers_zero_is_taken_off_every_pressure() -> None:
    """0.02 in w.c. with both hoses open: 0.16 is 0.14."""
    study = readings(
        inputs_of(
            data_of(LONG),
            {"place": "zero", "pressure": "0.02 in w.c."},
            reading("collar", pressure="0.16 in w.c."),
            reading("collar", oxygen="6 %"),
        )
    )
    collar_, gas = study.readings
    assert collar_.measured == pytest.approx(0.14 * 249.0889, rel=1e-4)
    assert gas.measured == pytest.approx(0.06)
    assert "0.160 in w.c. less the zero, 0.020 in w.c." in render(study, System.US)


def test_before_and_after_a_repair_side_by_side() -> None:
    """What was read before is beside what is read now, judged by nothing; what was not read again is kept."""
    study = readings(
        inputs_of(
            data_of(LONG),
            reading("collar", pressure="0.36 in w.c.", before_repair=True),
            reading("collar", "low", pressure="0.18 in w.c.", before_repair=True),
            reading("collar", pressure="0.14 in w.c."),
        )
    )
    low, high = study.readings
    assert (low.verdict, code_of(low)) == ("not compared", "before-repair")
    assert (high.verdict, high.before) == ("expected", pytest.approx(0.36 * 249.0889, rel=1e-4))
    assert "before the repair 0.360 in w.c., now 0.140 in w.c." in render(study, System.US)


def test_the_gas_meter_tells_the_input() -> None:
    """60,000 Btu/h of gas at 1,015 Btu/ft³ (pure methane at 60 °F and 14.98 psi, 1,010 at 14.73): 2 ft³ in 122 s."""
    one = found({"place": "meter", "rate": "high", "meter_seconds": 122.0, "meter_dial": "2 ft³"})[0]
    assert one.expected == pytest.approx(122.0, rel=0.04) and one.verdict == "expected"
    fast = found({"place": "meter", "rate": "high", "meter_seconds": 97.0, "meter_dial": "2 ft³"})[0]
    assert fast.verdict == "low"
    assert code_of(found({"place": "meter", "rate": "high", "meter_seconds": 97.0})[0]) == "no-meter-dial"


def test_a_reading_at_a_rate_the_job_lacks_is_kept() -> None:
    """The others are compared all the same."""
    lost, kept = found(reading("collar", "turbo", pressure="0.3 in w.c."), reading("collar", pressure="0.14 in w.c."))
    assert (lost.verdict, code_of(lost), kept.verdict) == ("not compared", "rate-not-in-job", "expected")
