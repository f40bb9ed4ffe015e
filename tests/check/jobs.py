"""Jobs for tests, as the tables of a TOML document, and the check of one."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from ventsize.allowance.reading import table_from_data
from ventsize.check.inputs import prepare
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check
from ventsize.jobfile.job import job_from_data

Data = dict[str, Any]

TABLE: Data = {
    "title": "Table of the tests",
    "source": "Invented for tests",
    "applies_to": ["flue gas", "combustion air"],
    "counts": "each run",
    "deductions": {
        "elbow-90-long": "3 ft",
        "elbow-90-short": "5 ft",
        "elbow-45": "1 ft 6 in",
        "coupling": "0 ft",
        "increaser": "1 ft",
        "reducer": "3 ft",
        "terminal-open": "0 ft",
    },
    "row": [
        {"input": "80 kBtu/h", "size": "2 in", "altitude": ["0 ft", "4500 ft"], "allowable": "60 ft"},
        {"input": "80 kBtu/h", "size": "3 in", "altitude": ["0 ft", "4500 ft"], "allowable": "90 ft"},
        {"input": "80 kBtu/h", "size": "4 in", "altitude": ["0 ft", "4500 ft"], "allowable": "120 ft"},
    ],
}

STRAIGHT: tuple[Data, ...] = (
    {"pipe": "10 ft", "heading": "up"},
    {"fitting": "elbow-90-long"},
    {"pipe": "20 ft", "heading": "east"},
    {"fitting": "terminal-open"},
)


def job(pieces: list[Data] | None = None, *, runs: list[Data] | None = None, **changed: Any) -> Data:
    """A job of one furnace and one vent; `changed` goes into its high rate, its site and its run by key."""
    rate = {"name": "high", "input": "80 kBtu/h", "excess_air": 0.35, "flue_temperature": "110 degF"}
    site = {"altitude": "600 ft", "outdoor": "30 degF", "indoor": "68 degF"}
    vent = {
        "name": "vent",
        "carries": "flue gas",
        "between": ["furnace", "outdoors"],
        "size": "3 in",
        "material": "pvc-40",
        "table": "table.toml",
        "pieces": deepcopy(list(STRAIGHT)) if pieces is None else pieces,
    }
    for key, value in changed.items():
        for table in (rate, site, vent):
            if key in table:
                table[key] = value
                break
        else:
            vent[key] = value
    return {
        "title": "Test job",
        "site": site,
        "appliance": [{"name": "furnace", "fuel": "natural gas", "rate": [rate]}],
        "run": [vent] if runs is None else runs,
    }


def checked(data: Data, table: Data | None = None) -> JobCheck:
    """The check of a job; every table it names is the one of the tests."""
    read = job_from_data(data, file="test.toml")
    names = {run.table for run in read.runs if run.table} | set(read.tables)
    tables = {name: table_from_data(table or TABLE, file=name) for name in names}
    return check(prepare(read, file="test.toml", tables=tables))


def drop(data: Data) -> float:
    """The pressure drop of a job's first run at its first rate [Pa]."""
    return checked(data).runs[0].rates[0].flow.pressure_drop
