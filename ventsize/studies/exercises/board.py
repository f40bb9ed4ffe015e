"""A calculation as it is done on a board: numbers of three digits, and formulas worked out from them."""

from __future__ import annotations

import math
from collections.abc import Mapping

from ventsize.finding import Value
from ventsize.quantity import System
from ventsize.quantity.board import Kind, unit_of
from ventsize.studies.exercises.draws import DrawAgain
from ventsize.studies.exercises.model import Asked
from ventsize.studies.working.steps import Given, Step

DIGITS = 3
SURE = 0.7  # of a tolerance: how much of it the rounding by hand may use up
_NAMES = {"log10": math.log10, "sqrt": math.sqrt, "__builtins__": {}}


def evaluated(template: str, values: list[float]) -> float:
    """A step's formula with numbers put in."""
    return float(eval(template.replace("^", "**").format(*(f"({value!r})" for value in values)), _NAMES))


class Board:
    """The givens and lines of an exercise; every number is worked out from those before it."""

    def __init__(self, units: System) -> None:
        self.units = units
        self.givens: list[Given] = []
        self.lines: list[Step] = []

    def rounded(self, value: float, kind: Kind) -> float:
        """A number to three digits of the unit it is written in [SI]."""
        unit = unit_of(kind, self.units).factor
        return float(f"{value / unit:.{DIGITS}g}") * unit

    def given(self, name: str, symbol: str, value: float, kind: Kind = Kind.NUMBER) -> Given:
        """A number to start from."""
        given = Given(name, symbol, self.rounded(value, kind), kind, "given")
        self.givens.append(given)
        return given

    def line(
        self, name: str, symbol: str, template: str, *inputs: Given, kind: Kind = Kind.NUMBER,
        powers: tuple[float, ...] = (),
    ) -> Given:  # fmt: skip
        """A formula and what it comes to. powers: of each input, where units have to be turned."""
        value = evaluated(template, [given.value for given in inputs])
        step = Step(name=name, symbol=symbol, template=template, inputs=inputs, value=value, kind=kind,
                    source="formula", powers=powers)  # fmt: skip
        self.lines.append(step)
        return step.result

    def by_hand(self) -> dict[str, float]:
        """Every line again, each result rounded to three digits before it goes on [SI]."""
        known = {given.symbol: given.value for given in self.givens}
        for step in self.lines:
            value = evaluated(step.template, [known[given.symbol] for given in step.inputs])
            known[step.symbol] = self.rounded(value, step.kind)
        return known

    def ask(self, answer: Given, *, tolerance: float, code: str = "find", **values: Value) -> Asked:
        """A question for what a line comes to. Raises DrawAgain where rounding by hand could make it wrong."""
        by_hand = self.by_hand()[answer.symbol]
        if not answer.value or abs(by_hand / answer.value - 1.0) > SURE * tolerance:
            raise DrawAgain
        values = {"symbol": answer.symbol, "name": answer.name, **values}
        return Asked(code=code, values=values, answer=answer, tolerance=tolerance)

    def whole(self, answer: Given, *, code: str, **values: Value) -> Asked:
        """A question for the whole number at or below a line's result. DrawAgain where rounding could turn it."""
        number = math.floor(answer.value)
        if number < 1 or not number + 0.1 < answer.value < number + 0.9:
            raise DrawAgain
        return Asked(code=code, values=values, answer=Given("", "N", float(number)))


def choose(code: str, choices: tuple[str, ...], choice: str, because: str, values: Mapping[str, Value] = {}) -> Asked:  # noqa: B006
    """A question with choices."""
    return Asked(code=code, values=values, choices=choices, choice=choice, because=because)
