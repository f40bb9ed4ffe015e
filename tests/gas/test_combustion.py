"""What combustion must do whatever the fuel: close its balances, invert its readings, refuse nonsense."""

from __future__ import annotations

import math
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ventsize.catalog.folders import shipped_table
from ventsize.gas.combustion import (
    burn,
    excess_air_from_carbon_dioxide,
    excess_air_from_oxygen,
    fuel_balance,
    gross_heat,
    gross_over_net,
    maximum_carbon_dioxide,
    net_heat,
)
from ventsize.gas.components import _gas, gas, gas_table
from ventsize.gas.mixture import DRY_AIR, Mixture, humid_air, mixture_of

METHANE = {"methane": 1.0}
BURNING = ("methane", "ethane", "propane", "butane", "isobutane", "propylene")
INERT = ("nitrogen", "carbon dioxide")


def shares(amounts: dict[str, float]) -> dict[str, float]:
    """Amounts as mole fractions."""
    total = sum(amounts.values())
    return {name: amount / total for name, amount in amounts.items()}


some = st.floats(0.01, 1.0)
fuels = st.builds(
    lambda burning, inert: shares({**burning, **inert}),
    st.dictionaries(st.sampled_from(BURNING), some, min_size=1),
    st.dictionaries(st.sampled_from(INERT), st.floats(0.0, 0.2)),
)
airs = st.builds(
    lambda humidity, temperature: humid_air(relative_humidity=humidity, temperature=temperature, pressure=90_000.0),
    st.floats(0.0, 1.0),
    st.floats(230.0, 315.0),
)


@given(fuel=fuels, air=airs, excess=st.floats(0.0, 5.0))
def test_analyser_readings_round_trip(fuel: dict[str, float], air: Mixture, excess: float) -> None:
    """A reading made from the excess air gives the excess air back, by oxygen and by carbon dioxide."""
    burnt = burn(mole_fractions=fuel, input=1000.0, excess_air=excess, air=air)
    by_oxygen = excess_air_from_oxygen(fuel, oxygen=burnt.oxygen_dry, air=air)
    # A hair off at no excess air, where the reading is the highest there is and rounding may pass it.
    reading = min(burnt.carbon_dioxide_dry, maximum_carbon_dioxide(fuel, air=air))
    by_carbon = excess_air_from_carbon_dioxide(fuel, carbon_dioxide=reading, air=air)
    assert by_oxygen == pytest.approx(excess, rel=1e-9, abs=1e-9)
    assert by_carbon == pytest.approx(excess, rel=1e-9, abs=1e-9)


@given(fuel=fuels, air=airs, excess=st.floats(0.0, 5.0))
def test_atoms_in_are_atoms_out(fuel: dict[str, float], air: Mixture, excess: float) -> None:
    """Carbon, hydrogen, oxygen, nitrogen and argon, and with them the mass, come out as they went in."""
    burnt = burn(mole_fractions=fuel, input=1000.0, excess_air=excess, air=air)
    fuel_flow = 1000.0 / gross_heat(fuel)
    air_flow = burnt.air_mass_flow / sum(x * gas(name).molar_mass for name, x in air.mole_fractions)
    for element in ("C", "H", "O", "N", "Ar"):
        entering = fuel_flow * sum(x * gas(n).atoms.get(element, 0.0) for n, x in fuel.items())
        entering += air_flow * sum(x * gas(n).atoms.get(element, 0.0) for n, x in air.mole_fractions)
        leaving = sum(flow * gas(n).atoms.get(element, 0.0) for n, flow in burnt.products)
        assert leaving == pytest.approx(entering, rel=1e-12)
    mass = sum(flow * gas(name).molar_mass for name, flow in burnt.products)
    assert mass == pytest.approx(burnt.fuel_mass_flow + burnt.air_mass_flow, rel=1e-12)


@given(fuel=fuels, excess=st.floats(0.0, 3.0), more=st.floats(0.01, 2.0))
def test_more_air_more_oxygen_less_carbon_dioxide(fuel: dict[str, float], excess: float, more: float) -> None:
    """Readings move one way with the excess air, so that one reading has one answer."""
    little = burn(mole_fractions=fuel, input=1000.0, excess_air=excess, air=DRY_AIR)
    much = burn(mole_fractions=fuel, input=1000.0, excess_air=excess + more, air=DRY_AIR)
    assert much.oxygen_dry > little.oxygen_dry
    assert much.carbon_dioxide_dry < little.carbon_dioxide_dry
    assert much.fuel_mass_flow == little.fuel_mass_flow


@given(fuel=fuels)
def test_net_heat_is_less_than_gross(fuel: dict[str, float]) -> None:
    """By the heat of the water's vaporisation, between nothing and a fifth."""
    assert 0.8 * gross_heat(fuel) < net_heat(fuel) < gross_heat(fuel)


def test_humidity_of_the_air_does_not_change_a_dry_reading() -> None:
    """An analyser reads dry gas: water brought in by the air is gone before it reads."""
    humid = humid_air(relative_humidity=1.0, temperature=300.0, pressure=101_325.0)
    dry_reading = burn(mole_fractions=METHANE, input=1.0, excess_air=0.3, air=DRY_AIR)
    humid_reading = burn(mole_fractions=METHANE, input=1.0, excess_air=0.3, air=humid)
    assert humid_reading.oxygen_dry == pytest.approx(dry_reading.oxygen_dry, rel=1e-12)
    assert humid_reading.carbon_dioxide_dry == pytest.approx(dry_reading.carbon_dioxide_dry, rel=1e-12)


@given(input=st.floats(1e-3, 1e6))
def test_twice_the_input_twice_the_flows(input: float) -> None:
    """From a thousandth of a watt on."""
    one, two = (burn(mole_fractions=METHANE, input=much, excess_air=0.3) for much in (input, 2.0 * input))
    assert two.fuel_mass_flow == pytest.approx(2.0 * one.fuel_mass_flow, rel=1e-12)
    assert two.air_mass_flow == pytest.approx(2.0 * one.air_mass_flow, rel=1e-12)


def test_no_excess_air_leaves_no_oxygen() -> None:
    """Exactly none, not a rounding error below it."""
    assert burn(mole_fractions=METHANE, input=1.0, excess_air=0.0, air=DRY_AIR).oxygen_dry == 0.0


def test_carbon_dioxide_above_the_fuels_highest_is_refused() -> None:
    """The sentence names the highest the fuel can give."""
    with pytest.raises(ValueError, match=r"12\.000%.*no more than the 11\.738%"):
        excess_air_from_carbon_dioxide(METHANE, carbon_dioxide=0.12)


@pytest.mark.parametrize("reading", [-0.01, 0.0, DRY_AIR.fraction("carbon dioxide"), math.nan, math.inf])
def test_impossible_carbon_dioxide_is_refused(reading: float) -> None:
    """No more than there is in air means no flame."""
    with pytest.raises(ValueError, match="carbon dioxide reading"):
        excess_air_from_carbon_dioxide(METHANE, carbon_dioxide=reading)


@pytest.mark.parametrize("reading", [-0.01, 0.20946, 0.25, math.nan, math.inf])
def test_impossible_oxygen_is_refused(reading: float) -> None:
    """As much as there is in air means no flame."""
    with pytest.raises(ValueError, match=r"oxygen reading.*20\.946%"):
        excess_air_from_oxygen(METHANE, oxygen=reading)


def test_carbon_dioxide_of_a_fuel_without_carbon_is_refused() -> None:
    """Hydrogen makes none: what little there is came with the air."""
    with pytest.raises(ValueError, match="makes no carbon dioxide"):
        excess_air_from_carbon_dioxide({"hydrogen": 1.0}, carbon_dioxide=0.0003)


@pytest.mark.parametrize("excess", [-0.1, math.nan, math.inf])
def test_impossible_excess_air_is_refused(excess: float) -> None:
    """Less air than the fuel needs is not complete combustion."""
    with pytest.raises(ValueError, match="excess air"):
        burn(mole_fractions=METHANE, input=1.0, excess_air=excess, air=DRY_AIR)


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_impossible_input_is_refused(value: float) -> None:
    """Nothing burns at no input."""
    with pytest.raises(ValueError, match="input"):
        burn(mole_fractions=METHANE, input=value, excess_air=0.3, air=DRY_AIR)


@pytest.mark.parametrize(
    ("fuel", "sentence"),
    [
        ({"unobtainium": 1.0}, "no gas named 'unobtainium'"),
        ({"methane": 0.9}, r"add up to 0\.9000"),
        ({"methane": 1.00105}, "add up to"),
        ({"methane": 1.2, "nitrogen": -0.2}, "nitrogen in the fuel is -0.2"),
        ({"nitrogen": 1.0}, "nothing in it that burns"),
        ({"oxygen": 1.0}, "nothing in it that burns"),
        ({}, "add up to 0"),
    ],
)
def test_what_is_no_fuel_is_refused(fuel: dict[str, float], sentence: str) -> None:
    """One sentence that says what is wrong."""
    with pytest.raises(ValueError, match=sentence):
        fuel_balance(fuel)


def test_fractions_a_hair_off_are_of_the_whole() -> None:
    """0.9995 or 1.0009 of methane is methane: what is left out by rounding is no other gas."""
    for fraction in (0.9995, 1.0009):
        assert gross_heat({"methane": fraction}) == pytest.approx(gross_heat(METHANE), rel=1e-12)


def test_a_lean_gas_burns() -> None:
    """4 % of methane has 4 % of its heat and takes 4 % of its oxygen, 0.08 moles; the nitrogen goes through."""
    lean = fuel_balance({"methane": 0.04, "nitrogen": 0.96})
    assert lean.gross_heat == pytest.approx(0.04 * gross_heat(METHANE), rel=1e-12)
    assert lean.oxygen == pytest.approx(0.08, rel=1e-12)
    assert dict(lean.products) == pytest.approx({"carbon dioxide": 0.04, "water": 0.08, "nitrogen": 0.96})


def test_a_fuel_without_carbon_makes_no_carbon_dioxide() -> None:
    """Hydrogen in air of oxygen and nitrogen alone."""
    air = mixture_of({"oxygen": 0.21, "nitrogen": 0.79})
    assert burn(mole_fractions={"hydrogen": 1.0}, input=1.0, excess_air=0.3, air=air).carbon_dioxide_dry == 0.0
    assert maximum_carbon_dioxide({"hydrogen": 1.0}, air=air) == 0.0


def test_a_fuel_without_hydrogen_makes_no_water() -> None:
    """Carbon monoxide: net is gross, 282.98 kJ/mol (ISO 6976, from memory)."""
    alone = fuel_balance({"carbon monoxide": 1.0})
    assert alone.net_heat == alone.gross_heat == pytest.approx(282_980.0, rel=1e-3)


def test_thin_air_still_burns() -> None:
    """Half the oxygen takes twice the air."""
    rich, thin = (mixture_of({"oxygen": share, "nitrogen": 1.0 - share}) for share in (0.18, 0.09))
    flows = [burn(mole_fractions=METHANE, input=1.0, excess_air=0.0, air=air).products for air in (rich, thin)]
    nitrogen = [dict(flow)["nitrogen"] for flow in flows]
    assert nitrogen[1] / nitrogen[0] == pytest.approx((0.91 / 0.09) / (0.82 / 0.18), rel=1e-9)


def test_air_without_oxygen_is_refused() -> None:
    """Nothing burns in nitrogen."""
    with pytest.raises(ValueError, match="no oxygen"):
        burn(mole_fractions=METHANE, input=1.0, excess_air=0.3, air=mixture_of({"nitrogen": 1.0}))


def test_shipped_fuels_burn() -> None:
    """Every shipped fuel has a source, adds up to one, and is made of gases that are known."""
    with shipped_table("fuels.toml").open("rb") as file:
        records = tomllib.load(file)["fuel"]
    assert {"natural gas", "methane", "propane", "butane"} <= {record["name"] for record in records}
    for record in records:
        assert record["source"].strip()
        assert sum(record["mole_fractions"].values()) == pytest.approx(1.0, abs=1e-9)
        assert fuel_balance(record["mole_fractions"]).gross_heat > 0.0


@pytest.mark.parametrize("value", [None, "3.5", math.nan, math.inf])
def test_a_record_without_its_number_is_refused(value: object) -> None:
    """Named by its place and key."""
    with pytest.raises(ValueError, match="methane: heat_of_formation"):
        _gas({"name": "methane", "formula": "CH4", "source": "none", "heat_of_formation": value})


@pytest.mark.parametrize("value", [None, 7, "", " "])
def test_a_record_without_its_source_is_refused(value: object) -> None:
    """Data without a source is not to be trusted."""
    with pytest.raises(ValueError, match="methane: source is missing"):
        _gas({"name": "methane", "formula": "CH4", "source": value, "heat_of_formation": 0.0})


def test_every_gas_has_its_sources() -> None:
    """Data without a source is not to be trusted."""
    for component in gas_table().gases.values():
        assert component.source
        for correlation in (component.viscosity, component.conductivity, component.heat_capacity):
            assert correlation is None or correlation.source


@pytest.mark.parametrize(("fuel", "ratio"), [("methane", 1.1096), ("propane", 1.0862)])
def test_gross_over_net(fuel: str, ratio: float) -> None:
    """Methane 890.6 over 802.6 kJ/mol, propane 2219.2 over 2043.1: ISO 6976 and CRC tables (from memory, 0.1 %)."""
    assert gross_over_net({fuel: 1.0}) == pytest.approx(ratio, rel=1e-3)


def test_more_air_than_ever_is_refused() -> None:
    """1,000 % is taken, more is not, as an excess air or as a reading nearly that of air."""
    methane = {"methane": 1.0}
    assert burn(mole_fractions=methane, input=1e4, excess_air=10.0).excess_air == 10.0
    reading = burn(mole_fractions=methane, input=1e4, excess_air=9.99)
    for beyond in (10.01, excess_air_from_oxygen(methane, oxygen=reading.oxygen_dry + 1e-4)):
        with pytest.raises(ValueError, match="excess air"):
            burn(mole_fractions=methane, input=1e4, excess_air=beyond)
