"""What the verbs that answer one question about one job have in common."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ventsize.cli.arguments import add_cooling, add_output, with_cooling
from ventsize.cli.status import NOT_WITHIN, UNREADABLE, WITHIN

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System

Answer = Callable[["Inputs", "System"], tuple[str, dict[str, Any]]]
"""A question's answer: as text, and as an object for JSON."""
Finding = Callable[["Inputs", "System"], tuple[str, dict[str, Any], bool]]
"""The same, and whether all is well."""


def prepare_study(parser: argparse.ArgumentParser, answer: Answer, *, cooling: bool = True) -> None:
    """A verb of one job with the usual output; cooling: whether it can be asked with the gas cooling or not."""
    _prepare(parser, "a job file", cooling)
    parser.set_defaults(run=lambda options: run_study(options, answer))


def prepare_finding(parser: argparse.ArgumentParser, finding: Finding, *, job: str) -> None:
    """The same for a verb whose exit status says whether all is well; job: the help of its argument."""
    _prepare(parser, job, True)
    parser.set_defaults(run=lambda options: _run(options, finding))


def _prepare(parser: argparse.ArgumentParser, job: str, cooling: bool) -> None:
    parser.add_argument("job", type=Path, metavar="JOB", help=job)
    if cooling:
        add_cooling(parser)
    else:
        parser.set_defaults(cooling=False)
    add_output(parser)


def run_study(options: argparse.Namespace, answer: Answer) -> int:
    """Print the answer to a job, or what keeps it from being read."""
    return _run(options, lambda inputs, system: (*answer(inputs, system), True))


def _run(options: argparse.Namespace, finding: Finding) -> int:
    from ventsize.check.inputs import read_inputs
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System

    try:
        text, data, well = finding(with_cooling(read_inputs(options.job), options), System(options.units))
    except InputError as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    print(json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) if options.json else text)
    return WITHIN if well else NOT_WITHIN
