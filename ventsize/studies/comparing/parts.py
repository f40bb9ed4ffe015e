"""What made the difference between two jobs' losses: a share for each change, that add up to the whole.

Each change is made in every order with the others, and its share is the mean of what it adds (the Shapley value).
So no share depends on which change is taken first, and the shares add up exactly.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from itertools import combinations

from ventsize.check.inputs import Inputs, prepare
from ventsize.check.rate import RunRate
from ventsize.check.result import RunCheck
from ventsize.check.verdict import check
from ventsize.jobfile.job import Job, Rate
from ventsize.jobfile.problems import InputError

PIPE = "straight pipe"
JOINTS = "where runs meet"
PIECES = "the pieces"
ALL_TOGETHER = "all that differs together"
MOST_CHANGES = 8

Losses = Mapping[str, float]
"""A run's loss by kind of piece [Pa]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """What one change adds to the loss [Pa], negative where it takes off; `by_piece` divides it by kind of piece."""

    name: str
    pressure: float
    by_piece: tuple[tuple[str, float], ...]


def losses_of(rate: RunRate) -> dict[str, float]:
    """A run's loss by kind of piece [Pa]: straight pipe, each fitting by name, joints."""
    found: dict[str, float] = {}
    for piece in rate.flow.pieces:
        name = PIPE if piece.piece.is_pipe else piece.piece.name
        found[name] = found.get(name, 0.0) + piece.pressure_drop
    if rate.flow.junctions:
        found[JOINTS] = math.fsum(joint.pressure_drop for joint in rate.flow.junctions)
    return found


Change = Callable[[Job], Job]


def parts(
    base: Inputs, other: Inputs, *, run: str, other_run: str, before: RunRate, after: RunRate
) -> tuple[Part, ...]:
    """The share of each change in the difference of two runs' losses, the largest first.

    before, after: the two runs at the rates compared.
    """
    changes = _changes(base.job, other.job, run, other_run)
    found = None
    if changes and len(changes) <= MOST_CHANGES and before.name == after.name:
        found = _shared_out(base, changes, run, before, after)
    if found is None:
        found = {ALL_TOGETHER: _minus(losses_of(after), losses_of(before))}
    made = [
        Part(name=name, pressure=math.fsum(losses.values()), by_piece=tuple(sorted(losses.items())))
        for name, losses in found.items()
    ]
    return tuple(sorted(made, key=lambda part: -abs(part.pressure)))


def _shared_out(
    base: Inputs, changes: Mapping[str, Change], run: str, before: RunRate, after: RunRate
) -> dict[str, Losses] | None:
    """Each change's share by kind of piece; None where some of them cannot be made without the others."""
    names = list(changes)
    values: dict[frozenset[str], Losses] = {frozenset(): losses_of(before), frozenset(names): losses_of(after)}
    for count in range(1, len(names)):
        for chosen in combinations(names, count):
            job = base.job
            for name in chosen:
                job = changes[name](job)
            losses = _solved(base, job, run, before.name)
            if losses is None:
                return None
            values[frozenset(chosen)] = losses
    return {name: _mean_added(name, names, values) for name in names}


def _mean_added(name: str, names: list[str], values: Mapping[frozenset[str], Losses]) -> Losses:
    others, total = [n for n in names if n != name], len(names)
    added: dict[str, float] = {}
    for count in range(total):
        weight = math.factorial(count) * math.factorial(total - count - 1) / math.factorial(total)
        for chosen in combinations(others, count):
            there = frozenset(chosen)
            for piece, pressure in _minus(values[there | {name}], values[there]).items():
                added[piece] = added.get(piece, 0.0) + weight * pressure
    return added


def _minus(one: Losses, other: Losses) -> dict[str, float]:
    return {name: one.get(name, 0.0) - other.get(name, 0.0) for name in {**one, **other}}


def _solved(base: Inputs, job: Job, run: str, rate: str) -> Losses | None:
    try:
        checked = check(prepare(job, file=base.file, tables=base.tables))
    except InputError:
        return None
    found: RunCheck = next(r for r in checked.runs if r.run.name == run)
    at = next((r for r in found.rates if r.name == rate), None)
    return None if at is None else losses_of(at)


def _changes(base: Job, other: Job, run: str, other_run: str) -> dict[str, Change]:
    """What differs, as changes that can be made to the base one by one; the last makes it the other job."""
    found: dict[str, Change] = {}
    mine, theirs = ([(a.name, tuple(r.name for r in a.rates)) for a in job.appliances] for job in (base, other))
    if mine != theirs and not (len(mine) == len(theirs) == 1 and mine[0][1] == theirs[0][1]):
        return {}
    rates = [r for a in base.appliances for r in a.rates]
    new_rates = [r for a in other.appliances for r in a.rates]
    fuels = [a.fuel for a in other.appliances]
    if fuels != [a.fuel for a in base.appliances]:
        found["the fuel"] = lambda job: replace(
            job, appliances=tuple(replace(a, fuel=f) for a, f in zip(job.appliances, fuels, strict=True))
        )
    for title, keys in _RATE_KEYS:
        if any(getattr(r, key) != getattr(n, key) for r, n in zip(rates, new_rates, strict=True) for key in keys):
            found[title] = _rate_change(keys, new_rates)
    for title, keys in _SITE_KEYS:
        if any(getattr(base.site, key) != getattr(other.site, key) for key in keys):
            found[title] = _site_change(keys, other)
    found.update(_run_changes(base, other, run, other_run))
    return found


_RATE_KEYS = (
    ("the firing rate", ("input",)),
    ("the excess air", ("excess_air", "oxygen", "carbon_dioxide")),
    ("the flue gas temperature", ("flue_temperature",)),
)
_SITE_KEYS = (("the altitude", ("altitude",)), ("the air around", ("outdoor", "indoor", "relative_humidity")))


def _rate_change(keys: tuple[str, ...], new: list[Rate]) -> Change:
    def change(job: Job) -> Job:
        left = iter(new)
        appliances = []
        for appliance in job.appliances:
            rates = []
            for rate in appliance.rates:
                there = next(left)
                rates.append(replace(rate, **{key: getattr(there, key) for key in keys}))
            appliances.append(replace(appliance, rates=tuple(rates)))
        return replace(job, appliances=tuple(appliances))

    return change


def _site_change(keys: tuple[str, ...], other: Job) -> Change:
    return lambda job: replace(job, site=replace(job.site, **{key: getattr(other.site, key) for key in keys}))


def _run_changes(base: Job, other: Job, run: str, other_run: str) -> dict[str, Change]:
    """The size, the material and the pieces of the run compared; other runs and the rest as one change."""
    mine = next(r for r in base.runs if r.name == run)
    theirs = next(r for r in other.runs if r.name == other_run)
    found: dict[str, Change] = {}
    keys = {
        "the size": ("size",),
        "the material": ("material",),
        PIECES: ("pieces", "straight", "fittings", "rise"),
    }
    for title, names in keys.items():
        if any(getattr(mine, key) != getattr(theirs, key) for key in names):
            found[title] = _run_change(run, {key: getattr(theirs, key) for key in names})
    rest = {r.name: replace(r, table=None) for r in base.runs if r.name != run}
    new_rest = {r.name: replace(r, table=None) for r in other.runs if r.name != other_run}
    same = rest == new_rest and base.joints == other.joints and base.cooling == other.cooling
    if not same or (base.fittings, base.pipes) != (other.fittings, other.pipes):
        found["the rest of the job"] = lambda job: replace(
            job,
            runs=tuple(r if r.name == run else next((n for n in other.runs if n.name == r.name), r) for r in job.runs),
            joints=other.joints,
            cooling=other.cooling,
            fittings=other.fittings,
            pipes=other.pipes,
        )
    return found


def _run_change(run: str, keys: Mapping[str, object]) -> Change:
    return lambda job: replace(
        job,
        runs=tuple(replace(r, **keys) if r.name == run else r for r in job.runs),  # type: ignore[arg-type]
    )
