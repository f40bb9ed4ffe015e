"""Everything a check needs, read and looked up: the job, the catalog, the graph of runs, the tables."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.names import unknown_names
from ventsize.allowance.own_fittings import clashes, with_own_fittings
from ventsize.allowance.reading import find_table, read_table
from ventsize.catalog.library import Catalog, UnknownName, load_catalog
from ventsize.jobfile.job import Job, read_job
from ventsize.jobfile.problems import InputError, Problem
from ventsize.run.graph import VentGraph, build_graph


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    """A job with all its names looked up. `file` is where it came from, for messages.

    tables: by the names the job gives them; one table under two names is the same object.
    """

    job: Job
    file: str
    catalog: Catalog
    graph: VentGraph
    tables: Mapping[str, AllowanceTable]


def read_inputs(path: Path) -> Inputs:
    """A job file and all it names. Raises InputError with every fault found."""
    return prepare(read_job(path), file=str(path), beside=path.parent)


def prepare(
    job: Job, *, file: str, beside: Path | None = None, tables: Mapping[str, AllowanceTable] | None = None
) -> Inputs:
    """A job already read, with all it names.

    beside: the folder in which its tables are looked for first.
    tables: tables already at hand, by the name the job gives them; these are not looked for.
    """
    at_hand = dict(tables or {})
    faults: list[Problem] = []
    for name, place in _tables_named(job):
        try:
            if name not in at_hand:
                at_hand[name] = read_table(find_table(name, beside=beside or Path(), asked_by=file, place=place))
        except InputError as error:
            faults += [fault for fault in error.problems if fault not in faults]
    named = [at_hand[name] for name in dict.fromkeys(name for name, _ in _tables_named(job)) if name in at_hand]
    catalog = with_own_fittings(load_catalog(), named).extended(pipes=job.pipes, fittings=job.fittings, file=file)
    faults = [*_fuel_faults(job, catalog, file), *faults, *_name_faults(job, at_hand, catalog)]
    try:
        graph = build_graph(job, catalog=catalog, file=file)
    except InputError as error:
        raise InputError((*faults, *error.problems)) from None
    if faults:
        raise InputError(faults)
    return Inputs(job=job, file=file, catalog=catalog, graph=graph, tables=_each_once(at_hand))


def _name_faults(job: Job, tables: Mapping[str, AllowanceTable], catalog: Catalog) -> Iterator[Problem]:
    """Names that nothing explains, in the tables that judge a run, and names that two of them explain differently."""
    judging = [tables[name] for name in _judging(job, tables) if name in tables]
    own = {fitting["name"] for fitting in job.fittings}
    for table, fitting in clashes(judging):
        if fitting.name not in own:
            problem = "another table of the job has a fitting of this name, and it is not the same"
            yield Problem(table.file, f"fitting '{fitting.name:.40}'", problem, "another name, or one fitting for both")
    for table in judging:
        for unknown in unknown_names(table, fittings=catalog.fittings, materials=catalog.pipes):
            yield Problem(table.file, unknown.place, f"unknown {unknown.kind} '{unknown.name:.40}'", unknown.expected)


def _judging(job: Job, tables: Mapping[str, AllowanceTable]) -> Iterator[str]:
    """The names of the tables that judge a run, each once."""
    found: dict[str, None] = {}
    for run in job.runs:
        apply = [name for name in job.tables if name in tables and run.carries in tables[name].applies_to]
        found.update(dict.fromkeys([run.table] if run.table else apply if len(apply) == 1 else []))
    yield from found


def _each_once(tables: Mapping[str, AllowanceTable]) -> dict[str, AllowanceTable]:
    """One table that a job names by several paths, or has in two copies, as one object: it counts what it counts."""
    found: dict[str, AllowanceTable] = {}
    for name, table in tables.items():
        found[name] = next((one for one in found.values() if replace(one, file=table.file) == table), table)
    return found


def _tables_named(job: Job) -> list[tuple[str, str]]:
    """Every table the job names, with the place that does."""
    named = [(name, "tables") for name in job.tables]
    return named + [(run.table, f"run '{run.name}', table") for run in job.runs if run.table]


def _fuel_faults(job: Job, catalog: Catalog, file: str) -> list[Problem]:
    faults = []
    for appliance in job.appliances:
        try:
            catalog.fuel(appliance.fuel)
        except UnknownName as error:
            place = f"appliance '{appliance.name}', fuel"
            faults.append(Problem(file, place, error.problem, error.expected))
    return faults
