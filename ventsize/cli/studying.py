"""What the verbs that answer one question about one job have in common."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ventsize.cli.arguments import add_job, add_output, read
from ventsize.cli.printing import print_answer
from ventsize.cli.status import DONE, NOT_WITHIN, WITHIN

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System

Answer = Callable[["Inputs", "System"], tuple[str, dict[str, Any]]]
"""A question's answer: as text, and as an object for JSON."""
Finding = Callable[["Inputs", "System"], tuple[str, dict[str, Any], bool]]
"""The same, and whether all is well."""


def prepare_study(parser: argparse.ArgumentParser, answer: Answer, *, plain: bool = True) -> None:
    """A verb of one job with the usual output; plain: whether it can be asked with the gas at one temperature."""
    if plain:
        add_job(parser)
    else:
        parser.add_argument("job", type=Path, metavar="JOB", help="a job file")
        parser.set_defaults(plain=False)
    add_output(parser)
    parser.set_defaults(run=lambda options: run_study(options, answer))


def prepare_finding(parser: argparse.ArgumentParser, finding: Finding, *, job: str) -> None:
    """The same for a verb whose exit status says whether all is well; job: the help of its argument."""
    add_job(parser, job)
    add_output(parser)
    parser.set_defaults(run=lambda options: run_finding(options, finding))


def run_study(options: argparse.Namespace, answer: Answer) -> int:
    """Print the answer to a job."""
    from ventsize.quantity import System

    text, data = answer(read(options.job, options), System(options.units))
    print_answer(options, text=lambda: text, data=lambda: data)
    return DONE


def run_finding(options: argparse.Namespace, finding: Finding) -> int:
    """Print the answer to a job; the exit status says whether all is well."""
    from ventsize.quantity import System

    text, data, well = finding(read(options.job, options), System(options.units))
    print_answer(options, text=lambda: text, data=lambda: data)
    return WITHIN if well else NOT_WITHIN
