"""An exercise: what is told, what is asked, and the key. In SI; the words are made where it is shown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ventsize.check.inputs import Inputs
from ventsize.check.result import RunCheck
from ventsize.finding import Outcome, Value
from ventsize.quantity import System
from ventsize.studies.working.steps import Given, Step

ONE_STEP = 0.02  # by hand, from numbers of three digits
CHAIN = 0.03  # several lines, each rounded to three digits
WITH_POWERS = 0.05  # with a friction factor

LEVELS = (1, 2, 3)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A question with its one right answer: a number or one of the choices.

    code: of its words, with their values. answer: the number, in SI, with its symbol and kind. tolerance: how far a
    result by hand may be off; 0 for a count [-].
    choices: what may be answered, where it is not a number; choice: the right one. because: why, as the code of a
    sentence with the same values, or as what settles the verdict.
    """

    code: str
    values: Mapping[str, Value] = field(default_factory=dict)
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

    code: of its title. tells: codes of what is told, in order; values: of their words.
    givens: numbers to start from, three digits each; the formulas need all of them and no more.
    runs: the runs it is about. table: the name of the allowance table to be shown, in `runs[0].inputs.tables`.
    formulas: the lines that may be used; they are the key too. unprinted: symbols of those that would give the answer
    away. key: of a table, the lines of its answer.
    """

    topic: str
    level: int
    code: str
    tells: tuple[str, ...]
    asked: tuple[Asked, ...]
    values: Mapping[str, Value] = field(default_factory=dict)
    givens: tuple[Given, ...] = ()
    runs: tuple[Pictured, ...] = ()
    table: str | None = None
    formulas: tuple[Step, ...] = ()
    unprinted: tuple[str, ...] = ()
    key: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Exercises for one student. Everything in them is invented. units: the units of the class."""

    seed: int
    student: int
    topic: str
    level: int
    units: System
    exercises: tuple[Exercise, ...]
