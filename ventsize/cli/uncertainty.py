"""`ventsize uncertainty`: the answer by calculation as a range."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from ventsize.cli.arguments import add_job, add_output
from ventsize.cli.studying import run_study

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser)
    parser.add_argument("--samples", type=int, default=10_000, help="how many cases are drawn (default: 10000)")
    parser.add_argument("--seed", type=int, default=1, help="a number; the same one draws the same cases (default: 1)")
    add_output(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    return run_study(options, lambda inputs, system: _answer(inputs, system, options))


def _answer(inputs: Inputs, system: System, options: argparse.Namespace) -> tuple[str, dict[str, Any]]:
    """The range of every run at every rate."""
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.report.uncertainty import as_object, render
    from ventsize.studies.uncertainty import FEWEST_SAMPLES, MOST_SAMPLES, uncertainty

    if not FEWEST_SAMPLES <= options.samples <= MOST_SAMPLES:
        problem = f"{options.samples} samples cannot be drawn"
        raise InputError(Problem("", "--samples", problem, f"{FEWEST_SAMPLES} to {MOST_SAMPLES:,}"))
    if options.seed < 0:
        raise InputError(Problem("", "--seed", f"{options.seed} is below zero", "a whole number of zero or more"))
    found = uncertainty(inputs, samples=options.samples, seed=options.seed)
    return render(found, system), as_object(found)
