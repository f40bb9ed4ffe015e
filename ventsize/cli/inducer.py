"""`ventsize inducer`: the inducer: its speed at each rate, and where it runs out; or its start-up step by step."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ventsize.cli.arguments import add_job, add_output, read
from ventsize.cli.studying import run_study

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser)
    parser.add_argument("--start-up", action="store_true", help="start-up step by step, and learning after a power cut")
    parser.add_argument(
        "--learned-on", type=Path, metavar="JOB", help="with --start-up: the job before its vent was altered"
    )
    add_output(parser)
    parser.set_defaults(run=lambda options: run_study(options, lambda inputs, system: _answer(inputs, system, options)))


def _answer(inputs: Inputs, system: System, options: argparse.Namespace) -> tuple[str, dict[str, Any]]:
    if options.start_up or options.learned_on is not None:
        from ventsize.report import start_up as report
        from ventsize.studies.start_up import start_up

        before = None if options.learned_on is None else read(options.learned_on, options)
        found = start_up(inputs, learned_on=before)
        return report.render(found, system), report.as_object(found)
    from ventsize.report.inducer import as_object, render
    from ventsize.studies.inducer import inducer_study

    study = inducer_study(inputs)
    return render(study, system), as_object(study)
