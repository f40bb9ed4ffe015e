"""Text that somebody typed, made fit to be printed: no control characters, nothing that turns the line around."""

from __future__ import annotations

import unicodedata

_UNPRINTABLE = {"Cc", "Cs", "Co", "Cn", "Zl", "Zp"}
_TURNING = {"\u202a", "\u202b", "\u202c", "\u202d", "\u202e", "\u2066", "\u2067", "\u2068", "\u2069"}


def plain(text: str) -> str:
    """The text in one line: breaks and tabs are spaces, what cannot be printed is left out."""
    return "".join(_letter(character) for character in text)


def _letter(character: str) -> str:
    if character in "\n\r\t\x0b\x0c\x85\u2028\u2029":
        return " "
    return "" if character in _TURNING or unicodedata.category(character) in _UNPRINTABLE else character
