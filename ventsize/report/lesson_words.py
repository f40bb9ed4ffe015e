"""A lesson's questions, choices, answers and guesses in words and units; and a guess read as it is typed."""

from __future__ import annotations

import math
import re

from ventsize.jobfile.lesson import Measure
from ventsize.quantity import Dimension, QuantityError, System, display_unit, parse, show
from ventsize.report.wording import reason
from ventsize.studies.lessons import Guess, Question

STYLES: dict[Measure, str] = {
    "bore": "bore",
    "air pressure": "atmosphere",
    "condensate": "liquid",
    "water made": "liquid",
}
_BARE = re.compile(r"[-+\d.,/ ]*\d[-+\d.,/ ]*")  # a fraction too
PASS = ("pass", "-", "?")


def value_in_words(value: float, dimension: Dimension | None, measure: Measure, system: System) -> str:
    """A value in the units chosen; a plain number to three figures."""
    if dimension is None:
        return f"{value:,.0f}" if abs(value) >= 1000 else f"{value:.3g}"
    return show(value, dimension, system, style=_style(dimension, measure))


def share_in_words(value: float, *, times: bool) -> str:
    """`29 %`, or `1.38 times`."""
    return f"{value:.3g} times" if times else f"{100 * value:.3g} %"


def _style(dimension: Dimension, measure: Measure) -> str | None:
    return STYLES.get(measure, "decimal" if dimension is Dimension.LENGTH else None)


def _asked(value: float, question: Question, system: System) -> str:
    if question.share:
        return share_in_words(value, times=max((abs(value), *question.limits)) > 1.0)
    return value_in_words(value, question.dimension, question.measure, system)


def choices_of(question: Question, system: System) -> tuple[str, ...]:
    """What may be chosen, in words; empty where a number is asked for."""
    if not question.limits:
        return question.options
    said = [_asked(limit, question, system) for limit in question.limits]
    middle = (f"{low} to {high}" for low, high in zip(said, said[1:], strict=False))
    return (f"less than {said[0]}", *middle, f"{said[-1]} or more")


def unit_asked(question: Question, system: System) -> str:
    """The unit a bare number is taken in; empty for plain numbers and shares."""
    if question.dimension is None:
        return ""
    return display_unit(question.dimension, system, style=_style(question.dimension, question.measure))


VERDICTS_MEAN = (
    "Within: no longer than the table allows; just as long is within. Over: longer. Short: below the least length. "
    "Not covered: no row for the size, input or altitude. Incomplete: something is missing, such as a fitting that is "
    "not in the table's list."
)


def how_to_answer(question: Question, system: System) -> str:
    """In what a number is typed, and how points are given."""
    if question.measure == "verdict":
        return f"{VERDICTS_MEAN} The right choice: 1 point."
    if question.way == "choice":
        return "The right choice: 1 point."
    unit = unit_asked(question, system)
    kind = "A share or how many times, as 40 %, 2/5, 0.4 or 1.5" if question.share else "A number"
    near = f"Within {question.tolerance:.0%} of the answer: 1 point. Of several, the nearest guess: 1 more."
    return f"{kind}{f' in {unit}' if unit else ''}. {near}"


def read_guess(question: Question, text: str, system: System) -> Guess | None:
    """A guess as typed: a choice by its number, its words or a value that it holds; or a quantity, its unit left out
    or not, with a decimal point or comma, as a fraction or in percent. None for a pass.

    Raises ValueError with what is expected.
    """
    typed = text.strip()
    if typed.lower() in PASS:
        return None
    if question.way == "number":
        return _value(question, typed, system)
    choices = choices_of(question, system)
    if typed.isdigit() and 1 <= int(typed) <= len(choices):
        return int(typed) - 1
    found = [n for n, choice in enumerate(choices) if choice.lower().startswith(typed.lower())]
    if typed and len(found) == 1:
        return found[0]
    if question.limits and not typed.isdigit():
        try:
            value = _value(question, typed, system)
        except ValueError:
            pass
        else:
            return sum(value >= limit for limit in question.limits)
    raise ValueError(f"'{typed}' is no choice; expected a number from 1 to {len(choices)}, or pass")


def _value(question: Question, typed: str, system: System) -> float:
    unit = unit_asked(question, system)
    text = re.sub(r"\s*times$", "", _with_point(typed))
    try:
        value = parse(
            f"{text} {unit}" if unit and _BARE.fullmatch(text) else text,
            question.dimension or Dimension.FRACTION,
            signed=True,
        )
    except QuantityError:
        expected = f"a number{f' in {unit}' if unit else ''}, or pass"
        raise ValueError(f"'{typed}' is no guess; expected {expected}") from None
    if not math.isfinite(value):
        raise ValueError("expected a finite number")
    return value


def _with_point(typed: str) -> str:
    """A decimal comma as a point: `0,25` and `5,7`; `1,500` is fifteen hundred, as it is written here."""
    return re.sub(r"(?<![\d,.])(0,\d+|\d+,(?:\d{1,2}|\d{4,}))(?![\d,.])", lambda m: m[1].replace(",", "."), typed)


def answer_in_words(question: Question, system: System) -> str:
    """The answer alone."""
    return guess_in_words(question, question.answer, system)


def guess_in_words(question: Question, guess: Guess, system: System) -> str:
    """A guess as it was meant."""
    if question.way == "choice":
        return choices_of(question, system)[int(guess)]
    return _asked(guess, question, system)


def figure_in_words(question: Question, value: float, system: System) -> str:
    """What a variant has of what is asked for."""
    return value_in_words(value, question.figures_in, question.measure, system)


def why_of(question: Question, system: System) -> str:
    """Why the answer is right: what settles the verdict, or each figure and what they come to."""
    if question.decides is not None:
        return reason(question.decides, system, with_run=False)
    measure = question.measure[0].upper() + question.measure[1:]
    if question.ahead:
        names = [name for name, _ in sorted(question.figures, key=lambda figure: figure[1])]
        return f"{measure}, from the least to the most: {', '.join(names)}. How much it is, a later question asks."
    figures = [f"{name} {figure_in_words(question, value, system)}" for name, value in question.figures]
    said = f"{measure}: {', '.join(figures)}"
    if question.share:
        (_, value), (_, base) = question.figures
        said += f"; {share_in_words(value / base, times=abs(value / base) > 1.0)}"
    return f"{said.rstrip('.')}."


def given_in_words(question: Question, system: System) -> list[str]:
    """What is shown with a question, a line a measure."""
    lines: dict[str, list[str]] = {}
    alone = len({given.variant for given in question.given}) == 1
    for given in question.given:
        value = value_in_words(given.value, given.dimension, given.measure, system)
        lines.setdefault(given.measure, []).append(value if alone else f"{given.variant} {value}")
    return [f"{measure}: {', '.join(values)}" for measure, values in lines.items()]
