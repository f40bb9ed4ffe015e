"""Losses of pipe and fittings in published worked examples and code equivalents, recomputed with the program's laws.

Each example is put together from its own inputs with the program's friction factor, velocity pressure and sums, so that
a slip in any of them (Fanning for Darcy, radius for bore, a squared velocity left out) shows.
"""

from __future__ import annotations

import math

import pytest

from ventsize.flow.friction import friction_factor, pressure_gradient

FOOT, INCH, CFM, IN_WC = 0.3048, 0.0254, 4.719474e-4, 249.089
AIR = 1.2041, 18.206e-6  # 20 °C [kg/m³], [Pa·s]


def flowing(*, flow: float, bore: float, density: float, viscosity: float) -> tuple[float, float, float]:
    """Velocity [m/s], velocity pressure [Pa] and Reynolds number [-] of a volume flow [m³/s] in a bore [m]."""
    velocity = flow / (math.pi * bore**2 / 4)
    return velocity, density * velocity**2 / 2, density * velocity * bore / viscosity


# IRC M1502.4.5.1 / IMC 504.8.4.1, equivalent feet of a 4 in dryer duct's elbows; K = f L / D in galvanized duct of
# 0.15 mm, at 150 cfm (Re 58,700) and 20.9 cfm (Re 8,200), worked by hand from Colebrook's equation.
DRYER = [("4 in radius, mitered 90", 5.0, 0.372, 0.519), ("4 in radius, mitered 45", 2.5, 0.186, 0.259),
         ("6 in radius, smooth 90", 1.75, 0.130, 0.182), ("6 in radius, smooth 45", 1.0, 0.074, 0.104),
         ("8 in radius, smooth 90", 19 / 12, 0.118, 0.164), ("10 in radius, smooth 90", 1.5, 0.112, 0.156),
         ("one sectioned elbow, a laboratory finding", 15.0, 1.12, 1.56)]  # fmt: skip


@pytest.mark.parametrize(("name", "feet", "fast", "slow"), DRYER)
@pytest.mark.parametrize(("cfm", "reynolds", "which"), [(150.0, 58_700, 0), (20.9, 8_200, 1)])
def test_code_equivalents_as_coefficients(
    name: str, feet: float, fast: float, slow: float, cfm: float, reynolds: float, which: int
) -> None:
    """Feet of duct back to a loss coefficient, 1 %; the same feet are another K in slower flow."""
    bore = 4 * INCH
    _, _, found = flowing(flow=cfm * CFM, bore=bore, density=AIR[0], viscosity=AIR[1])
    assert found == pytest.approx(reynolds, rel=0.01)
    factor = friction_factor(reynolds=reynolds, relative_roughness=0.15e-3 / bore)
    assert factor * feet * FOOT / bore == pytest.approx((fast, slow)[which], rel=0.01), name


def test_two_ducts_of_a_fan() -> None:
    """Douglas, Fluid Mechanics, 14.6: air 1.2 kg/m³; 10 m of 0.15 m with K 4 at 0.2 m³/s, and 20 m of 0.30 m with a
    transition of 20 bores at 0.8; Fanning 0.008, Darcy 0.032. 471.37 and 213.14 Pa, together 684.5; 0.1 %."""
    velocity, dynamic, _ = flowing(flow=0.2, bore=0.15, density=1.2, viscosity=1.8e-5)
    first = pressure_gradient(friction_factor=0.032, bore=0.15, density=1.2, velocity=velocity) * 10 + 4 * dynamic
    velocity, dynamic, _ = flowing(flow=0.8, bore=0.30, density=1.2, viscosity=1.8e-5)
    length = 20 + 20 * 0.30
    second = pressure_gradient(friction_factor=0.032, bore=0.30, density=1.2, velocity=velocity) * length
    assert (first, second) == pytest.approx((471.37, 213.14), rel=0.001)
    assert first + second == pytest.approx(684.5, rel=0.001)


def test_pleated_elbow() -> None:
    """McQuiston, Heating, Ventilating and Air Conditioning, 12-8 (from memory): a pleated 6 in elbow, C 0.43, 150 cfm
    of standard air (0.075 lb/ft³): 763.9 ft/min, velocity pressure 0.03638 in, 0.0156 in w.c.; 1 %."""
    density = 0.075 * 0.45359237 / FOOT**3
    velocity, dynamic, _ = flowing(flow=150 * CFM, bore=6 * INCH, density=density, viscosity=AIR[1])
    assert velocity / FOOT * 60 == pytest.approx(763.9, rel=0.001)
    assert dynamic / IN_WC == pytest.approx(0.03638, rel=0.01)
    assert 0.43 * dynamic / IN_WC == pytest.approx(0.0156, rel=0.01)


def test_a_vent_by_hand() -> None:
    """Methane, 100 kBtu/h, 30 % excess air at 50 °C (1.0560 kg/m³, 17.845 µPa·s, 12.3604 g/s) in 3 in of the largest
    bore, 77.9272 mm, 1.5 µm: 35 ft, four elbows of 0.39, the exit. V 2.4541, Re 11,317, f 0.029926, q 3.1801, 21.169 Pa
    or 56.87 ft of straight pipe; 0.2 %."""
    flow, bore = 0.0123604 / 1.0560, 0.0779272
    velocity, dynamic, reynolds = flowing(flow=flow, bore=bore, density=1.0560, viscosity=17.845e-6)
    factor = friction_factor(reynolds=reynolds, relative_roughness=1.5e-6 / bore)
    gradient = pressure_gradient(friction_factor=factor, bore=bore, density=1.0560, velocity=velocity)
    loss = gradient * 35 * FOOT + (4 * 0.39 + 1) * dynamic
    assert (velocity, reynolds, factor, dynamic) == pytest.approx((2.4541, 11_317, 0.029926, 3.1801), rel=0.001)
    assert (loss, loss / gradient / FOOT) == pytest.approx((21.169, 56.87), rel=0.002)


# EN 13384-1 roughness for plastic, 1 mm (from memory), in 80 mm at Re 1.5e4; flexible duct by ASHRAE's table, 3 in; and
# annular corrugation is no matter of roughness. Ratio to smooth plastic, by hand from Colebrook's equation.
@pytest.mark.parametrize(
    ("bore", "roughness", "factor"),
    [(0.080, 1.0e-3, 0.0442), (0.080, 1.5e-6, 0.0278), (0.0779, 0.55e-3, 0.0382), (0.0779, 0.9e-3, 0.0432),
     (0.0779, 3.0e-3, 0.0653)],
)  # fmt: skip
def test_rough_pipe(bore: float, roughness: float, factor: float) -> None:
    """Roughness makes more of the loss than any elbow: up to 2.35 times in corrugated pipe; 0.5 %."""
    found = friction_factor(reynolds=1.5e4, relative_roughness=roughness / bore)
    assert found == pytest.approx(factor, rel=0.005)
