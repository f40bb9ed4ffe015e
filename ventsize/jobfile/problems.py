"""What is wrong with a file, in words a person can act on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from ventsize.jobfile.letters import plain

MOST_TOLD = 20  # faults of one file; whoever mends these sees the others next
LONGEST = 1_000  # characters of a sentence


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault: the file, the place in it, what is wrong, and what is expected there.

    path: the place as keys and numbers from 1, such as ("row", 3, "altitude"); empty where it has none
    """

    file: str
    place: str
    problem: str
    expected: str = ""
    path: tuple[str | int, ...] = field(default=(), compare=False)

    def __str__(self) -> str:
        where = ": ".join(part for part in (self.file, self.place) if part)
        sentence = f"{self.problem}; expected {self.expected}" if self.expected else self.problem
        said = " ".join(plain(f"{where}: {sentence}" if where else sentence).split())
        return said if len(said) <= LONGEST else f"{said[: LONGEST - 1]}…"


def in_words(path: Iterable[str | int]) -> str:
    """A path as a place: row 3, altitude."""
    return "".join(f" {step}" if isinstance(step, int) else f", {step}" for step in path).removeprefix(", ")


class Refused(Exception):
    """Why there is no answer, or no file, in words for whoever asked for it."""


class InputError(Refused):
    """Input that cannot be read. Carries the faults found, each one line of text.

    more: how many there are besides those carried.
    """

    def __init__(self, problems: Problem | Iterable[Problem], *, more: int = 0) -> None:
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        self.more = more
        super().__init__(self._told())

    def _told(self) -> str:
        lines = [str(problem) for problem in self.problems[:MOST_TOLD]]
        rest = len(self.problems) - len(lines) + self.more
        if rest:
            where = f"{plain(self.problems[0].file)}: " if self.problems[0].file else ""
            lines.append(f"{where}and {rest:,} more faults" if rest > 1 else f"{where}and one more fault")
        return "\n".join(lines)
