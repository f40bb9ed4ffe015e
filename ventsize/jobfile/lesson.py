"""Keys of a job that is a lesson: [lesson], with variants of the job and questions to guess at before the answer.

[lesson]
name = "long turns"                     # what the job itself is called beside its variants
place = 3                               # on the path from easy to hard
notice = "What the class should take home."

[lesson.teacher]                        # a page of notes, printed apart
aim = "What they can do afterwards."
minutes = 20
expect = ["What they will say."]
board = ["What to draw on the board."]

[[lesson.variant]]                      # the job with something changed
name = "short turns"
fittings = { elbow-90-long = "elbow-90-short" }         # or several for each: ["elbow-45", "elbow-45"]

[[lesson.question]]                     # which of several
ask = "Which run loses more?"
measure = "pressure drop"
pick = "most"                           # or "least"; `among` names some of the variants, all where it is left out
notice = "What to see in the answer."

[[lesson.question]]                     # a number
ask = "How many feet of pipe is one elbow worth?"
measure = "worth of a fitting"
fitting = "elbow-90-long"
tolerance = 0.25                        # of the answer, either way
given = ["flow", "bore"]                # measures shown with the question, to reason from

[[lesson.question]]                     # between which limits
ask = "How much does low fire lose, against high fire?"
measure = "pressure drop"
rate = "low"
over_rate = "high"                      # the answer is a share of this; `over` names another variant
limits = [0.25, 0.5, 0.75]

No answer is ever written here: it is worked out from the job when the lesson is held.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal, get_args

from pydantic import Field

from ventsize.jobfile.document import nearest, rare_record, record
from ventsize.jobfile.field_types import (
    Expected,
    Fraction,
    Length,
    PositiveLength,
    PositivePower,
    SignedLength,
    Temperature,
    Text,
)

MOST_VARIANTS = 6  # the job itself among them
USUAL_NAME = "as it is"
USUAL_TOLERANCE = 0.25

Count = Annotated[int, Field(strict=True, ge=0, le=1_000), Expected("a whole number")]
Instead = str | tuple[str, ...]
Fittings = Annotated[
    dict[str, Instead], Expected("such as { elbow-90-long = 'elbow-90-short' }, or ['elbow-45', 'elbow-45'] for each")
]
Counts = Annotated[dict[str, Count], Expected("such as { elbow-45 = 2 }")]

_Measured = Literal[
    "pressure drop",
    "equivalent length",
    "worth of a fitting",
    "velocity",
    "Reynolds number",
    "friction factor",
    "flow",
    "share of the fittings",
    "draft",
    "length by the table",
    "length left by the table",
    "verdict",
    "share of top speed",
    "excess air at fixed speed",
    "bore",
    "air pressure",
    "density",
    "mass flow",
    "dew point",
    "flue gas temperature",
    "condensate",
    "water made",
    "loss coefficient",
    "viscosity",
]
MEASURES: tuple[str, ...] = get_args(_Measured)
"""What a question may ask for."""

Measure = Annotated[_Measured, Expected("one of: " + ", ".join(MEASURES))]


@record
class SizeFrom:
    """From which piece of a run on another size begins, counted from 1 [m]."""

    piece: Count
    size: PositiveLength


@record
class Changed:
    """What is otherwise in a variant of a job; what is not given stays as it is. In SI.

    run: the run whose pieces change; the first that carries flue gas where it is not given.
    fittings: each of the one becomes the other, or several. more, fewer: so many more, or fewer, of a fitting.
    size, material: of the whole run. size_from: another size from a piece on. end: the fitting at its outdoor end.
    longer: of its last pipe, negative for shorter [m]. straight: all its straight pipe together [m].
    order: its pieces by number, in another order.
    input: the highest, the other rates in proportion [W]. excess_air, flue_temperature: at every rate [-], [K].
    """

    run: Text | None = None
    fittings: Fittings | None = None
    more: Counts | None = None
    fewer: Counts | None = None
    size: PositiveLength | None = None
    size_from: SizeFrom | None = None
    material: Text | None = None
    end: Text | None = None
    longer: SignedLength | None = None
    straight: Length | None = None
    order: tuple[Count, ...] | None = None
    fuel: Text | None = None
    input: PositivePower | None = None
    excess_air: Fraction | None = None
    flue_temperature: Temperature | None = None
    altitude: SignedLength | None = None
    outdoor: Temperature | None = None


@record
class LessonVariant(Changed):
    """A variant of the lesson's job, by name."""

    name: Text


@record
class LessonQuestion:
    """A guess to be made. One of three kinds: `pick` among variants, `limits` to choose between, or a number.

    of: which variant is measured, the job itself where it is not given. run, rate: which of its; the first vent, and
    the rate at which it loses most. fitting: for the worth of one. over, over_rate: the answer is a share of what
    that variant, or that rate, has. limits: text with units, or bare numbers for shares and plain numbers.
    given: measures of the variants asked about, shown with the question.
    """

    ask: Text
    measure: Measure
    of: Text | None = None
    run: Text | None = None
    rate: Text | None = None
    fitting: Text | None = None
    over: Text | None = None
    over_rate: Text | None = None
    pick: Annotated[Literal["most", "least"], Expected("'most' or 'least'")] | None = None
    among: tuple[Text, ...] = ()
    limits: tuple[str | float, ...] = ()
    tolerance: Fraction = USUAL_TOLERANCE
    given: tuple[Measure, ...] = ()
    notice: Text = ""


@record
class Teacher:
    """Notes for whoever holds the lesson: what it is for, how long it takes, what the class will say, what to draw."""

    aim: Text
    minutes: Count
    expect: tuple[Text, ...] = ()
    board: tuple[Text, ...] = ()


@rare_record
class Lesson:
    """A lesson on the job it stands in. name: of the job itself among its variants; place: on the path of lessons."""

    name: Text = USUAL_NAME
    place: Count | None = None
    teacher: Teacher | None = None
    notice: Text = ""
    variants: Annotated[tuple[LessonVariant, ...], Field(alias="variant")] = ()
    questions: Annotated[
        tuple[LessonQuestion, ...], Field(alias="question"), Expected("at least one [[lesson.question]]")
    ]

    @property
    def names(self) -> tuple[str, ...]:
        """The job itself and its variants, by name."""
        return (self.name, *(variant.name for variant in self.variants))


def lesson_faults(lesson: Lesson | None) -> Iterator[tuple[str, str, str]]:
    """What is wrong between keys that are each right by themselves: (place, problem, expected)."""
    if lesson is None:
        return
    names = lesson.names
    if not lesson.questions:
        yield "lesson", "it asks nothing", "at least one [[lesson.question]]"
    if len(names) > MOST_VARIANTS:
        yield "lesson", f"it has {len(names)} variants with the job itself", f"no more than {MOST_VARIANTS}"
    for name in sorted({name for name in names if names.count(name) > 1}):
        yield "lesson", f"two variants are named '{name}'", "each name once"
    for number, question in enumerate(lesson.questions, start=1):
        for problem, expected in _question_faults(question, names):
            yield f"lesson, question {number}", problem, expected


def _question_faults(question: LessonQuestion, names: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    named = [name for name in (question.of, question.over, *question.among) if name is not None]
    yield from ((f"no variant is named '{name}'", nearest(name, names)) for name in named if name not in names)
    if not question.ask.strip():
        yield "it asks nothing", "ask = 'Which run loses more?'"
    if question.pick and question.limits:
        yield "it has both 'pick' and 'limits'", "one of them, or neither for a number"
    if question.pick and len(question.among or names) < 2:
        yield "there is only one variant to pick from", "two or more"
    if question.measure == "worth of a fitting" and question.fitting is None:
        yield "it does not say of which fitting", "fitting = 'elbow-90-long'"
    if "verdict" in question.given:
        yield "a verdict is nothing to reason from", "a measure"
    if question.measure == "verdict" and (question.pick or question.limits or question.over or question.over_rate):
        yield "a verdict is asked for by its words", "neither 'pick' nor 'limits' nor 'over'"
