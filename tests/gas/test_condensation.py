"""Condensation: what it must do at every temperature, and at its edges."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ventsize.gas.condensation import (
    dew_point,
    enthalpy_with_condensation,
    saturate,
    temperature_with_condensation,
)
from ventsize.gas.constants import FREEZING
from ventsize.gas.flue import flue_gas
from ventsize.gas.mixture import DRY_AIR, enthalpy, humid_air, mixture_of, molar_mass
from ventsize.gas.water import TRIPLE_POINT, latent_heat, saturation_pressure, saturation_temperature

ATMOSPHERE = 101_325.0
METHANE = {"methane": 1.0}
FLUE = flue_gas(
    mole_fractions=METHANE, input=1000.0, excess_air=0.3, flue_temperature=400.0, pressure=ATMOSPHERE
).uncondensed
pressures = st.floats(60_000.0, 105_000.0)


@given(pressure=st.floats(0.01, 2e6))
def test_saturation_temperature_is_the_inverse(pressure: float) -> None:
    """Over liquid and over ice."""
    temperature = saturation_temperature(pressure=pressure)
    assert saturation_pressure(temperature=temperature) == pytest.approx(pressure, rel=1e-9)


def test_ice_and_liquid_meet_at_the_triple_point() -> None:
    """No step in the saturation pressure there."""
    below = saturation_pressure(temperature=TRIPLE_POINT - 1e-9)
    above = saturation_pressure(temperature=TRIPLE_POINT)
    assert below == pytest.approx(above, rel=1e-5)


def test_freezing_is_a_hundredth_below_the_triple_point() -> None:
    """0 °C and 0.01 °C (ITS-90)."""
    assert pytest.approx(TRIPLE_POINT - 0.01) == FREEZING


def test_at_the_triple_point_water_is_liquid() -> None:
    """2500.9 kJ/kg there; a hair below it is ice, and gives 333.4 kJ/kg more (IAPWS, from memory, 0.2 %)."""
    assert latent_heat(temperature=TRIPLE_POINT) == pytest.approx(2.5009e6, rel=2e-3)
    assert latent_heat(temperature=TRIPLE_POINT - 1e-9) == pytest.approx(2.8343e6, rel=2e-3)


def test_the_ends_of_the_equations_are_in_them() -> None:
    """The critical point, 647.096 K and 22.064 MPa (IAPWS R7-97), and 50 K, where there is next to no vapour."""
    assert saturation_pressure(temperature=647.096) == pytest.approx(22.064e6, rel=1e-4)
    assert 0.0 < saturation_pressure(temperature=50.0) < 1e-30
    assert saturation_temperature(pressure=1e-50) == 0.0


@pytest.mark.parametrize("temperature", [0.0, 49.0, 650.0, math.nan])
def test_no_saturation_outside_the_equations(temperature: float) -> None:
    """Refused in a sentence, not extrapolated."""
    with pytest.raises(ValueError, match="no saturation pressure"):
        saturation_pressure(temperature=temperature)


def test_dry_gas_has_no_dew_point() -> None:
    """Zero kelvin, the limit: any temperature is above it."""
    assert dew_point(DRY_AIR, pressure=ATMOSPHERE) == 0.0
    left = saturate(DRY_AIR, molar_flow=2.0, temperature=230.0, pressure=ATMOSPHERE)
    assert left.condensate == 0.0
    assert left.mixture == DRY_AIR


def test_very_dry_air_has_a_frost_point() -> None:
    """Down to traces of water."""
    air = mixture_of({"nitrogen": 1.0, "water": 1e-9})
    assert 150.0 < dew_point(air, pressure=ATMOSPHERE) < 200.0


@given(excess=st.floats(0.0, 3.0), more=st.floats(0.01, 2.0), pressure=pressures, humidity=st.floats(0.0, 0.8))
def test_more_excess_air_lowers_the_dew_point(excess: float, more: float, pressure: float, humidity: float) -> None:
    """Air drier than the flue gas thins out its water."""
    air = humid_air(relative_humidity=humidity, temperature=295.0, pressure=pressure)

    def dew(excess_air: float) -> float:
        return flue_gas(
            mole_fractions=METHANE,
            input=1e4,
            excess_air=excess_air,
            flue_temperature=330.0,
            pressure=pressure,
            air=air,
        ).dew_point

    assert dew(excess + more) < dew(excess)


@given(
    input=st.floats(1e3, 1e6),
    excess=st.floats(0.0, 2.0),
    temperature=st.floats(250.0, 500.0),
    pressure=pressures,
    humidity=st.floats(0.0, 1.0),
)
def test_what_goes_in_comes_out(
    input: float, excess: float, temperature: float, pressure: float, humidity: float
) -> None:
    """Fuel and air by mass are flue gas and condensate, to rounding."""
    air = humid_air(relative_humidity=humidity, temperature=290.0, pressure=pressure)
    gas = flue_gas(
        mole_fractions={"methane": 0.9, "ethane": 0.08, "nitrogen": 0.02},
        input=input,
        excess_air=excess,
        flue_temperature=temperature,
        pressure=pressure,
        air=air,
    )
    entering = gas.fuel_mass_flow + gas.air_mass_flow
    assert gas.flue_mass_flow + gas.condensate == pytest.approx(entering, rel=1e-12)
    assert gas.uncondensed_mass_flow == pytest.approx(entering, rel=1e-12)
    assert gas.molar_flow * molar_mass(gas.mixture) == pytest.approx(gas.flue_mass_flow, rel=1e-12)
    assert (gas.condensate > 0.0) == (temperature < gas.dew_point)
    if gas.condensate:
        assert dew_point(gas.mixture, pressure=pressure) == pytest.approx(temperature, abs=1e-6)


@given(temperature=st.floats(240.0, 360.0), lower=st.floats(0.0, 30.0), pressure=pressures)
def test_condensing_in_two_steps_or_one(temperature: float, lower: float, pressure: float) -> None:
    """Draining on the way changes nothing about what is left in the end."""
    end = temperature - lower
    warm = saturate(FLUE, molar_flow=1.0, temperature=temperature, pressure=pressure)
    two = saturate(warm.mixture, molar_flow=warm.molar_flow, temperature=end, pressure=pressure)
    one = saturate(FLUE, molar_flow=1.0, temperature=end, pressure=pressure)
    assert two.mass_flow == pytest.approx(one.mass_flow, rel=1e-12)
    assert warm.condensate + two.condensate == pytest.approx(one.condensate, rel=1e-9, abs=1e-15)


def test_hot_gas_keeps_its_water() -> None:
    """Above boiling, and above the critical point of water, where no saturation pressure exists."""
    for temperature in (380.0, 700.0):
        left = saturate(FLUE, molar_flow=1.0, temperature=temperature, pressure=ATMOSPHERE)
        assert left.condensate == 0.0
        assert left.mixture == FLUE


def test_above_the_dew_point_enthalpy_is_sensible() -> None:
    """Nothing condenses, so nothing is taken out; above the critical point of water too."""
    for temperature in (350.0, 700.0):
        with_condensation = enthalpy_with_condensation(FLUE, temperature=temperature, pressure=ATMOSPHERE)
        sensible = enthalpy(FLUE, temperature=temperature) * molar_mass(FLUE)
        assert with_condensation == pytest.approx(sensible, rel=1e-12)


def test_condensing_gas_cools_several_times_more_slowly() -> None:
    """Just below the dew point a kelvin costs several times the heat of one just above it."""
    dew = dew_point(FLUE, pressure=ATMOSPHERE)

    def heat(temperature: float) -> float:
        return enthalpy_with_condensation(FLUE, temperature=temperature, pressure=ATMOSPHERE)

    assert heat(dew) - heat(dew - 1.0) > 5.0 * (heat(dew + 1.0) - heat(dew))


@given(temperature=st.floats(275.0, 600.0), pressure=pressures)
def test_temperature_with_condensation_is_the_inverse(temperature: float, pressure: float) -> None:
    """There and back, across the dew point."""
    heat = enthalpy_with_condensation(FLUE, temperature=temperature, pressure=pressure)
    back = temperature_with_condensation(FLUE, heat=heat, pressure=pressure)
    assert back == pytest.approx(temperature, abs=1e-6)


def test_heat_out_of_range_is_refused() -> None:
    """No temperature is made up."""
    for heat in (-1e6, 1e6):
        with pytest.raises(ValueError, match="outside the range"):
            temperature_with_condensation(FLUE, heat=heat, pressure=ATMOSPHERE)


@pytest.mark.parametrize("temperature", [100.0, 1500.0, math.nan])
def test_flue_gas_outside_the_properties_is_refused(temperature: float) -> None:
    """At once, in a sentence about the flue gas, not later in the pipe."""
    with pytest.raises(ValueError, match="temperature of the flue gas is .*°F"):
        flue_gas(mole_fractions=METHANE, input=1e4, excess_air=0.3, flue_temperature=temperature, pressure=ATMOSPHERE)
