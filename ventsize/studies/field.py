"""At the appliance: which readings can be taken on a job, and how one just typed stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ventsize.check.inputs import Inputs
from ventsize.jobfile.editing.readings import clear_reading, reading_at, set_reading
from ventsize.jobfile.editing.values import Data, Path, clear, put, value_at
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.reading import Kind, Reading
from ventsize.quantity import Dimension, QuantityError, System, display_unit, parse, show, with_unit
from ventsize.studies.readings import readings
from ventsize.studies.readings.conditions import Conditions
from ventsize.studies.readings.places import tap_at
from ventsize.studies.readings.result import ReadingFound

# In the order in which somebody kneeling there would take them.
OFFERED: tuple[tuple[str, Kind, str], ...] = (
    ("collar", "pressure", "Static pressure at the collar"),
    ("switch", "pressure", "Pressure across the switch"),
    ("air pipe", "pressure", "Static pressure in the air pipe"),
    ("collar", "oxygen", "O2 in the flue gas, dry"),
    ("collar", "carbon_dioxide", "CO2 in the flue gas, dry"),
    ("collar", "temperature", "Flue gas temperature"),
    ("inducer", "speed", "Inducer speed, of its top speed"),
    ("terminal", "pressure", "Static pressure before the terminal"),
)
SETTING = "Setting written on the switch"
DIMENSIONS: dict[Kind, Dimension] = {
    "pressure": Dimension.PRESSURE,
    "temperature": Dimension.TEMPERATURE,
    "oxygen": Dimension.FRACTION,
    "carbon_dioxide": Dimension.FRACTION,
    "speed": Dimension.FRACTION,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One reading that can be taken: title in words; which: its keys in a job file."""

    title: str
    place: str
    rate: str
    kind: Kind
    appliance: str | None = None

    @property
    def which(self) -> dict[str, str | None]:
        """What tells it from other readings of a job."""
        return {"place": self.place, "rate": self.rate, "appliance": self.appliance}

    def kept(self, data: Data) -> str:
        """What is in a job's data, as typed; empty where there is nothing."""
        return str(reading_at(data, self.which, self.kind).get(self.kind, ""))

    def put(self, data: Data, text: str, when: str) -> Data:
        """The data with it; what was typed there before is replaced."""
        return set_reading(data, self.which, self.kind, text, when=when)

    def cleared(self, data: Data) -> Data:
        """The data without it."""
        return clear_reading(data, self.which, self.kind)

    def reading(self, value: float) -> Reading:
        """The reading with a value [Pa], [K] or [-]."""
        given = {self.kind: value}
        return Reading(place=self.place, rate=self.rate, appliance=self.appliance, **given)  # type: ignore[arg-type]

    def is_of(self, reading: Reading) -> bool:
        """Whether a reading of the job is one taken here."""
        where = (self.place, self.rate, self.appliance, self.kind)
        return reading.run is None and (reading.place, reading.rate, reading.appliance, reading.kind) == where

    def unit(self, system: System) -> str:
        """The unit meant where none is typed."""
        return display_unit(DIMENSIONS[self.kind], system)

    def whole(self, text: str, system: System) -> str:
        """What is typed, with its unit."""
        return with_unit(text, self.unit(system))

    def read(self, text: str) -> float:
        """A value in SI. Raises QuantityError."""
        return parse(text, DIMENSIONS[self.kind], signed=self.kind in ("pressure", "temperature"))

    def show(self, value: float, system: System) -> str:
        """A value as text."""
        return show(value, DIMENSIONS[self.kind], system)


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


def rates_of(inputs: Inputs) -> tuple[str, ...]:
    """The firing rates, or combinations of rates, that readings can be taken at."""
    return Conditions(inputs).rates


def spots(inputs: Inputs, rate: str) -> tuple[Spot, ...]:
    """Every reading that can be taken at a rate without a hole in the pipe, and at the terminal."""
    return tuple(_spots(inputs, rate))


def _spots(inputs: Inputs, rate: str) -> Iterator[Spot]:
    firing = [name for name, at in Conditions(inputs).fired(rate).items() if at is not None]
    several = len(inputs.job.appliances) > 1
    fans = {appliance.name for appliance in inputs.job.appliances if appliance.inducer is not None}
    seen: set[tuple[object, ...]] = set()
    for appliance in firing:
        for place, kind, title in OFFERED:
            if kind == "speed" and appliance not in fans:
                continue
            try:
                tap = tap_at(inputs, place=place, rate=rate, kind=kind, appliance=appliance, run=None, outdoor=None)
            except InputError:
                continue
            same = (kind, tap.run, tap.position if tap.run else appliance)
            if same in seen:  # appliances that share a vent share its terminal
                continue
            seen.add(same)
            named = f"{title}, {appliance}" if several and place != "terminal" else title
            spot = Spot(title=named, place=place, rate=rate, kind=kind, appliance=appliance if several else None)
            yield spot
            if place == "switch":
                yield _setting_beside(inputs, spot, appliance)


def _setting_beside(inputs: Inputs, switch: Spot, appliance: str) -> SettingSpot:
    """The setting of the switch that is read at a spot."""
    number = next(n for n, one in enumerate(inputs.job.appliances) if one.name == appliance)
    fired = Conditions(inputs).fired(switch.rate)[appliance]
    rate = next(n for n, one in enumerate(inputs.job.appliances[number].rates) if one.name == fired)
    title = switch.title.replace("Pressure across the switch", SETTING)
    path: Path = ("appliance", number, "rate", rate, "switch_opens")
    return SettingSpot(
        title=title, place=SETTING, rate=switch.rate, kind="pressure", appliance=switch.appliance, path=path
    )


def stands(inputs: Inputs, spot: Spot, value: float) -> ReadingFound | None:
    """How a value read stands beside what it should be; None for what is no reading. Raises InputError as `readings`.

    What was kept of the same reading beside its value (how cold it was, how exact the instrument is, what the switch
    is set to) goes with it. value: [Pa], [K] or [-].
    """
    if isinstance(spot, SettingSpot):
        return None
    kept = next((one for one in inputs.job.readings if spot.is_of(one)), None)
    new = spot.reading(value) if kept is None else replace(kept, **{spot.kind: value})  # type: ignore[arg-type]
    job = replace(inputs.job, readings=(new,))
    return readings(replace(inputs, job=job)).readings[0]


def band_of(found: ReadingFound, spot: Spot, system: System) -> str:
    """The expected band as text; empty where it is not known."""
    if found.low is None:
        return ""
    if found.high is None:
        return f"{spot.show(found.low, system)} or more"
    return f"{spot.show(found.low, system)} to {spot.show(found.high, system)}"


def readable(spot: Spot, text: str, system: System) -> tuple[str, float] | str:
    """What is typed with its unit and in SI, or a sentence that says why it cannot be read."""
    whole = spot.whole(text, system)
    try:
        return whole, spot.read(whole)
    except QuantityError as error:
        return str(error)
