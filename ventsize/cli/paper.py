"""`ventsize paper`: a job as a paper to hand over."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_job, read
from ventsize.cli.prices import add_practice, add_prices, prices_of
from ventsize.cli.status import NOT_WITHIN, WITHIN
from ventsize.cli.writing import add_files, write_some

if TYPE_CHECKING:
    from ventsize.report.job_paper import Part


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser)
    parser.add_argument(
        "--parts",
        default="customer,permit",
        metavar="LIST",
        help="of customer, permit, build (takeoff, cut list and prices: not to hand over); default: customer,permit",
    )
    parser.add_argument("--no-prices", action="store_true", help="leave the price out")
    add_material(parser)
    parser.set_defaults(run=run)


def add_material(parser: argparse.ArgumentParser) -> None:
    """Where to write, and what goes into the paper besides the job."""
    add_files(parser)
    parser.add_argument("--units", choices=("us", "si"), default="us", help="units of the paper (default: us)")
    add_prices(parser)
    add_practice(parser)


def run(options: argparse.Namespace) -> int:
    """Write the paper. The exit status is that of the job's verdict."""
    from datetime import date

    from ventsize.quantity import System
    from ventsize.report.job_paper import job_paper, material_of
    from ventsize.studies.takeoff.practice import read_practice

    parts = _parts(options.parts)
    material = material_of(
        read(options.job, options),
        system=System(options.units),
        day=date.today(),
        prices=prices_of(options),
        practice=read_practice(options.practice),
    )
    write_some(options, lambda: job_paper(material, parts=parts), keep=[options.prices, options.practice])
    return WITHIN if material.check.verdict == "within" else NOT_WITHIN


def _parts(text: str) -> list[Part]:
    """The parts asked for, each once, in their order. Raises InputError."""
    from ventsize.jobfile.document import nearest
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.report.job_paper import EVERY

    asked = [part.strip() for part in text.split(",") if part.strip()]
    for part in asked:
        if part not in EVERY:
            raise InputError(Problem("", "--parts", f"'{part:.40}' is no part of a paper", nearest(part, EVERY)))
    if not asked:
        raise InputError(Problem("", "--parts", "no part is named", ", ".join(EVERY)))
    return [part for part in EVERY if part in asked]
