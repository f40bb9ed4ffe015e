"""Reading one number out of a text: decimals, thousands commas, fractions, powers of ten.

One pass from left to right and no backtracking, so time grows with the length of the text only.
"""

from __future__ import annotations

import math
import unicodedata
from typing import NamedTuple

from ventsize.quantity.errors import Refusal

_DIGITS = frozenset("0123456789")
_HYPHENS = "\u2010\u2011\u2012\u2013\u2014\u2212\ufe63\uff0d"
_CHARACTERS = str.maketrans(
    dict.fromkeys(_HYPHENS, "-")
    | dict.fromkeys("\u2018\u2019\u201b\u2032\u00b4\u0060\u02b9\uff07", "'")
    | dict.fromkeys("\u201c\u201d\u201f\u2033\u02ba\uff02", '"')
    | dict.fromkeys("\u2044\u2215", "/")
)


class Number(NamedTuple):
    """A number read from a text."""

    value: float
    end: int  # where the text goes on
    whole: bool  # written as a whole number: no decimals, fraction or power of ten


def plain(text: str) -> str:
    """The text with typographic quotes, primes, dashes and one-character fractions written plainly."""
    out: list[str] = []
    for character in text.translate(_CHARACTERS):
        if unicodedata.decomposition(character).startswith("<fraction>"):
            fraction = unicodedata.normalize("NFKC", character).replace("\u2044", "/")
            out.append(f" {fraction}")
        else:
            out.append(character)
    return " ".join("".join(out).replace("''", '"').split())


def read_number(text: str) -> Number:
    """The unsigned number a text starts with: `80,000`, `12.5`, `1.5e-6`, `1/2`, `6 1/2`, `6-1/2`.

    Raises Refusal if there is none, or it is written in a way that could be read wrongly.
    """
    whole_digits, end = _whole_part(text)
    decimals, end = _decimals(text, end)
    if not whole_digits and not decimals:
        raise Refusal("has no number where one is needed")
    exponent, end = _exponent(text, end)
    value = _to_float(whole_digits, decimals, exponent)
    plain_whole = not decimals and not exponent
    if text[end : end + 1] == "/" and plain_whole and _digits(text, end + 1)[0]:
        denominator, end = _digits(text, end + 1)
        return Number(_ratio(whole_digits, denominator), end, False)
    fraction, after = _fraction_after(text, end)
    if fraction is None:
        return Number(value, end, plain_whole)
    if not plain_whole or fraction >= 1.0:
        raise Refusal("has a fraction that does not follow a whole number, or is not less than one")
    return Number(value + fraction, after, False)


def _digits(text: str, start: int) -> tuple[str, int]:
    end = start
    while end < len(text) and text[end] in _DIGITS:
        end += 1
    return text[start:end], end


def _whole_part(text: str) -> tuple[str, int]:
    """Digits with thousands commas; a comma anywhere else is refused, since it may be a decimal comma."""
    digits, end = _digits(text, 0)
    first = digits
    while text[end : end + 1] == ",":
        group, after = _digits(text, end + 1)
        if len(group) != 3 or not 1 <= len(first) <= 3 or first.startswith("0"):
            raise Refusal(
                "has a comma that does not mark thousands: write a decimal point, as in 3.8, "
                "and put three digits after a thousands comma"
            )
        digits, end = digits + group, after
    return digits, end


def _decimals(text: str, start: int) -> tuple[str, int]:
    if text[start : start + 1] != ".":
        return "", start
    digits, end = _digits(text, start + 1)
    if text[end : end + 1] == "," and _digits(text, end + 1)[0]:
        raise Refusal("has a comma after its decimal point: write thousands as 1,000 and decimals as 0.5")
    if digits and text[end : end + 1] == "." and _digits(text, end + 1)[0]:
        raise Refusal("has two decimal points")
    return digits, end


def _exponent(text: str, start: int) -> tuple[str, int]:
    if text[start : start + 1] not in ("e", "E"):
        return "", start
    signed = start + 1 + (text[start + 1 : start + 2] in ("+", "-"))
    digits, end = _digits(text, signed)
    return (text[start + 1 : end], end) if digits else ("", start)


def _fraction_after(text: str, start: int) -> tuple[float | None, int]:
    """The fraction of a mixed number: ` 1/2` or `-1/2` after a whole number."""
    if text[start : start + 1] not in (" ", "-"):
        return None, start
    top, end = _digits(text, start + 1)
    if not top or text[end : end + 1] != "/":
        return None, start
    bottom, after = _digits(text, end + 1)
    return (_ratio(top, bottom), after) if bottom else (None, start)


def _ratio(top: str, bottom: str) -> float:
    if float(bottom) == 0.0:
        raise Refusal("divides by zero")
    return float(top) / float(bottom)


def _to_float(whole: str, decimals: str, exponent: str) -> float:
    value = float(f"{whole or '0'}.{decimals or '0'}e{exponent or '0'}")
    if math.isinf(value):
        raise Refusal("is too large a number")
    if value == 0.0 and (whole + decimals).strip("0"):
        raise Refusal("is too small a number")
    return value
