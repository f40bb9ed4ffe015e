"""Heat at one place: what comes from the gas leaves the surface, and each film by its law written out."""

from __future__ import annotations

import math

import pytest

from ventsize.flow import heat
from ventsize.flow.friction import friction_factor
from ventsize.flow.heat import Around, Heat, InsideFilm, Vapour, Wall, heat_through, inside_film, outside_film
from ventsize.gas.mixture import (
    DRY_AIR,
    conductivity,
    density,
    heat_capacity,
    molar_mass,
    viscosity,
)
from ventsize.gas.water import molar_heat_of_vaporization

PRESSURE = 101_325.0
WALL = Wall(bore=0.0779, outside=0.0889, conductivity=0.17, insulated=0.1143, insulation_conductivity=0.04)
BARE = Wall(bore=0.0779, outside=0.0889, conductivity=0.17, insulated=0.0889)
WET = Vapour(share=0.14, pressure=PRESSURE, transfer=0.25)
CASES = {
    "dry": (340.0, 12.0, WALL, Around(temperature=290.0, pressure=PRESSURE), None),
    "bare": (340.0, 12.0, BARE, Around(temperature=290.0, pressure=PRESSURE), None),
    "in wind": (320.0, 12.0, BARE, Around(temperature=250.0, pressure=PRESSURE, wind=5.0), None),
    "that warms": (250.0, 9.0, WALL, Around(temperature=293.0, pressure=PRESSURE), None),
    "wet": (328.0, 12.0, BARE, Around(temperature=270.0, pressure=PRESSURE), WET),
    "wet and insulated": (327.0, 6.0, WALL, Around(temperature=250.0, pressure=80_000.0), WET),
    "dry above its dew point": (360.0, 30.0, WALL, Around(temperature=330.0, pressure=PRESSURE), WET),
    "near its surroundings": (293.01, 6.0, BARE, Around(temperature=293.0, pressure=PRESSURE), None),
    "that warms beside vapour": (280.0, 6.0, BARE, Around(temperature=300.0, pressure=PRESSURE), WET),
}


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize(("share", "guess"), [(1.0, None), (0.8, None), (1.0, 300.0), (1.0, 100.0)])
def test_what_comes_from_the_gas_leaves_the_surface(
    name: str, share: float, guess: float | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Newton's law at both films, Fourier's in cylinders between them, the heat of what condenses besides; to 2 per
    mille of what drives it, wherever the search begins, and found in a few steps."""
    monkeypatch.setattr(heat, "MOST_TRIES", 10)
    temperature, film, wall, around, vapour = CASES[name]
    found = heat_through(
        temperature=temperature, inside_film=film, law="", wall=wall, around=around, vapour=vapour,
        outside_share=share, guess=guess,
    )  # fmt: skip
    outer = share * outside_film(diameter=wall.insulated, surface=found.outside_surface, around=around)
    leaving = outer * math.pi * wall.insulated * (found.outside_surface - around.temperature)
    between = math.log(wall.outside / wall.bore) / (2 * math.pi * wall.conductivity)
    between += math.log(wall.insulated / wall.outside) / (2 * math.pi * wall.insulation_conductivity)
    near = 4e-3 * abs(found.flux)
    assert found.flux == pytest.approx(leaving, abs=near)
    assert found.inside_wall - found.outside_surface == pytest.approx(found.flux * between)
    condensing = wall.bore * math.pi * vapour.condensing(found.inside_wall) if vapour and wet(name) else 0.0
    assert found.condensing == pytest.approx(condensing)
    arriving = film * math.pi * wall.bore * (temperature - found.inside_wall)
    arriving += molar_heat_of_vaporization(temperature=temperature) * condensing
    assert found.flux == pytest.approx(arriving, abs=near)
    assert found.conductance * (temperature - around.temperature) == pytest.approx(found.flux)
    assert (found.condensing > 0.0) is wet(name)


def wet(name: str) -> bool:
    """Whether the wall of a case is wet: a gas that warms has a wall above its dew point."""
    return name.startswith("wet")


@pytest.mark.parametrize("vapour", [None, WET])
def test_gas_as_warm_as_its_surroundings_loses_nothing(vapour: Vapour | None) -> None:
    """No flux and no conductance of it, and all surfaces as warm as the gas."""
    around = Around(temperature=300.0, pressure=PRESSURE)
    found = heat_through(temperature=300.0, inside_film=9.0, law="x", wall=WALL, around=around, vapour=vapour)
    nothing = Heat(
        conductance=0.0, flux=0.0, inside_film=9.0, inside_wall=300.0, outside_surface=300.0, film="x", condensing=0.0
    )
    assert found == nothing


@pytest.mark.parametrize(("wall", "saturated"), [(303.15, 4_246.9), (283.15, 1_228.2), (273.16, 611.66)])
def test_vapour_through_gas_that_stays(wall: float, saturated: float) -> None:
    """Stefan's law with the pressures of the steam tables (IAPWS); its slope on the wall's temperature by differences,
    within 5 %; nothing on a wall above the dew point of 52.6 °C."""
    expected = 0.25 * math.log((1.0 - saturated / PRESSURE) / (1.0 - 0.14))
    assert WET.condensing(wall) == pytest.approx(expected, rel=1e-4)
    slope = (WET.condensing(wall) - WET.condensing(wall + 0.1)) / 0.1
    assert WET.steepness(wall + 0.05) == pytest.approx(slope, rel=0.05)
    assert WET.condensing(326.0) == WET.steepness(326.0) == 0.0


@pytest.mark.parametrize("wind", [0.0, 0.1, 3.0])
@pytest.mark.parametrize(("surface", "ambient"), [(310.2, 293.15), (255.0, 280.0), (300.0, 300.0)])
def test_outside_film_by_its_laws(wind: float, surface: float, ambient: float) -> None:
    """Churchill and Chu 1975 and Churchill and Bernstein 1977 as printed, and radiation; properties of air at the mean
    temperature, taken straight between tens of kelvins: 2 per mille."""
    mean, pressure, diameter = (surface + ambient) / 2.0, 90_000.0, 0.0889
    nu = viscosity(DRY_AIR, temperature=mean) / density(DRY_AIR, temperature=mean, pressure=pressure)
    k = conductivity(DRY_AIR, temperature=mean)
    prandtl = viscosity(DRY_AIR, temperature=mean) * heat_capacity(DRY_AIR, temperature=mean) / k
    rayleigh = 9.80665 * max(abs(surface - ambient), 0.01) * diameter**3 / (mean * nu**2) * prandtl
    nusselt = (0.6 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
    if wind:
        reynolds = wind * diameter / nu
        windy = 0.62 * math.sqrt(reynolds) * prandtl ** (1 / 3) / (1 + (0.4 / prandtl) ** (2 / 3)) ** 0.25
        nusselt = max(nusselt, 0.3 + windy * (1 + (reynolds / 282_000) ** (5 / 8)) ** 0.8)
    radiant = 0.9 * 5.670374e-8 * (surface**2 + ambient**2) * (surface + ambient)
    around = Around(temperature=ambient, pressure=pressure, wind=wind)
    found = outside_film(diameter=diameter, surface=surface, around=around)
    assert found == pytest.approx(nusselt * k / diameter + radiant, rel=2e-3)


@pytest.mark.parametrize("reynolds", [1_000.0, 2_299.0, 2_800.0, 3_900.0, 4_001.0, 12_000.0])
def test_inside_film_by_its_laws(reynolds: float) -> None:
    """3.66 to Re 2300, Gnielinski's equation as printed from 4000, in proportion between them (VDI G1); and beside it
    the vapour: Chilton and Colburn, h / (c Le^(2/3)), with Marrero and Mason's diffusivity at 0.9 atmospheres."""
    pressure, bore, rough, at = 0.9 * PRESSURE, 0.0779, 1e-4, 320.0
    mu, k, mass = viscosity(DRY_AIR, temperature=at), conductivity(DRY_AIR, temperature=at), molar_mass(DRY_AIR)
    capacity = heat_capacity(DRY_AIR, temperature=at)
    flow = {"mass_flow": reynolds * math.pi * bore * mu / 4.0, "pressure": pressure, "bore": bore}
    found, law = inside_film(DRY_AIR, temperature=at, relative_roughness=rough, **flow)
    prandtl, turbulent = mu * capacity / k, max(reynolds, 4_000.0)
    f = friction_factor(reynolds=turbulent, relative_roughness=rough) / 8.0
    fast = f * (turbulent - 1000.0) * prandtl / (1.0 + 12.7 * math.sqrt(f) * (prandtl ** (2 / 3) - 1.0))
    share = min(1.0, max(0.0, (reynolds - 2_300.0) / 1_700.0))
    assert found == pytest.approx(((1.0 - share) * 3.66 + share * fast) * k / bore, rel=1e-6)
    assert law == {0.0: "laminar", 1.0: "Gnielinski"}.get(round(share, 6), "between laminar and turbulent")
    film = InsideFilm(DRY_AIR, relative_roughness=rough, **flow)
    coefficient, transfer = film(at)
    assert coefficient == found and list(film.laws) == [law]
    diffusivity = 1.87e-10 * at**2.072 / 0.9
    lewis = k / (density(DRY_AIR, temperature=at, pressure=pressure) * capacity) / diffusivity
    assert transfer == pytest.approx(found / (capacity * mass * lewis ** (2 / 3)), rel=1e-4)


def test_films_lie_straight_between_tens_of_kelvins() -> None:
    """A quarter on from 320 K, and the law named is that of the nearer end: Re 2300 lies between 320 and 330 K."""
    mass_flow = 2_320.0 * math.pi * 0.0779 * viscosity(DRY_AIR, temperature=320.0) / 4.0
    film = InsideFilm(DRY_AIR, mass_flow=mass_flow, pressure=PRESSURE, bore=0.0779, relative_roughness=0.0)
    low, high = film(320.0), film(330.0)
    for part in (0.25, 0.75):
        between = [a + part * (b - a) for a, b in zip(low, high, strict=True)]
        assert film(320.0 + 10.0 * part) == pytest.approx(between, rel=1e-9)
    for part, law in ((0.25, "between laminar and turbulent"), (0.75, "laminar")):
        film.laws.clear()
        film(320.0 + 10.0 * part)
        assert list(film.laws) == [law]
