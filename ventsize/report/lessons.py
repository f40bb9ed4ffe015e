"""A lesson as text: its story, a question without its answer, the answer, marks and score; and as JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from ventsize.quantity import System
from ventsize.report.chart import bar
from ventsize.report.text_parts import WIDTH, head
from ventsize.report.wording import reason
from ventsize.studies.lessons import HeldLesson, Mark, Question, said_value, unit_asked

BAR = 30


def story_text(lesson: HeldLesson, *, width: int = WIDTH) -> str:
    """What the lesson is about, and the variants it speaks of."""
    return "\n".join([*head(lesson.title), *story_lines(lesson, width=width)])


def story_lines(lesson: HeldLesson, *, width: int) -> Iterator[str]:
    """The story and the variants, without the title."""
    yield from textwrap.wrap(" ".join(lesson.story.split()), width)
    if len(lesson.variants) > 1:
        yield ""
        for variant in lesson.variants:
            told = "; ".join(variant.differences) or "the job itself"
            yield from textwrap.wrap(f"{variant.name}: {told}", width, initial_indent="  ", subsequent_indent="    ")


def question_lines(question: Question, number: int, total: int, system: System, *, width: int) -> Iterator[str]:
    """A question with its choices, or the unit of the number asked for. Nothing of the answer."""
    yield from textwrap.wrap(f"{number} of {total}. {question.ask}", width)
    yield ""
    for at, choice in enumerate(question.choices, start=1):
        yield f"  {at}  {choice}"
    if question.way == "number":
        yield f"  a number{_in(unit_asked(question, system))}; right within {question.tolerance:.0%} of the answer"


def _in(unit: str) -> str:
    return f" in {unit}" if unit else ""


def answer_in_words(question: Question, system: System) -> str:
    """The answer alone."""
    if question.way == "choice":
        return question.choices[int(question.answer)]
    return said_value(question.answer, question.dimension, question.style, system)


def answer_lines(question: Question, system: System, *, width: int) -> Iterator[str]:
    """The answer, how it comes about, and what to notice in it."""
    yield f"Answer: {answer_in_words(question, system)}"
    yield ""
    if len(question.figures) > 1:
        most = max(abs(value) for _, value in question.figures)
        label = min(28, max(len(name) for name, _ in question.figures) + 1)
        for name, value in question.figures:
            yield f"  {name:<{label}}{bar(abs(value) / most if most else 0.0, BAR)}"
        yield ""
    yield from textwrap.wrap(why_of(question, system), width)
    if question.notice:
        yield from textwrap.wrap(question.notice, width)


def guess_in_words(question: Question, guess: float, system: System) -> str:
    """A guess as it was meant."""
    if question.way == "choice":
        return question.choices[int(guess)]
    return said_value(guess, question.dimension, question.style, system)


def mark_lines(question: Question, marks: Sequence[Mark], system: System) -> Iterator[str]:
    """Everybody's guess and what it was worth."""
    for mark in marks:
        off = "" if mark.off is None else f", {abs(mark.off):.0%} {'high' if mark.off > 0 else 'low'}"
        points = f"{mark.points} point{'' if mark.points == 1 else 's'}"
        said = "right" if mark.right else "not right"
        yield f"  {mark.who}: {guess_in_words(question, mark.guess, system)}{off}: {said}, {points}"


def score_lines(totals: Iterable[tuple[str, int]]) -> Iterator[str]:
    """The class's score, the most first."""
    listed = list(totals)
    most = max((points for _, points in listed), default=0)
    for who, points in listed:
        yield f"  {who[:28]:<30}{points:>4}  {bar(points / most if most else 0.0, BAR)}".rstrip()
    if not listed:
        yield "  nobody has a point yet"


def as_object(lesson: HeldLesson) -> dict[str, Any]:
    """The whole lesson with its answers, in SI units."""
    return {
        "lesson": lesson.name,
        "title": lesson.title,
        "story": lesson.story,
        "notice": lesson.notice,
        "variants": [{"name": v.name, "differences": list(v.differences)} for v in lesson.variants],
        "questions": [
            {
                "ask": q.ask,
                "way": q.way,
                "choices": list(q.choices),
                "answer": q.choices[int(q.answer)] if q.way == "choice" else q.answer,
                "measured_in": "" if q.dimension is None else q.dimension.value,
                "tolerance": q.tolerance,
                "figures": dict(q.figures),
                "why": why_of(q, System.US),
                "notice": q.notice,
            }
            for q in lesson.questions
        ],
    }


def why_of(question: Question, system: System) -> str:
    """Why the answer is right."""
    return question.why if isinstance(question.why, str) else reason(question.why, system, with_run=False)
