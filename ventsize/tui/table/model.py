"""An allowance table as a grid of text: which columns it has, and where each cell stands in the data."""

from __future__ import annotations

from typing import Any

from ventsize.allowance.model import NOT_PERMITTED
from ventsize.jobfile.editing import Data, put, value_at
from ventsize.jobfile.editing import Path as Place
from ventsize.tui.widgets.rows import Column

PLAIN, ELBOWS = "one length a row", "lengths by number of elbows"
FEWEST_ELBOWS, MOST_ELBOWS = 8, 20
WIDTHS = {"Input": 12, "Size": 8, "From": 7, "To": 7, "Allowed": 8, "Least": 6}
KEYS = {"Input": "input", "Size": "size", "Allowed": "allowable", "Least": "minimum"}
TOPICS = {
    "Input": "row_input", "Size": "row_size", "From": "row_from", "To": "row_to", "Allowed": "row_allowed",
    "Least": "row_least",
}  # fmt: skip


def empty_table(kind: str = PLAIN) -> Data:
    """A table to be typed."""
    data: Data = {
        "title": "", "source": "", "applies_to": ["flue gas", "combustion air"], "counts": "each run",
        "deductions": {}, "row": [],
    }  # fmt: skip
    if kind == ELBOWS:
        data["row"] = [{"input": "", "size": "", "altitude": ["", ""], "allowable_by_elbows": []}]
    return data


def rows_of(data: Data) -> list[dict[str, Any]]:
    """The rows as typed."""
    rows = value_at(data, ("row",), [])
    return [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []


def by_elbows(data: Data) -> bool:
    """Whether the table's rows give lengths by number of elbows."""
    return any("allowable_by_elbows" in row for row in rows_of(data))


def titles(data: Data) -> list[str]:
    """The heads of the columns that are typed in."""
    rows = rows_of(data)
    if not by_elbows(data):
        return ["Input", "Size", "From", "To", "Allowed", "Least"]
    longest = max((len(row.get("allowable_by_elbows") or ()) for row in rows), default=0)
    count = min(MOST_ELBOWS, max(FEWEST_ELBOWS, longest + 1))
    plain = ["Allowed"] if any("allowable" in row for row in rows) else []
    return ["Input", "Size", "From", "To", *plain, *map(elbows_title, range(count)), "Least"]


def elbows_title(count: int) -> str:
    """The head of a column of lengths with so many elbows."""
    return "0 elbows" if count == 0 else f"{count} elbow{'s' * (count > 1)}"


def columns(data: Data, unit: str) -> tuple[list[Column], int]:
    """The columns of the grid, and how many of them are typed in; the others say what a row comes to as pressure."""
    heads = titles(data)
    typed = [Column(title=title, width=WIDTHS.get(title, 8), align="right") for title in heads]
    return [*typed, Column(title=unit, width=8, align="right"), Column(title="usually", width=9)], len(heads)


def place(row: int, title: str) -> Place:
    """Where a cell stands in the data."""
    base: Place = ("row", row)
    if title in KEYS:
        return (*base, KEYS[title])
    if title in ("From", "To"):
        return (*base, "altitude", 0 if title == "From" else 1)
    return (*base, "allowable_by_elbows", int(title.split()[0]))


def title_at(at: Place) -> str:
    """The head of the column in which a place in the data stands."""
    if len(at) > 3 and isinstance(at[3], int):
        return elbows_title(at[3]) if at[2] == "allowable_by_elbows" else ("From", "To")[at[3] % 2]
    return next((title for title, key in KEYS.items() if len(at) > 2 and key == at[2]), "Input")


def topic(title: str) -> str:
    """The help topic of a column."""
    return TOPICS.get(title, "row_elbows")


def cell(data: Data, row: int, title: str) -> str:
    """The text of a cell."""
    value = value_at(data, place(row, title))
    return "" if value is None else str(value)


def shown(text: str) -> str:
    """The text of a cell as the grid shows it."""
    return "no" if text == NOT_PERMITTED else text


def set_cell(data: Data, row: int, title: str, text: str) -> Data:
    """The data with another text in a cell; a row that is not there yet is made like the last one."""
    if row >= len(rows_of(data)):
        if not text:
            return data
        data = with_row(data, len(rows_of(data)))
        row = len(rows_of(data)) - 1
    where = place(row, title)
    if title in ("From", "To"):
        return put(data, where[:-1], _with_item(value_at(data, where[:-1], None), int(where[-1]), text, least=2))
    if where[2] == "allowable_by_elbows":
        return put(data, where[:-1], _with_item(value_at(data, where[:-1], None), int(where[-1]), text))
    return put(data, where, text or (None if title == "Least" else ""))


def _with_item(there: Any, at: int, text: str, *, least: int = 0) -> list[Any]:
    """A list with a text at a place; what lies before it is made up as empty text, what is empty at its end goes."""
    items = list(there) if isinstance(there, (list, tuple)) else []
    items += [""] * (max(at + 1, least) - len(items))
    items[at] = text
    while len(items) > least and not items[-1]:
        items.pop()
    return items


def with_row(data: Data, at: int) -> Data:
    """A row more at a place, with the size and the altitudes of the one above."""
    rows = rows_of(data)
    above = rows[at - 1] if 0 < at <= len(rows) else {}
    row: dict[str, Any] = {
        "input": "",
        "size": above.get("size", ""),
        "altitude": list(above.get("altitude", ["", ""])),
    }
    row["allowable_by_elbows" if by_elbows(data) else "allowable"] = [] if by_elbows(data) else ""
    return put(data, ("row",), [*rows[:at], row, *rows[at:]])


def other_kind(data: Data) -> Data:
    """The rows without their lengths, ready for lengths of the other kind."""
    kind: dict[str, Any] = {"allowable": ""} if by_elbows(data) else {"allowable_by_elbows": []}
    kept = ("input", "size", "altitude", "minimum")
    rows = rows_of(data) or [{"input": "", "size": "", "altitude": ["", ""]}]
    return put(data, ("row",), [{**{k: row[k] for k in kept if k in row}, **kind} for row in rows])
