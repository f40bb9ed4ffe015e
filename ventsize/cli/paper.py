"""`ventsize paper`: a job as a paper to hand over."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from ventsize.cli.paper_files import add_files, nothing_asked, written
from ventsize.cli.status import NOT_WITHIN, UNREADABLE, WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file")
    add_files(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Write the paper. The exit status is that of the job's verdict."""
    from datetime import date

    from ventsize.check.inputs import read_inputs
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System
    from ventsize.report.job_paper import job_paper, material_of
    from ventsize.studies.practice import read_practice
    from ventsize.studies.prices import own_prices, read_prices

    if nothing_asked(options):
        return UNREADABLE
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
    if not written(job_paper(material), options, jobs=[options.job]):
        return UNREADABLE
    return WITHIN if material.check.verdict == "within" else NOT_WITHIN
