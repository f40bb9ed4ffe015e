"""A lesson as text: its story, a question without its answer, the answer, marks and score; and as JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from ventsize.allowance.model import AllowanceTable
from ventsize.quantity import Dimension, System, show_length, show_power
from ventsize.report.chart import bar
from ventsize.report.class_words import (
    deductions_in_words,
    pieces_in_words,
    rows_that_matter,
    sizes_in_words,
    sketch_lines,
    table_lines,
    title_of,
)
from ventsize.report.comparing import told
from ventsize.report.keys import Keys
from ventsize.report.lesson_words import (
    answer_in_words,
    choices_of,
    given_in_words,
    guess_in_words,
    how_to_answer,
    why_of,
)
from ventsize.report.text_parts import WIDTH, head
from ventsize.studies.comparing.differences import differences
from ventsize.studies.lessons import HeldLesson, Mark, Question, Variant
from ventsize.studies.lessons.keeping import Listed

BAR = 30
OF_THE_TABLE = ("verdict", "length by the table", "length left by the table", "worth of a fitting")


def path_lines(listed: Iterable[Listed]) -> Iterator[str]:
    """The lessons from easy to hard: place, name, title, time."""
    for one in listed:
        place = "-" if one.place is None else str(one.place)
        minutes = f"{one.minutes} min" if one.minutes else ""
        yield f"{place:>3}  {one.name:<32}{one.title:<34}{minutes:>7}".rstrip()


def story_text(lesson: HeldLesson, system: System) -> str:
    """What the lesson is about, and the variants it speaks of."""
    return "\n".join([*head(lesson.title), *story_lines(lesson, system, width=WIDTH)])


def story_lines(lesson: HeldLesson, system: System, *, width: int) -> Iterator[str]:
    """The story and the variants, without the title."""
    yield from textwrap.wrap(" ".join(lesson.story.split()), width)
    if len(lesson.variants) > 1:
        yield ""
        for variant in lesson.variants:
            text = f"{variant.name}: {differs(lesson, variant, system)}"
            yield from textwrap.wrap(text, width, initial_indent="  ", subsequent_indent="    ")


def differs(lesson: HeldLesson, variant: Variant, system: System) -> str:
    """In what a variant differs from the lesson's job; fittings by the titles that its pieces have on the page."""
    first = lesson.variants[0]
    found = differences(first.inputs, variant.inputs, run=first.run.name, other_run=variant.run.name)
    titles = {piece.name: title_of(piece) for one in (first, variant) for piece in one.run.pieces}
    by_title = (replace(one, values={key: titles.get(str(v), v) for key, v in one.values.items()}) for one in found)
    return "; ".join(told(by_title, system)) or "the job itself"


def question_lines(lesson: HeldLesson, number: int, system: System, *, width: int) -> Iterator[str]:
    """A question with all there is to reason from, its choices, and how points are given. Nothing of the answer."""
    question = lesson.questions[number - 1]
    yield from textwrap.wrap(f"{number} of {len(lesson.questions)}. {question.ask}", width)
    yield ""
    for at, choice in enumerate(choices_of(question, system), start=1):
        yield f"  {at}  {choice}"
    yield from textwrap.wrap(how_to_answer(question, system), width, initial_indent="  ", subsequent_indent="  ")
    yield ""
    yield from facts_lines(lesson, question, system, width=width)


def facts_lines(lesson: HeldLesson, question: Question, system: System, *, width: int) -> Iterator[str]:
    """What a question is reasoned from: each variant with its fire, sizes, pieces and sketch; figures; table rows."""
    yield from (f"  {line}" for line in given_in_words(question, system))
    drawn: list[list[str]] = []
    for name in question.shows:
        variant = lesson.variant(name)
        text = f"{name}: {fire_in_words(variant, system)}. {pieces_of(variant, system)}."
        yield from textwrap.wrap(text, width, initial_indent="  ", subsequent_indent="    ")
        lines = sketch_lines(variant.run, system, width=width - 4)
        if lines and lines not in drawn:
            drawn.append(lines)
            yield from (f"    {line}".rstrip() for line in lines)
        if question.measure in OF_THE_TABLE:
            yield from _table(variant, system, width=width)


def fire_in_words(variant: Variant, system: System) -> str:
    """The inputs of the lesson's appliances, the altitude."""
    job = variant.inputs.job
    fires = [f"{r.name} {show_power(r.input, system)}" for a in job.appliances for r in a.rates]
    return f"{', '.join(fires)}; altitude {show_length(job.site.altitude or 0.0, system)}"


def pieces_of(variant: Variant, system: System) -> str:
    return f"{sizes_in_words(variant.run)}: {pieces_in_words(variant.run, system)}"


def table_of(variant: Variant) -> AllowanceTable | None:
    """What the variant's run is held to, cut down to the rows that matter."""
    name = next((run.table for run in variant.inputs.job.runs if run.name == variant.run.name), None)
    return None if name is None else rows_that_matter(variant.inputs.tables[name], variant.run, variant.inputs)


def _table(variant: Variant, system: System, *, width: int) -> Iterator[str]:
    shown = table_of(variant)
    if shown is None:
        return
    yield from textwrap.wrap(f"{shown.title}:", width, initial_indent="  ", subsequent_indent="    ")
    yield from table_lines(shown, system, width=width)
    deducted = "; ".join(f"{title} {length}" for title, length in deductions_in_words(shown, variant.run, system))
    yield from textwrap.wrap(f"It counts {deducted}.", width, initial_indent="  ", subsequent_indent="    ")


def answer_lines(question: Question, system: System, *, width: int) -> Iterator[str]:
    """The answer, how it comes about, and what to notice in it."""
    yield f"Answer: {answer_in_words(question, system)}"
    yield ""
    if has_bars(question):
        most = max(abs(value) for _, value in question.figures)
        label = min(28, max(len(name) for name, _ in question.figures) + 1)
        for name, value in question.figures:
            yield f"  {name:<{label}}{bar(abs(value) / most if most else 0.0, BAR)}"
        yield ""
    yield from textwrap.wrap(why_of(question, system), width)
    if question.notice:
        yield from textwrap.wrap(question.notice, width)


def has_bars(question: Question) -> bool:
    """Whether its figures are drawn: several, of something that begins at nothing, and no later answer."""
    return not question.ahead and len(question.figures) > 1 and question.figures_in is not Dimension.TEMPERATURE


def mark_lines(question: Question, marks: Sequence[Mark], system: System) -> Iterator[str]:
    """Everybody's guess and what it was worth."""
    for mark in marks:
        if mark.guess is None:
            yield f"  {mark.who}: passed, 0 points"
            continue
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


def notes_lines(lesson: HeldLesson, *, width: int) -> Iterator[str]:
    """The teacher's page: aim, time, what the class will say, what to draw on the board."""
    notes = lesson.teacher
    if notes is None:
        yield "This lesson has no notes for its teacher."
        return
    yield from textwrap.wrap(f"Aim: {notes.aim}", width, subsequent_indent="  ")
    yield f"Time: {notes.minutes} minutes"
    for title, listed in (("What they will say", notes.expect), ("On the board", notes.board)):
        if listed:
            yield from ("", title)
        for text in listed:
            yield from textwrap.wrap(text, width, initial_indent="  - ", subsequent_indent="    ")


def as_object(lesson: HeldLesson) -> dict[str, Any]:
    """The whole lesson with its answers, in SI units."""
    system = System.SI
    return {
        **_LESSON(lesson),
        "variants": [{"name": v.name, "differences": [differs(lesson, v, system)]} for v in lesson.variants],
        "questions": [
            {
                **_QUESTION(q),
                "choices": list(choices_of(q, system)),
                "answer": choices_of(q, system)[int(q.answer)] if q.way == "choice" else q.answer,
                "measured_in": "" if q.dimension is None else q.dimension.value,
                "figures": dict(q.figures),
                "why": why_of(q, system),
            }
            for q in lesson.questions
        ],
    }


_LESSON = Keys(HeldLesson, "lesson:name title story notice")
_QUESTION = Keys(Question, "ask way tolerance notice")
