"""Guesses marked, and a class's marks added up."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ventsize.studies.lessons.model import Guess, Mark, Question

SAME = 1e-9  # of an answer; guesses nearer to each other than this are equally near


def marked(question: Question, guesses: Mapping[str, Guess | None]) -> tuple[Mark, ...]:
    """What each guess is worth: a point where it is right; and one more, of several who guess a number, the nearest.

    A number is right within the question's tolerance of the answer. None is who passes: no point.
    """
    scale = abs(question.answer) or 1.0
    number = question.way == "number"
    off = {who: (g - question.answer) / scale for who, g in guesses.items() if number and g is not None}
    least = min((abs(one) for one in off.values()), default=0.0)
    nearest = {who for who, one in off.items() if abs(one) <= least + SAME} if len(off) > 1 else set()

    def right(who: str, guess: Guess | None) -> bool:
        if who in off:
            return abs(off[who]) <= question.tolerance + SAME
        return guess == question.answer

    return tuple(
        Mark(who=who, guess=guess, right=right(who, guess), points=right(who, guess) + (who in nearest),
             off=off.get(who))
        for who, guess in guesses.items()
    )  # fmt: skip


def totals(points: Iterable[tuple[str, int]]) -> tuple[tuple[str, int], ...]:
    """Points added up by name, the most first; equal ones in the order in which they began."""
    added: dict[str, int] = {}
    for who, worth in points:
        added[who] = added.get(who, 0) + worth
    return tuple(sorted(added.items(), key=lambda pair: -pair[1]))
