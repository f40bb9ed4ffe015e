"""Readings on a vent beside what they should be, and what a surplus amounts to."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ventsize.check.inputs import Inputs
from ventsize.finding import Finding
from ventsize.gas.constants import WATER_WEIGHT
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.reading import Reading
from ventsize.quantity import System, show_temperature
from ventsize.studies.inducer import LEARNS
from ventsize.studies.readings.case import Array, section_at
from ventsize.studies.readings.conditions import Conditions
from ventsize.studies.readings.doubts import Seen, doubts
from ventsize.studies.readings.margins import accuracy_of, margins
from ventsize.studies.readings.model import Model
from ventsize.studies.readings.narrow import open_bore_for
from ventsize.studies.readings.places import AIR, SWITCH, Tap, tap_of
from ventsize.studies.readings.result import ReadingFound, ReadingsStudy, ReadingVerdict, Surplus
from ventsize.studies.readings.switch import EDGE, Stand, setting_of, stand, stand_finding
from ventsize.studies.uncertainty.ranges import ranges_of

SAFETY = (
    "a vent that is blocked, leaks or draws its own gas back can put carbon monoxide in the building: where that is "
    "possible, shut the appliance off until it is cured, measure carbon monoxide in the room, and see that a carbon "
    "monoxide alarm works"
)
LEAKS = "pressures hardly show a leak: go over every joint with leak-test solution (common practice, no source)"
STEADY = (
    "let each rate settle before reading, with doors shut and on a calm day: a wind of 20 mph (9 m/s) can move every "
    "pressure by 0.2 in w.c. (50 Pa), half of the density of air times its speed squared"
)
HOLES = "close every hole drilled for a reading gas-tight; where the maker forbids drilling, use the ports there are"


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """The readings of a job with what each should be, for the studies built on them."""

    study: ReadingsStudy
    conditions: Conditions
    taps: tuple[Tap, ...]
    accuracies: Array


def readings(inputs: Inputs, *, system: System = System.US) -> ReadingsStudy:
    """Every reading of a job beside what it should be.

    Raises InputError where the job has no reading, and where one is at a rate or place the job does not have.
    """
    return look(inputs, system=system).study


def look(inputs: Inputs, *, system: System = System.US) -> Looked:
    """The readings of a job, and what they were compared by."""
    job = inputs.job
    if not job.readings:
        expected = "[[reading]] with place, rate and a value, such as pressure = '0.31 in w.c.'"
        raise InputError(Problem(inputs.file, "reading", "the job has no reading", expected))
    conditions = Conditions(inputs)
    taps = _taps(inputs, conditions)
    model = Model(conditions, taps)
    accuracies = np.array([accuracy_of(reading, tap) for reading, tap in zip(job.readings, taps, strict=True)])
    off = margins(model, ranges_of(inputs), accuracies)
    seen = [
        Seen(
            tap=tap,
            value=reading.value,
            accuracy=float(accuracy),
            low=None if math.isnan(low) else float(low),
            high=None if math.isnan(high) else float(high),
            dynamic=model.dynamic_at(number),
        )
        for number, (reading, tap, accuracy, low, high) in enumerate(
            zip(job.readings, taps, accuracies, off.low, off.high, strict=True)
        )
    ]
    doubtful = doubts(inputs, seen)
    found = tuple(
        _found(number, reading, one, model, doubtful.get(number), inputs)
        for number, (reading, one) in enumerate(zip(job.readings, seen, strict=True))
    )
    study = ReadingsStudy(
        title=job.title,
        readings=found,
        assumed=tuple(_assumed(inputs, conditions, found, system)),
        cautions=tuple(_cautions(inputs, taps)),
    )
    return Looked(study=study, conditions=conditions, taps=taps, accuracies=accuracies)


def _taps(inputs: Inputs, conditions: Conditions) -> tuple[Tap, ...]:
    taps: list[Tap] = []
    faults: list[Problem] = []
    for number, reading in enumerate(inputs.job.readings, start=1):
        try:
            taps.append(tap_of(inputs, number, reading, conditions.rates))
        except InputError as error:
            faults += error.problems
    if faults:
        raise InputError(faults)
    return tuple(taps)


def _found(
    number: int, reading: Reading, seen: Seen, model: Model, doubt: Finding | None, inputs: Inputs
) -> ReadingFound:
    tap = seen.tap
    if tap.place == SWITCH and tap.kind == "pressure":
        return _at_switch(number, reading, seen, model, doubt, inputs)
    known = seen.low is not None and seen.high is not None
    verdict = "doubtful" if doubt else _verdict(seen)
    expected = float(model.base[number])
    surplus = None
    if known and not doubt and tap.kind == "pressure" and tap.run is not None:
        surplus = _surplus(model, number, tap, reading.value - expected)
    return ReadingFound(
        number=number + 1,
        reading=reading,
        where=tap.where,
        rate=tap.rate,
        kind=tap.kind,
        measured=reading.value,
        accuracy=seen.accuracy,
        accuracy_assumed=reading.accuracy is None,
        expected=expected if known else None,
        low=seen.low,
        high=seen.high,
        verdict=verdict,
        because=doubt or model.why[number],
        surplus=surplus,
    )


_AT_SWITCH: dict[Stand, ReadingVerdict] = {"below": "low", "near": "marginal", "above": "expected"}


def _at_switch(
    number: int, reading: Reading, seen: Seen, model: Model, doubt: Finding | None, inputs: Inputs
) -> ReadingFound:
    """A pressure switch is judged by its setting alone: a margin beyond the usual is no fault of anything."""
    tap = seen.tap
    case = next(case for case in model.cases if number in case.rows)
    setting = setting_of(inputs, tap.appliance, case.flow.firing.rates[tap.appliance], tap.setting)
    verdict: ReadingVerdict = "doubtful" if doubt else "not compared"
    because = doubt or model.why[number]
    if setting is not None and not doubt:
        verdict = _AT_SWITCH[stand(reading.value, setting)]
        because = stand_finding(reading.value, setting, seen.at)
    return ReadingFound(
        number=number + 1,
        reading=reading,
        where=tap.where,
        rate=tap.rate,
        kind=tap.kind,
        measured=reading.value,
        accuracy=seen.accuracy,
        accuracy_assumed=reading.accuracy is None,
        expected=None if setting is None else float(model.base[number]),
        low=None if setting is None else setting + EDGE,
        high=None,
        verdict=verdict,
        because=because,
        setting=setting,
    )


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
        water=None if in_air else pressure / WATER_WEIGHT,
    )


def _assumed(inputs: Inputs, conditions: Conditions, found: Sequence[ReadingFound], system: System) -> list[str]:
    said = []
    usual = sorted({reading.kind.replace("_", " ") for reading in found if reading.accuracy_assumed})
    if usual:
        said.append(
            f"no accuracy is given for readings of {', '.join(usual)}: that of a usual instrument is assumed (common "
            "practice, no source)"
        )
    if any(reading.outdoor is None for reading in inputs.job.readings):
        site = inputs.job.site.outdoor
        taken = "the standard atmosphere's" if site is None else f"the site's {show_temperature(site, system)}"
        said.append(
            f"not every reading says how cold it was outdoors: {taken} is taken, give or take 27 °F (15 K); it matters "
            "where a run rises"
        )
    if any(conditions.exemplary(appliance.name) for appliance in inputs.job.appliances):
        said.append(
            "the inducer described is an example, not the appliance's own: no reading is judged by it, and the inducer "
            "is taken to hold its flow whatever the vent"
        )
    elif all(conditions.inducer(appliance.name) is None for appliance in inputs.job.appliances):
        said.append("no inducer is described: it is taken to hold its flow whatever the vent")
    elif not conditions.alone:
        said.append("with several appliances, each inducer is taken to hold its flow whatever the vent")
    return [*conditions.assumed, *said]


def _cautions(inputs: Inputs, taps: Sequence[Tap]) -> list[str]:
    said = [SAFETY, LEAKS, STEADY]
    if any(tap.run is not None and OUTDOORS not in (tap.place,) for tap in taps):
        said.append(HOLES)
    if any(appliance.inducer is not None and appliance.inducer.adaptive for appliance in inputs.job.appliances):
        said.append(LEARNS)
    unknown = [run.name for run in inputs.graph.runs.values() if not run.rise_known]
    if unknown:
        names = ", ".join(f"'{name}'" for name in unknown)
        said.append(f"runs {names} do not say how far they rise: draft is left out there")
    return said
