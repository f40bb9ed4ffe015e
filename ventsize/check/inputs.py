"""Everything a check needs, read and looked up: the job, the catalog, the graph of runs, the tables."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from ventsize.allowance.model import AllowanceTable
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
    catalog = load_catalog().extended(pipes=job.pipes, fittings=job.fittings, file=file)
    faults = _fuel_faults(job, catalog, file)
    at_hand = dict(tables or {})
    for name, place in _tables_named(job):
        try:
            if name not in at_hand:
                at_hand[name] = read_table(find_table(name, beside=beside or Path(), asked_by=file, place=place))
        except InputError as error:
            faults += [fault for fault in error.problems if fault not in faults]
    try:
        graph = build_graph(job, catalog=catalog, file=file)
    except InputError as error:
        raise InputError((*faults, *error.problems)) from None
    if faults:
        raise InputError(faults)
    return Inputs(job=job, file=file, catalog=catalog, graph=graph, tables=_each_once(at_hand))


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
