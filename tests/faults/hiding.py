"""Causes of random place and size."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from random import Random

from tests.faults.truth import Hidden
from ventsize.check.inputs import Inputs


def orifice(open_: float) -> float:
    """Idelchik's thin sharp-edged orifice in a pipe, on the pipe's velocity; open_: share of the area left [-].

    From memory: K = (1 - f + 0.707 (1 - f)^0.5)^2 / f^2.
    """
    return (1.0 - open_ + 0.707 * math.sqrt(1.0 - open_)) ** 2 / open_**2


def outlet(open_: float) -> float:
    """The same at the end of a pipe, where the jet's velocity is lost besides; from memory."""
    return (1.0 + 0.707 * math.sqrt(1.0 - open_)) ** 2 / open_**2


def drawn(inputs: Inputs, kind: str, chance: Random) -> Hidden | None:
    """A cause of this kind somewhere on a job; None where the job has no place for it."""
    return _DRAWN[kind](inputs, chance)


def _opened(chance: Random) -> float:
    """The share of the area that something leaves open."""
    return chance.uniform(0.3, 0.85) ** 2


def _terminal(inputs: Inputs, chance: Random) -> Hidden:
    open_ = _opened(chance)
    last = len(inputs.graph.runs["vent"].pieces) - 1
    return Hidden("terminal", piece=last, k=outlet(open_) - 1.0, what=f"{math.sqrt(open_):.0%} open")


def _inside(inputs: Inputs, chance: Random) -> Hidden:
    open_ = _opened(chance)
    elbows = [n for n, piece in enumerate(inputs.graph.runs["vent"].pieces) if piece.kind == "elbow"]
    return Hidden("inside", piece=chance.choice(elbows), k=orifice(open_), what=f"{math.sqrt(open_):.0%} open")


def _jitter(inputs: Inputs, chance: Random, by: float) -> dict[str, float]:
    """What a thing is at each rate over what it is on the whole."""
    return {rate.name: 1.0 + by * (2.0 * chance.random() - 1.0) for rate in inputs.job.appliances[0].rates}


def _water(inputs: Inputs, chance: Random) -> Hidden | None:
    """A puddle, which narrows the pipe, three times out of four; else a bore closed by the difference of two levels."""
    vent = inputs.graph.runs["vent"]
    pipes = [n for n, piece in enumerate(vent.pieces) if piece.is_pipe]
    level = [n for n in pipes if vent.counted or vent.pieces[n].heading not in ("up", "down")]
    if not level:
        return None
    if chance.random() < 0.75:
        deep = chance.uniform(0.45, 0.85)
        return Hidden("water", piece=chance.choice(level), k=puddle(deep), what=f"puddle {deep:.0%} of the bore")
    head, jitter = chance.uniform(30.0, 200.0), _jitter(inputs, chance, 0.05)
    return Hidden("water", piece=chance.choice(level), head=head, jitter=jitter, what=f"closed, {head:.0f} Pa")


def puddle(deep: float) -> float:
    """What water of a depth costs, as a share of the bore: gas widens again behind it (Borda and Carnot), and a tenth
    of that for its way in, which is smooth; from memory."""
    angle = 2.0 * math.acos(1.0 - 2.0 * deep)
    left = 1.0 - (angle - math.sin(angle)) / (2.0 * math.pi)
    return 1.1 * (1.0 / left - 1.0) ** 2


def _longer(inputs: Inputs, chance: Random) -> Hidden:
    """More feet than the job says in one of its pipes, or more elbows of a kind it has."""
    pieces = inputs.graph.runs["vent"].pieces
    elbows = [n for n, piece in enumerate(pieces) if piece.kind == "elbow"]
    if chance.random() < 0.4:
        more = chance.randint(1, 4)
        return Hidden("longer", piece=chance.choice(elbows), elbows=more, what=f"{more} elbows")
    feet = sum(piece.length for piece in pieces) * chance.uniform(0.25, 1.0)
    pipes = [n for n, piece in enumerate(pieces) if piece.is_pipe]
    return Hidden("longer", piece=chance.choice(pipes), feet=feet, what=f"{feet:.1f} m")


def _room(_inputs: Inputs, chance: Random) -> Hidden:
    """A house under suction: a winter stack, fans; now and then under pressure."""
    pressure = chance.uniform(8.0, 30.0) * chance.choice((-1.0, -1.0, -1.0, -1.0, 1.0))
    return Hidden("room pressure", room=pressure, what=f"{pressure:.0f} Pa")


def _wind(inputs: Inputs, chance: Random) -> Hidden:
    """On the wall of the terminal, or of the inlet."""
    pressure = chance.uniform(15.0, 60.0) * chance.choice((1.0, 1.0, -1.0))
    at_air = "air" in inputs.graph.runs and chance.random() < 0.3
    ends = (0.0, pressure) if at_air else (pressure, 0.0)
    return Hidden("wind", wind=ends, what=f"{pressure:.0f} Pa at the {'inlet' if at_air else 'terminal'}")


def _input(_inputs: Inputs, chance: Random) -> Hidden:
    share = chance.choice((chance.uniform(0.78, 0.94), chance.uniform(1.06, 1.3), chance.uniform(1.06, 1.3)))
    return Hidden("input", what=f"{share:.0%}", input=share)


def _air_pipe(inputs: Inputs, chance: Random) -> Hidden | None:
    if "air" not in inputs.graph.runs:
        return None
    open_ = _opened(chance)
    piece = chance.randrange(len(inputs.graph.runs["air"].pieces))
    return Hidden("air pipe", run="air", piece=piece, k=orifice(open_), what=f"{math.sqrt(open_):.0%} open")


def _recirculation(inputs: Inputs, chance: Random) -> Hidden | None:
    if "air" not in inputs.graph.runs:
        return None
    jitter = _jitter(inputs, chance, 0.1)
    return Hidden("recirculation", recirculated=chance.uniform(0.03, 0.3), jitter=jitter)


def _leak(inputs: Inputs, chance: Random) -> Hidden:
    pieces = inputs.graph.runs["vent"].pieces
    hole = chance.uniform(0.15, 0.8) * pieces[0].before.bore
    return Hidden("leak", piece=chance.randrange(len(pieces) - 2), hole=hole, what=f"{hole * 1000:.0f} mm")


def _switch(_inputs: Inputs, chance: Random) -> Hidden:
    if chance.random() < 0.5:
        return Hidden("switch", felt=chance.uniform(0.1, 0.9))
    return Hidden("switch", standing=chance.uniform(15.0, 150.0) * chance.choice((1.0, 1.0, -1.0)))


def _appliance(_inputs: Inputs, chance: Random) -> Hidden:
    form = chance.choice(("flow", "warmth"))
    if form == "warmth":
        return Hidden("appliance", warmth=chance.uniform(10.0, 40.0) * chance.choice((1.0, -0.4)), what="warmth")
    share = chance.choice((chance.uniform(0.78, 0.95), chance.uniform(1.05, 1.22)))
    return Hidden("appliance", what=form, **{form: share})


def _wrong_size(inputs: Inputs, chance: Random) -> Hidden:
    vent = inputs.graph.runs["vent"]
    section = vent.pieces[0].before
    sizes = sorted(section.material.sizes, key=lambda size: size.bore)
    here = sizes.index(section.size)
    near = sizes[max(0, here - 2) : here] + sizes[here + 1 : here + 2]
    size = chance.choice(near)
    pipes = [n for n, piece in enumerate(vent.pieces) if piece.is_pipe]
    if vent.counted or chance.random() < 0.3:
        part = chance.uniform(0.15, 0.95)
        return Hidden("wrong size", piece=chance.choice(pipes), size=size.nominal, part=part, what=size.label)
    first = chance.randrange(len(vent.pieces) - 1)
    last = chance.randrange(first, len(vent.pieces) - 1)
    return Hidden("wrong size", piece=first, last=last, size=size.nominal, what=size.label)


_DRAWN: dict[str, Callable[[Inputs, Random], Hidden | None]] = {
    "longer": _longer,
    "room pressure": _room,
    "wind": _wind,
    "input": _input,
    "terminal": _terminal,
    "inside": _inside,
    "water": _water,
    "wrong size": _wrong_size,
    "air pipe": _air_pipe,
    "recirculation": _recirculation,
    "leak": _leak,
    "switch": _switch,
    "appliance": _appliance,
}
KINDS = tuple(_DRAWN)
PAIRED = ("longer", "input", "terminal", "inside", "water", "air pipe", "recirculation", "switch", "appliance", "wind")
"""Kinds of which two may be at work at once."""


def two(inputs: Inputs, chance: Random) -> Hidden | None:
    """Two causes of different kinds at once; None where the job has no place for them."""
    one, other = (drawn(inputs, kind, chance) for kind in chance.sample(PAIRED, 2))
    return None if one is None or other is None else together(one, other)


def together(one: Hidden, other: Hidden) -> Hidden:
    """Both at once."""
    return replace(
        one,
        kind=f"{one.kind} + {other.kind}",
        what=f"{one.what} + {other.what}",
        recirculated=one.recirculated + other.recirculated,
        felt=one.felt * other.felt,
        standing=one.standing + other.standing,
        input=one.input * other.input,
        flow=one.flow * other.flow,
        warmth=one.warmth + other.warmth,
        room=one.room + other.room,
        wind=(one.wind[0] + other.wind[0], one.wind[1] + other.wind[1]),
        jitter={**other.jitter, **one.jitter},
        also=other,
        singles=(one, other),
    )
