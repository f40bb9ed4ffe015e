"""`ventsize inducer`: the inducer: its speed at each rate, and where it runs out."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from ventsize.cli.studying import prepare_study

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.quantity import System


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    prepare_study(parser, _answer)


def _answer(inputs: Inputs, system: System) -> tuple[str, dict[str, Any]]:
    from ventsize.report.inducer import as_object, render
    from ventsize.studies.inducer import inducer_study

    study = inducer_study(inputs)
    return render(study, system), as_object(study)
