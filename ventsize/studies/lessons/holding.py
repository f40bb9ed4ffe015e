"""A lesson made ready from the job it stands in: every answer is worked out, none is read."""

from __future__ import annotations

from ventsize.check.inputs import Inputs
from ventsize.jobfile.lesson import Lesson, LessonQuestion
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension, QuantityError, System, display_unit, parse, show, show_feet
from ventsize.studies.altering.altered import altered
from ventsize.studies.comparing.differences import differences
from ventsize.studies.lessons.measuring import MEASURES, measured, verdict_of
from ventsize.studies.lessons.model import HeldLesson, Question, Variant
from ventsize.studies.sweeps.subject import subject_of

ALIKE = 0.005  # of the largest figure; variants nearer than this are alike
NO_DIFFERENCE = "no difference"
VERDICTS = ("within", "over", "short", "not covered", "incomplete")


def held_lesson(inputs: Inputs, *, name: str = "", system: System = System.US) -> HeldLesson:
    """The lesson of a job.

    name: what it is called in the score.

    Raises InputError where the job has none, or where a variant or a question of it cannot be.
    """
    lesson = inputs.job.lesson
    if lesson is None:
        raise InputError(Problem(inputs.file, "", "the job is no lesson", "a [lesson] table with questions"))
    variants = _variants(inputs, lesson, system)
    questions = tuple(
        _question(variants, question, f"lesson, question {number}", inputs.file, system)
        for number, question in enumerate(lesson.questions, start=1)
    )
    return HeldLesson(
        name=name or inputs.job.title,
        title=inputs.job.title,
        story=inputs.job.note.strip(),
        notice=lesson.notice.strip(),
        variants=variants,
        questions=questions,
    )


def _variants(inputs: Inputs, lesson: Lesson, system: System) -> tuple[Variant, ...]:
    made = [Variant(name=lesson.name, differences=(), inputs=inputs)]
    run = subject_of(inputs).run.run.name
    for variant in lesson.variants:
        other = altered(inputs, variant)
        name = variant.run or run
        told = differences(inputs, other, run=name, other_run=name, system=system)
        made.append(Variant(name=variant.name, differences=told, inputs=other))
    return tuple(made)


def _question(variants: tuple[Variant, ...], asked: LessonQuestion, place: str, file: str, system: System) -> Question:
    try:
        if asked.measure == "verdict":
            return _verdict(variants, asked)
        if asked.pick is not None:
            return _pick(variants, asked, system)
        return _figure(variants, asked, system)
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


def _verdict(variants: tuple[Variant, ...], asked: LessonQuestion) -> Question:
    decides = verdict_of(_named(variants, asked.of).inputs, run=asked.run)
    return Question(
        ask=asked.ask,
        way="choice",
        choices=VERDICTS,
        answer=VERDICTS.index(decides.verdict),
        dimension=None,
        tolerance=0.0,
        figures=(),
        why=decides,
        notice=asked.notice,
    )


def _pick(variants: tuple[Variant, ...], asked: LessonQuestion, system: System) -> Question:
    """Which of several has the most, or the least; "no difference" is always there to be chosen."""
    among = [v for v in variants if not asked.among or v.name in asked.among]
    figures = [(variant.name, _value(variant, asked)) for variant in among]
    values = [value for _, value in figures]
    choices = (*(name for name, _ in figures), NO_DIFFERENCE)
    wanted = max(values) if asked.pick == "most" else min(values)
    ranked = sorted(values, reverse=asked.pick == "most")
    alike = abs(ranked[0] - ranked[1]) <= ALIKE * max(map(abs, values))
    dimension, style = _shape(asked, share=False)
    said = ", ".join(f"{name} {said_value(value, dimension, style, system)}" for name, value in figures)
    return Question(
        ask=asked.ask,
        way="choice",
        choices=choices,
        answer=len(figures) if alike else values.index(wanted),
        dimension=dimension,
        tolerance=0.0,
        figures=tuple(figures),
        why=f"{asked.measure[0].upper()}{asked.measure[1:]}: {said}.".replace("..", "."),
        notice=asked.notice,
        style=style,
    )


def _figure(variants: tuple[Variant, ...], asked: LessonQuestion, system: System) -> Question:
    """A number, or between which limits it lies; by itself, or as a share of another's."""
    own = _named(variants, asked.of)
    value = _value(own, asked)
    figures = [(_label(own, asked.rate), value)]
    dimension, style = _shape(asked, share=False)
    why = f"{asked.measure[0].upper()}{asked.measure[1:]}: {said_value(value, dimension, style, system)}"
    if asked.over is not None or asked.over_rate is not None:
        other = _named(variants, asked.over or own.name)
        base = _value(other, asked, rate=asked.over_rate)
        figures.append((_label(other, asked.over_rate or asked.rate), base))
        why += f" against {said_value(base, dimension, style, system)}, {value / base:.2f} times"
        value, (dimension, style) = value / base, _shape(asked, share=True)
    limits = _limits(asked, dimension)
    choices = _between(limits, dimension, style, system) if limits else ()
    return Question(
        ask=asked.ask,
        way="choice" if limits else "number",
        choices=choices,
        answer=sum(value >= limit for limit in limits) if limits else value,
        dimension=dimension,
        tolerance=0.0 if limits else asked.tolerance,
        figures=tuple(figures),
        why=f"{why.rstrip('.')}.",
        notice=asked.notice,
        style=style,
    )


def _label(variant: Variant, rate: str | None) -> str:
    return f"{variant.name}, {rate}" if rate else variant.name


def _shape(asked: LessonQuestion, *, share: bool) -> tuple[Dimension | None, str | None]:
    """In what an answer is shown: a share of another's is a plain number."""
    dimension = None if share else MEASURES[asked.measure].dimension
    return dimension, "decimal" if dimension is Dimension.LENGTH else None


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


def _between(
    limits: tuple[float, ...], dimension: Dimension | None, style: str | None, system: System
) -> tuple[str, ...]:
    said = [said_value(limit, dimension, style, system) for limit in limits]
    middle = (f"{low} to {high}" for low, high in zip(said, said[1:], strict=False))
    return (f"less than {said[0]}", *middle, f"{said[-1]} or more")


def said_value(value: float, dimension: Dimension | None, style: str | None, system: System) -> str:
    """A value as text in the units chosen; a plain number to four figures."""
    if dimension is None:
        return f"{value:,.0f}" if abs(value) >= 1000 else f"{value:.3g}"
    if dimension is Dimension.LENGTH and style == "decimal":
        return show_feet(value, system)
    return show(value, dimension, system, style=style)


def unit_asked(question: Question, system: System) -> str:
    """The unit a bare number is taken in; empty for plain numbers."""
    if question.dimension is None:
        return ""
    return display_unit(question.dimension, system, style=question.style)
