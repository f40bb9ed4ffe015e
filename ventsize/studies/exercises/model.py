"""An exercise: what is told, what is asked, and the key."""

from __future__ import annotations

from dataclasses import dataclass

from ventsize.check.inputs import Inputs
from ventsize.check.result import RunCheck
from ventsize.finding import Outcome
from ventsize.quantity import System
from ventsize.studies.working.steps import Given, Step

ONE_STEP = 0.01  # by hand, a line or two with a calculator
CHAIN = 0.02  # several lines, each rounded
FROM_A_CHART = 0.05  # with a friction factor read from a chart

LEVELS = (1, 2, 3)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A question with its one right answer: a number or one of the choices.

    answer: the number, in SI, with its symbol and kind. tolerance: how far a result by hand may be off [-].
    choices: what may be answered, where it is not a number; choice: the right one. because: why, in a sentence or
    as what settles the verdict.
    """

    text: str
    answer: Given | None = None
    tolerance: float = 0.0
    choices: tuple[str, ...] = ()
    choice: str = ""
    because: str | Outcome = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictured:
    """A run to be drawn beside an exercise: of a job, as checked."""

    title: str
    inputs: Inputs
    run: RunCheck


@dataclass(frozen=True, slots=True, kw_only=True)
class Exercise:
    """One exercise.

    story: what is told, in sentences. givens: numbers to start from; what the key starts from and no more.
    runs: the runs it is about. table: the name of the allowance table to be shown, in `runs[0].inputs.tables`.
    key: the lines from the givens to the answers.
    """

    topic: str
    level: int
    title: str
    story: tuple[str, ...]
    asked: tuple[Asked, ...]
    givens: tuple[Given, ...] = ()
    runs: tuple[Pictured, ...] = ()
    table: str | None = None
    key: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Exercises for one student. Everything in them is invented."""

    seed: int
    student: int
    topic: str
    level: int
    system: System
    exercises: tuple[Exercise, ...]
