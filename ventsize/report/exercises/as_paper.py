"""Sheets of exercises as a paper to hand out, and their keys."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ventsize.quantity import System
from ventsize.report.drawing.route import route
from ventsize.report.drawing.strip import strip
from ventsize.report.exercises import words
from ventsize.report.paper import (
    Beside,
    Blanks,
    Block,
    Callout,
    Column,
    Facts,
    Figure,
    Heading,
    PageBreak,
    Paper,
    Paragraph,
    Room,
    Table,
)
from ventsize.report.paper.formulas import formula_blocks
from ventsize.studies.exercises import Exercise, Pictured, Sheet

_LINES_A_QUESTION = 2
_PICTURE = (330.0, 150.0)  # pt; as large as its labels need, so that an exercise stays on a page


def paper_of(sheets: Sequence[Sheet], *, exercises: bool = True, key: bool = True) -> Paper:
    """The sheets of a class, each on pages of its own, then their keys."""
    parts = [list(_sheet(sheet)) for sheet in sheets] if exercises else []
    parts += [list(_key(sheet)) for sheet in sheets] if key else []
    blocks: list[Block] = []
    for number, part in enumerate(parts):
        blocks += [PageBreak(), *part] if number else part
    first = sheets[0]
    return Paper(
        title=words.title_of(first) if exercises else f"Key. {words.title_of(first)}",
        subtitle=words.which(first) if len(sheets) == 1 else f"Sheet {first.seed}, students 1 to {len(sheets)}",
        blocks=tuple(blocks),
        foot=words.CAUTION,
    )


def _sheet(sheet: Sheet) -> Iterator[Block]:
    yield Heading(words.which(sheet))
    yield Blanks(("Name", "Date"))
    yield Callout("Invented for practice", (words.CAUTION,))
    yield Paragraph(words.HOW, small=True)
    for number, exercise in enumerate(sheet.exercises, start=1):
        yield from _exercise(number, exercise, sheet.system)


def _exercise(number: int, exercise: Exercise, system: System) -> Iterator[Block]:
    yield Heading(f"Exercise {number}. {exercise.title}", level=3)
    for sentence in exercise.story:
        yield Paragraph(sentence)
    figures = tuple(_figure(pictured, system) for pictured in exercise.runs)
    if len(figures) > 1:
        yield Beside(figures)
    else:
        yield from figures
    if exercise.table:
        yield from _table(exercise, system)
    if exercise.givens:
        columns = (Column("", share=1.2), Column("given", share=4.0), Column("value", "right", share=2.4))
        yield Table(columns, tuple(words.given_cells(given, system) for given in exercise.givens))
    yield Facts(
        tuple((f"{words.letter(at)})", words.question(asked, system)) for at, asked in enumerate(exercise.asked))
    )
    yield Room(lines=_LINES_A_QUESTION * len(exercise.asked))


def _figure(pictured: Pictured, system: System) -> Figure:
    run = pictured.run.run
    width, height = _PICTURE
    return Figure(route(run, system, width=width, height=height) or strip(run, system, width=width), pictured.title)


def _table(exercise: Exercise, system: System) -> Iterator[Block]:
    shown = exercise.runs[0].inputs.tables[exercise.table or ""]
    heads, rows = words.table_grid(shown, system)
    columns = tuple(Column(head, "left" if at == 0 else "right") for at, head in enumerate(heads))
    yield Table(columns, tuple(rows), caption=f"{shown.title}. {shown.source}.")
    deductions = words.deductions_of(shown, system)
    if deductions:
        yield Paragraph("Deductions: " + "; ".join(f"{name} {length}" for name, length in deductions) + ".")


def _key(sheet: Sheet) -> Iterator[Block]:
    yield Heading(f"Key. {words.which(sheet)}")
    for number, exercise in enumerate(sheet.exercises, start=1):
        yield Heading(f"Exercise {number}. {exercise.title}", level=3)
        yield Facts(
            tuple(
                (f"{words.letter(at)})", words.answer(asked, sheet.system)) for at, asked in enumerate(exercise.asked)
            )
        )
        for step in exercise.key:
            yield Paragraph(f"{step.name} ({step.source})", small=True)
            yield from formula_blocks(step, sheet.system)
