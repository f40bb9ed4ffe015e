"""Exercises on combustion: from the firing rate to what goes up the vent."""

from __future__ import annotations

from ventsize.studies.exercises.draws import Drawn, Draws
from ventsize.studies.exercises.key import Key, key_of
from ventsize.studies.exercises.model import CHAIN, ONE_STEP, Asked, Exercise
from ventsize.studies.exercises.wording import appliance_story
from ventsize.studies.working import working_of

TOPIC = "combustion"


def fuel_burnt(draws: Draws) -> Exercise:
    """Input and gross heat give the fuel."""
    drawn = _drawn(draws)
    key = _key(drawn, "n[fuel]")
    return _exercise(draws, drawn, 1, "Fuel burnt", key, key.ask("n[fuel]", tolerance=ONE_STEP))


def air_taken_in(draws: Draws) -> Exercise:
    """Fuel, the oxygen it takes, and the excess give the air."""
    drawn = _drawn(draws)
    key = _key(drawn, "m[air]")
    return _exercise(draws, drawn, 2, "Air taken in", key, key.ask("m[air]", tolerance=CHAIN))


def flue_gas_made(draws: Draws) -> Exercise:
    """What goes up the vent, and what drains."""
    drawn = _drawn(draws)
    condenses = drawn.check.appliances[0].rates[0].gas.condensate > 0.0
    asked = ("m[air]", "m[water]", "m") if condenses else ("m[air]", "m")
    key = _key(drawn, *asked)
    return _exercise(draws, drawn, 3, "Flue gas made", key, *(key.ask(one, tolerance=CHAIN) for one in asked))


def _drawn(draws: Draws) -> Drawn:
    return draws.solve(draws.job(draws.layout(elbows=1)))


def _key(drawn: Drawn, *asked: str) -> Key:
    return key_of(working_of(drawn.check, drawn.inputs).steps, *asked, known={"H"})


def _exercise(draws: Draws, drawn: Drawn, level: int, title: str, key: Key, *asked: Asked) -> Exercise:
    return Exercise(
        topic=TOPIC,
        level=level,
        title=title,
        story=(appliance_story(drawn, draws.system),),
        givens=key.givens,
        asked=asked,
        key=key.steps,
    )
