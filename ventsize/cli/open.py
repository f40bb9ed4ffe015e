"""`ventsize open`: the screens."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", nargs="?", type=Path, help="a job file; without one, the first screen")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Open the screens, and leave with their exit status. Raises InputError without a terminal or the file."""
    from ventsize.jobfile.problems import InputError, Problem

    if options.job is not None and not options.job.is_file():
        problem = "it is not an ordinary file" if options.job.exists() else "there is no such file"
        raise InputError(Problem(str(options.job), "", problem, "a job file"))
    if not _at_a_terminal():
        raise InputError(Problem("", "", "the screens need a terminal", "one, or a verb that ventsize --help lists"))
    from ventsize.tui.app import run_app

    return run_app(options.job)


def _at_a_terminal() -> bool:
    """Whether keys come from a terminal, and what is drawn goes to one: to standard error, as textual has it."""
    streams = (sys.__stdin__, sys.__stderr__)
    try:
        return os.environ.get("TERM") != "dumb" and all(stream is not None and stream.isatty() for stream in streams)
    except ValueError:  # closed
        return False
