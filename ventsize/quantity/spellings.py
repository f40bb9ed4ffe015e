"""Every way of writing a unit that is understood, and the ones refused because they are read two ways."""

from __future__ import annotations

from functools import cache

from ventsize.quantity.dimensions import Dimension
from ventsize.quantity.errors import Refusal

# By dimension: unit, as the definitions of convert.py write it -> its spellings, as `unit_key` leaves them
# (small letters, no spaces, no points, `/h` for any "per hour").
_SPELLINGS: dict[Dimension, dict[str, str]] = {
    Dimension.LENGTH: {
        "meter": "m meter meters metre metres",
        "centimeter": "cm centimeter centimeters centimetre centimetres",
        "millimeter": "mm millimeter millimeters millimetre millimetres",
        "micrometer": "µm um micron microns micrometer micrometers micrometre micrometres",
        "kilometer": "km kilometer kilometers kilometre kilometres",
        "inch": 'in inch inches "',
        "foot": "ft foot feet '",
        "yard": "yd yard yards",
        "mile": "mi mile miles",
    },
    Dimension.AREA: {
        "meter**2": "m2 sqm",
        "centimeter**2": "cm2 sqcm",
        "millimeter**2": "mm2 sqmm",
        "inch**2": "in2 sqin sqinch squareinch squareinches",
        "foot**2": "ft2 sqft squarefoot squarefeet",
    },
    Dimension.VOLUME: {
        "meter**3": "m3 cum cubicmeter cubicmeters cubicmetre cubicmetres",
        "liter": "l liter liters litre litres",
        "inch**3": "in3 cuin cubicinch cubicinches",
        "foot**3": "ft3 cuft cubicfoot cubicfeet",
        "gallon": "gal gallon gallons",
    },
    Dimension.ANGLE: {
        "degree": "° deg degs degree degrees",
        "radian": "rad radian radians",
    },
    Dimension.SLOPE: {
        "percent": "% percent pct",
        "inch/foot": 'in/ft inch/ft inch/foot inches/foot "/ft "/\'',
        "millimeter/meter": "mm/m",
        "centimeter/meter": "cm/m",
        "dimensionless": "in/in ft/ft m/m",
    },
    Dimension.VELOCITY: {
        "meter/second": "m/s",
        "foot/second": "ft/s fps feet/s",
        "foot/minute": "ft/min fpm feet/min",
        "kilometer/hour": "km/h",
        "mile/hour": "mph mi/h",
    },
    Dimension.MASS: {
        "kilogram": "kg kilogram kilograms",
        "gram": "g gram grams",
        "pound": "lb lbs pound pounds",
    },
    Dimension.MASS_FLOW: {
        "kilogram/second": "kg/s",
        "kilogram/hour": "kg/h",
        "gram/second": "g/s",
        "gram/hour": "g/h",
        "pound/hour": "lb/h lbs/h pph",
        "pound/minute": "lb/min lbs/min",
        "pound/second": "lb/s lbs/s",
    },
    Dimension.VOLUME_FLOW: {
        "meter**3/second": "m3/s",
        "meter**3/hour": "m3/h",
        "liter/second": "l/s",
        "liter/minute": "l/min",
        "liter/hour": "l/h",
        "foot**3/minute": "ft3/min cfm cuft/min",
        "foot**3/hour": "ft3/h cfh cuft/h",
        "foot**3/second": "ft3/s cuft/s",
        "gallon/minute": "gal/min gpm",
        "gallon/hour": "gal/h gph",
    },
    Dimension.AIR_CHANGES: {
        "1/hour": "ach /h 1/h airchanges/h",
        "1/second": "/s 1/s",
    },
    Dimension.PRESSURE: {
        "pascal": "pa pascal pascals",
        "hectopascal": "hpa",
        "kilopascal": "kpa",
        "bar": "bar bars",
        "millibar": "mbar mb millibar millibars",
        "atmosphere": "atm",
        "psi": "psi lb/in2 lbf/in2",
        "inch_of_water": "inwc inchwc incheswc inwg inh2o inchesh2o inofwater inofwc inchesofwc "
        "incheswatercolumn inwatercolumn inwater incheswater inchesofwater inchesofwatercolumn "
        '"wc "wg "h2o iwc',
        "foot_of_water": "ftwc fth2o ftofwater",
        "millimeter_of_water": "mmh2o mmwc mmwg",
        "centimeter_of_water": "cmh2o cmwc",
        "inch_of_mercury": 'inhg "hg',
        "millimeter_of_mercury": "mmhg",
    },
    Dimension.PRESSURE_GRADIENT: {
        "pascal/meter": "pa/m",
        "inch_of_water/foot": "inwc/ft inh2o/ft",
        "inch_of_water/(100*foot)": "inwc/100ft inh2o/100ft",
    },
    Dimension.POWER: {
        "watt": "w watt watts",
        "kilowatt": "kw kilowatt kilowatts",
        "btu/hour": "btu/h btus/h btuh bth",
        "kilobtu/hour": "kbtu/h kbtuh mbh",
        "megabtu/hour": "mmbtu/h mmbtuh mmbh",
    },
    Dimension.ENERGY: {
        "joule": "j joule joules",
        "kilojoule": "kj",
        "megajoule": "mj",
        "kilowatt*hour": "kwh",
        "btu": "btu btus",
        "kilobtu": "kbtu",
        "megabtu": "mmbtu",
        "therm": "therm therms",
    },
    Dimension.ENERGY_PER_VOLUME: {
        "joule/meter**3": "j/m3",
        "kilojoule/meter**3": "kj/m3",
        "megajoule/meter**3": "mj/m3",
        "kilowatt*hour/meter**3": "kwh/m3",
        "btu/foot**3": "btu/ft3 btu/cuft",
    },
    Dimension.TEMPERATURE: {
        "kelvin": "k kelvin kelvins",
        "degree_Celsius": "c °c degc degsc degreec degreesc celsius degreescelsius",
        "degree_Fahrenheit": "f °f degf degsf degreef degreesf fahrenheit degreesfahrenheit",
        "degree_Rankine": "r °r degr rankine degreesrankine",
    },
    Dimension.FRACTION: {
        "percent": "% percent pct",
        "ppm": "ppm",
    },
    Dimension.DENSITY: {
        "kilogram/meter**3": "kg/m3",
        "gram/liter": "g/l",
        "pound/foot**3": "lb/ft3 lb/cuft lbs/ft3",
    },
    Dimension.VISCOSITY: {
        "pascal*second": "pas",
        "millipascal*second": "mpas",
        "micropascal*second": "µpas upas",
        "pound/foot/hour": "lb/fth lb/ft/h lb/hft",
        "pound/foot/second": "lb/fts lb/ft/s",
    },
    Dimension.CONDUCTIVITY: {
        "watt/meter/kelvin": "w/mk w/m/k w/m-k w/m°c w/mc w/m/°c",
        "btu/hour/foot/delta_degree_Fahrenheit": "btu/hftf btu/hft°f btu/h-ft-f btu/h-ft-°f btu/h/ft/f",
        "btu*inch/hour/foot**2/delta_degree_Fahrenheit": "btuin/hft2f btuin/hft2°f btu-in/h-ft2-f "
        "btu-in/h-ft2-°f btu-in/hft2°f btu-in/hft2f",
    },
    Dimension.HEAT_TRANSFER: {
        "watt/meter**2/kelvin": "w/m2k w/m2/k w/m2-k",
        "btu/hour/foot**2/delta_degree_Fahrenheit": "btu/hft2f btu/hft2°f btu/h-ft2-f btu/h-ft2-°f",
    },
    Dimension.EXPANSION: {
        "1/kelvin": "1/k /k m/m/k m/mk 1/°c /°c 1/c m/m/°c",
        "1/delta_degree_Fahrenheit": "1/°f /°f 1/f /f in/in/f in/in/°f",
        "inch/(10*foot)/(100*delta_degree_Fahrenheit)": "in/10ft/100°f in/10ft/100f",
    },
}

_SPELLINGS[Dimension.TEMPERATURE_DIFFERENCE] = _SPELLINGS[Dimension.TEMPERATURE]

_MILLIONS_OR_THOUSANDS = (
    "uses MBtu, which the trade reads as a thousand Btu and others as a million: "
    "write MBH or kBtu/h for thousands, MMBtu/h for millions"
)
_MILLI_OR_MEGA = "uses {}, where a small m means a thousandth and a capital M a million: write {} instead"

# Spellings whose prefix is easily mistaken, by what they become in small letters.
_TWO_WAYS: dict[str, str] = {
    "mbtu": _MILLIONS_OR_THOUSANDS,
    "mbtu/h": _MILLIONS_OR_THOUSANDS,
    "mbtuh": _MILLIONS_OR_THOUSANDS,
    "mw": _MILLI_OR_MEGA.format("mW or MW", "W or kW"),
    "mpa": _MILLI_OR_MEGA.format("mPa or MPa", "Pa or kPa"),
}
# Spellings that mean something with the right letter in front only: small letters -> the first letter.
_FIRST_LETTER: dict[str, str] = {
    "mbar": "m", "mb": "m", "millibar": "m", "mj": "M", "mj/m3": "M", "mpas": "m",
}  # fmt: skip

_TIMES = {
    "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "minute": "min", "minutes": "min",
    "sec": "s", "second": "s", "seconds": "s",
}  # fmt: skip
_CHARACTERS = str.maketrans({
    "²": "2", "³": "3", "₂": "2", "^": "", ".": "", "·": "", "⋅": "", "μ": "µ", "º": "°", "˚": "°",
    "℃": "°c", "℉": "°f",
})  # fmt: skip


def unit_key(text: str) -> str:
    """A unit as typed, with everything that makes no difference taken out; letters keep their case."""
    words = ["/" if word.lower() == "per" else word for word in text.translate(_CHARACTERS).split()]
    key = "".join(words)
    if "/(" in key and key.endswith(")"):
        key = key[:-1].replace("/(", "/", 1)
    head, slash, last = key.rpartition("/")
    if slash:
        return f"{head}/{_TIMES.get(last.lower(), last)}".replace("/hr", "/h")
    return key[:-1] if key[-3:].lower() == "uhr" else key  # Btuhr


@cache
def _table(dimension: Dimension) -> dict[str, str]:
    return {spelling: unit for unit, spellings in _SPELLINGS[dimension].items() for spelling in spellings.split()}


def units(dimension: Dimension) -> tuple[str, ...]:
    """The units of a dimension, as the definitions write them."""
    return tuple(_SPELLINGS[dimension])


def find_unit(text: str, dimension: Dimension) -> str | None:
    """The unit that `text` spells in `dimension`; None if it spells none.

    Raises Refusal for a spelling that is read two ways.
    """
    key = unit_key(text)
    small = key.lower()
    if small in _TWO_WAYS:
        raise Refusal(_TWO_WAYS[small])
    unit = _table(dimension).get(small)
    first = _FIRST_LETTER.get(small, key[:1])
    if unit is not None and key[0] != first:
        right = first + key[1:]
        raise Refusal(_MILLI_OR_MEGA.format(key, right))
    return unit


def dimensions_of(text: str) -> tuple[Dimension, ...]:
    """Every dimension in which `text` spells a unit."""
    small = unit_key(text).lower()
    return tuple(dimension for dimension in Dimension if small in _table(dimension))
