"""What the readings say on the whole, in a sentence."""

from __future__ import annotations

from collections.abc import Iterable

from ventsize.finding import Finding
from ventsize.studies.diagnosis.result import Diagnosis, Outcome, TableSays
from ventsize.studies.readings.result import ReadingFound, ReadingsStudy


def outcome_of(
    study: ReadingsStudy, by_table: TableSays, *, strange: bool, repeat: ReadingFound | None = None
) -> tuple[Outcome, str]:
    """Whether the readings are as they should be, and why.

    strange: whether together they are not. repeat: a reading that is off, but not taken for a fault.
    """
    off = [reading for reading in study.readings if reading.off and reading is not repeat]
    doubtful = [reading for reading in study.readings if reading.verdict == "doubtful"]
    left = ("is", "it") if len(doubtful) == 1 else ("are", "them")
    again = f"; {_numbers(doubtful)} cannot be right and {left[0]} left out: read {left[1]} again" if doubtful else ""
    if off:
        verb, they = ("is", "it") if len(off) == 1 else ("are", "they")
        in_pipe = [reading for reading in study.readings if reading.run is not None]
        sound = in_pipe and all(reading.verdict == "expected" for reading in in_pipe)
        pipe = ", while those taken in the pipe are" if sound else ""
        return "something is off", f"{_numbers(off)} {verb} not what {they} should be{pipe}{again}"
    if strange:
        return (
            "something is off",
            "each reading by itself could be right, but together they are not what this vent should show" + again,
        )
    if doubtful:
        past = f"; {_past(repeat)}: it is worth repeating too" if repeat is not None else ""
        return "read again", f"the other readings are what this vent should show{past}{again}"
    then = _then(by_table)
    if repeat is None:
        return "as it should be", f"the readings are what this vent should show: as far as they go, {then}"
    return "as it should be", (
        f"all together the readings are what this vent should show, though {_past(repeat)}, as one of several does now "
        f"and then with nothing wrong: it is worth repeating; if it then comes out right, as far as they go, {then}"
    )


def _past(repeat: ReadingFound) -> str:
    return f"{_numbers([repeat])} stands just past its accuracy"


def _then(by_table: TableSays) -> str:
    """What follows from readings as they should be: a vent that reads as calculated can still be too long."""
    if by_table.length_is_off:
        than = "longer" if by_table.verdict == "over" else "shorter"
        return f"no fault is in the vent, but by the table it is {than} than allowed, and that is the finding"
    if by_table.verdict == "within":
        return "the vent is not the fault; look elsewhere"
    return "the vent is not the fault, but no table settles whether its length is allowed"


def _numbers(readings: Iterable[ReadingFound]) -> str:
    numbers = [str(reading.number) for reading in readings]
    return f"reading {numbers[0]}" if len(numbers) == 1 else f"readings {', '.join(numbers[:-1])} and {numbers[-1]}"


def without_causes(study: ReadingsStudy, by_table: TableSays, said: Finding | None = None) -> Diagnosis:
    """The answer where causes cannot be compared."""
    off = [reading for reading in study.readings if reading.off]
    doubtful = [reading for reading in study.readings if reading.verdict == "doubtful"]
    outcome: Outcome = "something is off" if off else "read again" if doubtful else "nothing to compare"
    reason = "no reading can be compared with what this vent should show"
    if off or said:
        outcome, reason = outcome_of(study, by_table, strange=False)
    elif doubtful:
        reason = f"{_numbers(doubtful)} cannot be right: read again"
    return Diagnosis(
        title=study.title,
        outcome=outcome,
        reason=reason,
        readings=study,
        by_table=by_table,
        repeat=None,
        chi_square=0.0,
        chance=1.0,
        groups=(),
        against_next=(),
        unseen=(),
        noticed=(),
        verified=None,
        cautions=(*([said] if said else []), *study.cautions),
    )
