"""A run's cooling seen again: with films in doubt, and with other insulation."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from fluids.numerics import brenth

from ventsize.check.inputs import Inputs
from ventsize.flow.cooling import Climate, RunCooling, cool_run
from ventsize.flow.rate_flow import RunFlow
from ventsize.jobfile.job import Insulation
from ventsize.run.graph import VentGraph
from ventsize.run.model import Run

THICKEST = 6 * 0.0254  # m; no more insulation than this is looked for
THINNEST = 1e-4
DOUBT = 0.2  # of the films' coefficients: what correlations for them are known to (common handbook figure)


def cooling_of(flow: RunFlow) -> RunCooling:
    """How the gas of a run cools, in a check made with cooling."""
    assert flow.cooling is not None  # the check was made with cooling
    return flow.cooling


def insulated(run: Run, thickness: float) -> Run:
    """A run with insulation of a thickness on every pipe [m], none for nothing."""

    def covered(given: Insulation | None) -> Insulation:
        return Insulation(thickness=thickness, conductivity=given.conductivity if given else None)

    pieces = tuple(
        replace(p, insulation=covered(p.insulation) if thickness else None) if p.is_pipe else p for p in run.pieces
    )
    return replace(run, pieces=pieces)


def least_thickness(short_of: Callable[[float], float]) -> float | None:
    """The thickness at which what is short comes to nothing [m]; short_of: by how much it is short there [K]."""
    if short_of(THICKEST) < 0.0:
        return None
    if short_of(THINNEST) >= 0.0:
        return THINNEST
    return float(brenth(short_of, THINNEST, THICKEST, xtol=1e-5))


def _climate(flow: RunFlow) -> Climate:
    assert flow.walk.climate is not None  # the check was made with cooling
    return flow.walk.climate


def doubted(flow: RunFlow, *, inside: float, outside: float, run: Run | None = None) -> RunCooling:
    """The gas's way along a run, or another in its place, with shares of the films' coefficients."""
    climate = replace(_climate(flow), inside_share=inside, outside_share=outside)
    return cool_run(run or flow.run, stream=flow.stream, forward=flow.forward, climate=climate)


def dressed(inputs: Inputs, thickness: float) -> Inputs:
    """The job with insulation on every vent pipe; none at all for no thickness."""
    graph = inputs.graph
    runs = {name: insulated(run, thickness) if run.carries == "flue gas" else run for name, run in graph.runs.items()}
    return replace(inputs, graph=VentGraph(runs=runs, junctions=graph.junctions, appliances=graph.appliances))
