"""From SI numbers to text in the trade's style, in the chosen system of units.

Whatever is shown can be typed back: `parse` reads every text made here.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from ventsize.quantity.convert import from_si
from ventsize.quantity.dimensions import Dimension, System

NO_VALUE = "no value"  # for what is not a finite number
_HUGE = 1e12  # from here on as a power of ten: a line holds no hundred digits
_MOST_DIGITS_MORE = 6


class _Form(NamedTuple):
    unit: str  # as the definitions of convert.py write it
    label: str
    decimals: int
    trim: bool = False  # drop zeros after the point


_P = "percent"
_DEGREES = _Form("degree", "°", 1, trim=True)
_SLOPE_PERCENT = _Form(_P, "%", 2, trim=True)

# (dimension, style) -> the US form and the SI form. Style None is the usual one.
_FORMS: dict[tuple[Dimension, str | None], tuple[_Form, _Form]] = {
    (Dimension.LENGTH, "decimal"): (_Form("foot", "ft", 1), _Form("meter", "m", 2)),
    (Dimension.LENGTH, "bore"): (_Form("inch", "in", 3), _Form("millimeter", "mm", 2)),
    (Dimension.LENGTH, "opening"): (_Form("inch", "in", 2), _Form("millimeter", "mm", 1)),
    (Dimension.LENGTH, "fine"): (_Form("inch", "in", 6, True), _Form("millimeter", "mm", 4, True)),
    (Dimension.LENGTH, "altitude"): (_Form("foot", "ft", 0), _Form("meter", "m", 0)),
    (Dimension.AREA, None): (_Form("inch**2", "in²", 1), _Form("centimeter**2", "cm²", 0)),
    (Dimension.AREA, "floor"): (_Form("foot**2", "ft²", 0), _Form("meter**2", "m²", 1)),
    (Dimension.VOLUME, None): (_Form("foot**3", "ft³", 0), _Form("meter**3", "m³", 1)),
    (Dimension.VOLUME, "liquid"): (_Form("gallon", "gal", 2), _Form("liter", "L", 2)),
    (Dimension.ANGLE, None): (_DEGREES, _DEGREES),
    (Dimension.SLOPE, None): (_Form("inch/foot", "in/ft", 3, True), _SLOPE_PERCENT),
    (Dimension.VELOCITY, None): (_Form("foot/minute", "ft/min", 0), _Form("meter/second", "m/s", 2)),
    (Dimension.VELOCITY, "second"): (_Form("foot/second", "ft/s", 1), _Form("meter/second", "m/s", 2)),
    (Dimension.MASS, None): (_Form("pound", "lb", 1), _Form("kilogram", "kg", 1)),
    (Dimension.MASS_FLOW, None): (_Form("pound/hour", "lb/h", 1), _Form("kilogram/hour", "kg/h", 1)),
    (Dimension.VOLUME_FLOW, None): (
        _Form("foot**3/minute", "ft³/min", 1), _Form("meter**3/hour", "m³/h", 1)),
    (Dimension.VOLUME_FLOW, "liquid"): (_Form("gallon/hour", "gal/h", 2), _Form("liter/hour", "L/h", 2)),
    (Dimension.AIR_CHANGES, None): (_Form("1/hour", "per hour", 2), _Form("1/hour", "per hour", 2)),
    (Dimension.PRESSURE, None): (_Form("inch_of_water", "in w.c.", 3), _Form("pascal", "Pa", 1)),
    (Dimension.PRESSURE, "atmosphere"): (
        _Form("inch_of_mercury", "in Hg", 2), _Form("kilopascal", "kPa", 2)),
    (Dimension.PRESSURE_GRADIENT, None): (
        _Form("inch_of_water/(100*foot)", "in w.c./100 ft", 3), _Form("pascal/meter", "Pa/m", 2)),
    (Dimension.POWER, None): (_Form("btu/hour", "Btu/h", 0), _Form("kilowatt", "kW", 1)),
    (Dimension.POWER, "loss"): (_Form("btu/hour", "Btu/h", 0), _Form("watt", "W", 0)),
    (Dimension.ENERGY, None): (_Form("btu", "Btu", 0), _Form("megajoule", "MJ", 2)),
    (Dimension.ENERGY_PER_VOLUME, None): (
        _Form("btu/foot**3", "Btu/ft³", 0), _Form("megajoule/meter**3", "MJ/m³", 2)),
    (Dimension.TEMPERATURE, None): (
        _Form("degree_Fahrenheit", "°F", 1, True), _Form("degree_Celsius", "°C", 1, True)),
    (Dimension.TEMPERATURE_DIFFERENCE, None): (
        _Form("degree_Fahrenheit", "°F", 1, True), _Form("kelvin", "K", 1, True)),
    (Dimension.FRACTION, None): (_Form(_P, "%", 1, True), _Form(_P, "%", 1, True)),
    (Dimension.FRACTION, "ppm"): (_Form("ppm", "ppm", 0), _Form("ppm", "ppm", 0)),
    (Dimension.DENSITY, None): (
        _Form("pound/foot**3", "lb/ft³", 4), _Form("kilogram/meter**3", "kg/m³", 3)),
    (Dimension.VISCOSITY, None): (
        _Form("pound/foot/hour", "lb/(ft·h)", 5), _Form("micropascal*second", "µPa·s", 2)),
    (Dimension.CONDUCTIVITY, None): (
        _Form("btu/hour/foot/delta_degree_Fahrenheit", "Btu/(h·ft·°F)", 4),
        _Form("watt/meter/kelvin", "W/(m·K)", 3)),
    (Dimension.HEAT_TRANSFER, None): (
        _Form("btu/hour/foot**2/delta_degree_Fahrenheit", "Btu/(h·ft²·°F)", 3),
        _Form("watt/meter**2/kelvin", "W/(m²·K)", 2)),
    (Dimension.EXPANSION, None): (
        _Form("1/delta_degree_Fahrenheit", "1/°F", 7), _Form("1/kelvin", "1/K", 7)),
}  # fmt: skip

_SIXTEENTHS_A_FOOT = 192


def show(value: float, dimension: Dimension, system: System, *, style: str | None = None) -> str:
    """An SI value as text in the units of `system`.

    style: another form than the usual one; LENGTH has `decimal`, `size`, `bore`, `opening`, `fine`, `altitude`;
        AREA `floor`; VOLUME and VOLUME_FLOW `liquid`; VELOCITY `second`; PRESSURE `atmosphere`; POWER `loss`;
        FRACTION `ppm`

    Raises KeyError for a style the dimension does not have.
    """
    if dimension is Dimension.LENGTH and style is None:
        return show_length(value, system)
    if dimension is Dimension.LENGTH and style == "size":
        return show_size(value)
    form = _form(dimension, system, style)
    return _written(from_si(value, form.unit, dimension), form)


def show_number(value: float | None, dimension: Dimension, system: System, *, style: str | None = None) -> str:
    """What `show` gives without its unit, for a column whose head names it; `-` for None."""
    if value is None:
        return "-"
    form = _form(dimension, system, style)
    return _digits(from_si(value, form.unit, dimension), form)


def display_unit(dimension: Dimension, system: System, *, style: str | None = None) -> str:
    """The unit `show` uses, for the head of a column or the axis of a chart."""
    return _form(dimension, system, style).label


def display_value(value: float, dimension: Dimension, system: System, *, style: str | None = None) -> float:
    """An SI value as a number in the unit `display_unit` names."""
    return from_si(value, _form(dimension, system, style).unit, dimension)


def show_length(value: float, system: System) -> str:
    """A building length: `12 ft 6 1/2 in` to the nearest sixteenth of an inch, or `3.81 m`.

    value: length [m]
    """
    if not math.isfinite(value):
        return NO_VALUE
    if abs(value) >= _HUGE:
        return show_feet(value, system)
    if system is System.SI:
        text = f"{value:.3f}"
        return f"{_without_negative_zero(text[:-1] if text.endswith('0') else text)} m"
    sixteenths = round(from_si(abs(value), "inch", Dimension.LENGTH) * 16)
    feet, rest = divmod(sixteenths, _SIXTEENTHS_A_FOOT)
    parts = [f"{feet:,} ft"] if feet or not rest else []
    if rest:
        parts.append(f"{_mixed(rest)} in")
    sign = "-" if value < 0 and sixteenths else ""
    return sign + " ".join(parts)


def show_feet(value: float, system: System) -> str:
    """A length as a decimal: `62.4 ft` or `19.02 m`, for equivalent lengths and margins; value: [m]."""
    return show(value, Dimension.LENGTH, system, style="decimal")


def show_size(value: float) -> str:
    """A nominal size by its name, `3 in`, `1 1/2 in` or `80 mm`: a name is not converted; value: [m]."""
    if not math.isfinite(value):
        return NO_VALUE
    sixteenths = from_si(value, "inch", Dimension.LENGTH) * 16
    if abs(value) < _HUGE and abs(sixteenths - round(sixteenths)) < 1e-6 and round(sixteenths) > 0:
        return f"{_mixed(round(sixteenths))} in"
    return _written(from_si(value, "millimeter", Dimension.LENGTH), _Form("millimeter", "mm", 2, True))


def show_pressure(value: float, system: System) -> str:
    """`0.312 in w.c.` or `77.7 Pa`; value: pressure [Pa]."""
    return show(value, Dimension.PRESSURE, system)


def show_apart(one: float, other: float, dimension: Dimension, system: System) -> tuple[str, str]:
    """Two SI values, with as many digits as tell them apart: 0.0158 in w.c. and 0.0163 in w.c."""
    form = _form(dimension, system, None)
    first, second = (from_si(value, form.unit, dimension) for value in (one, other))
    for more in range(_MOST_DIGITS_MORE + 1):
        finer = form._replace(decimals=form.decimals + more)
        if _written(first, finer) != _written(second, finer):
            return _written(first, finer), _written(second, finer)
    return _written(first, form), _written(second, form)


def show_power(value: float, system: System) -> str:
    """`80,000 Btu/h` or `23.4 kW`; value: power [W]."""
    return show(value, Dimension.POWER, system)


def show_temperature(value: float, system: System) -> str:
    """`110 °F` or `43.3 °C`; value: temperature [K]."""
    return show(value, Dimension.TEMPERATURE, system)


def show_fraction(value: float) -> str:
    """`8.4 %`; value: fraction [-]."""
    return show(value, Dimension.FRACTION, System.US)


def show_velocity(value: float, system: System) -> str:
    """`902 ft/min` or `4.58 m/s`; value: velocity [m/s]."""
    return show(value, Dimension.VELOCITY, system)


def show_condensate(value: float, system: System) -> str:
    """Water as it is drained: `0.62 gal/h` or `2.35 L/h`, a kilogram to the liter; value: [kg/s]."""
    return show(value / 1000.0, Dimension.VOLUME_FLOW, system, style="liquid")


def _form(dimension: Dimension, system: System, style: str | None) -> _Form:
    if dimension is Dimension.LENGTH and style is None:
        style = "decimal"
    us, si = _FORMS[dimension, style]
    return us if system is System.US else si


def _written(value: float, form: _Form) -> str:
    if not math.isfinite(value):
        return NO_VALUE
    return f"{_digits(value, form)}{'' if form.label == '°' else ' '}{form.label}"


def _digits(value: float, form: _Form) -> str:
    if not math.isfinite(value):
        return NO_VALUE
    text = f"{value:,.{form.decimals}f}" if abs(value) < 1000 * _HUGE else f"{value:.6g}"
    if form.trim and "." in text:
        text = text.rstrip("0").rstrip(".")
    return _without_negative_zero(text)


def _without_negative_zero(text: str) -> str:
    return text[1:] if text.startswith("-") and not text.strip("-0.,") else text


def _mixed(sixteenths: int) -> str:
    """Sixteenths as a mixed number: 8 -> `1/2`, 24 -> `1 1/2`."""
    whole, top = divmod(sixteenths, 16)
    if not top:
        return str(whole)
    shared = math.gcd(top, 16)
    fraction = f"{top // shared}/{16 // shared}"
    return f"{whole} {fraction}" if whole else fraction
