"""The flue gas of one firing rate: from the rating plate and the analyser to what goes up the vent."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from ventsize.gas.combustion import burn
from ventsize.gas.condensation import dew_point, saturate
from ventsize.gas.mixture import DRY_AIR, Mixture, check_temperature, mixture_of


@dataclass(frozen=True, slots=True)
class FlueGas:
    """What one firing rate takes in and gives off. fuel + air = flue + condensate, by mass.

    input: gross heat of the fuel [W]
    excess_air: [-]
    oxygen_dry, carbon_dioxide_dry: mole fractions as an analyser reads [-]
    fuel_mass_flow: [kg/s]
    air_mass_flow: combustion air with its water vapour [kg/s]
    flue_mass_flow: gas leaving the appliance, water vapour included, condensate not [kg/s]
    uncondensed_mass_flow: gas leaving the flame, all its water as vapour [kg/s]
    condensate: water left behind in the appliance [kg/s]
    dew_point: of the gas leaving the flame, at this pressure [K]
    temperature: of the gas leaving the appliance [K]
    pressure: absolute [Pa]
    mixture: the gas leaving the appliance, saturated if it is below the dew point
    uncondensed: the gas leaving the flame
    air: the combustion air
    molar_flow: of the gas leaving the appliance [mol/s]
    """

    input: float
    excess_air: float
    oxygen_dry: float
    carbon_dioxide_dry: float
    fuel_mass_flow: float
    air_mass_flow: float
    flue_mass_flow: float
    uncondensed_mass_flow: float
    condensate: float
    dew_point: float
    temperature: float
    pressure: float
    mixture: Mixture
    uncondensed: Mixture
    air: Mixture
    molar_flow: float


def flue_gas(
    *,
    mole_fractions: Mapping[str, float],
    input: float,
    excess_air: float,
    flue_temperature: float,
    pressure: float,
    air: Mixture = DRY_AIR,
) -> FlueGas:
    """The flue gas of one firing rate.

    mole_fractions: of the fuel, by name of gas [-]
    input: gross heat of the fuel [W]
    excess_air: zero or more [-]
    flue_temperature: of the gas leaving the appliance [K]
    pressure: ambient, absolute; the few pascals of the vent above it move the dew point by nothing [Pa]
    air: combustion air as it comes
    """
    fuel = tuple(sorted(mole_fractions.items()))
    return _flue_gas(fuel, input, excess_air, flue_temperature, pressure, air)


@lru_cache(maxsize=4096)
def _flue_gas(
    fuel: tuple[tuple[str, float], ...],
    input: float,
    excess_air: float,
    temperature: float,
    pressure: float,
    air: Mixture,
) -> FlueGas:
    check_temperature(temperature, of="flue gas")
    burnt = burn(mole_fractions=dict(fuel), input=input, excess_air=excess_air, air=air)
    uncondensed = mixture_of(dict(burnt.products))
    flow = sum(amount for _, amount in burnt.products)
    left = saturate(uncondensed, molar_flow=flow, temperature=temperature, pressure=pressure)
    return FlueGas(
        input=input,
        excess_air=excess_air,
        oxygen_dry=burnt.oxygen_dry,
        carbon_dioxide_dry=burnt.carbon_dioxide_dry,
        fuel_mass_flow=burnt.fuel_mass_flow,
        air_mass_flow=burnt.air_mass_flow,
        flue_mass_flow=left.mass_flow,
        uncondensed_mass_flow=left.mass_flow + left.condensate,
        condensate=left.condensate,
        dew_point=dew_point(uncondensed, pressure=pressure),
        temperature=temperature,
        pressure=pressure,
        mixture=left.mixture,
        uncondensed=uncondensed,
        air=air,
        molar_flow=left.molar_flow,
    )
