"""`ventsize schema`: what a job, a table or the answer of a check may hold, as JSON Schema."""

from __future__ import annotations

import argparse
from typing import Any

from ventsize.cli.printing import json_text
from ventsize.cli.status import WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument(
        "what",
        choices=("job", "table", "result"),
        help="a job file, an allowance table, or what check --json prints for one job",
    )
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print it."""
    print(json_text(schema(options.what)))
    return WITHIN


def schema(what: str) -> dict[str, Any]:
    """Return the schema of a "job", a "table" or a "result"."""
    from ventsize.allowance.reading import TableFile
    from ventsize.catalog.fittings import FittingEntry
    from ventsize.catalog.pipes import PipeEntry
    from ventsize.jobfile.job import Job
    from ventsize.jobfile.schema import schema_of
    from ventsize.report.check_objects import CheckObject

    if what == "job":
        own = {"fitting": tuple[FittingEntry, ...], "pipe": tuple[PipeEntry, ...]}
        return schema_of(Job, title="ventsize job", entries=own)
    kind, title = {"table": (TableFile, "ventsize allowance table"), "result": (CheckObject, "ventsize check")}[what]
    return schema_of(kind, title=title)
