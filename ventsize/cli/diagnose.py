"""`ventsize diagnose`: what could explain the readings, most likely first."""

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
    """The exit status is 1 where something is off or cannot be told, and where the length is a finding."""
    from ventsize.report.diagnosis import as_object, render
    from ventsize.studies.diagnosis import diagnose

    study = diagnose(inputs)
    return render(study, system), as_object(study, system), study.all_well
