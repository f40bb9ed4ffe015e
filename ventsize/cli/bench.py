"""`ventsize bench`: an inducer that adapts beside one of fixed speed, on a vent made longer step by step."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from ventsize.cli.arguments import add_job, add_output, typed
from ventsize.cli.studying import run_study

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser, "a job file with an inducer")
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
    return run_study(options, lambda inputs, system: _answer(inputs, system, options))


def _answer(inputs: Inputs, system: System, options: argparse.Namespace) -> tuple[str, dict[str, Any]]:
    from ventsize.quantity import Dimension
    from ventsize.report.bench import as_object, render
    from ventsize.studies.bench import bench

    found = bench(
        inputs,
        appliance=options.appliance,
        rate=options.rate,
        start=None if options.start is None else typed(options.start, "--start", Dimension.LENGTH),
        fixed_speed=None if options.fixed is None else typed(options.fixed, "--fixed", Dimension.FRACTION),
        step=typed(options.step, "--step", Dimension.LENGTH),
        count=options.steps,
    )
    return render(found, system), as_object(found)
