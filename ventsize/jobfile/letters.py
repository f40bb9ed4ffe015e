"""Text that somebody typed, made fit to be shown: no control characters, nothing that turns the line around.

Three places use it, and nothing else needs to: where a file is read (`ventsize.jobfile.bounds`), where a verb prints
(`ventsize.cli.letters`) and where a screen is drawn (`ventsize.tui.plain`). The renderers of papers do so besides.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_BREAKS = "\n\r\t\x0b\x0c\x85\u2028\u2029"
_LEFT_OUT = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
_HARMLESS = re.compile(r"[+-]?\d[\d,]*(\.\d+)?|-")  # a number, or the dash that stands for none
_JOINERS = "\u200c\u200d"  # of letters in Persian and Hindi, and of the parts of one picture


def plain(text: str) -> str:
    """The text in one line: breaks and tabs are spaces, what cannot be seen is left out."""
    return text if text.isprintable() else "".join(map(_letter, text))


def plain_lines(text: str) -> str:
    """The text with its line breaks, each line of it plain."""
    return text if text.replace("\n", "").isprintable() else "\n".join(map(plain, text.split("\n")))


@lru_cache(maxsize=4096)
def _letter(character: str) -> str:
    if character in _BREAKS:
        return " "
    return "" if unicodedata.category(character) in _LEFT_OUT and character not in _JOINERS else character


def harmless(text: str) -> str:
    """Text that a spreadsheet takes for text: one that begins like a formula gets an apostrophe before it."""
    shown = plain(text)
    if _HARMLESS.fullmatch(shown):
        return shown
    return f"'{shown}" if shown.lstrip()[:1] in tuple("=+-@") or shown[:1] == "\t" else shown
