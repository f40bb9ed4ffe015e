"""What a person wants looked at, as typed: texts made into choices, on the command line and on the screen alike."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from ventsize.catalog.library import UnknownName
from ventsize.check.inputs import Inputs, prepare
from ventsize.jobfile.document import nearest
from ventsize.jobfile.job import Run, read_job
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension, QuantityError, parse
from ventsize.studies.altering import changes
from ventsize.studies.options.choices import ELBOWS, Choices, Piping, Route, RunChoices, default_choices

T = TypeVar("T")
NONE = "as it is"
"""What is typed to leave something as it is, where nothing typed means the usual choices."""

PIPES: dict[str, Piping] = {"one": "one pipe", "two": "two pipes"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Each a text of things with commas between; empty for the usual, "as it is" for no choice.

    runs: to vary, by name; usually all that carry flue gas. sizes, change_to: pipe sizes. materials, ends: by name.
    elbows: names of `ELBOWS`; each_elbow: whether each is chosen by itself. pipes: one, two.
    routes: each a job file, or the name of a run of the job that is laid another way between the same joints.
    """

    runs: str = ""
    sizes: str = ""
    materials: str = ""
    elbows: str = ""
    each_elbow: bool = False
    ends: str = ""
    change_to: str = ""
    pipes: str = ""
    routes: tuple[str, ...] = ()


def choices_of(inputs: Inputs, asked: Asked, *, beside: Path | None = None) -> tuple[Inputs, Choices]:
    """The choices, and the job without the runs that are only another way to lay one.

    beside: the folder of the job. Raises InputError, naming what cannot be chosen and what can.
    """
    flue = [run.name for run in inputs.job.runs if run.carries == "flue gas"]
    known = {run.name: run for run in inputs.job.runs}
    varied = [_named(name, known, "runs") for name in _parts(asked.runs)] or [known[name] for name in flue]
    inputs, routes = _routes(inputs, varied, asked.routes, beside)
    varied = [run for run in varied if any(run.name == left.name for left in inputs.job.runs)]
    usual = {one.run: one for one in default_choices(inputs).runs}
    several = len(varied) > 1
    pipes = [PIPES[_named(text, {name: name for name in PIPES}, "pipes")] for text in _chosen(asked.pipes) or ()]
    return inputs, Choices(
        runs=tuple(_one(inputs, usual[run.name], asked, routes.get(run.name, ()), several) for run in varied),
        piping=("as it is", *pipes),
    )


def _one(inputs: Inputs, usual: RunChoices, asked: Asked, routes: tuple[Route, ...], several: bool) -> RunChoices:
    """The choices of one run. Of several, changes of size are left out unless asked for, or it would take hours."""
    catalog = inputs.catalog

    def material(name: str) -> str:
        try:
            return catalog.pipe(name).name
        except UnknownName as error:
            raise InputError(Problem("materials", "", error.problem, error.expected)) from None

    ends = {name: name for name, record in catalog.fittings.items() if record.kind in changes.ENDS}
    return replace(
        usual,
        sizes=_each(asked.sizes, usual.sizes, lambda text: _size(text, "sizes")),
        materials=_each(asked.materials, (), material),
        elbows=_each(asked.elbows, usual.elbows, lambda text: _named(text, {name: name for name in ELBOWS}, "elbows")),
        each_elbow=asked.each_elbow,
        ends=_each(asked.ends, (), lambda text: _named(text, ends, "ends")),
        change_to=_each(asked.change_to, () if several else usual.change_to, lambda text: _size(text, "change-to")),
        routes=routes,
    )


def _parts(text: str) -> list[str]:
    return [part.strip() for part in text.split(",") if part.strip()]


def _chosen(text: str) -> list[str] | None:
    """What was typed; None for the usual, an empty list for no choice."""
    parts = _parts(text)
    return [] if parts == [NONE] else (parts or None)


def _each(text: str, usual: tuple[T, ...], read: Callable[[str], T]) -> tuple[T, ...]:
    parts = _chosen(text)
    return usual if parts is None else tuple(dict.fromkeys(map(read, parts)))


def _named(text: str, known: dict[str, T], what: str) -> T:
    if text not in known:
        raise InputError(Problem(what, "", f"'{text:.40}' is not known here", nearest(text, list(known))))
    return known[text]


def _size(text: str, what: str) -> float:
    try:
        size = parse(text, Dimension.LENGTH)
    except QuantityError as error:
        raise InputError(Problem(what, "", str(error))) from None
    if size <= 0.0:
        raise InputError(Problem(what, "", f"'{text:.40}' is no pipe size", "a size such as '3 in'"))
    return size


def _routes(
    inputs: Inputs, varied: list[Run], texts: Iterable[str], beside: Path | None
) -> tuple[Inputs, dict[str, tuple[Route, ...]]]:
    """Each way to lay a run, by the run it may take the place of; and the job without those that are runs of it."""
    own = {run.name: run for run in inputs.job.runs}
    found: dict[str, list[Route]] = {}
    aside: set[str] = set()
    for text in texts:
        if text in own:
            run, name = own[text], text
            aside.add(text)
        else:
            run, name = _from_file(Path(text), varied), Path(text).stem
        matching = [v for v in varied if v.name != text and v.carries == run.carries]
        place = next((v for v in matching if set(v.between) == set(run.between)), None) or next(iter(matching), None)
        if place is None:
            problem = f"'{text:.60}' carries {run.carries}, and no run that is varied does besides"
            raise InputError(Problem("route", "", problem, "another way to lay one of the runs that are varied"))
        found.setdefault(place.name, []).append(Route(name=name, run=_turned(run, place)))
    if aside:
        left = tuple(run for run in inputs.job.runs if run.name not in aside)
        inputs = prepare(replace(inputs.job, runs=left), file=inputs.file, beside=beside, tables=inputs.tables)
    return inputs, {name: tuple(routes) for name, routes in found.items() if name not in aside}


def _from_file(path: Path, varied: list[Run]) -> Run:
    """The run of a job file that is meant: of the name of one that is varied, or the only one that carries the same."""
    runs = read_job(path).runs
    names = {run.name for run in varied}
    alike = [run for run in runs if run.name in names] or [
        run for run in runs if run.carries in {v.carries for v in varied}
    ]
    if len(alike) != 1:
        listed = ", ".join(f"'{run.name}'" for run in runs)
        problem = f"which of its runs is meant is not clear: {listed}"
        raise InputError(Problem(str(path), "", problem, f"one run named '{varied[0].name}'" if varied else "one run"))
    return alike[0]


def _turned(run: Run, place: Run) -> Run:
    """The route listed from the same end as the run it may take the place of, and judged by that one's table."""
    if run.pieces is None or (run.between[0] == "outdoors") == (place.between[0] == "outdoors"):
        return replace(run, table=place.table)
    problem = f"it is listed from the other end than run '{place.name}'"
    raise InputError(Problem(f"route '{run.name}'", "", problem, "pieces listed walking the same way"))
