"""The leading cause put into the run and solved anew, to see that the search did not fool itself."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from ventsize.check.inputs import Inputs
from ventsize.finding import Finding
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.model import Piece, Run, Section
from ventsize.studies.diagnosis.causes import Suspect
from ventsize.studies.diagnosis.fitting import Fit
from ventsize.studies.diagnosis.result import Verified
from ventsize.studies.diagnosis.swapping import Stretch
from ventsize.studies.readings.case import Array, Case, PieceKey
from ventsize.studies.readings.model import DISCHARGE, Change, Model
from ventsize.studies.readings.places import ENDS, Tap, ordered
from ventsize.studies.readings.readout import shown

ON_THE_PIPE = ("terminal", "inside", "water", "longer", "air pipe", "wrong size", "leak")
Parts = dict[int, list[Piece]]
"""Pieces by the number of the piece they stand in for."""


def verified(model: Model, fit: Fit, count: int, accuracies: Array) -> Verified | None:
    """The first taps of a model with a cause, by the solver; None for a cause that is not on the pipe.

    count: how many taps were read; accuracies: theirs.
    """
    suspect = fit.suspect
    if suspect.kind not in ON_THE_PIPE or suspect.run is None:
        return None
    values = model.base.copy()
    for number, case in enumerate(model.cases):
        share = model.share_of_flow(number, suspect.change(fit.size))
        changed, moved = _changed(model.conditions.inputs, case, suspect, fit.size, share)
        air, rest = _less_air(model, share, case)
        flow = model.conditions.flow(case.rate, case.outdoor, air=air, flow=rest, inputs=changed)
        found = [shown(moved(tap), flow, model.conditions, as_it_should_be=case.flow) for tap in case.taps]
        values[case.rows] = [math.nan if isinstance(value, Finding) else value for value in found]
    values = np.where(np.isnan(values), fit.shows, values)[:count]
    off = np.abs(values - fit.shows[:count]) / accuracies[:count]
    return Verified(shows=tuple(float(value) for value in values), off=float(np.max(off)))


def _less_air(model: Model, share: float, case: Case) -> tuple[float, float]:
    """The excess air that goes with a share of the flow, the fuel being the same, and the share of what is left.

    With less air than the fuel needs there is no combustion to figure; the whole gas is then scaled [-].
    """
    if share == 1.0:
        return 0.0, 1.0
    appliance = model.conditions.inputs.job.appliances[0].name
    burning = model.conditions.burning[appliance, case.flow.firing.rates[appliance] or ""]
    taken = (1.0 + burning.excess_air) * share
    return max(taken, 1.0) - 1.0 - burning.excess_air, min(taken, 1.0)


class _Moved:
    """Taps found again in a changed run."""

    def __init__(self, run: str, parts: Parts, count: int, hole: int | None = None) -> None:
        self._run, self._hole = run, hole
        self._passed = [0]
        for number in range(count):
            self._passed.append(self._passed[-1] + len(parts.get(number, [None])))

    def __call__(self, tap: Tap) -> Tap:
        if tap.run != self._run:
            return tap
        if self._hole is not None and tap.position > self._hole:
            return replace(tap, run=_beyond(self._run), position=tap.position - self._hole)
        return replace(tap, position=self._passed[tap.position])


def _changed(inputs: Inputs, case: Case, suspect: Suspect, size: float, share: float) -> tuple[Inputs, _Moved]:
    assert suspect.run is not None
    change = suspect.change(size)
    run = inputs.graph.runs[suspect.run]
    pieces = ordered(run)
    if change.hole is not None:
        _, position, area = change.hole
        return _with_runs(inputs, run, _with_hole(run, position, area)), _Moved(run.name, {}, len(pieces), position)
    if suspect.stretch is not None:
        part = None if suspect.stretch.part is None else size
        parts = _other_size(inputs, pieces, replace(suspect.stretch, part=part))
    else:
        parts = _obstructed(inputs, case, pieces, change, share)
    made = [piece for number, old in enumerate(pieces) for piece in parts.get(number, [old])]
    new = replace(run, pieces=tuple(made), counted=False)
    return _with_runs(inputs, run, [new]), _Moved(run.name, parts, len(pieces))


def _with_runs(inputs: Inputs, old: Run, new: Sequence[Run]) -> Inputs:
    runs: Mapping[str, Run] = {
        run.name: run for name, kept in inputs.graph.runs.items() for run in (new if name == old.name else [kept])
    }
    return replace(inputs, graph=replace(inputs.graph, runs=runs))


def _obstructed(inputs: Inputs, case: Case, pieces: Sequence[Piece], change: Change, share: float) -> Parts:
    """A loss put behind a piece, or before an end of pipe."""
    if change.longer:
        (key, share_more), *_ = change.longer
        piece = pieces[key[1]]
        if piece.is_pipe:
            return {key[1]: [_longer(piece, share_more)]}
        return {key[1]: [replace(piece, k=case.pieces[case.index[key]].k * (1.0 + share_more))]}
    ((key, amount), *_), is_water = (change.narrow, False) if change.narrow else (change.closed, True)
    number = key[1]
    piece = pieces[number]
    k = amount / (_dynamic_behind(case, key, pieces) * share**2) if is_water else amount
    more = _fitting(inputs, "coupling", piece.section, piece.section, k)
    return {number: [more, piece] if piece.kind in ENDS and number else [piece, more]}


def _longer(piece: Piece, more: float) -> Piece:
    """A pipe with so much more of itself, at the same rise."""
    return replace(piece, length=piece.length * (1.0 + more))


def _dynamic_behind(case: Case, key: PieceKey, pieces: Sequence[Piece]) -> float:
    """½ρv² behind a piece, where the gas may be cooler than in it [Pa]."""
    run, number = key
    behind = pieces[number + 1] if number + 1 < len(pieces) else pieces[number]
    same = not behind.is_pipe and behind.section is pieces[number].section
    return float(case.dynamic[case.index[run, number + 1 if same else number]])


def _fitting(inputs: Inputs, name: str, before: Section, after: Section, k: float | None) -> Piece:
    return Piece(name=name, place="", before=before, after=after, fitting=inputs.catalog.fitting(name), k=k)


def _other_size(inputs: Inputs, pieces: Sequence[Piece], stretch: Stretch) -> Parts:
    section = pieces[stretch.first].before
    other = stretch.section
    into = "increaser" if other.bore > section.bore else "reducer"
    back = "reducer" if other.bore > section.bore else "increaser"
    begins, ends = _fitting(inputs, into, section, other, None), _fitting(inputs, back, other, section, None)
    last = stretch.last
    if stretch.part is not None:
        pipe = pieces[stretch.first]
        one = replace(pipe, length=pipe.length * stretch.part, rise=pipe.rise * stretch.part, before=other, after=other)
        rest = 1.0 - stretch.part
        return {stretch.first: [begins, one, ends, replace(pipe, length=pipe.length * rest, rise=pipe.rise * rest)]}
    parts = {n: [replace(pieces[n], before=other, after=other)] for n in range(stretch.first, last + 1)}
    if stretch.first > 0:
        parts[stretch.first].insert(0, begins)
    if last + 1 < len(pieces):
        parts[last + 1] = [ends, pieces[last + 1]]
    return parts


def _with_hole(run: Run, position: int, area: float) -> list[Run]:
    """The run in two, with a third that lets gas out where they meet."""
    pieces = ordered(run)
    hole = f"hole in '{run.name}'"
    section = pieces[position - 1].after
    k = (section.area / (DISCHARGE * area)) ** 2
    orifice = replace(pieces[position - 1], before=section, after=section, length=0.0, rise=0.0, k=k)
    orifice = replace(orifice, fitting=next(piece.fitting for piece in pieces if piece.fitting is not None))
    return [
        replace(run, end=hole, pieces=pieces[:position], counted=False),
        replace(run, name=_beyond(run.name), start=hole, pieces=pieces[position:], counted=False),
        replace(run, name=f"{run.name}, hole", start=hole, end=OUTDOORS, pieces=(orifice,), counted=False),
    ]


def _beyond(run: str) -> str:
    return f"{run}, beyond the hole"
