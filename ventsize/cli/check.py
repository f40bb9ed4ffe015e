"""`ventsize check`: the verdict on jobs."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_cooling, add_output, read
from ventsize.cli.printing import json_text
from ventsize.cli.status import NOT_WITHIN, UNREADABLE, WITHIN

if TYPE_CHECKING:
    from ventsize.check.result import JobCheck


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("jobs", nargs="+", type=Path, metavar="JOB", help="a job file")
    add_cooling(parser)
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Check every job; one that cannot be read does not keep the others from being checked."""
    from ventsize.check.verdict import check
    from ventsize.jobfile.problems import InputError

    checks: list[tuple[str, JobCheck]] = []
    for path in options.jobs:
        try:
            checks.append((str(path), check(read(path, options))))
        except InputError as error:
            print(error, file=sys.stderr)
    _print_checks(checks, options)
    if len(checks) < len(options.jobs):
        return UNREADABLE
    return WITHIN if all(check.verdict == "within" for _, check in checks) else NOT_WITHIN


def _print_checks(checks: list[tuple[str, JobCheck]], options: argparse.Namespace) -> None:
    """For several jobs an array and a summary, even where only some of them, or none, could be read."""
    if options.json:
        from ventsize.quantity import System
        from ventsize.report.check_json import as_object

        objects = [as_object(check, System(options.units)) for _, check in checks]
        if len(options.jobs) > 1 or objects:
            print(json_text(objects if len(options.jobs) > 1 else objects[0]))
        return
    from ventsize.quantity import System
    from ventsize.report.check_text import render, summary

    for _, check in checks:
        print(render(check, System(options.units)))
    if len(checks) > 1:
        print(summary(checks), end="")
