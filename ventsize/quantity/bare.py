"""Numbers typed without a unit, which get the one that stands beside where they are typed."""

from __future__ import annotations

import re
from fractions import Fraction

_BARE = re.compile(r"[+-]?(?:[0-9][0-9,]*\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")

_SPACED = re.compile(r"(?<![\d.,/ ])\d{1,3}(?: \d{3})+(?![\d/.])")  # thousands apart: 80 000
_SPOKEN = re.compile(
    r"(?P<feet>[0-9]+(?:\.[0-9]+)?)(?:[ -](?P<inches>[0-9]{1,2}))?(?:[ -](?P<part>[0-9]{1,2}/[1-9][0-9]?))?"
)


def is_bare(text: str) -> bool:
    """Whether a text is a number and nothing else: `18`, `-0.3`, `80,000`."""
    return _BARE.fullmatch(text.strip()) is not None


def with_commas(text: str) -> str:
    """Thousands that stand apart get their comma: `80 000` is 80,000."""
    return _SPACED.sub(lambda found: found[0].replace(" ", ","), text)


def with_unit(text: str, unit: str) -> str:
    """What is typed, a bare number with the unit it is meant in; `parse` then says what is wrong with it.

    unit: as shown beside the entry; empty where none is taken for granted.
    """
    text = with_commas(text.strip())
    return f"{text} {unit}" if unit and is_bare(text) else text


def with_feet(text: str) -> str:
    """Feet as people say them, in full: `12 6` and `12-6` are 12 ft 6 in, `12 1/2` is 12 ft 6 in, `10+2+4` is 16 ft.

    Whatever else is typed, and inches of 12 or more, come back as they are, for `parse` to read or refuse.
    """
    parts = [_SPOKEN.fullmatch(part.strip()) for part in text.split("+")]
    if len(parts) == 1 and is_bare(text):
        return with_unit(text, "ft")
    total = Fraction(0)  # inches
    for part in parts:
        if part is None or int(part["inches"] or 0) >= 12:
            return text
        share = Fraction(part["part"] or 0)
        total += 12 * Fraction(part["feet"]) + (int(part["inches"]) + share if part["inches"] else 12 * share)
    feet, inches = divmod(total, 12)
    if inches.denominator > 64:
        return text
    whole, rest = divmod(inches, 1)
    shown = " ".join([*([str(whole)] if whole else []), *([str(rest)] if rest else [])])
    return f"{feet} ft {shown} in" if shown else f"{feet} ft"
