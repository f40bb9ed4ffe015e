"""The gases themselves: formulas, heats of formation, property coefficients. Read from tables/gases.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import isfinite
from types import MappingProxyType
from typing import Any

from chemicals.elements import molecular_weight, simple_formula_parser

from ventsize.catalog.folders import shipped_table

GAS_CONSTANT = 8.314462618
"""Molar gas constant [J/(mol·K)]; CODATA 2018, exact to the digits given."""

REFERENCE_TEMPERATURE = 298.15
"""Temperature of the heats of formation and heating values, where sensible enthalpy is zero [K]."""


class OutOfRange(ValueError):
    """A state outside the range in which properties of gas or water are known."""


@dataclass(frozen=True, slots=True)
class Correlation:
    """Coefficients of one property of one gas, with the range of temperature they were fitted over [K]."""

    coefficients: tuple[float, ...]
    lowest: float
    highest: float
    source: str


@dataclass(frozen=True, slots=True)
class Gas:
    """One gas. molar_mass [kg/mol]; heat_of_formation of the ideal gas at 25 °C [J/mol].

    viscosity and conductivity hold A, B, C, D of DIPPR equation 102, giving [Pa·s] and [W/(m·K)];
    heat_capacity holds a0..a4 of a polynomial in temperature, giving the heat capacity over the gas constant.
    """

    name: str
    formula: str
    atoms: Mapping[str, float]
    molar_mass: float
    heat_of_formation: float
    source: str
    viscosity: Correlation | None
    conductivity: Correlation | None
    heat_capacity: Correlation | None


@dataclass(frozen=True, slots=True)
class LiquidWater:
    """Liquid water: heat_of_formation [J/mol]; heat_of_fusion [J/mol]; critical_temperature [K];
    heat_of_vaporisation: A..E of PPDS equation 12 [-]."""

    heat_of_formation: float
    heat_of_fusion: float
    critical_temperature: float
    heat_of_vaporisation: tuple[float, float, float, float, float]
    source: str


@dataclass(frozen=True, slots=True)
class GasTable:
    """All of tables/gases.toml. dry_air: mole fractions [-]."""

    gases: Mapping[str, Gas]
    dry_air: tuple[tuple[str, float], ...]
    liquid_water: LiquidWater


@lru_cache(maxsize=1)
def gas_table() -> GasTable:
    """The shipped table of gases, read once. ValueError names the record that is not usable."""
    with shipped_table("gases.toml").open("rb") as file:
        data = tomllib.load(file)
    gases = {gas.name: gas for gas in (_gas(record) for record in data["gas"])}
    air = data["dry_air"]
    fractions = air["mole_fractions"]
    _source(air, "dry_air")
    return GasTable(
        gases=MappingProxyType(gases),
        dry_air=tuple((name, _number(fractions, name, "dry_air")) for name in fractions),
        liquid_water=_liquid_water(data["liquid_water"]),
    )


def gas(name: str) -> Gas:
    """The gas of this exact name; ValueError with the names there are if there is none."""
    gases = gas_table().gases
    if name not in gases:
        raise ValueError(f"There is no gas named {name!r}; the gases known are {', '.join(gases)}.")
    return gases[name]


def _gas(record: Mapping[str, Any]) -> Gas:
    name = record.get("name", "a gas without a name")
    atoms = simple_formula_parser(record["formula"])
    return Gas(
        name=name,
        formula=record["formula"],
        atoms=MappingProxyType(atoms),
        molar_mass=molecular_weight(atoms) / 1000.0,
        heat_of_formation=_number(record, "heat_of_formation", name),
        source=_source(record, name),
        viscosity=_correlation(record.get("viscosity"), f"{name}, viscosity"),
        conductivity=_correlation(record.get("conductivity"), f"{name}, conductivity"),
        heat_capacity=_correlation(record.get("heat_capacity"), f"{name}, heat capacity"),
    )


def _correlation(record: Mapping[str, Any] | None, place: str) -> Correlation | None:
    if record is None:
        return None
    return Correlation(
        coefficients=tuple(float(c) for c in record["coefficients"]),
        lowest=_number(record, "from", place),
        highest=_number(record, "to", place),
        source=_source(record, place),
    )


def _liquid_water(record: Mapping[str, Any]) -> LiquidWater:
    place = "liquid_water"
    a, b, c, d, e = (float(x) for x in record["heat_of_vaporisation"])
    return LiquidWater(
        heat_of_formation=_number(record, "heat_of_formation", place),
        heat_of_fusion=_number(record, "heat_of_fusion", place),
        critical_temperature=_number(record, "critical_temperature", place),
        heat_of_vaporisation=(a, b, c, d, e),
        source=_source(record, place),
    )


def _number(record: Mapping[str, Any], key: str, place: str) -> float:
    value = record.get(key)
    if not isinstance(value, int | float) or not isfinite(value):
        raise ValueError(f"gases.toml, {place}: {key} is {value!r}; a number is expected.")
    return float(value)


def _source(record: Mapping[str, Any], place: str) -> str:
    source = record.get("source")
    if not isinstance(source, str) or not source.strip():
        raise ValueError(f"gases.toml, {place}: source is missing; every record names where it comes from.")
    return source
