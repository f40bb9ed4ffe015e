"""The visits to a job: a file beside it, to which each visit is added.

The job says how things are now, the file of visits how they were: beside boathouse.toml stands boathouse.visits, which
is TOML too, under another ending so that nobody takes it for a job. What was read and ticked off stands in it as in the
job, so that it can be read without the program.

[[visit]]
date = 2026-11-20
time = "14:05"                     # tells two visits of one day apart
by = "J. S."                       # who; optional
note = "Trips on windy nights."
verdict = "within"                 # by the allowance table, as the job stood
reason = "…"
margins = { vent = "102.0 ft" }    # of each run that has one
not_met = ["slope at vent"]        # rules of the check-over
met = 7                            # rules of it that are met
to_do = 12                         # and that are still to be looked at
photos = ["terminal.jpg"]          # file names, beside the job
job = "…"                          # the job file of that day, without what follows
[[visit.reading]]                  # as in a job
[[visit.symptom]]                  # as in a job
[[visit.checked]]                  # as in a job
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from pathlib import Path
from typing import Annotated, Any

from pydantic import Field

from ventsize.jobfile.document import parse_toml, read_toml, record, validate
from ventsize.jobfile.editing.values import Data
from ventsize.jobfile.field_types import Expected, Text
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.reading import Reading, reading_faults
from ventsize.jobfile.rewriting import rewritten
from ventsize.jobfile.symptom import Seen
from ventsize.jobfile.ticks import Date, Tick, tick_faults
from ventsize.jobfile.writer import NO_FILE, open_file, save

ENDING = ".visits"
OF_A_VISIT = ("reading", "symptom", "checked")  # keys of a job that a visit keeps by themselves

Names = Annotated[tuple[str, ...], Expected("a list of texts")]


@record
class Visit:
    """One visit: margins as typed lengths by run; job: the text of the job file."""

    date: Date
    time: Text = ""
    by: Text = ""
    note: Text = ""
    verdict: Text = ""
    reason: Text = ""
    margins: Annotated[dict[str, str], Expected("a table such as { vent = '102 ft' }")] = field(default_factory=dict)
    not_met: Names = ()
    to_do: Annotated[int, Field(strict=True, ge=0), Expected("a whole number")] = 0
    met: Annotated[int | None, Field(strict=True, ge=0), Expected("a whole number")] = None
    photos: Names = ()
    job: Text = ""
    readings: Annotated[tuple[Reading, ...], Field(alias="reading")] = ()
    symptoms: Annotated[tuple[Seen, ...], Field(alias="symptom")] = ()
    checked: tuple[Tick, ...] = ()

    @property
    def named(self) -> str:
        """Its date, and its time where that is known."""
        return f"{self.date.isoformat()} {self.time}".strip()

    @property
    def data(self) -> Data:
        """The job of that day as its data; empty where it cannot be read."""
        try:
            return parse_toml(self.job, file="")
        except InputError:
            return {}


@record
class _File:
    visits: Annotated[tuple[Visit, ...], Field(alias="visit")] = ()


def visits_file(job: Path) -> Path:
    """Where the visits to a job are kept."""
    return job.with_name(job.stem + ENDING)


def read_visits(job: Path) -> tuple[Visit, ...]:
    """The visits to a job, earliest first; none where there is no file. Raises InputError."""
    path = visits_file(job)
    if not path.exists():
        return ()
    found = validate(read_toml(path), _File, file=str(path)).visits
    faults: list[Problem] = []
    for number, visit in enumerate(found, start=1):
        names = _names(visit.data)
        every = (*reading_faults(visit.readings, *names), *tick_faults(visit.checked))
        faults += [Problem(str(path), f"visit {number}, {place}", problem, wanted) for place, problem, wanted in every]
    if faults:
        raise InputError(faults)
    return tuple(sorted(found, key=lambda visit: (visit.date, visit.time)))


def _names(data: Data) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Names of the appliances and runs of a job's data."""
    appliances, runs = (
        tuple(str(item.get("name")) for item in data.get(key, []) if isinstance(item, Mapping))
        for key in ("appliance", "run")
    )
    return appliances, runs


def visit_data(job: Mapping[str, Any], **more: Any) -> Data:
    """The data of a visit: of the job as it stands, and what is known of the visit besides, by its keys."""
    text = rewritten("", {key: value for key, value in job.items() if key not in OF_A_VISIT})
    kept = {key: job[key] for key in OF_A_VISIT if job.get(key)}
    return {key: value for key, value in {**more, "job": text}.items() if value not in ("", [], {}, None)} | kept


def add_visit(job: Path, visit: Data) -> None:
    """Add a visit to the file, whole or not at all. Raises InputError, and SaveError as `save` does."""
    path = visits_file(job)
    read_visits(job)  # what cannot be read is not added to
    validate(visit, Visit, file=str(path), place="the visit to be added")
    if path.exists():
        opened = open_file(path)
        data, known = opened.data, opened.fingerprint
    else:
        data, known = {}, NO_FILE
    save(path, {**data, "visit": [*data.get("visit", []), visit]}, known=known)
