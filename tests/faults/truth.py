"""The vent as it really is: inside the ranges of the calculation, with one hidden cause, by the full solver."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from random import Random

from scipy.optimize import brentq

from ventsize.check.appliances import appliance_gases, firings, surroundings
from ventsize.check.climate import job_climate
from ventsize.check.inputs import Inputs
from ventsize.flow.rate_flow import Firing, RateFlow, RunFlow
from ventsize.flow.solve import solve
from ventsize.flow.stream import Stream
from ventsize.gas.flue import FlueGas, flue_gas
from ventsize.gas.mixture import humid_air
from ventsize.jobfile.inducer import Inducer
from ventsize.run.model import Piece, Run, Section
from ventsize.studies.fan_curve import curve_through

LENGTH, TAPE, AIR, WARMTH, BORE = 0.03, 0.0127, 0.05, 3.0, 0.015  # the bore stands for friction too
FIRED = 0.05  # of the input, either way
FILMS = 0.2  # of the coefficients by which the gas cools, either way; of a calculation by correlations, no source
INDOORS = 3.0  # K, either way, of the house that pipes run through
BY_FIXED = 5.0  # most excess air looked for
HOLE = 0.62  # discharge of a hole


@dataclass(slots=True)
class Hidden:
    """One cause. kind: as the diagnosis names it. Others: what it does; see `drawn`.

    feet, elbows: more than the job says, at a piece [m], [-]. room: pressure of the room against outdoors [Pa]; wind:
    at the ends of vent and air pipe [Pa]. also: a second cause on the pipe, whose other numbers are in this one;
    singles: the two by themselves.
    """

    kind: str = "none"
    what: str = ""
    run: str = "vent"
    piece: int = 0
    last: int = 0
    k: float = 0.0
    head: float = 0.0
    size: float = 0.0
    part: float = 1.0
    hole: float = 0.0
    recirculated: float = 0.0
    felt: float = 1.0
    standing: float = 0.0
    input: float = 1.0
    flow: float = 1.0
    warmth: float = 0.0
    feet: float = 0.0
    elbows: int = 0
    room: float = 0.0
    wind: tuple[float, float] = (0.0, 0.0)
    jitter: dict[str, float] = field(default_factory=dict)
    also: Hidden | None = None
    singles: tuple[Hidden, ...] = ()

    @property
    def kinds(self) -> tuple[str, ...]:
        """The causes at work."""
        return tuple(self.kind.split(" + "))

    @property
    def on_the_pipe(self) -> list[Hidden]:
        """Itself, and the second one."""
        return [self, *([self.also] if self.also is not None else [])]

    def at(self, rate: str) -> float:
        """What it is at a rate over what it is on the whole."""
        return self.jitter.get(rate, 1.0)


Flow = tuple[RateFlow, Inputs, FlueGas, float]


class Truth:
    """A job as it really is, once without and once with the hidden cause."""

    def __init__(self, inputs: Inputs, chance: Random, *, outdoor_told: bool) -> None:
        self.inputs = inputs
        self._chance = chance
        around = surroundings(inputs)
        self.outdoor = around.outdoor + (0.0 if outdoor_told else chance.uniform(-12.0, 12.0))
        self.pressure = around.pressure
        alike = chance.random() < 0.8
        common = {}
        self._at: dict[tuple[str, int], float] = {}
        self._longer: dict[tuple[str, int], float] = {}
        for run in inputs.graph.runs.values():
            for number, piece in enumerate(run.pieces):
                own = chance.random()
                self._at[run.name, number] = common.setdefault(piece.name, own) if alike else own
                off = piece.length * LENGTH * chance.uniform(-1, 1) + TAPE * chance.uniform(-1, 1)
                self._longer[run.name, number] = max(0.0, piece.length + off) if piece.length else 0.0
        self._wider = 1.0 + BORE * chance.uniform(-1.0, 1.0)
        self._sections: dict[int, Section] = {}
        self._usual: dict[str, Flow] = {}
        together = chance.uniform(-1.0, 1.0)
        self.air = {r.name: AIR * self._mixed(together) for r in inputs.job.appliances[0].rates}
        self.warmth = {r.name: WARMTH * chance.uniform(-1.0, 1.0) for r in inputs.job.appliances[0].rates}
        self.fan = 1.0 + 0.03 * chance.uniform(-1.0, 1.0)
        self.switch = 1.0 + 0.05 * chance.uniform(-1.0, 1.0)
        self.room = chance.uniform(-4.0, 2.0)  # a house is seldom at the pressure of the open air
        self.wind = chance.uniform(-3.0, 3.0), chance.uniform(-3.0, 3.0)
        self.gust = chance.uniform(-3.0, 3.0)  # at the window where a hose is led out
        self.fired = 1.0 + FIRED * chance.uniform(-1.0, 1.0)
        self.heat = 1.0 + 0.04 * chance.uniform(-1.0, 1.0)
        self.films = 1.0 + FILMS * chance.uniform(-1.0, 1.0), 1.0 + FILMS * chance.uniform(-1.0, 1.0)
        self.indoors = around.indoor + INDOORS * chance.uniform(-1.0, 1.0)
        self.humidity = chance.uniform(0.1, 0.9)
        self.described = inputs.job.appliances[0].inducer
        self.inducer = self.described or _not_described(chance)
        setting = chance.uniform(120.0, 250.0)
        rates = inputs.job.appliances[0].rates
        self.setting = dict(zip([r.name for r in rates], (setting, setting * chance.uniform(0.35, 0.5)), strict=False))
        if self.described is not None:
            self.setting = {r.name: r.switch_opens or 0.0 for r in rates}
        above = {name: chance.uniform(25.0, 60.0) for name in self.setting}
        self.drop = {name: value * chance.uniform(0.95, 1.05) + above[name] for name, value in self.setting.items()}
        if self.described is not None:
            self.drop = {name: value * self.switch for name, value in self.described.switch.items()}

    def _mixed(self, together: float) -> float:
        return (together + self._chance.uniform(-1.0, 1.0)) / 2.0

    # The pipe

    def _section(self, section: Section) -> Section:
        if id(section) not in self._sections:
            size = replace(section.size, bore=section.bore * self._wider)
            self._sections[id(section)] = Section(material=section.material, size=size)
        return self._sections[id(section)]

    def _run(self, run: Run) -> Run:
        pieces = [
            replace(
                piece,
                before=self._section(piece.before),
                after=self._section(piece.after),
                length=self._longer[run.name, number],
                rise=piece.rise,
                place=f"{run.name}:{number}",
            )
            for number, piece in enumerate(run.pieces)
        ]
        return replace(run, pieces=tuple(pieces))

    def _graph(self, inputs: Inputs, firing: Firing, hidden: Hidden) -> Inputs:
        """The runs with every loss where it really lies in its band, and the cause in its place."""
        runs = {name: self._run(run) for name, run in inputs.graph.runs.items()}
        for one in hidden.on_the_pipe:
            if one.feet:
                runs[one.run] = _longer(runs[one.run], one)
        if hidden.size:
            runs[hidden.run] = _other_size(inputs, runs[hidden.run], hidden)
        plain = solve(replace(inputs.graph, runs=runs), firing)
        for name, run in runs.items():
            flow = plain.runs[name]
            runs[name] = replace(
                run, pieces=tuple(self._lossy(p, found) for p, found in zip(run.pieces, flow.pieces, strict=True))
            )
        for one in hidden.on_the_pipe:
            if one.k or one.head or one.elbows:
                self._obstruct(inputs, runs, plain.runs[one.run], one, firing.name)
        if hidden.hole:
            _puncture(runs, hidden)
        return replace(inputs, graph=replace(inputs.graph, runs=runs))

    def _lossy(self, piece: Piece, found) -> Piece:  # type: ignore[no-untyped-def]
        if piece.is_pipe:
            return piece
        name, _, number = piece.place.partition(":")
        at = self._at.get((name, int(number)), 0.5) if number else 0.5
        off = 2.0 * at - 1.0  # as likely below as above
        return replace(
            piece, k=found.k + (off * (found.k_high - found.k) if off > 0.0 else off * (found.k - found.k_low))
        )

    @staticmethod
    def _obstruct(inputs: Inputs, runs: dict[str, Run], flow: RunFlow, hidden: Hidden, rate: str) -> None:
        run = runs[hidden.run]
        number = next(n for n, one in enumerate(run.pieces) if one.place == f"{hidden.run}:{hidden.piece}")
        piece, found = run.pieces[number], flow.pieces[hidden.piece]
        if hidden.elbows:
            hidden = replace(hidden, k=hidden.elbows * (piece.k or 0.0))
        k = hidden.k + hidden.head * hidden.at(rate) / max(found.at.dynamic_pressure, 1e-9)
        if piece.is_pipe:
            more = replace(
                piece, length=0.0, rise=0.0, place="", fitting=inputs.catalog.fitting("coupling"), k=k, name="narrow"
            )
            pieces = [*run.pieces[:number], more, *run.pieces[number:]]  # in the pipe, before its far end
        else:
            changed = replace(piece, k=(piece.k or 0.0) + k)
            pieces = [*run.pieces[:number], changed, *run.pieces[number + 1 :]]
        runs[hidden.run] = replace(run, pieces=tuple(pieces))

    # The gas

    def flow(self, rate: str, hidden: Hidden) -> Flow:
        """What flows at a rate; the runs it flows in; the flue gas; and the share of the usual flow."""
        if hidden.kind != "none":
            return self._flow(rate, hidden)
        if rate not in self._usual:
            self._usual[rate] = self._flow(rate, hidden)
        return self._usual[rate]

    def _flow(self, rate: str, hidden: Hidden) -> Flow:
        inducer = self.inducer
        air = self.excess_air(rate) + self.air[rate]
        if inducer is None:
            return self.at_air(rate, hidden, (1.0 + air) * hidden.flow - 1.0)
        sound = self.at_air(rate, Hidden(), air)[0]
        usual = sound.firing.flue["furnace"]
        drop = self.drop[rate]
        curve = curve_through([(flow, head * self.fan) for flow, head in inducer.curve])
        # a fan that the job does not describe was set up on this vent: its curve goes through what it needs there
        meets = 0.0 if self.described is not None else curve.head(usual.volume_flow) - drop - self.head(sound, Hidden())

        def spare(excess_air: float) -> float:
            flow, *_ = self.at_air(rate, hidden, excess_air)
            stream = flow.firing.flue["furnace"]
            across = drop * (stream.mass_flow / usual.mass_flow) ** 2 * usual.density / stream.density
            head = curve.head(min(max(stream.volume_flow, curve.least), curve.most))
            return head - meets - across - self.head(flow, hidden)

        held = (1.0 + air) * hidden.flow - 1.0
        if inducer.adaptive and spare(held) >= 0.0:
            return self.at_air(rate, hidden, held)
        found = _root(spare, -0.6, held if inducer.adaptive else BY_FIXED)
        if not inducer.adaptive:
            found = (1.0 + found) * hidden.flow - 1.0
        return self.at_air(rate, hidden, found)

    def outside(self, hidden: Hidden) -> tuple[float, float]:
        """What a manometer that reads against the room shows more in the vent, and in the air pipe [Pa]."""
        room = self.room + hidden.room
        vent, air = (own + more for own, more in zip(self.wind, hidden.wind, strict=True))
        return vent - room, air - room

    def head(self, flow: RateFlow, hidden: Hidden) -> float:
        """What the inducer works against, the air at both ends in it; of one pipe it draws from the room."""
        vent, air = self.outside(hidden)
        return head_of(flow) + vent - (air if "air" in self.inputs.graph.runs else 0.0)

    def excess_air(self, rate: str) -> float:
        """What the job states [-]."""
        found = next(r for r in self.inputs.job.appliances[0].rates if r.name == rate)
        assert found.excess_air is not None
        return found.excess_air

    def at_air(self, rate: str, hidden: Hidden, excess_air: float) -> Flow:
        """What flows at a rate with so much more air than the fuel stated needs."""
        appliance = self.inputs.job.appliances[0]
        typed = next(r for r in appliance.rates if r.name == rate)
        share = hidden.recirculated * hidden.at(rate)
        taken = 1.0 + excess_air
        fresh = max((1.0 + excess_air) * (1.0 - share) / hidden.input - 1.0, 1e-4)
        piped = len(self.inputs.graph.runs) > 1
        fuel = self.inputs.catalog.fuels[appliance.fuel].mole_fractions
        gas = flue_gas(
            mole_fractions=fuel,
            input=typed.input * hidden.input * self.fired,
            excess_air=fresh,
            flue_temperature=typed.flue_temperature + self.warmth[rate] + hidden.warmth,
            pressure=self.pressure,
            air=humid_air(
                relative_humidity=self.humidity,
                temperature=self.outdoor if piped else self.indoors,
                pressure=self.pressure,
            ),
        )
        again = taken * share / (taken * (1.0 - share) + 0.08)  # what goes round once more, over what is new
        site = replace(self.inputs.job.site, outdoor=self.outdoor, indoor=self.indoors)
        inputs = replace(self.inputs, job=replace(self.inputs.job, site=site))
        around = surroundings(inputs)
        inside, outside = self.films
        climate = replace(job_climate(inputs, around).climate, inside_share=inside, outside_share=outside)
        base = next(f for f in firings(appliance_gases(inputs, around), around, climate) if f.name == rate)
        flue = Stream(
            mass_flow=gas.flue_mass_flow * (1.0 + again),
            mixture=gas.mixture,
            temperature=gas.temperature,
            pressure=gas.pressure,
        )
        air = replace(base.air["furnace"], mass_flow=gas.air_mass_flow * (1.0 + again))
        firing = replace(base, flue={"furnace": flue}, air={"furnace": air})
        real = self._graph(inputs, firing, hidden)
        return solve(real.graph, firing), real, gas, share


def _longer(run: Run, hidden: Hidden) -> Run:
    pieces = list(run.pieces)
    pieces[hidden.piece] = replace(pieces[hidden.piece], length=pieces[hidden.piece].length + hidden.feet)
    return replace(run, pieces=tuple(pieces))


def _not_described(chance: Random) -> Inducer | None:
    """The fan of an appliance whose job describes none: half hold their flow, half turn at one speed."""
    speed = chance.random() < 0.5
    flows = chance.uniform(0.06, 0.1), chance.uniform(500.0, 900.0)
    if not speed:
        return None
    most, shut_off = flows
    points = tuple((most * s, shut_off * (1.0 - s * s)) for s in (0.0, 0.2, 0.4, 0.6, 0.8, 1.0))
    return Inducer(source="Invented", curve=points, switch={}, adaptive=False, example=False)


def head_of(flow: RateFlow) -> float:
    """What the inducer works against, apart from its heat exchanger [Pa]."""
    head = 0.0
    for name, run in flow.runs.items():
        if name in ("vent", "air"):
            pressure = run.start_pressure if run.run.start == "furnace" else run.end_pressure
            head += pressure if name == "vent" else -pressure
    return head


def _root(spare: Callable[[float], float], low: float, high: float) -> float:
    if spare(low) <= 0.0:
        return low
    if spare(high) >= 0.0:
        return high
    return float(brentq(spare, low, high, xtol=1e-4))


def _other_size(inputs: Inputs, run: Run, hidden: Hidden) -> Run:
    pieces = list(run.pieces)
    first = pieces[hidden.piece]
    section = first.before
    size = section.material.size(hidden.size)
    assert size is not None
    other = Section(material=section.material, size=size)

    def step(before: Section, after: Section) -> Piece:
        name = "increaser" if after.bore > before.bore else "reducer"
        return Piece(name=name, place="", before=before, after=after, fitting=inputs.catalog.fitting(name))

    if hidden.part < 1.0:
        one = replace(first, length=first.length * hidden.part, before=other, after=other)
        two = replace(first, length=first.length * (1.0 - hidden.part))
        made = [step(section, other), one, step(other, section), two]
        return replace(run, pieces=(*pieces[: hidden.piece], *made, *pieces[hidden.piece + 1 :]))
    inside = [replace(piece, before=other, after=other) for piece in pieces[hidden.piece : hidden.last + 1]]
    made = [*inside]
    if hidden.piece > 0:
        made.insert(0, step(section, other))
    if hidden.last < len(pieces) - 1:
        made.append(step(other, section))
    return replace(run, pieces=(*pieces[: hidden.piece], *made, *pieces[hidden.last + 1 :]))


def _puncture(runs: dict[str, Run], hidden: Hidden) -> None:
    run = runs[hidden.run]
    at = hidden.piece + 1
    section = run.pieces[hidden.piece].after
    k = (section.area / (HOLE * math.pi * hidden.hole**2 / 4.0)) ** 2
    model = next(piece for piece in run.pieces if not piece.is_pipe)
    lets_out = replace(model, before=section, after=section, k=k, place="")
    runs[hidden.run] = replace(run, end="hole", pieces=run.pieces[:at], counted=False)
    runs["beyond"] = replace(run, name="beyond", start="hole", pieces=run.pieces[at:], counted=False)
    runs["hole"] = replace(run, name="hole", start="hole", end="outdoors", pieces=(lets_out,), counted=False)
