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
)


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
    """What to read next to tell one cause from another; None where nothing would.

    read: how many taps of the model have been read; the others could be, those without a hole in the pipe first.
    """
    taps = fitter.model.taps
    best: NextReading | None = None
    for number in range(read, len(taps)):
        tap = taps[number]
        if not (math.isfinite(one.shows[number]) and math.isfinite(other.shows[number])):
            continue
        if tap.place.startswith("after piece") and best is not None and best.apart >= ENOUGH:
            break
        gained = fitter.surprise(one.shows, other.shows, number)
        if gained >= 0.5 and (best is None or gained > best.apart):
            best = NextReading(
                place=tap.place,
                run=tap.run,
                carries=tap.carries,
                piece=tap.piece,
                rate=tap.rate,
                kind=tap.kind,
                here=float(one.shows[number]),
                there=float(other.shows[number]),
                apart=gained,
            )
    return best
