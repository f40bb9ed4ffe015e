"""How fast the gas of a run is, and whether the calculation holds for it: it takes gas as one density in each piece."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ventsize.flow.rate_flow import RunFlow
from ventsize.flow.stream import Stream
from ventsize.gas.components import GAS_CONSTANT
from ventsize.gas.mixture import heat_capacity, molar_mass

MOST_MACH = 0.3
"""Above it gas is not to be taken as of one density [-]. Common practice: density is then 4.4 % off."""
MOST_LOSS = 0.1
"""Of the absolute pressure; with more loss the density changes too much along the pipe [-]. Source: Crane TP-410."""
FAST = 15.0
"""A vent is hardly ever made for more [m/s]. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Envelope:
    """Where a run's flow stands to the limits of the calculation.

    velocity: the highest in the run [m/s]; piece: its number in the run's list, from 0.
    mach: there [-]. loss: of the run, over the absolute pressure [-].
    """

    velocity: float
    piece: int
    mach: float
    loss: float

    @property
    def too_fast(self) -> bool:
        """Whether the gas is too near the speed of sound to be figured."""
        return self.mach > MOST_MACH

    @property
    def loses_too_much(self) -> bool:
        """Whether the pressure falls too far along the run to be figured."""
        return self.loss > MOST_LOSS

    @property
    def holds(self) -> bool:
        """Whether the calculation has an answer."""
        return not (self.too_fast or self.loses_too_much)

    @property
    def fast(self) -> bool:
        """Whether the gas is faster than a vent is made for."""
        return self.velocity > FAST


def envelope(flow: RunFlow) -> Envelope:
    """Where a run's flow stands to the limits; a run at rest is within all of them."""
    velocity, piece = max(((found.at.velocity, -number) for number, found in enumerate(flow.pieces)), default=(0.0, 0))
    stream = flow.cooling.streams[-piece] if flow.cooling else flow.stream
    return Envelope(
        velocity=velocity,
        piece=-piece,
        mach=velocity / speed_of_sound(stream),
        loss=abs(flow.pressure_drop) / flow.stream.pressure,
    )


def speed_of_sound(stream: Stream) -> float:
    """In an ideal gas of this composition and temperature, √(γRT/M) [m/s]."""
    mass = molar_mass(stream.mixture)
    capacity = heat_capacity(stream.mixture, temperature=stream.temperature)
    ratio = capacity / (capacity - GAS_CONSTANT / mass)
    return math.sqrt(ratio * GAS_CONSTANT * stream.temperature / mass)
