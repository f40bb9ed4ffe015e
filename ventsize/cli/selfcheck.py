"""`ventsize selfcheck`: published values worked out anew on this machine, each beside what it should be."""

from __future__ import annotations

import argparse

from ventsize.cli.printing import print_answer
from ventsize.cli.status import NOT_WITHIN, WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("--json", action="store_true", help="print JSON")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print each value. The exit status is 1 where one is not as published."""
    from ventsize.report.selfcheck import as_object, render
    from ventsize.studies.selfcheck import verify

    found = verify()
    print_answer(options, text=lambda: render(found), data=lambda: as_object(found))
    return WITHIN if all(one.agrees for one in found) else NOT_WITHIN
