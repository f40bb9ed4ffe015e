"""Heat through a pipe against worked examples, computed references and CoolProp."""

from __future__ import annotations

import math

import pytest

from ventsize.catalog.library import load_catalog
from ventsize.flow.cooling import UNSAID, Climate, RunCooling, cool_run
from ventsize.flow.heat import (
    Around,
    InsideFilm,
    Vapour,
    Wall,
    heat_through,
    inside_film,
    outside_film,
    vapour_diffusivity,
)
from ventsize.flow.stream import Stream
from ventsize.gas.combustion import burn
from ventsize.gas.flue import flue_gas
from ventsize.gas.mixture import (
    DRY_AIR,
    Mixture,
    conductivity,
    heat_capacity,
    humid_air,
    mixture_of,
    molar_mass,
    viscosity,
)
from ventsize.gas.water import latent_heat
from ventsize.run.model import Piece, Run, Section


def vent(*, temperature: float, around: float, length: float, condenses: bool = True) -> RunCooling:
    """100 kBtu/h of methane at 30 % excess air in 3 in schedule 40 plastic."""
    gas = flue_gas(
        mole_fractions={"methane": 1.0},
        input=29_307.1,
        excess_air=0.3,
        flue_temperature=temperature,
        pressure=101_325.0,
    )
    mixture = gas.mixture
    if not condenses:  # the reference is for gas whose water stays vapour: nitrogen of the same mass in its place
        mixture = mixture_of({**dict(mixture.mole_fractions), "water": 1e-9})
    material = load_catalog().pipe("pvc-40")
    size = material.size(3 * 0.0254)
    assert size is not None
    section = Section(material=material, size=size)
    pipe = Piece(name="pipe", place="pipe", before=section, after=section, length=length)
    run = Run(name="v", carries="flue gas", start="f", end="outdoors", pieces=(pipe,), counted=False, rise_known=True)
    stream = Stream(mass_flow=gas.flue_mass_flow, mixture=mixture, temperature=temperature, pressure=101_325.0)
    climate = Climate(around={UNSAID: Around(temperature=around, pressure=101_325.0)})
    return cool_run(run, stream=stream, forward=True, climate=climate)


def test_inside_film_of_a_duct() -> None:
    """Incropera and DeWitt, air duct in a crawlspace: Re 20 385, film 11.6 W/(m²·K) by Dittus and Boelter.

    Dittus and Boelter is stated within 25 %, and stands above Gnielinski, used here, for gases at this Reynolds number.
    """
    found, law = inside_film(
        DRY_AIR, mass_flow=0.050, temperature=363.0, pressure=101_325.0, bore=0.15, relative_roughness=0.0
    )
    assert law == "Gnielinski"
    assert found == pytest.approx(11.6, rel=0.15)


def test_laminar_film_is_that_of_a_wall_at_one_temperature() -> None:
    """Nusselt 3.66, developed laminar flow at one wall temperature: every heat transfer textbook."""
    bore = 0.1
    found, law = inside_film(
        DRY_AIR, mass_flow=0.001, temperature=300.0, pressure=101_325.0, bore=bore, relative_roughness=0.0
    )
    assert law == "laminar"
    assert found * bore / conductivity(DRY_AIR, temperature=300.0) == pytest.approx(3.66, rel=1e-6)


def test_film_is_continuous_from_laminar_to_turbulent() -> None:
    """Between Re 2300 and 4000 in proportion, VDI Heat Atlas G1: no step at either end."""
    bore, mu = 0.0773, viscosity(DRY_AIR, temperature=300.0)

    def film(reynolds: float) -> float:
        flow = reynolds * math.pi * bore * mu / 4
        return inside_film(
            DRY_AIR, mass_flow=flow, temperature=300.0, pressure=101_325.0, bore=bore, relative_roughness=0.0
        )[0]

    for edge in (2300.0, 4000.0):
        assert film(edge * 0.9999) == pytest.approx(film(edge * 1.0001), rel=2e-3)


def test_outside_film_and_conductance_of_a_vent() -> None:
    """Computed reference with ht: inlet of a 3 in vent at 60 °C in still air of 20 °C.

    Convection 4.44 and radiation 5.61 W/(m²·K) at a surface of 37.05 °C; 1.196 W/(m·K) in all, with a wall of
    0.17 W/(m·K) and an inside film of 11.46 W/(m²·K).
    """
    around = Around(temperature=293.15, pressure=101_325.0)
    assert outside_film(diameter=0.0889, surface=310.20, around=around) == pytest.approx(4.44 + 5.61, rel=0.01)
    wall = Wall(bore=0.07793, outside=0.0889, conductivity=0.17, insulated=0.0889)
    through = heat_through(temperature=333.15, inside_film=11.46, law="Gnielinski", wall=wall, around=around)
    assert through.conductance == pytest.approx(1.196, rel=0.01)
    assert through.outside_surface - 273.15 == pytest.approx(37.05, abs=0.15)


def test_dry_outlet_temperature_of_a_vent() -> None:
    """Computed reference, sensible heat only: 60 °C in, 30 ft, still air of 20 °C: 38.1 °C out, within 1.5 K.

    Here without its water, and with as much more gas that its heat capacity is the same.
    """
    found = vent(temperature=333.15, around=293.15, length=9.144, condenses=False)
    assert found.condensate == pytest.approx(0.0, abs=1e-12)
    assert found.outlet.temperature - 273.15 == pytest.approx(38.1, abs=1.5)


def test_wet_outlet_is_warmer_than_the_dry_one() -> None:
    """The same vent with its water: the dew point is 54 °C, and the latent heat keeps the gas above 38.1 °C."""
    assert vent(temperature=333.15, around=293.15, length=9.144).outlet.temperature > 273.15 + 38.1 + 1.5


@pytest.mark.parametrize("start", [331.15, 318.15], ids=["above its dew point", "saturated"])
def test_condensing_run_against_an_enthalpy_balance_with_coolprop(start: float) -> None:
    """Heat given off, from CoolProp's enthalpies of air-like gases, vapour and liquid, between our inlet and outlet.

    The gas never holds more vapour than CoolProp's saturation pressure lets it, and stays near that. Real-gas effects
    and 0.1 % of latent heat set the heats apart.
    """
    props = pytest.importorskip("CoolProp.CoolProp").PropsSI
    pressure = 101_325.0
    found = vent(temperature=start, around=263.15, length=12.0)
    end = found.outlet.temperature
    burnt = burn(mole_fractions={"methane": 1.0}, input=29_307.1, excess_air=0.3)
    names = {"nitrogen": "Nitrogen", "oxygen": "Oxygen", "argon": "Argon", "carbon dioxide": "CarbonDioxide"}
    flows = dict(burnt.products)
    dry = sum(flows[n] for n in names)

    def dry_heat(temperature: float) -> float:
        return sum(flows[n] * props("Hmolar", "T", temperature, "P", 1000.0, fluid) for n, fluid in names.items())

    def vapour(stream: Stream) -> float:
        share = stream.mixture.fraction("water")
        return dry * share / (1.0 - share)

    before, after = vapour(found.inlet), vapour(found.outlet)
    saturated = props("P", "T", end, "Q", 1, "Water")
    most = dry * saturated / (pressure - saturated)
    assert 0.9 * most < after < 1.002 * most
    heat = (
        dry_heat(start) - dry_heat(end)
        + before * props("Hmolar", "T", start, "P", 1000.0, "Water")
        - after * props("Hmolar", "T", end, "P", 500.0, "Water")
        - (before - after) * props("Hmolar", "T", end, "Q", 0, "Water")
    )  # fmt: skip
    assert found.condensate == pytest.approx((before - after) * 0.0180153, rel=5e-3)
    assert found.heat == pytest.approx(heat, rel=5e-3)


def beside_wall(air: Mixture, temperature: float) -> tuple[float, Vapour]:
    """The film in a 2 in pipe through which 10 g/s of air pass, and the vapour in it."""
    film = InsideFilm(air, mass_flow=0.01, pressure=101_325.0, bore=0.0525, relative_roughness=0.0)
    coefficient, transfer = film(temperature)
    return coefficient, Vapour(share=air.fraction("water"), pressure=101_325.0, transfer=transfer)


def test_wet_wall_takes_what_the_enthalpy_potential_gives() -> None:
    """Heat to a wet wall from saturated air: q = h/c (i - i_w), ASHRAE Fundamentals, mass transfer (from memory).

    Enthalpies of moist air by CoolProp (ASHRAE RP-1485). The formula takes a Lewis number of one where that of vapour
    in air is 0.85, which to the power of 2/3 makes the vapour's part a tenth more; within 15 %.
    """
    humid = pytest.importorskip("CoolProp.CoolProp").HAPropsSI
    pressure = 101_325.0
    for gas_temperature, wall in ((313.15, 303.15), (313.15, 283.15), (298.15, 278.15)):
        air = humid_air(relative_humidity=1.0, temperature=gas_temperature, pressure=pressure)
        film, beside = beside_wall(air, gas_temperature)
        latent = 0.0180153 * latent_heat(temperature=gas_temperature)
        ours = film * (gas_temperature - wall) + latent * beside.condensing(wall)
        enthalpies = [humid("H", "T", t, "P", pressure, "R", 1.0) for t in (gas_temperature, wall)]
        capacity = humid("C", "T", gas_temperature, "P", pressure, "R", 1.0)
        theirs = film / capacity * (enthalpies[0] - enthalpies[1])
        assert ours == pytest.approx(theirs, rel=0.15)
        assert ours > 2.0 * film * (gas_temperature - wall)


def test_a_wall_above_the_dew_point_stays_dry() -> None:
    """No vapour condenses there, and heat through the wall is that of the dry film."""
    air = humid_air(relative_humidity=0.3, temperature=313.15, pressure=101_325.0)
    _, beside = beside_wall(air, 313.15)
    assert beside.condensing(300.0) == 0.0
    assert beside.condensing(288.0) > 0.0


def test_diffusivity_of_vapour_in_flue_gas_as_by_cantera() -> None:
    """Marrero and Mason's fit (from memory) is for air; Cantera's kinetic theory for flue gas stands a tenth lower.

    In air at 25 °C handbooks give 0.26 cm²/s (from memory, 5 %).
    """
    assert vapour_diffusivity(temperature=298.15, pressure=101_325.0) == pytest.approx(2.6e-5, rel=0.05)
    cantera = pytest.importorskip("cantera")
    gas = cantera.Solution("gri30.yaml")
    gas.transport_model = "mixture-averaged"
    for temperature in (290.0, 320.0, 350.0):
        gas.TPX = temperature, 101_325.0, {"N2": 0.75, "O2": 0.05, "CO2": 0.09, "H2O": 0.11}
        theirs = gas.mix_diff_coeffs[gas.species_index("H2O")]
        assert vapour_diffusivity(temperature=temperature, pressure=101_325.0) == pytest.approx(theirs, rel=0.15)


def test_heat_capacity_of_the_reference_gas_is_that_of_the_table() -> None:
    """Cantera: 1085 to 1094 J/(kg·K) from 40 to 80 °C for methane at 30 % excess air, within 0.5 %."""
    burnt = burn(mole_fractions={"methane": 1.0}, input=1000.0, excess_air=0.3)
    wet = mixture_of(dict(burnt.products))
    assert heat_capacity(wet, temperature=323.15) == pytest.approx(1088.0, rel=5e-3)
    assert molar_mass(wet) == pytest.approx(0.028002, rel=1e-3)
