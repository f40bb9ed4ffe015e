"""A sheet of exercises: from a seed, a level and a topic; another one for each student."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import NamedTuple

from ventsize.quantity import System
from ventsize.studies.exercises import burning, flowing, judging
from ventsize.studies.exercises.draws import DrawAgain, Draws
from ventsize.studies.exercises.model import LEVELS, Exercise, Sheet

MIXED = "mixed"
MOST_EXERCISES = 40
_MOST_DRAWS = 2000  # one in some ten to fifty is met in practice


class Maker(NamedTuple):
    """What makes exercises of one kind."""

    topic: str
    level: int
    make: Callable[[Draws], Exercise]


MAKERS: tuple[Maker, ...] = (
    Maker(burning.TOPIC, 1, burning.fuel_burnt),
    Maker(burning.TOPIC, 2, burning.air_taken_in),
    Maker(burning.TOPIC, 3, burning.two_settings),
    Maker(flowing.VELOCITY, 1, flowing.gas_speed),
    Maker(flowing.VELOCITY, 2, flowing.reynolds_number),
    Maker(flowing.VELOCITY, 3, flowing.smallest_size),
    Maker(flowing.FRICTION, 1, flowing.straight_pipe),
    Maker(flowing.FRICTION, 2, flowing.friction_factor),
    Maker(flowing.FRICTION, 3, flowing.low_fire),
    Maker(flowing.FITTINGS, 1, flowing.elbow_loss),
    Maker(flowing.FITTINGS, 2, flowing.elbow_as_pipe),
    Maker(flowing.FITTINGS, 3, flowing.elbow_at_both_fires),
    Maker(flowing.PRESSURE, 1, flowing.run_added_up),
    Maker(flowing.PRESSURE, 2, flowing.run_from_the_pieces),
    Maker(flowing.PRESSURE, 3, flowing.room_for_more),
    Maker(judging.COUNTING, 1, judging.by_deductions),
    Maker(judging.COUNTING, 2, judging.by_elbows),
    Maker(judging.COUNTING, 3, judging.between_rows),
    *(
        Maker(judging.VERDICT, level, partial(make, level))
        for level in LEVELS
        for make in (judging.table_decides, judging.covered_or_not, judging.two_layouts)
    ),
)
TOPICS = (MIXED, *dict.fromkeys(maker.topic for maker in MAKERS))


def sheet(
    *, seed: int, topic: str = MIXED, level: int = 1, student: int = 1, exercises: int = 6, units: System
) -> Sheet:
    """A sheet of exercises, always the same one for the same arguments.

    topic: one of TOPICS. level: 1 numbers put into a formula, 2 several and a
    choice between them, 3 the other way about, or compared. student: each has other numbers.

    Raises ValueError for a topic, level or number that there is not.
    """
    if topic not in TOPICS:
        raise ValueError(f"there is no topic '{topic}'; expected one of {', '.join(TOPICS)}")
    if level not in LEVELS:
        raise ValueError(f"there is no level {level}; expected 1, 2 or 3")
    if not 1 <= exercises <= MOST_EXERCISES:
        raise ValueError(f"a sheet cannot have {exercises} exercises; expected 1 to {MOST_EXERCISES}")
    if student < 1:
        raise ValueError(f"there is no student {student}; expected 1 or more")
    makers = [maker for maker in MAKERS if maker.level == level and topic in (MIXED, maker.topic)]
    name = f"{seed}/{topic}/{level}/{student}/{units.value}"
    order = _order(makers, Draws(name, units), exercises)
    made = tuple(_made(maker, f"{name}/{number}", units, turn=seed + student) for number, maker in enumerate(order))
    return Sheet(seed=seed, student=student, topic=topic, level=level, units=units, exercises=made)


def _order(makers: list[Maker], draws: Draws, exercises: int) -> list[Maker]:
    """Which kinds, easy subjects first.

    What the table decides, what it does not cover and what it cannot tell come on every sheet of three exercises or
    more that has the subject: it is what a tech must never mix up.
    """
    always = [maker for maker in makers if maker.topic == judging.VERDICT][:exercises]
    others = [maker for maker in makers if maker not in always]
    chosen = list(always) if exercises >= len(always) and exercises >= 3 else []
    while len(chosen) < exercises:
        pool = others or always
        chosen += draws.random.sample(pool, k=min(len(pool), exercises - len(chosen)))
    return sorted(chosen, key=makers.index)


def _made(maker: Maker, seed: str, units: System, *, turn: int) -> Exercise:
    draws = Draws(seed, units, turn=turn)
    for _ in range(_MOST_DRAWS):
        try:
            made = maker.make(draws)
        except DrawAgain:
            continue
        return made
    raise AssertionError(f"no exercise of the kind '{maker.topic}' in {_MOST_DRAWS} draws")
