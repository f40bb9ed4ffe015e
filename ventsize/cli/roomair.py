"""`ventsize roomair`: whether the rooms of a job give its appliances the air they take."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ventsize.cli.arguments import add_output
from ventsize.cli.studying import run_finding

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file with a [[room]]")
    parser.add_argument("--rules", type=Path, metavar="FILE", help="your code's figures (as in room-air.toml)")
    add_output(parser)
    parser.set_defaults(plain=False, run=_run)  # nothing here depends on how warm the gas is


def _run(options: argparse.Namespace) -> int:
    return run_finding(options, lambda inputs, system: _finding(inputs, system, options))


def _finding(inputs: Inputs, system: System, options: argparse.Namespace) -> tuple[str, dict[str, Any], bool]:
    """Every room. The exit status is 1 where one is short of air, or where it cannot be told."""
    from ventsize.report.room_air import as_object, render
    from ventsize.studies.room_air import room_air
    from ventsize.studies.room_air.rules import read_rules

    study = room_air(inputs, rules=read_rules(options.rules))
    return render(study, system), as_object(study), study.enough
