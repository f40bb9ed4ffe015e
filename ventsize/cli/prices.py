"""What the verbs that put prices to something have in common, and those that write a changed job."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from ventsize.jobfile.editing import Data
    from ventsize.studies.pricing import Pricer
    from ventsize.studies.pricing.prices import PriceList


def add_prices(parser: argparse.ArgumentParser) -> None:
    """The argument for a price list."""
    parser.add_argument(
        "--prices", type=Path, metavar="FILE", help="your price list, TOML or CSV (default: your own, if you keep one)"
    )


def add_practice(parser: argparse.ArgumentParser) -> None:
    """The argument for how pipe is bought."""
    parser.add_argument(
        "--practice", type=Path, metavar="FILE", help="how pipe is sold, joined and hung (takeoff.toml)"
    )


def prices_of(options: argparse.Namespace) -> PriceList | None:
    """The list that is named, else the user's own; None where there is neither, or prices are to be left out."""
    from ventsize.studies.pricing.files import read_prices
    from ventsize.studies.pricing.own import own_prices

    if getattr(options, "no_prices", False):
        return None
    return read_prices(options.prices) if options.prices else own_prices()


def pricer_of(options: argparse.Namespace) -> Pricer | None:
    """What puts costs to jobs; None without a price list. Raises InputError where cost is to rank without one."""
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.studies.pricing import Pricer
    from ventsize.studies.takeoff.practice import read_practice

    prices = prices_of(options)
    if prices is None and getattr(options, "sort", "") == "cost":
        problem = "nothing can be sorted by cost without prices"
        raise InputError(Problem("", "--sort", problem, "--prices FILE, or another --sort"))
    return None if prices is None else Pricer(prices, read_practice())


def add_taking(parser: argparse.ArgumentParser, what: str) -> None:
    """The arguments for writing the job with one of the answers."""
    parser.add_argument("--take", type=int, metavar="NUMBER", help=f"make the job with the {what} of that number")
    parser.add_argument("--to", type=Path, metavar="FILE", help="the new job file to write it to")


def check_taking(options: argparse.Namespace) -> None:
    """Raises InputError where one of those arguments stands without the other."""
    from ventsize.jobfile.problems import InputError, Problem

    if (options.take is None) != (options.to is None):
        given, lacking = ("--take", "--to FILE") if options.to is None else ("--to", "--take NUMBER")
        raise InputError(Problem("", given, "it stands alone", f"{lacking} beside it"))


def take(options: argparse.Namespace, found: list[Any], change: Callable[[Data, Any], Data]) -> None:
    """Write the job with the answer of the number asked for. Never over a file that is there.

    Raises InputError, EditError or SaveError where it cannot be.
    """
    from ventsize.jobfile.letters import plain
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.jobfile.writer import NO_FILE, open_file, save

    if not 1 <= options.take <= len(found):
        known = f"1 to {len(found)}" if found else "another choice: there is none to take"
        raise InputError(Problem("", f"--take {options.take}", "there is no such number", known))
    save(options.to, change(open_file(options.job).data, found[options.take - 1]), known=NO_FILE)
    print(f"written: {plain(str(options.to))}", file=sys.stderr)
