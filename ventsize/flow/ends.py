"""Pressures at both ends of a vent: wind at an end outdoors, and the room against outdoors.

All are against still air outdoors at the same level, as every pressure of the flow is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from ventsize.gas.constants import GRAVITY

WIND_SOURCE = (
    "walls: Swami and Chandra 1987, FSEC-CR-163-86, mean over the wall of a low-rise house, as long as it is deep; "
    "roof: mean over directions for a low-rise roof of 11 to 30 degrees, exposed, AIVC's tables; "
    "terrain: ASHRAE Fundamentals 2005, ch. 16"
)
EAVES = 5.0
"""Height of the wind that pressures on a low-rise house go by, where a reported wind is brought there [m]. Assumed."""
ROOF = -0.5
WINDWARD, LEEWARD = 0.603, -0.364  # coefficients of a wall that faces the wind, and of the one behind
TERRAINS = {"open": (0.14, 270.0), "suburb": (0.22, 370.0), "city": (0.33, 460.0)}
"""Exponent [-] and depth of the layer [m] of the wind's profile."""
REPORTED_HEIGHT = 10.0  # m, in open country: where weather stations measure
WALLS = {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}
COMPASS = {name: 45.0 * place for place, name in enumerate(
    ("north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest")
)}  # fmt: skip

Wall = Literal["north", "south", "east", "west", "roof"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """Pressures at the ends of a job's runs, as far as they are stated [Pa].

    wind: at the outdoor end of each run, by the run's name; a run that is not there has none that is known.
    room: of the room; None where it is not known.
    """

    wind: Mapping[str, float] = field(default_factory=dict)
    room: float | None = None


CALM = Ends()


def wall_coefficient(angle: float, *, side_ratio: float = 1.0) -> float:
    """Mean pressure coefficient of a wall of a low-rise house [-].

    angle: between the wind and the wall's outward normal, 0 where the wind blows against it [rad]
    side_ratio: length of the wall over that of the one beside it [-]

    Source: Swami and Chandra 1987.
    """
    half, g = angle / 2.0, math.log(side_ratio)
    sine, cosine = math.sin(abs(half)), math.cos(half)
    inside = (
        1.248
        - 0.703 * sine
        - 1.175 * math.sin(angle) ** 2
        + 0.131 * math.sin(2.0 * abs(angle) * g) ** 3
        + 0.769 * cosine
        + 0.07 * g**2 * sine**2
        + 0.717 * cosine**2
    )
    return 0.6 * math.log(inside)


def end_coefficient(wall: Wall, *, wind_from: str) -> float:
    """Pressure coefficient of an end on a wall, or on the roof, with the wind from a quarter of the compass [-]."""
    if wall == "roof":
        return ROOF
    apart = (COMPASS[wind_from] - WALLS[wall] + 180.0) % 360.0 - 180.0
    return wall_coefficient(math.radians(abs(apart)))


def wind_at_house(reported: float, *, terrain: str | None, height: float = EAVES) -> float:
    """Speed of the wind that acts on the house [m/s].

    reported: of the weather report, in open country at 10 m, where the terrain around the house is given; else taken
    as it is at the house [m/s]. height: of the eaves [m].

    Source: power law, ASHRAE Fundamentals 2005, ch. 16.
    """
    if terrain is None:
        return reported
    open_exponent, open_depth = TERRAINS["open"]
    exponent, depth = TERRAINS[terrain]
    return float(reported * (open_depth / REPORTED_HEIGHT) ** open_exponent * (height / depth) ** exponent)


def wind_pressure(coefficient: float, *, speed: float, density: float) -> float:
    """Of a wind at an end [Pa]; speed [m/s], density of the air outdoors [kg/m³]."""
    return coefficient * 0.5 * density * speed * speed


def wind_speed(pressure: float, *, coefficient: float, density: float) -> float:
    """The wind that brings about a pressure, more or less than none, at an end of this coefficient [m/s]."""
    return math.sqrt(2.0 * abs(pressure / coefficient) / density)


def stack_pressure(*, outdoor_density: float, indoor_density: float, neutral_level: float) -> float:
    """Of a room against outdoors at its own level, below zero in a warm house [Pa].

    neutral_level: height of the level at which the house stands as outdoors, above the appliance [m]; densities of
    the air [kg/m³]. Source: ASHRAE Fundamentals, stack pressure.
    """
    return (indoor_density - outdoor_density) * GRAVITY * neutral_level
