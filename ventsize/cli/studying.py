"""What the verbs that answer one question about one job have in common."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ventsize.cli.arguments import add_cooling, add_output, with_cooling
from ventsize.cli.status import UNREADABLE, WITHIN

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System

Answer = Callable[["Inputs", "System"], tuple[str, dict[str, Any]]]
"""A question's answer: as text, and as an object for JSON."""


def prepare_study(parser: argparse.ArgumentParser, answer: Answer, *, cooling: bool = True) -> None:
    """A verb of one job with the usual output; cooling: whether it can be asked with the gas cooling or not."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file")
    if cooling:
        add_cooling(parser)
    else:
        parser.set_defaults(cooling=False)
    add_output(parser)
    parser.set_defaults(run=lambda options: run_study(options, answer))


def run_study(options: argparse.Namespace, answer: Answer) -> int:
    """Print the answer to a job, or what keeps it from being read."""
    from ventsize.check.inputs import read_inputs
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System

    try:
        text, data = answer(with_cooling(read_inputs(options.job), options), System(options.units))
    except InputError as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    print(json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) if options.json else text)
    return WITHIN
