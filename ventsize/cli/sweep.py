"""`ventsize sweep`: one thing of a job changed and the rest held, drawn."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_job, add_output, read
from ventsize.cli.printing import print_answer
from ventsize.cli.status import DONE

if TYPE_CHECKING:
    from ventsize.quantity import System
    from ventsize.studies.sweeps import Sweep

KINDS = (
    "elbow-by-rate",
    "elbow-by-size",
    "elbow-by-temperature",
    "elbow-by-method",
    "table-and-calculation",
    "drop-by-flow",
    "length-by-elbows",
    "drop-by-altitude",
    "laminar-turbulent",
)
"""The sweeps there are; written out here so that nothing heavy is loaded to list them."""


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("kind", metavar="KIND", choices=KINDS, help=f"one of: {', '.join(KINDS)}")
    add_job(parser)
    parser.add_argument("--run", dest="run_name", metavar="NAME", help="which run (default: the first vent)")
    parser.add_argument("--rate", metavar="NAME", help="which firing rate (default: where the run loses most)")
    parser.add_argument("--fitting", metavar="NAME", help="which fitting (default: the run's first elbow)")
    parser.add_argument("--csv", action="store_true", help="print the figures as CSV")
    for kind in ("html", "pdf", "svg"):
        parser.add_argument(f"--{kind}", type=Path, metavar="FILE", help=f"write the picture as {kind.upper()}")
    parser.add_argument("--large", action="store_true", help="of the SVG: large type, for the back of a room")
    parser.add_argument("--replace", action="store_true", help="replace files that are there already")
    parser.add_argument("--paper", choices=("letter", "a4"), default="letter", help="size of the page")
    add_output(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from ventsize.quantity import System
    from ventsize.report.sweeps import as_csv, as_object, render
    from ventsize.studies.sweeps import sweep

    system = System(options.units)
    found = sweep(
        options.kind,
        read(options.job, options),
        run=options.run_name,
        rate=options.rate,
        fitting=options.fitting,
    )
    if options.html or options.pdf or options.svg:
        _write(found, options, system)
        return DONE
    print_answer(
        options,
        text=lambda: (as_csv if options.csv else render)(found, system),
        data=lambda: as_object(found, system),
    )
    return DONE


def _write(found: Sweep, options: argparse.Namespace, system: System) -> None:
    """The picture on a page, or alone as SVG."""
    from ventsize.cli.printing import print_path
    from ventsize.report.drawing import svg
    from ventsize.report.paper import PaperNotWritten, write
    from ventsize.report.sweeps_paper import sweep_drawing, sweep_paper

    files = {kind: file for kind in ("html", "pdf") if (file := getattr(options, kind)) is not None}
    if files:
        paper = sweep_paper(found, system)
        write(paper, files, size=options.paper, replace=options.replace, keep=[Path(options.job)], written=print_path)  # type: ignore[arg-type]
    if options.svg:
        if options.svg.suffix.lower() != ".svg" or (options.svg.exists() and not options.replace):
            raise PaperNotWritten(f"{options.svg}: not written; expected a new file that ends in .svg, or --replace")
        options.svg.write_text(svg(sweep_drawing(found, system, large=options.large)), encoding="utf-8")
        print_path(options.svg)
