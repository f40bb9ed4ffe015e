"""`ventsize uncertainty`: the answer by calculation as a range."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from ventsize.cli.arguments import add_cooling, add_output, with_cooling
from ventsize.cli.status import UNREADABLE, WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file")
    parser.add_argument("--samples", type=int, default=10_000, help="how many cases are drawn (default: 10000)")
    parser.add_argument("--seed", type=int, default=1, help="a number; the same one draws the same cases (default: 1)")
    add_cooling(parser)
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print the range of every run at every rate."""
    from ventsize.check.inputs import read_inputs
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System
    from ventsize.report import ranges
    from ventsize.studies.uncertainty import uncertainty

    try:
        found = uncertainty(with_cooling(read_inputs(options.job), options), samples=options.samples, seed=options.seed)
    except InputError as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    except ValueError as error:
        print(f"ventsize uncertainty: {error}", file=sys.stderr)
        return UNREADABLE
    print(ranges.dump(found) if options.json else ranges.render(found, System(options.units)), end="")
    return WITHIN
