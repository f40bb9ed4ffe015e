"""A lesson as it is held: questions with their choices, answers worked out from the job, guesses and marks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ventsize.check.inputs import Inputs
from ventsize.finding import Outcome
from ventsize.quantity import Dimension

Way = Literal["choice", "number"]
Guess = int | float
"""The number of a choice from 0, or a value [SI]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A question with its answer.

    choices: in words; empty where a number is asked for. answer: the right choice from 0, or the value [SI].
    dimension: of the number; None for a plain one. tolerance: of the answer, either way [-].
    figures: what each variant, or the one asked about, has [SI]: shown with the answer.
    why: how the answer comes about, in a sentence; notice: what the lesson's author adds.
    """

    ask: str
    way: Way
    choices: tuple[str, ...]
    answer: Guess
    dimension: Dimension | None
    tolerance: float
    figures: tuple[tuple[str, float], ...]
    why: str | Outcome
    notice: str
    style: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """The lesson's job, or a variant of it: its name, in what it differs, and the job itself looked up."""

    name: str
    differences: tuple[str, ...]
    inputs: Inputs


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldLesson:
    """A lesson ready to be held."""

    name: str
    title: str
    story: str
    notice: str
    variants: tuple[Variant, ...]
    questions: tuple[Question, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """What somebody's guess was worth. off: how far it was from a number, as a share of it [-]."""

    who: str
    guess: Guess
    right: bool
    points: int
    off: float | None
