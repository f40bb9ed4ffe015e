"""The command line: every capability without the screens, for scripts and for those who prefer it.

Imports are late throughout, so that a command loads only what it needs.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize import __version__

if TYPE_CHECKING:
    from ventsize.check.result import JobCheck

WITHIN, NOT_WITHIN, UNREADABLE = 0, 1, 2

DESCRIPTION = (
    "Sizes the vent and combustion-air pipe of a fan-assisted gas appliance: by the maker's allowance table, and "
    "beside it by calculation. The maker's instructions and the local code decide."
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit status: 0 all within, 1 not so, 2 input that cannot be read."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    parser = _parser()
    if words and words[0] not in _VERBS and not words[0].startswith("-"):
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
    for name, (help_text, prepare) in _VERBS.items():
        prepare(verbs.add_parser(name, help=help_text, description=help_text))
    return parser


def _prepare_open(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", nargs="?", type=Path, help="a job file; without one, the shelf of jobs")
    parser.set_defaults(run=_open)


def _prepare_check(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("jobs", nargs="+", type=Path, metavar="JOB", help="a job file")
    parser.add_argument("--json", action="store_true", help="print JSON in SI units")
    parser.add_argument("--units", choices=("us", "si"), default="us", help="units of the text (default: us)")
    parser.set_defaults(run=_check)


_VERBS: dict[str, tuple[str, Callable[[argparse.ArgumentParser], None]]] = {
    "open": ("open the terminal UI, with a job or at the shelf", _prepare_open),
    "check": ("print the verdict on jobs", _prepare_check),
}


def _open(options: argparse.Namespace) -> int:
    from ventsize.tui.app import run_app

    return run_app(options.job)


def _check(options: argparse.Namespace) -> int:
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System

    checks: list[tuple[str, JobCheck]] = []
    unreadable = False
    for path in options.jobs:
        try:
            checks.append((str(path), _check_one(path, System(options.units))))
        except InputError as error:
            unreadable = True
            print(error, file=sys.stderr)
    if checks:
        _print_checks(checks, options)
    if unreadable:
        return UNREADABLE
    return WITHIN if all(check.verdict == "within" for _, check in checks) else NOT_WITHIN


def _check_one(path: Path, system: object) -> JobCheck:
    from ventsize.check.inputs import read_inputs
    from ventsize.check.verdict import check

    return check(read_inputs(path), system=system)  # type: ignore[arg-type]


def _print_checks(checks: list[tuple[str, JobCheck]], options: argparse.Namespace) -> None:
    if options.json:
        from ventsize.report.as_json import dump

        print(dump([check for _, check in checks], as_list=len(options.jobs) > 1))
        return
    from ventsize.quantity import System
    from ventsize.report.as_text import render, summary

    for _, check in checks:
        print(render(check, System(options.units)))
    if len(checks) > 1:
        print(summary(checks), end="")
