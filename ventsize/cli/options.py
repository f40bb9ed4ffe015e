"""`ventsize options`: what a job's runs may be made of and how they may be laid, those that are within ranked."""

from __future__ import annotations

import argparse
import sys
from dataclasses import fields
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_job, add_output, read
from ventsize.cli.prices import add_prices, add_taking, check_taking, pricer_of, take
from ventsize.cli.printing import print_answer, progress
from ventsize.cli.status import NOT_WITHIN, WITHIN

if TYPE_CHECKING:
    from ventsize.studies.options import Search
    from ventsize.studies.options.asked import Asked
    from ventsize.studies.options.ranking import Ranking

KEPT = 1000


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    add_job(parser)
    parser.add_argument("--sort", choices=("margin", "joints", "cost"), default="margin", help="what ranks first")
    parser.add_argument(
        "--run", dest="runs", default="", metavar="NAMES", help="vary these runs only (default: those with flue gas)"
    )
    parser.add_argument("--sizes", default="", metavar="LIST", help="such as '2 in, 3 in' (default: the table's)")
    parser.add_argument("--materials", default="", metavar="LIST", help="such as 'pvc-40, cpvc-40' (default: as it is)")
    parser.add_argument("--elbows", default="", metavar="LIST", help="of short, long, two 45s (default: each of them)")
    parser.add_argument("--each-elbow", action="store_true", help="choose each elbow by itself, not all alike")
    parser.add_argument("--ends", default="", metavar="LIST", help="fittings for the outdoor end (default: as it is)")
    parser.add_argument(
        "--change-to", default="", metavar="LIST", help="sizes to change to at any joint, or 'as it is' for none"
    )
    parser.add_argument("--pipes", default="", metavar="LIST", help="one, two, or both, besides as it is")
    parser.add_argument(
        "--route",
        dest="routes",
        action="append",
        default=[],
        metavar="FILE",
        help="another way to lay the run: a job file, or a run of this job that is only that; may be repeated",
    )
    parser.add_argument("--every", action="store_true", help="list every option, with why each of the others fails")
    add_prices(parser)
    add_taking(parser, "option")
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Look at all options, with progress on a terminal. 0 where one is within, 1 where none is."""
    from ventsize.quantity import System
    from ventsize.report.options import as_object, render
    from ventsize.studies.options import Search
    from ventsize.studies.options.asked import choices_of
    from ventsize.studies.options.ranking import Ranking, with_ranges

    system = System(options.units)
    check_taking(options)
    pricer = pricer_of(options)
    inputs, choices = choices_of(read(options.job, options), _asked(options), beside=options.job.parent)
    search = Search(inputs, choices, pricer=pricer, beside=options.job.parent)
    ranking = Ranking(order=options.sort, keep=max(search.total, 1) if options.every else KEPT)
    _look(search, ranking)
    found = with_ranges(ranking.found(search.total), search)
    print_answer(
        options,
        text=lambda: render(found, system, every=options.every),
        data=lambda: as_object(found, system),
    )
    if options.take is not None:
        take(options, list(found.acceptable), search.apply)
    return WITHIN if found.acceptable else NOT_WITHIN


def _asked(options: argparse.Namespace) -> Asked:
    from ventsize.studies.options.asked import Asked

    given = {field.name: getattr(options, field.name) for field in fields(Asked)}
    return Asked(**{**given, "routes": tuple(options.routes)})


def _look(search: Search, ranking: Ranking) -> None:
    """All of them, or until it is stopped."""
    shown = sys.stderr.isatty()
    try:
        for option in search:
            ranking.take(option)
            if shown and option.number % 500 == 0:
                progress(f"{option.number:,} of {search.total:,}")
    except KeyboardInterrupt:
        print("\nstopped; what follows is of the options looked at so far", file=sys.stderr)
    if shown and ranking.looked_at >= 500:
        progress("")
