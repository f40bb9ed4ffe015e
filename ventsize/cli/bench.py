"""`ventsize bench`: inducers that adapt, of two speeds and of one, on a vent made longer step by step."""

from __future__ import annotations

import argparse

from ventsize.cli.arguments import add_job, add_output, read, typed
from ventsize.cli.printing import print_study
from ventsize.cli.status import DONE
from ventsize.cli.writing import add_pictures, write_pictures


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser, "a job file with an inducer")
    parser.add_argument("--appliance", metavar="NAME", help="which appliance (default: the first with an inducer)")
    parser.add_argument("--rate", metavar="NAME", help="which firing rate (default: all of them)")
    parser.add_argument("--start", metavar="LENGTH", help="straight vent pipe to begin with (default: what it has)")
    parser.add_argument("--step", metavar="LENGTH", default="10 ft", help="how much longer each time (default: 10 ft)")
    parser.add_argument("--steps", type=int, metavar="NUMBER", default=12, help="how many times (default: 12)")
    parser.add_argument(
        "--fixed", metavar="SHARE", help="the speed of the one that has one, such as '95 %%' (default: what the start "
        "takes)"
    )  # fmt: skip
    parser.add_argument(
        "--power-cut", action="store_true",
        help="cut the power at the last length: the speeds learned at the start, and learning again, step by step",
    )  # fmt: skip
    add_pictures(parser)
    add_output(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from ventsize.quantity import Dimension, System
    from ventsize.report import bench, start_up
    from ventsize.report.bench_paper import bench_drawing, bench_paper
    from ventsize.studies.bench import power_cut, run_bench, set_up

    system = System(options.units)
    setting = set_up(
        read(options.job, options),
        appliance=options.appliance,
        rate=options.rate,
        start=None if options.start is None else typed(options.start, "--start", Dimension.LENGTH),
        fixed_speed=None if options.fixed is None else typed(options.fixed, "--fixed", Dimension.FRACTION),
    )
    step, count = typed(options.step, "--step", Dimension.LENGTH), options.steps
    if options.power_cut:
        print_study(options, power_cut(setting, setting.start + step * count), start_up)
        return DONE
    found = run_bench(setting, step=step, count=count)
    if not write_pictures(options, paper=lambda: bench_paper(found, system),
                          drawing=lambda: bench_drawing(found, 0, system)):  # fmt: skip
        print_study(options, found, bench)
    return DONE
