"""Deductions as a grid of text: fittings down, "every size" and each size across; in tables by elbows, elbows too."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from ventsize.allowance.gaps import USUAL
from ventsize.catalog.records import same_size
from ventsize.jobfile.editing import Data, put, value_at
from ventsize.quantity import Dimension, QuantityError, System, parse
from ventsize.tui.widgets.rows import Cell, Column
from ventsize.view.page.layout import by_elbows, rows_of
from ventsize.view.page.texts import LENGTH, with_unit

EVERY, ELBOWS = "Every size", "As elbows"
AIR_ENDS = ("entrance-open", "entrance-flush")  # of an air pipe; a job with one is incomplete without its deduction
_PER_TWO = re.compile(r"(.*?)\s*(?:p|per|a)\s*(?:two|2|pair)", re.IGNORECASE)


def sizes(data: Data) -> list[str]:
    """The sizes the table speaks of, smallest first, as it writes them."""
    typed = [str(row.get("size", "")) for row in rows_of(data)]
    for value in _table(data, "deductions").values():
        typed += [str(size) for size in value] if isinstance(value, dict) else []
    found: list[tuple[float, str]] = []
    for text in typed:
        size = _size(text)
        if size is not None and not any(same_size(size, known) for known, _ in found):
            found.append((size, text))
    return [text for _, text in sorted(found)]


def fittings(data: Data, more: Iterable[str] = ()) -> list[str]:
    """The fittings to be listed: those listed already, those of the table, the usual ones.

    Those listed already stay in their places, so that nobody's next figure lands in another line.
    """
    names = [*_table(data, "deductions"), *_table(data, "elbows_each")]
    ends = AIR_ENDS if "combustion air" in value_at(data, ("applies_to",), ()) else ()
    return list(dict.fromkeys([*more, *names, *USUAL, *ends]))


def titles(data: Data) -> list[str]:
    """The heads of the columns."""
    return [EVERY, *sizes(data), *([ELBOWS] if by_elbows(data) else [])]


def columns(data: Data) -> list[Column]:
    """The columns of the grid."""
    return [Column(title=title, width=max(10, len(title)), align="right") for title in titles(data)]


def cell(data: Data, name: str, title: str) -> Cell:
    """What stands in a cell; faint where a length for every size holds for this one."""
    if title == ELBOWS:
        return Cell(_text(_table(data, "elbows_each").get(name)))
    value = _table(data, "deductions").get(name)
    if isinstance(value, dict) and "per_two" in value:
        return Cell(f"{value['per_two']} per two", "" if title == EVERY else "faint")
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


def by_size(data: Data, name: str) -> bool:
    """Whether a fitting has lengths of its own for some sizes."""
    value = _table(data, "deductions").get(name)
    return isinstance(value, dict) and "per_two" not in value


def set_cell(data: Data, name: str, title: str, text: str, system: System) -> Data:
    """The data with another text in a cell.

    A length for one size, where one for every size stood, leaves that one for the other sizes. A length for every
    size, where some sizes have one, is for the others alone: nothing typed is lost. "3 per two" is for each begun pair.
    """
    if title == ELBOWS:
        return put(data, ("elbows_each", name), _number(text) if text.strip() else None)
    pair = _PER_TWO.fullmatch(text.strip())
    text = with_unit(pair[1] if pair else text, LENGTH, "", system)
    if pair and text:
        return put(data, ("deductions", name), {"per_two": text})
    value = _table(data, "deductions").get(name)
    if title == EVERY:
        if not by_size(data, name):
            return put(data, ("deductions", name), text or None)
        assert isinstance(value, dict)
        left = {size: text for size in sizes(data) if _key(value, size) not in value} if text else {}
        return put(data, ("deductions", name), {**value, **left})
    lengths = dict(value) if isinstance(value, dict) and by_size(data, name) else {}
    if isinstance(value, str):
        lengths = dict.fromkeys(sizes(data), value)
    lengths[_key(lengths, title)] = text
    return put(data, ("deductions", name), {size: length for size, length in lengths.items() if length} or None)


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
