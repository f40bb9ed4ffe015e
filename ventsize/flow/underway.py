"""A stream of gas on its way along a pipe: what it becomes as heat and water leave it."""

from __future__ import annotations

from dataclasses import replace

from ventsize.flow.stream import Stream
from ventsize.gas.components import gas
from ventsize.gas.mixture import Mixture, enthalpy, mixture_of, molar_mass
from ventsize.gas.water import TRIPLE_POINT, latent_heat, saturation_pressure, saturation_temperature


class Underway:
    """The gas where the walk stands: its temperature, and the vapour still in it.

    vapour: moles for each mole of what entered [-]; given: heat let out so far [W].
    """

    def __init__(self, stream: Stream) -> None:
        self._entered = stream
        self.mixture: Mixture = stream.mixture
        self.pressure = stream.pressure
        self.flow = stream.mass_flow / molar_mass(stream.mixture)
        self.temperature = stream.temperature
        self.distance = 0.0
        self.given = 0.0
        self._water = stream.mixture.fraction("water")
        self.vapour = self._water

    @property
    def share(self) -> float:
        """Of vapour in the gas, by moles [-]."""
        return self.vapour / (1.0 - self._water + self.vapour)

    @property
    def condensate(self) -> float:
        """Water that has left the gas since it entered [kg/s]."""
        return (self._water - self.vapour) * self.flow * gas("water").molar_mass

    @property
    def dew_point(self) -> float:
        """Of the gas as it is here [K]."""
        return saturation_temperature(pressure=self.share * self.pressure)

    def ahead(self, *, heat: float, water: float) -> tuple[float, float]:
        """Temperature [K] and vapour left [-] once heat [W] and water [mol/s] have gone to the wall."""
        vapour = max(0.0, self.vapour - water / self.flow)
        left = self._enthalpy(self.temperature, self.vapour) - heat / self.flow
        there = self._temperature_of(left, vapour)
        return there, self._held(there, vapour)

    def go(self, *, heat: float, water: float, length: float) -> None:
        """Walk on by a length [m], letting out heat [W] and water [mol/s]."""
        self.temperature, self.vapour = self.ahead(heat=heat, water=water)
        self.given += heat
        self.distance += length

    def stand(self, temperature: float, vapour: float) -> None:
        """Put the walk at another state of its gas."""
        self.temperature, self.vapour = temperature, vapour

    def _held(self, temperature: float, vapour: float) -> float:
        """Of so much vapour, what the gas can hold [-]."""
        pressure = saturation_pressure(temperature=temperature)
        if pressure >= self.pressure:
            return vapour
        return min(vapour, (1.0 - self._water) * pressure / (self.pressure - pressure))

    def _enthalpy(self, temperature: float, vapour: float) -> float:
        """Of a mole of what entered, its condensed water as liquid beside it [J/mol]."""
        sensible = enthalpy(self.mixture, temperature=temperature) * molar_mass(self.mixture)
        condensed = self._water - vapour
        if condensed <= 0.0:
            return sensible
        return sensible - condensed * gas("water").molar_mass * latent_heat(temperature=max(temperature, TRIPLE_POINT))

    def _temperature_of(self, wanted: float, vapour: float) -> float:
        """Newton from where the gas stands; where the slope breaks at the dew point the secant carries it over."""

        def at(temperature: float) -> float:
            return self._enthalpy(temperature, self._held(temperature, vapour))

        here = self.temperature
        value = at(here)
        slope = (at(here + 0.02) - at(here - 0.02)) / 0.04
        for _ in range(60):
            there = here + (wanted - value) / slope
            reached = at(there)
            if abs(there - here) < 1e-9:
                return there
            slope = (reached - value) / (there - here)
            here, value = there, reached
        raise ArithmeticError("the temperature of the cooling gas was not found")

    def stream(self, temperature: float | None = None, vapour: float | None = None) -> Stream:
        """The gas here, or with another temperature [K] and vapour [-] on its way."""
        if self._entered.mass_flow == 0.0:
            return self._entered
        at = self.temperature if temperature is None else temperature
        held = self.vapour if vapour is None else self._held(at, vapour)
        if held >= self._water:
            return replace(self._entered, temperature=at)
        left = mixture_of({**dict(self.mixture.mole_fractions), "water": held})
        flow = self.flow * (1.0 - self._water + held)
        return replace(self._entered, mixture=left, mass_flow=flow * molar_mass(left), temperature=at)
