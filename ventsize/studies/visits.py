"""Visits: what was found on one, and what has changed since another."""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from ventsize.check.inputs import Inputs, prepare
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check
from ventsize.finding import Outcome
from ventsize.jobfile.differences import Difference, differences
from ventsize.jobfile.document import validate
from ventsize.jobfile.editing.readings import repaired
from ventsize.jobfile.editing.values import Data, clear, items, put
from ventsize.jobfile.job import job_from_data
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.reading import Kind, Reading
from ventsize.jobfile.ticks import Tick
from ventsize.jobfile.visits import Visit, visit_data
from ventsize.quantity import Dimension, QuantityError, parse
from ventsize.studies.checkover import MET, NOT_MET, OPEN, check_over
from ventsize.studies.checkover.rules import CheckOverRules
from ventsize.studies.diagnosis import diagnose
from ventsize.studies.diagnosis.result import Diagnosis
from ventsize.studies.readings import readings
from ventsize.studies.readings.margins import accuracy_of
from ventsize.studies.readings.places import Tap

_ROUNDED = 0.021  # m; a tenth of a foot, and a hundredth of a meter, each rounded
SAME, CHANGED, NEW, GONE = "the same", "changed", "new", "not there now"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingChange:
    """A reading at one place and rate, then and now; None where it was not taken.

    change: [Pa], [K] or [-]; accuracy: of both instruments together, as stated or the usual one, in the same unit.
    verdict: the same (within that accuracy), changed, new, or not there now.
    """

    place: str
    rate: str
    kind: Kind
    was: Reading | None
    now: Reading | None
    change: float | None
    accuracy: float | None
    verdict: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TickChange:
    """A rule ticked off at a place, then and now; None where it was not."""

    rule: str
    at: str
    was: Tick | None
    now: Tick | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MarginChange:
    """What is left of a run's allowance, then and now, as written; None where there was no figure."""

    run: str
    was: str | None
    now: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitChanges:
    """What is different at the later of two visits.

    readings: every one of either; margins, ticks, job: those that differ. not_met, met_again: rules newly not met,
    and those that no longer are.
    """

    was: Visit
    now: Visit
    readings: tuple[ReadingChange, ...]
    margins: tuple[MarginChange, ...]
    ticks: tuple[TickChange, ...]
    not_met: tuple[str, ...]
    met_again: tuple[str, ...]
    job: tuple[Difference, ...]

    @property
    def nothing(self) -> bool:
        """Whether all is as it was."""
        changed = any(reading.verdict != SAME for reading in self.readings)
        verdict = self.was.verdict != self.now.verdict
        return not (changed or verdict or self.margins or self.ticks or self.not_met or self.met_again or self.job)


def visit_now(
    inputs: Inputs,
    data: Mapping[str, Any],
    *,
    date: datetime.date,
    reason: Callable[[Outcome], str],
    length: Callable[[float], str],
    time: str = "",
    by: str = "",
    note: str = "",
    photos: Sequence[str] = (),
    checked: JobCheck | None = None,
    rules: CheckOverRules | None = None,
) -> Data:
    """The visit of a job as it stands, as data for its file. Raises InputError as `check_over` does.

    data: of the job's file, from which `inputs` were read. reason: the words for what settles the verdict, length:
    those for a length [m]; a visit keeps what was read on its day.
    """
    checked = checked or check(inputs)
    over = check_over(inputs, checked=checked, rules=rules)
    return visit_data(
        data,
        date=date,
        time=time,
        by=by,
        note=note,
        verdict=checked.verdict,
        reason=reason(checked.decides),
        margins={run.run.name: length(run.margin) for run in checked.runs if run.margin is not None},
        not_met=[" at ".join(filter(None, item.key)) for item in over.having(NOT_MET)],
        met=len(over.having(MET)),
        to_do=len(over.having(OPEN)),
        photos=list(photos),
    )


def as_visit(data: Data) -> Visit:
    """The visit that such data describe."""
    return validate(data, Visit, file="")


def compare(was: Visit, now: Visit) -> VisitChanges:
    """What is different at `now`."""
    margins = dict.fromkeys([*now.margins, *was.margins])
    ticks = {(tick.rule, tick.at): tick for tick in was.checked}
    ticked = {(tick.rule, tick.at): tick for tick in now.checked}
    return VisitChanges(
        was=was,
        now=now,
        readings=tuple(_reading_changes(was.readings, now.readings)),
        margins=tuple(
            MarginChange(run=run, was=was.margins.get(run), now=now.margins.get(run))
            for run in margins
            if not _same_length(was.margins.get(run), now.margins.get(run))
        ),
        ticks=tuple(
            TickChange(rule=key[0], at=key[1], was=ticks.get(key), now=ticked.get(key))
            for key in dict.fromkeys([*ticked, *ticks])
            if ticks.get(key) != ticked.get(key)
        ),
        not_met=tuple(rule for rule in now.not_met if rule not in was.not_met),
        met_again=tuple(rule for rule in was.not_met if rule not in now.not_met),
        job=differences(was.data, now.data),
    )


def since_last(visits: Sequence[Visit], now: Visit) -> VisitChanges | None:
    """What is different since the last visit; where the job is still as that one kept it, since the one before.

    A visit is never compared with itself: None where there is no other.
    """
    if not visits:
        return None
    last = visits[-1]
    kept = last.date == now.date and _holds(last) == _holds(now)
    if not kept:
        return compare(last, now)
    return compare(visits[-2], last) if len(visits) > 1 else None


def _holds(visit: Visit) -> tuple[object, ...]:
    """What a visit keeps of a job."""
    return visit.job, visit.readings, visit.symptoms, visit.checked


def _same_length(one: str | None, other: str | None) -> bool:
    """Whether two lengths as written are the same but for rounding, in whichever units."""
    if one is None or other is None or one == other:
        return one == other
    try:
        a, b = (parse(text, Dimension.LENGTH, signed=True) for text in (one, other))
    except QuantityError:
        return False
    return abs(a - b) <= _ROUNDED


def _key(reading: Reading) -> tuple[str, ...]:
    return reading.place, reading.run or "", reading.appliance or "", reading.rate, reading.kind


def _reading_changes(was: Sequence[Reading], now: Sequence[Reading]) -> Iterator[ReadingChange]:
    """By place, rate and kind; of several readings alike, the last one of each visit."""
    before, after = ({_key(reading): reading for reading in readings} for readings in (was, now))
    for key in dict.fromkeys([*after, *before]):
        old, new = before.get(key), after.get(key)
        kind = (new or before[key]).kind
        place = ", ".join(filter(None, key[:3]))
        if old is None or new is None:
            verdict, change, accuracy = (NEW if old is None else GONE), None, None
        else:
            change = new.value - old.value
            accuracy = math.hypot(_accuracy(old), _accuracy(new))
            verdict = SAME if abs(change) <= accuracy + 1e-9 else CHANGED
        yield ReadingChange(
            place=place, rate=key[3], kind=kind, was=old, now=new, change=change, accuracy=accuracy, verdict=verdict
        )


def _accuracy(reading: Reading) -> float:
    """Of the instrument, as stated or else the usual one, in the unit of the reading."""
    return accuracy_of(reading, Tap(kind=reading.kind, place=reading.place, rate=reading.rate, appliance=""))


def stale_readings(now: Visit, last: Visit | None) -> int:
    """How many readings are those of the last visit, to the letter: perhaps not taken anew."""
    return sum(reading in last.readings for reading in now.readings) if last else 0


def for_a_new_visit(data: Data, inputs: Inputs, last: Visit | None) -> Data:
    """A job's data for a new visit: without the readings that the last one kept; inputs: those of the data.

    What says to shut the appliance off is not taken out. It stands, as from before a repair, until it is read again.
    """
    if last is None:
        return data
    old = [reading in last.readings for reading in inputs.job.readings]
    try:
        alarm = bool(readings(inputs).stops)
    except InputError:
        alarm = True  # what cannot be judged is no all-clear
    if alarm:
        return repaired(data, f"read on the visit of {last.date.isoformat()}", which=old)
    left = [typed for typed, kept in zip(items(data, ("reading",)), old, strict=True) if not kept]
    return put(data, ("reading",), left) if left else clear(data, ("reading",))


def title_of(visit: Visit) -> str:
    """What the job was called that day."""
    return str(visit.data.get("title", ""))


def diagnosis_of(visit: Visit, job: Path) -> Diagnosis | InputError | None:
    """What was read and seen on a visit means; None where nothing was, the fault where the job of that day is none."""
    if not (visit.readings or visit.symptoms):
        return None
    file = str(job)
    try:
        whole = job_from_data(visit.data, file=file)
        there = replace(whole, readings=visit.readings, symptoms=visit.symptoms)
        return diagnose(prepare(there, file=file, beside=job.parent))
    except InputError as error:
        return error


def photos_missing(visit: Visit, beside: Path) -> tuple[str, ...]:
    """The photos of a visit that are not beside the job."""
    return tuple(name for name in visit.photos if not (beside / name).exists())
