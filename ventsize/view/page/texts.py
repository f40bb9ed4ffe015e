"""Texts of the cells of a page and the values of a row of the table file, each from the other.

A row is the plain data of one `[[row]]`. Its values may be half typed: what cannot be understood stays as typed.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from ventsize.allowance.model import NOT_PERMITTED
from ventsize.quantity import Dimension, QuantityError, System, parse

Row = dict[str, Any]

INPUT, SIZE, ALTITUDE, LENGTH, ELBOWS, LEAST = "input", "size", "altitude", "length", "elbows", "minimum"
PIPES, ENDS, MATERIALS, AIR_SIZE, INCLUDED = "pipes", "ends", "materials", "air_size", "elbows_included"
BY_ELBOWS = "allowable_by_elbows"
NO_BAND = "-"  # in the cell of the altitude: the page gives none
REQUIRED = (INPUT, SIZE, ALTITUDE)
OPTIONAL = (LEAST, PIPES, ENDS, MATERIALS, AIR_SIZE, INCLUDED)
NOT_PERMITTED_WORDS = {
    "-", "--", "–", "—", "―", "x", "no", "np", "n.p.", "n/a", "na", "n.a.", "none", "not allowed", NOT_PERMITTED,
}  # fmt: skip

_PLAIN = r"-?(?:\d[\d,]*(?:\.\d+)?|\.\d+)"
_NUMBER = re.compile(rf"{_PLAIN}(?:[ -]\d+/\d+)?|\d+/\d+")
_UNIT = r"ft\.?|feet|foot|meters?|metres?|m|'|’"
_BAND = re.compile(
    rf"(-?\d[\d,]*(?:\.\d+)?)\s*({_UNIT})?\s*(?:-|–|—|―|to|thru|through|\.\.)\s*(-?\d[\d,]*(?:\.\d+)?)\s*({_UNIT})?",
    re.IGNORECASE,
)
_COUNT = re.compile(r"\d{1,2}")


def is_number(text: str) -> bool:
    """Whether a text is a number without a unit, fractions and thousands included."""
    return _NUMBER.fullmatch(text.strip()) is not None


def unit_of(text: str) -> str:
    """What follows the number that a text begins with."""
    match = _NUMBER.match(text.strip())
    return text.strip()[match.end() :].strip() if match else ""


def is_not_permitted(text: str) -> bool:
    """Whether a cell says that there is no length: a dash, NP, not allowed."""
    return text.strip().lower() in NOT_PERMITTED_WORDS


def band(text: str) -> tuple[str, str] | None:
    """Both altitudes of a band in one cell, such as "0-4500 ft" or "0 to 2000"; else None."""
    match = _BAND.fullmatch(text.strip())
    if match is None:
        return None
    unit = match[4] or match[2]
    return f"{match[1]} {match[2] or unit}" if unit else match[1], f"{match[3]} {unit}" if unit else match[3]


def read(row: Mapping[str, Any], name: str) -> str:
    """The text of what a row says under a name; empty where it says nothing."""
    value = row.get(name)
    if name == ALTITUDE:
        return band_text(value) if ALTITUDE in row else NO_BAND
    if isinstance(value, (list, tuple)):
        return ", ".join(map(str, value))
    return "" if value is None else str(value)


def band_text(value: Any) -> str:
    """A band of altitudes in one text: the unit once, where both ends have the same."""
    if not isinstance(value, (list, tuple)):
        return "" if value is None else str(value)
    ends = [str(end).strip() for end in value if str(end).strip()]
    if len(ends) == 2 and unit_of(ends[0]) == unit_of(ends[1]) and unit_of(ends[0]):
        return f"{ends[0].removesuffix(unit_of(ends[0])).strip()}-{ends[1]}"
    return " - ".join(ends)


def write(row: Row, name: str, text: str, *, above: str = "", system: System = System.US) -> Row:
    """The row with another text under a name; a number without a unit gets the one above it, or the usual one.

    above: the text of the cell above. A dash for the altitude says that the page has no bands.
    """
    text = text.strip()
    if name == ALTITUDE:
        return _with(row, name, _band_value(text, above, system))
    if name in (ENDS, MATERIALS):
        return _with(row, name, [word.strip() for word in text.split(",") if word.strip()] or None)
    if name == PIPES:
        return _with(row, name, {"1": "one", "2": "two"}.get(text, text) or None)
    if name == INCLUDED:
        return _with(row, name, int(text) if _COUNT.fullmatch(text) else text or None)
    value = with_unit(text, name, above, system)
    return _with(row, name, value or (None if name in OPTIONAL else ""))


def read_length(row: Mapping[str, Any], elbows: int | None = None) -> str:
    """The length a row allows, or with elbows the entry of its list at that place (from 0)."""
    if elbows is None:
        return read(row, "allowable") or read(row, "allowable_pressure")
    entries = row.get(BY_ELBOWS)
    listed = entries if isinstance(entries, (list, tuple)) else ()
    return str(listed[elbows]) if elbows < len(listed) else ""


def write_length(row: Row, text: str, elbows: int | None = None, *, above: str = "", system: System = System.US) -> Row:
    """The row with another length: a dash or NP is "not permitted", a pressure is kept as a pressure."""
    text = with_unit(text, LENGTH, above, system)
    if elbows is None:
        left = {key: value for key, value in row.items() if key not in ("allowable", "allowable_pressure", BY_ELBOWS)}
        key = "allowable_pressure" if is_pressure(text) else "allowable"
        return _with(left, key, text)
    entries = list(row.get(BY_ELBOWS) or ())
    entries += [""] * (elbows + 1 - len(entries))
    entries[elbows] = text
    while entries and not entries[-1]:
        entries.pop()
    return _with(
        {key: value for key, value in row.items() if key not in ("allowable", "allowable_pressure")}, BY_ELBOWS, entries
    )


def is_pressure(text: str) -> bool:
    """Whether a text is a pressure: a page may give one instead of a length."""
    try:
        parse(text, Dimension.PRESSURE)
    except QuantityError:
        return False
    return True


def with_unit(text: str, name: str, above: str = "", system: System = System.US) -> str:
    """What is typed, with the unit of the cell above or the usual one where it has none."""
    text = text.strip()
    if name == LENGTH and is_not_permitted(text):
        return NOT_PERMITTED
    if not is_number(text):
        return text
    unit = unit_of(above)
    if not unit or not is_number(above.strip().removesuffix(unit)) or unit.startswith("-"):
        unit = ""
    if not unit or (name == INPUT and (_large(text) != (unit == "Btu/h")) and unit != "kW"):
        unit = usual_unit(name, text, system)
    return f"{text} {unit}"


def usual_unit(name: str, number: str, system: System) -> str:
    """The unit a bare number is taken to be in."""
    metric = system is System.SI
    if name == INPUT:
        return "kW" if metric else ("Btu/h" if _large(number) else "kBtu/h")
    if name in (SIZE, AIR_SIZE):
        return "mm" if metric else "in"
    return "m" if metric else "ft"


def same(name: str, one: str, other: str) -> bool:
    """Whether two texts under a name say the same: 80 MBH is 80,000 Btu/h."""
    return bool(key_of(name, one) == key_of(name, other))


def key_of(name: str, text: str) -> Any:
    """What a text comes to, to compare by: an SI value rounded, else the text itself."""
    if name == ALTITUDE:
        ends = band(text)
        return tuple(_value(Dimension.LENGTH, end) for end in ends) if ends else text.strip()
    return _value(Dimension.POWER if name == INPUT else Dimension.LENGTH, text)


def _value(dimension: Dimension, text: str) -> Any:
    try:
        return float(f"{parse(text, dimension, signed=True):.6g}")
    except (QuantityError, ValueError):
        return text.strip()


def _with(row: Row, key: str, value: Any) -> Row:
    """The row with a value under a key, in the order that files are written in; without it where that is None."""
    from ventsize.jobfile.editing import put

    changed: Row = put({"row": [row]}, ("row", 0, key), value)["row"][0] if value is not None or key in row else row
    return changed


def _band_value(text: str, above: str, system: System) -> list[str] | None:
    if not text or is_not_permitted(text):
        return None
    ends = band(text)
    if ends is None:
        return [text, ""]
    low, high = ends
    if is_number(high):
        above_ends = band(above)
        unit = unit_of(above_ends[1]) if above_ends else ""
        unit = unit or usual_unit(ALTITUDE, high, system)
        low, high = f"{low} {unit}", f"{high} {unit}"
    return [low, high]


def _large(number: str) -> bool:
    """Whether an input is in Btu/h rather than in thousands of them."""
    return len(re.sub(r"\.\d+|\D", "", number)) > 3
