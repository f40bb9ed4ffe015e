"""`ventsize check`: the verdict on jobs."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_cooling, add_output
from ventsize.cli.status import NOT_WITHIN, UNREADABLE, WITHIN

if TYPE_CHECKING:
    from ventsize.check.result import JobCheck
    from ventsize.quantity import System


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("jobs", nargs="+", type=Path, metavar="JOB", help="a job file")
    add_cooling(parser)
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Check every job; one that cannot be read does not keep the others from being checked."""
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System

    checks: list[tuple[str, JobCheck]] = []
    unreadable = False
    for path in options.jobs:
        try:
            checks.append((str(path), _check_one(path, System(options.units), cooling=options.cooling)))
        except InputError as error:
            unreadable = True
            print(error, file=sys.stderr)
    if checks:
        _print_checks(checks, options)
    if unreadable:
        return UNREADABLE
    return WITHIN if all(check.verdict == "within" for _, check in checks) else NOT_WITHIN


def _check_one(path: Path, system: System, *, cooling: bool) -> JobCheck:
    from ventsize.check.inputs import read_inputs
    from ventsize.check.verdict import check

    return check(read_inputs(path), system=system, cooling=cooling or None)


def _print_checks(checks: list[tuple[str, JobCheck]], options: argparse.Namespace) -> None:
    if options.json:
        from ventsize.report.as_json import dump

        print(dump([check for _, check in checks], as_list=len(options.jobs) > 1))
        return
    from ventsize.quantity import System
    from ventsize.report.as_text import render, summary

    for _, check in checks:
        print(render(check, System(options.units)))
    if len(checks) > 1:
        print(summary(checks), end="")
