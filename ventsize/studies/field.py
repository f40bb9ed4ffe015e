"""At the appliance: which readings can be taken on a job, and how one just typed stands."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Any

from ventsize.check.inputs import Inputs
from ventsize.finding import Finding
from ventsize.jobfile.editing.readings import clear_reading, reading_at, set_reading
from ventsize.jobfile.editing.values import Data, Path, clear, put, value_at
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.reading import CARBON_MONOXIDE, METER, ROOM, WITHOUT_RATE, ZERO, Kind, Reading
from ventsize.quantity import Dimension, QuantityError, is_bare, parse
from ventsize.studies.diagnosis.result import NextReading
from ventsize.studies.readings import readings
from ventsize.studies.readings.conditions import Conditions
from ventsize.studies.readings.places import tap_at
from ventsize.studies.readings.result import ReadingFound

# In the order in which they are taken: what can kill first, then what needs no hole in a pipe.
OFFERED: tuple[tuple[str, Kind], ...] = (
    (ROOM, "carbon_monoxide"),
    ("collar", "carbon_monoxide"),
    ("collar", "oxygen"),
    (ZERO, "pressure"),
    ("switch", "pressure"),
    (ROOM, "pressure"),
    (METER, "meter_seconds"),
    ("collar", "pressure"),
    ("air pipe", "pressure"),
    ("collar", "carbon_dioxide"),
    ("collar", "temperature"),
    ("air pipe", "oxygen"),
    ("inducer", "speed"),
    ("terminal", "pressure"),
)
SETTING = "switch setting"
DIMENSIONS: dict[Kind, Dimension] = {
    "pressure": Dimension.PRESSURE,
    "temperature": Dimension.TEMPERATURE,
    "oxygen": Dimension.FRACTION,
    "carbon_dioxide": Dimension.FRACTION,
    "carbon_monoxide": Dimension.FRACTION,
    "carbon_monoxide_air_free": Dimension.FRACTION,
    "speed": Dimension.FRACTION,
}
DIALS = ("2 ft³", "1 ft³", "1/2 ft³", "10 L")
CARRIES = {"collar": "flue gas", "terminal": "flue gas", "air pipe": "combustion air"}
SECONDS = "s"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One reading that can be taken; which: its keys in a job file.

    appliance: where the job has several. run, piece: where the place alone does not say it.
    """

    place: str
    rate: str
    kind: Kind
    appliance: str | None = None
    run: str | None = None
    piece: str = ""

    @property
    def which(self) -> dict[str, str | None]:
        """What tells it from other readings of a job."""
        return {"place": self.place, "rate": self.rate or None, "run": self.run, "appliance": self.appliance}

    def kept(self, data: Data) -> str:
        """What is in a job's data, as typed; empty where there is nothing."""
        return str(reading_at(data, self.which, self.kind).get(self.kind, ""))

    def put(self, data: Data, text: str, when: str) -> Data:
        """The data with it; what was typed there before is replaced."""
        return set_reading(data, self.which, self.kind, text, when=when)

    def confirmed(self, data: Data) -> Data:
        """The data with what is there marked as read twice."""
        return set_reading(
            data, self.which, self.kind, reading_at(data, self.which, self.kind)[self.kind], confirmed=True
        )

    def exact_to(self, data: Data, accuracy: str) -> Data:
        """The data with how exact the instrument is."""
        read = reading_at(data, self.which, self.kind)[self.kind]
        return set_reading(data, self.which, self.kind, read, accuracy=accuracy)

    def cleared(self, data: Data) -> Data:
        """The data without it."""
        return clear_reading(data, self.which, self.kind)

    def reading(self, value: float) -> Reading:
        """The reading with a value [Pa], [K], [s] or [-]."""
        given = {self.kind: value}
        return Reading(place=self.place, rate=self.rate, run=self.run, appliance=self.appliance, **given)  # type: ignore[arg-type]

    def is_of(self, inputs: Inputs, reading: Reading) -> bool:
        """Whether a reading of the job is one taken here."""
        if reading.before_repair or (reading.place, reading.rate, reading.kind) != (self.place, self.rate, self.kind):
            return False
        names = {appliance.name for appliance in inputs.job.appliances}
        alike = reading.appliance == self.appliance or len(names) == 1
        if self.run is not None:
            return alike and reading.run == self.run
        runs = [run.name for run in inputs.graph.runs.values() if run.carries == CARRIES.get(self.place)]
        return alike and (reading.run is None or runs == [reading.run])

    @property
    def typical(self) -> float:
        """A value that is no answer yet, for what is asked before anything is typed."""
        return 1.0 if self.kind == "meter_seconds" else 0.0

    def read(self, text: str) -> float:
        """A value in SI. Raises QuantityError."""
        return parse(text, DIMENSIONS[self.kind], signed=self.kind in ("pressure", "temperature"))


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingSpot(Spot):
    """What is written on the pressure switch: typed once, kept with the appliance's rate. path: where in the data."""

    path: Path

    def kept(self, data: Data) -> str:
        """What is in a job's data, as typed."""
        return str(value_at(data, self.path, ""))

    def put(self, data: Data, text: str, when: str) -> Data:
        """The data with it."""
        return put(data, self.path, text)

    def cleared(self, data: Data) -> Data:
        """The data without it."""
        return clear(data, self.path) if self.kept(data) else data


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterSpot(Spot):
    """Seconds for one revolution of a dial of the gas meter; dial: what it passes, as text."""

    dial: str

    def kept(self, data: Data) -> str:
        """What is in a job's data, where it was read on this dial."""
        reading = reading_at(data, self.which, self.kind)
        return f"{reading[self.kind]:g} {SECONDS}" if reading.get("meter_dial") == self.dial else ""

    def put(self, data: Data, text: str, when: str) -> Data:
        """The data with it, read on this dial."""
        return set_reading(data, self.which, self.kind, self.read(text), meter_dial=self.dial, when=when)

    @property
    def another(self) -> MeterSpot:
        """The same of the next dial."""
        return replace(self, dial=DIALS[(DIALS.index(self.dial) + 1) % len(DIALS)])

    def reading(self, value: float) -> Reading:
        """The reading with a value [s]."""
        dial = parse(self.dial, Dimension.VOLUME)
        return replace(Spot.reading(self, value), meter_dial=dial)

    def read(self, text: str) -> float:
        """Seconds [s]. Raises QuantityError."""
        number = text.strip().removesuffix(SECONDS).strip()
        if not is_bare(number) or (value := float(number.replace(",", ""))) <= 0.0:
            raise QuantityError(f"'{text:.40}' is no time", "seconds for one turn, such as 36")
        return value


def rates_of(inputs: Inputs) -> tuple[str, ...]:
    """The firing rates, or combinations of rates, that readings can be taken at."""
    return Conditions(inputs).rates


def spots(inputs: Inputs, rate: str) -> tuple[Spot, ...]:
    """Every reading that can be taken at a rate at the appliance and at the terminal, and those taken elsewhere."""
    offered = tuple(_spots(inputs, rate))
    taken = (
        Spot(place=one.place, rate=rate, kind=one.kind, appliance=one.appliance, run=one.run)
        for one in inputs.job.readings
        if one.rate == rate and not one.before_repair and not any(spot.is_of(inputs, one) for spot in offered)
    )
    return (*offered, *dict.fromkeys(taken))


def spots_along(inputs: Inputs, rate: str) -> tuple[Spot, ...]:
    """The pressures that can be read behind the pieces of runs that are laid out, for which a hole is drilled."""
    found = []
    for run in inputs.job.runs:
        for number in range(1, len(run.pieces or ()) + 1):
            place = f"after piece {number}"
            with suppress(InputError):  # behind the terminal there is the open air
                tap = tap_at(inputs, place=place, rate=rate, kind="pressure", appliance="", run=run.name, outdoor=None)
                found.append(Spot(place=place, rate=rate, kind="pressure", run=run.name, piece=tap.piece))
    return tuple(found)


def spot_of(inputs: Inputs, asked: NextReading | ReadingFound) -> Spot:
    """Where a reading that the diagnosis asks for, or one that was taken, is typed."""
    for spot in spots(inputs, asked.rate or rates_of(inputs)[0]):  # some hold at any rate
        own = asked.run is None or asked.carries == CARRIES.get(spot.place)
        if (spot.place, spot.kind) == (asked.place, asked.kind) and (
            own if spot.run is None else spot.run == asked.run
        ):
            return spot
    return Spot(place=asked.place, rate=asked.rate, kind=asked.kind, run=asked.run, piece=asked.piece)


def _spots(inputs: Inputs, rate: str) -> Iterator[Spot]:
    firing = [name for name, at in Conditions(inputs).fired(rate).items() if at is not None]
    several = len(inputs.job.appliances) > 1
    fans = {appliance.name for appliance in inputs.job.appliances if appliance.inducer is not None}
    seen: set[tuple[object, ...]] = set()
    for appliance in firing:
        for place, kind in OFFERED:
            if place in WITHOUT_RATE:
                if appliance == firing[0]:
                    yield Spot(place=place, rate="", kind=kind)
                continue
            if kind == "speed" and appliance not in fans:
                continue
            same = _what(inputs, place, rate, kind, appliance)
            if same is None or same in seen:  # appliances that share a vent share its terminal
                continue
            seen.add(same)
            about: dict[str, Any] = {"place": place, "rate": rate, "appliance": appliance if several else None}
            if place == METER:
                yield MeterSpot(kind=kind, dial=_dial_read(inputs, rate), **about)
                continue
            spot = Spot(kind=kind, **about)
            if place == "switch":
                yield _setting_beside(inputs, spot, appliance)
            yield spot


def _dial_read(inputs: Inputs, rate: str) -> str:
    """The dial of the gas meter that was read, else the usual one."""
    read = [one.meter_dial for one in inputs.job.readings if one.place == METER and one.rate == rate]
    return next((dial for dial in DIALS if parse(dial, Dimension.VOLUME) in read), DIALS[0])


def _what(inputs: Inputs, place: str, rate: str, kind: Kind, appliance: str) -> tuple[object, ...] | None:
    """What tells one spot from another; None where there is no such place at a rate."""
    try:
        tap = tap_at(inputs, place=place, rate=rate, kind=kind, appliance=appliance, run=None, outdoor=None)
    except InputError:
        return None
    return kind, tap.run, tap.position if tap.run else appliance


def _setting_beside(inputs: Inputs, switch: Spot, appliance: str) -> SettingSpot:
    """The setting of the switch that is read at a spot."""
    number = next(n for n, one in enumerate(inputs.job.appliances) if one.name == appliance)
    fired = Conditions(inputs).fired(switch.rate)[appliance]
    rate = next(n for n, one in enumerate(inputs.job.appliances[number].rates) if one.name == fired)
    path: Path = ("appliance", number, "rate", rate, "switch_opens")
    return SettingSpot(place=SETTING, rate=switch.rate, kind="pressure", appliance=switch.appliance, path=path)


def judged(
    inputs: Inputs, spot: Spot, value: float, accuracy: str = ""
) -> tuple[ReadingFound | None, tuple[Finding, ...]]:
    """How a value read compares with what it should be, and what says to shut the appliance off at once.

    The first is None for what is no reading. What was kept of the same reading beside its value (how cold it was, how
    exact the instrument is) goes with it. value: [Pa], [K] or [-]; accuracy: as
    typed. Raises InputError as `readings` does.
    """
    if isinstance(spot, SettingSpot):
        return None, ()
    kept = next((one for one in inputs.job.readings if spot.is_of(inputs, one)), None)
    new = spot.reading(value)
    if kept is not None and not isinstance(spot, MeterSpot):
        kept_too = {"confirmed": kept.confirmed and kept.value == value, spot.kind: value}
        new = replace(kept, **kept_too)  # type: ignore[arg-type]
    if accuracy:
        new = replace(new, accuracy=accuracy)
    beside = [one for one in inputs.job.readings if one is not kept and _bears_on(one, new)]
    job = replace(inputs.job, readings=(*beside, new), symptoms=())
    study = readings(replace(inputs, job=job))
    found = next((one for one in study.readings if one.reading is new), None)
    return found, study.stops


def _bears_on(one: Reading, new: Reading) -> bool:
    """Whether another reading changes how one is understood: the manometer's zero, the oxygen beside CO."""
    zero = one.place == ZERO and new.kind == "pressure" and new.place != ZERO
    return zero or (
        one.kind == "oxygen" and new.kind in CARBON_MONOXIDE and (one.place, one.rate) == (new.place, new.rate)
    )
