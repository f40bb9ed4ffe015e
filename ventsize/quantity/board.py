"""The units that a formula is worked in by hand, one for each kind of number."""

from __future__ import annotations

from enum import Enum, auto
from functools import cache
from typing import NamedTuple

from ventsize.quantity.convert import scale
from ventsize.quantity.dimensions import Dimension, System


class Kind(Enum):
    """What a number on a board measures."""

    NUMBER = auto()
    POWER = auto()
    HEAT_PER_MOLE = auto()
    MOLE_FLOW = auto()
    MASS_FLOW = auto()
    MOLAR_MASS = auto()
    GAS_CONSTANT = auto()
    TEMPERATURE = auto()
    ABSOLUTE_PRESSURE = auto()
    DENSITY = auto()
    VISCOSITY = auto()
    BORE = auto()
    AREA = auto()
    VELOCITY = auto()
    PRESSURE = auto()
    GRADIENT = auto()
    LENGTH = auto()
    ACCELERATION = auto()
    VOLUME_FLOW = auto()
    HEAT_PER_VOLUME = auto()


class Unit(NamedTuple):
    """A unit by its label, and what one of it is in SI."""

    label: str
    factor: float


_SI = {
    Kind.NUMBER: "",
    Kind.POWER: "W",
    Kind.HEAT_PER_MOLE: "J/mol",
    Kind.MOLE_FLOW: "mol/s",
    Kind.MASS_FLOW: "kg/s",
    Kind.MOLAR_MASS: "kg/mol",
    Kind.GAS_CONSTANT: "J/(mol·K)",
    Kind.TEMPERATURE: "K",
    Kind.ABSOLUTE_PRESSURE: "Pa",
    Kind.DENSITY: "kg/m³",
    Kind.VISCOSITY: "Pa·s",
    Kind.BORE: "m",
    Kind.AREA: "m²",
    Kind.VELOCITY: "m/s",
    Kind.PRESSURE: "Pa",
    Kind.GRADIENT: "Pa/m",
    Kind.LENGTH: "m",
    Kind.ACCELERATION: "m/s²",
    Kind.VOLUME_FLOW: "m³/h",
    Kind.HEAT_PER_VOLUME: "MJ/m³",
}
_NOT_COHERENT = {Kind.VOLUME_FLOW: 1.0 / 3600.0, Kind.HEAT_PER_VOLUME: 1e6}


@cache
def _us() -> dict[Kind, Unit]:
    def size(unit: str, dimension: Dimension) -> float:
        return scale(unit, dimension).factor

    pound, foot, inch = size("pound", Dimension.MASS), size("foot", Dimension.LENGTH), size("inch", Dimension.LENGTH)
    hour = size("pound", Dimension.MASS) / size("pound/hour", Dimension.MASS_FLOW)
    btu, psi = size("btu", Dimension.ENERGY), size("psi", Dimension.PRESSURE)
    rankine = size("degree_Rankine", Dimension.TEMPERATURE)
    water = size("inch_of_water", Dimension.PRESSURE)
    pound_mole = pound / 1e-3  # as many moles as a pound holds grams
    return {
        Kind.NUMBER: Unit("", 1.0),
        Kind.POWER: Unit("Btu/h", btu / hour),
        Kind.HEAT_PER_MOLE: Unit("Btu/lbmol", btu / pound_mole),
        Kind.MOLE_FLOW: Unit("lbmol/h", pound_mole / hour),
        Kind.MASS_FLOW: Unit("lb/h", pound / hour),
        Kind.MOLAR_MASS: Unit("lb/lbmol", pound / pound_mole),
        Kind.GAS_CONSTANT: Unit("psi·ft³/(lbmol·°R)", psi * foot**3 / (pound_mole * rankine)),
        Kind.TEMPERATURE: Unit("°R", rankine),
        Kind.ABSOLUTE_PRESSURE: Unit("psi", psi),
        Kind.DENSITY: Unit("lb/ft³", pound / foot**3),
        Kind.VISCOSITY: Unit("lb/(ft·h)", pound / (foot * hour)),
        Kind.BORE: Unit("in", inch),
        Kind.AREA: Unit("ft²", foot**2),
        Kind.VELOCITY: Unit("ft/min", size("foot/minute", Dimension.VELOCITY)),
        Kind.PRESSURE: Unit("in w.c.", water),
        Kind.GRADIENT: Unit("in w.c./ft", water / foot),
        Kind.LENGTH: Unit("ft", foot),
        Kind.ACCELERATION: Unit("ft/s²", foot),
        Kind.VOLUME_FLOW: Unit("ft³/h", foot**3 / hour),
        Kind.HEAT_PER_VOLUME: Unit("Btu/ft³", btu / foot**3),
    }


def unit_of(kind: Kind, system: System) -> Unit:
    """The unit a kind of number is written in on a board. Nearly all of SI are coherent: formulas need no factor."""
    return _us()[kind] if system is System.US else Unit(_SI[kind], _NOT_COHERENT.get(kind, 1.0))
