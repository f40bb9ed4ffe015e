"""Mixtures: how they are made, mixed, and asked for their properties."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from chemicals.dippr import EQ102
from hypothesis import given
from hypothesis import strategies as st

from ventsize.gas.components import gas_table
from ventsize.gas.mixture import (
    DRY_AIR,
    HIGHEST_TEMPERATURE,
    LOWEST_TEMPERATURE,
    Mixture,
    conductivity,
    density,
    enthalpy,
    enthalpy_polynomial,
    heat_capacity,
    humid_air,
    mix,
    mixture_of,
    molar_mass,
    temperature_from_enthalpy,
    viscosity,
    with_water,
)

VENT_GASES = ("nitrogen", "oxygen", "argon", "carbon dioxide", "water")
mixtures = st.dictionaries(st.sampled_from(VENT_GASES), st.floats(0.01, 10.0), min_size=1).map(mixture_of)
temperatures = st.floats(230.0, 600.0)


@given(mixture=mixtures)
def test_fractions_add_up(mixture: Mixture) -> None:
    """Whatever the amounts were."""
    assert sum(x for _, x in mixture.mole_fractions) == pytest.approx(1.0, rel=1e-12)


def test_one_composition_is_one_mixture() -> None:
    """The order in which gases are named makes no difference, nor does a gas that is not there."""
    one = mixture_of({"water": 1.0, "nitrogen": 3.0})
    other = mixture_of({"nitrogen": 0.75, "oxygen": 0.0, "water": 0.25})
    assert one == other
    assert hash(one) == hash(other)


@pytest.mark.parametrize(
    ("amounts", "sentence"),
    [
        ({"phlogiston": 1.0}, "no gas named 'phlogiston'"),
        ({"nitrogen": -1.0}, "nitrogen is -1"),
        ({"nitrogen": math.nan}, "nitrogen is nan"),
        ({"nitrogen": 0.0}, "nothing"),
        ({}, "nothing"),
    ],
)
def test_what_is_no_mixture_is_refused(amounts: dict[str, float], sentence: str) -> None:
    """One sentence that says what is wrong."""
    with pytest.raises(ValueError, match=sentence):
        mixture_of(amounts)


def test_molar_mass_of_dry_air() -> None:
    """28.966 g/mol (U.S. Standard Atmosphere, 1976: 28.9644)."""
    assert molar_mass(DRY_AIR) == pytest.approx(0.0289644, rel=2e-4)


@given(first=mixtures, second=mixtures, flow=st.floats(0.01, 10.0), other_flow=st.floats(0.01, 10.0))
def test_mixing_keeps_mass_and_moles(first: Mixture, second: Mixture, flow: float, other_flow: float) -> None:
    """Of every gas as much leaves as came."""
    mixed = mix([(first, flow), (second, other_flow)])
    for name in VENT_GASES:
        entering = flow * first.fraction(name) + other_flow * second.fraction(name)
        assert mixed.fraction(name) * (flow + other_flow) == pytest.approx(entering, rel=1e-12)
    mass = flow * molar_mass(first) + other_flow * molar_mass(second)
    assert molar_mass(mixed) * (flow + other_flow) == pytest.approx(mass, rel=1e-12)


@given(mixture=mixtures, temperature=temperatures)
def test_a_mixture_lies_between_its_gases(mixture: Mixture, temperature: float) -> None:
    """Viscosity and conductivity of a mixture are between those of its gases, by the mixing rules used."""
    for of in (viscosity, conductivity):
        pure = [of(mixture_of({name: 1.0}), temperature=temperature) for name, _ in mixture.mole_fractions]
        value = of(mixture, temperature=temperature)
        assert min(pure) * (1 - 1e-12) <= value <= max(pure) * (1 + 1e-12)


@given(mixture=mixtures, temperature=temperatures)
def test_enthalpy_is_heat_capacity_added_up(mixture: Mixture, temperature: float) -> None:
    """The slope of the one is the other."""
    step = 0.01
    slope = enthalpy(mixture, temperature=temperature + step) - enthalpy(mixture, temperature=temperature - step)
    assert slope / (2 * step) == pytest.approx(heat_capacity(mixture, temperature=temperature), rel=1e-6)


@given(mixture=mixtures, temperature=temperatures)
def test_temperature_from_enthalpy_is_the_inverse(mixture: Mixture, temperature: float) -> None:
    """There and back."""
    there = enthalpy(mixture, temperature=temperature)
    assert temperature_from_enthalpy(mixture, sensible=there) == pytest.approx(temperature, rel=1e-9)


@given(mixture=mixtures, temperature=temperatures)
def test_the_polynomial_is_the_enthalpy(mixture: Mixture, temperature: float) -> None:
    """Of a mole, term by term: the one that is asked many times over."""
    value = sum(c * temperature**power for power, c in enumerate(enthalpy_polynomial(mixture)))
    expected = enthalpy(mixture, temperature=temperature) * molar_mass(mixture)
    assert value == pytest.approx(expected, rel=1e-9, abs=1e-6)


@given(mixture=mixtures.filter(lambda one: len(one.mole_fractions) > 2), share=st.floats(0.001, 0.9))
def test_another_share_of_water(mixture: Mixture, share: float) -> None:
    """That share, the other gases among each other as they were."""
    wet = mix([(mixture, 1.0), (mixture_of({"water": 1.0}), 0.1)])
    other = with_water(wet, share=share)
    assert other.fraction("water") == share
    dry = {name: part for name, part in wet.mole_fractions if name != "water"}
    expected = {name: part / sum(dry.values()) * (1.0 - share) for name, part in dry.items()}
    assert {name: other.fraction(name) for name in dry} == pytest.approx(expected, rel=1e-12)


def test_enthalpy_is_none_at_25_degrees() -> None:
    """Where heating values are stated."""
    assert enthalpy(DRY_AIR, temperature=298.15) == 0.0


def test_the_ends_of_the_range_are_in_it() -> None:
    """200 K and 1000 K: air by the law of ideal gases, 28.966 g/mol."""
    for temperature in (200.0, 1000.0):
        by_hand = 101_325.0 * 0.028966 / (8.314463 * temperature)
        assert density(DRY_AIR, temperature=temperature, pressure=101_325.0) == pytest.approx(by_hand, rel=1e-4)


@pytest.mark.parametrize("temperature", [LOWEST_TEMPERATURE - 1.0, HIGHEST_TEMPERATURE + 1.0, math.nan])
def test_outside_the_range_is_refused(temperature: float) -> None:
    """No property is made up beyond the range of its correlation."""
    for of in (viscosity, conductivity, heat_capacity, enthalpy):
        with pytest.raises(ValueError, match="temperature of the gas"):
            of(DRY_AIR, temperature=temperature)
    with pytest.raises(ValueError, match="temperature of the gas"):
        density(DRY_AIR, temperature=temperature, pressure=101_325.0)


def test_range_of_properties_is_that_of_the_sources() -> None:
    """Of every gas but water, which is used below its triple point because there is so little of it there."""
    for name in VENT_GASES:
        component = gas_table().gases[name]
        for correlation in (component.viscosity, component.conductivity, component.heat_capacity):
            assert correlation is not None
            assert correlation.highest >= HIGHEST_TEMPERATURE
            assert name == "water" or correlation.lowest <= LOWEST_TEMPERATURE


def test_unburnt_fuel_has_no_viscosity() -> None:
    """Said in a sentence that names the gas."""
    with pytest.raises(ValueError, match="viscosity of methane"):
        viscosity(mixture_of({"methane": 1.0}), temperature=300.0)


def test_air_without_humidity_is_dry_air() -> None:
    """The same object's worth, so that a dry job is exactly dry."""
    assert humid_air(relative_humidity=0.0, temperature=290.0, pressure=101_325.0) == DRY_AIR


@pytest.mark.parametrize("humidity", [0.001, 0.1, 1.0])
def test_humid_air_holds_its_share_of_vapour(humidity: float) -> None:
    """At 20 °C saturated vapour is at 2339 Pa (steam tables)."""
    air = humid_air(relative_humidity=humidity, temperature=293.15, pressure=101_325.0)
    assert air.fraction("water") == pytest.approx(humidity * 2339.0 / 101_325.0, rel=1e-3)


@pytest.mark.parametrize("humidity", [-0.1, 1.1, 60.0, math.nan])
def test_impossible_humidity_is_refused(humidity: float) -> None:
    """Among others a percentage typed as a fraction."""
    with pytest.raises(ValueError, match="relative humidity"):
        humid_air(relative_humidity=humidity, temperature=290.0, pressure=101_325.0)


@pytest.mark.parametrize("temperature", [374.0, 380.0])
def test_air_that_would_be_steam_is_refused(temperature: float) -> None:
    """Saturated above the boiling point, be it by a degree, is not air."""
    with pytest.raises(ValueError, match="all steam"):
        humid_air(relative_humidity=1.0, temperature=temperature, pressure=101_325.0)


@pytest.mark.parametrize("name", VENT_GASES)
@pytest.mark.parametrize(("of", "what"), [(viscosity, "viscosity"), (conductivity, "conductivity")])
def test_a_gas_alone_follows_its_equation(of: Callable[..., float], what: str, name: str) -> None:
    """DIPPR equation 102 as the `chemicals` library has it, whatever number of coefficients a record gives."""
    coefficients = getattr(gas_table().gases[name], what).coefficients
    for temperature in (250.0, 330.0, 500.0):
        alone = of(mixture_of({name: 1.0}), temperature=temperature)
        assert alone == pytest.approx(EQ102(temperature, *coefficients), rel=1e-12)
