"""Deductions as a grid of text: fittings down, "every size" and each size across; in tables by elbows, elbows too."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from ventsize.allowance.gaps import USUAL
from ventsize.catalog.records import same_size
from ventsize.jobfile.editing import Data, put, value_at
from ventsize.quantity import Dimension, QuantityError, System, parse
from ventsize.tui.table import model
from ventsize.tui.table.entering import with_unit
from ventsize.tui.widgets.rows import Cell, Column

EVERY, ELBOWS = "Every size", "As elbows"


def sizes(data: Data) -> list[str]:
    """The sizes the table speaks of, smallest first, as it writes them."""
    typed = [str(row.get("size", "")) for row in model.rows_of(data)]
    for value in _table(data, "deductions").values():
        typed += [str(size) for size in value] if isinstance(value, dict) else []
    found: list[tuple[float, str]] = []
    for text in typed:
        size = _size(text)
        if size is not None and not any(same_size(size, known) for known, _ in found):
            found.append((size, text))
    return [text for _, text in sorted(found)]


def fittings(data: Data, more: Iterable[str] = ()) -> list[str]:
    """The fittings listed: those of the table, the usual ones, and those asked for."""
    names = [*_table(data, "deductions"), *_table(data, "elbows_each")]
    return list(dict.fromkeys([*names, *USUAL, *more]))


def titles(data: Data) -> list[str]:
    """The heads of the columns."""
    return [EVERY, *sizes(data), *([ELBOWS] if model.by_elbows(data) else [])]


def columns(data: Data) -> list[Column]:
    """The columns of the grid."""
    return [Column(title=title, width=max(9, len(title)), align="right") for title in titles(data)]


def cell(data: Data, name: str, title: str) -> Cell:
    """What stands in a cell; faint where a length for every size holds for this one."""
    if title == ELBOWS:
        return Cell(_text(_table(data, "elbows_each").get(name)))
    value = _table(data, "deductions").get(name)
    if title == EVERY:
        return Cell("" if isinstance(value, dict) else _text(value))
    if isinstance(value, dict):
        key = _key(value, title)
        return Cell(_text(value.get(key)))
    return Cell(_text(value), "faint")


def text_at(data: Data, name: str, title: str) -> str:
    """The text that is changed when a cell is."""
    found = cell(data, name, title)
    return "" if found.tone == "faint" else found.text


def set_cell(data: Data, name: str, title: str, text: str, system: System) -> Data:
    """The data with another text in a cell.

    A length for one size, where one for every size stood, leaves that one for the other sizes. A length for every
    size takes the place of those by size.
    """
    if title == ELBOWS:
        return put(data, ("elbows_each", name), _number(text) if text.strip() else None)
    text = with_unit(text, "Allowed", "", system)
    if title == EVERY:
        return put(data, ("deductions", name), text or None)
    value = _table(data, "deductions").get(name)
    by_size = dict(value) if isinstance(value, dict) else {size: value for size in sizes(data) if value}
    key = _key(by_size, title)
    by_size[key] = text
    left = {size: length for size, length in by_size.items() if length}
    return put(data, ("deductions", name), left or None)


def remove(data: Data, name: str) -> Data:
    """The data without a fitting."""
    return put(put(data, ("deductions", name), None), ("elbows_each", name), None)


def _table(data: Data, key: str) -> dict[str, Any]:
    found = value_at(data, (key,), {})
    return found if isinstance(found, dict) else {}


def _text(value: Any) -> str:
    return "" if value is None else str(value)


def _number(text: str) -> Any:
    try:
        return int(text) if text.strip().isdigit() else float(text)
    except ValueError:
        return text


def _key(by_size: dict[str, Any], title: str) -> str:
    wanted = _size(title)
    same = (key for key in by_size if (size := _size(key)) is not None and wanted and same_size(size, wanted))
    return next(same, title)


def _size(text: str) -> float | None:
    try:
        return parse(text, Dimension.LENGTH)
    except QuantityError:
        return None
