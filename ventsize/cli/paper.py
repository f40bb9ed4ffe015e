"""`ventsize paper`: a job as a paper to hand over."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from ventsize.cli.prices import add_prices
from ventsize.cli.status import NOT_WITHIN, UNREADABLE, WITHIN
from ventsize.cli.writing import add_files, write_files

NOTHING = "no file is named; expected at least one of --html, --pdf, --markdown, --csv"


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file")
    add_material(parser)
    parser.set_defaults(run=run)


def add_material(parser: argparse.ArgumentParser) -> None:
    """Where to write, and what goes into the paper besides the job."""
    add_files(parser)
    parser.add_argument("--units", choices=("us", "si"), default="us", help="units of the paper (default: us)")
    add_prices(parser)
    parser.add_argument(
        "--practice", type=Path, metavar="FILE", help="how pipe is sold, joined and hung (takeoff.toml)"
    )


def run(options: argparse.Namespace) -> int:
    """Write the paper. The exit status is that of the job's verdict."""
    from datetime import date

    from ventsize.check.inputs import read_inputs
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System
    from ventsize.report.job_paper import job_paper, material_of
    from ventsize.studies.pricing.prices import own_prices, read_prices
    from ventsize.studies.takeoff.practice import read_practice

    try:
        material = material_of(
            read_inputs(options.job),
            system=System(options.units),
            day=date.today(),
            prices=read_prices(options.prices) if options.prices else own_prices(),
            practice=read_practice(options.practice),
        )
    except InputError as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    status = write_files(options, lambda: job_paper(material), keep=[options.prices, options.practice])
    if status != WITHIN:
        return refused(status)
    return WITHIN if material.check.verdict == "within" else NOT_WITHIN


def refused(status: int | None) -> int:
    """The exit status where nothing was written; says so where no file was named."""
    if status is None:
        print(NOTHING, file=sys.stderr)
        return UNREADABLE
    return status
