"""An allowance table as a sheet of cells (CSV), for a spreadsheet or another person; and back."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ventsize.jobfile.problems import InputError, Problem

HEADS = ("input", "size", "from", "to", "allowed", "least")
CELLS = {"input": "input", "size": "size", "allowed": "allowable", "least": "minimum"}
SELDOM = {
    "pressure": "allowable_pressure", "elbows included": "elbows_included", "pipes": "pipes", "ends": "ends",
    "materials": "materials", "air size": "air_size",
}  # fmt: skip
"""Columns of rows that stand there only where a row has them."""
ABOUT = (
    "title", "source", "note", "applies_to", "counts", "mixed_sizes", "altitude_factor", "confirm", "counts_as",
    "most_elbows", "limits",
)  # fmt: skip
LISTS = ("applies_to",)
DEDUCTION, EVERY, ELBOWS, PER_TWO = "deduction", "every size", "as elbows", "per two"
EXPOSED = {"exposed size": "size", "outdoor": "outdoor", "insulation": "insulation", "allowed": "allowable"}
FITTING = {"fitting": "name", "title": "title", "kind": "kind", "angle": "angle", "k": "k"}


def as_sheet(data: Mapping[str, Any]) -> str:
    """A table's data as CSV: what it is, its rows, its deductions and so on, with an empty line between.

    Raises InputError where the data has not the shape of a table; what stands in it need not be right.
    """
    _refuse_other_shapes(data)
    blocks = [
        _about(data),
        _rows(data),
        _deductions(data),
        _records(data.get("exposed"), EXPOSED),
        _records(data.get("fitting"), FITTING),
    ]
    made = io.StringIO()
    writer = csv.writer(made, lineterminator="\n")
    for number, block in enumerate(block for block in blocks if block):
        if number:
            made.write("\n")
        writer.writerows(block)
    return made.getvalue()


def _refuse_other_shapes(data: Mapping[str, Any]) -> None:
    tables, lists = ("deductions", "elbows_each"), ("row", "exposed", "fitting")
    wrong = [key for key in tables if not isinstance(data.get(key, {}), Mapping)]
    wrong += [key for key in lists if not isinstance(data.get(key, []), (list, tuple))]
    rows = [row for row in data.get("row", ()) if isinstance(row, Mapping)] if "row" not in wrong else []
    wrong += [
        f"row {number}, {key}"
        for number, row in enumerate(rows, start=1)
        for key in ("altitude", "allowable_by_elbows")
        if not isinstance(row.get(key, []), (list, tuple))
    ]
    if wrong:
        raise InputError([Problem("", place, "it has not the shape of this part of a table", "") for place in wrong])


def is_sheet(text: str) -> bool:
    """Whether a text is a sheet made by `as_sheet`."""
    return text.lstrip("\ufeff").lower().startswith("title,")


def from_sheet(text: str) -> dict[str, Any]:
    """The data of a sheet made by `as_sheet`; what cannot be understood is left for the table's own checks to say."""
    data: dict[str, Any] = {"title": "", "source": "", "applies_to": [], "counts": "", "deductions": {}, "row": []}
    for block in _blocks(text.lstrip("\ufeff")):
        first = block[0][0].lower()
        if first == "title":
            for head, cell in ((*line, "")[:2] for line in block):
                _take_about(data, head, cell)
        elif first == DEDUCTION:
            _take_deductions(data, block)
        elif first in ("exposed size", "fitting"):
            key, heads = ("fitting", FITTING) if first == "fitting" else ("exposed", EXPOSED)
            data[key] = data.get(key, []) + [_record_of(dict(_under(block[0], line)), heads) for line in block[1:]]
        else:
            data["row"] += [_row_of(dict(_under(block[0], line))) for line in block[1:]]
    return data


def _under(heads: Sequence[str], line: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Cells that are filled, under the heads of their columns."""
    return ((head.lower(), cell) for head, cell in zip(heads, line, strict=False) if cell)


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
    return [line for key in ABOUT for line in _about_lines(key, data.get(key)) if line[1] or key == "title"]


def _about_lines(key: str, value: Any) -> Iterator[list[str]]:
    """One line a key; one for each key of a table in it, and for each text of a list of footnotes."""
    if isinstance(value, Mapping):
        yield from ([f"{key} {name}", _text(below)] for name, below in value.items())
    elif isinstance(value, (list, tuple)) and key not in LISTS:
        yield from ([key, _text(item)] for item in value)
    else:
        yield [key, "; ".join(map(str, value)) if isinstance(value, (list, tuple)) else _text(value)]


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return "" if value is None else str(value)


def _take_about(data: dict[str, Any], head: str, text: str) -> None:
    first, _, name = head.partition(" ")
    key = first.lower()
    if key not in ABOUT:
        return
    if name:
        data.setdefault(key, {})[name] = _plain(text) if key in ("limits", "counts_as") else text
    elif key == "confirm":
        data.setdefault(key, []).append(text)
    elif key in LISTS:
        data[key] = [word.strip() for word in text.split(";")]
    else:
        data[key] = _plain(text) if key == "most_elbows" else text


def _plain(text: str) -> Any:
    """A number or true or false as such, any other text as it stands."""
    if text.lower() in ("true", "false"):
        return text.lower() == "true"
    try:
        return int(text) if text.isdigit() else float(text)
    except ValueError:
        return text


def _rows(data: Mapping[str, Any]) -> list[list[str]]:
    rows = [row for row in data.get("row", ()) if isinstance(row, Mapping)]
    last = max((_first(row) + len(row.get("allowable_by_elbows") or ()) for row in rows), default=0)
    first = min((_first(row) for row in rows if row.get("allowable_by_elbows")), default=0)
    counts = [f"{n} elbow{'s' * (n != 1)}" for n in range(first, last)]
    heads = [*HEADS, *counts, *(head for head, key in SELDOM.items() if any(key in row for row in rows))]
    return [heads, *([_cell(row, head) for head in heads] for row in rows)]


def _first(row: Mapping[str, Any]) -> int:
    first = row.get("first_elbows")
    return first if isinstance(first, int) else 0


def _cell(row: Mapping[str, Any], head: str) -> str:
    key = CELLS.get(head) or SELDOM.get(head)
    if key:
        value = row.get(key, "")
        return "; ".join(map(str, value)) if isinstance(value, (list, tuple)) else str(value)
    if head in ("from", "to"):
        band = row.get("altitude") or ("", "")
        return str(band[head == "to"]) if len(band) == 2 else ""
    entries = row.get("allowable_by_elbows") or ()
    at = int(head.split()[0]) - _first(row)
    return str(entries[at]) if 0 <= at < len(entries) else ""


def _row_of(cells: Mapping[str, str]) -> dict[str, Any]:
    row: dict[str, Any] = {"input": cells.get("input", ""), "size": cells.get("size", "")}
    if "from" in cells or "to" in cells:
        row["altitude"] = [cells.get("from", ""), cells.get("to", "")]
    by_count = {int(head.split()[0]): text for head, text in cells.items() if _is_count(head)}
    if by_count:
        if min(by_count):
            row["first_elbows"] = min(by_count)
        row["allowable_by_elbows"] = [by_count.get(n, "") for n in range(min(by_count), max(by_count) + 1)]
    if "allowed" in cells or not (by_count or "pressure" in cells):
        row["allowable"] = cells.get("allowed", "")
    if "least" in cells:
        row["minimum"] = cells["least"]
    for head, key in SELDOM.items():
        if head in cells:
            row[key] = _seldom(key, cells[head])
    return row


def _is_count(head: str) -> bool:
    words = head.split()
    return len(words) == 2 and words[0].isdigit() and words[1].startswith("elbow")


def _seldom(key: str, text: str) -> Any:
    if key in ("ends", "materials"):
        return [word.strip() for word in text.split(";")]
    return _plain(text) if key == "elbows_included" else text


def _deductions(data: Mapping[str, Any]) -> list[list[str]]:
    found, elbows = data.get("deductions") or {}, data.get("elbows_each") or {}
    names = list(dict.fromkeys([*found, *elbows]))
    if not names:
        return []
    by_size = {name: value for name, value in found.items() if isinstance(value, Mapping) and "per_two" not in value}
    pairs = {
        name: value["per_two"] for name, value in found.items() if isinstance(value, Mapping) and "per_two" in value
    }
    sizes = list(dict.fromkeys(size for value in by_size.values() for size in value))
    lines = [[DEDUCTION, EVERY, *([PER_TWO] if pairs else []), *sizes, *([ELBOWS] if elbows else [])]]
    for name in names:
        every = "" if name in by_size or name in pairs else str(found.get(name, ""))
        line = [name, every, *([str(pairs.get(name, ""))] if pairs else [])]
        line += [str(by_size.get(name, {}).get(size, "")) for size in sizes]
        lines.append([*line, *([str(elbows.get(name, ""))] if elbows else [])])
    return lines


def _take_deductions(data: dict[str, Any], block: Sequence[Sequence[str]]) -> None:
    for line in block[1:]:
        cells = dict(zip(block[0][1:], line[1:], strict=False))
        by_size = {size: text for size, text in cells.items() if text and size.lower() not in (EVERY, ELBOWS, PER_TWO)}
        said = {head.lower(): text for head, text in cells.items() if text}
        if PER_TWO in said:
            data["deductions"][line[0]] = {"per_two": said[PER_TWO]}
        elif EVERY in said or by_size:
            data["deductions"][line[0]] = said.get(EVERY) or by_size
        if ELBOWS in said:
            data.setdefault("elbows_each", {})[line[0]] = _plain(said[ELBOWS])


def _records(listed: Any, heads: Mapping[str, str]) -> list[list[str]]:
    """Records of one kind, one a line; columns that nobody fills are left out but for the first."""
    records = [record for record in listed or () if isinstance(record, Mapping)]
    if not records:
        return []
    used = [head for head, key in heads.items() if any(key in record for record in records)]
    return [used, *([_text(record.get(heads[head])) for head in used] for record in records)]


def _record_of(cells: Mapping[str, str], heads: Mapping[str, str]) -> dict[str, Any]:
    return {key: _plain(cells[head]) if key == "k" else cells[head] for head, key in heads.items() if head in cells}
