"""What an analyser reads of an appliance's flue gas."""

from __future__ import annotations

import math

from ventsize.check.appliances import surroundings
from ventsize.gas.combustion import burn
from ventsize.gas.mixture import humid_air
from ventsize.studies.readings.conditions import Burning, Conditions


class DryGas:
    """An appliance's dry flue gas at a rate, at any excess air: its products go with the air in a line."""

    def __init__(self, conditions: Conditions, appliance: str, rate: str) -> None:
        inputs = conditions.inputs
        self.burning: Burning = conditions.burning[appliance, rate]
        fuel = next(one.fuel for one in inputs.job.appliances if one.name == appliance)
        around = surroundings(inputs)
        air = humid_air(
            relative_humidity=inputs.job.site.humidity, temperature=around.outdoor, pressure=around.pressure
        )
        found = [
            dict(
                burn(
                    mole_fractions=inputs.catalog.fuels[fuel].mole_fractions,
                    input=self.burning.input,
                    excess_air=excess,
                    air=air,
                ).products
            )
            for excess in (0.0, 1.0)
        ]
        self._none, self._more = (
            {
                "oxygen": products.get("oxygen", 0.0),
                "carbon_dioxide": products.get("carbon dioxide", 0.0),
                "dry": math.fsum(amount for name, amount in products.items() if name != "water"),
            }
            for products in found
        )

    def reading(self, kind: str, excess_air: float) -> float:
        """The dry share of a gas [-]."""
        amount, dry = (self._none[k] + excess_air * (self._more[k] - self._none[k]) for k in (kind, "dry"))
        return amount / dry
