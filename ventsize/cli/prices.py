"""What the verbs that put prices to something have in common, and those that write a changed job."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ventsize.cli.status import UNREADABLE, WITHIN

if TYPE_CHECKING:
    from ventsize.jobfile.editing import Data
    from ventsize.quantity import System
    from ventsize.studies.pricing import Pricer
    from ventsize.studies.takeoff.practice import Practice


def add_prices(parser: argparse.ArgumentParser) -> None:
    """The argument for a price list."""
    parser.add_argument(
        "--prices", type=Path, metavar="FILE", help="your price list, TOML or CSV (default: your own, if you keep one)"
    )


def pricer_of(options: argparse.Namespace, system: System, *, practice: Practice | None = None) -> Pricer | None:
    """What puts costs to jobs; None without a price list. Raises InputError."""
    from ventsize.studies.pricing import Pricer
    from ventsize.studies.pricing.prices import own_prices, read_prices
    from ventsize.studies.takeoff.practice import read_practice

    prices = read_prices(options.prices) if options.prices else own_prices()
    return None if prices is None else Pricer(prices, practice or read_practice(), system=system)


def add_taking(parser: argparse.ArgumentParser, what: str) -> None:
    """The arguments for writing the job with one of the answers."""
    parser.add_argument("--take", type=int, metavar="NUMBER", help=f"make the job with the {what} of that number")
    parser.add_argument("--to", type=Path, metavar="FILE", help="the new job file to write it to")


def taking_fault(options: argparse.Namespace) -> str:
    """What is wrong with those arguments; empty if nothing."""
    if (options.take is None) != (options.to is None):
        return "expected --take NUMBER and --to FILE together"
    return ""


def take(options: argparse.Namespace, found: list[Any], change: Callable[[Data, Any], Data]) -> int:
    """Write the job with the answer of the number asked for. Never over a file that is there."""
    from ventsize.jobfile.editing import EditError
    from ventsize.jobfile.problems import InputError
    from ventsize.jobfile.writer import NO_FILE, SaveError, open_file, save

    if not 1 <= options.take <= len(found):
        known = f"1 to {len(found)}" if found else "another choice: there is none to take"
        print(f"--take {options.take}: there is no such number; expected {known}", file=sys.stderr)
        return UNREADABLE
    try:
        save(options.to, change(open_file(options.job).data, found[options.take - 1]), known=NO_FILE)
    except (InputError, EditError, SaveError) as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    print(f"written: {options.to}", file=sys.stderr)
    return WITHIN
