"""Letters that a terminal cannot show, written with those that every terminal has."""

from __future__ import annotations

import codecs
import unicodedata
from typing import Any

NAME = "ventsize.plain"

_PLAIN = {
    "°": "deg", "×": "x", "·": ".", "⋅": ".", "²": "2", "³": "3", "⁴": "4", "₂": "2", "µ": "u", "μ": "u", "…": "...",
    "–": "-", "—": "-", "−": "-", "“": '"', "”": '"', "‘": "'", "’": "'", "→": "->", "√": "sqrt", "±": "+/-",
    "≤": "<=", "≥": ">=", "≈": "~", "½": "1/2", "¼": "1/4", "¾": "3/4", "Δ": "d", "ρ": "rho", "ε": "eps", "π": "pi",
    "λ": "lambda", "ζ": "zeta", "✓": "+", "✗": "x", "▲": "^", "▼": "v", "●": "*", "○": "o", "•": "*", "»": ">>",
    "«": "<<", "─": "-", "━": "=", "═": "=", "│": "|", "┃": "|", "║": "|", "░": ".", "▒": ":", "▓": "%",
}  # fmt: skip
_CORNERS = range(0x2500, 0x2580)  # lines of tables and pictures
_BLOCKS = range(0x2580, 0x25A0)  # bars of charts


def plain(text: str) -> str:
    """The text in letters of ASCII; what has none is a question mark."""
    return "".join(character if character.isascii() else _plain(character) for character in text)


def _plain(character: str) -> str:
    known = _PLAIN.get(character)
    if known is not None:
        return known
    if ord(character) in _CORNERS:
        return "+"
    if ord(character) in _BLOCKS:
        return "#"
    bare = unicodedata.normalize("NFKD", character).encode("ascii", "ignore").decode("ascii")
    return bare or "?"


def _handler(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return plain(error.object[error.start : error.end]), error.end


def fit(stream: Any) -> None:
    """Let a stream write what its encoding lacks in plain letters, instead of failing at it."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None and getattr(stream, "errors", NAME) != NAME:
        codecs.register_error(NAME, _handler)
        reconfigure(errors=NAME)
