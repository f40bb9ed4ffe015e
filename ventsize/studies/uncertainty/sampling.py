"""The samples of one run at one firing rate: what chance gives them, and what they lose."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ventsize.flow.solve import RunFlow
from ventsize.flow.stream import Stream
from ventsize.studies.uncertainty.ranges import Ranges

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

STEP_AIR, STEP_TEMPERATURE = 0.02, 2.0  # excess air [-] and temperature [K] over which the gas's slopes are taken


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What chance gave the samples of one run at one rate.

    air, warmth: of the excess air [-] and of the gas's temperature [K], how far off.
    tape, rule: of each pipe, of what its length is off by, from -1 to 1 and from 0 to 1 [-].
    band: where each fitting lies in its band, from 0 to 1 [-]; empty where fittings are taken as they are.
    """

    air: Array
    warmth: Array
    tape: tuple[Array, ...]
    rule: tuple[Array, ...]
    band: tuple[Array, ...]


def draw(chance: np.random.Generator, flow: RunFlow, ranges: Ranges, samples: int) -> Drawn:
    """The order of the draws decides what a seed gives: it is not to be changed."""
    air = _either_way(chance, samples) * ranges.excess_air
    warmth = _either_way(chance, samples) * ranges.flue_temperature
    pipes = [piece for piece in flow.pieces if piece.piece.is_pipe]
    tape = tuple([_either_way(chance, samples) for _ in pipes])
    rule = tuple([chance.random(samples) for _ in pipes])
    fittings = len(flow.pieces) - len(pipes) if ranges.fittings else 0
    band = tuple([chance.random(samples) for _ in range(fittings)])
    return Drawn(air=air, warmth=warmth, tape=tape, rule=rule, band=band)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gas:
    """What flows in each sample, or one that stands for all: mass flow [kg/s], density [kg/m³], viscosity [Pa·s]."""

    mass_flow: Array
    density: Array
    viscosity: Array


def gas_as_stated(stream: Stream) -> Gas:
    import numpy as np

    return Gas(
        mass_flow=np.full(1, stream.mass_flow),
        density=np.full(1, stream.density),
        viscosity=np.full(1, stream.viscosity),
    )


def gas_as_drawn(stream: Stream, moved: Sequence[Stream], drawn: Drawn) -> Gas:
    """moved: the stream with a little more air, and a little warmer."""
    steps = (drawn.air / STEP_AIR, drawn.warmth / STEP_TEMPERATURE)
    return Gas(
        mass_flow=_nearby(stream.mass_flow, [other.mass_flow for other in moved], steps),
        density=_nearby(stream.density, [other.density for other in moved], steps),
        viscosity=_nearby(stream.viscosity, [other.viscosity for other in moved], steps),
    )


def drops_of(
    flow: RunFlow, ranges: Ranges, drawn: Drawn, gas: Gas, *, lengths: bool = True, fittings: bool = True
) -> Array:
    """What the run loses in each sample, help and hindrance of draft left out [Pa].

    lengths, fittings: whether these are off as drawn, or as the job states them.
    """
    import numpy as np

    stream = flow.stream
    total = np.full(len(drawn.air), 0.0)
    dynamic = gas.mass_flow**2 / gas.density / (stream.mass_flow**2 / stream.density)
    faster = gas.mass_flow / gas.viscosity * stream.viscosity / stream.mass_flow
    factors: dict[int, Array] = {}
    pipes = [piece for piece in flow.pieces if piece.piece.is_pipe]
    for piece, tape, rule in zip(pipes, drawn.tape, drawn.rule, strict=True):
        section, length = piece.piece.section, np.full(1, piece.piece.length)
        if id(piece.at) not in factors:
            factors[id(piece.at)] = _friction(piece.at.reynolds * faster, section.roughness / section.bore)
        if lengths:
            length = np.maximum(0.0, length + (length * ranges.length * tape + ranges.tape * (2.0 * rule - 1.0)))
        total = total + factors[id(piece.at)] * length / section.bore * piece.at.dynamic_pressure * dynamic
    for place, piece in enumerate(piece for piece in flow.pieces if not piece.piece.is_pipe):
        k = np.full(1, piece.k)
        if fittings and drawn.band:
            k = piece.k_low + (piece.k_high - piece.k_low) * drawn.band[place]
        total = total + k * piece.at.dynamic_pressure * dynamic
    return np.asarray(total + sum(junction.pressure_drop for junction in flow.junctions) * dynamic)


def _either_way(chance: np.random.Generator, samples: int) -> Array:
    return chance.uniform(-1.0, 1.0, samples)


def _nearby(value: float, moved: Sequence[float], steps: Sequence[Array]) -> Array:
    """A property of the gas, by its slopes."""
    changes = [(other - value) * step for other, step in zip(moved, steps, strict=True)]
    return value + changes[0] + changes[1]


def _friction(reynolds: Array, relative_roughness: float) -> Array:
    """The friction factor of every sample, by the law of `friction`."""
    import numpy as np

    from ventsize.flow.laws import friction_factors

    return friction_factors(reynolds, np.full_like(reynolds, relative_roughness))
