"""An allowance table as a sheet of cells (CSV), for a spreadsheet or another person; and back."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from typing import Any

HEADS = ("input", "size", "from", "to", "allowed", "least")
ABOUT = ("title", "source", "note", "applies_to", "counts", "most_elbows")
DEDUCTION, EVERY, ELBOWS = "deduction", "every size", "as elbows"


def as_sheet(data: Mapping[str, Any]) -> str:
    """A table's data as CSV: what it is, its rows, its deductions, with an empty line between."""
    blocks = [_about(data), _rows(data), _deductions(data)]
    made = io.StringIO()
    writer = csv.writer(made, lineterminator="\n")
    for number, block in enumerate(block for block in blocks if block):
        if number:
            made.write("\n")
        writer.writerows(block)
    return made.getvalue()


def is_sheet(text: str) -> bool:
    """Whether a text is a sheet made by `as_sheet`."""
    return text.lstrip("\ufeff").lower().startswith("title,")


def from_sheet(text: str) -> dict[str, Any]:
    """The data of a sheet made by `as_sheet`; what cannot be understood is left for the table's own checks to say."""
    data: dict[str, Any] = {"title": "", "source": "", "applies_to": [], "counts": "", "deductions": {}, "row": []}
    for block in _blocks(text.lstrip("\ufeff")):
        first = block[0][0].lower()
        if first == "title":
            data |= {line[0].lower(): _about_value(line) for line in block if line[0].lower() in ABOUT}
        elif first == DEDUCTION:
            _take_deductions(data, block)
        else:
            heads = [head.lower() for head in block[0]]
            data["row"] += [_row_of(dict(zip(heads, line, strict=False))) for line in block[1:]]
    return data


def _blocks(text: str) -> list[list[list[str]]]:
    blocks: list[list[list[str]]] = [[]]
    for line in csv.reader(io.StringIO(text), skipinitialspace=True):
        cells = [cell.strip() for cell in line]
        if any(cells):
            blocks[-1].append(cells)
        elif blocks[-1]:
            blocks.append([])
    return [block for block in blocks if block]


def _about(data: Mapping[str, Any]) -> list[list[str]]:
    return [
        [key, "; ".join(map(str, value)) if isinstance(value, (list, tuple)) else str(value)]
        for key in ABOUT if (value := data.get(key)) not in (None, "") or key == "title"
    ]  # fmt: skip


def _about_value(line: Sequence[str]) -> Any:
    text = line[1] if len(line) > 1 else ""
    if line[0].lower() == "most_elbows":
        return _whole(text)
    return [word.strip() for word in text.split(";")] if line[0].lower() == "applies_to" else text


def _rows(data: Mapping[str, Any]) -> list[list[str]]:
    rows = [row for row in data.get("row", ()) if isinstance(row, Mapping)]
    longest = max((len(row.get("allowable_by_elbows") or ()) for row in rows), default=0)
    heads = [*HEADS, *(f"{n} elbow{'s' * (n != 1)}" for n in range(longest))]
    return [heads, *([_cell(row, head) for head in heads] for row in rows)]


def _cell(row: Mapping[str, Any], head: str) -> str:
    keys = {"input": "input", "size": "size", "allowed": "allowable", "least": "minimum"}
    if head in keys:
        return str(row.get(keys[head], ""))
    if head in ("from", "to"):
        band = row.get("altitude") or ("", "")
        return str(band[head == "to"]) if len(band) == 2 else ""
    entries = row.get("allowable_by_elbows") or ()
    at = int(head.split()[0])
    return str(entries[at]) if at < len(entries) else ""


def _row_of(cells: Mapping[str, str]) -> dict[str, Any]:
    row: dict[str, Any] = {"input": cells.get("input", ""), "size": cells.get("size", "")}
    row["altitude"] = [cells.get("from", ""), cells.get("to", "")]
    entries = [text for head, text in cells.items() if "elbow" in head]
    while entries and not entries[-1]:
        entries.pop()
    if entries:
        row["allowable_by_elbows"] = entries
    if cells.get("allowed") or not entries:
        row["allowable"] = cells.get("allowed", "")
    if cells.get("least"):
        row["minimum"] = cells["least"]
    return row


def _deductions(data: Mapping[str, Any]) -> list[list[str]]:
    found, elbows = data.get("deductions") or {}, data.get("elbows_each") or {}
    names = list(dict.fromkeys([*found, *elbows]))
    if not names:
        return []
    sizes = list(dict.fromkeys(size for value in found.values() if isinstance(value, Mapping) for size in value))
    lines = [[DEDUCTION, EVERY, *sizes, *([ELBOWS] if elbows else [])]]
    for name in names:
        value = found.get(name, "")
        by_size = value if isinstance(value, Mapping) else {}
        line = [name, "" if by_size else str(value), *(str(by_size.get(size, "")) for size in sizes)]
        lines.append([*line, *([str(elbows.get(name, ""))] if elbows else [])])
    return lines


def _take_deductions(data: dict[str, Any], block: Sequence[Sequence[str]]) -> None:
    heads = block[0]
    for line in block[1:]:
        cells = dict(zip(heads[1:], line[1:], strict=False))
        by_size = {size: text for size, text in cells.items() if text and size.lower() not in (EVERY, ELBOWS)}
        every = next((text for head, text in cells.items() if head.lower() == EVERY), "")
        if every or by_size:
            data["deductions"][line[0]] = every or by_size
        elbows = next((text for head, text in cells.items() if head.lower() == ELBOWS), "")
        if elbows:
            data.setdefault("elbows_each", {})[line[0]] = float(elbows) if "." in elbows else _whole(elbows)


def _whole(text: str) -> Any:
    return int(text) if text.isdigit() else text
