"""`ventsize compare`: up to six jobs, or variants of one, side by side."""

from __future__ import annotations

import argparse
import string
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_output, add_plain, read
from ventsize.cli.printing import print_study
from ventsize.cli.status import DONE
from ventsize.cli.writing import add_files, write_files

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument(
        "jobs", nargs="+", type=Path, metavar="JOB", help="a job file; the others are set against the first"
    )
    parser.add_argument(
        "--with",
        dest="changed",
        action="append",
        default=[],
        metavar="CHANGE",
        help="the first job with something changed, as a variant more: 'size = \"2 in\"', 'more = { elbow-45 = 2 }', "
        "'altitude = \"7000 ft\"'",
    )
    parser.add_argument("--run", dest="run_name", metavar="NAME", help="which run (default: the first vent)")
    parser.add_argument("--rate", metavar="NAME", help="which firing rate (default: where each run loses most)")
    add_plain(parser)
    add_files(parser, ("html", "pdf"))
    add_output(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from ventsize.quantity import System
    from ventsize.report import comparing
    from ventsize.report.comparing_paper import comparison_paper
    from ventsize.studies.comparing import compare

    system = System(options.units)
    inputs = [read(path, options) for path in options.jobs]
    inputs += [_with(inputs[0], text) for text in options.changed]
    jobs = list(zip(string.ascii_uppercase, inputs, strict=False))
    found = compare(jobs, run=options.run_name, rate=options.rate)
    if not write_files(options, lambda: comparison_paper(found, system), keep=options.jobs):
        print_study(options, found, comparing)
    return DONE


def _with(inputs: Inputs, text: str) -> Inputs:
    """The job with the keys of a change."""
    from ventsize.jobfile.document import parse_toml, validate
    from ventsize.jobfile.lesson import Changed
    from ventsize.studies.altering.altered import altered

    place = f"--with {text}"
    return altered(inputs, validate(parse_toml(text, file=place), Changed, file=place))
