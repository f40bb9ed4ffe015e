"""What readings and symptoms say before anything else: shut it off.

Limits, each with its source as the words give it:
carbon monoxide in a room: 9 ppm over eight hours, 35 ppm over one (40 CFR 50.8);
in flue gas: 400 ppm, air-free (ANSI Z21.47 and Z21.13, from memory); 100 ppm calls for service (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ventsize.check.inputs import Inputs
from ventsize.finding import Amount, Finding, Where, share
from ventsize.jobfile.reading import CARBON_MONOXIDE, ROOM, Reading
from ventsize.jobfile.symptom import Symptom
from ventsize.studies.readings import slips
from ventsize.studies.readings.conditions import Conditions
from ventsize.studies.readings.result import ReadingFound, ReadingVerdict
from ventsize.studies.readings.symptoms import bridged

PPM = 1e-6
ROOM_LIMIT, ROOM_LEAVE = 9 * PPM, 35 * PPM
FLUE_LIMIT, FLUE_SERVICE = 400 * PPM, 100 * PPM
LEAST_OXYGEN = 0.015  # of dry flue gas; below it carbon monoxide rises steeply (common practice, from memory)
FRESH = 0.209  # oxygen of dry air, as an analyser is set
INLET = 0.005  # of oxygen less than in fresh air, beside the analyser's accuracy: more is flue gas

_SEEN: dict[Symptom, str] = {
    "carbon monoxide alarm sounds": "co-alarm",
    "flue gas in the room": "flue-gas-in-room",
}


def air_free(value: float, oxygen: float) -> float:
    """Carbon monoxide with the excess air taken out: CO · 20.9 / (20.9 - O2), both dry [-]."""
    return value * FRESH / max(FRESH - oxygen, 0.001)


def carbon_monoxide(inputs: Inputs, reading: Reading) -> tuple[float, float | None]:
    """A reading's carbon monoxide as it is judged [-], and the oxygen that was assumed for that; None where none was.

    In flue gas it is taken air-free: by the oxygen read beside it, by the carbon dioxide, or by the job's excess air.
    """
    if reading.kind == "carbon_monoxide_air_free" or reading.place == ROOM:
        return reading.value, None
    beside = [
        one
        for one in inputs.job.readings
        if (one.place, one.rate, one.appliance, one.run, one.before_repair)
        == (reading.place, reading.rate, reading.appliance, reading.run, reading.before_repair)
    ]
    read = next((one.value for one in beside if one.kind == "oxygen"), None)
    if read is not None:
        return air_free(reading.value, read), None
    conditions = Conditions(inputs)
    names = [appliance.name for appliance in inputs.job.appliances]
    name = reading.appliance or names[0]
    rates = conditions.fired(reading.rate) if reading.rate in conditions.rates else {}
    excess = conditions.burning.get((name, rates.get(name) or ""))
    oxygen = 0.06 if excess is None else FRESH * excess.excess_air / (1.0 + excess.excess_air) * _PRODUCTS
    return air_free(reading.value, oxygen), oxygen


_PRODUCTS = 1.08  # dry products are fewer than the air they come from; near enough for what is only assumed


def co_found(inputs: Inputs, number: int, reading: Reading) -> ReadingFound:
    """A reading of carbon monoxide beside its limit; `measured` is air-free in flue gas."""
    where = Where(appliance=reading.appliance, rate=reading.rate or None)
    taken = reading
    slip = slips.carbon_monoxide(reading.value, where)
    meant = slip.values["meant"] if slip is not None else None
    if isinstance(meant, Amount):
        reading = replace(reading, **{reading.kind: meant.value})  # type: ignore[arg-type]
    value, assumed = carbon_monoxide(inputs, reading)
    room = reading.place == ROOM
    limit = ROOM_LIMIT if room else FLUE_LIMIT
    verdict: ReadingVerdict = "expected"
    if value >= limit if room else value > limit:
        verdict = "high"
    elif not room and value > FLUE_SERVICE:
        verdict = "marginal"
    values = {"measured": share(reading.value), "air_free": share(value), "limit": share(limit)}
    because = None
    if verdict == "high":
        because = Finding(_code(value, room=room), where, values)
    elif verdict == "marginal":
        because = Finding("co-in-flue-high", where, {**values, "service": share(FLUE_SERVICE)})
    elif assumed is not None:
        because = Finding("co-air-free-assumed", where, {**values, "oxygen": share(assumed)})
    if slip is not None and verdict != "high":  # what was probably meant is over its limit: that is said first
        verdict, because = "doubtful", slip
    return ReadingFound(
        number=number,
        reading=taken,
        place=reading.place,
        rate=reading.rate,
        kind=reading.kind,
        measured=value,
        accuracy=max(5 * PPM, 0.05 * value),
        accuracy_assumed=reading.accuracy is None,
        expected=None,
        low=None,
        high=limit,
        verdict=verdict,
        because=because,
    )


def _code(value: float, *, room: bool) -> str:
    if room:
        return "co-in-room-leave" if value >= ROOM_LEAVE else "co-in-room"
    return "co-in-flue"


def stops(inputs: Inputs, found: Sequence[ReadingFound], once: Sequence[ReadingFound] = ()) -> tuple[Finding, ...]:
    """Everything that says to shut the appliance off, the most urgent first; each once.

    once: readings from before a repair that were not taken again. What they say stands until they are.
    """
    said: list[Finding] = []
    now = (*_symptoms(inputs), *_readings(found), *bridged(inputs, found))
    then = (*_readings(once), *bridged(inputs, once))
    for finding in (*now, *then, *([Finding("not-read-again")] if then else [])):
        if all(finding.key != other.key for other in said):
            said.append(finding)
    return tuple(sorted(said, key=lambda finding: URGENT.index(finding.code)))


URGENT = (
    "co-in-room-leave",
    "co-alarm",
    "co-in-room",
    "flue-gas-in-room",
    "co-in-flue",
    "oxygen-near-zero",
    "flue-gas-in-inlet",
    "switch-closed-below-setting",
    "not-read-again",
)
"""Codes that say to shut the appliance off, the most urgent first."""


def _symptoms(inputs: Inputs) -> Iterator[Finding]:
    for seen in inputs.job.symptoms:
        if seen.what in _SEEN:
            yield Finding(_SEEN[seen.what], Where(appliance=seen.appliance, rate=seen.rate or None))


def _readings(found: Sequence[ReadingFound]) -> Iterator[Finding]:
    for one in found:
        if one.because is not None and one.because.code in URGENT:
            yield one.because
        in_flue = one.place == "collar"
        where = Where(appliance=one.reading.appliance, rate=one.rate or None)
        in_ppm = one.because is not None and one.because.values.get("typed") == "ppm"
        if one.kind == "oxygen" and in_flue and one.measured < LEAST_OXYGEN and not in_ppm:
            yield Finding("oxygen-near-zero", where, {"measured": share(one.measured), "least": share(LEAST_OXYGEN)})
        if one.place == "air pipe":
            yield from _in_inlet(one, where)


def _in_inlet(one: ReadingFound, where: Where) -> Iterator[Finding]:
    more = {"oxygen": FRESH - one.measured, "carbon_dioxide": one.measured - 0.0004}.get(one.kind, 0.0)
    foul = one.kind in CARBON_MONOXIDE and one.reading.value >= ROOM_LIMIT
    if more > one.accuracy + INLET or foul:
        yield Finding("flue-gas-in-inlet", where, {"measured": share(one.measured), "kind": one.kind})
