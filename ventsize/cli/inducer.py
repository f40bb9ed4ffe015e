"""`ventsize inducer`: the inducer: its speed at each rate, and where it runs out; or its start-up step by step."""

from __future__ import annotations

import argparse
from pathlib import Path

from ventsize.cli.arguments import add_job, add_output, read
from ventsize.cli.printing import print_study
from ventsize.cli.status import DONE


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser)
    parser.add_argument("--start-up", action="store_true", help="start-up step by step, and learning after a power cut")
    parser.add_argument(
        "--learned-on", type=Path, metavar="JOB", help="with --start-up: the job before its vent was altered"
    )
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print the one or the other."""
    from ventsize.report import inducer, start_up
    from ventsize.studies.inducer import inducer_study
    from ventsize.studies.start_up import start_up as started

    inputs = read(options.job, options)
    if options.start_up or options.learned_on is not None:
        before = None if options.learned_on is None else read(options.learned_on, options)
        print_study(options, started(inputs, learned_on=before), start_up)
    else:
        print_study(options, inducer_study(inputs), inducer)
    return DONE
