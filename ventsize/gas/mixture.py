"""Mixtures of gases: composition, density, viscosity, heat capacity, conductivity, enthalpy."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import isfinite, sqrt
from typing import Literal

from chemicals.heat_capacity import Poling, Poling_integral

from ventsize.gas.components import GAS_CONSTANT, REFERENCE_TEMPERATURE, Correlation, Gas, OutOfRange, gas, gas_table
from ventsize.gas.water import saturation_pressure
from ventsize.quantity import System, show_temperature

LOWEST_TEMPERATURE = 200.0
HIGHEST_TEMPERATURE = 1000.0
"""Range of temperature of the properties here [K].

The coefficients for water vapour are stated from its triple point; below it, gas holds at most 1 % of vapour,
and the power laws run on smoothly, so that the mixture hardly notices.
"""


@dataclass(frozen=True, slots=True)
class Mixture:
    """Mole fractions by name of gas, in the order of the gas table, adding up to one [-]; see mixture_of."""

    mole_fractions: tuple[tuple[str, float], ...]

    def fraction(self, name: str) -> float:
        """Mole fraction of one gas, zero if it is not there [-]."""
        return next((fraction for gas_name, fraction in self.mole_fractions if gas_name == name), 0.0)


def mixture_of(amounts: Mapping[str, float]) -> Mixture:
    """The mixture of these amounts (moles, mole flows or mole fractions), by name of gas.

    ValueError for a gas that is not known, an amount that is negative or not a number, or nothing at all.
    """
    for name, amount in amounts.items():
        gas(name)
        if not isfinite(amount) or amount < 0.0:
            raise ValueError(f"The amount of {name} is {amount:g}; zero or more is expected.")
    total = sum(amounts.values())
    if total <= 0.0:
        raise ValueError("A mixture of nothing has no properties; at least one gas is expected.")
    return Mixture(tuple((n, amounts[n] / total) for n in gas_table().gases if amounts.get(n, 0.0) > 0.0))


DRY_AIR = mixture_of(dict(gas_table().dry_air))


@lru_cache(maxsize=1024)
def humid_air(*, relative_humidity: float, temperature: float, pressure: float) -> Mixture:
    """Air with water vapour in it.

    relative_humidity: vapour pressure over that of saturation, over ice below freezing, 0 to 1 [-]
    temperature: [K]
    pressure: of the air as a whole [Pa]
    """
    if not 0.0 <= relative_humidity <= 1.0:
        raise ValueError(f"The relative humidity is {relative_humidity:g}; between 0 and 1 is expected.")
    check_temperature(temperature, of="air")
    if relative_humidity == 0.0:
        return DRY_AIR
    vapour = relative_humidity * saturation_pressure(temperature=temperature) / pressure
    if vapour >= 1.0:
        raise ValueError(
            f"Air at {_shown(temperature)}, {pressure:.0f} Pa and relative humidity {relative_humidity:g} would be "
            "all steam; a lower temperature or humidity is expected."
        )
    amounts = {name: fraction * (1.0 - vapour) for name, fraction in DRY_AIR.mole_fractions}
    return mixture_of({**amounts, "water": vapour})


def mix(streams: Iterable[tuple[Mixture, float]]) -> Mixture:
    """What streams of these mixtures and mole flows [mol/s] become where they meet."""
    amounts: dict[str, float] = {}
    for mixture, molar_flow in streams:
        for name, fraction in mixture.mole_fractions:
            amounts[name] = amounts.get(name, 0.0) + fraction * molar_flow
    return mixture_of(amounts)


def with_water(mixture: Mixture, *, share: float) -> Mixture:
    """A mixture that holds water with another share of it by moles, the rest in proportion [-]."""
    scale = (1.0 - share) / (1.0 - mixture.fraction("water"))
    return Mixture(tuple([(name, share if name == "water" else scale * part) for name, part in mixture.mole_fractions]))


@dataclass(frozen=True, slots=True)
class _Prepared:
    """What the property functions need of a mixture and temperature does not change.

    weights: of each gas's viscosity and conductivity in the mixture's, by Herning and Zipperer [-].
    """

    fractions: tuple[float, ...]
    weights: tuple[float, ...]
    molar_mass: float
    gases: tuple[Gas, ...]


@lru_cache(maxsize=4096)
def _prepared(mixture: Mixture) -> _Prepared:
    gases = tuple([gas(name) for name, _ in mixture.mole_fractions])
    fractions = tuple([fraction for _, fraction in mixture.mole_fractions])
    weights = [x * sqrt(g.molar_mass) for x, g in zip(fractions, gases, strict=True)]
    whole = sum(weights)
    return _Prepared(
        fractions=fractions,
        weights=tuple([weight / whole for weight in weights]),
        molar_mass=sum([x * g.molar_mass for x, g in zip(fractions, gases, strict=True)]),
        gases=gases,
    )


@lru_cache(maxsize=4096)
def _heat_capacity_coefficients(mixture: Mixture) -> tuple[float, float, float, float, float]:
    """Of the mixture's polynomial, the sum of its gases' by mole fraction, over the gas constant."""
    total = [0.0] * 5
    prepared = _prepared(mixture)
    for fraction, component in zip(prepared.fractions, prepared.gases, strict=True):
        for i, a in enumerate(_known(component.heat_capacity, component, "heat capacity").coefficients):
            total[i] += fraction * a
    a0, a1, a2, a3, a4 = total
    return a0, a1, a2, a3, a4


Property = Literal["viscosity", "conductivity"]


@lru_cache(maxsize=4096)
def _terms(mixture: Mixture, what: Property) -> tuple[tuple[float, float, float, float], ...]:
    """Each gas's A, B, C, D of DIPPR equation 102, A times its weight by Herning and Zipperer."""
    prepared = _prepared(mixture)
    found = []
    for weight, component in zip(prepared.weights, prepared.gases, strict=True):
        a, b, c, d = (*_known(getattr(component, what), component, what).coefficients, 0.0, 0.0)[:4]
        found.append((weight * a, b, c, d))
    return tuple(found)


def _mixed(mixture: Mixture, what: Property, temperature: float) -> float:
    """Sum of the gases' A T^B / (1 + C/T + D/T²)."""
    total = 0.0
    for a, b, c, d in _terms(mixture, what):
        total += a * temperature**b / (1.0 + (c + d / temperature) / temperature)
    return total


def _known(correlation: Correlation | None, component: Gas, what: str) -> Correlation:
    if correlation is None:
        raise ValueError(f"The {what} of {component.name} is not in the table; a gas met in a vent is expected.")
    return correlation


def check_temperature(temperature: float, *, of: str = "gas") -> None:
    """ValueError, naming what it is the temperature of [K], where that is outside the range of the properties."""
    if not LOWEST_TEMPERATURE <= temperature <= HIGHEST_TEMPERATURE:
        raise OutOfRange(
            f"The temperature of the {of} is {_shown(temperature)}; "
            f"between {_shown(LOWEST_TEMPERATURE)} and {_shown(HIGHEST_TEMPERATURE)} is expected."
        )


def _shown(temperature: float) -> str:
    return f"{show_temperature(temperature, System.SI)} ({show_temperature(temperature, System.US)})"


def molar_mass(mixture: Mixture) -> float:
    """Mass of one mole of the mixture [kg/mol]."""
    return _prepared(mixture).molar_mass


def density(mixture: Mixture, *, temperature: float, pressure: float) -> float:
    """Density of the ideal gas [kg/m³]; temperature [K], pressure absolute [Pa]."""
    check_temperature(temperature)
    return pressure * molar_mass(mixture) / (GAS_CONSTANT * temperature)


@lru_cache(maxsize=4096)
def viscosity(mixture: Mixture, *, temperature: float) -> float:
    """Dynamic viscosity at low pressure [Pa·s]; temperature [K].

    Source: each gas by Perry's 8th ed., table 2-312; mixed by Herning and Zipperer (Gas- und
    Wasserfach 79, 1936). For flue gas the result agrees with Cantera's mixture-averaged
    viscosity to 0.5 %, where Wilke's rule is 1.7 % low.
    """
    check_temperature(temperature)
    return _mixed(mixture, "viscosity", temperature)


@lru_cache(maxsize=4096)
def conductivity(mixture: Mixture, *, temperature: float) -> float:
    """Thermal conductivity at low pressure [W/(m·K)]; temperature [K].

    Source: each gas by Perry's 8th ed., table 2-314; mixed by the rule of Wassiljewa with the weights
    of Herning and Zipperer, which comes to their rule for viscosity. No more than a few percent of certainty: it
    serves heat loss, not pressure drop.
    """
    check_temperature(temperature)
    return _mixed(mixture, "conductivity", temperature)


def heat_capacity(mixture: Mixture, *, temperature: float) -> float:
    """Heat capacity of the ideal gas at constant pressure [J/(kg·K)]; temperature [K].

    Source: Poling, Prausnitz and O'Connell, 5th ed., appendix A.
    """
    check_temperature(temperature)
    molar = float(Poling(temperature, *_heat_capacity_coefficients(mixture)))
    return molar / molar_mass(mixture)


def enthalpy(mixture: Mixture, *, temperature: float) -> float:
    """Sensible enthalpy against 25 °C, water staying vapour [J/kg]; temperature [K]."""
    check_temperature(temperature)
    coefficients = _heat_capacity_coefficients(mixture)
    rise = Poling_integral(temperature, *coefficients) - Poling_integral(REFERENCE_TEMPERATURE, *coefficients)
    return float(rise) / molar_mass(mixture)


@lru_cache(maxsize=4096)
def enthalpy_polynomial(mixture: Mixture) -> tuple[float, float, float, float, float, float]:
    """Coefficients by rising power of temperature [K] of the enthalpy of a mole, as in `enthalpy` [J/mol]."""
    a, b, c, d, e = (GAS_CONSTANT * part / power for power, part in enumerate(_heat_capacity_coefficients(mixture), 1))
    t = REFERENCE_TEMPERATURE
    return -t * (a + t * (b + t * (c + t * (d + t * e)))), a, b, c, d, e


def temperature_from_enthalpy(mixture: Mixture, *, sensible: float) -> float:
    """Temperature at which `enthalpy` is this [K]; sensible: against 25 °C, water staying vapour [J/kg].

    ValueError when that lies outside the range of the properties.
    """
    temperature = REFERENCE_TEMPERATURE
    for _ in range(50):
        miss = sensible - enthalpy(mixture, temperature=temperature)
        change = miss / heat_capacity(mixture, temperature=temperature)
        temperature += change
        if abs(change) < 1e-10 * temperature:
            return temperature
    raise ArithmeticError(f"The temperature of gas with enthalpy {sensible:g} J/kg was not found.")
