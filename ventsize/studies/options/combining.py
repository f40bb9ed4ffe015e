"""Every combination of what may be chosen: each run's variants, made one by one and counted beforehand."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from ventsize.catalog.records import same_size
from ventsize.check.inputs import Inputs, prepare
from ventsize.jobfile.job import Job, Run
from ventsize.studies.altering import changes
from ventsize.studies.options.choices import ELBOWS, Choices, Chosen, Piping, RunChoices, counted_right_angles

MOST_OPTIONS = 500_000


@dataclass(frozen=True, slots=True)
class Variant:
    chosen: Chosen
    run: Run


@dataclass(frozen=True, slots=True)
class Base:
    """The job with one kind of piping."""

    piping: Piping
    inputs: Inputs
    choices: tuple[RunChoices, ...]
    added: tuple[Run, ...] = ()
    dropped: tuple[str, ...] = ()


def bases_of(inputs: Inputs, choices: Choices, beside: Path | None) -> list[Base]:
    """The job with each kind of piping to be looked at; one that changes nothing is not looked at twice."""
    bases = [_base_of(inputs, choices, piping, beside) for piping in dict.fromkeys(choices.piping)]
    changed = [base for base in bases if base.piping != "as it is" and (base.added or base.dropped)]
    as_it_is = next((base for base in bases if base not in changed), None)
    return [*([as_it_is] if as_it_is else []), *changed]


def _base_of(inputs: Inputs, choices: Choices, piping: Piping, beside: Path | None) -> Base:
    job = inputs.job
    air = [run.name for run in job.runs if run.carries == "combustion air"]
    if piping == "one pipe" and air:
        left = replace(job, runs=tuple(run for run in job.runs if run.name not in air))
        made = prepare(left, file=inputs.file, beside=beside, tables=inputs.tables)
        kept = tuple(one for one in choices.runs if one.run not in air)
        return Base(piping, made, kept, dropped=tuple(air))
    vent = next((run for run in job.runs if run.carries == "flue gas"), None)
    if piping == "two pipes" and not air and vent is not None:
        added = choices.air or _air_like(vent, job)
        made = prepare(replace(job, runs=(*job.runs, added)), file=inputs.file, beside=beside, tables=inputs.tables)
        return Base(piping, made, (*choices.runs, *_sizes_of_added(choices, added)), added=(added,))
    known = {run.name for run in job.runs}
    return Base(piping, inputs, tuple(one for one in choices.runs if one.run in known))


def _sizes_of_added(choices: Choices, added: Run) -> tuple[RunChoices, ...]:
    """An air pipe that is added comes in the sizes that the vent may have."""
    if any(one.run == added.name for one in choices.runs):
        return ()
    sizes = next((one.sizes for one in choices.runs if one.sizes), ())
    return (RunChoices(run=added.name, sizes=sizes),) if sizes else ()


def _air_like(vent: Run, job: Job) -> Run:
    names = {run.name for run in job.runs}
    return replace(vent, name="air" if "air" not in names else "air pipe", carries="combustion air")


def product_of(counts: Iterable[int]) -> int:
    total = 1
    for count in counts:
        total *= count
    return total


def combinations(base: Base) -> Iterator[tuple[Variant, ...]]:
    """Each run's variants with each of the others'. Those of the first run are made as they are needed."""
    if not base.choices:
        yield ()
        return
    first, *others = base.choices
    lists = [list(_variants(base, one)) for one in others]
    for variant in _variants(base, first):
        for rest in itertools.product(*lists):
            yield (variant, *rest)


def _routes(base: Base, one: RunChoices) -> list[tuple[str | None, Run]]:
    own = next(run for run in base.inputs.job.runs if run.name == one.run)
    others: list[tuple[str | None, Run]] = [
        (r.name, replace(r.run, name=own.name, carries=own.carries, between=own.between)) for r in one.routes
    ]
    return [(None, own), *others]


def count_of(base: Base, one: RunChoices) -> int:
    """How many variants of a run there are, or a number above `MOST_OPTIONS`."""
    total = 0
    if product_of(len(axis) for axis in (one.materials, one.sizes, one.ends) if axis) > MOST_OPTIONS:
        return MOST_OPTIONS + 1
    for _, route in _routes(base, one):
        for dressed in _dressed(base, one, route):
            total += _elbow_count(base, one, dressed.run) * len(_changes(base, one, dressed.run))
    return total


@dataclass(frozen=True, slots=True)
class _Dressed:
    """A route in one size and material, with one end; its elbows and size changes still to be chosen."""

    run: Run
    material: str | None = None
    size: float | None = None
    end: str | None = None


def _dressed(base: Base, one: RunChoices, route: Run) -> Iterator[_Dressed]:
    catalog = base.inputs.catalog
    for material, size, end in itertools.product(one.materials or (None,), one.sizes or (None,), one.ends or (None,)):
        run = route if material is None else changes.with_material(route, material)
        run = run if size is None else changes.with_one_size(run, size, catalog)
        run = run if end is None else changes.with_end(run, end, catalog)
        yield _Dressed(run, material, size, end)


def _elbow_count(base: Base, one: RunChoices, run: Run) -> int:
    """How many patterns `_patterns` makes, without making them."""
    turns, kinds = _turns(base, run), len(one.elbows)
    if not kinds or not turns:
        return 1
    if not one.each_elbow:
        return kinds
    return math.comb(turns + kinds - 1, kinds - 1) if run.counted else kinds**turns


def _turns(base: Base, run: Run) -> int:
    if run.counted:
        return sum(count for _, count in counted_right_angles(run, base.inputs))
    return len(changes.right_angles(run, base.inputs.catalog))


def _patterns(base: Base, one: RunChoices, run: Run) -> Iterator[tuple[str, ...]]:
    """What stands at each 90° turn, by the names of `ELBOWS`; empty as it is."""
    turns = _turns(base, run)
    if not one.elbows or not turns:
        return iter([()])
    if not one.each_elbow:
        return iter([(name,) * turns for name in one.elbows])
    if run.counted:  # which of them is which makes no difference
        return itertools.combinations_with_replacement(one.elbows, turns)
    return itertools.product(one.elbows, repeat=turns)


def _changes(base: Base, one: RunChoices, run: Run) -> list[tuple[int, float] | None]:
    found: list[tuple[int, float] | None] = [None]
    pieces = run.pieces or ()
    for place, before in enumerate(changes.sizes_before(run)):
        if place and changes.kind_of(pieces[place], base.inputs.catalog) not in changes.ENDS:
            found += [(place, size) for size in one.change_to if not same_size(size, before)]
    return found


def _variants(base: Base, one: RunChoices) -> Iterator[Variant]:
    for name, route in _routes(base, one):
        for dressed in _dressed(base, one, route):
            changed = [(change, _changed(dressed.run, change, base)) for change in _changes(base, one, dressed.run)]
            exchanged = [_exchanger(run, base, one) for _, run in changed]
            for pattern in _patterns(base, one, dressed.run):
                for (change, run), with_elbows in zip(changed, exchanged, strict=True):
                    yield Variant(
                        Chosen(
                            run=one.run,
                            route=name,
                            material=dressed.material,
                            size=dressed.size,
                            elbows=pattern,
                            end=dressed.end,
                            change=change,
                        ),
                        with_elbows(pattern) if pattern else run,
                    )


def _changed(run: Run, change: tuple[int, float] | None, base: Base) -> Run:
    if change is None:
        return run
    return changes.with_size_from(run, *change, base.inputs.catalog) or run


def _exchanger(run: Run, base: Base, one: RunChoices) -> Callable[[Sequence[str]], Run]:
    """The run with a pattern of elbows, by the names of `ELBOWS`."""
    if run.counted:
        return lambda pattern: _with_counted_elbows(run, pattern, base)
    places = changes.right_angles(run, base.inputs.catalog)
    return changes.exchanger(run, places, {name: ELBOWS[name] for name in one.elbows})


def _with_counted_elbows(run: Run, pattern: Sequence[str], base: Base) -> Run:
    for old, count in counted_right_angles(run, base.inputs):
        run = changes.exchange_count(run, old, (), count)
    counts = dict(run.fittings or {})
    for name in pattern:
        for new in ELBOWS[name]:
            counts[new] = counts.get(new, 0) + 1
    return replace(run, fittings=counts)
