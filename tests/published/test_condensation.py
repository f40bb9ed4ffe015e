"""Dew points, humid air and condensate against IAPWS, psychrometrics and reckoning apart from this program."""

from __future__ import annotations

import pytest

from tests import coolprop
from ventsize.gas.atmosphere import ambient_pressure
from ventsize.gas.condensation import dew_point, enthalpy_with_condensation, saturate
from ventsize.gas.flue import FlueGas, flue_gas
from ventsize.gas.mixture import DRY_AIR, Mixture, humid_air, molar_mass
from ventsize.gas.water import latent_heat, saturation_pressure

BTU = 1055.056  # J
POUND = 0.45359237  # kg
FOOT = 0.3048  # m
ZERO = 273.15  # K
ATMOSPHERE = 101_325.0  # Pa

METHANE = {"methane": 1.0}
PROPANE = {"propane": 1.0}
BUTANE = {"butane": 1.0}


def flue(
    fuel: dict[str, float],
    excess_air: float,
    celsius: float = 100.0,
    *,
    pressure: float = ATMOSPHERE,
    air: Mixture = DRY_AIR,
) -> FlueGas:
    """Flue gas of 100 000 Btu/h."""
    return flue_gas(
        mole_fractions=fuel,
        input=1e5 * BTU / 3600,
        excess_air=excess_air,
        flue_temperature=celsius + ZERO,
        pressure=pressure,
        air=air,
    )


@pytest.mark.parametrize("celsius", [0.02, 5, 20, 40, 55, 60, 80, 99])
def test_saturation_over_water(celsius: float) -> None:
    """Against CoolProp's IAPWS-95, within 0.05 %."""
    temperature = celsius + ZERO
    reference = coolprop.PropsSI("P", "T", temperature, "Q", 1, "Water")
    assert saturation_pressure(temperature=temperature) == pytest.approx(reference, rel=5e-4)


@pytest.mark.parametrize(
    ("temperature", "pressure"),
    [
        (230.0, 8.94735),  # IAPWS R14-08(2011), verification value; from memory
        (253.15, 103.24),  # ASHRAE Fundamentals, chapter 1, table of saturated water; from memory
        (233.15, 12.84),  # same
        (263.15, 259.87),  # same
    ],
)
def test_saturation_over_ice(temperature: float, pressure: float) -> None:
    """Vapour pressure over ice at a few points, within 0.3 %."""
    assert saturation_pressure(temperature=temperature) == pytest.approx(pressure, rel=3e-3)


@pytest.mark.parametrize("celsius", [1, 10, 30, 50, 60, 90])
def test_latent_heat(celsius: float) -> None:
    """Against CoolProp's IAPWS-95, within 0.2 %."""
    temperature = celsius + ZERO
    reference = coolprop.PropsSI("H", "T", temperature, "Q", 1, "Water") - coolprop.PropsSI(
        "H", "T", temperature, "Q", 0, "Water"
    )
    assert latent_heat(temperature=temperature) == pytest.approx(reference, rel=2e-3)


def test_latent_heat_over_ice() -> None:
    """Heat of sublimation, 2838 kJ/kg at −20 °C (ASHRAE Fundamentals, chapter 1; from memory), within 0.5 %."""
    assert latent_heat(temperature=253.15) == pytest.approx(2.838e6, rel=5e-3)


# Reckoned by stoichiometry with CoolProp's saturation pressure, one atmosphere: excess air %, dew point °C in dry
# air and in air of 25 °C and 60 % relative humidity (0.0119 kg/kg).
DEW_POINTS = [
    (METHANE, 0, 59.19, 60.71),
    (METHANE, 10, 57.34, 59.01),
    (METHANE, 20, 55.66, 57.49),
    (METHANE, 30, 54.12, 56.10),
    (METHANE, 40, 52.70, 54.82),
    (METHANE, 50, 51.38, 53.65),
    (METHANE, 100, 45.97, 48.93),
    (PROPANE, 0, 54.87, 56.78),
    (PROPANE, 20, 51.38, 53.65),
    (PROPANE, 30, 49.87, 52.31),
    (PROPANE, 50, 47.17, 49.97),
    (PROPANE, 100, 41.86, 45.47),
    (BUTANE, 0, 54.12, None),
    (BUTANE, 20, 50.64, None),
    (BUTANE, 50, 46.44, None),
]


@pytest.mark.parametrize(("fuel", "excess", "dry", "humid"), DEW_POINTS)
def test_dew_points(fuel: dict[str, float], excess: float, dry: float, humid: float | None) -> None:
    """Dew point of flue gas at sea level, within 0.2 K."""
    assert flue(fuel, excess / 100).dew_point - ZERO == pytest.approx(dry, abs=0.2)
    if humid is not None:
        air = humid_air(relative_humidity=0.6, temperature=25 + ZERO, pressure=ATMOSPHERE)
        assert flue(fuel, excess / 100, air=air).dew_point - ZERO == pytest.approx(humid, abs=0.2)


@pytest.mark.parametrize(
    ("feet", "dew_points"),
    [(5280, (55.08, 51.64, 50.14, 47.48)), (10_000, (51.37, 48.02, 46.56, 43.97))],
)
def test_dew_points_at_altitude(feet: float, dew_points: tuple[float, ...]) -> None:
    """Methane at 0, 20, 30 and 50 % excess air; reckoned as above at the standard atmosphere's pressure."""
    pressure = ambient_pressure(altitude=feet * FOOT)
    for excess, expected in zip((0.0, 0.2, 0.3, 0.5), dew_points, strict=True):
        assert flue(METHANE, excess, pressure=pressure).dew_point - ZERO == pytest.approx(expected, abs=0.2)


@pytest.mark.parametrize(
    ("fuel", "excess", "celsius", "water", "mass_left", "volume_left", "condensate"),
    [
        (METHANE, 0.2, 40, 7.29, 0.9390, 0.9055, 5.542),
        (METHANE, 0.2, 50, 12.19, 0.9716, 0.9560, 2.579),
        (METHANE, 0.3, 40, 7.29, 0.9471, 0.9178, 5.189),
        (METHANE, 0.3, 50, 12.19, 0.9801, 0.9690, 1.955),
        (METHANE, 0.5, 40, 7.29, 0.9602, 0.9378, 4.482),
        (PROPANE, 0.3, 40, 7.29, 0.9672, None, 3.243),
        (PROPANE, 0.3, 50, None, 1.0, 1.0, 0.0),
    ],
)
def test_condensate(
    fuel: dict[str, float],
    excess: float,
    celsius: float,
    water: float | None,
    mass_left: float,
    volume_left: float | None,
    condensate: float,
) -> None:
    """Saturated flue gas and its condensate, lb/h for 100 000 Btu/h; reckoned apart with CoolProp, within 0.5 %."""
    gas = flue(fuel, excess, celsius)
    assert gas.flue_mass_flow / gas.uncondensed_mass_flow == pytest.approx(mass_left, abs=3e-4)
    assert gas.condensate * 3600 / POUND == pytest.approx(condensate, rel=5e-3, abs=1e-12)
    if water is not None:
        assert 100 * gas.mixture.fraction("water") == pytest.approx(water, abs=0.02)
    if volume_left is not None:
        moles_before = gas.uncondensed_mass_flow / molar_mass(gas.uncondensed)
        assert gas.molar_flow / moles_before == pytest.approx(volume_left, abs=3e-4)


def test_condensate_rules() -> None:
    """The most condensate there can be, against rules for sizing drains.

    DWA-A 251: 0.14 kg per kWh of gas, from memory; it stands on the net or gross heat by edition, hence 15 %.
    About one US gallon an hour for 100 000 Btu/h: common practice, no source.
    """
    coldest = flue(METHANE, 0.0, 5.0)
    assert coldest.condensate * 3600 / (coldest.input / 1000) == pytest.approx(0.14, rel=0.15)
    assert coldest.condensate * 3600 / 3.785 == pytest.approx(1.0, rel=0.2)


@pytest.mark.parametrize("pressure", [ATMOSPHERE, 83_432.0])
@pytest.mark.parametrize("celsius", [-20.0, -5.0, 10.0, 25.0, 35.0])
@pytest.mark.parametrize("humidity", [0.2, 0.6, 1.0])
def test_humid_air_against_psychrometrics(celsius: float, humidity: float, pressure: float) -> None:
    """Humidity ratio and dew point against CoolProp's humid air (ASHRAE RP-1485).

    That reckons 0.4 % more vapour at saturation, for what the air does to it; here vapour is ideal. Hence 0.7 %
    and 0.3 K.
    """
    air = humid_air(relative_humidity=humidity, temperature=celsius + ZERO, pressure=pressure)
    water = air.fraction("water")
    ratio = water * 0.0180153 / ((1 - water) * molar_mass(DRY_AIR))
    state = ("T", celsius + ZERO, "P", pressure, "R", humidity)
    assert ratio == pytest.approx(coolprop.HAPropsSI("W", *state), rel=7e-3)
    assert dew_point(air, pressure=pressure) == pytest.approx(coolprop.HAPropsSI("D", *state), abs=0.3)


def test_humidity_ratio_of_the_tables() -> None:
    """25 °C and 60 % relative humidity is 0.0119 kg of water for each kg of dry air (ASHRAE psychrometric chart)."""
    water = humid_air(relative_humidity=0.6, temperature=298.15, pressure=ATMOSPHERE).fraction("water")
    assert water / (1 - water) * 0.621945 == pytest.approx(0.0119, abs=5e-5)


@pytest.mark.parametrize(("warm", "cold"), [(50, 40), (40, 20), (30, 5)])
def test_heat_of_cooling_saturated_air(warm: float, cold: float) -> None:
    """Heat given off by saturated air that cools, its condensate leaving at the cold end, within 1 %.

    Against CoolProp's humid air and IAPWS-95 liquid water.
    """
    hot, chilled = warm + ZERO, cold + ZERO
    before = ("T", hot, "P", ATMOSPHERE, "R", 1.0)
    after = ("T", chilled, "P", ATMOSPHERE, "R", 1.0)
    drained = coolprop.HAPropsSI("W", *before) - coolprop.HAPropsSI("W", *after)
    liquid = coolprop.PropsSI("H", "T", chilled, "P", ATMOSPHERE, "Water")
    reference = coolprop.HAPropsSI("H", *before) - coolprop.HAPropsSI("H", *after) - drained * liquid

    air = humid_air(relative_humidity=1.0, temperature=hot, pressure=ATMOSPHERE)
    given_off = enthalpy_with_condensation(air, temperature=hot, pressure=ATMOSPHERE) - enthalpy_with_condensation(
        air, temperature=chilled, pressure=ATMOSPHERE
    )
    dry_air = (1 - air.fraction("water")) * molar_mass(DRY_AIR)
    # The reference goes by the mass of dry air.
    assert given_off / dry_air == pytest.approx(reference, rel=0.01)
    left = saturate(air, molar_flow=1.0, temperature=chilled, pressure=ATMOSPHERE)
    assert left.condensate / dry_air == pytest.approx(drained, rel=0.01)
