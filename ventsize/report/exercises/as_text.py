"""A sheet of exercises as text, and its key."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.quantity import System
from ventsize.report.exercises import words
from ventsize.report.text_parts import WIDTH, head, sentences, table, wrapped
from ventsize.report.working import step_lines
from ventsize.studies.exercises import Exercise, Sheet


def sheet_text(sheet: Sheet) -> str:
    """The exercises, without their answers."""
    return "\n".join(_sheet(sheet))


def key_text(sheet: Sheet) -> str:
    """The answers, with the working."""
    return "\n".join(_key(sheet))


def _sheet(sheet: Sheet) -> Iterator[str]:
    yield from head(f"{words.title_of(sheet)}   {words.which(sheet)}")
    yield from wrapped(words.CAUTION)
    yield from wrapped(words.HOW)
    for number, exercise in enumerate(sheet.exercises, start=1):
        yield ""
        yield from _exercise(number, exercise, sheet.system)


def _exercise(number: int, exercise: Exercise, system: System) -> Iterator[str]:
    yield f"Exercise {number}. {exercise.title}"
    for sentence in exercise.story:
        yield from _indented(sentence)
    if exercise.table:
        yield from _table(exercise, system)
    if exercise.givens:
        yield "   Given"
        for given in exercise.givens:
            symbol, name, value = words.given_cells(given, system)
            yield from wrapped(f"     {symbol} = {value}   {name}", "       ")
    for place, asked in enumerate(exercise.asked):
        yield from wrapped(f"   {words.letter(place)}) {words.question(asked, system)}", "      ")


def _indented(sentence: str) -> list[str]:
    return wrapped(f"   {sentence}", "   ")


def _table(exercise: Exercise, system: System) -> Iterator[str]:
    shown = exercise.runs[0].inputs.tables[exercise.table or ""]
    heads, rows = words.table_grid(shown, system)
    yield f"   {shown.title} ({shown.source})"
    widths = [max(len(row[at]) for row in [heads, *rows]) + 2 for at in range(len(heads))]
    if sum(widths) + 2 <= WIDTH:
        yield from table(list(zip(heads, widths, strict=True)), rows)
    else:  # lengths by number of elbows: a row is a paragraph
        for row in rows:
            lengths = "; ".join(f"{head} {cell}" for head, cell in zip(heads[3:], row[3:], strict=True))
            yield from wrapped(f"     {', '.join(row[:3])}: {lengths}", "       ")
    deducted = "; ".join(f"{name} {length}" for name, length in words.deductions_of(shown, system))
    if deducted:
        yield from _indented(f"Deductions: {deducted}.")


def _key(sheet: Sheet) -> Iterator[str]:
    yield from head(f"Key   {words.title_of(sheet)}   {words.which(sheet)}")
    for number, exercise in enumerate(sheet.exercises, start=1):
        yield ""
        yield f"Exercise {number}. {exercise.title}"
        for place, asked in enumerate(exercise.asked):
            yield from wrapped(f"   {words.letter(place)}) {words.answer(asked, sheet.system)}", "      ")
        for line, step in enumerate(exercise.key, start=1):
            yield ""
            yield from step_lines(line, step, sheet.system)
    yield from sentences("Caution", (words.CAUTION,))
