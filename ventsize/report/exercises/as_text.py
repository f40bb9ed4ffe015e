"""A sheet of exercises as text, its key, and the grid of answers of a class."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ventsize.quantity import System
from ventsize.report.class_words import sketch_lines, table_lines
from ventsize.report.exercises import words
from ventsize.report.text_parts import WIDTH, as_text, head, sentences, wrapped
from ventsize.studies.exercises import Exercise, Sheet

SKETCH_HEIGHT = 14


@as_text
def sheet_text(sheet: Sheet, name: str = "") -> Iterator[str]:
    """The exercises, without their answers."""
    yield from head(f"{words.title_of_sheet(sheet)}   {words.which(sheet, name)}")
    yield from wrapped(words.CAUTION)
    yield from wrapped(words.HOW)
    for number, exercise in enumerate(sheet.exercises, start=1):
        yield ""
        yield from _exercise(number, exercise, sheet.units)


def _exercise(number: int, exercise: Exercise, system: System) -> Iterator[str]:
    yield f"Exercise {number}. {words.TITLES[exercise.code]}"
    for sentence in words.story(exercise, system):
        yield from _indented(sentence)
    for pictured in exercise.runs:
        lines = sketch_lines(pictured.run.run, system, width=WIDTH - 6, height=SKETCH_HEIGHT)
        yield from (f"     {line}".rstrip() for line in ([pictured.title, *lines] if len(exercise.runs) > 1 else lines))
    if exercise.table:
        yield from _table(exercise, system)
    if exercise.givens:
        yield "   Given"
        for given in exercise.givens:
            symbol, name, value = words.given_cells(given, system)
            yield from wrapped(f"     {symbol} = {value}   {name}", "       ")
    if exercise.formulas:
        yield "   Formulas"
        for formula, gives in words.formula_cells(exercise, system):
            yield from wrapped(f"     {formula};  {gives}", "       ")
    for place, asked in enumerate(exercise.asked):
        yield from wrapped(f"   {words.letter(place)}) {words.question(asked, system)}", "      ")
        yield f"      answer {'_' * 24}"


def _indented(sentence: str) -> list[str]:
    return wrapped(f"   {sentence}", "   ")


def _table(exercise: Exercise, system: System) -> Iterator[str]:
    shown = exercise.runs[0].inputs.tables[exercise.table or ""]
    yield f"   {shown.title} ({shown.source})"
    for line in table_lines(shown, system, width=WIDTH):
        yield from wrapped(f"   {line}", "       ")
    listed = words.listed_deductions(exercise, system)
    if listed:
        yield from _indented("The list of fittings: " + "; ".join(f"{name} {length}" for name, length in listed) + ".")
    for rule in words.rules(exercise):
        yield from _indented(rule)


@as_text
def key_text(sheet: Sheet, name: str = "") -> Iterator[str]:
    """The answers, with the working."""
    yield from head(f"Key   {words.title_of_sheet(sheet)}   {words.which(sheet, name)}")
    for number, exercise in enumerate(sheet.exercises, start=1):
        yield ""
        yield f"Exercise {number}. {words.TITLES[exercise.code]}"
        for place, asked in enumerate(exercise.asked):
            yield from wrapped(f"   {words.letter(place)}) {words.answer(asked, sheet.units)}", "      ")
        lines = words.key_cells(exercise, sheet.units)
        yield from ([""] if lines else [])
        for formula, with_numbers, gives in lines:
            yield from wrapped(f"     {formula} = {with_numbers} = {gives}", "       ")
    yield from sentences("Caution", (words.CAUTION,))


def grid(sheets: Sequence[Sheet], names: Sequence[str]) -> tuple[list[str], list[list[str]]]:
    """The answers of a class: a row a student, a column a question. Empty where a sheet has no such question."""
    columns = [f"{number}{words.letter(at)}"
               for number in range(1, max(len(one.exercises) for one in sheets) + 1)
               for at in range(max(len(one.exercises[number - 1].asked) for one in sheets))]  # fmt: skip
    rows = []
    for sheet, name in zip(sheets, names, strict=True):
        found = {f"{number}{words.letter(at)}": words.short_answer(asked, sheet.units)
                 for number, exercise in enumerate(sheet.exercises, start=1)
                 for at, asked in enumerate(exercise.asked)}  # fmt: skip
        rows.append([name or str(sheet.student), *(found.get(column, "") for column in columns)])
    return ["student", *columns], rows
