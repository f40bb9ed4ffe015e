"""A job with something changed: the variants that are set side by side, and those of lessons."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import replace

from ventsize.catalog.library import Catalog
from ventsize.check.inputs import Inputs, prepare
from ventsize.jobfile.document import nearest
from ventsize.jobfile.job import FittingPiece, Job, PipePiece, Rate, Run
from ventsize.jobfile.lesson import Changed, Instead
from ventsize.jobfile.problems import InputError, Problem
from ventsize.studies.altering import changes


def altered(inputs: Inputs, changed: Changed) -> Inputs:
    """A job with something changed, looked up anew with the same tables.

    Raises InputError where the change cannot be made, or what comes of it contradicts itself.
    """
    return prepare(altered_job(inputs, changed), file=inputs.file, tables=inputs.tables)


def altered_job(inputs: Inputs, changed: Changed) -> Job:
    """The job as typed, with something changed."""
    job = inputs.job
    site = job.site
    if changed.altitude is not None:
        site = replace(site, altitude=changed.altitude)
    if changed.outdoor is not None:
        site = replace(site, outdoor=changed.outdoor)
    return replace(_with_gas(job, changed), site=site, runs=_runs(inputs, changed))


def _with_gas(job: Job, changed: Changed) -> Job:
    """The job with other fuel, input, excess air and flue gas temperature."""
    appliances = []
    for appliance in job.appliances:
        highest = max(rate.input for rate in appliance.rates)
        share = 1.0 if changed.input is None else changed.input / highest
        rates = tuple(_rate(rate, changed, share) for rate in appliance.rates)
        appliances.append(replace(appliance, rates=rates, fuel=changed.fuel or appliance.fuel))
    return replace(job, appliances=tuple(appliances))


def _rate(rate: Rate, changed: Changed, share: float) -> Rate:
    made = replace(rate, input=rate.input * share)
    if changed.excess_air is not None:
        made = replace(made, excess_air=changed.excess_air, oxygen=None, carbon_dioxide=None)
    if changed.flue_temperature is not None:
        made = replace(made, flue_temperature=changed.flue_temperature)
    return made


def _runs(inputs: Inputs, changed: Changed) -> tuple[Run, ...]:
    runs = inputs.job.runs
    flue = next((run.name for run in runs if run.carries == "flue gas"), runs[0].name)
    name = changed.run or flue
    names = [run.name for run in runs]
    if name not in names:
        raise InputError(Problem(inputs.file, "", f"there is no run '{name}' to change", nearest(name, names)))
    try:
        return tuple(_run(run, changed, inputs.catalog) if run.name == name else run for run in runs)
    except _Impossible as error:
        raise InputError(Problem(inputs.file, f"run '{name}'", str(error), "a change that can be made")) from None


class _Impossible(Exception):
    """Why a change cannot be made."""


def _run(run: Run, changed: Changed, catalog: Catalog) -> Run:
    """The run with every change that is given, one after the other."""
    steps: tuple[tuple[object, Callable[[Run], Run]], ...] = (
        (changed.order, lambda made: _in_order(made, changed.order or ())),
        (changed.fewer, lambda made: _fewer(made, changed.fewer or {})),
        (changed.fittings, lambda made: _exchanged(made, changed.fittings or {})),
        (changed.more, lambda made: changes.with_more(made, changed.more or {})),
        (changed.material, lambda made: changes.with_material(made, changed.material or "")),
        (changed.size, lambda made: changes.with_one_size(made, changed.size or 0.0, catalog)),
        (changed.size_from, lambda made: _size_from(made, changed, catalog)),
        (changed.end, lambda made: changes.with_end(made, changed.end or "", catalog)),
        (changed.straight, lambda made: _straight(made, changed.straight or 0.0)),
        (changed.longer, lambda made: _longer(made, changed.longer or 0.0)),
    )
    for given, step in steps:
        if given is not None:
            run = step(run)
    return run


def _in_order(run: Run, order: tuple[int, ...]) -> Run:
    pieces = changes.loose(run).pieces
    if pieces is None:
        raise _Impossible("a counted run has no order of pieces")
    if sorted(order) != list(range(1, len(pieces) + 1)):
        raise _Impossible(f"the order does not name each of its {len(pieces)} pieces once")
    return replace(run, pieces=tuple(pieces[number - 1] for number in order))


def _fewer(run: Run, counts: Mapping[str, int]) -> Run:
    for name, count in counts.items():
        if run.pieces is None:
            there = (run.fittings or {}).get(name, 0)
            run = changes.exchange_count(run, name, (), count)
        else:
            places = [n for n, p in enumerate(run.pieces) if isinstance(p, FittingPiece) and p.fitting == name]
            there, gone = len(places), set(places[:count])
            if gone:
                loose = changes.loose(run).pieces or ()
                run = replace(run, pieces=tuple(p for n, p in enumerate(loose) if n not in gone))
        if there < count:
            raise _Impossible(f"it has {there} × {name}, so that {count} fewer is not possible")
    return run


def _exchanged(run: Run, fittings: Mapping[str, Instead]) -> Run:
    """Each fitting of a name exchanged for the other, or for several, all at once, so that two may change places."""
    instead = {name: (new,) if isinstance(new, str) else new for name, new in fittings.items()}
    pieces = run.pieces or ()
    own = dict.fromkeys(p.fitting for p in pieces if isinstance(p, FittingPiece)) if run.pieces else run.fittings or {}
    missing = [name for name in fittings if name not in own or own[name] == 0]
    if missing:
        raise _Impossible(f"it has no {missing[0]} to exchange")
    nothing = [name for name, new in instead.items() if not new]
    if nothing:
        raise _Impossible(f"nothing is named that takes the place of {nothing[0]}")
    if run.pieces is not None:
        return changes.exchange(run, {n: instead[p.fitting] for n, p in enumerate(pieces)
                                      if isinstance(p, FittingPiece) and p.fitting in instead})  # fmt: skip
    counts: Counter[str] = Counter()
    for name, count in (run.fittings or {}).items():
        for new in instead.get(name, (name,)):
            counts[new] += count
    return replace(run, fittings=dict(counts))


def _size_from(run: Run, changed: Changed, catalog: Catalog) -> Run:
    assert changed.size_from is not None
    if run.pieces is None:
        raise _Impossible("a counted run has no pieces to change the size at")
    at, size = changed.size_from.piece, changed.size_from.size
    if not 1 <= at <= len(run.pieces):
        raise _Impossible(f"it has no piece {at} to change the size at")
    made = changes.with_size_from(run, at - 1, size, catalog)
    if made is None:
        raise _Impossible(f"it has that size at piece {at} already")
    return made


def _straight(run: Run, length: float) -> Run:
    """The run with so much straight pipe [m], every pipe in proportion."""
    if run.pieces is None:
        return replace(run, straight=length, rise=_in_proportion(run, length))
    now = sum(piece.pipe for piece in run.pieces if isinstance(piece, PipePiece))
    if not now:
        raise _Impossible("it has no straight pipe to make longer or shorter")
    pieces = (changes.cut_to(p, p.pipe * length / now) if isinstance(p, PipePiece) else p for p in run.pieces)
    return replace(run, pieces=tuple(pieces))


def _in_proportion(run: Run, length: float) -> float | None:
    return run.rise if not run.rise or not run.straight else run.rise * length / run.straight


def _longer(run: Run, by: float) -> Run:
    """The run with so much more pipe at its outdoor end [m], or less."""
    if run.pieces is None:
        length = (run.straight or 0.0) + by
        if length < 0.0:
            raise _Impossible("it has not so much pipe to take off")
        return replace(run, straight=length)
    last = changes.last_leg(run)
    if last is None:
        places = [n for n, piece in enumerate(run.pieces) if isinstance(piece, PipePiece)]
        if not places:
            raise _Impossible("it has no straight pipe to make longer or shorter")
        last = places[-1]
    piece = run.pieces[last]
    assert isinstance(piece, PipePiece)
    if piece.pipe + by < 0.0:
        raise _Impossible("its last pipe is not so long that so much could be taken off")
    return replace(run, pieces=(*run.pieces[:last], changes.cut_to(piece, piece.pipe + by), *run.pieces[last + 1 :]))
