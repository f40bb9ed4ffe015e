"""What a job's own readings and symptoms say before any length: shut it off.

Limits, each with its source as the words give it:
carbon monoxide in a room: 9 ppm over eight hours, 35 ppm over one (40 CFR 50.8);
in flue gas: 400 ppm, air-free (ANSI Z21.47 and Z21.13, from memory);
the temperature that a pipe's record has as its limit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from ventsize.catalog.records import PipeRecord
from ventsize.check.appliances import ApplianceGas
from ventsize.check.inputs import Inputs
from ventsize.check.switch import setting_of
from ventsize.finding import Finding, Outcome, State, Value, Where, share, temperature
from ventsize.flow.rate_flow import RateFlow
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.reading import CARBON_MONOXIDE, PLACES, ROOM, SWITCH, Reading, same_spot, zero_of
from ventsize.jobfile.symptom import Symptom

PPM = 1e-6
ROOM_LIMIT, ROOM_LEAVE = 9 * PPM, 35 * PPM
FLUE_LIMIT = 400 * PPM
MOST_MONOXIDE, LEAST_MONOXIDE = 0.05, 0.9 * PPM  # of dry gas; what analysers show
LEAST_OXYGEN = 0.015  # of dry flue gas; below it carbon monoxide rises steeply (common practice, from memory)
NO_OXYGEN = 1e-4  # an analyser shows tenths of a percent: what is less and not zero was typed in another unit
FRESH = 0.209  # oxygen of dry air, as an analyser is set
INLET = 0.005  # of oxygen less than in fresh air, beside the analyser's accuracy: more is flue gas
ANALYSER = 0.003  # what an analyser is off by, either way, in points of the whole (common practice, no source)
PRODUCTS = 1.08  # dry products are fewer than the air they come from; near enough for what is only assumed
USUAL_OXYGEN = 0.06  # of dry flue gas, where nothing says

URGENT = (
    "co-in-room-leave",
    "co-alarm",
    "co-in-room",
    "flue-gas-in-room",
    "co-in-flue",
    "oxygen-near-zero",
    "vent-too-hot",
    "flue-gas-in-inlet",
    "switch-closed-below-setting",
    "not-read-again",
)
"""Codes that say to shut the appliance off, the most urgent first."""

CONDITION = "not-shut-off"
_SEEN: dict[Symptom, str] = {
    "carbon monoxide alarm sounds": "co-alarm",
    "flue gas in the room": "flue-gas-in-room",
}
Excess = Callable[[Reading], float | None]
"""The excess air [-] a job states for the appliance and rate of a reading; None where that is not one rate."""


def shut_off(inputs: Inputs, appliances: Sequence[ApplianceGas], rates: Sequence[RateFlow]) -> Outcome | None:
    """Nothing that was read or seen says to shut an appliance off; None where nothing was.

    One that looks like another unit leaves it not known. One from before a repair stands until the same is read again.
    """
    job = inputs.job
    if not job.readings and not job.symptoms:
        return None
    burning = {(one.name, rate.name): rate.gas.excess_air for one in appliances for rate in one.rates}
    fired = {rate.firing.name: rate.firing.rates for rate in rates}

    def excess_air(reading: Reading) -> float | None:
        name = reading.appliance or appliances[0].name
        return burning.get((name, fired.get(reading.rate, {}).get(name) or ""))

    now = [one for one in job.readings if not one.before_repair]
    then = [one for one in job.readings if one.before_repair and not any(same_spot(one, other) for other in now)]
    said = most_urgent_first(
        [*symptoms_say(inputs), *_typed(inputs, now, excess_air)], list(_typed(inputs, then, excess_air))
    )
    unclear = [_unclear(one) for one in (*now, *then) if in_another_unit(inputs, one)]
    state: State = "not met" if said else "not known" if unclear else "met"
    because = [*said, *unclear, Finding("nothing-says-shut-off")][0]
    return Outcome(condition=CONDITION, state=state, because=because, if_not="unsafe")


def most_urgent_first(now: Iterable[Finding], then: Sequence[Finding] = ()) -> tuple[Finding, ...]:
    """Everything that says to shut the appliance off, each once. then: by readings that were not taken again."""
    said: list[Finding] = []
    for finding in (*now, *then, *([Finding("not-read-again")] if then else [])):
        if all(finding.key != other.key for other in said):
            said.append(finding)
    return tuple(sorted(said, key=lambda finding: URGENT.index(finding.code)))


def symptoms_say(inputs: Inputs) -> Iterator[Finding]:
    """What is seen or heard."""
    for seen in inputs.job.symptoms:
        if seen.what in _SEEN:
            yield Finding(_SEEN[seen.what], Where(appliance=seen.appliance, rate=seen.rate or None))


def in_air(inputs: Inputs, reading: Reading) -> bool:
    """Whether a reading is of the air on its way to an appliance, at either end of its pipe or between."""
    airs = [run for run in inputs.job.runs if run.carries == "combustion air"]
    joints = {joint for run in airs for joint in run.between} - {*PLACES}
    return reading.place == "air pipe" or reading.place in joints or any(reading.run == run.name for run in airs)


def _unclear(reading: Reading) -> Finding:
    values = {"measured": share(reading.value), "kind": reading.kind}
    return Finding("unit-of-reading", Where(appliance=reading.appliance, rate=reading.rate or None), values)


def pipe_at(inputs: Inputs, reading: Reading) -> PipeRecord | None:
    """The pipe of a vent where something was read, of several the one that bears least; None where none has a limit."""
    place, collars = reading.place, inputs.graph.appliances
    joints = {"collar": collars if reading.appliance is None else (reading.appliance,), "terminal": (OUTDOORS,)}
    vents = [run for run in inputs.graph.runs.values() if run.carries == "flue gas" and reading.run in (None, run.name)]
    ends = joints.get(place, (place,))
    found = [run.section_at(joint) for run in vents for joint in ends if joint in (run.start, run.end)]
    if reading.after_piece is not None:
        found += [piece.after for run in vents for piece in run.pieces if piece.number == reading.after_piece]
    limited = [section.material for section in found if section.material.temperature_limit is not None]
    return min(limited, key=lambda material: material.temperature_limit or 0.0, default=None)


def reading_says(inputs: Inputs, reading: Reading, *, value: float, accuracy: float) -> Iterator[Finding]:
    """What a single reading says. value: what it comes to; carbon monoxide in flue gas air-free [-]."""
    where = Where(appliance=reading.appliance, rate=reading.rate or None)
    if reading.kind == "temperature":
        pipe = pipe_at(inputs, reading)
        if pipe is not None and pipe.temperature_limit is not None and value > pipe.temperature_limit:
            values: dict[str, Value] = {"measured": temperature(value), "limit": temperature(pipe.temperature_limit)}
            yield Finding("vent-too-hot", where, {**values, "material": pipe.name})
    elif in_air(inputs, reading):
        more = {"oxygen": FRESH - value, "carbon_dioxide": value - 0.0004}.get(reading.kind, 0.0)
        foul = reading.kind in CARBON_MONOXIDE and meant(reading) >= ROOM_LIMIT
        if more > accuracy + INLET or foul:
            yield Finding("flue-gas-in-inlet", where, {"measured": share(value), "kind": reading.kind})
    elif reading.kind in CARBON_MONOXIDE:
        room = reading.place == ROOM
        limit = ROOM_LIMIT if room else FLUE_LIMIT
        if value >= limit if room else value > limit:
            code = "co-in-flue" if not room else "co-in-room-leave" if value >= ROOM_LEAVE else "co-in-room"
            read = share(meant(reading))
            yield Finding(code, where, {"measured": read, "air_free": share(value), "limit": share(limit)})
    elif reading.kind == "oxygen" and value < LEAST_OXYGEN and not in_another_unit(inputs, reading):
        yield Finding("oxygen-near-zero", where, {"measured": share(value), "least": share(LEAST_OXYGEN)})


def in_another_unit(inputs: Inputs, reading: Reading) -> bool:
    """Whether carbon monoxide or oxygen was typed as no analyser shows it: ppm for percent, or the other way."""
    if reading.kind in CARBON_MONOXIDE:
        return meant(reading) != reading.value
    odd = reading.kind == "oxygen" and not reading.confirmed and 0.0 < reading.value <= NO_OXYGEN
    return odd and not in_air(inputs, reading)


def _typed(inputs: Inputs, readings: Sequence[Reading], excess_air: Excess) -> Iterator[Finding]:
    job = inputs.job
    zero = zero_of(job.readings)
    closed = [seen for seen in job.symptoms if seen.what == "switch closed"]
    for reading in readings:
        value = reading.value
        if reading.kind in CARBON_MONOXIDE:
            value, _ = carbon_monoxide(inputs, reading, excess_air)
        accuracy = ANALYSER if reading.error is None else reading.error
        yield from reading_says(inputs, reading, value=value, accuracy=accuracy)
        if (reading.place, reading.kind) == (SWITCH, "pressure"):
            name = reading.appliance or job.appliances[0].name
            setting = setting_of(inputs, name, reading.rate, reading.setting)
            below = setting is not None and value - zero < setting
            if below and any(seen.rate in ("", reading.rate) for seen in closed):
                yield Finding("switch-closed-below-setting", Where(appliance=name, rate=reading.rate))


def meant(reading: Reading) -> float:
    """What was probably meant by a share of carbon monoxide: no analyser shows so much, or so little [-]."""
    monoxide = reading.value
    if reading.confirmed:
        return monoxide
    if monoxide > MOST_MONOXIDE:
        return monoxide * 1e-4
    return monoxide * 1e4 if 0.0 < monoxide < LEAST_MONOXIDE else monoxide


def air_free(value: float, oxygen: float) -> float:
    """Carbon monoxide with the excess air taken out: CO · 20.9 / (20.9 - O2), both dry [-]."""
    return value * FRESH / max(FRESH - oxygen, 0.001)


def carbon_monoxide(inputs: Inputs, reading: Reading, excess_air: Excess) -> tuple[float, float | None]:
    """A reading's carbon monoxide as it is judged [-], and the oxygen that was assumed for that; None where none was.

    In flue gas it is taken air-free: by the oxygen read beside it, or by the job's excess air.
    """
    value = meant(reading)
    if reading.kind == "carbon_monoxide_air_free" or reading.place == ROOM:
        return value, None
    beside = [
        one.value
        for one in inputs.job.readings
        if one.kind == "oxygen"
        and (one.place, one.rate, one.appliance, one.run, one.before_repair)
        == (reading.place, reading.rate, reading.appliance, reading.run, reading.before_repair)
    ]
    if beside:
        return air_free(value, beside[0]), None
    excess = excess_air(reading)
    oxygen = USUAL_OXYGEN if excess is None else FRESH * excess / (1.0 + excess) * PRODUCTS
    return air_free(value, oxygen), oxygen
