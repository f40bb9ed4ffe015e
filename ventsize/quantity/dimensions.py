"""What kinds of quantity there are, their SI units, and an example of each as people write it."""

from __future__ import annotations

from enum import Enum, StrEnum


class System(StrEnum):
    """The two ways of showing quantities."""

    US = "us"
    SI = "si"


class Dimension(Enum):
    """A kind of quantity; the value is its plain name, as used in messages."""

    LENGTH = "length"
    AREA = "area"
    VOLUME = "volume"
    ANGLE = "angle"
    SLOPE = "slope"
    VELOCITY = "velocity"
    MASS = "mass"
    MASS_FLOW = "mass flow"
    VOLUME_FLOW = "volume flow"
    AIR_CHANGES = "air change rate"
    PRESSURE = "pressure"
    PRESSURE_GRADIENT = "pressure drop per length"
    POWER = "power"
    ENERGY = "energy"
    ENERGY_PER_VOLUME = "heating value per volume"
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature difference"
    FRACTION = "fraction"
    DENSITY = "density"
    VISCOSITY = "viscosity"
    CONDUCTIVITY = "thermal conductivity"
    HEAT_TRANSFER = "heat transfer coefficient"
    EXPANSION = "thermal expansion"

    @property
    def with_article(self) -> str:
        """The name with its article: `a length`, `an angle`."""
        article = "an" if self.value[0] in "aeiou" else "a"
        return f"{article} {self.value}"


# The SI unit each dimension is held in, as the registry of convert.py writes it.
SI_UNITS: dict[Dimension, str] = {
    Dimension.LENGTH: "meter",
    Dimension.AREA: "meter**2",
    Dimension.VOLUME: "meter**3",
    Dimension.ANGLE: "radian",
    Dimension.SLOPE: "dimensionless",
    Dimension.VELOCITY: "meter/second",
    Dimension.MASS: "kilogram",
    Dimension.MASS_FLOW: "kilogram/second",
    Dimension.VOLUME_FLOW: "meter**3/second",
    Dimension.AIR_CHANGES: "1/second",
    Dimension.PRESSURE: "pascal",
    Dimension.PRESSURE_GRADIENT: "pascal/meter",
    Dimension.POWER: "watt",
    Dimension.ENERGY: "joule",
    Dimension.ENERGY_PER_VOLUME: "joule/meter**3",
    Dimension.TEMPERATURE: "kelvin",
    Dimension.TEMPERATURE_DIFFERENCE: "kelvin",
    Dimension.FRACTION: "dimensionless",
    Dimension.DENSITY: "kilogram/meter**3",
    Dimension.VISCOSITY: "pascal*second",
    Dimension.CONDUCTIVITY: "watt/meter/kelvin",
    Dimension.HEAT_TRANSFER: "watt/meter**2/kelvin",
    Dimension.EXPANSION: "1/kelvin",
}

# The first example of each row is the one put into messages.
_EXAMPLES: dict[Dimension, tuple[tuple[str, ...], tuple[str, ...]]] = {
    Dimension.LENGTH: (("12 ft 6 in", "6 1/2 in", "12.5 ft"), ("3.8 m", "380 cm", "38 mm")),
    Dimension.AREA: (("100 in²", "2.5 ft²"), ("0.06 m²", "640 cm²")),
    Dimension.VOLUME: (("4,000 ft³",), ("113 m³",)),
    Dimension.ANGLE: (("45 deg", "45°"), ("45 deg", "45°")),
    Dimension.SLOPE: (("1/4 in/ft", "2 %"), ("20 mm/m", "2 %")),
    Dimension.VELOCITY: (("900 ft/min", "15 ft/s"), ("4.6 m/s",)),
    Dimension.MASS: (("2.5 lb",), ("1.2 kg",)),
    Dimension.MASS_FLOW: (("98 lb/h",), ("44.5 kg/h", "0.0124 kg/s")),
    Dimension.VOLUME_FLOW: (("20 ft³/min", "1.1 gal/h"), ("35 m³/h", "4.2 L/h")),
    Dimension.AIR_CHANGES: (("0.35 per hour", "0.35 ACH"), ("0.35 per hour", "0.35 ACH")),
    Dimension.PRESSURE: (("0.31 in w.c.",), ("77 Pa", "1.2 mbar")),
    Dimension.PRESSURE_GRADIENT: (("0.25 in w.c./100 ft",), ("2.1 Pa/m",)),
    Dimension.POWER: (("80,000 Btu/h", "80 MBH", "80 kBtu/h"), ("23.4 kW",)),
    Dimension.ENERGY: (("80,000 Btu",), ("84 MJ", "23.4 kWh")),
    Dimension.ENERGY_PER_VOLUME: (("1,030 Btu/ft³",), ("38.4 MJ/m³",)),
    Dimension.TEMPERATURE: (("110 °F", "-5 degF"), ("43 °C", "318 K")),
    Dimension.TEMPERATURE_DIFFERENCE: (("30 °F",), ("17 °C", "17 K")),
    Dimension.FRACTION: (("8.4 %", "0.35"), ("8.4 %", "0.35")),
    Dimension.DENSITY: (("0.068 lb/ft³",), ("1.09 kg/m³",)),
    Dimension.VISCOSITY: (("0.043 lb/(ft·h)",), ("17.8 µPa·s",)),
    Dimension.CONDUCTIVITY: (("0.1 Btu/(h·ft·°F)", "0.27 Btu·in/(h·ft²·°F)"), ("0.17 W/(m·K)",)),
    Dimension.HEAT_TRANSFER: (("1.5 Btu/(h·ft²·°F)",), ("8.5 W/(m²·K)",)),
    Dimension.EXPANSION: (("3e-5 1/°F",), ("5.4e-5 1/K",)),
}


def examples(dimension: Dimension, system: System) -> tuple[str, ...]:
    """Texts that `parse` reads as `dimension`, in the units of `system`; the most usual first."""
    us, si = _EXAMPLES[dimension]
    return us if system is System.US else si


def expected(dimension: Dimension, limit: str = "") -> str:
    """What to say is expected: the dimension, what it is held to, and an example or two."""
    first, second = (examples(dimension, system)[0] for system in System)
    if first == second:
        first, second = examples(dimension, System.US)[:2]
    return f"{dimension.with_article}{limit}, for example {first} or {second}"
