"""Keys of a job for what was measured: [[reading]].

[[reading]]
place = "collar"              # see below
rate = "high"                 # the firing rate it was taken at
pressure = "0.31 in w.c."     # one value: pressure (static, against the room), temperature, oxygen, carbon_dioxide,
                              # carbon_monoxide ("85 ppm"; all dry), carbon_monoxide_air_free, speed (of the inducer,
                              # as a share of its top speed), or meter_seconds (the gas meter, for one revolution)
accuracy = "0.01 in w.c."     # of the instrument, either way; left out, the usual one is assumed and said
outdoor = "34 degF"           # while it was taken; left out, the site's is assumed and said
when = "2026-01-12 10:30"
confirmed = true              # read twice: what looks like a slip of unit, point or hose is taken as it stands
before_repair = true          # taken before a repair: shown beside what is read now; only "shut it off" stands

place is one of

    collar            where the vent leaves the appliance
    terminal          in the pipe just before the terminal of the vent (of an air pipe: just behind its inlet)
    air pipe          where the air pipe meets the appliance
    switch            across the pressure switch
    inducer           for its speed
    room              carbon monoxide in the air of the room; its pressure, by a hose to the open air
    meter             the gas meter: meter_seconds, with meter_dial = "2 ft³" for one revolution
    zero              what the manometer shows with both hoses open; it is taken off every pressure
    after piece 4     in a laid-out run, behind the piece of that number as listed
    a joint's name    where runs meet

run says which run, where the place alone does not; room and zero have no rate. setting is what is written on the
switch, where the firing rate has no switch_opens.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Annotated, Literal, get_args

from pydantic import Field

from ventsize import quantity
from ventsize.jobfile.document import nearest, rare_record
from ventsize.jobfile.field_types import (
    Expected,
    Fraction,
    PositiveNumber,
    PositiveVolume,
    Pressure,
    SignedPressure,
    Temperature,
    Text,
)
from ventsize.quantity import Dimension, QuantityError

Kind = Literal[
    "pressure",
    "temperature",
    "oxygen",
    "carbon_dioxide",
    "carbon_monoxide",
    "carbon_monoxide_air_free",
    "speed",
    "meter_seconds",
]
KINDS: tuple[Kind, ...] = get_args(Kind)
CARBON_MONOXIDE: tuple[Kind, ...] = ("carbon_monoxide", "carbon_monoxide_air_free")
ROOM, ZERO, METER, SWITCH = "room", "zero", "meter", "switch"
PLACES = ("collar", "terminal", "air pipe", SWITCH, "inducer", ROOM, METER, ZERO)
WITHOUT_RATE = (ROOM, ZERO)
AFTER_PIECE = re.compile(r"after piece (\d{1,5})")
_DIMENSIONS = {
    "pressure": Dimension.PRESSURE,
    "temperature": Dimension.TEMPERATURE_DIFFERENCE,
    "oxygen": Dimension.FRACTION,
    "carbon_dioxide": Dimension.FRACTION,
    "carbon_monoxide": Dimension.FRACTION,
    "carbon_monoxide_air_free": Dimension.FRACTION,
    "speed": Dimension.FRACTION,
}


@rare_record
class Reading:
    """One value measured at one place and firing rate.

    pressure: static, against the room; across the switch, a difference; of the room, against outdoors [Pa].
    temperature [K]. oxygen, carbon_dioxide,
    carbon_monoxide: dry [-]; carbon_monoxide_air_free: with the excess air taken out [-]. speed: of the inducer, of its
    top speed [-]. meter_seconds: for one revolution of the gas meter's dial [s]; meter_dial: what that passes [m³].
    accuracy: as typed; `error` has it as a number. setting: of the pressure switch [Pa]. outdoor: temperature while it
    was taken [K]. confirmed: whether it was read twice. before_repair: whether something was repaired since.
    """

    place: Text
    rate: Text = ""
    run: Text | None = None
    appliance: Text | None = None
    pressure: SignedPressure | None = None
    temperature: Temperature | None = None
    oxygen: Fraction | None = None
    carbon_dioxide: Fraction | None = None
    carbon_monoxide: Fraction | None = None
    carbon_monoxide_air_free: Fraction | None = None
    speed: Fraction | None = None
    meter_seconds: PositiveNumber | None = None
    meter_dial: PositiveVolume | None = None
    accuracy: Text | None = None
    setting: Pressure | None = None
    outdoor: Temperature | None = None
    confirmed: Annotated[bool, Field(strict=True), Expected("true or false")] = False
    before_repair: Annotated[bool, Field(strict=True), Expected("true or false")] = False
    when: Text = ""
    note: Text = ""

    @property
    def kind(self) -> Kind:
        """What was measured."""
        return next(kind for kind in KINDS if getattr(self, kind) is not None)

    @property
    def value(self) -> float:
        """The value, in the unit of its kind: [Pa], [K], [s] or [-]."""
        return float(getattr(self, self.kind))

    @property
    def error(self) -> float | None:
        """The accuracy stated, either way, in the unit of the value; None where none is."""
        if self.accuracy is None:
            return None
        try:
            return quantity.parse(self.accuracy, _DIMENSIONS.get(self.kind, Dimension.FRACTION))
        except QuantityError:
            if self.kind != "pressure":
                raise
            return abs(self.value) * quantity.parse(self.accuracy, Dimension.FRACTION)

    @property
    def after_piece(self) -> int | None:
        """The number of the piece it was taken behind, from 1; None where the place is named otherwise."""
        found = AFTER_PIECE.fullmatch(self.place)
        return int(found.group(1)) if found else None


def same_spot(one: Reading, other: Reading) -> bool:
    """Whether two readings are of the same thing, at the same place and rate."""
    keys = ((r.place, r.rate, r.run, r.appliance, "CO" if r.kind in CARBON_MONOXIDE else r.kind) for r in (one, other))
    return next(keys) == next(keys)


def zero_of(readings: Sequence[Reading]) -> float:
    """What the manometer shows with its hoses open, the last that was read [Pa]."""
    return next((one.value for one in reversed(readings) if one.place == ZERO), 0.0)


def reading_faults(
    readings: tuple[Reading, ...], appliances: tuple[str, ...], runs: tuple[str, ...]
) -> Iterator[tuple[str, str, str]]:
    """What is wrong between the keys of readings: (place, problem, expected); appliances, runs: names of the job's."""
    for number, reading in enumerate(readings, start=1):
        place = f"reading {number}"
        given = [kind for kind in KINDS if getattr(reading, kind) is not None]
        if len(given) != 1:
            problem = "it has no value" if not given else f"it has more than one value: {', '.join(given)}"
            yield place, problem, f"one of {', '.join(KINDS)}"
            continue
        for key, known in (("appliance", appliances), ("run", runs)):
            name = getattr(reading, key)
            if name is not None and name not in known:
                yield f"{place}, {key}", f"no {key} is named '{name:.40}'", nearest(name, known)
        yield from _accuracy_faults(reading, place)
        if not reading.rate and reading.place not in WITHOUT_RATE:
            yield place, "it does not say at which firing rate it was taken", "rate = 'high', or another of the job's"
        if reading.place == ZERO and reading.kind != "pressure":
            yield f"{place}, {reading.kind}", "the zero is that of a manometer", "pressure = '0.01 in w.c.'"
        if reading.place == ROOM and reading.kind not in ("carbon_monoxide", "pressure"):
            problem = "of the room only its carbon monoxide and its pressure are read"
            yield f"{place}, {reading.kind}", problem, "carbon_monoxide = '9 ppm', or pressure = '-0.02 in w.c.'"
        if (reading.place == METER) is not (reading.kind == "meter_seconds"):
            yield f"{place}, place", "the gas meter is read in seconds, and nothing else is", "place = 'meter'"
        if reading.setting is not None and reading.place != SWITCH:
            yield f"{place}, setting", "it is given for a reading that is not across the switch", "place = 'switch'"


def _accuracy_faults(reading: Reading, place: str) -> Iterator[tuple[str, str, str]]:
    example = {"pressure": "'0.01 in w.c.' or '2 %'", "temperature": "'4 °F'"}.get(reading.kind, "'0.3 %'")
    try:
        error = reading.error
    except QuantityError as fault:
        yield f"{place}, accuracy", fault.problem, f"an accuracy such as {example}"
        return
    if error is not None and not error > 0.0:
        yield f"{place}, accuracy", "it is zero", f"an accuracy such as {example}; no instrument is exact"
