"""`ventsize jobs`: the jobs of a folder at a glance; their state, copies, new names, and the archive."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from ventsize.cli.arguments import add_output
from ventsize.cli.prices import add_prices, pricer_of
from ventsize.cli.printing import print_answer
from ventsize.cli.status import DONE, NOT_WITHIN, UNREADABLE, WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument(
        "place", type=Path, metavar="FOLDER", help="a folder of jobs; with the options that change one, a job file"
    )
    change = parser.add_mutually_exclusive_group()
    change.add_argument("--state", metavar="STATE", help="set its state: to measure, offered, ordered or built")
    change.add_argument("--copy", type=Path, metavar="FILE", help="copy the job as the start of the next")
    change.add_argument("--rename", type=Path, metavar="FILE", help="give the job file, and its visits, another name")
    change.add_argument("--archive", action="store_true", help="put the job and its visits into the folder archive/")
    parser.add_argument("--title", default="", help="with --copy: what the new job is called")
    parser.add_argument("--csv", action="store_true", help="print the list as CSV")
    add_prices(parser)
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print the list: 0 where all are within, 1 where one is not, 2 where one cannot be read. Or change one job."""
    from ventsize.studies import jobs_of_folder as jobs

    if options.state is not None:
        jobs.set_state(options.place, options.state)
    elif options.copy is not None:
        jobs.copy_job(options.place, options.copy, title=options.title.strip())
        print(f"written: {options.copy}", file=sys.stderr)
    elif options.rename is not None:
        jobs.move_job(_there(options.place), options.rename)
    elif options.archive:
        print(f"now at: {jobs.archive_job(_there(options.place))}", file=sys.stderr)
    else:
        return _list(options)
    return DONE


def _there(path: Path) -> Path:
    from ventsize.jobfile.problems import InputError, Problem

    if not path.is_file():
        raise InputError(Problem(str(path), "", "there is no such job", "a job file"))
    return path


def _list(options: argparse.Namespace) -> int:
    from ventsize.quantity import System
    from ventsize.report.jobs_of_folder import as_csv, as_object, render
    from ventsize.studies.jobs_of_folder import jobs_of

    lines = list(jobs_of(options.place, pricer=pricer_of(options)))
    system = System(options.units)
    print_answer(
        options,
        text=lambda: as_csv(lines) if options.csv else render(lines, system),
        data=lambda: as_object(lines),
    )
    if any(line.fault is not None for line in lines):
        return UNREADABLE
    return WITHIN if lines and all(line.verdict == "within" for line in lines) else NOT_WITHIN
