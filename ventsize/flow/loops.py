"""Flows in a net with loops or several outlets: Newton's method on the loop flows.

Every solution tried carries the flows in and out exactly, whatever the loop flows are; what is sought is that the
pressure around every loop adds up to nothing. Openings are at one pressure, so that a way from one to another is
a loop too. Nothing here knows what a run is made of: it asks for each run's loss at a flow, and its slope.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

MOST_STEPS = 100
SHORTEST_STEP = 2.0**-20
CLOSED = 1e-10  # of the largest loss; what pressure around a loop may be left over
LEAST_PRESSURE = 1e-9  # Pa; below it there is nothing to close

Losses = Callable[[Array], tuple[Array, Any]]
"""Losses of the runs at their flows [Pa], and the matrix of their slopes [Pa·s/kg], dense or sparse."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoopFlows:
    """What was found.

    flows: along each run's walk [kg/s]; losses: at these, from each run's start to its end [Pa].
    unclosed: the largest pressure left around a loop, over the largest loss [-].
    """

    flows: Array
    losses: Array
    converged: bool
    steps: int
    unclosed: float


def close_loops(
    losses: Losses, *, start: Array, cycles: Any, known: tuple[Array, Any] | None = None, part: float = 0.0
) -> LoopFlows:
    """Flows at which the losses around every loop add up to nothing.

    start: flows that balance at every joint [kg/s]; known: losses there, where they have been worked out.
    cycles: matrix of runs by loops, dense or sparse: 1 where the loop takes the run along its walk, -1 against it
    part: of what is left around the loops at the start; so much may be left over [-]
    """
    around = cycles.T
    flows = start
    drops, slopes = losses(flows) if known is None else known
    left = around @ drops
    enough = 0.0
    for step in range(MOST_STEPS):
        scale = max(float(np.max(np.abs(drops))), LEAST_PRESSURE / CLOSED)
        unclosed = float(np.max(np.abs(left))) / scale
        enough = enough or max(CLOSED, part * unclosed)
        if unclosed <= enough:
            return LoopFlows(flows=flows, losses=drops, converged=True, steps=step, unclosed=unclosed)
        by_loop = solved(around @ slopes @ cycles, -left)
        if by_loop is None:  # nothing resists the flow around some loop
            break
        found = _shortened(losses, around, flows, cycles @ by_loop, float(np.linalg.norm(left)))
        if found is None:
            break
        flows, drops, slopes, left = found
    return LoopFlows(flows=flows, losses=drops, converged=False, steps=step + 1, unclosed=unclosed)


def solved(matrix: Any, right: Array) -> Array | None:
    """The solution of a square system, dense or sparse; None where it is singular."""
    if isinstance(matrix, np.ndarray):
        try:
            return np.asarray(np.linalg.solve(matrix, right), dtype=float)
        except np.linalg.LinAlgError:
            return None
    from scipy.sparse.linalg import splu

    try:
        return np.asarray(splu(matrix.tocsc()).solve(right))
    except RuntimeError:
        return None


def _shortened(
    losses: Losses, around: Any, flows: Array, change: Array, worst: float
) -> tuple[Array, Array, Any, Array] | None:
    """The longest part of a step, by halves, that leaves less pressure around the loops; None where none does."""
    part = 1.0
    while part >= SHORTEST_STEP:
        tried = flows + part * change
        drops, slopes = losses(tried)
        left = around @ drops
        norm = float(np.linalg.norm(left))
        if np.isfinite(norm) and norm <= worst * (1.0 - 1e-4 * part):
            return tried, drops, slopes, left
        part /= 2
    return None
