"""The losses of many runs at once, with their slopes, for the solver of loops.

The same laws as in `pieces`, over arrays. One thing differs: where friction steps up at Reynolds number 2040, a net
may have to settle inside the step, so that here the step is a steep ramp, from 2040 to 1 % above it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ventsize.flow import friction
from ventsize.flow.friction import LAMINAR_LIMIT, RAMP_END, in_ramp
from ventsize.flow.pieces import fitting_loss, leaves_at
from ventsize.flow.stream import Stream
from ventsize.gas.constants import GRAVITY
from ventsize.run.model import Piece, Run

Array = NDArray[np.float64]
_REACH = 1e-6  # of the Reynolds number; over which the slope of a fitting's coefficient is taken


@lru_cache(maxsize=4096)
def _turbulent_end(relative_roughness: float) -> float:
    """Colebrook's factor at the ramp's end, times the Reynolds number squared [-]."""
    return friction.friction_factor(reynolds=RAMP_END, relative_roughness=relative_roughness) * RAMP_END**2


def ramped_friction_factor(*, reynolds: float, relative_roughness: float) -> float:
    """The Darcy friction factor, with the step at Reynolds number 2040 as a ramp of the loss [-]."""
    if not in_ramp(reynolds):
        return friction.friction_factor(reynolds=reynolds, relative_roughness=relative_roughness)
    foot = 64.0 * LAMINAR_LIMIT
    share = (reynolds - LAMINAR_LIMIT) / (RAMP_END - LAMINAR_LIMIT)
    return (foot + share * (_turbulent_end(relative_roughness) - foot)) / reynolds**2


def _turbulent_numbers(turbulent: Array, relative_roughness: Array) -> tuple[Array, Array]:
    """Colebrook's f·Re², and its slope, at turbulent Reynolds numbers."""
    rough, smooth = relative_roughness / 3.7, 2.51 / turbulent
    root = -1.8 * np.log10(rough**1.11 + 6.9 / turbulent)
    ten = 2.0 / np.log(10.0)
    for _ in range(4):  # Newton on Colebrook's equation, from Haaland's formula
        inside = rough + smooth * root
        root -= (root + ten * np.log(inside)) / (1.0 + ten * smooth / inside)
    inside = rough + smooth * root
    root_slope = ten * smooth * root / turbulent / (inside + ten * smooth)
    value = (turbulent / root) ** 2
    slope = 2.0 * value * (1.0 / turbulent - root_slope / root)
    return value, slope


def friction_factors(reynolds: Array, relative_roughness: Array) -> Array:
    """The Darcy friction factor of many flows, none at rest: the law of `friction`, with its step."""
    value, _ = _turbulent_numbers(np.maximum(reynolds, LAMINAR_LIMIT), relative_roughness)
    return np.where(reynolds < LAMINAR_LIMIT, 64.0 / reynolds, value / reynolds**2)


def friction_numbers(reynolds: Array, relative_roughness: Array, ramp_tops: Array) -> tuple[Array, Array]:
    """f·Re² at each Reynolds number, and its slope. ramp_tops: f·Re² where each ramp ends [-]."""
    value, slope = _turbulent_numbers(np.maximum(reynolds, LAMINAR_LIMIT), relative_roughness)
    foot = 64.0 * LAMINAR_LIMIT
    steepness = (ramp_tops - foot) / (RAMP_END - LAMINAR_LIMIT)
    ramp = (reynolds >= LAMINAR_LIMIT) & (reynolds < RAMP_END)
    value = np.where(ramp, foot + steepness * (reynolds - LAMINAR_LIMIT), value)
    slope = np.where(ramp, steepness, slope)
    laminar = reynolds < LAMINAR_LIMIT
    return np.where(laminar, 64.0 * reynolds, value), np.where(laminar, 64.0, slope)


class RunLaws:
    """Losses of runs, each with a stream of its own, at any flows.

    The loss is that of total pressure from a run's start to its end, buoyancy taken off; negative for a flow
    against the walk.
    """

    def __init__(self, runs: Sequence[Run], *, streams: Mapping[str, Stream], outside_density: float) -> None:
        self._count = len(runs)
        own = [streams[run.name] for run in runs]
        density = np.array([stream.density for stream in own])
        viscosity = np.array([stream.viscosity for stream in own])
        rises = np.array([sum(piece.rise for piece in run.pieces) for run in runs])
        self._draft = (outside_density - density) * GRAVITY * rises
        straights = list(_straights(runs))
        self._straight_run = np.array([index for index, *_ in straights], dtype=np.intp)
        bore, roughness, length, area = (
            np.array([straight[place] for straight in straights], dtype=float) for place in (1, 2, 3, 4)
        )
        at = self._straight_run
        self._per_flow = bore / (area * viscosity[at])  # Reynolds number per mass flow
        self._scale = viscosity[at] ** 2 * length / (2.0 * density[at] * bore**3)  # loss per f·Re²
        self._relative = roughness / bore
        self._tops = np.array([_turbulent_end(value) for value in self._relative.tolist()])
        self._fittings = [
            (index, piece, count, own[index].density, own[index].viscosity)
            for index, run in enumerate(runs)
            for piece, count in _varying(run)
        ]
        self._fixed = np.zeros(self._count)
        for index, run in enumerate(runs):
            for piece in run.pieces:
                if piece.k is not None:
                    self._fixed[index] += piece.k / (2.0 * density[index] * piece.section.area**2)
        self._runs = runs

    def __call__(self, flows: Array) -> tuple[Array, Any]:
        """Losses [Pa] and the diagonal of their slopes [Pa·s/kg]."""
        size = np.abs(flows)
        loss = self._fixed * size**2
        slope = 2.0 * self._fixed * size
        reynolds = size[self._straight_run] * self._per_flow
        number, rate = friction_numbers(reynolds, self._relative, self._tops)
        loss += np.bincount(self._straight_run, number * self._scale, self._count)
        slope += np.bincount(self._straight_run, rate * self._scale * self._per_flow, self._count)
        for index, piece, count, density, viscosity in self._fittings:
            own, own_slope = self._fitting(index, piece, float(flows[index]), density, viscosity)
            loss[index] += count * own
            slope[index] += count * own_slope
        return np.sign(flows) * loss - self._draft, slope

    def _fitting(self, index: int, piece: Piece, flow: float, density: float, viscosity: float) -> tuple[float, float]:
        if flow == 0.0:
            return 0.0, 0.0
        section = piece.section
        size = abs(flow)
        reynolds = size * section.bore / (section.area * viscosity)
        forward = flow > 0.0
        k = _coefficient(self._runs[index], piece, reynolds, forward)
        rise = _coefficient(self._runs[index], piece, reynolds * (1.0 + _REACH), forward) - k
        per_flow = 1.0 / (2.0 * density * section.area**2)
        return k * per_flow * size**2, per_flow * size * (2.0 * k + rise / _REACH)


def _straights(runs: Sequence[Run]) -> list[tuple[int, float, float, float, float]]:
    """(run, bore, roughness, length, area) of the straight pipe of each size in each run; at least one a run."""
    found = []
    for index, run in enumerate(runs):
        lengths: dict[tuple[float, float, float], float] = {}
        for piece in run.pieces:
            if piece.is_pipe:
                key = (piece.before.bore, piece.before.roughness, piece.before.area)
                lengths[key] = lengths.get(key, 0.0) + piece.length
        found += [(index, bore, rough, length, area) for (bore, rough, area), length in lengths.items()]
    return found


def _varying(run: Run) -> list[tuple[Piece, int]]:
    """Fittings whose coefficient is not the job's own, each kind in each size once, with how many there are."""
    found: dict[tuple[int, int, int], tuple[Piece, int]] = {}
    for piece in run.pieces:
        if piece.fitting is not None and piece.k is None:
            key = (id(piece.fitting), id(piece.before), id(piece.after))
            first, count = found.get(key, (piece, 0))
            found[key] = (first, count + 1)
    return list(found.values())


def _coefficient(run: Run, piece: Piece, reynolds: float, forward: bool) -> float:
    relative = piece.section.roughness / piece.section.bore
    return fitting_loss(
        piece,
        reynolds=reynolds,
        friction_factor=ramped_friction_factor(reynolds=reynolds, relative_roughness=relative),
        forward=forward,
        leaving=leaves_at(run, piece, forward=forward),
        with_spread=False,
    ).k
