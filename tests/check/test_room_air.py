"""Air from the room comes in at the room's temperature, with the water that such air holds."""

from __future__ import annotations

import pytest

from tests import coolprop
from tests.check.jobs import checked, job, pipe

KELVIN = 273.15
ROOM, OUTDOORS = (68 - 32) / 1.8 + KELVIN, (30 - 32) / 1.8 + KELVIN


def dew_point(drawn_in_at: float, *, excess: float = 0.35) -> float:
    """Of the gas of methane, by hand: CH4 + 2 (1 + e) (O2 + 3.773 N2 and argon + w water), saturation by IAPWS-95.

    Half-saturated air of 101325 Pa holds w = ps/2 / (p - ps/2) of water per dry air.
    """
    pressure = 101_325.0
    vapour = 0.5 * coolprop.PropsSI("P", "T", drawn_in_at, "Q", 0, "Water")
    air = 2.0 * (1.0 + excess) / 0.2095
    water = 2.0 + air * vapour / (pressure - vapour)
    dry = 1.0 + air - 2.0  # carbon dioxide, and the air without the oxygen that burned
    return float(coolprop.PropsSI("T", "P", pressure * water / (water + dry), "Q", 1, "Water"))


@pytest.mark.parametrize(("piped", "at"), [(False, ROOM), (True, max(OUTDOORS, KELVIN + 0.01))])
def test_the_dew_point_goes_by_where_the_air_comes_from(piped: bool, at: float) -> None:
    """Air of 68 degF brings four times the water of air of 30 degF."""
    data = job(altitude="0 ft")
    data["appliance"][0]["fuel"] = "methane"
    data["site"]["relative_humidity"] = 0.5
    if piped:
        air = {**data["run"][0], "name": "air", "carries": "combustion air", "pieces": [pipe(10, "east")]}
        data["run"].append(air)
    (rate,) = checked(data).appliances[0].rates
    assert rate.gas.dew_point == pytest.approx(dew_point(at), abs=0.15)
    assert abs(dew_point(ROOM) - dew_point(KELVIN + 0.01)) > 0.9
