"""Unit slips and absurd readings: each with what is said of it, and what was probably meant.

The job is `trips-on-the-vent` with a switch of 0.85 in w.c. Its bands: collar at high fire 0.105 to 0.165 in w.c., at
low 0.053 to 0.082, air pipe -0.180 to -0.131, O2 5.3 to 6.5 %, flue gas 104.6 to 115.4 °F (printed by
`ventsize readings`; only that the meant value lies in its band is used here, conversions by hand).
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.studies.readings_of import data_of, inputs_of
from ventsize.finding import Amount
from ventsize.jobfile.editing.readings import set_reading
from ventsize.studies.readings import readings
from ventsize.studies.readings.result import ReadingFound

INCH = 249.0889  # Pa
UNIT, POINT, PERHAPS = "probably-another-unit", "probably-decimal-point", "perhaps-another-unit"
COLLAR, AIR, SWITCH, FLUE = ({"place": place, "rate": "high"} for place in ("collar", "air pipe", "switch", "collar"))
METER = {"place": "meter", "rate": "high", "meter_dial": "2 ft³"}

# The reading, its verdict, the code said of it, and what was meant in SI (None: not named).
SLIPS: list[tuple[dict[str, Any], str, str, float | None]] = [
    # pressures: too high by a unit or a point
    ({**COLLAR, "pressure": "35 in w.c."}, "doubtful", UNIT, 35.0),  # pascals
    ({**COLLAR, "pressure": "3.4 in w.c."}, "doubtful", UNIT, 3.4 * 9.80665),  # millimeters
    ({**COLLAR, "pressure": "14 in w.c."}, "doubtful", POINT, 0.14 * INCH),
    ({**COLLAR, "pressure": "140 in w.c."}, "doubtful", POINT, 0.14 * INCH),
    ({**COLLAR, "pressure": "0.14 psi"}, "doubtful", UNIT, 0.14 * INCH),
    ({**COLLAR, "pressure": "0.14 in Hg"}, "high", "", None),  # 1.9 in w.c.: a closed vent shows as much
    ({**COLLAR, "pressure": "1.4 in w.c."}, "high", "", None),  # ten times: a vent that is all but closed
    ({**COLLAR, "pressure": "35 kPa"}, "doubtful", POINT, 35.0),  # pascals
    ({**COLLAR, "pressure": "0.35 bar"}, "doubtful", POINT, 35.0),  # millibar
    ({**AIR, "pressure": "-37 in w.c."}, "doubtful", UNIT, -37.0),
    ({**AIR, "pressure": "-0.15 psi"}, "doubtful", UNIT, -0.15 * INCH),
    ({**AIR, "pressure": "-15 in w.c."}, "doubtful", POINT, -0.15 * INCH),
    ({**SWITCH, "pressure": "300 in w.c."}, "doubtful", UNIT, 300.0),
    ({**SWITCH, "pressure": "1.8 psi"}, "doubtful", UNIT, 1.8 * INCH),
    ({**SWITCH, "pressure": "110 in w.c."}, "doubtful", POINT, 1.1 * INCH),
    # pressures: too low; still readings, since a vent that has come apart shows as much
    ({**COLLAR, "pressure": "0.14 Pa"}, "low", PERHAPS, 0.14 * INCH),
    ({**COLLAR, "pressure": "0.0014 in w.c."}, "low", "perhaps-decimal-point", 0.14 * INCH),
    ({**COLLAR, "pressure": "0.005 in w.c."}, "low", PERHAPS, 0.005 * 6894.757),  # psi
    ({**COLLAR, "pressure": "0 in w.c."}, "low", "", None),
    ({**SWITCH, "pressure": "1.1 Pa"}, "low", PERHAPS, 1.1 * INCH),
    ({**SWITCH, "pressure": "0.011 in w.c."}, "low", "perhaps-decimal-point", 1.1 * INCH),
    # hoses exchanged
    ({**COLLAR, "pressure": "-0.14 in w.c."}, "doubtful", "vent-under-suction", 0.14 * INCH),
    ({**AIR, "pressure": "0.15 in w.c."}, "doubtful", "air-pipe-under-pressure", -0.15 * INCH),
    ({**SWITCH, "pressure": "-1.1 in w.c."}, "doubtful", "switch-hoses-exchanged", 1.1 * INCH),
    # gases
    ({**FLUE, "oxygen": "6 ppm"}, "doubtful", UNIT, 0.06),
    ({**FLUE, "oxygen": "0.06 %"}, "doubtful", UNIT, 0.06),
    ({**FLUE, "oxygen": "600 %"}, "doubtful", UNIT, 0.06),  # the share 6 typed for 6 %
    ({**FLUE, "oxygen": "60 %"}, "doubtful", POINT, 0.06),
    ({**FLUE, "oxygen": "20.9 %"}, "doubtful", "oxygen-of-air", None),
    ({**FLUE, "carbon_dioxide": "8.4 ppm"}, "doubtful", UNIT, 0.084),
    ({**FLUE, "carbon_dioxide": "84 %"}, "doubtful", POINT, 0.084),
    ({**FLUE, "carbon_dioxide": "12.6 %"}, "doubtful", "carbon-dioxide-beyond-fuel", None),
    ({**FLUE, "carbon_dioxide": "0.03 %"}, "doubtful", "carbon-dioxide-of-air", None),
    ({**AIR, "oxygen": "25 %"}, "doubtful", "oxygen-above-air", None),
    ({**FLUE, "carbon_monoxide_air_free": "85 %"}, "doubtful", UNIT, 85e-6),
    ({**FLUE, "carbon_monoxide_air_free": "0.0085 ppm"}, "doubtful", UNIT, 85e-6),  # percent
    # temperatures
    ({**FLUE, "temperature": "43 degF"}, "doubtful", UNIT, 43 + 273.15),
    ({**FLUE, "temperature": "110 degC"}, "doubtful", UNIT, (110 - 32) / 1.8 + 273.15),
    ({**FLUE, "temperature": "316 degC"}, "doubtful", UNIT, 316.0),
    ({**FLUE, "temperature": "43 K"}, "doubtful", UNIT, 43 + 273.15),
    ({**FLUE, "temperature": "900 degF"}, "doubtful", "temperature-not-of-flue-gas", None),
    # the gas meter: 60,000 Btu/h of some 1,000 Btu/ft³ take 2 ft³ in two minutes
    ({**METER, "meter_seconds": 60.0}, "doubtful", "probably-another-dial", 120.0),
    ({**METER, "meter_seconds": 2.0}, "doubtful", "probably-minutes", 120.0),
    # the others
    ({"place": "inducer", "rate": "high", "speed": "3200 %"}, "doubtful", "speed-above-top", None),
    ({"place": "collar", "rate": "turbo", "pressure": "0.14 in w.c."}, "not compared", "rate-not-in-job", None),
]


def found(taken: dict[str, Any]) -> ReadingFound:
    """The reading by itself."""
    return readings(inputs_of(data_of("trips-on-the-vent"), {"outdoor": "19 degF", **taken})).readings[0]


def test_there_are_forty() -> None:
    assert len(SLIPS) >= 40


@pytest.mark.parametrize(("taken", "verdict", "code", "meant"), SLIPS, ids=str)
def test_a_slip_is_named_as_what_was_probably_meant(
    taken: dict[str, Any], verdict: str, code: str, meant: float | None
) -> None:
    """And an ordinary fault is not explained away as one."""
    one = found(taken)
    assert one.verdict == verdict
    said = "" if one.because is None or one.because.code.startswith("switch-below") else one.because.code
    assert said == code
    if meant is not None:
        assert one.because is not None
        amount = one.because.values["meant"]
        assert isinstance(amount, Amount) and amount.value == pytest.approx(meant, rel=0.1)


def test_oxygen_and_carbon_dioxide_exchanged() -> None:
    """Each is what the other should be."""
    both = readings(
        inputs_of(data_of("trips-on-the-vent"), {**FLUE, "oxygen": "8.5 %"}, {**FLUE, "carbon_dioxide": "5.9 %"})
    ).readings
    assert [one.because.code for one in both if one.because] == ["gases-exchanged", "gases-exchanged"]


@pytest.mark.parametrize(("text", "code"), [("14 in w.c.", POINT), ("-0.14 in w.c.", "vent-under-suction")])
def test_what_was_read_twice_is_taken_as_it_stands(text: str, code: str) -> None:
    """A vent may be blocked or drawn upon so hard that it looks like a slip: then it must not be left out for good."""
    once, twice = (found({**COLLAR, "pressure": text, "confirmed": confirmed}) for confirmed in (False, True))
    assert once.verdict == "doubtful" and once.because is not None and once.because.code == code
    beyond = twice.because is not None and twice.because.code == "pressure-beyond-appliance"
    assert twice.verdict == ("low" if text.startswith("-") else "doubtful") and beyond is not text.startswith("-")


def test_a_confirmation_goes_with_its_figure() -> None:
    """Typed anew, it has to be read twice again."""
    which = {"place": "collar", "rate": "high"}
    data = set_reading({}, which, "pressure", "-0.14 in w.c.", confirmed=True)
    assert set_reading(data, which, "pressure", "-0.14 in w.c.")["reading"][0]["confirmed"] is True
    assert "confirmed" not in set_reading(data, which, "pressure", "-0.2 in w.c.")["reading"][0]


@pytest.mark.parametrize(("text", "verdict"), [("0.01 in w.c.", "expected"), ("-0.08 in w.c.", "low")])
def test_the_room_is_read_against_outdoors(text: str, verdict: str) -> None:
    """A house is a few pascals off; 20 Pa of suction is a fan or a tall stack."""
    assert found({"place": "room", "pressure": text}).verdict == verdict
