"""Arguments of verbs that write papers, and the writing."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.report.drawing import Drawing
    from ventsize.report.paper import Kind, Paper

_KINDS = {"html": "a web page", "pdf": "PDF", "markdown": "Markdown", "csv": "its tables as CSV"}


def add_files(parser: argparse.ArgumentParser) -> None:
    """Where to write what, on which paper, and whether a file that is there may go."""
    for kind, what in _KINDS.items():
        parser.add_argument(f"--{kind}", type=Path, metavar="FILE", help=f"write {what} to a file")
    _add_how(parser)


def _add_how(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--paper", choices=("letter", "a4"), default="letter", help="paper size (default: letter)")
    parser.add_argument("--replace", action="store_true", help="replace a file that is there already")


def write_files(options: argparse.Namespace, make: Callable[[], Paper], *, keep: Sequence[Path | None] = ()) -> bool:
    """Write the files that were asked for. Gives whether any was; raises PaperNotWritten.

    make: called only if there is something to write. keep: files besides the job that are never replaced.
    """
    if all(getattr(options, kind) is None for kind in _KINDS):
        return False
    from ventsize.cli.printing import print_path
    from ventsize.report.paper import KINDS, write

    files = {kind: path for kind in KINDS if (path := getattr(options, kind)) is not None}
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
    for kind in ("html", "pdf", "svg"):
        parser.add_argument(f"--{kind}", type=Path, metavar="FILE", help=f"write the picture as {kind.upper()}")
    _add_how(parser)


def write_pictures(options: argparse.Namespace, *, paper: Callable[[], Paper], drawing: Callable[[], Drawing]) -> bool:
    """Write the picture on a page, or alone as SVG. Gives whether any was asked for; raises PaperNotWritten."""
    from ventsize.cli.printing import print_path
    from ventsize.report.drawing import svg
    from ventsize.report.paper import PaperNotWritten, write

    files: dict[Kind, Path] = {}
    if options.html:
        files["html"] = options.html
    if options.pdf:
        files["pdf"] = options.pdf
    if files:
        write(paper(), files, size=options.paper, replace=options.replace, keep=[options.job], written=print_path)
    if options.svg:
        if options.svg.suffix.lower() != ".svg" or (options.svg.exists() and not options.replace):
            raise PaperNotWritten(f"{options.svg}: not written; expected a new file that ends in .svg, or --replace")
        options.svg.write_text(svg(drawing()), encoding="utf-8")
        print_path(options.svg)
    return bool(files or options.svg)
