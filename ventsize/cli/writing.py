"""Arguments of verbs that write papers, and the writing."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.report.drawing import Drawing
    from ventsize.report.paper import Kind, Paper

KINDS: dict[Kind, str] = {"html": "a web page", "pdf": "PDF", "markdown": "Markdown", "csv": "its tables as CSV"}


def add_files(parser: argparse.ArgumentParser, kinds: Iterable[Kind] = KINDS, what: str = "") -> None:
    """Where to write what, on which paper, and whether a file that is there may go; what: is written, if not all."""
    for kind in kinds:
        parser.add_argument(f"--{kind}", type=Path, metavar="FILE", help=f"write {what}{KINDS[kind]} to a file")
    parser.add_argument("--paper", choices=("letter", "a4"), default="letter", help="paper size (default: letter)")
    parser.add_argument("--replace", action="store_true", help="replace a file that is there already")


def write_files(options: argparse.Namespace, make: Callable[[], Paper], *, keep: Sequence[Path | None] = ()) -> bool:
    """Write the files that were asked for. Gives whether any was; raises PaperNotWritten.

    make: called only if there is something to write. keep: files besides the job that are never replaced.
    """
    files = {kind: path for kind in KINDS if isinstance(path := getattr(options, kind, None), Path)}
    if not files:
        return False
    from ventsize.cli.printing import print_path
    from ventsize.report.paper import write

    kept = [path for path in (getattr(options, "job", None), *keep) if path is not None]
    write(make(), files, size=options.paper, replace=options.replace, keep=kept, written=print_path)
    return True


def write_some(options: argparse.Namespace, make: Callable[[], Paper], *, keep: Sequence[Path | None]) -> None:
    """The same for a verb that does nothing else. Raises InputError where no file is named."""
    from ventsize.jobfile.problems import InputError, Problem

    if not write_files(options, make, keep=keep):
        raise InputError(Problem("", "", "no file is named", "at least one of --html, --pdf, --markdown, --csv"))


def add_pictures(parser: argparse.ArgumentParser) -> None:
    """Where to write a picture, on a page or alone."""
    add_files(parser, ("html", "pdf"), "the picture as ")
    parser.add_argument("--svg", type=Path, metavar="FILE", help="write the picture as SVG to a file")


def write_pictures(options: argparse.Namespace, *, paper: Callable[[], Paper], drawing: Callable[[], Drawing]) -> bool:
    """Write the picture on a page, or alone as SVG. Gives whether any was asked for; raises PaperNotWritten."""
    from ventsize.cli.printing import print_path
    from ventsize.report.drawing import svg
    from ventsize.report.paper import PaperNotWritten

    written = write_files(options, paper)
    if options.svg:
        if options.svg.suffix.lower() != ".svg" or (options.svg.exists() and not options.replace):
            raise PaperNotWritten(f"{options.svg}: not written; expected a new file that ends in .svg, or --replace")
        options.svg.write_text(svg(drawing()), encoding="utf-8")
        print_path(options.svg)
    return written or bool(options.svg)
