"""The next reading: which place and rate would tell two causes apart best."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.reading import Kind
from ventsize.studies.diagnosis.fitting import Fit, Fitter
from ventsize.studies.diagnosis.result import NextReading
from ventsize.studies.readings.conditions import Conditions
from ventsize.studies.readings.places import AIR, FLUE, Tap, tap_at

ENOUGH = 2.0  # standard deviations; a reading that promises less would not settle it
MOST_RATES = 3  # of a job with many combinations, beside those read
AT_THE_ENDS: tuple[tuple[str, Kind], ...] = (
    ("collar", "pressure"),
    ("terminal", "pressure"),
    ("air pipe", "pressure"),
    ("switch", "pressure"),
    ("collar", "oxygen"),
    ("air pipe", "oxygen"),
    ("collar", "temperature"),
    ("inducer", "speed"),
    ("meter", "meter_seconds"),
)
DIAL = 0.0566337  # m³, 2 ft³: what one turn of a gas meter's dial often passes


def possible(conditions: Conditions, read: Sequence[Tap]) -> list[Tap]:
    """Taps that could be read besides, those that need no hole in the pipe first."""
    known = {_same(tap) for tap in read}
    setting = next((tap.setting for tap in read if tap.setting is not None), None)
    found = []
    for rate in _rates(conditions, read):
        outdoor = next((tap.outdoor for tap in read if tap.rate == rate), read[0].outdoor)
        for tap in _taps(conditions, rate, outdoor, setting):
            if _same(tap) not in known:
                known.add(_same(tap))
                found.append(tap)
    return sorted(found, key=lambda tap: tap.place.startswith("after piece"))


def _same(tap: Tap) -> tuple[object, ...]:
    return tap.kind, tap.rate, tap.run, tap.position


def _rates(conditions: Conditions, read: Sequence[Tap]) -> list[str]:
    given = list(dict.fromkeys(tap.rate for tap in read))
    return [*given, *[rate for rate in conditions.rates if rate not in given][:MOST_RATES]]


def _taps(conditions: Conditions, rate: str, outdoor: float | None, setting: float | None) -> Iterator[Tap]:
    inputs = conditions.inputs
    appliances = [name for name, at in conditions.fired(rate).items() if at is not None]

    def at(place: str, kind: Kind, appliance: str, run: str | None = None) -> Iterator[Tap]:
        try:
            yield tap_at(
                inputs,
                place=place,
                rate=rate,
                kind=kind,
                appliance=appliance,
                run=run,
                outdoor=outdoor,
                setting=setting if place == "switch" else None,
                dial=DIAL if place == "meter" else None,
            )
        except InputError:
            return

    for appliance in appliances:
        for place, kind in AT_THE_ENDS:
            yield from at(place, kind, appliance)
    for run in inputs.graph.runs.values():
        if not run.counted and run.carries in (FLUE, AIR):
            for number in dict.fromkeys(piece.place.rpartition(" ")[2] for piece in run.pieces):
                if number.isdigit():
                    yield from at(f"after piece {number}", "pressure", appliances[0], run.name)
        elif OUTDOORS in (run.start, run.end):
            yield from at("terminal", "pressure", appliances[0], run.name)


def next_reading(fitter: Fitter, one: Fit, other: Fit, *, read: int) -> NextReading | None:
    """What to read next to tell one cause from another: the cheapest that settles it, else the one that tells most.

    None where nothing would. read: how many taps of the model have been read; the others could be.
    """
    taps = fitter.model.taps
    best: tuple[float, int] | None = None
    settles: tuple[float, int] | None = None
    for number in range(read, len(taps)):
        gained = _apart(fitter, one, other, number)
        if gained >= 0.5 and (best is None or gained > best[0]):
            best = (gained, number)
        cost = cost_of(taps[number], taps[:read])
        if gained >= ENOUGH and (settles is None or cost < settles[0]):
            settles = (cost, number)
    found = settles or best
    return None if found is None else _reading(fitter, one, other, found[1])


COST: dict[str, float] = {"collar": 1.0, "switch": 2.0, "meter": 2.0, "air pipe": 2.0, "inducer": 3.0, "terminal": 5.0}
"""What a reading costs a person who is there with a manometer and an analyser: in minutes, about (no source)."""
DRILLED = 15.0  # where there is no port yet


def cost_of(tap: Tap, read: Sequence[Tap]) -> float:
    """What a reading costs; another rate has to be waited for, another instrument fetched."""
    cost = COST.get(tap.place, DRILLED)
    cost += 0.0 if any(one.rate == tap.rate for one in read) else 4.0
    return cost + (0.0 if any(one.kind == tap.kind for one in read) else 2.0)


def plan(fitter: Fitter, fits: Sequence[Fit], *, read: int) -> tuple[NextReading, ...]:
    """The fewest and cheapest readings that tell the first cause from the others, in the order to take them.

    At each step the reading that settles most of what is left for what it costs.
    """
    if len(fits) < 2:
        return ()
    first, left = fits[0], list(fits[1:])
    taps = fitter.model.taps
    steps: list[NextReading] = []
    while left and len(steps) < MOST_STEPS:
        best: tuple[float, int, list[Fit]] | None = None
        for number in range(read, len(taps)):
            told = [fit for fit in left if _apart(fitter, first, fit, number) >= ENOUGH]
            worth = len(told) / cost_of(taps[number], taps[:read])
            if told and (best is None or worth > best[0]):
                best = (worth, number, told)
        if best is None:
            break
        _, number, told = best
        steps.append(_reading(fitter, first, told[0], number))
        left = [fit for fit in left if not any(fit is one for one in told)]
    return tuple(sorted(steps, key=lambda step: COST.get(step.place, DRILLED)))


MOST_STEPS = 3


def _apart(fitter: Fitter, one: Fit, other: Fit, number: int) -> float:
    if not (math.isfinite(one.shows[number]) and math.isfinite(other.shows[number])):
        return 0.0
    return fitter.surprise(one.shows, other.shows, number)


def _reading(fitter: Fitter, one: Fit, other: Fit, number: int) -> NextReading:
    tap = fitter.model.taps[number]
    return NextReading(
        place=tap.place,
        run=tap.run,
        carries=tap.carries,
        piece=tap.piece,
        rate=tap.rate,
        kind=tap.kind,
        here=float(one.shows[number]),
        there=float(other.shows[number]),
        apart=_apart(fitter, one, other, number),
    )
