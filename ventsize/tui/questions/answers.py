"""The answers to questions as text: the same that the command line prints, from the same functions.

Each takes what the last valid result was worked out from. Imports are late: a question is loaded when it is asked.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.check.result import JobCheck
    from ventsize.quantity import System

Answer = Callable[["Inputs", "JobCheck", "System"], str]


def report(inputs: Inputs, check: JobCheck, system: System) -> str:
    """The whole check."""
    from ventsize.report.as_text import render

    return render(check, system)


def working(inputs: Inputs, check: JobCheck, system: System) -> str:
    """Every run's figures, at the rate at which it loses most."""
    from ventsize.report.working import working_text
    from ventsize.studies.working import working_of

    names = [run.run.name for run in check.runs]
    return "\n".join(working_text(working_of(check, inputs, run=name), system) for name in names)


def headroom(inputs: Inputs, check: JobCheck, system: System) -> str:
    """What is left of each run's allowance."""
    from ventsize.report.headroom import headroom_text
    from ventsize.studies.headroom import headroom as study

    return headroom_text(list(study(inputs, system=system)), system)


def repairs(inputs: Inputs, check: JobCheck, system: System) -> str:
    """What brings each run within."""
    from ventsize.report.repairs import repairs_text
    from ventsize.studies.repairs import repairs as study

    return repairs_text(list(study(inputs, system=system)), system)


def options(inputs: Inputs, check: JobCheck, system: System) -> str:
    """Sizes, elbows and size changes, ranked."""
    from ventsize.report.options import options_text
    from ventsize.studies.choices import Choices, default_choices
    from ventsize.studies.options import Search
    from ventsize.studies.ranking import Ranking

    flue = {run.run.name for run in check.runs if run.run.carries == "flue gas"}
    chosen = tuple(one for one in default_choices(inputs).runs if one.run in flue)
    if len(chosen) > 1:  # each with each: without changes of size within a run, or it would take hours
        chosen = tuple(replace(one, change_to=()) for one in chosen)
    search = Search(inputs, Choices(runs=chosen), system=system)
    ranking = Ranking(order="margin", system=system)
    for option in search:
        ranking.take(option)
    return options_text(ranking.found(search.total), system)


def takeoff(inputs: Inputs, check: JobCheck, system: System) -> str:
    """What it takes to build."""
    from ventsize.report.takeoff import render
    from ventsize.studies.practice import read_practice
    from ventsize.studies.takeoff import takeoff as study

    return render(study(inputs, practice=read_practice(), system=system), None, system)


def along(inputs: Inputs, check: JobCheck, system: System) -> str:
    """Temperature and pressure along each run."""
    from ventsize.report.along import render
    from ventsize.studies.along import along as study

    return render(study(inputs, system=system), system)


def cold(inputs: Inputs, check: JobCheck, system: System) -> str:
    """Cold weather."""
    from ventsize.report.cold import render
    from ventsize.studies.cold import cold_weather

    return render(cold_weather(inputs, system=system), system)


def condensate(inputs: Inputs, check: JobCheck, system: System) -> str:
    """Condensate, slope and trap."""
    from ventsize.report.condensate import render
    from ventsize.studies.condensate import condensate as study

    return render(study(inputs, system=system), system)


def inducer(inputs: Inputs, check: JobCheck, system: System) -> str:
    """The inducer."""
    from ventsize.report.inducer import render
    from ventsize.studies.inducer import inducer_study

    return render(inducer_study(inputs, system=system), system)


def uncertainty(inputs: Inputs, check: JobCheck, system: System) -> str:
    """The result as a range."""
    from ventsize.report.ranges import render
    from ventsize.studies.uncertainty import uncertainty as study

    return render(study(inputs), system)


def checkover(inputs: Inputs, check: JobCheck, system: System) -> str:
    """What a careful installer would verify."""
    from ventsize.report.checkover import render
    from ventsize.studies.checkover import check_over

    return render(check_over(inputs, checked=check, system=system), system)


ANSWERS: Mapping[str, Answer] = {
    answer.__name__: answer
    for answer in (
        report,
        working,
        headroom,
        repairs,
        options,
        takeoff,
        along,
        cold,
        condensate,
        inducer,
        uncertainty,
        checkover,
    )
}
