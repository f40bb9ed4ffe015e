"""`ventsize takeoff`: what it takes to build a job, how its pipe is cut, and what it costs."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_output, typed
from ventsize.cli.prices import add_practice, add_prices, prices_of
from ventsize.cli.printing import print_answer
from ventsize.cli.status import NOT_WITHIN, WITHIN

if TYPE_CHECKING:
    from ventsize.quantity import System
    from ventsize.studies.takeoff.practice import Practice
    from ventsize.studies.takeoff.tally import Takeoff


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file")
    parser.add_argument("more", type=Path, nargs="*", metavar="JOB", help="more jobs: one list to order for all")
    add_prices(parser)
    add_practice(parser)
    parser.add_argument(
        "--stock", action="append", default=[], metavar="LENGTH", help="a length pipe is sold in; may be repeated"
    )
    parser.add_argument("--kerf", metavar="LENGTH", help="width of a saw cut")
    parser.add_argument("--usable", metavar="LENGTH", help="shortest offcut worth keeping")
    parser.add_argument("--csv", action="store_true", help="print the items as CSV; filled in, it is a price list")
    parser.add_argument(
        "--price", action="append", default=[], metavar="ITEM=PRICE", help="keep a price for an item, as it is listed"
    )
    parser.add_argument("--no-prices", action="store_true", help="leave prices and rates out: a list to hand over")
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print the takeoff. The exit status is 1 where something could not be taken off or has no price."""
    from ventsize.quantity import System
    from ventsize.report.takeoff import as_csv, as_object, render
    from ventsize.studies.jobs_of_folder import order_of
    from ventsize.studies.pricing.prices import cost, for_jobs

    system = System(options.units)
    jobs = (options.job, *options.more)
    taken = order_of(jobs, practice=_practice(options))
    for typed_price in options.price:
        _keep(typed_price, taken, system)
    prices = prices_of(options)
    costs = cost(taken, for_jobs(prices, len(jobs))) if prices else None
    print_answer(
        options,
        text=lambda: (as_csv if options.csv else render)(taken, costs, system),
        data=lambda: as_object(taken, costs, system),
    )
    return NOT_WITHIN if not taken.complete or (costs and costs.at_least) else WITHIN


def _keep(text: str, taken: Takeoff, system: System) -> None:
    """A price typed on the takeoff, kept. Raises InputError."""
    from ventsize.jobfile.document import nearest
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.report.items import describe
    from ventsize.studies.pricing.amounts import read_amount
    from ventsize.studies.pricing.own import keep_price

    name, sign, amount = text.rpartition("=")
    items = {describe(item, system): item for item in taken.items}
    if not sign or name.strip() not in items:
        raise InputError(Problem("", "--price", f"'{name or text:.60}' is not in the takeoff", nearest(name, items)))
    try:
        price, _ = read_amount(amount)
    except ValueError as error:
        raise InputError(Problem("", "--price", str(error))) from None
    keep_price(items[name.strip()], price)


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
