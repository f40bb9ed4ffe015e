"""Readings and symptoms beside the limits from which an appliance is shut off: carbon monoxide, oxygen, flue gas where
none belongs. The limits are those of `check.shut_off`; the readings are judged, not taken as typed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ventsize.check.inputs import Inputs
from ventsize.check.shut_off import (
    FLUE_LIMIT,
    PPM,
    ROOM_LIMIT,
    Excess,
    carbon_monoxide,
    in_air,
    most_urgent_first,
    reading_says,
    symptoms_say,
)
from ventsize.finding import Finding, Where, share
from ventsize.jobfile.reading import ROOM, Reading
from ventsize.studies.readings import slips
from ventsize.studies.readings.result import ReadingFound, ReadingVerdict
from ventsize.studies.readings.symptoms import bridged

FLUE_SERVICE = 100 * PPM  # in flue gas, air-free: calls for service (common practice)


def co_found(inputs: Inputs, number: int, reading: Reading, excess_air: Excess) -> ReadingFound:
    """A reading of carbon monoxide beside its limit; `measured` is air-free in flue gas."""
    where = Where(appliance=reading.appliance, rate=reading.rate or None)
    value, assumed = carbon_monoxide(inputs, reading, excess_air)
    accuracy = max(5 * PPM, 0.05 * value)
    limit = ROOM_LIMIT if reading.place == ROOM or in_air(inputs, reading) else FLUE_LIMIT
    values = {"measured": share(reading.value), "air_free": share(value), "limit": share(limit)}
    because = next(reading_says(inputs, reading, value=value, accuracy=accuracy), None)
    verdict: ReadingVerdict = "expected" if because is None else "high"
    if because is None:
        because = slips.carbon_monoxide(reading, where)
        verdict = "expected" if because is None else "doubtful"
    if because is None and limit == FLUE_LIMIT:
        if value > FLUE_SERVICE:
            verdict, because = "marginal", Finding("co-in-flue-high", where, {**values, "service": share(FLUE_SERVICE)})
        elif assumed is not None:
            because = Finding("co-air-free-assumed", where, {**values, "oxygen": share(assumed)})
    return ReadingFound(
        number=number,
        reading=reading,
        place=reading.place,
        rate=reading.rate,
        kind=reading.kind,
        measured=value,
        accuracy=accuracy,
        accuracy_assumed=reading.accuracy is None,
        expected=None,
        low=None,
        high=limit,
        verdict=verdict,
        because=because,
    )


def stops(inputs: Inputs, found: Sequence[ReadingFound], once: Sequence[ReadingFound] = ()) -> tuple[Finding, ...]:
    """Everything that says to shut the appliance off, the most urgent first; each once.

    once: readings from before a repair that were not taken again. What they say stands until they are.
    """
    now = (*symptoms_say(inputs), *_readings(inputs, found), *bridged(inputs, found))
    return most_urgent_first(now, (*_readings(inputs, once), *bridged(inputs, once)))


def _readings(inputs: Inputs, found: Sequence[ReadingFound]) -> Iterator[Finding]:
    for one in found:
        yield from reading_says(inputs, one.reading, value=one.measured, accuracy=one.accuracy)
