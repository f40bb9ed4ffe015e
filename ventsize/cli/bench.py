"""`ventsize bench`: an inducer that adapts beside one of fixed speed, on a vent made longer step by step."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from ventsize.cli.arguments import add_output
from ventsize.cli.status import UNREADABLE, WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file with an inducer")
    parser.add_argument("--appliance", metavar="NAME", help="which appliance (default: the first with an inducer)")
    parser.add_argument("--rate", metavar="NAME", help="which firing rate (default: its highest)")
    parser.add_argument("--start", metavar="LENGTH", help="straight vent pipe to begin with (default: what it has)")
    parser.add_argument("--step", metavar="LENGTH", default="10 ft", help="how much longer each time (default: 10 ft)")
    parser.add_argument("--steps", type=int, metavar="NUMBER", default=12, help="how many times (default: 12)")
    parser.add_argument(
        "--fixed", metavar="SHARE", help="speed of the other one, such as '95 %%' (default: what the start takes)"
    )
    add_output(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from ventsize.check.inputs import read_inputs
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import Dimension, QuantityError, System, parse
    from ventsize.report.bench import bench_object, bench_text
    from ventsize.studies.bench import bench

    system = System(options.units)
    try:
        found = bench(
            read_inputs(options.job),
            appliance=options.appliance,
            rate=options.rate,
            start=None if options.start is None else parse(options.start, Dimension.LENGTH),
            fixed_speed=None if options.fixed is None else parse(options.fixed, Dimension.FRACTION),
            step=parse(options.step, Dimension.LENGTH),
            count=options.steps,
            system=system,
        )
    except (InputError, QuantityError) as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    if options.json:
        print(json.dumps(bench_object(found), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print(bench_text(found, system), end="")
    return WITHIN
