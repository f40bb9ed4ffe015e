"""What an exercise says, in words and figures that text and paper share."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.allowance.model import AllowanceTable, Row
from ventsize.quantity import System, show_fraction, show_length, show_power
from ventsize.report.wording import reason
from ventsize.report.working import digits, number_in_words
from ventsize.studies.exercises import Asked, Sheet
from ventsize.studies.working.steps import Given, unit_of

CAUTION = (
    "Appliances, runs and tables here are invented for practice. Never size a vent from them: the maker's "
    "instructions and the local code decide, and the work belongs to a licensed installer."
)
HOW = (
    "C turns the units of a formula into those of its result. A result by hand is right within the share that stands "
    "beside the question."
)
ANSWER_DIGITS = 4


def title_of(sheet: Sheet) -> str:
    """What the sheet is called."""
    return f"Exercises: {sheet.topic}, level {sheet.level}"


def which(sheet: Sheet) -> str:
    """What brings the same sheet again."""
    return f"Sheet {sheet.seed}, student {sheet.student}"


def letter(number: int) -> str:
    """a, b, c, ... for the questions of an exercise, counted from 0."""
    return "abcdefghijklmnopqrstuvwxyz"[number]


def given_cells(given: Given, system: System) -> tuple[str, str, str]:
    """A number to start from: its symbol, what it is, and the number with its unit."""
    return given.symbol, given.name, number_in_words(given, system)


def question(asked: Asked, system: System) -> str:
    """A question with the unit of its answer and how near it has to be, or with its choices."""
    if asked.answer is None:
        return f"{asked.text} {', '.join(asked.choices[:-1])} or {asked.choices[-1]}"
    unit = unit_of(asked.answer.kind, system).label
    near = f"within {show_fraction(asked.tolerance)}" if asked.tolerance else "exactly"
    return f"{asked.text} ({unit or 'a number'}, {near})"


def answer(asked: Asked, system: System) -> str:
    """The right answer, with what else counts as right or why it is so."""
    if asked.answer is None:
        because = asked.because if isinstance(asked.because, str) else reason(asked.because, system, with_run=False)
        return f"{asked.choice}. {because}".strip()
    unit = unit_of(asked.answer.kind, system)
    value = asked.answer.value / unit.factor
    found = f"{asked.answer.symbol} = {_short(value)} {unit.label}".rstrip()
    if not asked.tolerance:
        return found
    low, high = sorted(value * (1.0 + way * asked.tolerance) for way in (-1, 1))
    return f"{found}; right from {_short(low)} to {_short(high)}"


def _short(value: float) -> str:
    return digits(float(f"{value:.{ANSWER_DIGITS}g}")).strip("()")


def table_grid(table: AllowanceTable, system: System) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """An allowance table as a grid: its heads and its rows."""
    most = max((len(row.allowable_by_elbows) for row in table.rows if row.allowable_by_elbows), default=0)
    minimum = any(row.minimum is not None for row in table.rows)
    heads = ["input", "size", "altitude", *([_elbows(n) for n in range(most)] or ["allowable"])]
    heads += ["at least, straight"] if minimum else []
    return tuple(heads), [tuple(_cells(row, minimum, system)) for row in table.rows]


def _elbows(count: int) -> str:
    return "straight" if count == 0 else f"{count} elbow{'s' if count > 1 else ''}"


def _cells(row: Row, minimum: bool, system: System) -> Iterator[str]:
    yield show_power(row.input, system)
    yield row.size_label
    yield row.band_label
    for length in (row.allowable,) if row.allowable_by_elbows is None else row.allowable_by_elbows:
        yield show_length(length, system) if isinstance(length, float) else "not permitted"
    if minimum:
        yield "" if row.minimum is None else show_length(row.minimum, system)


def deductions_of(table: AllowanceTable, system: System) -> list[tuple[str, str]]:
    """What it deducts for each fitting."""
    return [(name, show_length(one.largest, system)) for name, one in table.deductions.items()]
