"""What is drawn, made fit on its way out: never a control character, and ASCII for terminals that show no more."""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import lru_cache

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from ventsize.jobfile.letters import plain

_SAME = {
    "✓": "+", "✗": "x", "▲": "!", "◂": "<", "▸": ">", "→": ">", "…": "~", "·": "-", "×": "x", "±": "~", "°": "o",
    "½": "~", "–": "-", "—": "-", "●": "*", "━": "=", "─": "-", "│": "|", "▁": "_", "█": "#", "▍": "#", "▎": "|",
    "╸": "=", "╺": "=", "┌": "+", "┐": "+", "└": "+", "┘": "+", "╭": "+", "╮": "+", "╰": "+", "╯": "+", "┼": "+",
    "├": "+", "┤": "+", "┬": "+", "┴": "+", "═": "=", "‹": "<", "›": ">", "²": "2", "³": "3", "µ": "u", "▔": "-",
    "≥": ">", "≤": "<", "−": "-", "▼": "v", "■": "#", "○": "o", "¼": "~", "“": '"', "”": '"', "’": "'",
    "╌": ".", "╎": ":", "↑": "^",
}  # fmt: skip


def terminal_is_plain(environ: Mapping[str, str] = os.environ) -> bool:
    """Whether the locale says that only ASCII can be shown."""
    locale = environ.get("LC_ALL") or environ.get("LC_CTYPE") or environ.get("LANG") or ""
    return "utf" not in locale.lower() and locale.split(".")[0] in ("C", "POSIX")


@lru_cache(maxsize=4096)
def in_ascii(text: str) -> str:
    """The text in ASCII, character for character; what has no likeness becomes a question mark."""
    return text if text.isascii() else "".join(_one(c) for c in text)


def _one(character: str) -> str:
    if character.isascii():
        return character
    if character in _SAME:
        return _SAME[character]
    code = ord(character)
    if 0x2800 <= code <= 0x28FF:  # braille dots of the charts
        return " " if code == 0x2800 else ("'" if not (code & 0xE4) else ("." if not (code & 0x1B) else ":"))
    if 0x2580 <= code <= 0x259F:
        return "#"
    if 0x2500 <= code <= 0x257F:
        return "+"
    return "?"


class LettersOnly(LineFilter):
    """Leaves out what is no letter: whatever a file, a name or a key says, it neither moves the cursor nor turns text.

    The width of a line stays: what is left out has none.
    """

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments without control characters and direction marks."""
        if all(text.isprintable() for text, _, _ in segments):
            return segments
        return [Segment(text if control else plain(text), style, control) for text, style, control in segments]


class PlainCharacters(LineFilter):
    """Puts every line that is drawn into ASCII."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments in plain characters."""
        return [Segment(in_ascii(text), style, control) for text, style, control in segments]
