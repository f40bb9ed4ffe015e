"""`ventsize along`: temperature and pressure along each run, with cooling and without."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from ventsize.cli.studying import prepare_study

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    prepare_study(parser, _answer, plain=False)  # both are drawn in any case


def _answer(inputs: Inputs, system: System) -> tuple[str, dict[str, Any]]:
    from ventsize.report.along import as_object, render
    from ventsize.studies.along import along

    study = along(inputs)
    return render(study, system), as_object(study)
