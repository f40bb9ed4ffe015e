"""`ventsize proposal`: up to four ways to do a job, side by side, as a paper to hand over."""

from __future__ import annotations

import argparse
from pathlib import Path

from ventsize.cli.arguments import add_plain, read
from ventsize.cli.paper import add_material
from ventsize.cli.prices import prices_of
from ventsize.cli.status import NOT_WITHIN, WITHIN
from ventsize.cli.writing import write_some


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("jobs", type=Path, nargs="+", metavar="JOB", help="a job file; up to four")
    add_plain(parser)
    parser.add_argument("--title", default="", help="what it is called (default: after the first job)")
    add_material(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Write the proposal. The exit status is 0 where at least one way is within, 1 where none is."""
    from datetime import date

    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.quantity import System
    from ventsize.report.job_paper.proposal import proposal_paper
    from ventsize.studies.proposal import MOST, proposal
    from ventsize.studies.takeoff.practice import read_practice

    if len(options.jobs) > MOST:
        raise InputError(Problem("", "", f"{len(options.jobs)} jobs are named", f"{MOST} or fewer"))
    system = System(options.units)
    found = proposal(
        [read(job, options) for job in options.jobs],
        practice=read_practice(options.practice),
        prices=prices_of(options),
    )
    title = options.title.strip() or f"Proposal: {found.ways[0].check.title}"
    write_some(
        options,
        lambda: proposal_paper(found, title=title, system=system, day=date.today()),
        keep=[*options.jobs, options.prices, options.practice],
    )
    return WITHIN if any(way.acceptable for way in found.ways) else NOT_WITHIN
