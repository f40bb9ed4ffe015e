"""The tables of a paper as CSV, for a spreadsheet."""

from __future__ import annotations

import csv
import io

from ventsize.jobfile.letters import harmless
from ventsize.report.paper.blocks import Facts, Heading, Paper, Table


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
