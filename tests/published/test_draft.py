"""Draft against the chimney equation."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.studies.support import scenario
from ventsize.flow.pieces import RunWalk, draft
from ventsize.flow.stream import Stream
from ventsize.gas.combustion import burn
from ventsize.gas.mixture import DRY_AIR, Mixture, density, mixture_of
from ventsize.jobfile.job import PipePiece
from ventsize.run.build import build_run

ATMOSPHERE = 101_325.0  # Pa
INCH = 0.0254
WATER = 249.089  # Pa per inch of water


def column(gas: Mixture, *, height: float, inside: float, outside: float) -> float:
    """What the solver takes as the draft of an upright column of gas at one atmosphere [Pa]."""
    return draft(
        rise=height,
        density=density(gas, temperature=inside, pressure=ATMOSPHERE),
        outside_density=density(DRY_AIR, temperature=outside, pressure=ATMOSPHERE),
    )


def kelvin(fahrenheit: float) -> float:
    return (fahrenheit + 459.67) / 1.8


CASES = [(20.0, 140.0, 0.0), (20.0, 120.0, 32.0), (30.0, 300.0, 60.0), (10.0, 110.0, 0.0)]


@pytest.mark.parametrize(("height", "inside", "outside"), CASES)
def test_air_against_the_handbook_equation(height: float, inside: float, outside: float) -> None:
    """D = 0.2554 B H (1/T_o - 1/T_m) in w.c., B in in. Hg, H in ft, T in °R: ASHRAE, chimney chapter.

    The coefficient is from memory; the ideal gas gives 0.25507, 0.13 % lower.
    """
    equation = 0.2554 * 29.92 * height * (1 / (outside + 459.67) - 1 / (inside + 459.67)) * WATER
    found = column(DRY_AIR, height=height * 12 * INCH, inside=kelvin(inside), outside=kelvin(outside))
    assert found == pytest.approx(equation, rel=3e-3)


def test_air_against_the_equation_in_si() -> None:
    """0.03413 B H (1/T_o - 1/T_m) Pa (worksheet on ASHRAE 2016, ch. 35): 6 m, 333.15 K and 273.15 K: 13.681 Pa."""
    found = column(DRY_AIR, height=6.0, inside=333.15, outside=273.15)
    assert found == pytest.approx(13.681, rel=3e-3)


@pytest.mark.parametrize(("case", "expected"), [(CASES[0], 21.40), (CASES[1], 13.91), (CASES[2], 37.13)])
def test_flue_gas_drafts_more_than_air(case: tuple[float, float, float], expected: float) -> None:
    """Hand arithmetic with the molar mass of methane's flue gas at 30 % excess air, 28.00 g/mol, uncondensed [Pa]."""
    height, inside, outside = case
    gas = mixture_of(dict(burn(mole_fractions={"methane": 1.0}, input=1.0, excess_air=0.3).products))
    found = column(gas, height=height * 12 * INCH, inside=kelvin(inside), outside=kelvin(outside))
    assert found == pytest.approx(expected, rel=3e-3)


def test_a_walk_drafts_as_its_columns() -> None:
    """The equation of the SI worksheet holds for a run as solved: 6 m of air at 60 °C beside air at 0 °C, 13.681 Pa.

    Walked down, the same column hinders by as much.
    """
    base = scenario("simple-pass")
    typed = replace(base.job.runs[0], pieces=(PipePiece(pipe=6.0, heading="up"),))
    run = build_run(typed, catalog=base.catalog, file="job.toml")
    stream = Stream(mass_flow=0.02, mixture=DRY_AIR, temperature=333.15, pressure=ATMOSPHERE)
    outdoors = density(DRY_AIR, temperature=273.15, pressure=ATMOSPHERE)
    for forward, sign in ((True, 1.0), (False, -1.0)):
        walk = RunWalk(run, stream=stream, forward=forward, outside_density=outdoors)
        assert walk.pieces()[0].draft == pytest.approx(sign * 13.681, rel=3e-3)
