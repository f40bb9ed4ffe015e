"""In what two jobs differ, in the words of the trade."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any

from ventsize.check.inputs import Inputs
from ventsize.jobfile.job import Appliance, Rate, Site
from ventsize.quantity import (
    Dimension,
    System,
    show,
    show_fraction,
    show_length,
    show_power,
    show_temperature,
)
from ventsize.run.model import Run

SAME_LENGTH = 1e-4  # m; less is no difference in pipe
Shown = Callable[[Any, System], str]


def _altitude(value: float, system: System) -> str:
    return show(value, Dimension.LENGTH, system, style="altitude")


def _share(value: float, _system: System) -> str:
    return show_fraction(value)


def _word(value: object, _system: System) -> str:
    return str(value)


_SITE: tuple[tuple[str, str, Shown], ...] = (
    ("altitude", "altitude", _altitude),
    ("outdoor", "outdoor temperature", show_temperature),
    ("indoor", "indoor temperature", show_temperature),
    ("relative_humidity", "humidity of the combustion air", _share),
)
_RATE: tuple[tuple[str, str, Shown], ...] = (
    ("input", "input", show_power),
    ("excess_air", "excess air", _share),
    ("oxygen", "O2", _share),
    ("carbon_dioxide", "CO2", _share),
    ("flue_temperature", "flue gas temperature", show_temperature),
)


def job_differences(base: Inputs, other: Inputs, system: System) -> tuple[str, ...]:
    """What another job has otherwise, all its runs looked at; a run of another name is another run."""
    names = [name for name in base.graph.runs if name in other.graph.runs]
    first = (names[0], names[0]) if names else (next(iter(base.graph.runs)), next(iter(other.graph.runs)))
    return differences(base, other, run=first[0], other_run=first[1], system=system)


def differences(base: Inputs, other: Inputs, *, run: str, other_run: str, system: System) -> tuple[str, ...]:
    """What the other job has otherwise, a sentence each: its site, its appliances, the run compared, other runs.

    run, other_run: the run compared, by its name in either job.
    """
    found = [*_site(base.job.site, other.job.site, system), *_appliances(base, other, system)]
    if base.job.cooling != other.job.cooling:
        found.append("the gas is figured as cooling" if other.job.cooling else "the gas is not figured as cooling")
    found += run_differences(base.graph.runs[run], other.graph.runs[other_run], system)
    names = [name for name in base.graph.runs if name not in (run, other_run)]
    for name in names:
        if name in other.graph.runs:
            said = run_differences(base.graph.runs[name], other.graph.runs[name], system)
            found += [f"run '{name}': {what}" for what in said]
        else:
            found.append(f"no run '{name}'")
    more = [name for name in other.graph.runs if name not in base.graph.runs and name not in (run, other_run)]
    return (*found, *(f"a run '{name}' more" for name in more))


def _fields(
    one: object, other: object, fields: tuple[tuple[str, str, Shown], ...], place: str, system: System
) -> Iterator[str]:
    for key, title, shown in fields:
        before, after = getattr(one, key), getattr(other, key)
        if before == after:
            continue
        if after is None:
            yield f"{place}{title} not given instead of {shown(before, system)}"
        elif before is None:
            yield f"{place}{title} {shown(after, system)}"
        else:
            yield f"{place}{title} {shown(after, system)} instead of {shown(before, system)}"


def _site(one: Site, other: Site, system: System) -> Iterator[str]:
    yield from _fields(one, other, _SITE, "", system)


def _appliances(base: Inputs, other: Inputs, system: System) -> Iterator[str]:
    mine, theirs = ({a.name: a for a in inputs.job.appliances} for inputs in (base, other))
    if len(mine) == len(theirs) == 1:
        yield from _appliance(next(iter(mine.values())), next(iter(theirs.values())), "", system)
        return
    for name, appliance in mine.items():
        if name in theirs:
            yield from _appliance(appliance, theirs[name], f"{name}: ", system)
        else:
            yield f"no appliance '{name}'"
    yield from (f"an appliance '{name}' more" for name in theirs if name not in mine)


def _appliance(one: Appliance, other: Appliance, place: str, system: System) -> Iterator[str]:
    yield from _fields(one, other, (("fuel", "fuel", _word),), place, system)
    mine, theirs = ({rate.name: rate for rate in a.rates} for a in (one, other))
    for name, rate in mine.items():
        if name in theirs:
            yield from _rate(rate, theirs[name], f"{place}{name}: ", system)
        else:
            yield f"{place}no rate '{name}'"
    yield from (f"{place}a rate '{name}' more" for name in theirs if name not in mine)


def _rate(one: Rate, other: Rate, place: str, system: System) -> Iterator[str]:
    yield from _fields(one, other, _RATE, place, system)


def run_differences(one: Run, other: Run, system: System) -> tuple[str, ...]:
    """What another run has otherwise: its size and material, its fittings, its pipe, or only their order."""
    found = list(_sizes(one, other))
    fittings = list(_fittings(one, other))
    pipe = list(_pipe(one, other, system))
    found += fittings + pipe
    mine, theirs = ([(p.name if p.fitting else "", round(p.length, 6)) for p in run.pieces] for run in (one, other))
    if not found and mine != theirs:
        alike = sorted(mine) == sorted(theirs)
        found.append("the same pieces in another order" if alike else "its straight pipe is divided otherwise")
    k_one, k_other = ([p.k for p in run.pieces] for run in (one, other))
    if k_one != k_other and len(k_one) == len(k_other):
        found += [
            f"{theirs.name}: K {'of the catalog' if theirs.k is None else f'{theirs.k:g}'} instead of "
            f"{'that of the catalog' if mine.k is None else f'{mine.k:g}'}"
            for mine, theirs in zip(one.pieces, other.pieces, strict=True)
            if mine.k != theirs.k
        ]
    if one.table != other.table:
        found.append(f"judged by {other.table or 'no table of its own'} instead of {one.table or 'none of its own'}")
    return tuple(found)


def _sizes(one: Run, other: Run) -> Iterator[str]:
    mine, theirs = (list(dict.fromkeys(p.section.label for p in run.pieces)) for run in (one, other))
    if mine != theirs and set(mine) != set(theirs):
        yield f"{', then '.join(theirs)} pipe instead of {', then '.join(mine)}"
    elif mine != theirs:
        yield f"sizes in the order {', then '.join(theirs)} instead of {', then '.join(mine)}"
    materials = [list(dict.fromkeys(p.section.material.name for p in run.pieces)) for run in (one, other)]
    if materials[0] != materials[1]:
        yield f"{', '.join(materials[1])} instead of {', '.join(materials[0])}"


def _fittings(one: Run, other: Run) -> Iterator[str]:
    mine, theirs = (Counter(p.name for p in run.pieces if not p.is_pipe) for run in (one, other))
    gone, new = mine - theirs, theirs - mine
    for name, count in gone.items():
        instead = next((n for n, c in new.items() if c == count and c > 0), None)
        if instead is None:
            yield f"{count} fewer {name}" if count < mine[name] else f"no {name}"
            continue
        del new[instead]
        yield f"{count} × {instead} instead of {name}" if count > 1 else f"{instead} instead of {name}"
    yield from (f"{count} more {name}" if mine[name] else f"{count} × {name} added" for name, count in new.items())


def _pipe(one: Run, other: Run, system: System) -> Iterator[str]:
    apart = other.straight_length - one.straight_length
    if not math.isclose(apart, 0.0, abs_tol=SAME_LENGTH):
        yield f"{show_length(abs(apart), system)} {'more' if apart > 0 else 'less'} straight pipe"
