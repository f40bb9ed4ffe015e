"""A stream of gas in a pipe: how much, of what, how warm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from ventsize.gas import mixture as gas
from ventsize.gas.condensation import dew_point, saturate, temperature_with_condensation
from ventsize.gas.flue import FlueGas
from ventsize.gas.mixture import Mixture


@dataclass(frozen=True, slots=True, kw_only=True)
class Stream:
    """A gas flowing.

    mass_flow: [kg/s]; temperature: [K]; pressure: absolute [Pa].
    density [kg/m³] and viscosity [Pa·s] follow from these.
    """

    mass_flow: float
    mixture: Mixture
    temperature: float
    pressure: float
    density: float = field(init=False)
    viscosity: float = field(init=False)

    def __post_init__(self) -> None:
        density = gas.density(self.mixture, temperature=self.temperature, pressure=self.pressure)
        object.__setattr__(self, "density", density)
        object.__setattr__(self, "viscosity", gas.viscosity(self.mixture, temperature=self.temperature))

    @property
    def volume_flow(self) -> float:
        """Actual volume flow [m³/s]."""
        return self.mass_flow / self.density


def flue_stream(flue: FlueGas) -> Stream:
    """Flue gas as it leaves the appliance."""
    return Stream(
        mass_flow=flue.flue_mass_flow, mixture=flue.mixture, temperature=flue.temperature, pressure=flue.pressure
    )


def mix_streams(streams: Sequence[Stream]) -> Stream:
    """What streams become where they meet: composition by mole flow, temperature by enthalpy.

    Where the mixture is below its dew point, the water that is too much for it condenses, gives its heat to the
    gas and is gone from the flow. Streams at rest do not count; with none moving, the first is returned. Pressure is
    that of the first.
    """
    moving = [stream for stream in streams if stream.mass_flow > 0.0] or list(streams[:1])
    if len(moving) == 1:
        return moving[0]
    first = moving[0]
    mass_flow = math.fsum(s.mass_flow for s in moving)
    if all(s.mixture == first.mixture and s.temperature == first.temperature for s in moving):
        return replace(first, mass_flow=mass_flow)
    mixture = gas.mix((s.mixture, s.mass_flow / gas.molar_mass(s.mixture)) for s in moving)
    carried = math.fsum(s.mass_flow * gas.enthalpy(s.mixture, temperature=s.temperature) for s in moving)
    temperature = gas.temperature_from_enthalpy(mixture, sensible=carried / mass_flow)
    if temperature >= dew_point(mixture, pressure=first.pressure):
        return Stream(mass_flow=mass_flow, mixture=mixture, temperature=temperature, pressure=first.pressure)
    molar_flow = mass_flow / gas.molar_mass(mixture)
    warmed = temperature_with_condensation(mixture, heat=carried / molar_flow, pressure=first.pressure)
    left = saturate(mixture, molar_flow=molar_flow, temperature=warmed, pressure=first.pressure)
    return Stream(mass_flow=left.mass_flow, mixture=left.mixture, temperature=warmed, pressure=first.pressure)
