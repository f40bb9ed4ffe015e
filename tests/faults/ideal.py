"""What an ideal judge reaches on the same draws: Bayes with the drawing's own distribution.

It knows from what causes and sizes are drawn, how often each kind is, and the spread of everything else; the vent
itself it follows by the model of the diagnosis, since thousands of full solutions a job would take a day. So it is
ideal in its judgement, not in its physics.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from random import Random

import numpy as np
from scipy.linalg import solve_triangular

from tests.faults.hiding import KINDS, drawn, two
from tests.faults.truth import Hidden
from ventsize.check.inputs import Inputs
from ventsize.run.model import Section
from ventsize.studies.diagnosis import _evidence
from ventsize.studies.diagnosis.fitting import Fitter
from ventsize.studies.diagnosis.swapping import Stretch, swap
from ventsize.studies.readings import look
from ventsize.studies.readings.case import Array
from ventsize.studies.readings.model import Change, Model
from ventsize.studies.readings.places import ordered

DRAWS, PAIRS = 80, 300
NONE = "none"
Weights = Mapping[str, float]


def change_of(inputs: Inputs, model: Model, hidden: Hidden) -> Change:
    """A hidden cause as a change of the model."""
    found = Change(
        room=hidden.room,
        at_vent=hidden.wind[0],
        at_air=hidden.wind[1],
        recirculated=hidden.recirculated,
        flow=hidden.flow,
        input=hidden.input,
        warmth=hidden.warmth,
        felt=hidden.felt,
        standing=hidden.standing,
    )
    for one in hidden.on_the_pipe:
        found = found.beside(_on_the_pipe(inputs, model, one))
    return found


def _on_the_pipe(inputs: Inputs, model: Model, hidden: Hidden) -> Change:
    run = inputs.graph.runs[hidden.run]
    pieces = ordered(run)
    number = next(n for n, piece in enumerate(pieces) if piece is run.pieces[hidden.piece])
    key = (hidden.run, number)
    if hidden.size:
        return Change(swaps=_swaps(inputs, model, hidden, number))
    if hidden.hole:
        return Change(hole=(hidden.run, number + 1, math.pi * hidden.hole**2 / 4.0))
    if hidden.feet:
        return Change(longer=((key, hidden.feet / max(pieces[number].length, 1e-6)),))
    if hidden.elbows:
        return Change(longer=((key, float(hidden.elbows)),))
    if hidden.head:
        return Change(closed=((key, hidden.head),))
    return Change(narrow=((key, hidden.k),)) if hidden.k else Change()


def _swaps(inputs: Inputs, model: Model, hidden: Hidden, number: int):  # type: ignore[no-untyped-def]
    run = inputs.graph.runs[hidden.run]
    section = ordered(run)[number].before
    size = section.material.size(hidden.size)
    assert size is not None
    last = number if hidden.part < 1.0 else max(number, hidden.last)
    stretch = Stretch(
        run=hidden.run,
        first=number,
        last=min(last, len(run.pieces) - 1),
        section=Section(material=section.material, size=size),
        part=hidden.part if hidden.part < 1.0 else None,
    )
    return tuple(swap(case, stretch) for case in model.cases)


def posterior(inputs: Inputs, *, seed: int, prior: Weights) -> tuple[dict[str, float], dict[str, float]]:
    """How likely each kind is by itself, nothing being wrong among them, and each as one of two, given the readings."""
    looked = look(inputs)
    if not any(reading.compared for reading in looked.study.readings):
        return {NONE: 1.0}, {}
    fitter = _evidence(inputs, looked).fitter
    chance = Random(seed)
    logs: dict[str, float] = {NONE: math.log(prior[NONE]) + _log(fitter, Change())}
    for kind in KINDS:
        found = [_log(fitter, change) for change in _draws(inputs, fitter.model, kind, chance)]
        if found:
            logs[kind] = math.log(prior["one"] / len(KINDS)) + _mean(found)
    pairs: dict[str, list[float]] = {}
    for _ in range(PAIRS):
        hidden = two(inputs, chance)
        if hidden is not None:
            likely = _log(fitter, change_of(inputs, fitter.model, hidden))
            for kind in hidden.kinds:
                pairs.setdefault(kind, []).append(likely)
    both = {kind: math.log(prior["two"]) + _mean(found) for kind, found in pairs.items()}
    most = max([*logs.values(), *both.values()])
    return (
        {kind: math.exp(value - most) for kind, value in logs.items()},
        {kind: math.exp(value - most) * 2.0 / len(both) for kind, value in both.items()},
    )


def _draws(inputs: Inputs, model: Model, kind: str, chance: Random):  # type: ignore[no-untyped-def]
    for _ in range(DRAWS):
        hidden = drawn(inputs, kind, chance)
        if hidden is None:
            return
        yield change_of(inputs, model, hidden)


def _mean(logs: list[float]) -> float:
    most = max(logs)
    return most + math.log(sum(math.exp(value - most) for value in logs) / len(logs))


def _log(fitter: Fitter, change: Change) -> float:
    """The logarithm of how likely the readings are; of a fan that is not described, half hold their flow."""
    shows = fitter.model.shows(change)[: fitter.count]
    loses = fitter.model.may_lose(change)[: fitter.count]
    ways = [_normal(fitter, shows)] if not np.any(loses) else [_normal(fitter, shows), _normal(fitter, shows + loses)]
    return _mean(ways)


def _normal(fitter: Fitter, shows: Array) -> float:
    left = solve_triangular(fitter._factor[0], fitter.measured - shows, lower=True)
    return -0.5 * float(np.sum(left**2))


def ranking(inputs: Inputs, *, seed: int, prior: Weights) -> list[str]:
    """Kinds of causes, nothing wrong among them, the likeliest first."""
    alone, both = posterior(inputs, seed=seed, prior=prior)
    total = {kind: alone.get(kind, 0.0) + both.get(kind, 0.0) for kind in {*alone, *both}}
    return sorted(total, key=lambda kind: -total[kind])
