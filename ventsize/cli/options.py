"""`ventsize options`: every size, elbow pattern and size change for a job's runs, those that are within ranked."""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import replace
from pathlib import Path

from ventsize.cli.arguments import add_output
from ventsize.cli.status import NOT_WITHIN, UNREADABLE, WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file")
    parser.add_argument("--sort", choices=("margin", "joints", "cost"), default="margin", help="what ranks first")
    parser.add_argument(
        "--run", dest="vary", metavar="NAME", help="vary this run only (default: every run that carries flue gas)"
    )
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Look at all options, with progress on a terminal. 0 where one is within, 1 where none is."""
    from ventsize.check.inputs import read_inputs
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System
    from ventsize.report.studies import options_object, options_text
    from ventsize.studies.choices import Choices, default_choices
    from ventsize.studies.options import Ranking, Search, TooManyOptions

    system = System(options.units)
    try:
        inputs = read_inputs(options.job)
        flue = {one.name for one in inputs.job.runs if one.carries == "flue gas"}
        varied = {options.vary} if options.vary else flue
        chosen = tuple(one for one in default_choices(inputs).runs if one.run in varied)
        if len(chosen) > 1:  # each with each: without changes of size within a run, or it would take hours
            chosen = tuple(replace(one, change_to=()) for one in chosen)
        if not chosen:
            known = ", ".join(one.name for one in inputs.job.runs)
            print(f"{options.job}: there is no run '{options.vary}'; expected one of: {known}", file=sys.stderr)
            return UNREADABLE
        if options.sort == "cost":
            print(
                "no prices are given, so nothing can be ranked by cost; expected --sort margin or joints",
                file=sys.stderr,
            )
            return UNREADABLE
        search = Search(inputs, Choices(runs=chosen), beside=options.job.parent, system=system)
    except (InputError, TooManyOptions) as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    ranking = Ranking(order=options.sort, system=system)
    try:
        for option in search:
            ranking.take(option)
            if sys.stderr.isatty() and option.number % 500 == 0:
                print(f"\r{option.number:,} of {search.total:,}", end="", file=sys.stderr)
    except KeyboardInterrupt:
        print("\nstopped; what follows is of the options looked at so far", file=sys.stderr)
    found = ranking.found(search.total)
    if options.json:
        print(json.dumps(options_object(found), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print(options_text(found, system), end="")
    return WITHIN if found.acceptable else NOT_WITHIN
