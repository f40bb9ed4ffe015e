"""Words for the findings of `finding.codes.TABLE`. Rows are quoted as the table writes them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from ventsize.finding import Amount
from ventsize.quantity import Dimension, show, show_apart, show_length

if TYPE_CHECKING:
    from ventsize.report.wording import Values

TOO_SMALL_FOR_SIXTEENTHS = 0.0016  # m; below it a margin would read as none


def exact(values: Values, name: str) -> str:
    """A length; a tiny one is not rounded away."""
    amount = values.raw[name]
    assert isinstance(amount, Amount)
    if 0.0 < amount.value < TOO_SMALL_FOR_SIXTEENTHS:
        return show(amount.value, Dimension.LENGTH, values.system, style="fine")
    return show_length(amount.value, values.system)


def elbows(count: object) -> str:
    """no elbow, 1 elbow, 3 elbows."""
    return "no elbow" if count == 0 else f"{count} elbow{'' if count == 1 else 's'}"


def _compared(values: Values) -> str:
    if "elbows" not in values.raw:
        return f"Equivalent length {exact(values, 'compared')}"
    added = values.raw["added"]
    more = isinstance(added, Amount) and added.value > 0.0
    of_it = f" ({exact(values, 'added')} of it for other fittings)" if more else ""
    return f"Straight length {exact(values, 'compared')}{of_it} with {elbows(values.raw['elbows'])}"


def _row(values: Values) -> str:
    between = f"; the input lies between {values['lower']} and {values['higher']}" if "lower" in values.raw else ""
    return f"row {values.where.row} ({values['label']}{between})"


def _length_within(values: Values) -> str:
    left = values.raw["left"]
    assert isinstance(left, Amount)
    if left.value <= 0.0:
        return f"{_compared(values)} is just what {_row(values)} allows."
    return (
        f"{_compared(values)} is within the {exact(values, 'allowed')} allowed by {_row(values)}, "
        f"{exact(values, 'left')} to spare."
    )


def _length_over(values: Values) -> str:
    return (
        f"{_compared(values)} is {exact(values, 'beyond')} over the {exact(values, 'allowed')} allowed by "
        f"{_row(values)}."
    )


def _length_short(values: Values) -> str:
    return (
        f"{exact(values, 'straight')} of straight pipe is {exact(values, 'short')} short of the "
        f"{exact(values, 'least')} minimum by {_row(values)}."
    )


def _elbows_not_permitted(values: Values) -> str:
    return f"The run counts {elbows(values.raw['elbows'])}. {_most(values)}"


def _elbows_not_listed(values: Values) -> str:
    return f"Too many elbows: the run counts {elbows(values.raw['elbows'])}. {_most(values)}"


def _most(values: Values) -> str:
    row = _row(values)
    return f"{row[0].upper()}{row[1:]} permits {elbows(values.raw['most'])} at most."


def _no_pipe(values: Values) -> str:
    return f"{_row(values)[0].upper()}{_row(values)[1:]} permits no pipe at all."


def _too_many(values: Values) -> str:
    most = values.raw["most"]
    permitted = "no elbow" if most == 0 else f"no more than {elbows(most)}"
    where = "in vent and air pipe together" if values.raw["together"] else "in one run"
    return f"Too many elbows: {values['elbows']} of more than 30 degrees, and the table permits {permitted} {where}."


def _within_limit(values: Values) -> str:
    return f"{elbows(values.raw['elbows']).capitalize()} of more than 30 degrees; {values['most']} are permitted."


def _no_input(values: Values) -> str:
    labels, asked, nearest = _texts(values, "inputs"), values.raw["input"], values.raw["nearest"]
    assert isinstance(asked, Amount) and isinstance(nearest, Amount)
    shown, near = show_apart(asked.value, nearest.value, Dimension.POWER, values.system)
    covered = f"only {near}" if len(labels) == 1 else f"{labels[0]} to {labels[-1]}"
    return f"An input of {shown} is outside the rows for {values['size']} pipe at this altitude, which cover {covered}."


def _texts(values: Values, name: str) -> tuple[str, ...]:
    found = values.raw[name]
    return found if isinstance(found, tuple) else (str(found),)


_ENDS = {"entrance-open": "the air pipe's open end", "terminal-open": "the open end"}


def _no_deduction(values: Values) -> str:
    name = str(values["fitting"])
    said = f"{_ENDS[name]} ({name})" if name in _ENDS else name
    return f"The table has no deduction for {said}. It needs one: 0 where the maker includes it."


WORDS: dict[str, str | Callable[[Values], str]] = {
    "altitude-in-table": "The table covers an altitude of {altitude:altitude}.",
    "altitude-missing": "The job gives no altitude, and the table's rows are for bands of altitude.",
    "altitude-not-in-table": "No row for {size} pipe covers an altitude of {altitude:altitude}. The table's bands are "
    "{bands:,}.",
    "counted-apart": "The table counts vent and air lengths together, and {runs} is judged by another table. "
    "One table must judge them all.",
    "counted-with-its-table": "Everything the table counts together is judged by it.",
    "counted-without": "The table adds vent and air lengths together; no run of {gases} is counted here.",
    "elbows-not-limited": "The table sets no limit to the number of elbows.",
    "elbows-not-listed": _elbows_not_listed,
    "elbows-not-permitted": _elbows_not_permitted,
    "elbows-within-limit": _within_limit,
    "end-not-listed": "The table deducts for a terminal ({charged:,}), and the run lists none.",
    "fittings-in-table": "The table has a figure for every fitting of the run.",
    "gas-in-table": "The table is for {meant}.",
    "gas-not-in-table": "The table is for {meant}, and this run carries {carries}.",
    "input-between-rows": "The input {input} lies between the rows for {lower} and {higher}. The stricter of the two "
    "counts ({used}).",
    "input-in-table": "The table covers an input of {input}.",
    "input-not-in-table": _no_input,
    "length-enough": lambda values: (
        f"{exact(values, 'straight')} of straight pipe is no less than the {exact(values, 'least')} minimum."
    ),
    "length-from-job": "{fitting} counts {length} by the job, not by the table.",
    "length-over": _length_over,
    "length-short": _length_short,
    "length-within": _length_within,
    "mixed-sizes": "Mixed sizes ({sizes:,}): the full length is checked against each size; the strictest row decides.",
    "no-deduction": _no_deduction,
    "no-deduction-at-size": "The table has no deduction for {fitting} at its size. It lists {listed:,}.",
    "no-minimum": "The table states no minimum length.",
    "no-pipe-permitted": _no_pipe,
    "no-table-applies": "None of the job's tables applies to {carries}.",
    "no-table-named": "The job names no allowance table.",
    "nothing-to-look-up": "The run has no pipe and no fitting to look up.",
    "several-tables-apply": "Several of the job's tables apply to {carries} ({tables}). Name the run's own with "
    "table = '...'.",
    "size-in-table": "The table has rows for {sizes} pipe.",
    "size-not-in-table": "The table has no row for {sizes: or} pipe. It covers {listed:,}.",
    "table-named": "An allowance table judges this run.",
    "too-many-elbows": _too_many,
    "way-length-unknown": "One of these runs has no length by its table, so the whole way has none.",
    "way-not-permitted": "The row {label} permits no pipe with so many elbows on the whole way.",
    "way-over": "Together {compared}, {beyond} over the shortest allowance on the way, {allowed}.",
    "way-short": "Together {straight} of straight pipe, below the least length of {least}.",
    "way-within": "Together {compared}, within the shortest allowance on the way, {allowed}.",
}
