"""A stream of gas whose heat and water leave it on its way: what it becomes by what is left in it."""

from __future__ import annotations

from dataclasses import replace

from ventsize.flow.stream import Stream
from ventsize.gas.components import GAS_CONSTANT, OutOfRange, gas
from ventsize.gas.mixture import (
    HIGHEST_TEMPERATURE,
    LOWEST_TEMPERATURE,
    enthalpy_polynomial,
    molar_mass,
    with_water,
)
from ventsize.gas.water import (
    TRIPLE_POINT,
    molar_heat_of_vaporization,
    saturation_pressure,
    saturation_temperature,
)

SETTLED = 1e-9  # K
LATENT_FALLS = 43.0  # J/(mol·K); by which the heat of vaporization falls with temperature, for slopes only
MOST_TRIES = 60


class CoolingGas:
    """What entered, and what it is with other heat and water in it.

    Enthalpies and vapour are for each mole of what entered; the water that has left stays beside the gas in these
    balances, as liquid of its temperature.

    flow: of what entered [mol/s]; water: its vapour [-].
    """

    def __init__(self, stream: Stream) -> None:
        self.entered = stream
        self.pressure = stream.pressure
        self.flow = stream.mass_flow / molar_mass(stream.mixture)
        self.water = stream.mixture.fraction("water")
        self._molar_water = gas("water").molar_mass
        self._polynomial = enthalpy_polynomial(stream.mixture)

    def share(self, vapour: float) -> float:
        """Of vapour in the gas, by moles, when so much is left in it [-]."""
        return vapour / (1.0 - self.water + vapour)

    def condensate(self, vapour: float) -> float:
        """Water that has left the gas since it entered [kg/s]."""
        return (self.water - vapour) * self.flow * self._molar_water

    def dew_point(self, vapour: float) -> float:
        """Of the gas with so much vapour left [K]."""
        return saturation_temperature(pressure=self.share(vapour) * self.pressure)

    def held(self, temperature: float, vapour: float) -> float:
        """Of so much vapour, what the gas can hold [-]."""
        pressure = saturation_pressure(temperature=temperature)
        if pressure >= self.pressure:
            return vapour
        return min(vapour, (1.0 - self.water) * pressure / (self.pressure - pressure))

    def enthalpy(self, temperature: float, vapour: float) -> float:
        """Against 25 °C, all water vapour [J/mol]."""
        a, b, c, d, e, f = self._polynomial
        sensible = a + temperature * (b + temperature * (c + temperature * (d + temperature * (e + temperature * f))))
        return sensible - (self.water - vapour) * molar_heat_of_vaporization(temperature=max(temperature, TRIPLE_POINT))

    def settled(self, enthalpy: float, vapour: float, *, near: float, misty: bool = False) -> tuple[float, float]:
        """Temperature [K] and vapour [-] of the gas with this enthalpy and no more than this vapour.

        Vapour the gas cannot hold there becomes mist. near: a temperature to start from; misty: whether mist is
        likely there, so that it is tried first.

        Raises OutOfRange where properties are not known; ArithmeticError where nothing is found.
        """
        found = self._found(enthalpy, vapour, near, misty=misty)
        held = self.held(found, vapour)
        if misty is not (held < vapour):
            found = self._found(enthalpy, vapour, found, misty=not misty)
            held = self.held(found, vapour)
        if not LOWEST_TEMPERATURE <= found <= HIGHEST_TEMPERATURE:
            raise OutOfRange(f"gas at {found:g} K")
        return found, held

    def _found(self, wanted: float, vapour: float, here: float, *, misty: bool) -> float:
        """Newton's method, kept between bounds; the slope of the heat of vaporization is only roughly in it."""
        a, b, c, d, e, f = self._polynomial
        held = vapour
        low, high = LOWEST_TEMPERATURE - 1.0, HIGHEST_TEMPERATURE + 1.0
        for _ in range(MOST_TRIES):
            value = a + here * (b + here * (c + here * (d + here * (e + here * f))))
            slope = b + here * (2.0 * c + here * (3.0 * d + here * (4.0 * e + here * 5.0 * f)))
            if misty or vapour < self.water:
                evaporation = molar_heat_of_vaporization(temperature=max(here, TRIPLE_POINT))
                if misty:
                    held = self.held(here, vapour)
                    if held < vapour:
                        falls = held * (1.0 + held / (1.0 - self.water)) * evaporation / (GAS_CONSTANT * here * here)
                        slope += falls * evaporation
                value -= (self.water - held) * evaporation
                slope += (self.water - held) * (LATENT_FALLS if here > TRIPLE_POINT else 0.0)
            low, high = (here, high) if value < wanted else (low, here)
            change = (wanted - value) / slope
            if not low < here + change < high and abs(change) >= SETTLED:
                change = (low + high) / 2.0 - here
            here += change
            if abs(change) < SETTLED or not LOWEST_TEMPERATURE <= here <= HIGHEST_TEMPERATURE:
                return here
        raise ArithmeticError("the temperature of the cooling gas was not found")

    def stream(self, temperature: float, vapour: float) -> Stream:
        """The gas with another temperature [K] and vapour [-]; what it cannot hold is left out."""
        if vapour >= self.water:
            return replace(self.entered, temperature=temperature)
        held = self.held(temperature, vapour)
        left = with_water(self.entered.mixture, share=self.share(held))
        flow = self.flow * (1.0 - self.water + held)
        return replace(self.entered, mixture=left, mass_flow=flow * molar_mass(left), temperature=temperature)
