"""Altitude: bounds and direction."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ventsize.gas.atmosphere import HIGHEST_ALTITUDE, HIGHEST_SITE, LOWEST_ALTITUDE, ambient_pressure
from ventsize.gas.derating import THRESHOLD, derated_inputs


@given(altitude=st.floats(LOWEST_ALTITUDE, HIGHEST_ALTITUDE - 1.0), rise=st.floats(0.5, 1.0))
def test_pressure_falls_with_altitude(altitude: float, rise: float) -> None:
    """Always."""
    assert ambient_pressure(altitude=altitude + rise) < ambient_pressure(altitude=altitude)


@pytest.mark.parametrize(("altitude", "pressure"), [(-1000.0, 113_929.0), (11_000.0, 22_700.0)])
def test_the_ends_of_the_range_are_in_it(altitude: float, pressure: float) -> None:
    """U.S. Standard Atmosphere, 1976, table I, geometric altitude (from memory, 0.01 %)."""
    assert ambient_pressure(altitude=altitude) == pytest.approx(pressure, rel=1e-4)


@pytest.mark.parametrize("altitude", [-5000.0, -1001.0, 11_001.0, 20_000.0, math.nan, math.inf])
def test_altitude_of_no_house_is_refused(altitude: float) -> None:
    """A feet figure taken for metres, for instance."""
    with pytest.raises(ValueError, match="altitude"):
        ambient_pressure(altitude=altitude)


@given(altitude=st.floats(THRESHOLD + 0.1, HIGHEST_ALTITUDE))
def test_derating_never_adds(altitude: float) -> None:
    """The stricter reading is the one of the whole altitude; neither goes below nothing."""
    derated = derated_inputs(input=1.0, altitude=altitude)
    assert derated is not None
    assert 0.0 <= derated.whole_altitude <= derated.part_above <= 1.0


def test_derating_leaves_nothing_less_than_nothing() -> None:
    """4 % for each 1000 ft of 36,000 ft would take 144 % off, or 136 % of the part above 2000 ft."""
    derated = derated_inputs(input=1.0, altitude=HIGHEST_ALTITUDE)
    assert derated is not None
    assert (derated.whole_altitude, derated.part_above) == (0.0, 0.0)


def test_the_highest_site() -> None:
    """15,000 ft, of 0.3048 m each."""
    assert pytest.approx(15_000 * 0.3048) == HIGHEST_SITE
