"""Conversion between named units and SI: pint, with the few units this trade uses.

Building pint's default registry takes several times as long as everything else `parse` needs, so the one
registry here is built from the short definitions below, at the first conversion. Tests compare every
factor with pint's default registry and with NIST SP 811.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

from ventsize.quantity.dimensions import SI_UNITS, Dimension

if TYPE_CHECKING:
    import pint

# Btu: the International Table Btu, rounded to 1055.056 J as ISO and NIST SP 811 give it.
# Inch of water: the conventional one, water of 1000 kg/m3 under standard gravity: 249.08891 Pa.
DEFINITIONS = """
micro- = 1e-6
milli- = 1e-3
centi- = 1e-2
hecto- = 1e2
kilo- = 1e3
mega- = 1e6

meter = [length]
second = [time]
kilogram = [mass]
kelvin = [temperature]; offset: 0
radian = []

degree = 0.017453292519943295 * radian
percent = 0.01
ppm = 1e-6
minute = 60 * second
hour = 60 * minute

inch = 0.0254 * meter
foot = 0.3048 * meter
yard = 0.9144 * meter
mile = 5280 * foot
gram = 1e-3 * kilogram
pound = 0.45359237 * kilogram
liter = 1e-3 * meter ** 3
gallon = 231 * inch ** 3

degree_Celsius = kelvin; offset: 273.15
degree_Rankine = 5 / 9 * kelvin; offset: 0
degree_Fahrenheit = 5 / 9 * kelvin; offset: 233.15 + 200 / 9

newton = kilogram * meter / second ** 2
pascal = newton / meter ** 2
bar = 1e5 * pascal
atmosphere = 101325 * pascal
standard_gravity = 9.80665 * meter / second ** 2
water = 1000 * kilogram / meter ** 3
mercury = 13595.1 * kilogram / meter ** 3
meter_of_water = meter * water * standard_gravity
inch_of_water = inch * water * standard_gravity
foot_of_water = foot * water * standard_gravity
meter_of_mercury = meter * mercury * standard_gravity
inch_of_mercury = inch * mercury * standard_gravity
psi = pound * standard_gravity / inch ** 2
joule = newton * meter
watt = joule / second
btu = 1055.056 * joule
therm = 1e5 * btu
"""


class Scale(NamedTuple):
    """SI value = factor * value + offset."""

    factor: float
    offset: float


@cache
def registry() -> pint.UnitRegistry[Any]:
    """The one registry of units; built at the first call."""
    import pint  # late: a command that converts nothing should not pay for it

    units: pint.UnitRegistry[Any] = pint.UnitRegistry(None)
    units.load_definitions(DEFINITIONS.splitlines())
    return units


# Temperatures on a scale with its own zero; every other unit is a plain factor.
_OFFSET_UNITS = frozenset({"degree_Celsius", "degree_Fahrenheit"})


@cache
def scale(unit: str, dimension: Dimension) -> Scale:
    """How `unit` (as the definitions write it) becomes the SI unit of `dimension`."""
    units = registry()
    si = SI_UNITS[dimension]
    if unit in _OFFSET_UNITS:
        factor = float(units.Quantity(1.0, f"delta_{unit}").to(si).magnitude)
        if dimension is not Dimension.TEMPERATURE:
            return Scale(factor, 0.0)
        return Scale(factor, float(units.Quantity(0.0, unit).to(si).magnitude))
    return Scale(float(units.parse_expression(unit).to(si).magnitude), 0.0)


def to_si(value: float, unit: str, dimension: Dimension) -> float:
    """`value` in `unit`, in SI."""
    factor, offset = scale(unit, dimension)
    return value * factor + offset


def from_si(value: float, unit: str, dimension: Dimension) -> float:
    """An SI value, in `unit`."""
    factor, offset = scale(unit, dimension)
    return (value - offset) / factor
