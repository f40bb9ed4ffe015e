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
    """The job that is asked about, and whether its gas keeps its temperature; `read` makes a study's inputs of both."""
    parser.add_argument("job", type=Path, metavar="JOB", help=what)
    add_plain(parser)


def add_plain(parser: argparse.ArgumentParser) -> None:
    """The switch that keeps the gas at one temperature along the pipes."""
    parser.add_argument(
        "--plain", action="store_true", help="no cooling along the pipes (also: cooling = false in the job)"
    )


def read(path: Path, options: argparse.Namespace) -> Inputs:
    """A job as the switch has it: it turns cooling off, and leaves off what the job has off.

    Raises InputError with every fault found.
    """
    from ventsize.check.inputs import read_inputs

    inputs = read_inputs(path)
    return replace(inputs, job=replace(inputs.job, cooling=False)) if options.plain else inputs


def typed(text: str, option: str, dimension: Dimension, *, signed: bool = False) -> float:
    """A quantity given to an option, in SI. InputError, naming the option, where it cannot be read."""
    from ventsize.jobfile.field_types import read_quantity
    from ventsize.jobfile.problems import InputError, Problem

    try:
        return read_quantity(text, dimension, signed=signed)
    except ValueError as error:
        raise InputError(Problem("", option, str(error), "")) from None
