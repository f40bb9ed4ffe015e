"""`ventsize repairs`: the smallest changes that bring a run within, or what can be saved."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from ventsize.cli.arguments import add_output
from ventsize.cli.prices import add_prices, add_taking, pricer_of, take, taking_fault
from ventsize.cli.status import UNREADABLE, WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file")
    parser.add_argument("--sort", choices=("size", "cost"), default="size", help="the smallest or the cheapest first")
    add_prices(parser)
    add_taking(parser, "change")
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print what brings each run within, or what can be saved; write the job with one of them, if asked."""
    from ventsize.check.inputs import read_inputs
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System
    from ventsize.report.repairs import repairs_object, repairs_text
    from ventsize.studies.repairs import apply_repair, cheapest_first, repairs

    system = System(options.units)
    fault = taking_fault(options)
    try:
        pricer = pricer_of(options, system)
        if options.sort == "cost" and pricer is None:
            fault = fault or "nothing can be sorted by cost without prices; expected --prices FILE"
        if fault:
            print(fault, file=sys.stderr)
            return UNREADABLE
        inputs = read_inputs(options.job)
        answers = list(repairs(inputs, pricer=pricer, system=system))
    except InputError as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    if options.sort == "cost":
        answers = [cheapest_first(answer) for answer in answers]
    if options.json:
        print(json.dumps(repairs_object(answers), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print(repairs_text(answers, system), end="")
    if options.take is None:
        return WITHIN
    numbered = [repair for answer in answers for repair in (*answer.repairs, *answer.savings)]
    return take(options, numbered, lambda data, repair: apply_repair(data, repair, inputs=inputs, system=system))
