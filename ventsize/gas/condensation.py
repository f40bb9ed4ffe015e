"""Water leaving the gas: dew point, and the saturated gas and condensate left below it."""

from __future__ import annotations

from dataclasses import dataclass

from fluids.numerics import brenth

from ventsize.gas.components import gas, gas_table
from ventsize.gas.mixture import (
    HIGHEST_TEMPERATURE,
    LOWEST_TEMPERATURE,
    Mixture,
    enthalpy,
    mixture_of,
    molar_mass,
)
from ventsize.gas.water import latent_heat, saturation_pressure, saturation_temperature

__all__ = [
    "Saturated",
    "dew_point",
    "enthalpy_with_condensation",
    "latent_heat",
    "saturate",
    "saturation_pressure",
    "temperature_with_condensation",
]


@dataclass(frozen=True, slots=True)
class Saturated:
    """Gas after what had to condense has done so.

    mixture: the gas that stays gas
    molar_flow: of that gas [mol/s]
    mass_flow: of that gas, its water vapour included [kg/s]
    condensate: water, or frost below freezing [kg/s]
    """

    mixture: Mixture
    molar_flow: float
    mass_flow: float
    condensate: float


def dew_point(mixture: Mixture, *, pressure: float) -> float:
    """Temperature below which water leaves the gas, as frost if that is below freezing [K].

    pressure: of the gas as a whole [Pa]; gas without any water returns 0.0, the limit.
    """
    return saturation_temperature(pressure=mixture.fraction("water") * pressure)


def saturate(mixture: Mixture, *, molar_flow: float, temperature: float, pressure: float) -> Saturated:
    """The gas and the condensate that a gas becomes at this temperature and pressure.

    molar_flow: of the gas before condensation [mol/s]
    temperature: [K]
    pressure: of the gas as a whole [Pa]

    Water that has left is not brought back: pass the gas as it was before any condensation, or the saturated
    mixture of a warmer place.
    """
    left = _vapour_left(mixture, temperature=temperature, pressure=pressure)
    water = mixture.fraction("water")
    condensed = molar_flow * (water - left)
    if condensed <= 0.0:
        return Saturated(mixture, molar_flow, molar_flow * molar_mass(mixture), 0.0)
    gas_left = mixture_of({**dict(mixture.mole_fractions), "water": left})
    flow_left = molar_flow - condensed
    return Saturated(
        mixture=gas_left,
        molar_flow=flow_left,
        mass_flow=flow_left * molar_mass(gas_left),
        condensate=condensed * gas("water").molar_mass,
    )


def enthalpy_with_condensation(mixture: Mixture, *, temperature: float, pressure: float) -> float:
    """Enthalpy against the same gas uncondensed at 25 °C, less the heat given off by condensation [J/mol].

    mixture: the gas before condensation; the result is per mole of it
    temperature: [K]
    pressure: of the gas as a whole [Pa]

    What condenses is counted as leaving with the gas, at its temperature.
    """
    condensed = mixture.fraction("water") - _vapour_left(mixture, temperature=temperature, pressure=pressure)
    sensible = enthalpy(mixture, temperature=temperature) * molar_mass(mixture)
    if condensed <= 0.0:
        return sensible
    return sensible - condensed * gas("water").molar_mass * latent_heat(temperature=temperature)


def temperature_with_condensation(mixture: Mixture, *, heat: float, pressure: float) -> float:
    """Temperature at which enthalpy_with_condensation is this, its inverse [K].

    mixture: the gas before condensation
    heat: enthalpy_with_condensation, per mole of it [J/mol]
    pressure: of the gas as a whole [Pa]

    ValueError where the temperature is outside the range of the properties.
    """

    def miss(temperature: float) -> float:
        return enthalpy_with_condensation(mixture, temperature=temperature, pressure=pressure) - heat

    if miss(LOWEST_TEMPERATURE) > 0.0 or miss(HIGHEST_TEMPERATURE) < 0.0:
        raise ValueError(
            f"Gas with an enthalpy of {heat:g} J/mol is outside the range of temperature of the properties; "
            f"between {LOWEST_TEMPERATURE:g} K and {HIGHEST_TEMPERATURE:g} K is expected."
        )
    return float(brenth(miss, LOWEST_TEMPERATURE, HIGHEST_TEMPERATURE, xtol=1e-9))


def _vapour_left(mixture: Mixture, *, temperature: float, pressure: float) -> float:
    """Moles of water staying vapour for each mole of the gas before condensation [-]."""
    water = mixture.fraction("water")
    if temperature >= gas_table().liquid_water.critical_temperature:
        return water
    saturated = saturation_pressure(temperature=temperature) / pressure
    if water <= saturated:
        return water
    return (1.0 - water) * saturated / (1.0 - saturated)
