"""Wind at the ends and the room's pressure against published values."""

from __future__ import annotations

import math

import pytest

from ventsize.flow.ends import (
    EAVES,
    LEEWARD,
    TERRAINS,
    WINDWARD,
    end_coefficient,
    stack_pressure,
    wall_coefficient,
    wind_at_house,
    wind_pressure,
    wind_speed,
)

WALL = {0: 0.603, 30: 0.469, 60: 0.119, 90: -0.443, 120: -0.681, 150: -0.390, 180: -0.364}
"""Swami and Chandra 1987, wall as long as the house is deep; a public airflow model's library file has the same."""
LONG_WALL = {0: 0.603, 30: 0.480, 60: 0.183, 90: -0.340, 120: -0.632, 150: -0.370, 180: -0.452}
"""The same formula for a wall twice as long, by hand."""


@pytest.mark.parametrize("degrees", WALL)
def test_wall_coefficients(degrees: int) -> None:
    """To the last digit printed, from either side."""
    for angle in (math.radians(degrees), -math.radians(degrees)):
        assert wall_coefficient(angle) == pytest.approx(WALL[degrees], abs=6e-4)
    assert wall_coefficient(math.radians(degrees), side_ratio=2.0) == pytest.approx(LONG_WALL[degrees], abs=6e-4)
    assert (WALL[0], WALL[180]) == (WINDWARD, LEEWARD)


def test_ends_by_wall_and_wind() -> None:
    """A north wind stands on the north wall, passes east and west alike, and leaves the south wall in its lee."""
    assert end_coefficient("north", wind_from="north") == pytest.approx(0.603, abs=6e-4)
    assert end_coefficient("south", wind_from="north") == pytest.approx(-0.364, abs=6e-4)
    assert end_coefficient("east", wind_from="north") == end_coefficient("west", wind_from="north")
    assert end_coefficient("north", wind_from="northwest") == end_coefficient("west", wind_from="northwest")
    assert end_coefficient("roof", wind_from="east") < 0.0


@pytest.mark.parametrize(
    ("terrain", "height", "speed"),
    [("suburb", 5.0, 6.154), ("suburb", 2.0, 5.031), ("city", 5.0, 3.567), ("open", 5.0, 9.075)],
)
def test_wind_by_terrain(terrain: str, height: float, speed: float) -> None:
    """10 m/s reported, by ASHRAE Fundamentals 2005's power law, worked by hand (0.1 %)."""
    assert wind_at_house(10.0, terrain=terrain, height=height) == pytest.approx(speed, rel=1e-3)


def test_wind_without_terrain_is_as_stated() -> None:
    """Nothing is made less of where the job does not say what stands around the house."""
    assert wind_at_house(7.0, terrain=None) == 7.0
    assert EAVES == 5.0 and set(TERRAINS) == {"open", "suburb", "city"}


def test_wind_pressures() -> None:
    """Suburb, eaves at 5 m, 10 m/s reported: 13.70 Pa to windward, -8.27 in the lee, by hand with 0.6 U² (0.5 %)."""
    assert wind_pressure(WALL[0], speed=6.154, density=1.2) == pytest.approx(13.70, rel=5e-3)
    assert wind_pressure(WALL[180], speed=6.154, density=1.2) == pytest.approx(-8.27, rel=5e-3)
    assert wind_pressure(1.0, speed=40 * 0.44704, density=1.2041) == pytest.approx(192.5, rel=1e-3)
    assert wind_speed(13.70, coefficient=WALL[0], density=1.2) == pytest.approx(6.154, rel=5e-3)


@pytest.mark.parametrize(
    ("height", "inside", "outside", "pressure"),
    [(2.4, 21.0, -18.0, 4.317), (2.5, 20.0, -20.0, 4.664), (5.0, 20.0, -20.0, 9.329), (6.0, 20.0, -10.0, 8.077)],
)
def test_stack_pressure(height: float, inside: float, outside: float, pressure: float) -> None:
    """ASHRAE's stack equation, 0.034163 p h (1/To - 1/Ti), dry air, by hand (0.2 %): the room stands below."""

    def air(celsius: float) -> float:
        return 101_325.0 * 0.0289652 / (8.314462618 * (celsius + 273.15))

    found = stack_pressure(outdoor_density=air(outside), indoor_density=air(inside), neutral_level=height)
    assert found == pytest.approx(-pressure, rel=2e-3)
