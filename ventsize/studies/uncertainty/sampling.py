"""The samples of one run at one firing rate: what chance gives them, and what they lose.

The causes of error and their ranges are those of `flow.doubt`; here each is drawn, and the loss worked out anew.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ventsize.flow.doubt import CAUSES, FRICTION_LAW, JOINT, MISCOUNTED, STIRRED, Cause, Ranges, most_turning
from ventsize.flow.friction import LAMINAR_LIMIT, TURBULENT_LIMIT, friction_factor
from ventsize.flow.pieces import PieceFlow
from ventsize.flow.rate_flow import RunFlow
from ventsize.flow.stream import Stream
from ventsize.run.model import Section

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

TURBULENT_FACTOR = friction_factor(reynolds=LAMINAR_LIMIT * (1.0 + 1e-9), relative_roughness=0.0)
STEP_AIR, STEP_TEMPERATURE = 0.02, 2.0  # excess air [-] and temperature [K] over which the gas's slopes are taken


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What chance gave the samples of one run at one rate.

    input, air, warmth: of the firing rate and the excess air [-] and of the gas's temperature [K], how far off.
    tape, rule: of each pipe, what its length is off by, from -1 to 1 [-].
    kinds: where in its band each kind of fitting lies, from -1 at the low end over the nominal to 1 [-].
    bores: by material and nominal size, of the bore, where in its range, likewise; roughness: by material.
    law, joints: shares by which friction and the losses where runs meet are off [-]; miscounted: elbows too few.
    """

    input: Array
    air: Array
    warmth: Array
    tape: tuple[Array, ...]
    rule: tuple[Array, ...]
    kinds: dict[str, Array]
    bores: dict[tuple[str, float], Array]
    roughness: dict[str, Array]
    law: Array
    joints: Array
    miscounted: Array


def draw(chance: np.random.Generator, flow: RunFlow, ranges: Ranges, samples: int) -> Drawn:
    """The order of the draws decides what a seed gives: it is not to be changed."""

    def either_way() -> Array:
        return chance.uniform(-1.0, 1.0, samples)

    pipes = [piece for piece in flow.pieces if piece.piece.is_pipe]
    fittings = [piece for piece in flow.pieces if not piece.piece.is_pipe]
    return Drawn(
        input=either_way() * ranges.input,
        air=either_way() * ranges.excess_air,
        warmth=either_way() * ranges.flue_temperature,
        tape=tuple([either_way() for _ in pipes]),
        rule=tuple([either_way() for _ in pipes]),
        kinds={name: either_way() for name in dict.fromkeys(piece.piece.name for piece in fittings)},
        bores={key: either_way() for key in dict.fromkeys(_size(piece.piece.section) for piece in flow.pieces)},
        roughness={name: either_way() for name in dict.fromkeys(p.piece.before.material.name for p in pipes)},
        law=either_way(),
        joints=either_way() * JOINT,
        miscounted=either_way(),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Gas:
    """What flows in each sample: mass flow [kg/s], density [kg/m³], viscosity [Pa·s]."""

    mass_flow: Array
    density: Array
    viscosity: Array


def gas_as_drawn(stream: Stream, moved: Sequence[Stream], drawn: Drawn, causes: Collection[Cause]) -> Gas:
    """moved: the stream with a little more air, and a little warmer. causes: of error that are at work."""
    none = drawn.air * 0.0
    steps = (
        drawn.air / STEP_AIR if "excess air" in causes else none,
        drawn.warmth / STEP_TEMPERATURE if "flue gas temperature" in causes else none,
    )
    fired = 1.0 + (drawn.input if "input" in causes else none)
    return Gas(
        mass_flow=_nearby(stream.mass_flow, [other.mass_flow for other in moved], steps) * fired,
        density=_nearby(stream.density, [other.density for other in moved], steps),
        viscosity=_nearby(stream.viscosity, [other.viscosity for other in moved], steps),
    )


def drops_of(
    flow: RunFlow, ranges: Ranges, drawn: Drawn, moved: Sequence[Stream], *, causes: Collection[Cause] = CAUSES
) -> Array:
    """What the run loses in each sample, help and hindrance of draft left out [Pa].

    moved: the stream with a little more air, and a little warmer. causes: of error that are at work; of the others
    everything is as the job states it.
    """
    import numpy as np

    stream, gas = flow.stream, gas_as_drawn(flow.stream, moved, drawn, causes)
    dynamic = gas.mass_flow**2 / gas.density / (stream.mass_flow**2 / stream.density)
    faster = gas.mass_flow / gas.viscosity * stream.viscosity / stream.mass_flow
    narrower = _narrower(flow, drawn, ranges.bore and "bore" in causes)
    friction = _friction_of(drawn, faster, narrower, ranges.friction and "friction" in causes)
    total = np.zeros(len(drawn.air))
    pipes = [piece for piece in flow.pieces if piece.piece.is_pipe]
    for piece, tape, rule in zip(pipes, drawn.tape, drawn.rule, strict=True):
        section, length = piece.piece.before, np.full(1, piece.piece.length)
        if "length" in causes:
            length = np.maximum(0.0, length + (length * ranges.length * tape + ranges.tape * rule))
        ratio = narrower[_size(section)]
        total += friction(piece) * length / section.bore * ratio**5 * piece.at.dynamic_pressure * dynamic
    fittings = [piece for piece in flow.pieces if not piece.piece.is_pipe]
    for piece in fittings:
        k = np.full(1, piece.k)
        if ranges.fittings and "fittings" in causes:
            k = _spread_out(piece.k, piece.k_low, piece.k_high, drawn.kinds[piece.piece.name])
        total += k * piece.at.dynamic_pressure * dynamic * narrower[_size(piece.piece.section)] ** 4
    if ranges.count and flow.run.counted and "count" in causes:
        too_few = (drawn.miscounted > 1.0 - MISCOUNTED).astype(float) - (drawn.miscounted < MISCOUNTED - 1.0)
        total += too_few * most_turning(fittings) * dynamic
    joints = 1.0 + (drawn.joints if ranges.friction and "joints" in causes else 0.0)
    return np.asarray(total + sum(junction.pressure_drop for junction in flow.junctions) * dynamic * joints)


def _size(section: Section) -> tuple[str, float]:
    return section.material.name, section.nominal


def _spread_out(nominal: float, low: float, high: float, place: Array) -> Array:
    """Values as likely below the nominal as above it, evenly on either side. place: from -1 to 1 [-]."""
    import numpy as np

    return np.asarray(nominal + np.where(place < 0.0, (nominal - low) * place, (high - nominal) * place))


def _narrower(flow: RunFlow, drawn: Drawn, moved: bool) -> dict[tuple[str, float], Array]:
    """By size, the bore over the one in each sample [-]."""
    import numpy as np

    found = {}
    for piece in flow.pieces:
        section, key = piece.piece.section, _size(piece.piece.section)
        if key not in found:
            bores = np.full(1, section.bore)
            if moved:
                size = section.size
                bores = _spread_out(section.bore, size.bore_least, size.bore_most, drawn.bores[key])
            found[key] = section.bore / bores
    return found


def _friction_of(
    drawn: Drawn, faster: Array, narrower: dict[tuple[str, float], Array], moved: bool
) -> Callable[[PieceFlow], Array]:
    """The friction factor of every sample in a pipe, each flow in each section worked out once."""
    import numpy as np

    from ventsize.flow.laws import friction_factors

    known: dict[int, Array] = {}

    def friction(piece: PieceFlow) -> Array:
        at, section = piece.at, piece.piece.before
        if id(at) in known:
            return known[id(at)]
        ratio = narrower[_size(section)]
        reynolds = at.reynolds * faster * ratio
        roughness = np.full_like(reynolds, section.roughness)
        if moved:
            material = section.material
            place = drawn.roughness[material.name]
            roughness = _spread_out(material.roughness, material.roughness_least, material.roughness_most, place)
        factors = friction_factors(reynolds, roughness / section.bore * ratio)
        if moved:
            law = drawn.law * FRICTION_LAW
            factors = factors * (1.0 + law + drawn.law * _regime(reynolds, factors, drawn.law))
        known[id(at)] = factors
        return factors

    return friction


def _regime(reynolds: Array, factors: Array, place: Array) -> Array:
    """By which share friction may be less, or more, near Re 2040; as in `flow.doubt.regime_shares`.

    place: of each sample, less where it is negative [-].
    """
    import numpy as np

    turbulent = (reynolds - LAMINAR_LIMIT) / (TURBULENT_LIMIT - LAMINAR_LIMIT)
    between = (turbulent >= 0.0) & (turbulent < 1.0) & (place < 0.0)
    less = np.where(between, np.maximum(0.0, (1.0 - turbulent) * (1.0 - 64.0 / reynolds / factors)), 0.0)
    stirred = (reynolds >= STIRRED * LAMINAR_LIMIT) & (reynolds < LAMINAR_LIMIT) & (place >= 0.0)
    return np.where(stirred, TURBULENT_FACTOR / factors - 1.0, less)


def _nearby(value: float, moved: Sequence[float], steps: Sequence[Array]) -> Array:
    """A property of the gas, by its slopes."""
    changes = [(other - value) * step for other, step in zip(moved, steps, strict=True)]
    return value + changes[0] + changes[1]
