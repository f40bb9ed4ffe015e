"""`ventsize checkover`: what a careful installer would verify; a rule is ticked off with --tick."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_job, add_output, read
from ventsize.cli.printing import print_study
from ventsize.cli.status import NOT_WITHIN, WITHIN

if TYPE_CHECKING:
    from ventsize.studies.checkover.rules import CheckOverRules


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser)
    parser.add_argument("--rules", type=Path, metavar="FILE", help="rules of your own, over those shipped and yours")
    tick = parser.add_argument_group("ticking off", "a rule is ticked off in the job file, then the list is printed")
    tick.add_argument("--tick", metavar="RULE", help="the rule's name, in brackets in the list")
    tick.add_argument("--at", metavar="PLACE", help="the run, appliance or material; not needed where there is one")
    tick.add_argument("--value", metavar="TEXT", help="what was measured, such as '14 in'")
    outcome = tick.add_mutually_exclusive_group()
    outcome.add_argument("--met", action="store_true", default=None, help="looked at, and as it should be")
    outcome.add_argument("--not-met", action="store_false", dest="met", default=None, help="and not as it should be")
    outcome.add_argument("--open", action="store_true", help="take the tick away again")
    tick.add_argument("--note", metavar="TEXT", default="", help="anything worth remembering")
    tick.add_argument("--date", metavar="YYYY-MM-DD", help="when it was looked at; today where not given")
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print the list. The exit status is 1 where something is not met or still to be looked at."""
    from ventsize.report import checkover
    from ventsize.studies.checkover import DONE, check_over
    from ventsize.studies.checkover.rules import read_rules

    rules = read_rules(options.rules)
    if options.tick:
        _tick(options, rules)
    study = check_over(read(options.job, options), rules=rules)
    print_study(options, study, checkover)
    return WITHIN if study.verdict == DONE else NOT_WITHIN


def _tick(options: argparse.Namespace, rules: CheckOverRules) -> None:
    """Write one tick into the job file. Raises InputError where it would not be one."""
    from ventsize.check.inputs import prepare as look_up
    from ventsize.jobfile.editing.ticks import clear_tick, set_tick
    from ventsize.jobfile.job import job_from_data
    from ventsize.jobfile.writer import open_file, save
    from ventsize.studies.checkover import check_over

    opened = open_file(options.job)
    file, beside = str(options.job), options.job.parent
    at = _place(options, rules)
    if options.open:
        data = clear_tick(opened.data, options.tick, at)
    else:
        data = set_tick(
            opened.data, options.tick, at, date=_date(options), value=options.value, met=options.met, note=options.note
        )
    check_over(look_up(job_from_data(data, file=file), file=file, beside=beside), rules=rules)
    save(options.job, data, known=opened.fingerprint)


def _date(options: argparse.Namespace) -> datetime.date:
    from ventsize.jobfile.problems import InputError, Problem

    try:
        return datetime.date.fromisoformat(options.date) if options.date else datetime.date.today()
    except ValueError:
        raise InputError(Problem("--date", "", f"'{options.date:.40}' is not a date", "2026-11-20")) from None


def _place(options: argparse.Namespace, rules: CheckOverRules) -> str:
    """Where the rule is ticked off: as given, or the one place where it is asked."""
    from ventsize.jobfile.document import nearest
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.studies.checkover import check_over

    if options.tick not in rules.rules:
        problem = f"there is no rule '{options.tick:.40}'"
        raise InputError(Problem("--tick", "", problem, nearest(options.tick, rules.rules)))
    if options.open and options.at is not None:
        return str(options.at)
    items = check_over(read(options.job, options), rules=rules).items
    places = [item.place for item in items if item.rule.name == options.tick]
    if options.at in places:
        return str(options.at)
    if options.at is None and len(places) == 1:
        return places[0]
    if not places:
        raise InputError(Problem("--tick", options.tick, "the rule is not asked of this job", "one that is"))
    said = "it is asked of more than one place" if options.at is None else f"it is not asked of '{options.at:.40}'"
    raise InputError(Problem("--at", options.tick, said, f"one of: {', '.join(places)}"))
