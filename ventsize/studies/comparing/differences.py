"""In what two jobs differ, as findings: before is what the first has, after the other."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any

from ventsize.check.inputs import Inputs
from ventsize.finding import Finding, Value, Where, length, power, share, temperature
from ventsize.jobfile.job import Appliance, Rate, Site
from ventsize.run.model import Run

SAME_LENGTH = 1e-4  # m; less is no difference in pipe
Amounts = tuple[tuple[str, str, Callable[[Any], Value]], ...]

_SITE: Amounts = (
    ("altitude", "differs-altitude", length),
    ("outdoor", "differs-outdoor", temperature),
    ("indoor", "differs-indoor", temperature),
    ("relative_humidity", "differs-humidity", share),
)
_RATE: Amounts = (
    ("input", "differs-input", power),
    ("excess_air", "differs-excess-air", share),
    ("oxygen", "differs-oxygen", share),
    ("carbon_dioxide", "differs-carbon-dioxide", share),
    ("flue_temperature", "differs-flue-temperature", temperature),
)


def job_differences(base: Inputs, other: Inputs) -> tuple[Finding, ...]:
    """What another job has otherwise, all its runs looked at; a run of another name is another run."""
    names = [name for name in base.graph.runs if name in other.graph.runs]
    first = (names[0], names[0]) if names else (next(iter(base.graph.runs)), next(iter(other.graph.runs)))
    return differences(base, other, run=first[0], other_run=first[1])


def differences(base: Inputs, other: Inputs, *, run: str, other_run: str) -> tuple[Finding, ...]:
    """What the other job has otherwise: its site, its appliances, the run compared, other runs.

    run, other_run: the run compared, by its name in either job; what differs in it has no place.
    """
    found = [*_fields(base.job.site, other.job.site, _SITE, Where()), *_appliances(base, other)]
    if base.job.cooling != other.job.cooling:
        found.append(Finding("differs-cooled" if other.job.cooling else "differs-not-cooled"))
    found += _run(base.graph.runs[run], other.graph.runs[other_run], Where())
    for name, mine in base.graph.runs.items():
        if name in (run, other_run):
            continue
        if name in other.graph.runs:
            found += _run(mine, other.graph.runs[name], Where(run=name))
        else:
            found.append(Finding("differs-gone", Where(), {"what": "run", "name": name}))
    more = [name for name in other.graph.runs if name not in base.graph.runs and name not in (run, other_run)]
    return (*found, *(Finding("differs-more", Where(), {"what": "run", "name": name}) for name in more))


def _differs(code: str, where: Where, before: Value | None, after: Value | None, **more: Value) -> Finding:
    """What is not given has no value."""
    values = {"before": before, "after": after, **more}
    return Finding(code, where, {name: value for name, value in values.items() if value is not None})


def _fields(one: Site | Rate, other: Site | Rate, fields: Amounts, where: Where) -> Iterator[Finding]:
    for key, code, amount in fields:
        before, after = getattr(one, key), getattr(other, key)
        if before != after:
            given = (None if value is None else amount(value) for value in (before, after))
            yield _differs(code, where, *given)


def _appliances(base: Inputs, other: Inputs) -> Iterator[Finding]:
    mine, theirs = ({a.name: a for a in inputs.job.appliances} for inputs in (base, other))
    if len(mine) == len(theirs) == 1:
        yield from _appliance(next(iter(mine.values())), next(iter(theirs.values())), None)
        return
    for name, appliance in mine.items():
        if name in theirs:
            yield from _appliance(appliance, theirs[name], name)
    yield from _by_name("appliance", mine, theirs, Where())


def _appliance(one: Appliance, other: Appliance, named: str | None) -> Iterator[Finding]:
    if one.fuel != other.fuel:
        yield _differs("differs-fuel", Where(appliance=named), one.fuel, other.fuel)
    mine, theirs = ({rate.name: rate for rate in a.rates} for a in (one, other))
    for name, rate in mine.items():
        if name in theirs:
            yield from _fields(rate, theirs[name], _RATE, Where(appliance=named, rate=name))
    yield from _by_name("rate", mine, theirs, Where(appliance=named))


def _by_name(what: str, mine: dict[str, Any], theirs: dict[str, Any], where: Where) -> Iterator[Finding]:
    """Those that only one of the jobs has."""
    yield from (Finding("differs-gone", where, {"what": what, "name": name}) for name in mine if name not in theirs)
    yield from (Finding("differs-more", where, {"what": what, "name": name}) for name in theirs if name not in mine)


def _run(one: Run, other: Run, where: Where) -> list[Finding]:
    """What another run has otherwise: its size and material, its fittings, its pipe, or only their order."""
    found = [*_sizes(one, other, where), *_fittings(one, other, where), *_pipe(one, other, where)]
    mine, theirs = ([(p.name if p.fitting else "", round(p.length, 6)) for p in run.pieces] for run in (one, other))
    if not found and mine != theirs:
        found.append(Finding("differs-order" if sorted(mine) == sorted(theirs) else "differs-divided", where))
    if len(one.pieces) == len(other.pieces):
        for old, new in zip(one.pieces, other.pieces, strict=True):
            if old.k != new.k:
                given = (None if k is None else share(k) for k in (old.k, new.k))
                found.append(_differs("differs-k", where, *given, fitting=new.name))
    if one.table != other.table:
        found.append(_differs("differs-table", where, one.table, other.table))
    return found


def _sizes(one: Run, other: Run, where: Where) -> Iterator[Finding]:
    for code, labels in (
        ("differs-size", [tuple(dict.fromkeys(p.section.label for p in run.pieces)) for run in (one, other)]),
        (
            "differs-material",
            [tuple(dict.fromkeys(p.section.material.name for p in run.pieces)) for run in (one, other)],
        ),
    ):
        if labels[0] != labels[1]:
            yield _differs(code, where, *labels)


def _fittings(one: Run, other: Run, where: Where) -> Iterator[Finding]:
    mine, theirs = (Counter(p.name for p in run.pieces if not p.is_pipe) for run in (one, other))
    gone, new = mine - theirs, theirs - mine
    for name, count in gone.items():
        instead = next((n for n, c in new.items() if c in (count, 2 * count) and c > 0), None)
        if instead is not None:
            code = "differs-exchanged" if new[instead] == count else "differs-two-for-each"
            yield Finding(code, where, {"count": new.pop(instead), "before": name, "after": instead})
        elif count < mine[name]:
            yield Finding("differs-fewer", where, {"count": count, "name": name})
        else:
            yield Finding("differs-none", where, {"name": name})
    for name, count in new.items():
        yield Finding("differs-more-of" if mine[name] else "differs-added", where, {"count": count, "name": name})


def _pipe(one: Run, other: Run, where: Where) -> Iterator[Finding]:
    apart = other.straight_length - one.straight_length
    if not math.isclose(apart, 0.0, abs_tol=SAME_LENGTH):
        yield Finding("differs-longer" if apart > 0 else "differs-shorter", where, {"length": length(abs(apart))})
