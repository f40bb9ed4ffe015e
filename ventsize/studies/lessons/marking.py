"""Guesses read and marked, and a class's marks added up."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from ventsize.quantity import QuantityError, System, parse, with_unit
from ventsize.studies.lessons.holding import unit_asked
from ventsize.studies.lessons.model import Guess, Mark, Question

SAME = 1e-9  # of an answer; guesses nearer to each other than this are equally near


def read_guess(question: Question, text: str, system: System) -> Guess:
    """A guess as typed: the number of a choice from 1, or the choice itself; or a quantity, its unit left out or not.

    Raises ValueError with what is expected.
    """
    typed = text.strip()
    if question.way == "choice":
        return _choice(question, typed)
    unit = unit_asked(question, system)
    try:
        if question.dimension is None:
            value = float(typed.replace(",", ""))
        else:
            value = parse(with_unit(typed, unit), question.dimension, signed=True)
    except (QuantityError, ValueError):
        raise ValueError(f"'{typed}' is no guess; expected a number{f' in {unit}' if unit else ''}") from None
    if not math.isfinite(value):
        raise ValueError("expected a finite number")
    return value


def _choice(question: Question, typed: str) -> int:
    if typed.isdigit() and 1 <= int(typed) <= len(question.choices):
        return int(typed) - 1
    found = [n for n, choice in enumerate(question.choices) if choice.lower().startswith(typed.lower())]
    if typed and len(found) == 1:
        return found[0]
    raise ValueError(f"'{typed}' is no choice; expected a number from 1 to {len(question.choices)}")


def marked(question: Question, guesses: Mapping[str, Guess]) -> tuple[Mark, ...]:
    """What each guess is worth: a point where it is right; and one more, of several who guess a number, the nearest.

    A number is right within the question's tolerance of the answer.
    """
    if question.way == "choice":
        return tuple(
            Mark(who=who, guess=guess, right=guess == question.answer, points=int(guess == question.answer), off=None)
            for who, guess in guesses.items()
        )
    scale = abs(question.answer) or 1.0
    off = {who: (guess - question.answer) / scale for who, guess in guesses.items()}
    least = min((abs(one) for one in off.values()), default=0.0)
    nearest = {who for who, one in off.items() if abs(one) <= least + SAME} if len(guesses) > 1 else set()
    return tuple(
        Mark(
            who=who,
            guess=guess,
            right=abs(off[who]) <= question.tolerance + SAME,
            points=int(abs(off[who]) <= question.tolerance + SAME) + int(who in nearest),
            off=off[who],
        )
        for who, guess in guesses.items()
    )


def totals(points: Iterable[tuple[str, int]]) -> tuple[tuple[str, int], ...]:
    """Points added up by name, the most first; equal ones in the order in which they began."""
    added: dict[str, int] = {}
    for who, worth in points:
        added[who] = added.get(who, 0) + worth
    return tuple(sorted(added.items(), key=lambda pair: -pair[1]))
