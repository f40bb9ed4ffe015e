"""What the readings say on the whole, in a sentence."""

from __future__ import annotations

from collections.abc import Iterable

from ventsize.studies.diagnosing.result import Diagnosis, Outcome, ReadingFound, ReadingsStudy


def outcome_of(study: ReadingsStudy, *, strange: bool) -> tuple[Outcome, str]:
    """Whether the readings are as they should be, and why; strange: whether together they are not."""
    off = [reading for reading in study.readings if reading.verdict in ("high", "low")]
    doubtful = [reading for reading in study.readings if reading.verdict == "doubtful"]
    left = ("is", "it") if len(doubtful) == 1 else ("are", "them")
    again = f"; {_numbers(doubtful)} cannot be right and {left[0]} left out: read {left[1]} again" if doubtful else ""
    if off:
        verb, they = ("is", "it") if len(off) == 1 else ("are", "they")
        in_pipe = [reading for reading in study.readings if reading.where.startswith(("'", "collar"))]
        sound = in_pipe and all(reading.verdict == "expected" for reading in in_pipe)
        pipe = ", while those taken in the pipe are" if sound else ""
        return "something is off", f"{_numbers(off)} {verb} not what {they} should be{pipe}{again}"
    if strange:
        return (
            "something is off",
            "each reading by itself could be right, but together they are not what this vent should show" + again,
        )
    if doubtful:
        return "read again", f"the other readings are what this vent should show{again}"
    return (
        "as it should be",
        "the readings are what this vent should show: as far as they go, the vent is not the fault; look elsewhere",
    )


def _numbers(readings: Iterable[ReadingFound]) -> str:
    numbers = [str(reading.number) for reading in readings]
    return f"reading {numbers[0]}" if len(numbers) == 1 else f"readings {', '.join(numbers[:-1])} and {numbers[-1]}"


def without_causes(study: ReadingsStudy, said: str = "") -> Diagnosis:
    """The answer where causes cannot be compared."""
    off = [reading for reading in study.readings if reading.verdict in ("high", "low")]
    doubtful = [reading for reading in study.readings if reading.verdict == "doubtful"]
    outcome: Outcome = "something is off" if off else "read again" if doubtful else "nothing to compare"
    reason = "no reading can be compared with what this vent should show"
    if off or said:
        outcome, reason = outcome_of(study, strange=False)
    elif doubtful:
        reason = f"{_numbers(doubtful)} cannot be right: read again"
    return Diagnosis(
        title=study.title,
        outcome=outcome,
        reason=reason,
        readings=study,
        chi_square=0.0,
        chance=1.0,
        groups=(),
        against_next=(),
        unseen=(),
        noticed=(),
        verified=None,
        cautions=(*([said] if said else []), *study.cautions),
    )
