"""Field types of our files: what a person types, validated into SI floats.

Each is a `float` to the program. In a file it is text with a unit, read by `ventsize.quantity`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator

from ventsize import quantity
from ventsize.quantity import Dimension, System, Unusable, show


@dataclass(frozen=True, slots=True)
class Expected:
    """What a field expects, for the sentence shown when it is missing or of the wrong type.

    written: how a file holds it, as JSON types, where that differs from what the program makes of it.
    """

    text: str
    written: tuple[str, ...] = ()


TEXT = ("string",)


# Far beyond any building or appliance. Figures past these would not be wrong by themselves, but what follows from them
# leaves the range of every law here, and at last that of the computer's numbers.
MOST: dict[Dimension, float] = {
    Dimension.LENGTH: 30_480.0,
    Dimension.AREA: 1e8,
    Dimension.VOLUME: 1e10,
    Dimension.ANGLE: 1_000.0,
    Dimension.PRESSURE: 1e7,
    Dimension.TEMPERATURE: 5_273.15,
    Dimension.TEMPERATURE_DIFFERENCE: 5_000.0,
    Dimension.POWER: 1e9,
    Dimension.VELOCITY: 1_000.0,
    Dimension.VOLUME_FLOW: 1e5,
    Dimension.AIR_CHANGES: 10.0,
    Dimension.CONDUCTIVITY: 1e5,
    Dimension.EXPANSION: 1.0,
    Dimension.FRACTION: 1_000.0,
}
"""By dimension, the most that a file may hold, in SI."""
MOST_NUMBER = 1e6  # of a bare number, such as a loss coefficient
LEAST_INPUT = 1.0  # W; less burns nowhere, and its flow would be lost in the rounding of the others


def _within_reach(value: float, dimension: Dimension, typed: Any) -> float:
    most = MOST.get(dimension, math.inf)
    if abs(value) > most:
        style = "altitude" if dimension is Dimension.LENGTH else None
        limit = " or ".join(dict.fromkeys(show(most, dimension, system, style=style) for system in System))
        raise Unusable(f"{typed!r:.40} is more than can be reckoned with", f"no more than {limit}")
    return value


def read_quantity(value: Any, dimension: Dimension, *, signed: bool = False) -> float:
    """What a file holds as a quantity, in SI: text with a unit, or for a FRACTION a bare number.

    Raises ValueError, whose text is a sentence, also where it is beyond `MOST`.
    """
    return _within_reach(quantity.parse_number_or_text(value, dimension, signed=signed), dimension, value)


def _reader(dimension: Dimension, expected: str, *, signed: bool) -> Callable[[Any], float]:
    def read(value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, str):
            raise Unusable(f"{value!r:.40} is not text with a unit", expected)
        return _within_reach(quantity.parse(value, dimension, signed=signed), dimension, value)

    return read


def _quantity(dimension: Dimension, expected: str, *, signed: bool = False) -> tuple[Any, ...]:
    return BeforeValidator(_reader(dimension, expected, signed=signed)), Expected(expected, TEXT)


def _fraction(value: Any) -> float:
    """A share as a bare number (0.35) or as text ("35 %")."""
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise Unusable(f"{value!r:.40} is not a number", "a share such as 0.35 or '35 %'")
    share = quantity.parse(value, Dimension.FRACTION) if isinstance(value, str) else _finite(value)
    return _within_reach(share, Dimension.FRACTION, value)


def _finite(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise Unusable(f"{value!r:.40} is not a number", "a number such as 0.9")
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise Unusable(f"{value!r:.40} is not a finite number", "a number such as 0.9")
    if abs(number) > MOST_NUMBER:
        raise Unusable(f"{value!r:.40} is more than can be reckoned with", f"no more than {MOST_NUMBER:,.0f}")
    return number


def _positive(value: float) -> float:
    if value <= 0:
        raise Unusable("it is zero or less", "more than zero")
    return value


def _burning(value: float) -> float:
    if value < LEAST_INPUT:
        raise Unusable("it is less than any appliance burns", "an input such as '80,000 Btu/h' or '24 kW'")
    return value


def _not_negative(value: float) -> float:
    if value < 0:
        raise Unusable(f"{value:g} is below zero", "zero or more")
    return value


Positive = AfterValidator(_positive)
NotNegative = AfterValidator(_not_negative)

Text = Annotated[str, Expected("text in quotes")]
Length = Annotated[float, *_quantity(Dimension.LENGTH, "a length such as '12 ft 6 in' or '3.8 m'")]
SignedLength = Annotated[float, *_quantity(Dimension.LENGTH, "a height such as '1 ft' or '-2 m'", signed=True)]
Pressure = Annotated[float, *_quantity(Dimension.PRESSURE, "a pressure such as '0.31 in w.c.' or '77 Pa'")]
SignedPressure = Annotated[
    float, *_quantity(Dimension.PRESSURE, "a pressure such as '-0.2 in w.c.' or '-50 Pa'", signed=True)
]
PositivePressure = Annotated[Pressure, Positive]
Temperature = Annotated[
    float, *_quantity(Dimension.TEMPERATURE, "a temperature such as '110 degF' or '43 degC'", signed=True)
]
TemperatureDifference = Annotated[
    float, *_quantity(Dimension.TEMPERATURE_DIFFERENCE, "a difference of temperature such as '5 degF' or '3 K'")
]
Power = Annotated[float, *_quantity(Dimension.POWER, "an input such as '80,000 Btu/h', '80 MBH' or '24 kW'")]
Angle = Annotated[float, *_quantity(Dimension.ANGLE, "an angle such as '45 deg'")]
Fraction = Annotated[
    float,
    BeforeValidator(_fraction),
    NotNegative,
    Expected("a share such as 0.35 or '35 %'", ("number", "string")),
]
Number = Annotated[float, BeforeValidator(_finite), Expected("a number such as 0.9")]
PositiveNumber = Annotated[float, BeforeValidator(_finite), Positive, Expected("a number above zero")]
NotNegativeNumber = Annotated[
    float, BeforeValidator(_finite), NotNegative, Expected("a number, zero or more, such as 0.9")
]
PositiveLength = Annotated[Length, Positive]
Velocity = Annotated[float, *_quantity(Dimension.VELOCITY, "a speed such as '900 ft/min' or '4.6 m/s'")]
VolumeFlow = Annotated[float, *_quantity(Dimension.VOLUME_FLOW, "a volume flow such as '40 ft³/min' or '68 m³/h'")]
Density = Annotated[float, *_quantity(Dimension.DENSITY, "a density such as '0.075 lb/ft³' or '1.2 kg/m³'"), Positive]
PipeConductivity = Annotated[
    float,
    *_quantity(Dimension.CONDUCTIVITY, "a conductivity such as '0.27 Btu·in/(h·ft²·°F)' or '0.04 W/(m K)'"),
    Positive,
]
PositivePower = Annotated[Power, Positive]
Input = Annotated[PositivePower, AfterValidator(_burning)]
PositiveArea = Annotated[float, *_quantity(Dimension.AREA, "an area such as '100 in²' or '640 cm²'"), Positive]
PositiveVolume = Annotated[float, *_quantity(Dimension.VOLUME, "a volume such as '4,000 ft³' or '113 m³'"), Positive]
AirChanges = Annotated[float, *_quantity(Dimension.AIR_CHANGES, "an air change rate such as '0.35 ACH'")]
