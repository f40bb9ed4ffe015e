"""`ventsize working`: how a run's figures come about, line by line."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_job, read
from ventsize.cli.status import DONE
from ventsize.cli.writing import add_files, write_files

if TYPE_CHECKING:
    from ventsize.report.paper import Paper

PARTS = ("table", "pressure", "flow", "gas", "combustion")


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser)
    parser.add_argument("--run", dest="run_name", metavar="NAME", help="which run (default: the first)")
    parser.add_argument("--rate", metavar="NAME", help="which firing rate (default: where the run loses most)")
    parser.add_argument("--piece", type=int, metavar="NUMBER", help="one piece of the run, counted from 1")
    parser.add_argument("--of", metavar="NUMBER", help="one number, by symbol or name, such as K[4] or viscosity")
    parser.add_argument("--back-to", choices=PARTS, help="how far back lines are opened (default: pressure; of a "
                        "piece flow; of a number its own part)")  # fmt: skip
    parser.add_argument("--units", choices=("us", "si"), default="us", help="units of the text (default: us)")
    add_files(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from ventsize.check.verdict import check
    from ventsize.quantity import System
    from ventsize.studies.working import working_of

    inputs, system = read(options.job, options), System(options.units)
    found = check(inputs)
    working = working_of(found, inputs, run=options.run_name, rate=options.rate, piece=options.piece,
                         number=options.of, back_to=options.back_to)  # fmt: skip

    def paper() -> Paper:
        from ventsize.report.working_paper import working_paper

        return working_paper([working], system, job=found.title)

    if not write_files(options, paper):
        from ventsize.report.working import render

        print(render(working, system))
    return DONE
