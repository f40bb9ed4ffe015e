"""What a verb prints, made fit for the terminal: letters that it cannot show are written with those that every terminal
has, and what is no letter never reaches it."""

from __future__ import annotations

import codecs
import unicodedata
from collections.abc import Iterable
from typing import Any

from ventsize.jobfile.letters import plain_lines

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


class Shown:
    """A stream that is given text only: whatever is printed, it neither moves the cursor nor turns a line around."""

    def __init__(self, stream: Any) -> None:
        self.stream = stream

    def write(self, text: str) -> int:
        """Write the text, plain but for its line breaks."""
        self.stream.write(plain_lines(text))
        return len(text)

    def writelines(self, lines: Iterable[str]) -> None:
        """Write them all."""
        for line in lines:
            self.write(line)

    def __getattr__(self, name: str) -> Any:
        return getattr(self.stream, name)


def shown(stream: Any) -> Any:
    """The stream, fit to print to; where there is none, none."""
    if stream is None or isinstance(stream, Shown):
        return stream
    fit(stream)
    return Shown(stream)
