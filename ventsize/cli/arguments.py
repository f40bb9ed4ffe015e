"""Arguments that several verbs share."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import Dimension


def add_output(parser: argparse.ArgumentParser) -> None:
    """How the answer is printed: JSON in SI units, or text in one system of units."""
    parser.add_argument("--json", action="store_true", help="print JSON in SI units")
    parser.add_argument("--units", choices=("us", "si"), default="us", help="units of the text (default: us)")


def add_job(parser: argparse.ArgumentParser, what: str = "a job file") -> None:
    """The job that is asked about, and whether its gas is to cool; `read` makes of both what a study goes by."""
    parser.add_argument("job", type=Path, metavar="JOB", help=what)
    add_cooling(parser)


def add_cooling(parser: argparse.ArgumentParser) -> None:
    """The switch that lets the gas cool along the pipes."""
    parser.add_argument(
        "--cooling", action="store_true", help="let the gas cool along the pipes (also: cooling = true in the job)"
    )


def read(path: Path, options: argparse.Namespace) -> Inputs:
    """A job as the switch has it: it turns cooling on, and leaves on what the job has on.

    Raises InputError with every fault found.
    """
    from ventsize.check.inputs import read_inputs

    inputs = read_inputs(path)
    return replace(inputs, job=replace(inputs.job, cooling=True)) if options.cooling else inputs


def typed(text: str, option: str, dimension: Dimension, *, signed: bool = False) -> float:
    """A quantity given to an option, in SI. InputError, naming the option, where it cannot be read."""
    from ventsize.jobfile.fields import read_quantity
    from ventsize.jobfile.problems import InputError, Problem

    try:
        return read_quantity(text, dimension, signed=signed)
    except ValueError as error:
        raise InputError(Problem("", option, str(error), "")) from None
