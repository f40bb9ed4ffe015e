"""Amounts of money and shares as people type them: `$19.80`, `1,234.50`, `19,80 €`, `15 %`."""

from __future__ import annotations

import re
from decimal import Decimal

from ventsize.quantity import Unusable

MOST = Decimal(1_000_000)  # of one price; more is a slip
MOST_SHARE = Decimal(5)  # 500 %

_SPACES = re.compile(r"[\s'’\u00a0\u202f]")
_CURRENCY = r"[A-Za-z]{3}|[A-Za-z]{0,2}[$€£¥₹]|[A-Za-z]{2}\.?"  # CAD, US$, €, kr.
_AMOUNT = re.compile(rf"(?P<before>{_CURRENCY})?(?P<number>[0-9.,]+)(?P<after>{_CURRENCY})?")
_SYMBOLS = {
    "$": ("USD", "CAD", "AUD", "NZD", "SGD", "HKD", "MXN"),
    "€": ("EUR",),
    "£": ("GBP",),
    "¥": ("JPY", "CNY"),
}

_EXPECTED = "one such as '4.35'"


def read_amount(text: str, *, comma_is_point: bool = False) -> tuple[Decimal, str]:
    """An amount of money, and the currency written with it, empty where none is.

    comma_is_point: whether numbers may be written as in a country with decimal commas; `1.234` is then refused, since
    it may be either. Raises ValueError with a sentence: no number, a formula, negative, too much.
    """
    shown = repr(text)[:42]
    if text.lstrip("' \t").startswith("="):
        raise Unusable(f"{shown} is a formula", "the number itself")
    found = _AMOUNT.fullmatch(_SPACES.sub("", text))
    if found is None:
        if re.fullmatch(r"\D{0,8}[-(−].*\d.*", text.strip()):
            raise Unusable(f"{shown} cannot be", "zero or more")
        raise Unusable(f"{shown} is not a number", _EXPECTED)
    number = _number(found["number"], comma_is_point, shown)
    if number >= MOST:
        raise Unusable(f"{shown} cannot be the price of one", f"less than {MOST:,}")
    return number, (found["before"] or found["after"] or "").strip(". ")


def _number(text: str, comma_is_point: bool, shown: str) -> Decimal:
    """The number in it, whichever of comma and point groups thousands."""
    if comma_is_point and re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", text):
        raise Unusable(f"{shown} may be thousands or a fraction", "it with its cents, such as 1234.00")
    if "," in text:
        if re.fullmatch(r"[1-9]\d{0,2}(,\d{3})+(\.\d+)?", text):  # 1,234.50
            text = text.replace(",", "")
        elif re.fullmatch(r"\d+,\d{1,2}|0,\d+", text):  # 19,80
            text = text.replace(",", ".")
        elif re.fullmatch(r"[1-9]\d{0,2}(\.\d{3})+,\d+", text):  # 1.234,50
            text = text.replace(".", "").replace(",", ".")
    if not re.fullmatch(r"\d+(\.\d*)?|\.\d+", text):
        raise Unusable(f"{shown} is not a number", _EXPECTED)
    return Decimal(text)


def read_share(text: str) -> Decimal:
    """A share such as `8.25 %`. Raises ValueError without the sign, so that 15 is never taken for 1500 %."""
    found = re.fullmatch(r"(\d+(?:[.,]\d+)?)\s*%", text.strip())
    if found is None:
        raise Unusable(f"{text!r:.40} is not a share", "one such as '15 %'")
    share = Decimal(found[1].replace(",", ".")) / 100
    if share > MOST_SHARE:
        raise Unusable(f"{text!r:.40} cannot be", "no more than 500 %")
    return share


def same_currency(one: str, other: str) -> bool:
    """Whether two ways of writing a currency may mean the same one: `$` and `CAD`, `US$` and `USD`."""
    first, second = one.upper(), other.upper()
    if first == second:
        return True
    for sign, code in ((first, second), (second, first)):
        codes = _SYMBOLS.get(sign[-1:])
        if codes and code in codes and code.startswith(sign[:-1]):
            return True
    return False
