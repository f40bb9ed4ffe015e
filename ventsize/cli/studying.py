"""What the verbs that answer one question about one job have in common."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ventsize.cli.arguments import add_output
from ventsize.cli.status import UNREADABLE, WITHIN

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System

Answer = Callable[["Inputs", "System"], tuple[str, dict[str, Any]]]
"""A question's answer: as text, and as an object for JSON."""


def prepare_study(parser: argparse.ArgumentParser, answer: Answer) -> None:
    """A verb of one job with the usual output."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file")
    add_output(parser)
    parser.set_defaults(run=lambda options: _run(options, answer))


def _run(options: argparse.Namespace, answer: Answer) -> int:
    from ventsize.check.inputs import read_inputs
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System

    try:
        text, data = answer(read_inputs(options.job), System(options.units))
    except InputError as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    print(json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) if options.json else text)
    return WITHIN
