"""`ventsize diagnose`: what could explain the readings, most likely first."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from ventsize.cli.arguments import add_cooling, add_output, with_cooling
from ventsize.cli.status import NOT_WITHIN, UNREADABLE, WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file with a [[reading]]")
    add_cooling(parser)
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print the causes. The exit status is 1 where something is off, or where it cannot be told."""
    from ventsize.check.inputs import read_inputs
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System
    from ventsize.report.diagnosis import as_object, render
    from ventsize.studies.diagnosis import diagnose

    system = System(options.units)
    try:
        study = diagnose(with_cooling(read_inputs(options.job), options), system=system)
    except InputError as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    if options.json:
        print(json.dumps(as_object(study), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print(render(study, system))
    return WITHIN if study.outcome == "as it should be" else NOT_WITHIN
