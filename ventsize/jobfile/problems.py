"""What is wrong with a file, in words a person can act on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault: the file, the place in it, what is wrong, and what is expected there."""

    file: str
    place: str
    problem: str
    expected: str = ""

    def __str__(self) -> str:
        where = ": ".join(part for part in (self.file, self.place) if part)
        sentence = f"{self.problem}; expected {self.expected}" if self.expected else self.problem
        return " ".join(f"{where}: {sentence}".split()) if where else sentence


class Refused(Exception):
    """Why there is no answer, or no file, in words for whoever asked for it."""


class InputError(Refused):
    """Input that cannot be read. Carries every fault found, each one line of text."""

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(map(str, self.problems)))
