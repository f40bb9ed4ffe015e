"""A visit: what instruments read of a vent, first what is always taken, then what the diagnosis asks for."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random
from typing import Any

from tests.faults.truth import Hidden, Truth
from ventsize.check.inputs import Inputs, prepare
from ventsize.flow.rate_flow import RateFlow, RunFlow
from ventsize.gas.combustion import gross_heat
from ventsize.jobfile.job import job_from_data
from ventsize.jobfile.reading import ROOM
from ventsize.studies.diagnosis import diagnose
from ventsize.studies.diagnosis.result import Diagnosis, NextReading
from ventsize.studies.fan_curve import curve_through
from ventsize.studies.readings.symptoms import FOUND_RIGHT

Data = dict[str, Any]
Wanted = tuple[str, str, str, str]
"""A place, a kind of reading, a rate, and the run where the place alone does not say."""

INCH_OF_WATER = 249.089
MOST = 12  # readings of a visit
LOOKS, OVERLOOKED = 6, 0.05  # things that are looked at after them, and how often a look misses what is there
ALL_THE_SAME = 3  # things that are looked at where the readings are as they should be
FIRST: tuple[tuple[str, str], ...] = (
    ("collar", "pressure"),
    ("collar", "oxygen"),
    ("collar", "temperature"),
    ("switch", "pressure"),
    ("air pipe", "pressure"),
)
"""What is read at high fire on every visit, where there is such a place: it takes no hole in the pipe."""
SEEN_RIGHT = {kind: what for what, kind in FOUND_RIGHT.items()}
ACCURACIES = {"oxygen": 0.003, "carbon_dioxide": 0.003, "temperature": 2.0, "speed": 0.02, "meter_seconds": 0.6}


class Instruments:
    """A manometer, an analyser, a thermometer and a watch, each with its zero; noise by the place that is read."""

    def __init__(self, seed: int) -> None:
        chance = Random(f"instruments {seed}")
        self._seed = seed
        self.accuracies = {"pressure": chance.choice((0.005, 0.01, 0.01, 0.02)) * INCH_OF_WATER, **ACCURACIES}
        self._zeros = {kind: chance.uniform(-0.5, 0.5) for kind in self.accuracies}

    def read(self, wanted: Wanted, value: float) -> tuple[float, float]:
        """What is shown, and the accuracy."""
        kind = wanted[1]
        accuracy = max(self.accuracies[kind], 0.01 * abs(value) if kind == "pressure" else 0.0)
        noise = Random(f"{self._seed} {wanted}").gauss(0.0, 0.35)
        noisy = value + accuracy * (self._zeros[kind] + noise)
        digit = {"pressure": 0.001 * INCH_OF_WATER, "temperature": 0.1, "speed": 0.01, "meter_seconds": 0.1}.get(
            kind, 0.001
        )
        return round(noisy / digit) * digit, accuracy


def keys_of(kind: str, value: float, accuracy: float) -> Data:
    """A value as keys of a reading."""
    if kind == "pressure":
        return {"pressure": f"{value:.4f} Pa", "accuracy": f"{accuracy:.4f} Pa"}
    if kind == "temperature":
        return {"temperature": f"{value - 273.15:.2f} degC"}
    if kind == "meter_seconds":
        return {"meter_seconds": round(value, 1), "meter_dial": "2 ft³"}
    return {kind: round(max(value, 0.0), 5)}


@dataclass(slots=True)
class Kit:
    """Readings that are always taken: what each would be without noise, with and without the cause.

    alone: of two causes at once, what each reading would be with either of them by itself.
    """

    faulty: list[float] = field(default_factory=list)
    sound: list[float] = field(default_factory=list)
    accuracies: list[float] = field(default_factory=list)
    alone: list[list[float]] = field(default_factory=list)
    pressures: list[float] = field(default_factory=list)

    @property
    def shows(self) -> float:
        """By how many accuracies of its instrument the cause moves a reading; of two, each beside the other."""
        return min(
            max(abs(a - b) / c for a, b, c in zip(self.faulty, without, self.accuracies, strict=True))
            for without in (self.sound, *self.alone)
        )


class Visit:
    """A job with something hidden in it, and its readings as they are taken."""

    def __init__(self, truth: Truth, data: Data, hidden: Hidden, *, seed: int, outdoor_told: bool) -> None:
        self.truth, self.data, self.hidden = truth, {**data, "reading": []}, hidden
        self._told, self._seed, self._instruments = outdoor_told, seed, Instruments(seed)
        self._seen: dict[tuple[str, int], Seen] = {}
        self._singles = (hidden, Hidden(), *hidden.singles)
        self.taken: list[Wanted] = []
        self.looked_for: list[str] = []
        self._misses = Random(f"looks {seed}")
        rate = truth.inputs.job.appliances[0].rates[0].name
        two_pipe = "air" in truth.inputs.graph.runs
        self.first = [(place, kind, rate, "") for place, kind in FIRST if two_pipe or place != "air pipe"]
        self.kit = self._kit()

    def value(self, wanted: Wanted, which: int = 0) -> float:
        """What a reading would be without noise; which: 0 with what is hidden, 1 without, then each of two."""
        place, kind, rate, run = wanted
        if (rate, which) not in self._seen:
            self._seen[rate, which] = Seen(self.truth, rate, self._singles[which])
        return self._seen[rate, which].value(place, kind, run)

    def _kit(self) -> Kit:
        ways = [[self.value(wanted, which) for wanted in self.first] for which in range(len(self._singles))]
        accuracies = [self._instruments.read(w, v)[1] for w, v in zip(self.first, ways[0], strict=True)]
        return Kit(faulty=ways[0], sound=ways[1], accuracies=accuracies, alone=ways[2:],
                   pressures=[v for w, v in zip(self.first, ways[0], strict=True) if w[1] == "pressure"])  # fmt: skip

    def take(self, wanted: Wanted) -> None:
        """One more reading."""
        place, kind, rate, run = wanted
        keys = keys_of(kind, *self._instruments.read(wanted, self.value(wanted)))
        reading: Data = {"place": place, **keys}
        if place != ROOM:
            reading["rate"] = rate
        if run:
            reading["run"] = run
        if place == "switch" and self.truth.inputs.job.appliances[0].inducer is None:
            reading["setting"] = f"{self.truth.setting[rate]:.2f} Pa"
        if self._told:
            reading["outdoor"] = f"{self.truth.outdoor - 273.15:.2f} degC"
        self.data["reading"].append(reading)
        self.taken.append(wanted)

    def read(self) -> Inputs:
        """The job with its readings so far."""
        return prepare(job_from_data(self.data, file="job"), file="job")

    def go(self) -> Diagnosis:
        """What is always read, then what the diagnosis asks for, round by round; and what it says at the end."""
        for wanted in self.first:
            self.take(wanted)
        found = self._diagnosed()
        while len(self.taken) < MOST:
            asked = [wanted for wanted in map(_wanted, found.plan) if self._new(wanted)]
            if not asked:
                break
            for wanted in asked[: MOST - len(self.taken)]:
                self.take(wanted)
            found = self._diagnosed()
        return found

    def look(self, found: Diagnosis) -> tuple[Diagnosis, tuple[str, ...]]:
        """After the readings, looks for what the diagnosis puts first, one thing at a time.

        What is found is put right; of two causes the other is read and looked for then, as before. Returns what the
        diagnosis says at the end, and the kinds that were found.
        """
        while found.looks and len(self.looked_for) < (LOOKS if found.outcome == "something is off" else ALL_THE_SAME):
            kinds = [FOUND_RIGHT[what] for what in found.looks]
            if found.outcome == "something is off":  # in the order the causes stand in
                causes = (*(found.two.causes if found.two else ()), *found.groups[0].causes)
                kinds = [cause.kind for cause in causes if cause.kind in kinds]
            kind = kinds[0]
            self.looked_for.append(kind)
            if kind in self.hidden.kinds and self._misses.random() >= OVERLOOKED:
                others = [one for one in self.hidden.singles if one.kind != kind]
                if not others:
                    return found, (kind,)
                after, more = self._without(others[0])
                return after, (kind, *more)
            self.data["symptom"] = [{"what": SEEN_RIGHT[kind]} for kind in self.looked_for]
            found = self._diagnosed()
        return found, ()

    def _without(self, other: Hidden) -> tuple[Diagnosis, tuple[str, ...]]:
        """The visit goes on, once one of two causes is put right: the same readings anew."""
        visit = Visit(self.truth, self.data, other, seed=self._seed, outdoor_told=self._told)
        visit.looked_for, visit._misses = self.looked_for, self._misses
        return visit.look(visit.go())

    def _diagnosed(self) -> Diagnosis:
        """What is said; what is not believed is read again, and is the same again."""
        found = diagnose(self.read())
        doubted = [one.number for one in found.readings.readings if one.verdict == "doubtful"]
        if not any("confirmed" not in self.data["reading"][number - 1] for number in doubted):
            return found
        for number in doubted:
            self.data["reading"][number - 1]["confirmed"] = True
        return diagnose(self.read())

    def _new(self, wanted: Wanted) -> bool:
        return wanted not in self.taken and not (wanted[0] == ROOM and any(one[0] == ROOM for one in self.taken))


def _wanted(asked: NextReading) -> Wanted:
    named = asked.place in ("collar", "air pipe") or (asked.place == "terminal" and asked.run == "vent")
    return asked.place, asked.kind, asked.rate, "" if named else asked.run or ""


class Seen:
    """What instruments would read at a rate, without noise."""

    def __init__(self, truth: Truth, rate: str, hidden: Hidden) -> None:
        self._truth, self._rate, self._hidden = truth, rate, hidden
        self._flow, self._real, self._gas, self._share = truth.flow(rate, hidden)

    def value(self, place: str, kind: str, run: str) -> float:
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
        if place == ROOM:
            return self._truth.room + self._hidden.room + self._truth.gust
        return self._switch() if place == "switch" else self._pressure(place, run)

    def _meter(self) -> float:
        """Seconds that 2 ft³ take: gas of the fuel's heat at 60 °F and 7 in w.c. over the air's pressure."""
        appliance = self._truth.inputs.job.appliances[0]
        rate = next(one for one in appliance.rates if one.name == self._rate)
        fuel = self._truth.inputs.catalog.fuels[appliance.fuel].mole_fractions
        moles = 2.0 * 0.3048**3 * (self._truth.pressure + 7.0 * INCH_OF_WATER) / (8.314 * 288.7)
        return moles * gross_heat(fuel) * self._truth.heat / (rate.input * self._hidden.input * self._truth.fired)

    def _pressure(self, place: str, run: str) -> float:
        vent, air = self._truth.outside(self._hidden)
        if place in ("collar", "air pipe"):
            name, off = ("vent", vent) if place == "collar" else ("air", air)
            return self._flow.runs[name].static_pressure("furnace") + off
        run = run or "vent"
        count = len(self._truth.inputs.graph.runs[run].pieces)
        number = count - 2 if place == "terminal" else int(place.rpartition(" ")[2]) - 1
        for name in (run, "beyond"):
            flow = self._flow.runs.get(name)
            found = -1 if flow is None else _last(flow, f"{run}:{number}")
            if flow is not None and found >= 0:
                return _static_after(flow, found) + (air if run == "air" else vent)
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
    total = run.start_pressure - (fallen if run.forward else -fallen)
    own = run.pieces[number]
    behind = own.at if own.piece.before is own.piece.after else run.at(own.piece.after)
    return total - behind.dynamic_pressure
