"""An air pipe narrowed somewhere in its middle: found there, from readings on both sides of it."""

from __future__ import annotations

import copy

import pytest

from tests.studies.readings_of import Data, collar, data_of, inputs_of, reading
from ventsize.check.verdict import check
from ventsize.studies.along import static_pressures
from ventsize.studies.diagnosis import diagnose
from ventsize.studies.diagnosis.causes import suspects
from ventsize.studies.readings.conditions import Conditions
from ventsize.studies.readings.model import Model

FINE = "0.002 in w.c."
ELBOWS = (2, 4, 6)  # pieces of the air pipe, from 1


@pytest.fixture
def laid_out() -> Data:
    """The demonstration with its air pipe as pieces: three elbows, the outdoor end last."""
    data = copy.deepcopy(data_of("trips-on-the-vent"))
    air = data["run"][1]
    for key in ("straight", "rise", "fittings"):
        del air[key]
    air["pieces"] = [
        {"pipe": "4 ft", "heading": "up"}, {"fitting": "elbow-90-long"},
        {"pipe": "12 ft", "heading": "east"}, {"fitting": "elbow-90-long"},
        {"pipe": "9 ft", "heading": "north"}, {"fitting": "elbow-90-long"},
        {"pipe": "3 ft", "heading": "east"}, {"fitting": "terminal-elbow-down"},
    ]  # fmt: skip
    return data


def narrowed(data: Data, piece: int) -> Data:
    """With a loss of 14 velocity heads more in an elbow, and its own."""
    made = copy.deepcopy(data)
    made["run"][1]["pieces"][piece - 1]["k"] = 14.3
    return made


def after(data: Data, piece: int) -> float:
    """What the solver has a manometer show behind a piece of the air pipe [Pa]; air comes from the last piece."""
    run = next(one for one in check(inputs_of(data)).runs if one.run.name == "air")
    return static_pressures(run.rates[0].flow)[2 * (len(run.run.pieces) - piece)][1]


def test_it_may_be_at_every_elbow_and_at_both_ends(laid_out: Data) -> None:
    """A place that is never tried is blamed on wind or a leak."""
    model = Model(Conditions(inputs_of(laid_out)), [])
    places = [one.part.first for one in suspects(model) if one.kind == "air pipe"]
    assert places == [1, *ELBOWS, 8]


@pytest.mark.parametrize("piece", ELBOWS)
def test_it_is_found_at_the_elbow_where_it_is(laid_out: Data, piece: int) -> None:
    """Read at the appliance and on both sides of the elbow, nothing else explains it."""
    truth = narrowed(laid_out, piece)
    taken = [
        reading("collar", pressure=collar(truth), accuracy=FINE),
        reading("air pipe", pressure=collar(truth, "high", "air"), accuracy=FINE),
        reading(f"after piece {piece - 1}", run="air", pressure=after(truth, piece - 1), accuracy=FINE),
        reading(f"after piece {piece}", run="air", pressure=after(truth, piece), accuracy=FINE),
    ]
    cause = diagnose(inputs_of(laid_out, *taken)).groups[0].causes[0]
    assert (cause.kind, cause.part.first, cause.misses) == ("air pipe", piece, ())
