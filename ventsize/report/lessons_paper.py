"""A lesson as a paper: the story, the questions with room for a guess, and the answers on pages of their own.

In large type every question and every answer is a page to be read from the back of a room.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from ventsize.quantity import System
from ventsize.report.drawing import Bar, Drawing, Mark, Words, bars
from ventsize.report.lessons import answer_in_words, why_of
from ventsize.report.paper import (
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
from ventsize.studies.lessons import HeldLesson, Question, said_value, unit_asked

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
    yield from _variants(lesson)
    yield Heading("Questions")
    for number, question in enumerate(lesson.questions, start=1):
        yield Heading(f"{number}. {question.ask}", level=3)
        if question.choices:
            yield Bullets(question.choices, numbered=True)
        unit = unit_asked(question, system)
        yield Room(lines=1, label="Your guess" + (f", in {unit}" if question.way == "number" and unit else ""))
    yield PageBreak()
    yield Heading("Answers")
    for number, question in enumerate(lesson.questions, start=1):
        yield Heading(f"{number}. {answer_in_words(question, system)}", level=3)
        yield from _why(question, system)
    if lesson.notice:
        yield Callout("What to take home", (" ".join(lesson.notice.split()),), tone="good")


def _variants(lesson: HeldLesson) -> Iterator[Block]:
    if len(lesson.variants) > 1:
        rows = tuple((v.name, "; ".join(v.differences) or "the job itself") for v in lesson.variants)
        yield Table((Column("variant"), Column("what differs", share=3.0)), rows)


def _why(question: Question, system: System) -> Iterator[Block]:
    yield Paragraph(why_of(question, system))
    if len(question.figures) > 1:
        yield Figure(_bars(question, system))
    if question.notice:
        yield Paragraph(question.notice)
    if question.way == "number":
        yield Paragraph(f"Right within {question.tolerance:.0%} of the answer.", small=True)


def _bars(question: Question, system: System) -> Drawing:
    own = question.dimension
    items = [Bar(name, value, _shown(question, value, system)) for name, value in question.figures]
    return bars(items, title=question.ask, description=why_of(question, system) if own is None else "")


def _shown(question: Question, value: float, system: System) -> str:
    """The figure itself where it is of the answer's kind; a share's own figures stand in the sentence above."""
    if question.dimension is None:
        return ""
    return said_value(value, question.dimension, question.style, system)


def _large(lesson: HeldLesson, system: System) -> Iterator[Block]:
    yield Figure(_words(" ".join(lesson.story.split()), 22.0))
    for variant in lesson.variants[1:]:
        yield Figure(_words(f"{variant.name}: {'; '.join(variant.differences)}", 18.0))
    for number, question in enumerate(lesson.questions, start=1):
        yield PageBreak()
        yield Heading(f"Question {number}")
        yield Figure(_words(question.ask, LARGE))
        for at, choice in enumerate(question.choices, start=1):
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
