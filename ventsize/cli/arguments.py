"""Arguments that several verbs share."""

from __future__ import annotations

import argparse


def add_output(parser: argparse.ArgumentParser) -> None:
    """How the answer is printed: JSON in SI units, or text in one system of units."""
    parser.add_argument("--json", action="store_true", help="print JSON in SI units")
    parser.add_argument("--units", choices=("us", "si"), default="us", help="units of the text (default: us)")
