"""`ventsize paper`: a job as a paper to hand over."""

from __future__ import annotations

import argparse
from pathlib import Path

from ventsize.cli.arguments import add_job, read
from ventsize.cli.prices import add_prices
from ventsize.cli.status import NOT_WITHIN, WITHIN
from ventsize.cli.writing import add_files, write_some


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser)
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

    from ventsize.quantity import System
    from ventsize.report.job_paper import job_paper, material_of
    from ventsize.studies.pricing.files import read_prices
    from ventsize.studies.pricing.own import own_prices
    from ventsize.studies.takeoff.practice import read_practice

    material = material_of(
        read(options.job, options),
        system=System(options.units),
        day=date.today(),
        prices=read_prices(options.prices) if options.prices else own_prices(),
        practice=read_practice(options.practice),
    )
    write_some(options, lambda: job_paper(material), keep=[options.prices, options.practice])
    return WITHIN if material.check.verdict == "within" else NOT_WITHIN
