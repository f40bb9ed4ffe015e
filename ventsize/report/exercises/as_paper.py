"""Sheets of exercises as a paper to hand out, their keys as another, and the answers of a class on a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ventsize.quantity import System
from ventsize.report.class_words import table_grid
from ventsize.report.drawing.route import route
from ventsize.report.drawing.strip import strip
from ventsize.report.exercises import words
from ventsize.report.exercises.as_text import grid
from ventsize.report.paper import (
    Beside,
    Blanks,
    Block,
    Bullets,
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
from ventsize.studies.exercises import Exercise, Pictured, Sheet

_KEY_COLUMNS = (Column("formula", share=3.0), Column("with numbers", share=4.0), Column("gives", share=1.6))
_PICTURE = (300.0, 105.0)  # pt; as large as its labels need, so that an exercise stays on a page


def sheets_paper(sheets: Sequence[Sheet], names: Sequence[str]) -> Paper:
    """The sheets of a class, each on pages of its own."""
    return _paper("", sheets, [list(_sheet(sheet, name)) for sheet, name in zip(sheets, names, strict=True)])


def key_paper(sheets: Sequence[Sheet], names: Sequence[str]) -> Paper:
    """Their keys."""
    return _paper("Key. ", sheets, [list(_key(sheet, name)) for sheet, name in zip(sheets, names, strict=True)])


def answers_paper(sheets: Sequence[Sheet], names: Sequence[str]) -> Paper:
    """The answers of all students as one grid."""
    heads, rows = grid(sheets, names)
    columns = (Column(heads[0], share=1.5), *(Column(head, "right") for head in heads[1:]))
    how = "A number in parentheses is that of the right choice. Numbers are right within the share on the sheet."
    table = Table(columns, tuple(tuple(row) for row in rows), tight=True)
    return _paper("Answers. ", sheets, [[table, Paragraph(how, small=True)]])


PAPERS = {"sheet": sheets_paper, "key": key_paper, "answers": answers_paper}
"""What is handed out, by its part."""


def _paper(what: str, sheets: Sequence[Sheet], parts: list[list[Block]]) -> Paper:
    blocks: list[Block] = []
    for number, part in enumerate(parts):
        blocks += [PageBreak(), *part] if number else part
    first = sheets[0]
    return Paper(
        title=what + words.title_of_sheet(first),
        subtitle=words.which(first) if len(sheets) == 1 else f"Sheet {first.seed}, students 1 to {len(sheets)}",
        blocks=tuple(blocks),
        foot=words.CAUTION,
    )


def _sheet(sheet: Sheet, name: str) -> Iterator[Block]:
    yield Heading(words.which(sheet, name))
    yield Blanks(("Date",) if name else ("Name", "Date"))
    yield Callout("Invented for practice", (words.CAUTION,))
    yield Paragraph(words.HOW, small=True)
    for number, exercise in enumerate(sheet.exercises, start=1):
        yield from _exercise(number, exercise, sheet.units)


def _exercise(number: int, exercise: Exercise, system: System) -> Iterator[Block]:
    yield Heading(f"Exercise {number}. {words.TITLES[exercise.code]}", level=3, together=True)
    for sentence in words.story(exercise, system):
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
    if exercise.formulas:
        yield Table(
            (Column("formula", share=3.0), Column("gives", share=3.0)),
            tuple(words.formula_cells(exercise, system)),
        )
    for at, asked in enumerate(exercise.asked):
        yield Room(lines=1, label=f"{words.letter(at)}) {words.question(asked, system)}")


def _figure(pictured: Pictured, system: System) -> Figure:
    run = pictured.run.run
    width, height = _PICTURE
    return Figure(route(run, system, width=width, height=height) or strip(run, system, width=width), pictured.title)


def _table(exercise: Exercise, system: System) -> Iterator[Block]:
    shown = exercise.runs[0].inputs.tables[exercise.table or ""]
    heads, rows = table_grid(shown, system)
    columns = tuple(Column(head, "left" if at == 0 else "right") for at, head in enumerate(heads))
    yield Table(columns, tuple(rows), caption=f"{shown.title}. {shown.source}.")
    listed = words.listed_deductions(exercise, system)
    if listed:
        yield Paragraph("The list of fittings: " + "; ".join(f"{name} {length}" for name, length in listed) + ".")
    yield Bullets(tuple(words.rules(exercise)))


def _key(sheet: Sheet, name: str) -> Iterator[Block]:
    yield Heading(f"Key. {words.which(sheet, name)}")
    for number, exercise in enumerate(sheet.exercises, start=1):
        yield Heading(f"Exercise {number}. {words.TITLES[exercise.code]}", level=3)
        asked = enumerate(exercise.asked)
        yield Facts(tuple((f"{words.letter(at)})", words.answer(one, sheet.units)) for at, one in asked))
        lines = words.key_cells(exercise, sheet.units)
        if lines:
            yield Table(_KEY_COLUMNS, lines)
