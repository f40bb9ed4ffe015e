"""Friction against the equations as published, worked examples of textbooks, and other programs' results.

Formulae are written out here from their papers, so that nothing of the program's own is its own witness.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from ventsize.catalog.library import load_catalog
from ventsize.flow.friction import friction_factor, pressure_gradient, regime
from ventsize.flow.pieces import section_flow
from ventsize.flow.stream import Stream
from ventsize.gas.mixture import DRY_AIR
from ventsize.run.model import Section

INCH, FOOT = 0.0254, 0.3048


def loss(*, length: float, bore: float, density: float, viscosity: float, velocity: float, roughness: float):
    """Reynolds number, friction factor, and pressure lost over a straight pipe [-], [-], [Pa]."""
    reynolds = density * velocity * bore / viscosity
    factor = friction_factor(reynolds=reynolds, relative_roughness=roughness / bore)
    gradient = pressure_gradient(friction_factor=factor, bore=bore, density=density, velocity=velocity)
    return reynolds, factor, gradient * length


def colebrook_residual(factor: float, reynolds: float, relative_roughness: float) -> float:
    """Colebrook, J. Inst. Civ. Eng. 11, 1939: both sides' difference."""
    root = math.sqrt(factor)
    return 1 / root + 2 * math.log10(relative_roughness / 3.7 + 2.51 / (reynolds * root))


@pytest.mark.parametrize("reynolds", [500, 1000, 1500, 2000])
def test_laminar_flow_follows_hagen_and_poiseuille(reynolds: float) -> None:
    """64/Re, whatever the roughness: Hagen 1839, Poiseuille 1840, any textbook of fluid mechanics."""
    assert friction_factor(reynolds=reynolds, relative_roughness=1e-3) == pytest.approx(64 / reynolds, rel=1e-9)


# Colebrook's equation solved to 1e-9 by a solver of its own (Clamond's), for the table of a design handbook.
COLEBROOK_TABLE = [
    (3_000, 0, 0.043519),
    (4_000, 0, 0.039907),
    (4_000, 1e-3, 0.040910),
    (10_000, 0, 0.030883),
    (10_000, 1e-4, 0.031037),
    (10_000, 1e-3, 0.032382),
    (20_000, 0, 0.025883),
    (20_000, 1e-4, 0.026101),
    (30_000, 1e-5, 0.023510),
    (50_000, 0, 0.020891),
    (50_000, 5e-4, 0.022565),
    (100_000, 0, 0.017990),
    (100_000, 1e-4, 0.018514),
    (100_000, 1e-3, 0.022175),
    (200_000, 1e-4, 0.016410),
    (1_000_000, 1e-3, 0.019943),
]


@pytest.mark.parametrize(("reynolds", "relative_roughness", "expected"), COLEBROOK_TABLE)
def test_friction_factor_solves_colebrook(reynolds: float, relative_roughness: float, expected: float) -> None:
    """The value solves the equation as printed in the paper, and is the tabulated one to 1e-4."""
    factor = friction_factor(reynolds=reynolds, relative_roughness=relative_roughness)
    assert factor == pytest.approx(expected, rel=1e-4)
    assert colebrook_residual(factor, reynolds, relative_roughness) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(("reynolds", "relative_roughness"), [case[:2] for case in COLEBROOK_TABLE])
def test_explicit_formulae_agree(reynolds: float, relative_roughness: float) -> None:
    """Swamee and Jain, J. Hydraul. Div. 102, 1976, and Haaland, J. Fluids Eng. 105, 1983.

    Both papers state their distance from Colebrook: 1.5 % from Re 10,000, 3 % below.
    """
    tolerance = 0.015 if reynolds >= 1e4 else 0.03
    factor = friction_factor(reynolds=reynolds, relative_roughness=relative_roughness)
    swamee_jain = 0.25 / math.log10(relative_roughness / 3.7 + 5.74 / reynolds**0.9) ** 2
    haaland = (-1.8 * math.log10((relative_roughness / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2
    assert factor == pytest.approx(swamee_jain, rel=tolerance)
    assert factor == pytest.approx(haaland, rel=tolerance)


# EPANET 2.2 in a 3 in pipe of roughness 1.5 um, its factor found back from the head loss it computed.
# It carries a cubic of its own from Re 2000 to 4000, where we take the turbulent factor.
@pytest.mark.parametrize(("reynolds", "epanet"), [(1000, 0.0640), (1900, 0.03368), (4100, 0.04026)])
def test_epanet_outside_transition(reynolds: float, epanet: float) -> None:
    """EPANET uses Swamee and Jain above Re 4000, 1.5 % from Colebrook there."""
    factor = friction_factor(reynolds=reynolds, relative_roughness=1.5e-6 / (3 * INCH))
    assert factor == pytest.approx(epanet, rel=0.02)


@pytest.mark.parametrize(("reynolds", "epanet"), [(2100, 0.03063), (2500, 0.02914), (3000, 0.03308), (3500, 0.03863)])
def test_transition_stays_on_the_safe_side(reynolds: float, epanet: float) -> None:
    """Between Re 2040 and 4000 our factor is no lower than EPANET's, and no more than 1.65 times it."""
    factor = friction_factor(reynolds=reynolds, relative_roughness=1.5e-6 / (3 * INCH))
    assert epanet <= factor <= 1.65 * epanet
    assert regime(reynolds) == "transition"


def test_cengel_example_8_4() -> None:
    """Çengel and Cimbala, Fluid Mechanics, Ex. 8-4: air at 35 °C in a plastic duct, head loss 20 m in 150 m.

    Published: D 0.267 m, f 0.0180, V 6.24 m/s, Re 100,800.
    """
    bore = 0.26726
    velocity = 0.35 / (math.pi * bore**2 / 4)
    reynolds, factor, drop = loss(
        length=150, bore=bore, density=1.145, viscosity=1.895e-5, velocity=velocity, roughness=0.0
    )
    assert velocity == pytest.approx(6.24, rel=0.005)
    assert reynolds == pytest.approx(100_800, rel=0.005)
    assert factor == pytest.approx(0.0180, rel=0.005)
    assert drop / (1.145 * 9.81) == pytest.approx(20.0, rel=0.005)


def test_white_example_6_15() -> None:
    """White, Fluid Mechanics, Ex. 6.15: air in a 9 in square duct, by its effective diameter 64/56.91 D_h.

    Published: V 44.4 ft/s, Re 239,000, f 0.0177, pressure drop 5.5 lbf/ft2 over 100 ft.
    """
    hydraulic, velocity = 0.75 * FOOT, 25 / 0.75**2 * FOOT
    kinematic, density = 1.57e-4 * FOOT**2, 0.00237 * 515.378819
    effective = 64 / 56.91 * hydraulic
    reynolds = velocity * effective / kinematic
    factor = friction_factor(reynolds=reynolds, relative_roughness=0.0003 * FOOT / effective)
    drop = 100 * FOOT * pressure_gradient(friction_factor=factor, bore=hydraulic, density=density, velocity=velocity)
    assert velocity / FOOT == pytest.approx(44.4, rel=0.005)
    assert reynolds == pytest.approx(239_000, rel=0.01)
    assert factor == pytest.approx(0.0177, rel=0.01)
    assert drop / 47.880259 == pytest.approx(5.5, rel=0.01)


def test_crane_example_7_1() -> None:
    """Crane TP-410, Ex. 7-1, smooth plastic pipe: water 30 °C, 200 L/min, bore 52.5 mm. Re 100,600, f 0.0179."""
    velocity = 0.2 / 60 / (math.pi * 0.0525**2 / 4)
    reynolds = velocity * 0.0525 / 8.007e-7
    assert reynolds == pytest.approx(100_600, rel=0.01)
    assert friction_factor(reynolds=reynolds, relative_roughness=0.0) == pytest.approx(0.0179, rel=0.01)


def test_munson_example_8_5() -> None:
    """Munson, Fundamentals of Fluid Mechanics, Ex. 8.5: air at 50 m/s in a 4 mm drawn tube, 0.1 m long.

    Answers from memory: 1.076 kPa turbulent, f 0.028 read off a chart (so 5 %); 0.179 kPa were it laminar.
    """
    reynolds, factor, drop = loss(
        length=0.1, bore=0.004, density=1.23, viscosity=1.79e-5, velocity=50.0, roughness=0.0015e-3
    )
    assert reynolds == pytest.approx(13_700, rel=0.01)
    assert factor == pytest.approx(0.028, rel=0.05)
    assert drop == pytest.approx(1076, rel=0.05)
    laminar = 0.1 * pressure_gradient(friction_factor=64 / reynolds, bore=0.004, density=1.23, velocity=50.0)
    assert laminar == pytest.approx(179, rel=0.01)


def test_crane_example_7_16() -> None:
    """Crane TP-410, Ex. 7-16: air at 65 psig, 115 °F, 100 scfm through 75 ft of 1 in schedule 40. 2.61 psi.

    Crane reads tables, and the gas expands on the way: 5 %.
    """
    bore, pressure, temperature = 1.049 * INCH, (65 + 14.696) * 6894.757, (115 + 459.67) / 1.8
    mass_flow = 100 * FOOT**3 / 60 * 101_325 / (287.05 * (60 + 459.67) / 1.8)
    density = pressure / (287.05 * temperature)
    velocity = mass_flow / density / (math.pi * bore**2 / 4)
    _, _, drop = loss(
        length=75 * FOOT,
        bore=bore,
        density=density,
        viscosity=1.93e-5,
        velocity=velocity,
        roughness=0.0018 * INCH,
    )
    assert velocity / FOOT * 60 == pytest.approx(3367, rel=0.02)
    assert drop / 6894.757 == pytest.approx(2.61, rel=0.05)


# Air at 20 °C in plastic pipe of roughness 1.5 um, bore outside less two minimum walls of ASTM D1785; computed with
# the Colebrook equation by an independent calculation. (nominal in, outside in, wall in, cfm, Re, f, Pa/m)
AIR_IN_PLASTIC = [
    (1.5, 1.900, 0.145, 10, 9_718, 0.03117, 5.9256),
    (1.5, 1.900, 0.145, 20, 19_437, 0.02614, 19.8785),
    (2, 2.375, 0.154, 10, 7_570, 0.03333, 1.8161),
    (2, 2.375, 0.154, 20, 15_139, 0.02780, 6.0590),
    (2, 2.375, 0.154, 40, 30_279, 0.02351, 20.4996),
    (3, 3.500, 0.216, 20, 10_200, 0.03075, 0.9305),
    (3, 3.500, 0.216, 40, 20_400, 0.02580, 3.1228),
    (3, 3.500, 0.216, 80, 40_799, 0.02193, 10.6189),
    (4, 4.500, 0.237, 40, 15_545, 0.02758, 0.8580),
    (4, 4.500, 0.237, 80, 31_091, 0.02333, 2.9024),
    (4, 4.500, 0.237, 160, 62_182, 0.01997, 9.9385),
    (6, 6.625, 0.280, 160, 41_277, 0.02184, 1.4012),
]


@pytest.mark.parametrize(("outside", "wall", "cfm", "re", "f", "gradient"), [case[1:] for case in AIR_IN_PLASTIC])
def test_air_in_schedule_40(outside: float, wall: float, cfm: float, re: float, f: float, gradient: float) -> None:
    """Pressure drop of air in the trade's sizes."""
    bore = (outside - 2 * wall) * INCH
    velocity = cfm * FOOT**3 / 60 / (math.pi * bore**2 / 4)
    reynolds, factor, drop = loss(
        length=1.0, bore=bore, density=1.2041, viscosity=1.8206e-5, velocity=velocity, roughness=1.5e-6
    )
    assert reynolds == pytest.approx(re, rel=0.001)
    assert factor == pytest.approx(f, rel=0.001)
    assert drop == pytest.approx(gradient, rel=0.005)


@pytest.mark.parametrize(("nominal", "outside", "wall", "cfm", "re", "f", "gradient"), AIR_IN_PLASTIC)
def test_air_in_schedule_40_as_the_solver_has_it(
    nominal: float, outside: float, wall: float, cfm: float, re: float, f: float, gradient: float
) -> None:
    """The same table from a stream in a section, its density and viscosity our own (0.5 % on the viscosity)."""
    material = load_catalog().pipe("pvc-40")
    size = material.size(nominal * INCH)
    assert size is not None
    section = Section(material=material, size=replace(size, bore=(outside - 2 * wall) * INCH))
    stream = Stream(mass_flow=1.2041 * cfm * FOOT**3 / 60, mixture=DRY_AIR, temperature=293.15, pressure=101_325.0)
    found = section_flow(section, stream)
    assert found.reynolds == pytest.approx(re, rel=0.01)
    assert found.friction_factor == pytest.approx(f, rel=0.005)
    assert found.gradient == pytest.approx(gradient, rel=0.005)


# 2018 International Fuel Gas Code, tables 402.4 (3) and (4): bore in, length ft, pressure drop in w.c., flow ft3/h.
GAS_PIPE_TABLE = [
    (2.067, 30, 6.0, 8_500),
    (1.049, 10, 6.0, 2_600),
    (2.067, 60, 3.0, 4_020),
    (1.610, 60, 3.0, 2_090),
    (4.026, 60, 3.0, 23_100),
]


@pytest.mark.parametrize(("bore_in", "length_ft", "drop_in", "flow"), GAS_PIPE_TABLE)
def test_gas_pipe_table_is_a_little_wider(bore_in: float, length_ft: float, drop_in: float, flow: float) -> None:
    """The code's own formula for low-pressure gas in steel pipe is a power law that asks up to 20 % more drop.

    Gas of relative density 0.60 at 60 °F; steel, 0.0018 in.
    """
    bore = bore_in * INCH
    velocity = flow * FOOT**3 / 3600 / (math.pi * bore**2 / 4)
    _, _, drop = loss(
        length=length_ft * FOOT,
        bore=bore,
        density=0.60 * 1.2229,
        viscosity=1.2e-5,
        velocity=velocity,
        roughness=0.0018 * INCH,
    )
    assert 0.80 <= drop / (drop_in * 249.089) <= 1.0
