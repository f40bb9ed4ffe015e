"""Reads what a printed working says, without the program: its lines, and what they come to."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

FUNCTIONS = ("log10", "sqrt")
SYMBOL = r"[A-Za-zµρεΔ∞]+\d*(?:\[[^\]]*\])?"
TOKEN = re.compile(r"\s*(\d+\.?\d*|log10|sqrt|[-+×/^()])")


class Line(NamedTuple):
    """One printed step: its symbol, formula, numbers put in, and result as text."""

    symbol: str
    formula: str
    put_in: str
    result: str


class Reader:
    """A calculator for the printed lines that knows nothing of the program: + - × / ^ log10 sqrt.

    The number `moved`, counted from 0, is read half a unit of its sixth digit higher.
    """

    def __init__(self, text: str, moved: int = -1) -> None:
        bare = re.sub(r"\[[^\]]*\]", "", text)
        self.tokens = TOKEN.findall(bare)
        assert "".join(self.tokens) == re.sub(r"\s", "", bare), text
        self.at = self.numbers = 0
        self.moved = moved

    def value(self) -> float:
        found = self.total()
        assert self.at == len(self.tokens)
        return found

    def next(self) -> str:
        self.at += 1
        return self.tokens[self.at - 1]

    def sees(self, *tokens: str) -> bool:
        return self.at < len(self.tokens) and self.tokens[self.at] in tokens

    def total(self) -> float:
        found = self.product()
        while self.sees("+", "-"):
            found = found + self.product() if self.next() == "+" else found - self.product()
        return found

    def product(self) -> float:
        found = self.power()
        while self.sees("×", "/"):
            found = found * self.power() if self.next() == "×" else found / self.power()
        return found

    def power(self) -> float:
        if self.sees("-"):
            self.next()
            return -self.power()
        base = self.single()
        if self.sees("^"):
            self.next()
            power = self.power()
            return float(base ** (round(power) if base < 0.0 else power))  # a square is exact, also when `moved`
        return base

    def single(self) -> float:
        token = self.next()
        if token in FUNCTIONS:
            return float(getattr(math, token)(self.single()))
        if token == "(":
            found = self.total()
            assert self.next() == ")"
            return found
        self.numbers += 1
        return float(token) + (half_a_digit(float(token)) if self.numbers - 1 == self.moved else 0.0)


def half_a_digit(value: float) -> float:
    """Half a unit of the sixth digit of a number."""
    return 0.5 * 10.0 ** (math.floor(math.log10(abs(value))) - 5) if value else 0.0


def lines_of(text: str) -> Iterator[Line]:
    """The steps of a printed working."""
    for paragraph in re.split(r"\n\n", text):
        if not re.match(r"\d+\. ", paragraph):
            continue
        parts: list[str] = []
        for line in paragraph.split("\n"):
            indent = len(line) - len(line.lstrip())
            if indent == 5:
                parts.append(line.strip())
            elif indent == 9 and len(parts) < 3:
                parts[-1] += " " + line.strip()
        first, put_in, result = parts
        symbol, formula = first.split(" = ", 1)
        yield Line(symbol, formula, put_in.removeprefix("= "), result.removeprefix("= "))


def assert_comes_out(line: Line) -> None:
    """The numbers put in give the result, within what rounding them to six digits can do."""
    reader = Reader(line.put_in)
    value, shown = reader.value(), Reader(line.result).value()
    sway = sum(abs(Reader(line.put_in, moved).value() - value) for moved in range(reader.numbers))
    allowed = (sway + half_a_digit(shown)) * 1.01 + 1e-12
    assert abs(value - shown) <= allowed, (line, value, shown, allowed)


def put_in(formula: str, known: Mapping[str, float]) -> str:
    """A formula with numbers in place of its symbols."""

    def number(symbol: str) -> str:
        return symbol if symbol in FUNCTIONS else f"(0 + {known[symbol]:.25f})".replace("+ -", "- ")

    return re.sub(SYMBOL, lambda found: number(found[0]), formula)
