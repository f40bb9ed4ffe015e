"""What the verbs that write papers have in common: the files, the size of the page, whether to replace."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.prices import add_prices

if TYPE_CHECKING:
    from ventsize.report.paper import Kind, Paper


def add_files(parser: argparse.ArgumentParser) -> None:
    """Where to write, and how."""
    parser.add_argument("--html", type=Path, metavar="FILE", help="write one HTML file, pictures and all")
    parser.add_argument("--pdf", type=Path, metavar="FILE", help="write a PDF")
    parser.add_argument("--markdown", type=Path, metavar="FILE", help="write Markdown, pictures in words")
    parser.add_argument("--csv", type=Path, metavar="FILE", help="write the tables for a spreadsheet")
    parser.add_argument("--replace", action="store_true", help="replace files that are there already")
    parser.add_argument(
        "--paper", choices=("letter", "a4"), default="letter", help="size of the page (default: letter)"
    )
    parser.add_argument("--units", choices=("us", "si"), default="us", help="units of the paper (default: us)")
    add_prices(parser)
    parser.add_argument(
        "--practice", type=Path, metavar="FILE", help="how pipe is sold, joined and hung (takeoff.toml)"
    )


def files_of(options: argparse.Namespace) -> dict[Kind, Path]:
    """The files asked for, by kind."""
    from ventsize.report.paper import KINDS

    return {kind: path for kind in KINDS if (path := getattr(options, kind)) is not None}


def nothing_asked(options: argparse.Namespace) -> bool:
    """Say so where no file is asked for."""
    if files_of(options):
        return False
    print("no file is named; expected at least one of --html, --pdf, --markdown, --csv", file=sys.stderr)
    return True


def _say(path: Path) -> None:
    print(f"written: {path}", file=sys.stderr)


def written(paper: Paper, options: argparse.Namespace, *, jobs: Sequence[Path]) -> bool:
    """Write the files and name each; False, and a line on standard error, where one cannot be written."""
    from ventsize.report.paper import PaperNotWritten, write

    keep = [path for path in (*jobs, options.prices, options.practice) if path is not None]
    try:
        write(paper, files_of(options), size=options.paper, replace=options.replace, keep=keep, written=_say)
    except PaperNotWritten as error:
        print(error, file=sys.stderr)
        return False
    return True
