"""`ventsize takeoff`: what it takes to build a job, how its pipe is cut, and what it costs."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_output, typed
from ventsize.cli.prices import add_prices
from ventsize.cli.printing import print_answer
from ventsize.cli.status import NOT_WITHIN, WITHIN

if TYPE_CHECKING:
    from ventsize.studies.takeoff.practice import Practice


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file")
    add_prices(parser)
    parser.add_argument(
        "--practice", type=Path, metavar="FILE", help="how pipe is sold, joined and hung (takeoff.toml)"
    )
    parser.add_argument(
        "--stock", action="append", default=[], metavar="LENGTH", help="a length pipe is sold in; may be repeated"
    )
    parser.add_argument("--kerf", metavar="LENGTH", help="width of a saw cut")
    parser.add_argument("--usable", metavar="LENGTH", help="shortest offcut worth keeping")
    parser.add_argument("--csv", action="store_true", help="print the items as CSV")
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print the takeoff. The exit status is 1 where something could not be taken off or has no price."""
    from ventsize.check.inputs import read_inputs
    from ventsize.quantity import System
    from ventsize.report.takeoff import as_csv, as_object, render
    from ventsize.studies.pricing.prices import cost, own_prices, read_prices
    from ventsize.studies.takeoff import takeoff

    system = System(options.units)
    practice = _practice(options)
    prices = read_prices(options.prices) if options.prices else own_prices()
    taken = takeoff(read_inputs(options.job), practice=practice)
    costs = cost(taken, prices) if prices else None
    print_answer(
        options,
        text=lambda: (as_csv if options.csv else render)(taken, costs, system),
        data=lambda: as_object(taken, costs, system),
    )
    return NOT_WITHIN if not taken.complete or (costs and costs.at_least) else WITHIN


def _practice(options: argparse.Namespace) -> Practice:
    from ventsize.studies.takeoff.practice import read_practice, with_stock

    return with_stock(
        read_practice(options.practice),
        lengths=tuple(_length(text, "--stock") for text in options.stock),
        kerf=_length(options.kerf, "--kerf") if options.kerf else None,
        usable=_length(options.usable, "--usable") if options.usable else None,
    )


def _length(text: str, option: str) -> float:
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.quantity import Dimension
    from ventsize.studies.takeoff.practice import SHORTEST_STOCK

    length = typed(text, option, Dimension.LENGTH)
    if option == "--stock" and length < SHORTEST_STOCK:
        raise InputError(Problem("", option, f"'{text:.40}' is too short to be sold", "a length such as '10 ft'"))
    return length
