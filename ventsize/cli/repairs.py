"""`ventsize repairs`: the smallest changes that bring a run within, or what can be saved."""

from __future__ import annotations

import argparse

from ventsize.cli.arguments import add_job, add_output, read
from ventsize.cli.prices import add_prices, add_taking, check_taking, pricer_of, take
from ventsize.cli.printing import print_answer
from ventsize.cli.status import DONE


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser)
    parser.add_argument("--sort", choices=("size", "cost"), default="size", help="the smallest or the cheapest first")
    add_prices(parser)
    add_taking(parser, "change")
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print what brings each run within, or what can be saved; write the job with one of them, if asked."""
    from ventsize.check.verdict import check
    from ventsize.quantity import System
    from ventsize.report.check_brief import beside_runs
    from ventsize.report.repairs import as_object, render
    from ventsize.studies.repairs import apply_repair, cheapest_first, repairs

    system = System(options.units)
    check_taking(options)
    pricer = pricer_of(options)
    inputs = read(options.job, options)
    answers = list(repairs(inputs, pricer=pricer))
    if options.sort == "cost":
        answers = [cheapest_first(answer) for answer in answers]
    whole = check(inputs)
    print_answer(
        options,
        text=lambda: beside_runs(whole, system) + render(answers, system),
        data=lambda: {"verdict": whole.verdict, **as_object(answers, system)},
    )
    if options.take is not None:
        numbered = [repair for answer in answers for repair in (*answer.repairs, *answer.savings)]
        take(options, numbered, lambda data, repair: apply_repair(data, repair, inputs=inputs))
    return DONE
