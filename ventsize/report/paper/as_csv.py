"""The tables of a paper as CSV, for a spreadsheet."""

from __future__ import annotations

import csv
import io
import re

from ventsize.jobfile.letters import plain
from ventsize.report.paper.blocks import Facts, Heading, Paper, Table

_HARMLESS = re.compile(r"[+-]?\d[\d,]*(\.\d+)?|-")  # a number, or the dash that stands for none


def csv_text(paper: Paper) -> str:
    """Every table under the heading it stands below, an empty row between."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([harmless(paper.title)])
    heading = ""
    for block in paper.blocks:
        match block:
            case Heading():
                heading = block.text
            case Facts():
                writer.writerow([])
                writer.writerow([harmless(heading)])
                writer.writerows([harmless(cell) for cell in pair] for pair in block.pairs)
            case Table():
                writer.writerow([])
                writer.writerow([harmless(block.caption or heading)])
                writer.writerow([harmless(column.name) for column in block.columns])
                writer.writerows([harmless(cell) for cell in row] for row in block.rows)
    return out.getvalue()


def harmless(text: str) -> str:
    """Text that a spreadsheet takes for text: one that begins like a formula gets an apostrophe before it."""
    shown = plain(text)
    if _HARMLESS.fullmatch(shown):
        return shown
    return f"'{shown}" if shown.lstrip()[:1] in tuple("=+-@") or shown[:1] == "\t" else shown
