"""What looks silly in a lesson as its teacher wrote it."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from ventsize.finding import Finding, share
from ventsize.quantity import Dimension
from ventsize.studies.lessons.holding import ALIKE
from ventsize.studies.lessons.model import NO_DIFFERENCE, HeldLesson, Question

WIDEST, NARROWEST = 0.5, 0.005  # tolerances of a fair question
EDGE = 0.02  # of a limit: an answer nearer to it turns around at the next change of the job
FAR = 20.0  # times the answer; a limit further from it is out of reach


def lesson_doubts(lesson: HeldLesson) -> tuple[Finding, ...]:
    """Questions that cannot be failed or cannot be met, limits nobody reaches, and what is asked twice."""
    found = [
        Finding(f"lesson-{code}", values={"number": number, "tolerance": share(question.tolerance)})
        for number, question in enumerate(lesson.questions, start=1)
        for code in _doubts(question)
    ]
    asked = [" ".join(question.ask.split()).lower() for question in lesson.questions]
    found += [Finding("lesson-asked-twice", values={"number": asked.index(ask) + 1, "again": at})
              for at, ask in enumerate(asked, start=1) if ask in asked[: at - 1]]  # fmt: skip
    if not lesson.teacher:
        found.append(Finding("lesson-no-notes"))
    return tuple(found)


def _doubts(question: Question) -> Iterator[str]:
    if question.way == "number" and not NARROWEST <= question.tolerance <= WIDEST:
        yield "never-wrong" if question.tolerance > WIDEST else "never-right"
    if question.limits:
        yield from _limits(question)
    if NO_DIFFERENCE in question.options and question.options[int(question.answer)] == NO_DIFFERENCE:
        values = [abs(value) for _, value in question.figures]
        if max(values) - min(values) > 0.1 * ALIKE * max(values):
            yield "nearly-alike"


def _limits(question: Question) -> Iterator[str]:
    """A limit that no answer could come near: below zero, above the whole, or many times the answer."""
    figures = [value for _, value in question.figures]
    answer = figures[0] / figures[1] if question.share else figures[0]
    whole = 1.0 if question.figures_in is Dimension.FRACTION and not question.share else float("inf")
    signed = answer < 0.0 or question.figures_in is Dimension.TEMPERATURE
    if not signed and any(not 0.0 < limit <= min(whole, FAR * answer) for limit in question.limits):
        yield "out-of-reach"
    if any(abs(answer / limit - 1.0) < EDGE for limit in question.limits if limit):
        yield "on-the-edge"
    spans = [high - low for low, high in itertools.pairwise(question.limits)]
    if spans and min(spans) < EDGE * abs(answer):
        yield "too-close"
