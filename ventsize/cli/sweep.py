"""`ventsize sweep`: one thing of a job changed and the rest held, drawn."""

from __future__ import annotations

import argparse

from ventsize.cli.arguments import add_job, add_output, read
from ventsize.cli.printing import print_answer
from ventsize.cli.status import DONE
from ventsize.cli.writing import add_pictures, write_pictures

KINDS = (
    "elbow-by-rate",
    "elbow-by-size",
    "elbow-by-temperature",
    "elbow-by-method",
    "table-and-calculation",
    "drop-by-flow",
    "length-by-elbows",
    "drop-by-altitude",
    "laminar-turbulent",
)
"""The sweeps there are; written out here so that nothing heavy is loaded to list them."""


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("kind", metavar="KIND", choices=KINDS, help=f"one of: {', '.join(KINDS)}")
    add_job(parser)
    parser.add_argument("--run", dest="run_name", metavar="NAME", help="which run (default: the first vent)")
    parser.add_argument("--rate", metavar="NAME", help="which firing rate (default: where the run loses most)")
    parser.add_argument("--fitting", metavar="NAME", help="which fitting (default: the run's first elbow)")
    parser.add_argument("--csv", action="store_true", help="print the figures as CSV")
    add_pictures(parser)
    parser.add_argument("--large", action="store_true", help="of the SVG: large type, for the back of a room")
    add_output(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from ventsize.quantity import System
    from ventsize.report.sweeps import as_csv, as_object, render
    from ventsize.report.sweeps_paper import sweep_drawing, sweep_paper
    from ventsize.studies.sweeps import sweep

    system = System(options.units)
    found = sweep(
        options.kind,
        read(options.job, options),
        run=options.run_name,
        rate=options.rate,
        fitting=options.fitting,
    )
    if write_pictures(options, paper=lambda: sweep_paper(found, system),
                      drawing=lambda: sweep_drawing(found, system, large=options.large)):  # fmt: skip
        return DONE
    print_answer(
        options,
        text=lambda: (as_csv if options.csv else render)(found, system),
        data=lambda: as_object(found, system),
    )
    return DONE
