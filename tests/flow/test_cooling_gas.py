"""What a gas becomes as heat and water leave it: its balances by hand, and the way back from them."""

from __future__ import annotations

import pytest

from ventsize.flow import cooling_gas
from ventsize.flow.cooling_gas import CoolingGas
from ventsize.flow.stream import Stream
from ventsize.gas.components import OutOfRange
from ventsize.gas.condensation import dew_point
from ventsize.gas.mixture import enthalpy, mixture_of, molar_mass
from ventsize.gas.water import molar_heat_of_vaporization, saturation_pressure

PRESSURE = 95_000.0
WATER = 0.14
FLUE = mixture_of({"nitrogen": 0.73, "oxygen": 0.05, "carbon dioxide": 0.08, "water": WATER})
ENTERED = Stream(mass_flow=0.012, mixture=FLUE, temperature=340.0, pressure=PRESSURE)
GAS = CoolingGas(ENTERED)
DRY = CoolingGas(Stream(mass_flow=0.012, mixture=mixture_of({"nitrogen": 1.0}), temperature=340.0, pressure=PRESSURE))


@pytest.mark.parametrize("vapour", [WATER, 0.1, 0.01])
def test_water_that_has_left(vapour: float) -> None:
    """Of a mole that entered 0.86 is dry; what is gone is liquid, and the dew point is that of the gas which stays."""
    share = vapour / (0.86 + vapour)
    assert GAS.share(vapour) == pytest.approx(share)
    gone = (WATER - vapour) * 0.012 / molar_mass(FLUE) * 0.01801528
    assert GAS.condensate(vapour) == pytest.approx(gone, rel=1e-5, abs=1e-15)
    left = GAS.stream(360.0, vapour)
    assert left.mixture.fraction("water") == pytest.approx(share)
    assert left.mass_flow + gone == pytest.approx(0.012) and left.temperature == 360.0
    assert GAS.dew_point(vapour) == pytest.approx(dew_point(left.mixture, pressure=PRESSURE), abs=1e-6)


@pytest.mark.parametrize("temperature", [260.0, 290.0, 315.0])
def test_what_the_gas_cannot_hold_is_left_out(temperature: float) -> None:
    """Its vapour then stands at the pressure of saturation; what it holds at more than that is all there is."""
    left = GAS.stream(temperature, 0.13)
    assert left.mixture.fraction("water") * PRESSURE == pytest.approx(saturation_pressure(temperature=temperature))
    assert GAS.held(temperature, 1e-4) == 1e-4
    for hot in (330.0, 380.0):
        assert GAS.held(hot, 0.13) == 0.13


@pytest.mark.parametrize("temperature", [250.0, 298.15, 350.0])
def test_enthalpy_is_that_of_the_gas_and_its_liquid(temperature: float) -> None:
    """Of a mole that entered; liquid below vapour by its latent heat, below freezing as at the triple point."""
    whole = enthalpy(FLUE, temperature=temperature) * molar_mass(FLUE)
    assert GAS.enthalpy(temperature, WATER) == pytest.approx(whole, abs=1e-6)
    latent = molar_heat_of_vaporization(temperature=max(temperature, 273.16))
    assert GAS.enthalpy(temperature, 0.1) == pytest.approx(whole - 0.04 * latent)


@pytest.mark.parametrize("misty", [False, True])
@pytest.mark.parametrize("near", [252.0, 300.0, 380.0])
@pytest.mark.parametrize(
    ("temperature", "vapour"),
    [
        (345.0, WATER),
        (345.0, 0.05),
        (320.0, 0.1),
        (320.0, WATER),
        (295.0, 0.1),
        (300.0, 0.01),
        (262.0, 0.05),
        (262.0, 0.0),
    ],
)
def test_gas_is_found_again_by_its_enthalpy(
    temperature: float, vapour: float, near: float, misty: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Dry, partly dried and with mist, from near and far, in the few steps that Newton's method takes; also where gas
    without mist would be colder than properties are known."""
    held = GAS.held(temperature, vapour)
    monkeypatch.setattr(cooling_gas, "MOST_TRIES", 13 if held < vapour else 7)
    found = GAS.settled(GAS.enthalpy(temperature, held), vapour, near=near, misty=misty)
    assert found == pytest.approx((temperature, held), abs=1e-7)


def test_gas_without_water_is_found_too() -> None:
    """There is nothing to condense."""
    assert DRY.settled(DRY.enthalpy(290.0, 0.0), 0.0, near=340.0) == pytest.approx((290.0, 0.0), abs=1e-7)
    assert DRY.stream(290.0, 0.0).mass_flow == 0.012


@pytest.mark.parametrize("far", [-60_000.0, 150_000.0])
def test_gas_out_of_the_range_of_its_properties_is_refused(far: float) -> None:
    """Colder or hotter than its properties are known."""
    with pytest.raises(OutOfRange):
        GAS.settled(far, WATER, near=300.0)
