"""`ventsize readings`: readings beside what they should be, and what a surplus amounts to."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from ventsize.cli.studying import prepare_finding

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    prepare_finding(parser, _finding, job="a job file with a [[reading]]")


def _finding(inputs: Inputs, system: System) -> tuple[str, dict[str, Any], bool]:
    """The exit status is 1 where a reading is not what it should be, or cannot be told."""
    from ventsize.report.readings import as_object, render
    from ventsize.studies.readings import readings

    study = readings(inputs)
    return render(study, system), as_object(study, system), study.all_expected
