"""What the readings say on the whole."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ventsize.finding import Finding
from ventsize.studies.diagnosis.result import Diagnosis, Outcome, TableSays
from ventsize.studies.readings.result import ReadingFound, ReadingsStudy


def outcome_of(
    study: ReadingsStudy,
    by_table: TableSays,
    *,
    strange: bool,
    unexplained: Sequence[ReadingFound] = (),
    repeat: ReadingFound | None = None,
) -> tuple[Outcome, tuple[Finding, ...]]:
    """Whether the readings are as they should be, and why.

    strange: whether together they are not. unexplained: readings that are off, but not taken for a fault. repeat: the
    only one of them, where it is just past.
    """
    marginal = [reading for reading in study.readings if reading.at_the_edge]
    off = [reading for reading in study.readings if reading.off and reading not in unexplained]
    doubtful = [reading for reading in study.readings if reading.verdict == "doubtful"]
    again = _said("readings-cannot-be-right", doubtful)
    if strange or len(off) > len(marginal):
        off = [reading for reading in study.readings if reading.off]
        in_pipe = [reading for reading in study.readings if reading.run is not None and reading.compared]
        sound = off and in_pipe and all(reading.verdict == "expected" for reading in in_pipe)
        code = "readings-off-beside-the-pipe" if sound else "readings-off"
        reasons = _said(code, off) or (Finding("readings-off-together"),)
        return "something is off", (*reasons, *again)
    past = _said("reading-marginal", marginal) + _said("reading-just-past", [] if repeat is None else [repeat])
    unclear = _said("readings-not-explained", [] if repeat is not None else unexplained)
    if marginal and not doubtful and not unclear:
        return "as it should be", (*past, Finding("other-readings-as-they-should-be"))
    if doubtful or unclear:
        return "read again", (*unclear, Finding("other-readings-as-they-should-be"), *past, *again)
    return "as it should be", (Finding("readings-as-they-should-be"), *past, _then(by_table))


def _then(by_table: TableSays) -> Finding:
    """What follows from readings as they should be: a vent that reads as calculated can still be too long."""
    if by_table.length_is_off:
        return Finding("length-is-the-finding", values={"verdict": by_table.verdict})
    return Finding("look-elsewhere" if by_table.verdict == "within" else "length-not-settled")


def _said(code: str, readings: Iterable[ReadingFound]) -> tuple[Finding, ...]:
    numbers = tuple(str(reading.number) for reading in readings)
    return (Finding(code, values={"readings": numbers}),) if numbers else ()


def without_causes(study: ReadingsStudy, by_table: TableSays, said: Finding | None = None) -> Diagnosis:
    """The answer where causes cannot be compared."""
    off = [reading for reading in study.readings if reading.off]
    doubtful = [reading for reading in study.readings if reading.verdict == "doubtful"]
    outcome: Outcome = "something is off" if off else "read again" if doubtful else "nothing to compare"
    reasons: tuple[Finding, ...] = (Finding("nothing-to-compare"),)
    if off or said:
        outcome, reasons = outcome_of(study, by_table, strange=False)
    elif doubtful:
        reasons = _said("readings-cannot-be-right", doubtful)
    return Diagnosis(
        title=study.title,
        outcome=outcome,
        reasons=reasons,
        readings=study,
        by_table=by_table,
        repeat=None,
        chi_square=0.0,
        chance=1.0,
        groups=(),
        against_next=(),
        plan=(),
        two=None,
        unseen=(),
        hardly_shown=(),
        noticed=(),
        verified=None,
        cautions=(*([said] if said else []), *study.cautions),
    )
