"""What is typed or pasted into the cells of a table: units left out, bands in one word, blocks of cells."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass

from ventsize.allowance.model import NOT_PERMITTED
from ventsize.jobfile.editing import Data
from ventsize.quantity import System
from ventsize.tui.table import model

_PLAIN = r"-?\d[\d,]*(?:\.\d+)?"
NUMBER = re.compile(rf"{_PLAIN}(?:[ -]\d+/\d+)?|\d+/\d+")
BAND = re.compile(
    r"(-?\d[\d,]*(?:\.\d+)?)\s*(ft|m|')?\s*(?:-|–|—|to|\.\.)\s*(-?\d[\d,]*(?:\.\d+)?)\s*(ft|m|')?", re.IGNORECASE
)
NOT_ALLOWED = {"-", "–", "—", "x", "no", "np", "n/a", "na", "none", "not allowed", NOT_PERMITTED}
WORDS = {
    "Input": ("input", "mbh", "btu", "btu/h", "btuh", "kw", "firing rate"), "Size": ("size", "pipe", "diameter"),
    "From": ("from", "lowest", "min altitude"), "To": ("to", "highest", "max altitude"),
    "Allowed": ("allowed", "allowable", "maximum", "max", "length"), "Least": ("least", "minimum", "min"),
}  # fmt: skip


def with_unit(text: str, title: str, above: str, system: System = System.US) -> str:
    """A bare number gets the unit of the cell above, or the column's usual one."""
    text = text.strip()
    if "elbow" in title and text.lower() in NOT_ALLOWED:
        return NOT_PERMITTED
    if not NUMBER.fullmatch(text):
        return text
    match = NUMBER.match(above.strip())
    unit = above.strip()[match.end() :].strip() if match else ""
    if not unit.replace("/", "").isalpha() or (
        title == "Input" and (_large(text) != (unit == "Btu/h")) and unit != "kW"
    ):
        unit = _usual_unit(title, text, system)
    return f"{text} {unit}"


def _large(number: str) -> bool:
    """Whether an input is in Btu/h rather than in thousands of them."""
    return len(re.sub(r"\.\d+|\D", "", number)) > 3


def _usual_unit(title: str, number: str, system: System) -> str:
    metric = system is System.SI
    if title == "Input":
        return "kW" if metric else ("Btu/h" if _large(number) else "kBtu/h")
    if title == "Size":
        return "mm" if metric else "in"
    return "m" if metric else "ft"


def band(text: str) -> tuple[str, str] | None:
    """Both altitudes of a band typed in one cell, such as "0-4500 ft" or "0 to 2000"; else None."""
    match = BAND.fullmatch(text.strip())
    if match is None:
        return None
    unit = match[4] or match[2]
    return f"{match[1]} {match[2] or unit}" if unit else match[1], f"{match[3]} {unit}" if unit else match[3]


def put_text(data: Data, row: int, title: str, text: str, system: System, *, ended: bool = True) -> Data:
    """The data with a text typed into a cell, as it is understood. A band of altitudes waits until it is whole."""
    ends = band(text) if title == "From" and ended else None
    if ends is not None:
        data = put_text(data, row, "From", ends[0], system)
        return put_text(data, row, "To", ends[1], system)
    above = model.cell(data, row - 1, title) if row else ""
    return model.set_cell(data, row, title, with_unit(text, title, above, system))


def fill_down(data: Data, row: int, title: str) -> tuple[Data, int]:
    """A cell copied into the empty ones right below it; gives how many."""
    text, filled = model.cell(data, row, title), 0
    for below in range(row + 1, len(model.rows_of(data))):
        if model.cell(data, below, title):
            break
        data, filled = model.set_cell(data, below, title, text), filled + 1
    return data, filled


@dataclass(frozen=True, slots=True)
class Block:
    """Pasted text as cells. heads: the first line, where it holds the heads of columns and no values."""

    cells: tuple[tuple[str, ...], ...]
    heads: tuple[str, ...] = ()


def block(text: str) -> Block:
    """Pasted text as a block of cells: tabs between them if there are any, else semicolons, else commas."""
    text = text.replace("\r\n", "\n").replace("\r", "\n").strip("\n")
    delimiter = next((mark for mark in ("\t", ";") if mark in text), ",")
    if delimiter == "," and "\n" not in text and re.fullmatch(r"\d{1,3}(,\d{3})+(\s.*)?", text):
        return Block(((text,),))  # one number with a comma for thousands
    reader = csv.reader(io.StringIO(text), delimiter=delimiter, skipinitialspace=True)
    lines = [tuple(cell.strip() for cell in line) for line in reader if any(cell.strip() for cell in line)]
    if len(lines) > 1 and (not any(NUMBER.match(cell) for cell in lines[0]) or heads_of(lines[0])):
        return Block(tuple(lines[1:]), lines[0])
    return Block(tuple(lines))


def heads_of(cells: Sequence[str]) -> list[str] | None:
    """The columns that a line of heads names, or None where one of them is none of ours."""
    found = [_head(cell) for cell in cells]
    return [head for head in found if head] if all(found) and len(set(found)) == len(found) else None


def _head(text: str) -> str | None:
    words = text.lower().strip()
    match = re.fullmatch(r"(\d+)\s*(elbows?|ells?)", words)
    if match:
        return model.elbows_title(int(match[1]))
    words = re.sub(r"\s*[(,].*$", "", words)
    return next((title for title, known in WORDS.items() if words == title.lower() or words in known), None)


def put_block(data: Data, row: int, column: int, pasted: Block, system: System) -> tuple[Data, int]:
    """Pasted cells from a cell on, rows added as needed; gives how many cells found no column."""
    named = heads_of(pasted.heads) if pasted.heads else None
    dropped = 0
    for n, line in enumerate(pasted.cells):
        for k, text in enumerate(line):
            heads = _targets(data, column, named, k)
            if heads is None:
                dropped += bool(text)
            else:
                data = put_text(data, row + n, heads, text, system)
    return data, dropped


def _targets(data: Data, column: int, named: list[str] | None, k: int) -> str | None:
    """The column of the k-th pasted cell. Columns of elbows go on as long as there are cells."""
    if named is not None:
        return named[k] if k < len(named) else None
    heads = model.titles(data)
    if column + k < len(heads) - 1 or not model.by_elbows(data):
        return heads[column + k] if column + k < len(heads) else None
    beyond = column + k - heads.index("0 elbows")
    return model.elbows_title(beyond) if beyond < model.MOST_ELBOWS else None
