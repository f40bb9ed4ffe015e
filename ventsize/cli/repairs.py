"""`ventsize repairs`: the smallest changes that bring a run within, or what can be saved."""

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
    from ventsize.report.studies import repairs_object, repairs_text
    from ventsize.studies.repairs import repairs

    answers = list(repairs(inputs, system=system))
    return repairs_text(answers, system), repairs_object(answers)
