"""The answers to questions as text: the same that the command line prints, from the same functions.

Each takes what the last valid result was worked out from. Imports are late: a question is loaded when it is asked.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.check.result import JobCheck
    from ventsize.quantity import System

Answer = Callable[["Inputs", "JobCheck", "System"], str]


def report(_inputs: Inputs, check: JobCheck, system: System) -> str:
    """The whole check."""
    from ventsize.report.check_text import render

    return render(check, system)


def working(inputs: Inputs, check: JobCheck, system: System) -> str:
    """Every run's figures, at the rate at which it loses most."""
    from ventsize.report.working import render
    from ventsize.studies.working import working_of

    names = [run.run.name for run in check.runs]
    return "\n".join(render(working_of(check, inputs, run=name), system) for name in names)


def checkover(inputs: Inputs, check: JobCheck, system: System) -> str:
    """What a careful installer would verify."""
    from ventsize.report.checkover import render
    from ventsize.studies.checkover import check_over

    return render(check_over(inputs, checked=check), system)


ANSWERS: Mapping[str, Answer] = {
    answer.__name__: answer
    for answer in (
        report,
        working,
        checkover,
    )
}
