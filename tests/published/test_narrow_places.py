"""Narrow places, standing water and accuracies against published formulas."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fluids.flow_meter import C_Reader_Harris_Gallagher, dP_orifice

from ventsize.gas.constants import WATER_WEIGHT
from ventsize.studies.readings.margins import RECTANGLE
from ventsize.studies.readings.model import DISCHARGE
from ventsize.studies.readings.narrow import narrow_k, open_bore_for

BORE = 0.0520


@pytest.mark.parametrize("share", [0.3, 0.4, 0.5, 0.6, 0.7, 0.8])
def test_a_narrow_place_lies_near_a_thin_orifice(share: float) -> None:
    """Idelchik, Handbook of Hydraulic Resistance, diagram 4-15, thin sharp-edged orifice in a pipe (from memory).

    K = (1 - f + 0.707 (1 - f)^0.5)^2 / f^2 is an upper bound for a short narrow place of some thickness, from which
    the bore left open follows within 16 %.
    """
    area = share**2
    orifice = (1.0 - area + 0.707 * math.sqrt(1.0 - area)) ** 2 / area**2
    ours = narrow_k(open_bore=share * BORE, bore=BORE)
    assert 0.4 * orifice < ours < orifice
    assert open_bore_for(k=orifice, bore=BORE) == pytest.approx(share * BORE, rel=0.16)


def test_a_narrow_place_against_the_orifice_of_iso_5167() -> None:
    """ISO 5167-2, permanent loss of an orifice of half the bore, coefficients by `fluids`; again an upper bound."""
    velocity, density, viscosity, share = 5.0, 1.1, 1.9e-5, 0.5
    flow = density * velocity * math.pi * BORE**2 / 4.0
    hole = share * BORE
    coefficient = C_Reader_Harris_Gallagher(D=BORE, Do=hole, rho=density, mu=viscosity, m=flow, taps="flange")
    across = flow**2 * (1.0 - share**4) / (2.0 * density * (coefficient * math.pi * hole**2 / 4.0) ** 2)
    lost = dP_orifice(D=BORE, Do=hole, P1=101325.0, P2=101325.0 - across, C=coefficient)
    k = lost / (0.5 * density * velocity**2)
    assert 0.4 * k < narrow_k(open_bore=hole, bore=BORE) < k


def test_sudden_steps() -> None:
    """Borda and Carnot, (1 - f)² behind it; Crane TP-410, 0.5 (1 - f) before it; on the narrow place's velocity."""
    share = 0.5
    area = share**2
    expected = (0.5 * (1.0 - area) + (1.0 - area) ** 2) / area**2
    assert narrow_k(open_bore=share * BORE, bore=BORE) == pytest.approx(expected, rel=0.01)
    at_end = (0.5 * (1.0 - area) + 1.0) / area**2 - 1.0
    assert narrow_k(open_bore=share * BORE, bore=BORE, at_end=True) == pytest.approx(at_end, rel=0.01)
    assert narrow_k(open_bore=0.9999 * BORE, bore=BORE, at_end=True) == pytest.approx(0.0, abs=1e-3)


@pytest.mark.parametrize("at_end", [False, True])
def test_open_bore_is_the_inverse(at_end: bool) -> None:
    """From a coefficient back to the bore left open."""
    for share in (0.1, 0.35, 0.7, 0.95):
        k = narrow_k(open_bore=share * BORE, bore=BORE, at_end=at_end)
        assert open_bore_for(k=k, bore=BORE, at_end=at_end) == pytest.approx(share * BORE, rel=1e-6)


def test_an_inch_of_water_is_an_inch_of_water_column() -> None:
    """1 in of water, conventional, is 249.0889 Pa (NIST SP 811, B.8); at 20 °C it weighs two thousandths less."""
    assert pytest.approx(249.0889, rel=1e-6) == WATER_WEIGHT * 0.0254


def test_a_range_counts_as_a_rectangle() -> None:
    """JCGM 100:2008, 4.3.7: of a quantity anywhere within ± a alike, the standard uncertainty is a over root three."""
    drawn = np.random.default_rng(1).uniform(-1.0, 1.0, 200_000)
    assert float(np.std(drawn)) == pytest.approx(1.0 / RECTANGLE, rel=0.005)


def test_discharge_of_a_hole() -> None:
    """ISO 5167-2 by `fluids`: a hole small against its pipe, at a high Reynolds number, discharges 0.597 to 0.61."""
    flow = 1.1 * 20.0 * math.pi * 0.02**2 / 4.0
    coefficient = C_Reader_Harris_Gallagher(D=0.2, Do=0.02, rho=1.1, mu=1.9e-5, m=flow, taps="corner")
    assert pytest.approx(coefficient, rel=0.05) == DISCHARGE
