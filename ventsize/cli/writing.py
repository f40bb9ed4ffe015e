"""Arguments of verbs that write papers, and the writing."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.status import UNREADABLE, WITHIN

if TYPE_CHECKING:
    from ventsize.report.paper import Paper

_KINDS = {"html": "a web page", "pdf": "PDF", "markdown": "Markdown", "csv": "its tables as CSV"}


def add_files(parser: argparse.ArgumentParser) -> None:
    """Where to write what, on which paper, and whether a file that is there may go."""
    for kind, what in _KINDS.items():
        parser.add_argument(f"--{kind}", type=Path, metavar="FILE", help=f"write {what} to a file")
    parser.add_argument("--paper", choices=("letter", "a4"), default="letter", help="paper size (default: letter)")
    parser.add_argument("--replace", action="store_true", help="replace a file that is there already")


def write_files(
    options: argparse.Namespace, make: Callable[[], Paper], *, keep: Sequence[Path | None] = ()
) -> int | None:
    """The exit status of writing the files that were asked for; None where none was.

    make: called only if there is something to write. keep: files besides the job that are never replaced.
    """
    if all(getattr(options, kind) is None for kind in _KINDS):
        return None
    from ventsize.report.paper import KINDS, PaperNotWritten, write

    files = {kind: path for kind in KINDS if (path := getattr(options, kind)) is not None}
    kept = [path for path in (getattr(options, "job", None), *keep) if path is not None]
    try:
        write(make(), files, size=options.paper, replace=options.replace, keep=kept, written=print)
    except PaperNotWritten as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    return WITHIN
