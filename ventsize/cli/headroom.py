"""`ventsize headroom`: what is left of each run's allowance, in length and fittings."""

from __future__ import annotations

import argparse

from ventsize.cli.arguments import add_job, add_output, read
from ventsize.cli.printing import print_answer
from ventsize.cli.status import DONE


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser)
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print it, with what settles the job where that is no run's length."""
    from ventsize.check.verdict import check
    from ventsize.quantity import System
    from ventsize.report.check_brief import beside_runs
    from ventsize.report.headroom import as_object, render
    from ventsize.studies.headroom import headroom

    inputs, system = read(options.job, options), System(options.units)
    answers, whole = list(headroom(inputs)), check(inputs)
    print_answer(
        options,
        text=lambda: beside_runs(whole, system) + render(answers, system),
        data=lambda: {"verdict": whole.verdict, **as_object(answers)},
    )
    return DONE
