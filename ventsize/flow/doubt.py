"""How far a calculated loss may be off: the one model of doubt behind every range that is shown.

A loss is wrong for several reasons at once, and each is common to more than one piece: all elbows of one kind are of
one make, all pipe of one size of one extrusion, the whole gas of one burner. Errors of one cause add up; those of
different causes do so as chance has it (JCGM 100:2008, 5.2.2). Each cause is a range around the nominal value, in which
the truth lies below as likely as above it, evenly on either side.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple

from ventsize.flow import friction
from ventsize.flow.friction import LAMINAR_LIMIT, TURBULENT_LIMIT
from ventsize.jobfile.job import Uncertainty

if TYPE_CHECKING:
    from ventsize.flow.pieces import PieceFlow, SectionFlow
    from ventsize.flow.rate_flow import RunFlow
    from ventsize.run.model import Section

Cause = Literal[
    "fittings", "joints", "length", "count", "bore", "friction", "input", "excess air", "flue gas temperature"
]
CAUSES: tuple[Cause, ...] = (
    "fittings", "joints", "length", "count", "bore", "friction", "input", "excess air", "flue gas temperature"
)  # fmt: skip
LAYOUT: frozenset[Cause] = frozenset({"fittings", "joints", "length", "count"})
"""What is in doubt of a run's layout; the rest is in doubt of straight pipe in the same flow alike."""

FRICTION_LAW = 0.05  # of the friction, either way: Colebrook's equation against tests in smooth pipe (from memory)
JOINT = 0.35  # of the loss where runs meet, either way: published K of one fitting differ by 40 % (k = 2)
STIRRED = 0.9  # of the Reynolds number up to which flow is laminar; from there it may be turbulent
MISCOUNTED = 0.1  # chance that one elbow of a counted run is missing or too many (common practice, no source)
RECTANGLE = math.sqrt(3.0)  # half width of an even range over its standard deviation


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranges:
    """How far what a job states may be off, either way, evenly.

    length: of each pipe, as a share of it: reading through floors and round bends, 1 to 3 % (k = 1, from memory);
    tape: of each pipe besides [m]. input: as a share: gas pressure and heating value (common practice, no source).
    excess_air: as a fraction of the theoretical air; an analyser is good for 3 points (Swiss federal instruction 2004,
    O2 within 0.4 %). flue_temperature [K]. friction: whether the friction law, roughness and joints are in doubt.
    bore: whether it lies anywhere the pipe's standard lets it. count: whether elbows of counted runs may be miscounted.
    fittings: whether each kind of fitting lies anywhere within its band.
    """

    length: float = 0.03
    tape: float = 0.0127
    input: float = 0.05
    excess_air: float = 0.05
    flue_temperature: float = 3.0
    friction: bool = True
    bore: bool = True
    count: bool = True
    fittings: bool = True


def ranges_of(stated: Uncertainty) -> Ranges:
    """The ranges a job states, and the usual ones for what it does not."""
    keys = ("length", "tape", "input", "excess_air", "flue_temperature")
    given = {key: value for key in keys if (value := getattr(stated, key)) is not None}
    return Ranges(fittings=stated.fittings, **given)


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubts:
    """What a stream's own doubts come to.

    per_air: share by which the flow rises with excess air, per unit of it [-].
    per_kelvin: share by which the loss rises with the temperature at the appliance [1/K].
    """

    ranges: Ranges = Ranges()
    per_air: float = 0.0
    per_kelvin: float = 0.0


class Term(NamedTuple):
    """One cause of error: how far below and above the nominal loss it may bring it [Pa], none of them negative."""

    cause: Cause
    below: float
    above: float


Shared = tuple[str, ...]
"""What an error is common to: pieces with the same one are off together."""


_SHARPEST = 1e-30
"""Variance of an even range that nothing else blurs [Pa²]."""


def deviation(below: float, above: float) -> float:
    """Root mean square of the error of an even range on either side of the nominal value."""
    return math.sqrt((below * below + above * above) / 6.0)


def range_of(terms: Iterable[Term], *, share: float = 0.9) -> tuple[float, float]:
    """How far below and above the nominal value a share of the truths lies, alike on both sides [Pa].

    share: nine in ten in the range that a check gives. The widest cause is followed exactly, the others together as a
    normal distribution. Neither is negative.
    """
    widest, mean, spread = _put_together(terms)
    tail = (1.0 - share) / 2.0
    low, high = (_quantile(part, widest, mean, spread) for part in (tail, 1.0 - tail))
    return max(0.0, -low), max(0.0, high)


def share_within(terms: Iterable[Term], room: float) -> float:
    """The share of truths that lie no more than some room above the nominal value [-]. room: may be negative [Pa]."""
    widest, mean, spread = _put_together(terms)
    if widest.below + widest.above <= 0.0:
        return 1.0 if room >= 0.0 else 0.0
    return _share_below(room, widest, mean, spread)


def _put_together(terms: Iterable[Term]) -> tuple[Term, float, float]:
    """The widest cause, and the mean and standard deviation of the others together."""
    found = sorted(terms, key=lambda term: term.below + term.above, reverse=True) or [Term("input", 0.0, 0.0)]
    widest, others = found[0], found[1:]
    mean = math.fsum((term.above - term.below) / 4.0 for term in others)
    return widest, mean, math.sqrt(_SHARPEST + math.fsum(_variance(term) for term in others))


def _variance(term: Term) -> float:
    mean = (term.above - term.below) / 4.0
    return (term.below**2 + term.above**2) / 6.0 - mean * mean


def _quantile(part: float, widest: Term, mean: float, spread: float) -> float:
    """Where a part of the sum of an even range and a normal distribution lies below."""
    low, high = mean - widest.below - 6.0 * spread, mean + widest.above + 6.0 * spread
    for _ in range(16):
        middle = (low + high) / 2.0
        if _share_below(middle, widest, mean, spread) < part:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def _share_below(x: float, widest: Term, mean: float, spread: float) -> float:
    sides = ((-widest.below, 0.0), (0.0, widest.above))
    return 0.5 * sum(_side_below(x - mean, start, end, spread) for start, end in sides)


def _side_below(x: float, start: float, end: float, spread: float) -> float:
    """Share of an even range, blurred, that lies below x."""
    if end - start <= 1e-9 * spread:
        return _normal(x / spread)
    return spread / (end - start) * (_ramp((x - start) / spread) - _ramp((x - end) / spread))


def _ramp(z: float) -> float:
    """The integral of the normal distribution up to z."""
    return z * _normal(z) + math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi)


def _normal(z: float) -> float:
    return 0.5 * math.erfc(-z / math.sqrt(2.0))


# What is in doubt of a run


def run_terms(flow: RunFlow, doubts: Doubts) -> list[Term]:
    """Everything that may be wrong with a run's loss, buoyancy apart."""
    ranges = doubts.ranges
    pipes = [piece for piece in flow.pieces if piece.piece.is_pipe]
    fittings = [piece for piece in flow.pieces if not piece.piece.is_pipe]
    terms = list(_stream_terms(flow, pipes, doubts))
    if ranges.fittings:
        terms += _added_up(_kinds(fittings))
    terms += _added_up(found for piece in flow.pieces for found in piece_terms(piece, ranges))
    if ranges.friction:
        joints = math.fsum(abs(junction.pressure_drop) for junction in flow.junctions)
        terms.append(Term("joints", JOINT * joints, JOINT * joints))
    lengths = math.sqrt(math.fsum(length_error(piece, ranges) ** 2 for piece in pipes))
    terms.append(Term("length", lengths, lengths))
    if ranges.count and flow.run.counted:
        elbow = RECTANGLE * math.sqrt(MISCOUNTED) * most_turning(fittings)
        terms.append(Term("count", elbow, elbow))
    return terms


def _kinds(fittings: Iterable[PieceFlow]) -> Iterator[tuple[Term, Shared]]:
    """The fittings: all of one kind are as far up in their band."""
    for piece in fittings:
        loss, name = piece.pressure_drop, piece.piece.name
        yield Term("fittings", loss - piece.pressure_drop_low, piece.pressure_drop_high - loss), ("kind", name)


def _added_up(terms: Iterable[tuple[Term, Shared]]) -> list[Term]:
    """One term for each error that is common to several pieces."""
    found: dict[Shared, Term] = {}
    for term, key in terms:
        known = found.get(key)
        found[key] = term if known is None else Term(term.cause, known.below + term.below, known.above + term.above)
    return list(found.values())


def length_error(piece: PieceFlow, ranges: Ranges) -> float:
    """How far a pipe's loss may be off by its length, either way [Pa]."""
    return ranges.length * piece.pressure_drop + ranges.tape * piece.at.gradient


def most_turning(fittings: Sequence[PieceFlow]) -> float:
    """The loss of the worst elbow among fittings [Pa]."""
    return max((piece.pressure_drop for piece in fittings if piece.piece.kind == "elbow"), default=0.0)


def flow_power(at: SectionFlow) -> float:
    """The power of the flow with which friction goes: 1 laminar, some 1.75 turbulent, 2 rough [-]."""
    if at.reynolds < LAMINAR_LIMIT:
        return 1.0
    ten = 2.0 / math.log(10.0)
    inside: float = 10.0 ** (-0.5 / math.sqrt(at.friction_factor))
    step = ten * 2.51 / at.reynolds
    return 2.0 - 2.0 * step / (inside + step)


def _stream_terms(flow: RunFlow, pipes: Sequence[PieceFlow], doubts: Doubts) -> Iterable[Term]:
    straight = [(piece.pressure_drop, flow_power(piece.at)) for piece in pipes]
    local = flow.pressure_drop - math.fsum(loss for loss, _ in straight)

    def at(share: float) -> float:
        more = max(0.0, 1.0 + share)  # a job may state any range
        return abs(math.fsum(loss * (more**power - 1.0) for loss, power in [*straight, (local, 2.0)]))

    ranges = doubts.ranges
    for cause, share in (("input", ranges.input), ("excess air", doubts.per_air * ranges.excess_air)):
        yield Term(cause, at(-share), at(share))  # type: ignore[arg-type]
    warmth = abs(doubts.per_kelvin * ranges.flue_temperature * flow.pressure_drop)
    yield Term("flue gas temperature", warmth, warmth)


def piece_terms(piece: PieceFlow, ranges: Ranges) -> Iterator[tuple[Term, Shared]]:
    """What bore and friction may change of one piece's loss, each with what else it is common to.

    The loss goes with the bore to some -4.75 in straight pipe, -4 in fittings; a bore is common to pipe of one size
    and material, roughness to a material, the law of friction to all.
    """
    section, at, loss = piece.piece.section, piece.at, piece.pressure_drop
    if ranges.bore:
        power = 3.0 + flow_power(at) if piece.piece.is_pipe else 4.0
        below = bore_change(section.bore / section.size.bore_most, power, loss)
        above = bore_change(section.bore / section.size.bore_least, power, loss)
        yield Term("bore", abs(below), abs(above)), ("bore", section.material.name, section.label)
    if ranges.friction and piece.piece.is_pipe:
        less, more = roughness_shares(at, section)
        yield Term("friction", less * loss, more * loss), ("roughness", section.material.name)
        laminar, turbulent = regime_shares(at)
        law = Term("friction", (FRICTION_LAW + laminar) * loss, (FRICTION_LAW + turbulent) * loss)
        yield law, ("friction",)


def bore_change(ratio: float, power: float, loss: float) -> float:
    """By how much a loss [Pa] changes in a bore smaller by a ratio [-], where it goes with the bore to -power."""
    return loss * (math.pow(ratio, power) - 1.0)


def roughness_shares(at: SectionFlow, section: Section) -> tuple[float, float]:
    """By which share friction may be less and more, as smooth and as rough as the pipe may be [-]."""
    if at.reynolds < LAMINAR_LIMIT:  # nothing in laminar flow, and no friction where nothing flows
        return 0.0, 0.0
    factors = [
        friction.friction_factor(reynolds=at.reynolds, relative_roughness=roughness / section.bore) / at.friction_factor
        for roughness in (section.material.roughness_least, section.material.roughness_most)
    ]
    return max(0.0, 1.0 - factors[0]), max(0.0, factors[1] - 1.0)


def regime_shares(at: SectionFlow) -> tuple[float, float]:
    """By which share friction may be less and more, as turbulence comes and goes [-].

    At Re 2040 it may still be laminar; from there to 4000 the low end passes evenly to turbulent friction, within a
    tenth of the cubic of Dunlop that EPANET uses. A tenth below 2040 it may already be turbulent: flows are not known
    more nearly, and elbows stir them.
    """
    if not STIRRED * LAMINAR_LIMIT <= at.reynolds < TURBULENT_LIMIT:
        return 0.0, 0.0
    if at.reynolds < LAMINAR_LIMIT:
        stepped_up = friction.friction_factor(reynolds=LAMINAR_LIMIT * (1.0 + 1e-9), relative_roughness=0.0)
        return 0.0, stepped_up / at.friction_factor - 1.0
    turbulent = (at.reynolds - LAMINAR_LIMIT) / (TURBULENT_LIMIT - LAMINAR_LIMIT)
    return max(0.0, (1.0 - turbulent) * (1.0 - 64.0 / at.reynolds / at.friction_factor)), 0.0
