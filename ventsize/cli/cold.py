"""`ventsize cold`: cold weather: the outdoor end, frost, and what cures it."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ventsize.cli.arguments import add_output, typed
from ventsize.cli.studying import run_study

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument(
        "--outdoor",
        action="append",
        default=[],
        metavar="TEMPERATURE",
        help="an outdoor temperature such as '-10 degF', as often as wanted (default: the job's and colder ones)",
    )
    parser.add_argument(
        "--insulation", metavar="THICKNESS", help="on every vent pipe, such as '1/2 in', instead of what is there"
    )
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file")
    add_output(parser)
    parser.set_defaults(plain=False, run=_run)  # the gas cools there in any case


def _run(options: argparse.Namespace) -> int:
    return run_study(options, lambda inputs, system: _answer(inputs, system, options))


def _answer(inputs: Inputs, system: System, options: argparse.Namespace) -> tuple[str, dict[str, Any]]:
    from ventsize.quantity import Dimension
    from ventsize.report.cold import as_object, render
    from ventsize.studies.cold import cold_weather

    study = cold_weather(
        inputs,
        outdoors=[typed(text, "--outdoor", Dimension.TEMPERATURE, signed=True) for text in options.outdoor],
        insulation=None if options.insulation is None else typed(options.insulation, "--insulation", Dimension.LENGTH),
    )
    return render(study, system), as_object(study)
