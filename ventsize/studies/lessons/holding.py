"""A lesson made ready from the job it stands in: every answer is worked out, none is read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ventsize.check.inputs import Inputs
from ventsize.jobfile.lesson import Lesson, LessonQuestion
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension, QuantityError, parse
from ventsize.studies.altering.altered import altered
from ventsize.studies.lessons.measuring import MEASURES, measured, verdict_of
from ventsize.studies.lessons.model import NO_DIFFERENCE, Given, HeldLesson, Question, Variant
from ventsize.studies.sweeps.subject import subject_of

ALIKE = 0.005  # of the largest figure; variants nearer than this are alike
VERDICTS = ("within", "over", "short", "not covered", "incomplete")


def held_lesson(inputs: Inputs, *, name: str = "") -> HeldLesson:
    """The lesson of a job.

    name: what it is called in the score.

    Raises InputError where the job has none, or where a variant or a question of it cannot be.
    """
    lesson = inputs.job.lesson
    if lesson is None:
        raise InputError(Problem(inputs.file, "", "the job is no lesson", "a [lesson] table with questions"))
    variants = _variants(inputs, lesson)
    questions: list[Question] = []
    problems: list[Problem] = []
    for number, asked in enumerate(lesson.questions, start=1):
        try:
            questions.append(_question(variants, asked, f"lesson, question {number}", inputs.file))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    return HeldLesson(
        name=name or inputs.job.title,
        title=inputs.job.title,
        story=inputs.job.note.strip(),
        notice=lesson.notice.strip(),
        variants=variants,
        questions=tuple(
            replace(question, ahead=any(_gives_away(question, later) for later in questions[number:]))
            for number, question in enumerate(questions, start=1)
        ),
        teacher=lesson.teacher,
    )


def _gives_away(question: Question, later: Question) -> bool:
    """Whether the figures of a question about an order are those that a later one asks for."""
    asks_how_much = later.way == "number" or later.limits
    return bool(question.options and asks_how_much and set(question.figures).issuperset(later.figures))


def _variants(inputs: Inputs, lesson: Lesson) -> tuple[Variant, ...]:
    first = subject_of(inputs).run.run
    made = [Variant(name=lesson.name, inputs=inputs, run=first)]
    for variant in lesson.variants:
        other = altered(inputs, variant)
        made.append(Variant(name=variant.name, inputs=other, run=other.graph.runs[variant.run or first.name]))
    return tuple(made)


def _question(variants: tuple[Variant, ...], asked: LessonQuestion, place: str, file: str) -> Question:
    try:
        if asked.measure == "verdict":
            return _verdict(variants, asked)
        if asked.pick is not None:
            return _pick(variants, asked)
        return _figure(variants, asked)
    except QuantityError as error:
        raise InputError(Problem(file, f"{place}, limits", str(error))) from None
    except InputError as error:
        first = error.problems[0]
        where = f"{place}, {first.place}" if first.place else place
        raise InputError(Problem(file, where, first.problem, first.expected)) from None


def _named(variants: tuple[Variant, ...], name: str | None) -> Variant:
    return next((variant for variant in variants if variant.name == name), variants[0])


def _value(variant: Variant, asked: LessonQuestion, *, rate: str | None = None) -> float:
    return measured(variant.inputs, asked.measure, run=asked.run, rate=rate or asked.rate, fitting=asked.fitting)


def _given(asked: LessonQuestion, *about: tuple[Variant, str | None]) -> Iterator[Given]:
    """What is shown with a question, of each variant and rate that it is about."""
    for measure in asked.given:
        for variant, rate in about:
            value = measured(variant.inputs, measure, run=asked.run, rate=rate, fitting=asked.fitting)
            yield Given(
                variant=_label(variant, rate), measure=measure, dimension=MEASURES[measure].dimension, value=value
            )


def _verdict(variants: tuple[Variant, ...], asked: LessonQuestion) -> Question:
    own = _named(variants, asked.of)
    decides = verdict_of(own.inputs, run=asked.run)
    return Question(
        ask=asked.ask,
        measure=asked.measure,
        way="choice",
        options=VERDICTS,
        answer=VERDICTS.index(decides.verdict),
        shows=(own.name,),
        given=tuple(_given(asked, (own, asked.rate))),
        decides=decides,
        notice=asked.notice,
    )


def _pick(variants: tuple[Variant, ...], asked: LessonQuestion) -> Question:
    """Which of several has the most, or the least; "no difference" is always there to be chosen."""
    among = [v for v in variants if not asked.among or v.name in asked.among]
    values = [_value(variant, asked) for variant in among]
    wanted = max(values) if asked.pick == "most" else min(values)
    ranked = sorted(values, reverse=asked.pick == "most")
    alike = abs(ranked[0] - ranked[1]) <= ALIKE * max(map(abs, values))
    names = tuple(variant.name for variant in among)
    return Question(
        ask=asked.ask,
        measure=asked.measure,
        way="choice",
        options=(*names, NO_DIFFERENCE),
        answer=len(names) if alike else values.index(wanted),
        figures=tuple(zip(names, values, strict=True)),
        figures_in=MEASURES[asked.measure].dimension,
        shows=names,
        given=tuple(_given(asked, *((variant, asked.rate) for variant in among))),
        notice=asked.notice,
    )


def _figure(variants: tuple[Variant, ...], asked: LessonQuestion) -> Question:
    """A number, or between which limits it lies; by itself, or as a share of another's."""
    own = _named(variants, asked.of)
    value, dimension = _value(own, asked), MEASURES[asked.measure].dimension
    figures, about = [(_label(own, asked.rate), value)], [(own, asked.rate)]
    share = asked.over is not None or asked.over_rate is not None
    if share:
        other, rate = _named(variants, asked.over or own.name), asked.over_rate or asked.rate
        base = _value(other, asked, rate=rate)
        figures.append((_label(other, rate), base))
        about.append((other, rate))
        value /= base
    limits = _limits(asked, None if share else dimension)
    return Question(
        ask=asked.ask,
        measure=asked.measure,
        way="choice" if limits else "number",
        limits=limits,
        answer=sum(value >= limit for limit in limits) if limits else value,
        dimension=None if share else dimension,
        share=share,
        tolerance=0.0 if limits else asked.tolerance,
        figures=tuple(figures),
        figures_in=dimension,
        shows=tuple(dict.fromkeys(variant.name for variant, _ in about)),
        given=tuple(_given(asked, *about)),
        notice=asked.notice,
    )


def _label(variant: Variant, rate: str | None) -> str:
    return f"{variant.name}, {rate}" if rate else variant.name


def _limits(asked: LessonQuestion, dimension: Dimension | None) -> tuple[float, ...]:
    """The limits of the choices [SI]. QuantityError where one of them cannot be."""
    found = tuple(_limit(limit, dimension) for limit in asked.limits)
    if list(found) != sorted(set(found)):
        raise QuantityError("the limits do not rise", "limits from the least to the most")
    return found


def _limit(limit: str | float, dimension: Dimension | None) -> float:
    if isinstance(limit, str) and dimension is not None:
        return parse(limit, dimension, signed=True)
    if not isinstance(limit, str) and dimension in (None, Dimension.FRACTION):
        return float(limit)
    wanted = "a number without a unit" if dimension is None else dimension.with_article + " with its unit, in quotes"
    raise QuantityError(f"{limit!r} is no limit here", wanted)
