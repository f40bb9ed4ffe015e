"""Marks exercise sheets from what is printed on them, without the program.

A number is followed from the printed givens through the printed formulas; what a table says is read off its printed
rows by rules written out here; a reader of the sheet has no more. Every answer must come out, and be the only right
one.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import NamedTuple

from tests.studies.printed import FUNCTIONS, SYMBOL, Line, Reader, lines_of, put_in
from ventsize.quantity import System
from ventsize.report.exercises.as_text import key_text, sheet_text
from ventsize.report.exercises.words import answer, question, table_grid
from ventsize.studies.exercises import Asked, Exercise, Sheet

ROUNDING = 2e-4  # of numbers printed to six digits, through a chain of some ten lines
NUMBER = r"\(?-?[\d.]+(?:×10\^-?\d+)?\)?"
# Bounds of what is met in practice, wider than the program's own [SI].
VELOCITY, REYNOLDS, LOSS = (0.5, 12.0), (500.0, 80_000.0), (0.3, 600.0)


class Printed(NamedTuple):
    """An exercise as printed: its number, its own text and its part of the key."""

    number: int
    text: str
    key: str


def printed(sheet: Sheet) -> Iterator[Printed]:
    """The exercises of a sheet and their keys, cut out of the printed text."""
    tasks = re.split(r"\nExercise (?=\d+\. )", sheet_text(sheet))[1:]
    keys = re.split(r"\nExercise (?=\d+\. )", key_text(sheet))[1:]
    assert len(tasks) == len(keys) == len(sheet.exercises)
    for number, (text, key) in enumerate(zip(tasks, keys, strict=True), start=1):
        assert text.startswith(f"{number}. ") and key.startswith(f"{number}. ")
        yield Printed(number, text, key)


def number_of(text: str) -> float:
    """A printed number, also with a power of ten."""
    return Reader(f"0 + ({text})" if not text.startswith("(") else f"0 + {text}").value()


def givens_of(text: str) -> dict[str, float]:
    """The numbers told, by symbol, as printed."""
    found = re.findall(rf"^     ({SYMBOL}) = ({NUMBER})(?: |$)", text, flags=re.MULTILINE)
    return {symbol: number_of(value) for symbol, value in found}


def worked_out(one: Printed) -> dict[str, float]:
    """Every line of the key by its printed formula, from the printed givens on.

    What a formula has besides, such as the C that turns units or a length that the story tells, is read where the
    key puts its number in; never the result of a line.
    """
    known = givens_of(one.text)
    lines = list(lines_of(re.split(r"\nCaution", one.key)[0].partition("\n\n")[2]))
    results = {line.symbol for line in lines}
    for line in lines:
        for name, value in _put_side_by_side(line):
            if name == "C" or (name not in known and name not in results):
                known[name] = value
        implicit = line.symbol in re.findall(SYMBOL, line.formula)
        known[line.symbol] = 0.02
        for _ in range(60 if implicit else 1):
            known[line.symbol] = Reader(put_in(line.formula, known)).value()
    return known


def _put_side_by_side(line: Line) -> Iterator[tuple[str, float]]:
    """Each symbol of a formula with the number put in for it."""
    names = re.findall(rf"{SYMBOL}|\d+\.?\d*", _without_functions(line.formula))
    bare = re.sub(r"\[[^\]]*\]", "", _without_functions(line.put_in))
    numbers = re.findall(r"\([\d.]+×10\^-?\d+\)|\d+\.?\d*", bare)
    assert len(names) == len(numbers), line
    yield from ((name, number_of(value)) for name, value in zip(names, numbers, strict=True) if not name[0].isdigit())


def _without_functions(text: str) -> str:
    return re.sub("|".join(FUNCTIONS), "", text)


def mark_numbers(exercise: Exercise, one: Printed) -> None:
    """The printed answer of every question with a number comes out of the printed givens, within its tolerance."""
    reached = worked_out(one) if exercise.key else {}
    for asked in exercise.asked:
        if asked.answer is None or asked.answer.symbol in ("N", "L[a]"):
            continue
        assert asked.answer.symbol in reached, (asked, sorted(reached))
        said = re.search(rf"{re.escape(asked.answer.symbol)} = ({NUMBER})", one.key)
        assert said is not None, asked
        shown = number_of(said[1])
        value = reached[asked.answer.symbol]
        assert math.isclose(value, shown, rel_tol=6e-4 + ROUNDING), (one.text, asked, value, shown)
        assert abs(value / shown - 1.0) < asked.tolerance, asked


def mark_choices(exercise: Exercise, system: System) -> None:
    """One choice is right, it is among those printed, and it says why."""
    for asked in exercise.asked:
        if asked.answer is not None:
            continue
        assert asked.choices.count(asked.choice) == 1, asked
        assert len(set(asked.choices)) == len(asked.choices) >= 2
        assert asked.choice in question(asked, system) and asked.because
        assert answer(asked, system).startswith(asked.choice)


def length_of(text: str) -> float | None:
    """A printed length in meters: `12 ft 6 in`, `3.5 m`; None where none is permitted."""
    if "not permitted" in text:
        return None
    found = re.fullmatch(r"(?:([\d,.]+) ft)?(?: ?(\d+)?(?: ?(\d+)/(\d+))? in)?|([\d.]+) m", text.strip())
    assert found is not None, text
    if found[5]:
        return float(found[5])
    inches = float(found[2] or 0) + (float(found[3]) / float(found[4]) if found[3] else 0.0)
    return float((found[1] or "0").replace(",", "")) * 0.3048 + inches * 0.0254


def power_of(text: str) -> float:
    """A printed input in watts."""
    number, unit = text.replace(",", "").split()
    return float(number) * {"Btu/h": 1055.05585262 / 3600.0, "kW": 1000.0, "W": 1.0}[unit]


class Row(NamedTuple):
    """A printed row."""

    input: float
    size: str
    altitude: tuple[float, float]
    lengths: tuple[float | None, ...]
    minimum: float | None


def rows_of(exercise: Exercise, system: System) -> list[Row]:
    """The rows of the exercise's table as they are printed."""
    heads, cells = table_grid(exercise.runs[0].inputs.tables[exercise.table or ""], system)
    rows = []
    for row in cells:
        named = dict(zip(heads, row, strict=True))
        low, high = (length_of(end) or 0.0 for end in named["altitude"].split(" to "))
        lengths = tuple(length_of(v) for k, v in named.items() if k in ("allowable", "straight") or "elbow" in k)
        minimum = length_of(named[LEAST]) if LEAST in named else None
        rows.append(Row(power_of(named["input"]), named["size"], (low, high), lengths, minimum))
    return rows


LEAST = "at least, straight"


def verdict_of(exercise: Exercise, system: System) -> str:
    """What the printed table says of the exercise's first run, by the rules of such tables, read anew."""
    pictured = exercise.runs[0]
    run, job = pictured.run.run, pictured.inputs.job
    altitude, power = job.site.altitude or 0.0, max(rate.input for rate in job.appliances[0].rates)
    rows = [row for row in rows_of(exercise, system) if row.size == run.first_section.label]
    rows = [row for row in rows if row.altitude[0] - 1e-6 <= altitude <= row.altitude[1] + 1e-6]
    exact = [row for row in rows if math.isclose(row.input, power, rel_tol=1e-4)]
    below, above = [r for r in rows if r.input < power], [r for r in rows if r.input > power]
    if exact:
        read = exact
    elif below and above:
        read = [max(below, key=lambda r: r.input), min(above, key=lambda r: r.input)]
    else:
        return "not covered"
    names = [piece.name for piece in run.pieces if piece.fitting is not None]
    length = math.fsum(piece.length for piece in run.pieces)
    if len(read[0].lengths) > 1:
        return _by_elbows(names, length, read)
    listed = exercise.runs[0].inputs.tables[exercise.table or ""].deductions
    if any(name not in listed for name in names):
        return "incomplete"
    straight = length
    length += math.fsum(listed[name].length or 0.0 for name in names)
    allowed = min(row.lengths[0] or 0.0 for row in read)
    if length > allowed + 1e-6:
        return "over"
    return "short" if any(row.minimum and straight < row.minimum - 1e-6 for row in read) else "within"


def _by_elbows(names: list[str], length: float, read: list[Row]) -> str:
    elbows = names.count("elbow-90-long") + names.count("elbow-90-short") + -(-names.count("elbow-45") // 2)
    allowed = [row.lengths[elbows] if elbows < len(row.lengths) else None for row in read]
    return "within" if all(one is not None and length <= one + 1e-6 for one in allowed) else "over"


def mark_verdict(exercise: Exercise, system: System) -> None:
    """The verdict of the key is that of the printed table."""
    for asked in exercise.asked:
        if asked.text.startswith("What is the verdict"):
            assert asked.choice == verdict_of(exercise, system), (exercise.story, asked, rows_of(exercise, system))
        if asked.answer is not None and asked.answer.symbol == "N":
            names = [piece.name for piece in exercise.runs[0].run.run.pieces]
            expected = names.count("elbow-90-long") + -(-names.count("elbow-45") // 2)
            assert asked.answer.value == expected


def mark_practice(exercise: Exercise) -> None:
    """No gas faster or slower, and no pressure higher or lower, than one meets."""
    for pictured in exercise.runs:
        for rate in pictured.run.rates:
            assert LOSS[0] <= rate.flow.pressure_drop <= LOSS[1]
            for solved in rate.flow.pieces:
                assert VELOCITY[0] <= solved.at.velocity <= VELOCITY[1]
                assert REYNOLDS[0] <= solved.at.reynolds <= REYNOLDS[1]
                assert not 2000.0 < solved.at.reynolds < 4000.0
    for asked in exercise.asked:
        if asked.answer is not None:
            assert math.isfinite(asked.answer.value) and asked.answer.value != 0.0


def mark(sheet: Sheet) -> str:
    """All of it; returns the printed sheet."""
    for exercise, one in zip(sheet.exercises, printed(sheet), strict=True):
        mark_numbers(exercise, one)
        mark_choices(exercise, sheet.system)
        mark_verdict(exercise, sheet.system)
        mark_practice(exercise)
    return sheet_text(sheet)


def asked_of(sheet: Sheet) -> list[Asked]:
    """Every question."""
    return [asked for exercise in sheet.exercises for asked in exercise.asked]
