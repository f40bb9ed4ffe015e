"""Conversion factors against the published ones.

Source: NIST Special Publication 811 (2008 edition), Guide for the Use of the International System of Units,
Appendix B.8. Values from memory of that table, held to the last digit printed; each also follows from the
exact foot, pound, standard gravity and International Table Btu. The fixed points of temperature are exact.
"""

from __future__ import annotations

import pytest

from ventsize.quantity import Dimension, parse

NIST_SP_811 = [
    ("1 ft", Dimension.LENGTH, 3.048e-1, 1e-12),  # exact
    ("1 in", Dimension.LENGTH, 2.54e-2, 1e-12),  # exact
    ("1 yd", Dimension.LENGTH, 9.144e-1, 1e-12),  # exact
    ("1 mi", Dimension.LENGTH, 1.609344e3, 1e-12),  # exact
    ("1 in²", Dimension.AREA, 6.4516e-4, 1e-12),  # exact
    ("1 ft²", Dimension.AREA, 9.290304e-2, 1e-12),  # exact
    ("1 ft³", Dimension.VOLUME, 2.831685e-2, 2e-7),
    ("1 gal", Dimension.VOLUME, 3.785412e-3, 2e-7),  # gallon (US)
    ("1 ft/min", Dimension.VELOCITY, 5.08e-3, 1e-12),  # exact
    ("1 ft³/min", Dimension.VOLUME_FLOW, 4.719474e-4, 2e-7),
    ("1 lb", Dimension.MASS, 4.535924e-1, 2e-7),
    ("1 lb/h", Dimension.MASS_FLOW, 1.259979e-4, 5e-7),
    ("1 lb/ft³", Dimension.DENSITY, 1.601846e1, 5e-7),
    ("1 in w.c.", Dimension.PRESSURE, 2.490889e2, 2e-7),  # inch of water, conventional
    ("1 mm H2O", Dimension.PRESSURE, 9.80665, 1e-9),  # millimeter of water, conventional
    ("1 ft w.c.", Dimension.PRESSURE, 2.989067e3, 2e-7),  # foot of water, conventional
    ("1 in Hg", Dimension.PRESSURE, 3.386389e3, 2e-7),  # inch of mercury, conventional
    ("1 mm Hg", Dimension.PRESSURE, 1.333224e2, 5e-7),  # millimeter of mercury, conventional
    ("1 psi", Dimension.PRESSURE, 6.894757e3, 2e-7),
    ("1 atm", Dimension.PRESSURE, 1.01325e5, 1e-12),  # exact
    ("1 Btu", Dimension.ENERGY, 1.055056e3, 5e-7),  # Btu (International Table)
    ("1 Btu/h", Dimension.POWER, 2.930711e-1, 5e-7),  # Btu (International Table)
    ("1 kWh", Dimension.ENERGY, 3.6e6, 1e-12),  # exact
    ("1 Btu/(h·ft·°F)", Dimension.CONDUCTIVITY, 1.730735, 5e-7),
    ("1 Btu·in/(h·ft²·°F)", Dimension.CONDUCTIVITY, 1.442279e-1, 5e-7),
    ("1 Btu/(h·ft²·°F)", Dimension.HEAT_TRANSFER, 5.678263, 5e-7),
    ("1 °F", Dimension.TEMPERATURE_DIFFERENCE, 5.555556e-1, 2e-7),
    ("1 deg", Dimension.ANGLE, 1.745329e-2, 5e-7),
]  # fmt: skip


@pytest.mark.parametrize(("text", "dimension", "factor", "tolerance"), NIST_SP_811)
def test_factor(text: str, dimension: Dimension, factor: float, tolerance: float) -> None:
    """One of each unit against NIST SP 811."""
    assert parse(text, dimension) == pytest.approx(factor, rel=tolerance)


@pytest.mark.parametrize(
    ("text", "kelvin"),
    [("0 °C", 273.15), ("32 °F", 273.15), ("212 °F", 373.15), ("-40 °F", 233.15), ("-459.67 °F", 0.0),
     ("491.67 °R", 273.15)],
)  # fmt: skip
def test_temperature_scales(text: str, kelvin: float) -> None:
    """NIST SP 811, B.8: T/K = (t/°F + 459.67)/1.8 and T/K = t/°C + 273.15."""
    assert parse(text, Dimension.TEMPERATURE) == pytest.approx(kelvin, abs=1e-10)


def test_inch_of_water_is_a_column_of_water() -> None:
    """1 in of water of 1000 kg/m3 under standard gravity 9.80665 m/s2 (CGPM 1901): 249.08891 Pa."""
    assert parse("1 in w.c.", Dimension.PRESSURE) == pytest.approx(0.0254 * 1000 * 9.80665, rel=1e-12)
