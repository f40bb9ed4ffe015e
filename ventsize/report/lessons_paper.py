"""A lesson as a paper: the story, the questions with room for a guess, and the answers on pages of their own.

In large type every question and every answer is a page to be read from the back of a room.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from ventsize.quantity import System
from ventsize.report.class_words import deductions_in_words, table_grid
from ventsize.report.drawing import Bar, Drawing, Mark, Words, bars
from ventsize.report.drawing.route import route
from ventsize.report.lesson_words import (
    answer_in_words,
    choices_of,
    figure_in_words,
    given_in_words,
    how_to_answer,
    unit_asked,
    why_of,
)
from ventsize.report.lessons import OF_THE_TABLE, differs, fire_in_words, has_bars, notes_lines, pieces_of, table_of
from ventsize.report.paper import (
    Beside,
    Block,
    Bullets,
    Callout,
    Column,
    Figure,
    Heading,
    PageBreak,
    Paper,
    Paragraph,
    Room,
    Table,
)
from ventsize.studies.lessons import HeldLesson, Question

WIDTH = 468.0
LARGE = 30.0
_WIDE = 0.53  # of a letter, over the size of the type


def lesson_paper(lesson: HeldLesson, system: System, *, large: bool = False) -> Paper:
    """The whole lesson. large: for the back of a room."""
    return Paper(
        title=lesson.title,
        subtitle="A lesson: guess first",
        blocks=tuple((_large if large else _plain)(lesson, system)),
        foot="Everything in this lesson is invented. No table or job of it is an appliance's.",
    )


def _plain(lesson: HeldLesson, system: System) -> Iterator[Block]:
    yield Paragraph(" ".join(lesson.story.split()))
    yield from _variants(lesson, system)
    yield Heading("Questions")
    for number, question in enumerate(lesson.questions, start=1):
        yield Heading(f"{number}. {question.ask}", level=3)
        if question.choices:
            yield Bullets(choices_of(question, system), numbered=True)
        yield Paragraph(how_to_answer(question, system), small=True)
        yield from _facts(lesson, question, system)
        unit = unit_asked(question, system)
        yield Room(lines=1, label="Your guess" + (f", in {unit}" if question.way == "number" and unit else ""))
    yield PageBreak()
    yield Heading("Answers")
    for number, question in enumerate(lesson.questions, start=1):
        yield Heading(f"{number}. {answer_in_words(question, system)}", level=3)
        yield from _why(question, system)
    if lesson.notice:
        yield Callout("What to take home", (" ".join(lesson.notice.split()),), tone="good")


def _facts(lesson: HeldLesson, question: Question, system: System) -> Iterator[Block]:
    """What the question is reasoned from: figures, each variant's fire and pieces, its route, the rows that matter."""
    given = given_in_words(question, system)
    if given:
        yield Bullets(tuple(given))
    figures = []
    for name in question.shows:
        variant = lesson.variant(name)
        yield Paragraph(f"{name}: {fire_in_words(variant, system)}. {pieces_of(variant, system)}.", small=True)
        drawn = route(variant.run, system, width=230.0, height=110.0)
        figures += [Figure(drawn, name)] if drawn else []
        shown = table_of(variant) if question.measure in OF_THE_TABLE else None
        if shown is not None:
            heads, rows = table_grid(shown, system)
            columns = tuple(Column(head, "left" if at == 0 else "right") for at, head in enumerate(heads))
            counted = "; ".join(f"{t} {length}" for t, length in deductions_in_words(shown, variant.run, system))
            yield Table(columns, tuple(rows), caption=f"{shown.title}. It counts {counted}.")
    for at in range(0, len(figures), 2):
        yield Beside(tuple(figures[at : at + 2])) if len(figures) > at + 1 else figures[at]


def notes_paper(lesson: HeldLesson) -> Paper:
    """The teacher's page."""
    lines = list(notes_lines(lesson, width=10_000))
    bullets = Bullets(tuple(line.strip(" -") for line in lines if line))
    return Paper(title=lesson.title, subtitle="For the teacher", blocks=(bullets,))


def _variants(lesson: HeldLesson, system: System) -> Iterator[Block]:
    if len(lesson.variants) > 1:
        rows = tuple((v.name, differs(lesson, v, system)) for v in lesson.variants)
        yield Table((Column("variant"), Column("what differs", share=3.0)), rows)


def _why(question: Question, system: System) -> Iterator[Block]:
    yield Paragraph(why_of(question, system))
    if has_bars(question):
        yield Figure(_bars(question, system))
    if question.notice:
        yield Paragraph(question.notice)
    if question.way == "number":
        yield Paragraph(f"Right within {question.tolerance:.0%} of the answer.", small=True)


def _bars(question: Question, system: System) -> Drawing:
    items = [Bar(name, value, figure_in_words(question, value, system)) for name, value in question.figures]
    return bars(items, title=question.ask, description=why_of(question, system))


def _large(lesson: HeldLesson, system: System) -> Iterator[Block]:
    yield Figure(_words(" ".join(lesson.story.split()), 22.0))
    for variant in lesson.variants[1:]:
        yield Figure(_words(f"{variant.name}: {differs(lesson, variant, system)}", 18.0))
    for number, question in enumerate(lesson.questions, start=1):
        yield PageBreak()
        yield Heading(f"Question {number}")
        yield Figure(_words(question.ask, LARGE))
        for at, choice in enumerate(choices_of(question, system), start=1):
            yield Figure(_words(f"{at}  {choice}", LARGE))
        if question.way == "number":
            unit = unit_asked(question, system)
            yield Figure(_words(f"A number{f' in {unit}' if unit else ''}.", LARGE))
        yield PageBreak()
        yield Heading(f"Answer {number}")
        yield Figure(_words(answer_in_words(question, system), 48.0))
        yield Figure(_words(why_of(question, system), 22.0))
        if question.notice:
            yield Figure(_words(question.notice, 22.0))
    if lesson.notice:
        yield PageBreak()
        yield Heading("What to take home")
        yield Figure(_words(" ".join(lesson.notice.split()), LARGE))


def _words(text: str, size: float) -> Drawing:
    """A text in large letters, broken into lines; what it says is its alt text too."""
    lines = textwrap.wrap(text, max(8, int(WIDTH / (size * _WIDE)))) or [""]
    marks: tuple[Mark, ...] = tuple(
        Words(0.0, size * (1.25 * number + 1.0), line, size) for number, line in enumerate(lines)
    )
    return Drawing(width=WIDTH, height=size * (1.25 * len(lines) + 0.2), marks=marks, title=text, description="")
