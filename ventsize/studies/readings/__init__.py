"""Readings on a vent beside what they should be, and what a surplus amounts to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

import numpy as np

from ventsize.check.inputs import Inputs
from ventsize.check.switch import EDGE, Stand, setting_of, stand, stand_finding
from ventsize.finding import Finding, Where, difference, pressure, temperature
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.reading import CARBON_MONOXIDE, ROOM, SWITCH, WITHOUT_RATE, ZERO, Reading, same_spot, zero_of
from ventsize.studies.readings.case import section_at
from ventsize.studies.readings.conditions import Conditions
from ventsize.studies.readings.doubts import Seen, doubts
from ventsize.studies.readings.margins import DAY, accuracy_of, margins
from ventsize.studies.readings.model import Model
from ventsize.studies.readings.narrow import open_bore_for, puddle_for
from ventsize.studies.readings.places import AIR, Tap, tap_of
from ventsize.studies.readings.result import ReadingFound, ReadingsStudy, ReadingVerdict, Surplus
from ventsize.studies.readings.safety import co_found, stops
from ventsize.studies.readings.symptoms import symptoms_found
from ventsize.studies.uncertainty.ranges import ranges_of

SPILLS = 5.0  # Pa of suction from which a draft hood may spill (limits of CGSB 51.71, from memory, check before use)
WIND = 9.0  # m/s, 20 mph: what it can move every pressure by is said


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """The readings of a job with what each should be, for the studies built on them.

    taps, accuracies: by the number of the reading, of those that the calculation has an answer to.
    """

    study: ReadingsStudy
    conditions: Conditions
    taps: Mapping[int, Tap]
    accuracies: Mapping[int, float]


def readings(inputs: Inputs) -> ReadingsStudy:
    """Every reading of a job beside what it should be.

    Raises InputError where the job has neither a reading nor a symptom, and where one is at a place the job does not
    have.
    """
    return look(inputs).study


def look(inputs: Inputs) -> Looked:
    """The readings of a job, and what they were compared by."""
    job = inputs.job
    if not job.readings and not job.symptoms:
        expected = "[[reading]] with place, rate and a value, such as pressure = '0.31 in w.c.'"
        raise InputError(Problem(inputs.file, "reading", "the job has no reading", expected))
    conditions = Conditions(inputs)
    numbered = dict(enumerate(job.readings, start=1))
    aside = {n: one for n, reading in numbered.items() if (one := _aside(inputs, conditions, n, reading)) is not None}
    taps = _taps(inputs, conditions, {n: reading for n, reading in numbered.items() if n not in aside})
    found = {**aside, **_compared(inputs, conditions, taps)}
    listed = tuple(found[n] for n in numbered if numbered[n].place != ZERO)
    before = {n: one for n, one in numbered.items() if one.before_repair}
    paired = tuple(_beside(one, before.values()) for one in listed)
    kept = tuple(one for one in paired if not (one.reading.before_repair and _repeated(one.reading, numbered.values())))
    once = _as_then(inputs, conditions, [one for one in kept if one.reading.before_repair])
    study = ReadingsStudy(
        title=job.title,
        stops=stops(inputs, [one for one in kept if not one.reading.before_repair], once),
        readings=kept,
        symptoms=symptoms_found(inputs, kept),
        assumed=tuple(_assumed(inputs, conditions, kept)),
        cautions=(*_spillage(kept), *_cautions(inputs, list(taps.values()))),
    )
    accuracies = {n: accuracy_of(numbered[n], tap) for n, tap in taps.items()}
    return Looked(study=study, conditions=conditions, taps=taps, accuracies=accuracies)


def _aside(inputs: Inputs, conditions: Conditions, number: int, reading: Reading) -> ReadingFound | None:
    """A reading that is not held beside the calculation; None for one that is."""
    why = None
    if reading.before_repair:
        why = Finding("before-repair")
    elif reading.kind in CARBON_MONOXIDE:
        return co_found(inputs, number, reading, conditions.excess_air)
    elif reading.place == ZERO:
        why = Finding("manometer-zero")
    elif reading.place != ROOM and reading.rate not in conditions.rates:
        why = Finding("rate-not-in-job", Where(rate=reading.rate), {"rates": conditions.rates})
    if why is None:
        return None
    blank = Tap(kind=reading.kind, place=reading.place, rate=reading.rate, appliance=reading.appliance or "")
    carries = next((run.carries for run in inputs.job.runs if run.name == reading.run), "")
    return ReadingFound(
        number=number,
        reading=reading,
        place=reading.place,
        rate=reading.rate,
        kind=reading.kind,
        measured=reading.value,
        accuracy=accuracy_of(reading, blank),
        accuracy_assumed=reading.accuracy is None,
        expected=None,
        low=None,
        high=None,
        verdict="not compared",
        because=why,
        run=reading.run,
        carries=carries,
    )


def _as_then(inputs: Inputs, conditions: Conditions, found: Sequence[ReadingFound]) -> list[ReadingFound]:
    """Readings from before a repair that were not taken again, judged as if they had been taken now."""
    taps: dict[int, Tap] = {}
    for one in found:
        with suppress(InputError):  # the place may have gone with the repair
            if one.kind not in CARBON_MONOXIDE and one.place != ZERO:
                taps[one.number] = tap_of(inputs, one.number, one.reading, conditions.rates)
    compared = _compared(inputs, conditions, taps)
    return [
        co_found(inputs, one.number, one.reading, conditions.excess_air)
        if one.kind in CARBON_MONOXIDE
        else compared.get(one.number, one)
        for one in found
    ]


def _repeated(before: Reading, readings: Iterable[Reading]) -> bool:
    """Whether a reading taken before a repair was taken again."""
    return any(not one.before_repair and same_spot(one, before) for one in readings)


def _beside(found: ReadingFound, before: Iterable[Reading]) -> ReadingFound:
    """A reading with what was read there before a repair."""
    was = [one.value for one in before if one is not found.reading and same_spot(one, found.reading)]
    return replace(found, before=was[-1]) if was and not found.reading.before_repair else found


def _compared(inputs: Inputs, conditions: Conditions, taps: Mapping[int, Tap]) -> dict[int, ReadingFound]:
    """Readings held beside the calculation, by their number."""
    if not taps:
        return {}
    numbers = list(taps)
    model = Model(conditions, list(taps.values()))
    taken = [inputs.job.readings[number - 1] for number in numbers]
    accuracies = np.array([accuracy_of(reading, taps[n]) for n, reading in zip(numbers, taken, strict=True)])
    off = margins(model, ranges_of(inputs), accuracies)
    zero = zero_of(inputs.job.readings)
    seen = [
        Seen(
            tap=taps[number],
            value=reading.value - (zero if reading.kind == "pressure" else 0.0),
            accuracy=float(accuracy),
            low=None if math.isnan(low) else float(low),
            high=None if math.isnan(high) else float(high),
            dynamic=model.dynamic_at(row),
            draft=model.draft_at(row),
            setting=_setting(inputs, model, row, taps[number]),
            confirmed=reading.confirmed,
        )
        for row, (number, reading, accuracy, low, high) in enumerate(
            zip(numbers, taken, accuracies, off.low, off.high, strict=True)
        )
    ]
    doubtful = doubts(inputs, seen)
    return {
        number: _found(number, reading, one, model, row, doubtful.get(row), zero)
        for row, (number, reading, one) in enumerate(zip(numbers, taken, seen, strict=True))
    }


def _setting(inputs: Inputs, model: Model, row: int, tap: Tap) -> float | None:
    if tap.place != SWITCH or tap.kind != "pressure":
        return None
    case = next(case for case in model.cases if row in case.rows)
    return setting_of(inputs, tap.appliance, case.flow.firing.rates[tap.appliance], tap.setting)


def _taps(inputs: Inputs, conditions: Conditions, wanted: Mapping[int, Reading]) -> dict[int, Tap]:
    taps: dict[int, Tap] = {}
    faults: list[Problem] = []
    for number, reading in wanted.items():
        try:
            taps[number] = tap_of(inputs, number, reading, conditions.rates)
        except InputError as error:
            faults += error.problems
    if faults:
        raise InputError(faults)
    return taps


_POSSIBLE = ("perhaps-another-unit", "perhaps-decimal-point")  # said beside a reading, which stays one


def _found(
    number: int, reading: Reading, seen: Seen, model: Model, row: int, doubt: Finding | None, zero: float
) -> ReadingFound:
    tap = seen.tap
    known = seen.low is not None and seen.high is not None
    possible = doubt is not None and doubt.code in _POSSIBLE
    expected: float | None = float(model.base[row]) if known else None
    low, high, because = seen.low, seen.high, doubt or model.why[row]
    verdict = "doubtful" if doubt and not possible else _verdict(seen)
    if tap.place == SWITCH and tap.kind == "pressure":
        # judged by its setting alone: a margin beyond the usual is no fault of anything
        low, high = (None if seen.setting is None else seen.setting + EDGE), None
        expected = None if seen.setting is None else float(model.base[row])
        if seen.setting is not None and (doubt is None or possible):
            verdict = _AT_SWITCH[stand(seen.value, seen.setting)]
            because = doubt or stand_finding(seen.value, seen.setting, seen.at)
    surplus = None
    if known and verdict in ("high", "low", "expected") and tap.kind == "pressure" and tap.run is not None:
        surplus = _surplus(model, row, tap, seen.value - float(model.base[row]))
    return ReadingFound(
        number=number,
        reading=reading,
        place=tap.place,
        rate=reading.rate,
        kind=tap.kind,
        measured=seen.value,
        accuracy=seen.accuracy,
        accuracy_assumed=reading.accuracy is None,
        expected=expected,
        low=low,
        high=high,
        verdict=verdict,
        because=because,
        setting=seen.setting,
        surplus=surplus,
        run=tap.run,
        carries=tap.carries,
        piece=tap.piece,
        zero=zero if tap.kind == "pressure" else 0.0,
    )


_AT_SWITCH: dict[Stand, ReadingVerdict] = {"below": "low", "near": "marginal", "above": "expected"}


def _verdict(seen: Seen) -> ReadingVerdict:
    if seen.low is None or seen.high is None:
        return "not compared"
    if seen.value > seen.high + seen.accuracy:
        return "high"
    return "low" if seen.value < seen.low - seen.accuracy else "expected"


def _surplus(model: Model, number: int, tap: Tap, more: float) -> Surplus | None:
    """What is more pressure in a vent, or more suction in an air pipe, in other words; None where there is none."""
    case = next(case for case in model.cases if number in case.rows)
    assert tap.run is not None
    run = case.flow.runs[tap.run]
    in_air = run.run.carries == AIR
    pressure = -more if in_air else more
    gradient = case.gradient_at(tap)
    section = section_at(run.run, tap.position)
    dynamic = run.at(section).dynamic_pressure
    if pressure <= 0.0 or gradient <= 0.0 or dynamic <= 0.0:
        return None
    return Surplus(
        pressure=pressure,
        length=pressure / gradient,
        open_bore=open_bore_for(k=pressure / dynamic, bore=section.bore),
        bore=section.bore,
        size=section.label,
        water=None if in_air else puddle_for(pressure / dynamic) * section.bore,
    )


def _assumed(inputs: Inputs, conditions: Conditions, found: Sequence[ReadingFound]) -> Iterator[Finding]:
    yield from conditions.assumed
    usual = tuple(sorted({reading.kind for reading in found if reading.accuracy_assumed}))
    if usual:
        yield Finding("accuracy-assumed", values={"kinds": usual})
    if any(reading.outdoor is None for reading in inputs.job.readings if reading.place not in WITHOUT_RATE):
        site = inputs.job.site.outdoor
        told = {} if site is None else {"outdoor": temperature(site)}
        yield Finding("weather-assumed", values={**told, "give_or_take": difference(DAY)})
    if any(conditions.exemplary(appliance.name) for appliance in inputs.job.appliances):
        yield Finding("inducer-example-not-judged-by")
    elif all(conditions.inducer(appliance.name) is None for appliance in inputs.job.appliances):
        yield Finding("inducer-not-described")
    elif not conditions.alone:
        yield Finding("inducers-of-several")


def _spillage(found: Sequence[ReadingFound]) -> Iterator[Finding]:
    """A room under so much suction that appliances with a draft hood, and fireplaces, may spill into it."""
    for one in found:
        if (one.place, one.kind) == (ROOM, "pressure") and one.measured < -SPILLS:
            yield Finding("room-may-spill", values={"measured": pressure(one.measured), "limit": pressure(SPILLS)})


def _cautions(inputs: Inputs, taps: Sequence[Tap]) -> Iterator[Finding]:
    yield Finding("vent-fault-kills")
    yield Finding("leaks-hardly-show")
    yield Finding("read-when-steady", values={"moves": pressure(0.5 * 1.2 * WIND**2)})
    if any(tap.run is not None and tap.place != OUTDOORS for tap in taps):
        yield Finding("close-holes")
    if any(appliance.inducer is not None and appliance.inducer.adaptive for appliance in inputs.job.appliances):
        yield Finding("inducer-learns-again")
    unknown = tuple(run.name for run in inputs.graph.runs.values() if not run.rise_known)
    if unknown:
        yield Finding("rise-not-told", values={"runs": unknown})
