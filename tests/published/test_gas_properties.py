"""Density, viscosity, heat capacity and conductivity against Cantera and CoolProp.

Cantera: GRI-Mech 3.0, mixture-averaged transport. Its steam is 6 % more viscous than CoolProp's,
hence 3 % on viscosity. CoolProp holds reference equations for pure gases and air.
"""

from __future__ import annotations

import cantera
import pytest

from tests import coolprop
from ventsize.gas.flue import FlueGas, flue_gas
from ventsize.gas.mixture import (
    DRY_AIR,
    Mixture,
    conductivity,
    density,
    heat_capacity,
    humid_air,
    mixture_of,
    viscosity,
)

ZERO = 273.15  # K
ATMOSPHERE = 101_325.0  # Pa
METHANE = {"methane": 1.0}
PROPANE = {"propane": 1.0}
SPECIES = {"nitrogen": "N2", "oxygen": "O2", "argon": "AR", "carbon dioxide": "CO2", "water": "H2O"}
FLUIDS = {"nitrogen": "Nitrogen", "oxygen": "Oxygen", "argon": "Argon", "carbon dioxide": "CarbonDioxide"}


def flue(fuel: dict[str, float], excess_air: float, celsius: float) -> FlueGas:
    """Flue gas of one kilowatt."""
    return flue_gas(
        mole_fractions=fuel,
        input=1000.0,
        excess_air=excess_air,
        flue_temperature=celsius + ZERO,
        pressure=ATMOSPHERE,
    )


@pytest.mark.parametrize(
    ("fuel", "excess", "celsius", "expected_density", "expected_viscosity"),
    # Tabulated with Cantera, wet and uncondensed, one atmosphere: kg/m³, µPa·s.
    [
        (METHANE, 0.0, 40, 1.0796, 16.91),
        (METHANE, 0.0, 50, 1.0462, 17.35),
        (METHANE, 0.0, 60, 1.0147, 17.79),
        (METHANE, 0.2, 50, 1.0532, 17.71),
        (METHANE, 0.3, 40, 1.0897, 17.40),
        (METHANE, 0.3, 50, 1.0560, 17.85),
        (METHANE, 0.3, 60, 1.0243, 18.29),
        (METHANE, 0.3, 80, 0.9663, 19.16),
        (METHANE, 0.5, 50, 1.0605, 18.08),
        (PROPANE, 0.3, 40, 1.1109, 17.56),
        (PROPANE, 0.3, 60, 1.0442, 18.46),
    ],
)
def test_uncondensed_flue_gas(
    fuel: dict[str, float], excess: float, celsius: float, expected_density: float, expected_viscosity: float
) -> None:
    """Within 0.2 % of density and 2 % of viscosity."""
    mixture = flue(fuel, excess, celsius).uncondensed
    temperature = celsius + ZERO
    assert density(mixture, temperature=temperature, pressure=ATMOSPHERE) == pytest.approx(expected_density, rel=2e-3)
    assert 1e6 * viscosity(mixture, temperature=temperature) == pytest.approx(expected_viscosity, rel=0.02)


@pytest.mark.parametrize(
    ("excess", "celsius", "expected_density", "expected_viscosity"),
    # Tabulated with Cantera, methane, saturated at this temperature: kg/m³, µPa·s.
    [
        (0.2, 40, 1.1272, 17.92),
        (0.2, 50, 1.0704, 18.00),
        (0.3, 40, 1.1246, 17.98),
        (0.3, 50, 1.0681, 18.06),
        (0.5, 40, 1.1205, 18.07),
    ],
)
def test_saturated_flue_gas(excess: float, celsius: float, expected_density: float, expected_viscosity: float) -> None:
    """Within 0.2 % of density and 2 % of viscosity."""
    mixture = flue(METHANE, excess, celsius).mixture
    temperature = celsius + ZERO
    assert density(mixture, temperature=temperature, pressure=ATMOSPHERE) == pytest.approx(expected_density, rel=2e-3)
    assert 1e6 * viscosity(mixture, temperature=temperature) == pytest.approx(expected_viscosity, rel=0.02)


@pytest.fixture(scope="module")
def mechanism() -> cantera.Solution:
    """Cantera's GRI-Mech 3.0."""
    return cantera.Solution("gri30.yaml")


def cold_humid_air() -> Mixture:
    """Where water vapour is below the range its coefficients are stated for."""
    return humid_air(relative_humidity=1.0, temperature=250.0, pressure=80_000.0)


@pytest.mark.parametrize(
    ("mixture", "temperature", "pressure"),
    [
        pytest.param(DRY_AIR, 293.15, ATMOSPHERE, id="dry air"),
        pytest.param(cold_humid_air(), 250.0, 80_000.0, id="cold humid air"),
        pytest.param(flue(METHANE, 0.3, 45).mixture, 318.15, ATMOSPHERE, id="methane, condensing"),
        pytest.param(flue(METHANE, 0.2, 150).mixture, 423.15, 80_000.0, id="methane, hot"),
        pytest.param(flue(PROPANE, 0.5, 60).mixture, 333.15, ATMOSPHERE, id="propane"),
        pytest.param(flue({"hydrogen": 1.0}, 0.3, 70).mixture, 343.15, ATMOSPHERE, id="hydrogen, condensing"),
    ],
)
def test_against_cantera(mechanism: cantera.Solution, mixture: Mixture, temperature: float, pressure: float) -> None:
    """Density 0.3 %, heat capacity 0.5 %, viscosity 3 %; conductivity 10 %, for the films of heat loss only.

    Cantera's steam conducts 40 % better than CoolProp's, which shows most in the flue gas of hydrogen.
    """
    mechanism.TPX = temperature, pressure, {SPECIES[name]: x for name, x in mixture.mole_fractions}
    assert density(mixture, temperature=temperature, pressure=pressure) == pytest.approx(mechanism.density, rel=3e-3)
    assert heat_capacity(mixture, temperature=temperature) == pytest.approx(mechanism.cp, rel=5e-3)
    assert viscosity(mixture, temperature=temperature) == pytest.approx(mechanism.viscosity, rel=0.03)
    assert conductivity(mixture, temperature=temperature) == pytest.approx(mechanism.thermal_conductivity, rel=0.10)


@pytest.mark.parametrize("celsius", [-30.0, 0.0, 40.0, 100.0, 200.0])
@pytest.mark.parametrize("name", FLUIDS)
def test_pure_gases_against_coolprop(name: str, celsius: float) -> None:
    """Viscosity 1.5 %, conductivity 2.5 %, heat capacity 1 % against reference equations of the dilute gas."""
    pure = mixture_of({name: 1.0})
    temperature = celsius + ZERO
    state = ("T", temperature, "P", 1000.0, FLUIDS[name])
    assert viscosity(pure, temperature=temperature) == pytest.approx(coolprop.PropsSI("V", *state), rel=0.015)
    assert conductivity(pure, temperature=temperature) == pytest.approx(coolprop.PropsSI("L", *state), rel=0.025)
    assert heat_capacity(pure, temperature=temperature) == pytest.approx(coolprop.PropsSI("C", *state), rel=0.01)


@pytest.mark.parametrize("celsius", [5.0, 25.0, 40.0, 60.0])
def test_steam_against_coolprop(celsius: float) -> None:
    """Saturated vapour: viscosity 2.5 %, conductivity 6 %; a seventh of the flue gas at most."""
    steam = mixture_of({"water": 1.0})
    temperature = celsius + ZERO
    state = ("T", temperature, "Q", 1, "Water")
    assert viscosity(steam, temperature=temperature) == pytest.approx(coolprop.PropsSI("V", *state), rel=0.025)
    assert conductivity(steam, temperature=temperature) == pytest.approx(coolprop.PropsSI("L", *state), rel=0.06)


@pytest.mark.parametrize("celsius", [-40.0, 0.0, 20.0, 50.0, 100.0])
def test_air_against_coolprop(celsius: float) -> None:
    """Air as a mixture of its gases, against the reference equation of air."""
    temperature = celsius + ZERO
    state = ("T", temperature, "P", ATMOSPHERE, "Air")
    assert density(DRY_AIR, temperature=temperature, pressure=ATMOSPHERE) == pytest.approx(
        coolprop.PropsSI("D", *state), rel=2e-3
    )
    assert viscosity(DRY_AIR, temperature=temperature) == pytest.approx(coolprop.PropsSI("V", *state), rel=0.01)
    assert heat_capacity(DRY_AIR, temperature=temperature) == pytest.approx(coolprop.PropsSI("C", *state), rel=5e-3)
    assert conductivity(DRY_AIR, temperature=temperature) == pytest.approx(coolprop.PropsSI("L", *state), rel=0.03)


@pytest.mark.parametrize("celsius", [20.0, 40.0])
def test_humid_air_against_psychrometrics(celsius: float) -> None:
    """Density of saturated air against CoolProp's humid air (ASHRAE RP-1485), within 0.2 %."""
    temperature = celsius + ZERO
    air = humid_air(relative_humidity=1.0, temperature=temperature, pressure=ATMOSPHERE)
    state = ("T", temperature, "P", ATMOSPHERE, "R", 1.0)
    reference = (1 + coolprop.HAPropsSI("W", *state)) / coolprop.HAPropsSI("V", *state)
    assert density(air, temperature=temperature, pressure=ATMOSPHERE) == pytest.approx(reference, rel=2e-3)
