"""One command: its words read, its verb run, its exit status."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence

from ventsize import __version__
from ventsize.cli.status import NOT_WITHIN
from ventsize.cli.verbs import VERBS

DESCRIPTION = (
    "Sizes the vent and combustion-air pipe of a fan-assisted gas appliance: by the maker's allowance table, and "
    "beside it by calculation. The maker's instructions and the local code decide."
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit status: 0 all within, 1 not so, 2 input that cannot be read."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    parser = _parser()
    if words and words[0] not in VERBS and not words[0].startswith("-"):
        words = ["open", *words]
    options = parser.parse_args(words or ["open"])
    run: Callable[[argparse.Namespace], int] = options.run
    try:
        return run(options)
    except BrokenPipeError:  # the reader of a pipe has seen enough
        sys.stderr.close()
        return NOT_WITHIN
    except KeyboardInterrupt:
        return 130


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="ventsize", description=DESCRIPTION, epilog="ventsize JOB opens a job; ventsize alone opens the shelf."
    )
    parser.add_argument("--version", action="version", version=f"ventsize {__version__}")
    verbs = parser.add_subparsers(metavar="VERB", required=True)
    for name, (help_text, prepare) in VERBS.items():
        prepare(verbs.add_parser(name, help=help_text, description=help_text))
    return parser
