"""Verbs that ask one question of one job: who answers it, who writes the answer, and what else may be given."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import Any

from ventsize.cli.arguments import add_output, add_plain, read, typed
from ventsize.cli.printing import print_study
from ventsize.cli.status import DONE, NOT_WITHIN, WITHIN


@dataclass(frozen=True, slots=True)
class Question:
    """A verb of one job.

    study: the function that answers, as `module:name` below ventsize.studies. report: the module of ventsize.report
    whose `render` and `as_object` write the answer. job: the help of its argument. plain: whether it can be asked with
    the gas at one temperature. options: further arguments, as argparse takes them. given: what the study gets of them.
    well: the study's field that says whether all is well, for the exit status; empty where that is 0 in any case.
    """

    study: str
    report: str
    job: str = "a job file"
    plain: bool = True
    options: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    given: Callable[[argparse.Namespace], Mapping[str, Any]] = lambda _: {}
    well: str = ""


def _day(options: argparse.Namespace) -> Mapping[str, Any]:
    from ventsize.quantity import Dimension

    outdoors = [typed(text, "--outdoor", Dimension.TEMPERATURE, signed=True) for text in options.outdoor]
    thickness = options.insulation
    insulation = None if thickness is None else typed(thickness, "--insulation", Dimension.LENGTH)
    return {"outdoors": outdoors, "insulation": insulation}


def _rules(options: argparse.Namespace) -> Mapping[str, Any]:
    from ventsize.studies.room_air.rules import read_rules

    return {"rules": read_rules(options.rules)}


def _samples(options: argparse.Namespace) -> Mapping[str, Any]:
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.studies.uncertainty import FEWEST_SAMPLES, MOST_SAMPLES

    if not FEWEST_SAMPLES <= options.samples <= MOST_SAMPLES:
        problem = f"{options.samples} samples cannot be drawn"
        raise InputError(Problem("", "--samples", problem, f"{FEWEST_SAMPLES} to {MOST_SAMPLES:,}"))
    if options.seed < 0:
        raise InputError(Problem("", "--seed", f"{options.seed} is below zero", "a whole number of zero or more"))
    return {"samples": options.samples, "seed": options.seed}


READINGS = "a job file with a [[reading]]"
QUESTIONS: Mapping[str, Question] = {
    "along": Question("along:along", "along", plain=False),  # drawn with cooling and without
    "condensate": Question("condensate:condensate", "condensate", plain=False),  # the gas cools there in any case
    "cold": Question(
        "cold:cold_weather", "cold", plain=False, given=_day,
        options={
            "--outdoor": {"action": "append", "default": [], "metavar": "TEMPERATURE", "help": "an outdoor temperature "
                          "such as '-10 degF', as often as wanted (default: the job's and colder ones)"},
            "--insulation": {"metavar": "THICKNESS",
                             "help": "on every vent pipe, such as '1/2 in', instead of what is there"},
        },
    ),
    "roomair": Question(
        "room_air:room_air", "room_air", "a job file with a [[room]]", plain=False, given=_rules, well="enough",
        options={"--rules": {"type": Path, "metavar": "FILE", "help": "your code's figures (as in room-air.toml)"}},
    ),
    "uncertainty": Question(
        "uncertainty:uncertainty", "uncertainty", given=_samples,
        options={
            "--samples": {"type": int, "default": 10_000, "help": "how many cases are drawn (default: 10000)"},
            "--seed": {"type": int, "default": 1, "help": "a number; the same one draws the same cases (default: 1)"},
        },
    ),
    "readings": Question("readings:readings", "readings", READINGS, well="all_expected"),
    "diagnose": Question("diagnosis:diagnose", "diagnosis", READINGS, well="all_well"),
}  # fmt: skip


def prepare(question: Question, parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help=question.job)
    parser.set_defaults(plain=False, run=partial(ask, question))
    if question.plain:
        add_plain(parser)
    for name, how in question.options.items():
        parser.add_argument(name, **how)
    add_output(parser)


def ask(question: Question, options: argparse.Namespace) -> int:
    """Print the answer to a job; the exit status says whether all is well, where the study says so."""
    module, _, name = question.study.partition(":")
    answer = getattr(import_module(f"ventsize.studies.{module}"), name)
    study = answer(read(options.job, options), **question.given(options))
    print_study(options, study, import_module(f"ventsize.report.{question.report}"))
    if not question.well:
        return DONE
    return WITHIN if getattr(study, question.well) else NOT_WITHIN
