"""`ventsize open`: the screens."""

from __future__ import annotations

import argparse
from pathlib import Path


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", nargs="?", type=Path, help="a job file; without one, the shelf of jobs")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Open the screens, and leave with their exit status."""
    from ventsize.tui.app import run_app

    return run_app(options.job)
