"""`ventsize headroom`: what is left of each run's allowance, in length and fittings."""

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
    from ventsize.check.verdict import check
    from ventsize.report.check_brief import beside_runs
    from ventsize.report.headroom import as_object, render
    from ventsize.studies.headroom import headroom

    answers, whole = list(headroom(inputs)), check(inputs)
    return beside_runs(whole, system) + render(answers, system), {"verdict": whole.verdict, **as_object(answers)}
