"""What may be chosen for a job's runs, as plain records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from ventsize.check.inputs import Inputs
from ventsize.check.judging import table_for
from ventsize.jobfile.job import Run
from ventsize.studies.altering import changes

Piping = Literal["as it is", "one pipe", "two pipes"]

ELBOWS: Mapping[str, tuple[str, ...]] = {
    "short": ("elbow-90-short",),
    "long": ("elbow-90-long",),
    "two 45s": ("elbow-45", "elbow-45"),
}
"""What may stand at a turn of 90°, by the name it is chosen by."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """Another way to lay a run: pieces or a count, between the same joints."""

    name: str
    run: Run


@dataclass(frozen=True, slots=True, kw_only=True)
class RunChoices:
    """What may be chosen for one run. An empty tuple leaves that as it is.

    sizes: nominal, for the whole run [m]; materials: by name.
    elbows: names of `ELBOWS`, for all its 90° elbows alike, or with `each_elbow` for each by itself.
    ends: fittings for the outdoor end.
    change_to: sizes to which it may change at any joint between two pieces [m].
    routes: other ways to lay it, besides the one it has.
    """

    run: str
    sizes: tuple[float, ...] = ()
    materials: tuple[str, ...] = ()
    elbows: tuple[str, ...] = ()
    each_elbow: bool = False
    ends: tuple[str, ...] = ()
    change_to: tuple[float, ...] = ()
    routes: tuple[Route, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What may be chosen for a job: for its runs, and whether it has an air pipe of its own.

    air: the air pipe that "two pipes" adds where the job has none; without it, one laid like the vent.
    """

    runs: tuple[RunChoices, ...]
    piping: tuple[Piping, ...] = ("as it is",)
    air: Run | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What was chosen for one run; None is "as it is". `change`: before which piece (from 0), and to what size [m]."""

    run: str
    route: str | None
    material: str | None
    size: float | None
    elbows: tuple[str, ...]
    end: str | None
    change: tuple[int, float] | None


def default_choices(inputs: Inputs) -> Choices:
    """What is usually worth looking at: the sizes of each run's table, elbows all alike, one size or two."""
    return Choices(runs=tuple(_default(run, inputs) for run in inputs.job.runs))


def _default(run: Run, inputs: Inputs) -> RunChoices:
    sizes = sizes_offered(run, inputs)
    return RunChoices(
        run=run.name,
        sizes=sizes,
        elbows=() if run.counted and not counted_right_angles(run, inputs) else tuple(ELBOWS),
        change_to=() if run.counted else sizes,
    )


def sizes_offered(run: Run, inputs: Inputs) -> tuple[float, ...]:
    """The sizes that the run's table has and its material comes in [m], smallest first; its own where it has none."""
    file, _ = table_for(inputs.graph.runs[run.name], inputs)
    material = inputs.catalog.pipe(run.material)
    rows = () if file is None else inputs.tables[file].rows
    found = {s.nominal for row in rows if (s := material.size(row.size))}
    return tuple(sorted(found or {run.size}))


def counted_right_angles(run: Run, inputs: Inputs) -> list[tuple[str, int]]:
    counts = run.fittings or {}
    return [(name, n) for name, n in counts.items() if n and changes.is_right_angle(name, inputs.catalog)]
