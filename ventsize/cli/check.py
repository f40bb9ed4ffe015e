"""`ventsize check`: the verdict on jobs."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_cooling, add_output, read
from ventsize.cli.printing import json_text
from ventsize.cli.status import NOT_WITHIN, UNREADABLE, WITHIN

if TYPE_CHECKING:
    from ventsize.check.result import JobCheck

GREEN, YELLOW, RED, PLAIN = "\x1b[1;32m", "\x1b[1;33m", "\x1b[1;31m", "\x1b[0m"


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("jobs", nargs="+", type=Path, metavar="JOB", help="a job file")
    parser.add_argument("--full", action="store_true", help="print every figure, condition and caution")
    parser.add_argument("--csv", action="store_true", help="print a line for each job, as CSV")
    add_cooling(parser)
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Check every job; one that cannot be read does not keep the others from being checked."""
    from ventsize.check.verdict import check
    from ventsize.jobfile.problems import InputError

    checks: list[tuple[str, JobCheck]] = []
    options.jobs = _with_folders(options.jobs)
    for path in options.jobs:
        try:
            checks.append((str(path), check(read(path, options))))
        except InputError as error:
            print(error, file=sys.stderr)
    _print_checks(checks, options)
    if len(checks) < len(options.jobs):
        return UNREADABLE
    return WITHIN if all(check.verdict == "within" for _, check in checks) else NOT_WITHIN


def _with_folders(paths: list[Path]) -> list[Path]:
    """The jobs named, those of a folder in its place. Raises InputError for a folder without any."""
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.studies.jobs_of_folder import job_files

    found: list[Path] = []
    for path in paths:
        inside = job_files(path) if path.is_dir() else [path]
        if not inside:
            raise InputError(Problem(str(path), "", "there are no jobs in it", "a folder of job files"))
        found += inside
    return found


def _print_checks(checks: list[tuple[str, JobCheck]], options: argparse.Namespace) -> None:
    """For several jobs an array and a summary, even where only some of them, or none, could be read."""
    from ventsize.quantity import System

    system = System(options.units)
    if options.json:
        from ventsize.report.check_json import as_object

        objects = [as_object(check, system) for _, check in checks]
        if len(options.jobs) > 1 or objects:
            print(json_text(objects if len(options.jobs) > 1 else objects[0]))
        return
    from ventsize.report import check_brief, check_text

    for number, (_, check) in enumerate(checks):
        if options.full:
            print(check_text.render(check, system))
        else:
            print("\n" * bool(number) + _colored(check_brief.render(check, system), check), end="")
    if len(checks) > 1:
        print("" if options.full else "\n", check_text.summary(checks), sep="", end="")


def _colored(text: str, check: JobCheck) -> str:
    """The verdict's word in color on a terminal that has colors; a pass with a doubt is not green."""
    if not sys.stdout.isatty() or os.environ.get("NO_COLOR") or os.environ.get("TERM", "dumb") == "dumb":
        return text
    passed = GREEN if not check.doubts else YELLOW
    color = {"within": passed, "not covered": YELLOW, "incomplete": YELLOW}.get(check.verdict, RED)
    word = check.verdict.upper()
    return f"{color}{word}{PLAIN}{text.removeprefix(word)}"
