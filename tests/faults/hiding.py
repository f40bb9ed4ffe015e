"""Causes of random place and size, and what instruments read of them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from random import Random
from typing import Any

from tests.faults.truth import Hidden, Truth
from ventsize.check.inputs import Inputs
from ventsize.flow.solve import RateFlow, RunFlow
from ventsize.gas.combustion import gross_heat
from ventsize.studies.fan_curve import curve_through

Data = dict[str, Any]
INCH_OF_WATER = 249.089
WATER = 9806.65


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
    return {rate.name: chance.uniform(1.0 - by, 1.0 + by) for rate in inputs.job.appliances[0].rates}


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
    if one is None or other is None:
        return None
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


@dataclass(slots=True)
class Kit:
    """Readings of a job: as data, and what each would be without noise, with and without the cause.

    alone: of two causes at once, what each reading would be with either of them by itself.
    """

    readings: list[Data] = field(default_factory=list)
    faulty: list[float] = field(default_factory=list)
    sound: list[float] = field(default_factory=list)
    accuracies: list[float] = field(default_factory=list)
    alone: list[list[float]] = field(default_factory=list)

    @property
    def pressures(self) -> list[float]:
        """Those of the readings that are pressures, without noise [Pa]."""
        return [value for value, data in zip(self.faulty, self.readings, strict=True) if "pressure" in data]

    @property
    def shows(self) -> bool:
        """Whether the cause moves any reading by more than its instrument's accuracy; of two, each beside the other."""
        return all(
            any(abs(a - b) > c for a, b, c in zip(self.faulty, without, self.accuracies, strict=True))
            for without in (self.sound, *self.alone)
        )


class Instruments:
    """A manometer, an analyser and a thermometer, each with its zero."""

    def __init__(self, chance: Random) -> None:
        self._chance = chance
        self.manometer = chance.choice((0.005, 0.01, 0.01, 0.02)) * INCH_OF_WATER
        self.accuracies = {"pressure": self.manometer, "oxygen": 0.003, "carbon_dioxide": 0.003, "temperature": 2.0,
                           "speed": 0.02, "meter_seconds": 0.6}  # fmt: skip
        self._zeros = {kind: chance.uniform(-0.5, 0.5) for kind in self.accuracies}
        self._told = chance.random() < 0.7

    def read(self, kind: str, value: float) -> tuple[float, float]:
        """What is shown, and the accuracy."""
        accuracy = max(self.accuracies[kind], 0.01 * abs(value) if kind == "pressure" else 0.0)
        noisy = value + accuracy * (self._zeros[kind] + self._chance.gauss(0.0, 0.35))
        digit = {"pressure": 0.001 * INCH_OF_WATER, "temperature": 0.1, "speed": 0.01, "meter_seconds": 0.1}.get(
            kind, 0.001
        )
        return round(noisy / digit) * digit, accuracy

    def data(self, kind: str, value: float, accuracy: float) -> Data:
        """As keys of a reading."""
        if kind == "pressure":
            return {"pressure": f"{value:.4f} Pa", "accuracy": f"{accuracy:.4f} Pa"}
        if kind == "temperature":
            return {"temperature": f"{value - 273.15:.2f} degC"}
        if kind == "meter_seconds":
            return {"meter_seconds": round(value, 1), "meter_dial": "2 ft³"}
        return {kind: round(max(value, 0.0), 5)}


def taken(truth: Truth, hidden: Hidden, chance: Random, *, outdoor_told: bool) -> Kit:
    """A visit's readings: the collar at high fire always, and some of the rest."""
    inputs = truth.inputs
    rates = [rate.name for rate in inputs.job.appliances[0].rates]
    wanted = _wanted(inputs, rates, chance)
    instruments = Instruments(chance)
    kit = Kit()
    with_cause = {rate: _Seen(truth, rate, hidden) for rate in rates}
    without = {rate: _Seen(truth, rate, Hidden()) for rate in rates}
    singles = [{rate: _Seen(truth, rate, one) for rate in rates} for one in hidden.singles]
    kit.alone = [[seen[rate].value(place, kind) for place, kind, rate in wanted] for seen in singles]
    for place, kind, rate in wanted:
        real, sound = (seen[rate].value(place, kind) for seen in (with_cause, without))
        shown, accuracy = instruments.read(kind, real)
        data: Data = {"place": place, "rate": rate, **instruments.data(kind, shown, accuracy)}
        if place.startswith("after piece"):
            data["run"] = "vent"
        if place == "switch" and inputs.job.appliances[0].inducer is None:
            data["setting"] = f"{truth.setting[rate]:.2f} Pa"
        if outdoor_told:
            data["outdoor"] = f"{truth.outdoor - 273.15:.2f} degC"
        kit.readings.append(data)
        kit.faulty.append(real)
        kit.sound.append(sound)
        kit.accuracies.append(accuracy)
    return kit


def _wanted(inputs: Inputs, rates: list[str], chance: Random) -> list[tuple[str, str, str]]:
    two_pipe = "air" in inputs.graph.runs
    inducer = inputs.job.appliances[0].inducer
    odds = [
        ("collar", "pressure", 1.0, 0.75),
        ("terminal", "pressure", 0.5, 0.2),
        ("air pipe", "pressure", 0.65 if two_pipe else 0.0, 0.3 if two_pipe else 0.0),
        ("collar", chance.choice(("oxygen", "carbon_dioxide")), 0.7, 0.4),
        ("collar", "temperature", 0.65, 0.3),
        ("air pipe", "oxygen", 0.25 if two_pipe else 0.0, 0.0),
        ("switch", "pressure", 0.5, 0.3),
        ("meter", "meter_seconds", 0.25, 0.0),
        ("inducer", "speed", 0.25 if inducer is not None and inducer.adaptive else 0.0, 0.0),
    ]
    if not inputs.graph.runs["vent"].counted:
        typed = next(run for run in inputs.job.runs if run.name == "vent").pieces or ()
        odds.append((f"after piece {chance.randint(1, len(typed) - 2)}", "pressure", 0.3, 0.1))
    found = []
    for place, kind, high, low in odds:
        for rate, odd in zip(rates, (high, low), strict=False):
            if chance.random() < odd:
                found.append((place, kind, rate))
    return found


class _Seen:
    """What instruments would read at a rate, without noise."""

    def __init__(self, truth: Truth, rate: str, hidden: Hidden) -> None:
        self._truth, self._rate, self._hidden = truth, rate, hidden
        self._flow, self._real, self._gas, self._share = truth.flow(rate, hidden)

    def value(self, place: str, kind: str) -> float:
        if kind == "temperature":
            return self._gas.temperature
        if kind == "oxygen":
            fresh = 0.20946
            flue = self._gas.oxygen_dry
            return flue if place == "collar" else fresh + self._share * (flue - fresh)
        if kind == "carbon_dioxide":
            return self._gas.carbon_dioxide_dry
        if kind == "speed":
            return self._speed()
        if kind == "meter_seconds":
            return self._meter()
        return self._switch() if place == "switch" else self._pressure(place)

    def _meter(self) -> float:
        """Seconds that 2 ft³ take: gas of the fuel's heat at 60 °F and 7 in w.c. over the air's pressure."""
        appliance = self._truth.inputs.job.appliances[0]
        rate = next(one for one in appliance.rates if one.name == self._rate)
        fuel = self._truth.inputs.catalog.fuels[appliance.fuel].mole_fractions
        moles = 2.0 * 0.3048**3 * (self._truth.pressure + 7.0 * INCH_OF_WATER) / (8.314 * 288.7)
        return moles * gross_heat(fuel) * self._truth.heat / (rate.input * self._hidden.input * self._truth.fired)

    def _pressure(self, place: str) -> float:
        vent, air = self._truth.outside(self._hidden)
        if place == "collar":
            return self._flow.runs["vent"].static_pressure("furnace") + vent
        if place == "air pipe":
            return self._flow.runs["air"].static_pressure("furnace") + air
        count = len(self._truth.inputs.graph.runs["vent"].pieces)
        number = count - 2 if place == "terminal" else int(place.rpartition(" ")[2]) - 1
        for name in ("vent", "beyond"):
            run = self._flow.runs.get(name)
            found = -1 if run is None else _last(run, f"vent:{number}")
            if run is not None and found >= 0:
                return _static_after(run, found) + vent
        raise AssertionError(place)

    def _exchanger(self) -> float:
        """Across the heat exchanger: what it is with nothing wrong, with the square of the flow."""
        usual, *_ = self._truth.flow(self._rate, Hidden()) if self._hidden.kind != "none" else (self._flow,)
        here, there = self._flow.firing.flue["furnace"], usual.firing.flue["furnace"]
        ratio = (here.mass_flow / there.mass_flow) ** 2 * there.density / here.density
        described = self._truth.described
        fixed = self._fixed_usual(usual) if described is not None and not described.adaptive else 1.0
        return self._truth.drop[self._rate] * fixed * ratio

    def _fixed_usual(self, usual: RateFlow) -> float:
        """Of a fan of fixed speed: what the exchanger drops with nothing wrong, over what is stated [-]."""
        stated = self._truth.at_air(
            self._rate, Hidden(), self._truth.excess_air(self._rate) + self._truth.air[self._rate]
        )
        here, there = usual.firing.flue["furnace"], stated[0].firing.flue["furnace"]
        return (here.mass_flow / there.mass_flow) ** 2 * there.density / here.density

    def _switch(self) -> float:
        return self._exchanger() * self._hidden.felt - self._hidden.standing

    def _speed(self) -> float:
        inducer = self._truth.inputs.job.appliances[0].inducer
        assert inducer is not None
        curve = curve_through([(flow, head * self._truth.fan) for flow, head in inducer.curve])
        needed = self._exchanger() + self._truth.head(self._flow, self._hidden)
        speed = curve.speed_for(flow=self._flow.firing.flue["furnace"].volume_flow, head=needed)
        return 1.0 if speed is None else min(speed, 1.0)


def _last(run: RunFlow, place: str) -> int:
    return max((n for n, piece in enumerate(run.run.pieces) if piece.place == place), default=-1)


def _static_after(run: RunFlow, number: int) -> float:
    fallen = sum(piece.pressure_drop - piece.draft for piece in run.pieces[: number + 1])
    return run.start_pressure - fallen - run.at(run.run.pieces[number].after).dynamic_pressure
