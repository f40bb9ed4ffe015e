"""From what a person typed to an SI number, or one clear sentence.

The grammar, after typographic characters are made plain:

    quantity = [sign] number [unit]
    length   = [sign] whole ("ft" | "'") ["-"] number ("in" | '"'); after ' the last mark may be left out
    number   = digits with thousands commas, decimals, power of ten, or a fraction: 6, 6 1/2, 6-1/2, 1/2
"""

from __future__ import annotations

import math
from functools import lru_cache

from ventsize.quantity.convert import to_si
from ventsize.quantity.dimensions import Dimension, expected
from ventsize.quantity.errors import QuantityError, Refusal, quoted
from ventsize.quantity.numbers import plain, read_number
from ventsize.quantity.spellings import dimensions_of, find_unit

LONGEST = 80  # characters: no quantity needs more

_KINDS = {bool: "true or false", list: "a list", dict: "a table"}
_FEET = ("feet", "foot", "ft.", "ft", "'")
_NUMBER_STARTS = frozenset("0123456789.+-")


def parse(text: str, dimension: Dimension, *, signed: bool = False) -> float:
    """The quantity written in `text`, in SI.

    text: number and unit as a tradesperson writes them, e.g. `12' 6 1/2"`, `80 MBH`, `0.31 in w.c.`
    dimension: what kind of quantity is asked for; a bare number is understood as a FRACTION only
    signed: whether a value below zero is allowed (a temperature may always be below 0 °F or 0 °C)

    Raises QuantityError, whose text is one sentence.
    """
    try:
        return _parse(text, dimension, signed)
    except Refusal as refusal:
        raise QuantityError(f"{quoted(text)} {refusal}", expected(dimension, refusal.limit)) from None


def parse_number_or_text(value: object, dimension: Dimension, *, signed: bool = False) -> float:
    """A quantity as a file gives it: text with a unit or, for a FRACTION only, a plain number; in SI.

    Raises QuantityError.
    """
    if isinstance(value, str):
        return parse(value, dimension, signed=signed)
    if isinstance(value, bool) or not isinstance(value, int | float):
        kind = _KINDS.get(type(value), "something else")
        raise QuantityError(f"{kind} stands where a quantity should", expected(dimension))
    try:
        typed, number = f"{value:g}", float(value)
    except OverflowError:
        raise QuantityError("the number is too large", expected(dimension)) from None
    if dimension is not Dimension.FRACTION:
        raise QuantityError(f"{typed} has no unit", expected(dimension, " with its unit, in quotes"))
    try:
        return _checked(number, dimension, signed)
    except Refusal as refusal:
        raise QuantityError(f"{typed} {refusal}", expected(dimension, refusal.limit)) from None


@lru_cache(maxsize=8192)  # a job is read anew at every keystroke, and all but one text is as it was
def _parse(text: str, dimension: Dimension, signed: bool) -> float:
    if len(text) > LONGEST:
        raise Refusal(f"is {len(text):,} characters long", limit=f" in {LONGEST} characters or fewer")
    typed = plain(text)
    if not typed:
        raise Refusal("is empty")
    negative = typed[0] == "-"
    body = typed[1:].lstrip() if typed[0] in "+-" else typed
    if negative and not signed and dimension is not Dimension.TEMPERATURE and read_number(body).value:
        raise _below_zero()  # first: a missing unit is the lesser fault
    magnitude, unit = _read(body, dimension)
    value = -magnitude if negative else magnitude
    si = value if unit is None else to_si(value, unit, dimension)
    return _checked(si, dimension, signed)


def _checked(si: float, dimension: Dimension, signed: bool) -> float:
    if not math.isfinite(si):
        raise Refusal("is not a finite number" if math.isnan(si) else "is too large a number")
    if dimension is Dimension.TEMPERATURE:
        if si < 0.0:
            raise Refusal("is below absolute zero", limit=" above -459.67 °F or -273.15 °C")
    elif si < 0.0 and not signed:
        raise _below_zero()
    return si + 0.0  # no negative zero


def _below_zero() -> Refusal:
    return Refusal("is below zero", limit=" of zero or more")


def _read(body: str, dimension: Dimension) -> tuple[float, str | None]:
    """Magnitude and unit of an unsigned quantity; the unit is None for a bare number."""
    number = read_number(body)
    rest = body[number.end :].strip()
    if not rest:
        if dimension is Dimension.FRACTION:
            return number.value, None
        raise Refusal("has no unit")
    unit = find_unit(rest, dimension)
    if unit is not None:
        return number.value, unit
    other = dimensions_of(rest)
    if not other:
        inches = _feet_and_inches(number.value, number.whole, rest)
        if inches is not None and dimension is Dimension.LENGTH:
            return inches, "inch"
        other = (Dimension.LENGTH,) if inches is not None else ()
    if dimension is Dimension.POWER and rest in ("k", "K"):  # an "80k furnace", as it is spoken of
        raise Refusal("says how many thousand, but not of what: 80k could be 80 MBH or 80 kW")
    if other:
        raise Refusal(f"is {other[0].with_article}, not {dimension.with_article}")
    raise Refusal(_why_no_unit(rest, dimension))


def _why_no_unit(rest: str, dimension: Dimension) -> str:
    if rest[0] in _NUMBER_STARTS:
        inches = "; inches after the feet go up to 11" if dimension is Dimension.LENGTH else ""
        return f"has a second number where the unit should be{inches}"
    if rest[0] in "*/^(":
        return "has arithmetic in it, and only one number with its unit is read"
    return f"ends in {quoted(rest)}, which is not a unit of {dimension.value}"


def _feet_and_inches(feet: float, whole: bool, rest: str) -> float | None:
    """Total inches, where `rest` is what follows the number of feet; None if it is not feet and inches."""
    mark = next((word for word in _FEET if rest.lower().startswith(word)), None)
    if mark is None:
        return None
    tail = rest[len(mark) :]
    # A hyphen joins in 12'-6", as on drawings; in 12 ft -6 in it is a sign, and a slip.
    joined = tail.startswith(("-", " - "))
    tail = tail.strip().removeprefix("-").strip() if joined else tail.strip()
    if tail[:1] not in _NUMBER_STARTS:
        return None
    if tail[0] in "+-":
        raise Refusal("has a sign before the inches")
    if not whole:
        raise Refusal("has inches after feet that are not a whole number")
    inches = read_number(tail)
    unit = tail[inches.end :].strip()
    if unit or mark != "'":
        _require_inches(unit)
    if inches.value >= 12.0:
        raise Refusal("has 12 inches or more after the feet, which leaves in doubt what was meant")
    return 12.0 * feet + inches.value


def _require_inches(unit: str) -> None:
    if not unit:
        raise Refusal("has a second number without a unit")
    if find_unit(unit, Dimension.LENGTH) != "inch":
        raise Refusal(f"has {quoted(unit)} after the inches")
