"""An allowance table as a grid of text: cells to data and back."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from typing import Any

from ventsize.jobfile.editing import Data, put, value_at
from ventsize.jobfile.editing import Path as Place
from ventsize.tui.widgets.rows import Column

PLAIN = ("Input", "Size", "From", "To", "Allowed", "Least")
MOST_ELBOWS = 10
UNITS = {"Input": "kBtu/h", "Size": "in", "From": "ft", "To": "ft", "Allowed": "ft", "Least": "ft"}


def empty_table() -> Data:
    """A table to be typed."""
    return {
        "title": "", "source": "", "applies_to": ["flue gas", "combustion air"], "counts": "each run",
        "deductions": {}, "row": [],
    }  # fmt: skip


def by_elbows(data: Data) -> bool:
    """Whether the table's rows give lengths by number of elbows."""
    rows = value_at(data, ("row",), [])
    return any(isinstance(row, dict) and "allowable_by_elbows" in row for row in rows)


def titles(elbows: bool) -> list[str]:
    """The heads of the columns."""
    return [*PLAIN[:4], *(f"{n} elbow{'s' * (n != 1)}" for n in range(MOST_ELBOWS))] if elbows else list(PLAIN)


def columns(elbows: bool) -> list[Column]:
    """The columns of the grid."""
    widths = {"Input": 12, "Size": 7, "From": 7, "To": 8, "Least": 7}
    found = [Column(title=t, width=widths.get(t, 9), align="right") for t in titles(elbows)]
    return found if elbows else [*found, Column(title="As pressure", width=13, align="right")]


def place(row: int, title: str) -> Place:
    """Where a cell stands in the data."""
    base: Place = ("row", row)
    simple = {"Input": "input", "Size": "size", "Allowed": "allowable", "Least": "minimum"}
    if title in simple:
        return (*base, simple[title])
    if title in ("From", "To"):
        return (*base, "altitude", 0 if title == "From" else 1)
    return (*base, "allowable_by_elbows", int(title.split()[0]))


def cell(data: Data, row: int, title: str) -> str:
    """The text of a cell."""
    value = value_at(data, place(row, title))
    return "" if value is None else str(value)


def set_cell(data: Data, row: int, title: str, text: str) -> Data:
    """The data with another text in a cell; what lies before it is made up as empty text."""
    where = place(row, title)
    if title in ("From", "To"):
        band = list(value_at(data, (*where[:-1],), None) or ["", ""])
        band[int(where[-1])] = text
        return put(data, where[:-1], band)
    if where[2] == "allowable_by_elbows":
        entries = list(value_at(data, where[:-1], None) or [])
        at = int(where[-1])
        entries += [""] * (at + 1 - len(entries))
        entries[at] = text
        while entries and not entries[-1]:
            entries.pop()
        return put(data, where[:-1], entries)
    return put(data, where, text or None)


def with_unit(text: str, title: str, above: str) -> str:
    """A bare number gets the unit of the cell above, or the column's usual one."""
    if not re.fullmatch(r"-?\d[\d,]*(\.\d+)?", text.strip()):
        if "elbow" in title and text.strip().lower() in ("-", "x", "no", "np", "n/a"):
            return "not permitted"
        return text.strip()
    match = re.fullmatch(r"-?\d[\d,]*(?:\.\d+)?\s*([^\d\s].*)", above.strip())
    unit = match[1] if match else UNITS.get(title, "ft")
    if title == "Input" and not match and float(text.replace(",", "")) >= 1000:
        unit = "Btu/h"
    return f"{text.strip()} {unit}"


def new_row(data: Data, elbows: bool) -> Data:
    """A row more, with the size and the band of the one above."""
    rows = list(value_at(data, ("row",), []))
    last: dict[str, Any] = rows[-1] if rows else {}
    row: dict[str, Any] = {"input": "", "size": last.get("size", ""), "altitude": list(last.get("altitude", ["", ""]))}
    row["allowable_by_elbows" if elbows else "allowable"] = [""] if elbows else ""
    return put(data, ("row",), [*rows, row])


def pasted(text: str) -> list[list[str]]:
    """Pasted text as cells: tabs between them if there are any, else commas."""
    delimiter = "\t" if "\t" in text else ","
    reader = csv.reader(io.StringIO(text.strip("\r\n")), delimiter=delimiter, skipinitialspace=True)
    return [[cell.strip() for cell in line] for line in reader if any(cell.strip() for cell in line)]


def put_cells(data: Data, row: int, column: int, cells: Sequence[Sequence[str]], elbows: bool) -> Data:
    """Pasted cells from a cell on; rows are added as needed, cells beyond the last column are dropped."""
    heads = titles(elbows)
    for n, line in enumerate(cells):
        while row + n >= len(value_at(data, ("row",), [])):
            data = new_row(data, elbows)
        for k, text in enumerate(line):
            if column + k < len(heads):
                title = heads[column + k]
                above = cell(data, row + n - 1, title) if row + n else ""
                data = set_cell(data, row + n, title, with_unit(text, title, above))
    return data
