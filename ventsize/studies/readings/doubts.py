"""Readings that cannot be right, and what they would mean if they were."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations

from ventsize.check.appliances import surroundings
from ventsize.check.inputs import Inputs
from ventsize.finding import Finding, Value, Where, pressure, share
from ventsize.gas.combustion import (
    burn,
    excess_air_from_carbon_dioxide,
    excess_air_from_oxygen,
    maximum_carbon_dioxide,
)
from ventsize.gas.constants import FREEZING
from ventsize.gas.mixture import Mixture, humid_air
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.reading import SWITCH
from ventsize.quantity import Dimension
from ventsize.studies.readings import slips
from ventsize.studies.readings.places import AIR, Tap

MOST_PRESSURE = 2500.0  # Pa, 10 in w.c.; inducers of such appliances give a few inches
FASTER = 1.3  # times as much is to be lost at one rate as at another, from where they are held against each other
REGAINED = 10.0  # Pa; more than a change of size and gas warmer than stated give back along a vent (no source)
COLDEST, HOTTEST = FREEZING, 573.15  # K; flue gas of a fan-assisted appliance


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A reading with what it should be: value and accuracy in the unit of its kind; low, high: None where unknown.

    dynamic: ½ρv² where a pressure is read in a pipe; draft: what it gives from there to the open air; setting: of a
    pressure switch [Pa]. confirmed: as in `Reading`.
    """

    tap: Tap
    value: float
    accuracy: float
    low: float | None
    high: float | None
    dynamic: float = 0.0
    draft: float = 0.0
    setting: float | None = None
    confirmed: bool = False

    @property
    def at(self) -> Where:
        """Where it was read."""
        return Where(appliance=self.tap.appliance, rate=self.tap.rate, run=self.tap.run)


def doubts(inputs: Inputs, seen: Sequence[Seen]) -> dict[int, Finding]:
    """Why readings cannot be right, by their place in the list."""
    found: dict[int, Finding] = {}
    for number, reading in enumerate(seen):
        said = (None if reading.confirmed else next(_slips(reading), None)) or next(_alone(inputs, reading), None)
        if said:
            found[number] = said
    sound = [number for number in range(len(seen)) if number not in found]
    for number, said in (*_against_each_other(inputs, seen, sound), *_out_of_order(inputs, seen, sound)):
        found.setdefault(number, said)
    return found


def _slips(reading: Seen) -> Iterator[Finding]:
    """What was probably meant, where a reading is far from all that it could be."""
    band = _band(reading)
    kind = reading.tap.kind
    if band is None:
        return
    if kind == "pressure":
        yield from slips.scaled(reading.value, band, reading.at, dimension=Dimension.PRESSURE)
    elif kind in ("oxygen", "carbon_dioxide", "speed"):
        point = () if kind == "speed" else slips.POINT
        yield from slips.scaled(reading.value, band, reading.at, dimension=Dimension.FRACTION, point=point)
    elif kind == "temperature":
        yield from slips.temperature(reading.value, band, reading.at)
    elif kind == "meter_seconds":
        yield from slips.seconds(reading.value, band, reading.at)


def _band(reading: Seen) -> slips.Band | None:
    """What a reading could be; of a switch, anything from its setting to several times it."""
    tap = reading.tap
    if tap.place == SWITCH:
        setting = reading.setting
        return slips.Band(low=40.0, high=500.0) if setting is None else slips.Band(low=setting, high=3.0 * setting)
    if reading.low is None or reading.high is None:
        return None
    return slips.Band(low=reading.low, high=reading.high)


def _alone(inputs: Inputs, reading: Seen) -> Iterator[Finding]:
    tap = reading.tap
    if tap.kind == "pressure":
        yield from _pressure(inputs, reading)
    elif tap.kind in ("oxygen", "carbon_dioxide"):
        in_air = tap.run is not None and inputs.graph.runs[tap.run].carries == AIR
        yield from _in_air(inputs, reading) if in_air else _in_flue(inputs, reading)
    elif tap.kind == "temperature":
        yield from _temperature(inputs, reading)
    elif tap.kind == "speed" and reading.value > 1.0 + reading.accuracy:
        yield Finding("speed-above-top", reading.at)


def _pressure(inputs: Inputs, reading: Seen) -> Iterator[Finding]:
    tap = reading.tap
    if abs(reading.value) > MOST_PRESSURE:
        yield Finding("pressure-beyond-appliance", reading.at)
    if reading.confirmed:
        return
    if tap.place == SWITCH:
        if reading.value < -reading.accuracy:
            yield _reversed(reading, "switch-hoses-exchanged")
        return
    if tap.run is None or reading.low is None or reading.high is None:
        return
    if inputs.graph.runs[tap.run].carries == AIR:
        if reading.high < -reading.accuracy and reading.value > reading.accuracy:
            yield _reversed(reading, "air-pipe-under-pressure")
    elif reading.low > reading.dynamic and reading.value < -reading.accuracy:
        yield _reversed(reading, "vent-under-suction")


def _reversed(reading: Seen, code: str) -> Finding:
    """A pressure of the wrong sign: with what it would be with the hoses exchanged, and whether that is expected."""
    band = _band(reading)
    fits = band is not None and band.holds(-reading.value)
    values: dict[str, Value] = {
        "measured": pressure(reading.value),
        "meant": pressure(-reading.value),
        "fits": int(fits),
    }
    return Finding(code, reading.at, values)


def _temperature(inputs: Inputs, reading: Seen) -> Iterator[Finding]:
    run = reading.tap.run
    if run is not None and inputs.graph.runs[run].carries != AIR and not COLDEST <= reading.value <= HOTTEST:
        yield Finding("temperature-not-of-flue-gas", reading.at)


def _air(inputs: Inputs) -> Mixture:
    around = surroundings(inputs)
    humidity = inputs.job.site.humidity
    return humid_air(relative_humidity=humidity, temperature=around.outdoor, pressure=around.pressure)


def _fuel(inputs: Inputs, tap: Tap) -> dict[str, float]:
    name = next(one.fuel for one in inputs.job.appliances if one.name == tap.appliance)
    return dict(inputs.catalog.fuels[name].mole_fractions)


def _in_air(inputs: Inputs, reading: Seen) -> Iterator[Finding]:
    air = _air(inputs)
    ceiling = air.fraction("oxygen") / (1.0 - air.fraction("water"))
    if reading.tap.kind == "oxygen" and reading.value > ceiling + reading.accuracy:
        yield Finding("oxygen-above-air", reading.at, {"most": share(ceiling)})


def _in_flue(inputs: Inputs, reading: Seen) -> Iterator[Finding]:
    air, fuel = _air(inputs), _fuel(inputs, reading.tap)
    dry = 1.0 - air.fraction("water")
    if reading.tap.kind == "oxygen":
        ceiling = air.fraction("oxygen") / dry
        if reading.value >= min(ceiling, 0.209) - 1e-9:
            yield Finding("oxygen-of-air", reading.at, {"measured": share(reading.value)})
        return
    most = maximum_carbon_dioxide(fuel, air=air)
    if reading.value > most:
        yield Finding("carbon-dioxide-beyond-fuel", reading.at, {"most": share(most)})
    elif reading.value <= air.fraction("carbon dioxide") / dry:
        yield Finding("carbon-dioxide-of-air", reading.at)


def _against_each_other(inputs: Inputs, seen: Sequence[Seen], sound: Sequence[int]) -> Iterator[tuple[int, Finding]]:
    """Oxygen and carbon dioxide of one gas: either tells the other."""
    places: dict[tuple[str | None, str, float | None], dict[str, int]] = {}
    for number in sound:
        tap = seen[number].tap
        in_vent = tap.run is not None and inputs.graph.runs[tap.run].carries != AIR
        if tap.kind in ("oxygen", "carbon_dioxide") and in_vent:
            places.setdefault((tap.run, *tap.condition), {})[tap.kind] = number
    for both in places.values():
        if len(both) == 2:
            said = _exchanged(seen[both["oxygen"]], seen[both["carbon_dioxide"]]) or _contradiction(
                inputs, seen[both["oxygen"]], seen[both["carbon_dioxide"]]
            )
            if said:
                yield from ((number, said) for number in both.values())


def _out_of_order(inputs: Inputs, seen: Sequence[Seen], sound: Sequence[int]) -> Iterator[tuple[int, Finding]]:
    """Pressures that cannot both be right: more gas that loses less, or more pressure farther out along a vent.

    Whatever is in the way, a pipe loses more at a higher rate, and the pressure in a vent falls towards its open end
    but for what draft gives.
    """
    pressures = [
        number
        for number in sound
        if seen[number].tap.kind == "pressure" and seen[number].tap.run is not None and not seen[number].confirmed
    ]
    for one, other in permutations(pressures, 2):
        said = _less_of_more(seen[one], seen[other]) or _more_farther_out(inputs, seen[one], seen[other])
        if said:
            yield from ((one, said), (other, said))


def _lost(reading: Seen) -> float:
    """What a pressure in a pipe should be by what the pipe loses, of an air pipe its suction; 0 where unknown [Pa]."""
    if reading.low is None or reading.high is None:
        return 0.0
    return _way(reading) * (reading.low + reading.high) / 2.0


def _way(reading: Seen) -> float:
    return -1.0 if reading.tap.carries == AIR else 1.0


def _less_of_more(more: Seen, less: Seen) -> Finding | None:
    """At one place, at the rate that should lose more and at the one that should lose less."""
    if (more.tap.run, more.tap.position) != (less.tap.run, less.tap.position) or more.tap.rate == less.tap.rate:
        return None
    if _lost(more) <= FASTER * max(_lost(less), 0.0):
        return None
    if _way(more) * (less.value - more.value) <= more.accuracy + less.accuracy:
        return None
    values: dict[str, Value] = {
        "measured": pressure(more.value), "rate": more.tap.rate,
        "other": pressure(less.value), "other_rate": less.tap.rate,
    }  # fmt: skip
    return Finding("lower-at-higher-rate", more.at, values)


def _more_farther_out(inputs: Inputs, inner: Seen, outer: Seen) -> Finding | None:
    """At one rate, nearer the appliance and farther out along the same vent."""
    run = inner.tap.run
    if run is None or (run, *inner.tap.condition) != (outer.tap.run, *outer.tap.condition):
        return None
    vent = inputs.graph.runs[run]
    outwards = (outer.tap.position - inner.tap.position) * (-1 if vent.start == OUTDOORS else 1)
    if vent.carries == AIR or outwards <= 0:
        return None
    given = inner.dynamic + max(inner.draft - outer.draft, 0.0) + REGAINED
    if outer.value - inner.value <= inner.accuracy + outer.accuracy + given:
        return None
    return Finding("higher-farther-out", inner.at, {"measured": pressure(inner.value), "other": pressure(outer.value)})


def _exchanged(oxygen: Seen, carbon_dioxide: Seen) -> Finding | None:
    """Each is what the other should be."""
    for one, other in ((oxygen, carbon_dioxide), (carbon_dioxide, oxygen)):
        if other.low is None or other.high is None:
            return None
        if not other.low - other.accuracy <= one.value <= other.high + other.accuracy:
            return None
        if one.low is None or one.high is None or one.low - one.accuracy <= one.value <= one.high + one.accuracy:
            return None
    values = {"oxygen": share(oxygen.value), "carbon_dioxide": share(carbon_dioxide.value)}
    return Finding("gases-exchanged", oxygen.at, values)


def _contradiction(inputs: Inputs, oxygen: Seen, carbon_dioxide: Seen) -> Finding | None:
    air, fuel = _air(inputs), _fuel(inputs, oxygen.tap)
    by_oxygen = excess_air_from_oxygen(fuel, oxygen=oxygen.value, air=air)
    goes_with = burn(mole_fractions=fuel, input=1.0, excess_air=by_oxygen, air=air).carbon_dioxide_dry
    slope = maximum_carbon_dioxide(fuel, air=air) / (air.fraction("oxygen") / (1.0 - air.fraction("water")))
    room = carbon_dioxide.accuracy + slope * oxygen.accuracy
    if abs(goes_with - carbon_dioxide.value) <= room:
        return None
    by_other = excess_air_from_carbon_dioxide(fuel, carbon_dioxide=carbon_dioxide.value, air=air)
    return Finding(
        "gases-contradict",
        oxygen.at,
        {
            "oxygen": share(oxygen.value),
            "goes_with": share(goes_with),
            "carbon_dioxide": share(carbon_dioxide.value),
            "by_oxygen": share(by_oxygen),
            "by_carbon_dioxide": share(by_other),
        },
    )
