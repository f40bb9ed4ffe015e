"""What drawn jobs reach: how many have each thing that a job or a table can say, or leave unsaid."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from tests.contract.drawing import EVERY
from tests.contract.reading import Data

ROW_KEYS = (
    "altitude", "minimum", "elbows_included", "pipes", "ends", "materials", "air_size", "first_elbows",
    "allowable", "allowable_by_elbows", "allowable_pressure",
)  # fmt: skip


def reached(job: Data, tables: dict[str, Data]) -> set[str]:
    """Names of what this job has."""
    found = {f"{len(job['appliance'])} appliances", f"{len(tables)} tables"}
    for run in job["run"]:
        found |= {f"{run['carries']}: {what}" for what in _of_run(run)}
    lines = [set(joint["in_line"]) for joint in job.get("joint", [])]
    for run, line in product(job["run"], lines):
        found |= {f"{run['carries']}: joint of three"} if run["name"] in line else set()
    for table in tables.values():
        found |= set(_of_table(table))
    found |= {f"job: {key}" for key in ("room", "confirmed", "cooling") if job.get(key)}
    found |= {f"site: no {key}" for key in ("altitude", "design_outdoor") if key not in job["site"]}
    said = {"air", "trap_seal", "backflow_prevented", "input_basis"}
    return found | {f"appliance: {'' if key in one else 'no '}{key}" for one in job["appliance"] for key in said}


def _of_run(run: Data) -> Iterator[str]:
    yield "no table" if "table" not in run else "table"
    yield "listed from outdoors" if run["between"][0] == "outdoors" else "listed outward"
    if "outdoors" not in run["between"]:
        yield "part of a way"
    pieces = run.get("pieces")
    if pieces is None:
        yield "counted"
        return
    pipes = [piece for piece in pieces if "pipe" in piece]
    names = [piece["fitting"] for piece in pieces if "fitting" in piece]
    if any("heading" not in pipe for pipe in pipes):
        yield "pipe without heading"
    if "outdoors" in run["between"] and not any(name.startswith(("terminal", "entrance", "wall")) for name in names):
        yield "no end listed"
    if any("size" in piece for piece in pieces):
        yield "mixed sizes"
    if any("size" in pipe for pipe in pipes):
        yield "a pipe's own size"
    if any(name not in EVERY and name not in ("own-bend", "page-bend", "wall-kit") for name in names):
        yield "misspelt fitting"
    for key in ("material", "rise", "surroundings", "insulation", "table_length"):
        if any(key in piece for piece in pieces):
            yield f"a piece's {key}"


def _of_table(table: Data) -> Iterator[str]:
    yield f"counts {table['counts']}"
    for key in ("deductions", "elbows_each", "counts_as", "limits", "exposed", "confirm", "altitude_factor", "fitting"):
        if key in table:
            yield f"table: {key}"
    yield f"mixed_sizes {table.get('mixed_sizes', 'not said')}"
    yield from (f"limit: {name}" for name in table.get("limits", {}))
    if "pcv-40" in table.get("counts_as", {}) or any(
        "elbow-90-logn" in table.get(key, {}) for key in ("deductions", "elbows_each")
    ):
        yield "table: misspelt name"
    kinds = {key for row in table["row"] for key in ROW_KEYS if key in row}
    yield from (f"row: {key}" for key in kinds)
    if {"allowable", "allowable_by_elbows"} <= kinds:
        yield "table of both kinds of rows"
