"""The next reading: which place and rate would tell two causes apart best."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.reading import ROOM, Kind
from ventsize.studies.diagnosis.fitting import Fit, Fitter
from ventsize.studies.diagnosis.result import NextReading
from ventsize.studies.readings.case import Array
from ventsize.studies.readings.conditions import Conditions
from ventsize.studies.readings.places import AIR, FLUE, Tap, tap_at

ENOUGH = 2.0  # standard deviations; a reading that promises less would not settle it
MOST_RATES = 3  # of a job with many combinations, beside those read
AT_THE_ENDS: tuple[tuple[str, Kind], ...] = (
    ("collar", "pressure"),
    ("terminal", "pressure"),
    ("air pipe", "pressure"),
    (ROOM, "pressure"),
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
    return sorted(found, key=lambda tap: tap.piece != "")


def _same(tap: Tap) -> tuple[object, ...]:
    return (ROOM,) if tap.place == ROOM else (tap.kind, tap.rate, tap.run, tap.position)


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
            for number in dict.fromkeys(piece.number for piece in run.pieces):
                if number is not None:
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
    if found is None:
        return None
    at = found[1]
    return _reading(taps[at], one.shows[at], other.shows[at], apart=_apart(fitter, one, other, at))


COST: dict[str, float] = {
    "collar": 1.0,
    "switch": 2.0,
    "meter": 2.0,
    "air pipe": 2.0,
    ROOM: 2.0,
    "inducer": 3.0,
    "terminal": 5.0,
}
"""What a reading costs a person who is there with a manometer and an analyser: in minutes, about (no source)."""
DRILLED = 15.0  # where there is no port yet


def cost_of(tap: Tap, read: Sequence[Tap]) -> float:
    """What a reading costs; another rate has to be waited for, another instrument fetched."""
    cost = COST.get(tap.place, DRILLED)
    cost += 0.0 if any(one.rate == tap.rate for one in read) else 4.0
    return cost + (0.0 if any(one.kind == tap.kind for one in read) else 2.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A cause as it fits best at a place, or that nothing is wrong. weight: among all, by what was read [-]."""

    kind: str
    shows: Array
    weight: float


def plan(fitter: Fitter, candidates: Sequence[Candidate], *, read: int, drill: bool) -> tuple[NextReading, ...]:
    """The fewest and cheapest readings that tell kinds of causes apart, in the order to take them.

    At each step the one that is to tell most for what it costs, beside those before it. How much readings tell is
    taken from the distances between what candidates would show (Kolchinsky and Tracey, Entropy 2017, 19, 361; from
    memory): no candidate counts for more than its weight, however far off it is. drill: whether for a hole in the pipe
    too.
    """
    taps, open_ = fitter.model.taps, fitter.left_open()
    shows = np.array([one.shows[read:] for one in candidates])
    weights = np.array([one.weight for one in candidates]) / sum(one.weight for one in candidates)
    alike = np.array([[one.kind == other.kind for other in candidates] for one in candidates])
    usable = [
        number
        for number in range(len(taps) - read)
        if np.all(np.isfinite(shows[:, number])) and (drill or taps[read + number].place in COST)
    ]
    chosen: list[int] = []
    told = 0.0
    steps: list[NextReading] = []
    while len(steps) < MOST_STEPS:
        found = [(_told(shows, open_, [*chosen, number], weights, alike) - told, number)
                 for number in usable if number not in chosen]  # fmt: skip
        worth = [(gain / cost_of(taps[read + number], taps[:read]), gain, number) for gain, number in found]
        best = max((one for one in worth if one[1] >= LEAST_TOLD), default=None)
        if best is None:
            break
        _, gain, number = best
        told, chosen = told + gain, [*chosen, number]
        apart = np.abs(shows[:, number] - shows[0, number]) / math.sqrt(open_[number, number])
        other = int(np.argmax(np.where(alike[0], 0.0, weights * -np.expm1(-(apart**2) / 8.0))))
        steps.append(_reading(taps[read + number], *shows[[0, other], number], apart=float(apart[other])))
    return tuple(steps)


def _told(shows: Array, open_: Array, taps: list[int], weights: Array, alike: Array) -> float:
    """What readings would tell of the kind of cause, in natural units of information."""
    white = np.linalg.solve(np.linalg.cholesky(open_[np.ix_(taps, taps)]), shows[:, taps].T).T
    squares = np.sum((white[:, None, :] - white[None, :, :]) ** 2, axis=2)
    like = np.where(alike, 1.0, np.exp(-squares / 8.0))
    return float(-weights @ np.log(like @ weights))


MOST_STEPS = 3
LEAST_TOLD = 0.05  # of information; a reading that promises less is not worth the way


def _apart(fitter: Fitter, one: Fit, other: Fit, number: int) -> float:
    if not (math.isfinite(one.shows[number]) and math.isfinite(other.shows[number])):
        return 0.0
    return fitter.surprise(one.shows, other.shows, number)


def _reading(tap: Tap, here: float, there: float, *, apart: float) -> NextReading:
    return NextReading(
        place=tap.place,
        run=tap.run,
        carries=tap.carries,
        piece=tap.piece,
        rate=tap.rate,
        kind=tap.kind,
        here=float(here),
        there=float(there),
        apart=apart,
    )
