"""Pipe dimensions and properties against the standards' tables."""

from __future__ import annotations

import fluids
import pytest

from ventsize.catalog.library import load_catalog

INCH = 0.0254

# ASTM D1785 and F441 (iron pipe sizes), D1527: outside and minimum wall of schedule 40; average inside diameters as
# pipe makers' dimension tables for these standards print them (8 in from memory). All in inches.
SCHEDULE_40 = [
    (1.5, 1.900, 0.145, 1.592),
    (2, 2.375, 0.154, 2.049),
    (2.5, 2.875, 0.203, 2.445),
    (3, 3.500, 0.216, 3.042),
    (4, 4.500, 0.237, 3.998),
    (5, 5.563, 0.258, 5.017),
    (6, 6.625, 0.280, 6.031),
    (8, 8.625, 0.322, 7.942),
]


@pytest.mark.parametrize("material", ["pvc-40", "cpvc-40", "abs-40"])
@pytest.mark.parametrize(("nominal", "outside", "wall", "average_bore"), SCHEDULE_40)
def test_schedule_40(material: str, nominal: float, outside: float, wall: float, average_bore: float) -> None:
    """Outside and wall as the standard has them; the bore is the average one, to the thousandth printed."""
    size = load_catalog(user=False).pipe(material).size(nominal * INCH)
    assert size is not None
    assert size.outside / INCH == pytest.approx(outside, abs=1e-9)
    assert size.wall / INCH == pytest.approx(wall, abs=1e-9)
    assert size.bore / INCH == pytest.approx(average_bore, abs=0.0011)
    assert size.bore == pytest.approx(size.outside - 2.12 * size.wall, abs=0.0006 * INCH)


@pytest.mark.parametrize(
    ("material", "schedule"), [("pvc-40", "40D1785"), ("cpvc-40", "S40F441IPS"), ("abs-40", "40D1527")]
)
@pytest.mark.parametrize("nominal", [row[0] for row in SCHEDULE_40])
def test_same_as_the_reference_tables(material: str, schedule: str, nominal: float) -> None:
    """The tables of D1785, F441 and D1527 in the fluids library, and their bore is the largest there can be."""
    _, largest_bore, outside, wall = fluids.nearest_pipe(NPS=nominal, schedule=schedule)
    size = load_catalog(user=False).pipe(material).size(nominal * INCH)
    assert size is not None
    assert size.outside == pytest.approx(outside, abs=1e-6)
    assert size.wall == pytest.approx(wall, abs=1e-6)
    assert 0.98 * largest_bore < size.bore < largest_bore


# ASTM D1785 and D2665, least and greatest wall in mm.
@pytest.mark.parametrize(
    ("nominal", "least", "greatest"), [(2, 3.91, 4.42), (3, 5.49, 6.15), (4, 6.02, 6.73), (6, 7.11, 7.97)]
)
def test_bore_lies_within_the_wall_tolerance(nominal: float, least: float, greatest: float) -> None:
    """The wall that the bore implies is one the standard allows."""
    size = load_catalog(user=False).pipe("pvc-40").size(nominal * INCH)
    assert size is not None
    assert least <= (size.outside - size.bore) / 2 * 1000 <= greatest


@pytest.mark.parametrize(
    ("material", "roughness_mm", "tolerance"),
    [("pvc-40", 0.0015, 0.0), ("galvanized-thin", 0.15, 0.0), ("stainless-thin", 0.002, 0.0)],
)
def test_roughness_of_the_handbooks(material: str, roughness_mm: float, tolerance: float) -> None:
    """White, Fluid Mechanics, table of recommended roughness: drawn and plastic, galvanized, stainless."""
    roughness = load_catalog(user=False).pipe(material).roughness
    assert roughness * 1000 == pytest.approx(roughness_mm, rel=1e-9 + tolerance)


# Growth of 10 ft over 100 degF, inches: the expansion charts of plastic pipe (PVC 0.36 is the trade's rule).
@pytest.mark.parametrize(
    ("material", "growth"), [("pvc-40", 0.360), ("cpvc-40", 0.456), ("abs-40", 0.72), ("pp-metric", 0.996)]
)
def test_growth_with_temperature(material: str, growth: float) -> None:
    """Expansion per degree, as the charts state it for a length and a rise of temperature."""
    expansion = load_catalog(user=False).pipe(material).expansion
    assert expansion is not None
    assert expansion * (100 / 1.8) * 120 == pytest.approx(growth, rel=0.01)


# Thermoplastics tables (engineering toolbox and makers' data), Btu in/(h ft2 degF): PVC 1.1, CPVC 0.95-1.0, ABS 1.35.
@pytest.mark.parametrize(
    ("material", "low", "high"), [("pvc-40", 1.0, 1.2), ("cpvc-40", 0.95, 1.0), ("abs-40", 1.3, 1.4)]
)
def test_conductivity_of_the_handbooks(material: str, low: float, high: float) -> None:
    """Wall conductivity within what the tables give."""
    conductivity = load_catalog(user=False).pipe(material).conductivity
    assert conductivity is not None
    assert low <= conductivity * 6.93347 <= high
