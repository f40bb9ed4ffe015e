"""A lesson as it is held: questions with their choices, answers worked out from the job, guesses and marks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ventsize.check.inputs import Inputs
from ventsize.finding import Outcome
from ventsize.jobfile.lesson import Measure, Teacher
from ventsize.quantity import Dimension
from ventsize.run.model import Run

Way = Literal["choice", "number"]
Guess = int | float
"""The number of a choice from 0, or a value [SI]."""
NO_DIFFERENCE = "no difference"


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What a variant has of a measure, shown with the question [SI]."""

    variant: str
    measure: Measure
    dimension: Dimension | None
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A question with its answer.

    measure: what is asked for. options: what may be chosen by name; limits: between which a value lies [SI].
    answer: the right choice from 0, or the value [SI]. dimension: of the value; None for a plain one.
    share: whether the answer is a share of another's. tolerance: of the answer, either way [-].
    figures: what each variant, or the one asked about, has [SI]; their own dimension is figures_in.
    shows: the variants it is about, by name. given: what is shown with it.
    decides: of a verdict, the outcome that settles it. notice: what the lesson's author adds.
    ahead: whether its figures would give away the answer to a later question.
    """

    ask: str
    measure: Measure
    way: Way
    answer: Guess
    dimension: Dimension | None = None
    share: bool = False
    options: tuple[str, ...] = ()
    limits: tuple[float, ...] = ()
    tolerance: float = 0.0
    figures: tuple[tuple[str, float], ...] = ()
    figures_in: Dimension | None = None
    shows: tuple[str, ...] = ()
    given: tuple[Given, ...] = ()
    decides: Outcome | None = None
    notice: str = ""
    ahead: bool = False

    @property
    def choices(self) -> int:
        """How many there are to choose from; 0 where a number is asked for."""
        return len(self.options) or (len(self.limits) + 1 if self.limits else 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """The lesson's job, or a variant of it: its name, the job itself looked up, and the run the lesson is about."""

    name: str
    inputs: Inputs
    run: Run


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldLesson:
    """A lesson ready to be held."""

    name: str
    title: str
    story: str
    notice: str
    variants: tuple[Variant, ...]
    questions: tuple[Question, ...]
    teacher: Teacher | None = None

    def variant(self, name: str) -> Variant:
        """One of its variants."""
        return next(variant for variant in self.variants if variant.name == name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """What somebody's guess was worth; None for a guess where somebody passed.

    off: how far it was from a number, as a share of it [-].
    """

    who: str
    guess: Guess | None
    right: bool
    points: int
    off: float | None
