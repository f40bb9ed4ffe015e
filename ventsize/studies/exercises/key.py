"""The key of an exercise: the lines of a working that lead to what is asked, and the numbers they start from."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import NamedTuple

from ventsize.studies.exercises.model import Asked
from ventsize.studies.working.steps import Given, Step


class Key(NamedTuple):
    """Numbers to start from, and the lines from there on."""

    givens: tuple[Given, ...]
    steps: tuple[Step, ...]

    def answer(self, symbol: str) -> Given:
        """What a line comes to."""
        return next(step.result for step in self.steps if step.symbol == symbol)

    def ask(self, symbol: str, *, tolerance: float, text: str = "") -> Asked:
        """A question for what a line comes to, in its own words unless others are given."""
        answer = self.answer(symbol)
        return Asked(text=text or f"Find {answer.symbol}, the {answer.name}.", answer=answer, tolerance=tolerance)


def key_of(steps: Sequence[Step], *asked: str, known: Collection[str] = ()) -> Key:
    """The lines that lead to the symbols asked for.

    known: symbols that are told, so that the lines leading to them are left out.
    """
    by_symbol = {step.symbol: step for step in steps}
    givens: dict[str, Given] = {}
    lines: dict[str, Step] = {}

    def follow(symbol: str) -> None:
        step = by_symbol[symbol]
        for given in step.inputs:
            if given.symbol == symbol:  # Colebrook's formula, which has its result on both sides
                continue
            if given.symbol in by_symbol and given.symbol not in known:
                if given.symbol not in lines:
                    follow(given.symbol)
            else:
                givens.setdefault(given.symbol, given)
        lines[symbol] = step

    for symbol in asked:
        if symbol not in lines:
            follow(symbol)
    return Key(tuple(givens.values()), tuple(lines.values()))
