"""Complete combustion of a gas fuel: heats, air, products, and what an analyser reads.

Everything follows from the atoms of the fuel and of the air; there are no fitted constants.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import isfinite

from chemicals.combustion import HHV_stoichiometry, combustion_stoichiometry

from ventsize.gas.components import Gas, gas, gas_table
from ventsize.gas.mixture import DRY_AIR, Mixture, molar_mass

MOST_EXCESS_AIR = 10.0
"""Of the air that burning needs; more is met in no appliance [-]. Common practice, no source."""

_PRODUCTS = {"O2": "oxygen", "CO2": "carbon dioxide", "H2O": "water", "N2": "nitrogen", "Ar": "argon"}


@dataclass(frozen=True, slots=True)
class FuelBalance:
    """One mole of fuel, burnt.

    molar_mass: of the fuel [kg/mol]
    oxygen: taken from the air [mol/mol]
    products: moles by name of gas, those of the air apart [mol/mol]
    gross_heat: with the water liquid, all at 25 °C [J/mol]
    net_heat: with the water vapour, all at 25 °C [J/mol]
    """

    molar_mass: float
    oxygen: float
    products: tuple[tuple[str, float], ...]
    gross_heat: float
    net_heat: float


@dataclass(frozen=True, slots=True)
class Combustion:
    """A fuel burning in air at one rate.

    fuel_mass_flow: [kg/s]
    air_mass_flow: with its water vapour [kg/s]
    products: mole flows by name of gas, wet, nothing condensed [mol/s]
    excess_air: air beyond the stoichiometric, over the stoichiometric [-]
    oxygen_dry: mole fraction after the water is taken out, as an analyser reads [-]
    carbon_dioxide_dry: likewise [-]
    """

    fuel_mass_flow: float
    air_mass_flow: float
    products: tuple[tuple[str, float], ...]
    excess_air: float
    oxygen_dry: float
    carbon_dioxide_dry: float


def gross_heat(mole_fractions: Mapping[str, float]) -> float:
    """Gross (higher) heat of combustion: water liquid, 25 °C, ideal gas [J/mol]."""
    return fuel_balance(mole_fractions).gross_heat


def net_heat(mole_fractions: Mapping[str, float]) -> float:
    """Net (lower) heat of combustion: water vapour, 25 °C, ideal gas [J/mol]."""
    return fuel_balance(mole_fractions).net_heat


def gross_over_net(mole_fractions: Mapping[str, float]) -> float:
    """What a net input is to be multiplied by to be the gross one: about 1.11 for natural gas [-]."""
    fuel = fuel_balance(mole_fractions)
    return fuel.gross_heat / fuel.net_heat


def stoichiometric_air(mole_fractions: Mapping[str, float], *, air: Mixture = DRY_AIR) -> float:
    """Air that just burns the fuel, moles for each mole of fuel [mol/mol]."""
    return _air_needed(fuel_balance(mole_fractions), air)


def _air_needed(fuel: FuelBalance, air: Mixture) -> float:
    return fuel.oxygen / _oxygen_of(air)


def burn(*, mole_fractions: Mapping[str, float], input: float, excess_air: float, air: Mixture = DRY_AIR) -> Combustion:
    """Burn a fuel completely.

    mole_fractions: of the fuel, by name of gas [-]
    input: gross heat of the fuel burnt, as on the rating plate [W]
    excess_air: zero to `MOST_EXCESS_AIR` [-]
    air: as it comes, humid or dry

    Raises ValueError for an input or an excess air beyond these.
    """
    if not isfinite(input) or input <= 0.0:
        raise ValueError(f"The input is {input:g} W; more than zero is expected.")
    if not isfinite(excess_air) or excess_air < 0.0:
        raise ValueError(
            f"The excess air is {excess_air:g}; zero or more is expected, "
            "as with less air the fuel would not burn completely."
        )
    if excess_air > MOST_EXCESS_AIR:
        raise ValueError(
            f"The excess air is {excess_air:.0%}; no more than {MOST_EXCESS_AIR:.0%} is expected: with more, the "
            "reading is nearly that of plain air."
        )
    fuel = fuel_balance(mole_fractions)
    fuel_flow = input / fuel.gross_heat
    air_flow = fuel_flow * stoichiometric_air(mole_fractions, air=air) * (1.0 + excess_air)
    flows = {name: amount * fuel_flow for name, amount in fuel.products}
    for name, fraction in air.mole_fractions:
        flows[name] = flows.get(name, 0.0) + fraction * air_flow
    flows["oxygen"] = fuel_flow * fuel.oxygen * excess_air
    dry = sum(flow for name, flow in flows.items() if name != "water")
    return Combustion(
        fuel_mass_flow=fuel_flow * fuel.molar_mass,
        air_mass_flow=air_flow * molar_mass(air),
        products=tuple(flows.items()),
        excess_air=excess_air,
        oxygen_dry=flows["oxygen"] / dry,
        carbon_dioxide_dry=flows.get("carbon dioxide", 0.0) / dry,
    )


def maximum_carbon_dioxide(mole_fractions: Mapping[str, float], *, air: Mixture = DRY_AIR) -> float:
    """Dry mole fraction of carbon dioxide with no excess air, the highest the fuel can give [-]."""
    balance = _dry_balance(fuel_balance(mole_fractions), air)
    return balance.carbon_dioxide / balance.gas


def excess_air_from_oxygen(mole_fractions: Mapping[str, float], *, oxygen: float, air: Mixture = DRY_AIR) -> float:
    """Excess air for a dry oxygen reading, exactly [-].

    oxygen: dry mole fraction, zero to below that of dry air [-]; ValueError outside.
    """
    balance = _dry_balance(fuel_balance(mole_fractions), air)
    ceiling = balance.oxygen_with_air / balance.gas_with_air
    if not 0.0 <= oxygen < ceiling:
        raise ValueError(
            f"The oxygen reading is {oxygen:.3%}; zero or more, and less than the {ceiling:.3%} of air, is expected."
        )
    return oxygen * balance.gas / (balance.oxygen_with_air - oxygen * balance.gas_with_air)


def excess_air_from_carbon_dioxide(
    mole_fractions: Mapping[str, float], *, carbon_dioxide: float, air: Mixture = DRY_AIR
) -> float:
    """Excess air for a dry carbon dioxide reading, exactly [-].

    carbon_dioxide: dry mole fraction, above that of air and up to the most the fuel can give [-];
    ValueError outside.
    """
    fuel = fuel_balance(mole_fractions)
    balance = _dry_balance(fuel, air)
    highest = balance.carbon_dioxide / balance.gas
    lowest = balance.carbon_dioxide_with_air / balance.gas_with_air
    if not dict(fuel.products).get("carbon dioxide"):
        raise ValueError("This fuel makes no carbon dioxide to read; an oxygen reading or the excess air is expected.")
    if not lowest < carbon_dioxide <= highest:
        raise ValueError(
            f"The carbon dioxide reading is {carbon_dioxide:.3%}; more than the {lowest:.3%} of air, and no "
            f"more than the {highest:.3%} this fuel gives with no excess air, is expected."
        )
    return (balance.carbon_dioxide - carbon_dioxide * balance.gas) / (
        carbon_dioxide * balance.gas_with_air - balance.carbon_dioxide_with_air
    )


def fuel_balance(mole_fractions: Mapping[str, float]) -> FuelBalance:
    """What one mole of this fuel takes and gives. ValueError for a mixture that is not a fuel gas."""
    return _fuel_balance(tuple(sorted(mole_fractions.items())))


@dataclass(frozen=True, slots=True)
class _DryBalance:
    """Dry flue gas for each mole of fuel [mol/mol], as `x` + excess air × `x_with_air`."""

    gas: float
    gas_with_air: float
    oxygen_with_air: float
    carbon_dioxide: float
    carbon_dioxide_with_air: float


def _dry_balance(fuel: FuelBalance, air: Mixture) -> _DryBalance:
    needed = _air_needed(fuel, air)
    dry_air = needed * (1.0 - air.fraction("water"))
    from_fuel = dict(fuel.products)
    dry_products = sum(amount for name, amount in from_fuel.items() if name != "water")
    from_air = needed * air.fraction("carbon dioxide")
    return _DryBalance(
        gas=dry_products + dry_air - fuel.oxygen,
        gas_with_air=dry_air,
        oxygen_with_air=fuel.oxygen,
        carbon_dioxide=from_fuel.get("carbon dioxide", 0.0) + from_air,
        carbon_dioxide_with_air=from_air,
    )


def _oxygen_of(air: Mixture) -> float:
    oxygen = air.fraction("oxygen")
    if oxygen <= 0.0:
        raise ValueError("The combustion air holds no oxygen; air is expected.")
    return oxygen


@lru_cache(maxsize=256)
def _fuel_balance(mole_fractions: tuple[tuple[str, float], ...]) -> FuelBalance:
    _valid_composition(mole_fractions)
    whole = sum(fraction for _, fraction in mole_fractions)
    amounts: dict[str, float] = {}
    mass = gross = 0.0
    for name, fraction in mole_fractions:
        share = fraction / whole
        component = gas(name)
        stoichiometry = _stoichiometry(component)
        mass += share * component.molar_mass
        gross -= share * HHV_stoichiometry(stoichiometry, component.heat_of_formation, _product_heats())
        for formula, amount in stoichiometry.items():
            amounts[_PRODUCTS[formula]] = amounts.get(_PRODUCTS[formula], 0.0) + share * amount
    oxygen = -amounts.pop("oxygen", 0.0)
    if oxygen <= 0.0:
        raise ValueError("The fuel has nothing in it that burns; at least one fuel gas is expected.")
    vaporisation = gas("water").heat_of_formation - gas_table().liquid_water.heat_of_formation
    return FuelBalance(
        molar_mass=mass,
        oxygen=oxygen,
        products=tuple(amounts.items()),
        gross_heat=gross,
        net_heat=gross - amounts.get("water", 0.0) * vaporisation,
    )


def _valid_composition(mole_fractions: tuple[tuple[str, float], ...]) -> None:
    for name, fraction in mole_fractions:
        gas(name)
        if not isfinite(fraction) or fraction < 0.0:
            raise ValueError(f"The mole fraction of {name} in the fuel is {fraction:g}; zero to one is expected.")
    whole = sum(fraction for _, fraction in mole_fractions)
    if abs(whole - 1.0) > 0.001:
        raise ValueError(f"The mole fractions of the fuel add up to {whole:.4f}; 1 is expected, within 0.001.")


def _stoichiometry(component: Gas) -> dict[str, float]:
    """Moles made (taken, if negative) for each mole burnt, by formula."""
    stoichiometry: dict[str, float] = combustion_stoichiometry(dict(component.atoms))
    strange = [formula for formula in stoichiometry if formula not in _PRODUCTS]
    if strange:
        raise ValueError(
            f"Burning {component.name} gives {', '.join(strange)}; only fuels of carbon, "
            "hydrogen, oxygen and nitrogen are expected."
        )
    return stoichiometry


@lru_cache(maxsize=1)
def _product_heats() -> dict[str, float]:
    """Heats of formation of the products by formula, water liquid [J/mol]."""
    heats = {formula: gas(name).heat_of_formation for formula, name in _PRODUCTS.items()}
    return {**heats, "H2O": gas_table().liquid_water.heat_of_formation}
