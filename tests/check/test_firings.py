"""What appliances give at each rate: the doubts of their gas, the air around, and the combinations of rates."""

from __future__ import annotations

from copy import deepcopy
from types import SimpleNamespace
from typing import Any

import pytest

from tests.check.jobs import Data, checked, job, pipe, two_furnaces
from ventsize.check.appliances import ApplianceGas, RateGas, _combinations, _doubts
from ventsize.flow.doubt import Doubts, Ranges

END: Data = {"fitting": "terminal-open"}
DRY_AIR_OF_METHANE = 2 / 0.2095 * 28.965 / 16.043  # kg of air a kg of methane: CH4 + 2 O2; air has 20.95 % of it


def methane(fahrenheit: float, excess_air: float = 0.3, *, air: bool = False) -> Data:
    """60 ft of vent of dry air and methane at one temperature, with an air pipe where asked for."""
    data = job([pipe(60), END], flue_temperature=f"{fahrenheit} degF", excess_air=excess_air)
    data["appliance"][0]["fuel"] = "methane"
    data["site"]["relative_humidity"] = 0.0
    if air:
        data["run"].append({**data["run"][0], "name": "air", "carries": "combustion air"})
    return {**data, "cooling": False}


@pytest.mark.parametrize(("fahrenheit", "per_kelvin"), [(135, 0.0036), (110, 0.011)])
def test_how_much_more_is_lost_for_each_kelvin(fahrenheit: float, per_kelvin: float) -> None:
    """The share in the doubts is that between the exact answers a degree apart, above the dew point and below."""
    lost = [checked(methane(fahrenheit + apart)).runs[0].rates[0].flow for apart in (-0.5, 0.5)]
    assert {flow.doubts.per_kelvin for flow in lost} == {per_kelvin}
    slope = (lost[1].pressure_drop / lost[0].pressure_drop - 1.0) * 1.8
    assert slope == pytest.approx(per_kelvin, rel=0.03)


@pytest.mark.parametrize("excess_air", [0.3, 0.8])
def test_how_much_more_flows_with_more_excess_air(excess_air: float) -> None:
    """Air goes by 1 + e; of flue gas that part which is air. All of the fuel's water stays vapour at 140 degF."""
    vent, air = (check.rates[0].flow.doubts for check in checked(methane(140, excess_air, air=True)).runs)
    of_air = DRY_AIR_OF_METHANE * (1.0 + excess_air)
    assert air.per_air == pytest.approx(1.0 / (1.0 + excess_air))
    assert vent.per_air == pytest.approx(of_air / (1.0 + of_air) / (1.0 + excess_air), rel=2e-3)


@pytest.mark.parametrize("order", [1, -1])
def test_of_two_appliances_the_gas_in_most_doubt_counts(order: int) -> None:
    """One at 30 and one at 80 % of excess air, of which the second is too hot to condense: as the first by itself."""
    data = {**two_furnaces(), "cooling": False}
    alone = checked(methane(110)).runs[0].rates[0].flow.doubts
    data["site"]["relative_humidity"] = 0.0
    for appliance, (excess_air, flue) in zip(data["appliance"], ((0.3, 110), (0.8, 135))[::order], strict=True):
        appliance["fuel"] = "methane"
        appliance["rate"][0] |= {"excess_air": excess_air, "flue_temperature": f"{flue} degF"}
    both = next(rate for rate in checked(data).runs[-1].rates if None not in rate.fired.values())
    assert isinstance(both.flow.doubts, Doubts)
    assert (both.flow.doubts.per_air, both.flow.doubts.per_kelvin) == pytest.approx((alone.per_air, 0.011))


@pytest.mark.parametrize(("key", "stated"), [("outdoor", "15 degC"), ("altitude", "0 ft")])
def test_what_a_site_leaves_out_is_the_standard_atmosphere(key: str, stated: str) -> None:
    """15 degC and 101325 Pa at sea level (ISO 2533), for the draft of 20 ft and the air that burns."""
    given, left_out = (job([pipe(20, "up"), END]) for _ in "ab")
    given["site"][key] = stated
    del left_out["site"][key]
    one, other = (checked(data).runs[0].rates[0].flow for data in (given, left_out))
    assert (one.draft, one.pressure_drop) == (other.draft, other.pressure_drop)
    if key == "altitude":
        assert other.stream.pressure == pytest.approx(101_325.0, rel=1e-9)


def test_too_many_combinations_are_figured_in_part() -> None:
    """Of four furnaces with two rates: all high, all low, one lower or off beside the others' high, each alone."""
    data = two_furnaces(rates=2)
    data["run"].pop()
    for name, before, after in (("third", "J", "K"), ("fourth", "K", "L")):
        data["appliance"].append({**deepcopy(data["appliance"][0]), "name": name})
        data["run"] += [
            {**deepcopy(data["run"][0]), "name": f"from {name}", "between": [name, after]},
            {**deepcopy(data["run"][0]), "name": f"to {after}", "between": [before, after]},
        ]
    data["run"].append({**deepcopy(data["run"][0]), "name": "v", "between": ["L", "outdoors"]})
    data["joint"][0]["in_line"] = ["va", "to K"]
    data["appliance"][1]["rate"].reverse()  # in whatever order they are listed
    found = [tuple(rate.fired.values()) for rate in checked({**data, "cooling": False}).runs[0].rates]
    high, low, off = ("high",) * 4, ("low",) * 4, (None,) * 4
    others = [
        (*around[:at], rate, *around[at + 1 :])
        for around, rates in ((high, ("low", None)), (off, ("high", "low"))) for at in range(4) for rate in rates
    ]  # fmt: skip
    assert sorted(found, key=str) == sorted([high, low, *others], key=str)


@pytest.mark.parametrize("order", [1, -1])
def test_the_air_of_two_appliances_is_in_doubt_as_the_one_of_less_excess(order: int) -> None:
    """By hand: 1 of 1.3, and of 14 parts of flue gas 13 are air; at 100 % of excess air it is 1 of 2, and 20 of 21."""
    gases: Any = [
        SimpleNamespace(excess_air=0.3, air_mass_flow=13.0, flue_mass_flow=14.0, condensate=0.0),
        SimpleNamespace(excess_air=1.0, air_mass_flow=20.0, flue_mass_flow=21.0, condensate=0.0),
    ][::order]
    flue, air = _doubts(gases, Ranges())
    assert (flue.per_air, air.per_air) == pytest.approx((13 / 14 / 1.3, 1 / 1.3))
    assert (flue.per_kelvin, air.per_kelvin) == (0.0036, 0.0)


@pytest.mark.parametrize(("rates", "figured"), [(3, 63), (4, 26)])
def test_up_to_sixty_four_combinations_all_are_figured(rates: int, figured: int) -> None:
    """Of three furnaces 4 x 4 x 4 less all off are 63; with a fourth rate there are 124, of which 26 are figured.

    All high, all low, 12 with one lower or off beside the others' high, and each of the 12 rates alone.
    """
    gases: list[Any] = [SimpleNamespace(input=float(number)) for number in range(rates)]
    listed = tuple(RateGas(name=str(number), gas=gas, plate=1.0) for number, gas in enumerate(gases))
    found = _combinations(tuple(ApplianceGas(name=name, rates=listed) for name in "abc"))
    assert len(found) == figured and all(any(chosen) for chosen in found)
