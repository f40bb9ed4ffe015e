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


def checked(data: Data, table: Data | None = None, **others: Data) -> JobCheck:
    """The check of a job; every table it names is the one of the tests, but for `others`, by name without '.toml'."""
    read = job_from_data(data, file="test.toml")
    names = {run.table for run in read.runs if run.table} | set(read.tables)
    tables = {
        name: table_from_data(others.get(name.removesuffix(".toml"), table or TABLE), file=name) for name in names
    }
    return check(prepare(read, file="test.toml", tables=tables))


def drop(data: Data) -> float:
    """The pressure drop of a job's first run at its first rate [Pa]."""
    return checked(data).runs[0].rates[0].flow.pressure_drop


def run(name: str, start: str, end: str, *pieces: Data, **changed: Any) -> Data:
    """A run of flue gas in 3 in pipe, judged by the table of the tests."""
    base = {"name": name, "carries": "flue gas", "between": [start, end], "size": "3 in", "material": "pvc-40"}
    return {**base, "table": "table.toml", "pieces": list(pieces), **changed}


def pipe(feet: float, heading: str | None = None, **more: Any) -> Data:
    """A straight pipe."""
    return {"pipe": f"{feet} ft", **({"heading": heading} if heading else {}), **more}


def two_furnaces(*, own: float = 10, common: float = 10, heading: str | None = None, rates: int = 1) -> Data:
    """Two furnaces of 40 kBtu/h on one vent, by a tee at J: their own vents 'va' and 'vb', and 'v' outdoors.

    own, common: lengths of pipe [ft], the common one heading as said. rates: of each, the second of half the input.
    """
    data = job(runs=[
        run("va", "furnace", "J", pipe(own)), run("vb", "other", "J", pipe(own)),
        run("v", "J", "outdoors", pipe(common, heading), {"fitting": "terminal-open"}),
    ])  # fmt: skip
    first = data["appliance"][0]
    first["rate"][0]["input"] = "40 kBtu/h"
    if rates == 2:
        first["rate"].append({**first["rate"][0], "name": "low", "input": "20 kBtu/h"})
    first["backflow_prevented"] = True
    data["appliance"].append({**deepcopy(first), "name": "other"})
    data["joint"] = [{"name": "J", "fitting": "tee", "in_line": ["va", "v"]}]
    return data


def table_of_two(*, single: Data, common: Data) -> Data:
    """The table of the tests with one row of 3 in for one of two furnaces (40) and one for both (80 kBtu/h)."""
    table = deepcopy(TABLE)
    table["deductions"]["tee"] = "0 ft"
    of = {"size": "3 in", "altitude": ["0 ft", "4500 ft"]}
    table["row"] = [{"input": "40 kBtu/h", **of, **single}, {"input": "80 kBtu/h", **of, **common}]
    return table
