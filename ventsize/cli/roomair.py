"""`ventsize roomair`: whether the rooms of a job give its appliances the air they take."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from ventsize.cli.arguments import add_output
from ventsize.cli.status import NOT_WITHIN, UNREADABLE, WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file with a [[room]]")
    parser.add_argument("--rules", type=Path, metavar="FILE", help="your code's figures (as in room-air.toml)")
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print every room. The exit status is 1 where one is short of air, or where it cannot be told."""
    from ventsize.check.inputs import read_inputs
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System
    from ventsize.report.room_air import as_object, render
    from ventsize.studies.room_air import room_air
    from ventsize.studies.room_air.rules import read_rules

    try:
        study = room_air(read_inputs(options.job), rules=read_rules(options.rules))
    except InputError as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    if options.json:
        print(json.dumps(as_object(study), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print(render(study, System(options.units)))
    return WITHIN if study.enough else NOT_WITHIN
