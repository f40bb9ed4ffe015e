"""What an ideal judge reaches on the same draws: Bayes with the drawing's own distribution.

It knows from what causes and sizes are drawn, how often each kind is, and the spread of everything else; the vent
itself it follows by the model of the diagnosis, since thousands of full solutions a job would take a day. So it is
ideal in its judgement, not in its physics.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from random import Random

import numpy as np
from scipy.interpolate import CubicSpline, RectBivariateSpline

from tests.faults.hiding import KINDS, PAIRED, drawn, together
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

EACH, DRAWS = 24, {"wrong size": 150, "recirculation": 6, "longer": 40}  # draws of a kind; most are of few places
SHARES, FEW = (
    np.linspace(0.0, 1.0, 9),
    np.linspace(0.0, 1.0, 5),
)  # of the range of sizes, at which readings are followed
FINE = (np.arange(160) + 0.5) / 160  # and over which their likelihood is averaged
MOST_PAIRED, COARSE, FOLLOWED = 8, 20, 8  # places of a kind beside others, sizes of each, and pairs followed together
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


class _Pinned(Random):
    """Draws what is chosen by its seed, and every size at one share of its range."""

    def __init__(self, seed: str, share: float) -> None:
        super().__init__(seed)
        self.share = share

    def uniform(self, a: float, b: float) -> float:
        """The size at the share."""
        return a + self.share * (b - a)


@dataclass(frozen=True, slots=True)
class _Curve:
    """A cause at one place: how often it was drawn; with which seed; and what it moves the readings by at every size,
    one a row, in standard deviations of a vent with nothing wrong. log: how likely the readings are over all sizes."""

    kind: str
    drawn: int
    seed: str
    moves: Array
    log: float


class _Judge:
    """How likely readings are with causes, their sizes anywhere in their ranges."""

    def __init__(self, inputs: Inputs, fitter: Fitter, seed: int) -> None:
        self.inputs, self.fitter, self.seed = inputs, fitter, seed
        self.left = fitter.whiten @ (fitter.measured - fitter.nominal)

    def moves(self, hidden: Hidden) -> Array:
        """What something moves the readings by."""
        change = change_of(self.inputs, self.fitter.model, hidden)
        shows = self.fitter.model.shows(change, first=self.fitter.count)[: self.fitter.count]
        return np.asarray(self.fitter.whiten @ (shows - self.fitter.nominal))

    def log(self, moves: Array, hidden: Hidden | None) -> float:
        """How likely the readings are on the average of predictions, one a row; hidden: the middle one of them.

        Of a fan that the job does not describe, half hold their flow.
        """
        fitter = self.fitter
        change = Change() if hidden is None else change_of(self.inputs, fitter.model, hidden)
        nearest = moves[int(np.argmin(np.sum((self.left - moves) ** 2, axis=1)))]
        shows = fitter.nominal + np.linalg.solve(fitter.whiten, nearest)
        factor = fitter.widened(shows, change, lost=False)
        loses = fitter.whiten @ fitter.model.may_lose(change)[: fitter.count]
        ways = [moves] if not np.any(loses) else [moves, moves + loses]
        white = np.linalg.solve(fitter.whiten @ factor, (self.left - np.vstack(ways)).T)
        return _mean(-0.5 * np.sum(white**2, axis=0)) - float(np.sum(np.log(np.diag(factor))))

    def curve(self, kind: str, seed: str, count: int) -> _Curve:
        """A cause drawn with a seed, over its sizes."""
        draws = [drawn(self.inputs, kind, _Pinned(seed, share)) for share in SHARES]
        middle = draws[len(draws) // 2]
        assert middle is not None
        fixed = draws[0] == draws[-1]
        at = np.array([self.moves(hidden) for hidden in draws[: 1 if fixed else None] if hidden is not None])
        moves = at if fixed else np.sinh(CubicSpline(SHARES, np.arcsinh(at))(FINE))
        return _Curve(kind, count, seed, moves, self.log(moves, middle))

    def curves(self, kind: str) -> list[_Curve]:
        """A kind wherever it may be."""
        places: dict[str, list[str]] = {}
        for number in range(DRAWS.get(kind, EACH)):
            seed = f"{self.seed} {kind} {number}"
            hidden = drawn(self.inputs, kind, _Pinned(seed, 0.5))
            if hidden is not None:
                places.setdefault(repr(hidden), []).append(seed)
        return [self.curve(kind, seeds[0], len(seeds)) for seeds in places.values()]

    def both(self, curves: Sequence[_Curve]) -> dict[str, float]:
        """Of each kind, how likely the readings are with it and another at once.

        Every two by the sum of what they move; the likeliest again, both followed together.
        """
        rows = [curve.moves[:: max(1, len(curve.moves) // COARSE)] for curve in curves]
        every = np.vstack(rows)
        alone = self.left - every
        squares = np.sum(alone**2, axis=1)[:, None] - 2.0 * alone @ every.T + np.sum(every**2, axis=1)[None, :]
        starts = np.cumsum([0, *(len(row) for row in rows)])
        pairs: dict[tuple[int, int], float] = {}
        for a in range(len(rows)):
            for b in range(a):
                if curves[a].kind != curves[b].kind:
                    block = squares[starts[a] : starts[a + 1], starts[b] : starts[b + 1]]
                    pairs[a, b] = _mean(-0.5 * block) - self.fitter.log_size / 2.0
        for a, b in sorted(pairs, key=lambda pair: -pairs[pair])[:FOLLOWED]:
            pairs[a, b] = self._followed(curves[a], curves[b])
        chances = {kind: sum(one.drawn for one in curves if one.kind == kind) for kind in PAIRED}
        kinds = sum(count > 0 for count in chances.values())
        found: dict[str, list[float]] = {}
        for (a, b), log in pairs.items():
            one, other = curves[a], curves[b]
            share = one.drawn / chances[one.kind] * other.drawn / chances[other.kind] / (kinds * (kinds - 1) / 2)
            for kind in (one.kind, other.kind):
                found.setdefault(kind, []).append(log + math.log(share))
        return {kind: float(np.logaddexp.reduce(logs)) for kind, logs in found.items()}

    def _followed(self, one: _Curve, other: _Curve) -> float:
        at = np.array([[self.moves(self._pair(one, other, a, b)) for b in FEW] for a in FEW])
        at = np.arcsinh(at)
        fine = [RectBivariateSpline(FEW, FEW, at[:, :, n])(FINE[::4], FINE[::4]) for n in range(at.shape[2])]
        moves = np.sinh(np.array(fine)).reshape(at.shape[2], -1).T
        return self.log(moves, self._pair(one, other, 0.5, 0.5))

    def _pair(self, one: _Curve, other: _Curve, a: float, b: float) -> Hidden:
        hidden = [drawn(self.inputs, c.kind, _Pinned(c.seed, share)) for c, share in ((one, a), (other, b))]
        assert hidden[0] is not None and hidden[1] is not None
        return together(hidden[0], hidden[1])


def ranking(inputs: Inputs, *, seed: int, prior: Weights) -> list[str]:
    """Kinds of causes, nothing wrong among them, the likeliest first."""
    looked = look(inputs)
    if not any(reading.compared for reading in looked.study.readings):
        return [NONE]
    judge = _Judge(inputs, _evidence(inputs, looked).fitter, seed)
    logs = {NONE: math.log(prior[NONE]) + judge.log(np.zeros((1, judge.fitter.count)), None)}
    paired: list[_Curve] = []
    for kind in KINDS:
        curves = judge.curves(kind)
        if curves:
            every = np.repeat([curve.log for curve in curves], [curve.drawn for curve in curves])
            logs[kind] = math.log(prior["one"] / len(KINDS)) + _mean(every)
            paired += curves[:MOST_PAIRED] if kind in PAIRED else []
    for kind, log in judge.both(paired).items():
        logs[kind] = float(np.logaddexp(logs[kind], math.log(prior["two"]) + log))
    return sorted(logs, key=lambda kind: -logs[kind])


def _mean(logs: Array) -> float:
    most = float(np.max(logs))
    return most + math.log(float(np.mean(np.exp(logs - most))))
