"""Odd text made safe for one line of a terminal, and fitted to a width in cells."""

from __future__ import annotations

from typing import Literal

from rich.cells import cell_len, set_cell_size

Align = Literal["left", "right"]


def one_line(text: object) -> str:
    """Any text on one line, without characters that would move the terminal's cursor."""
    joined = " ".join(str(text).split())
    return "".join(c if c.isprintable() else "?" for c in joined)


def fitted(text: str, width: int, align: Align = "left") -> str:
    """Text padded to exactly `width` cells, or cut at the end of a word; a cut is shown by an ellipsis."""
    if width <= 0:
        return ""
    length = cell_len(text)
    if length > width:
        text = _shorter(text, width)
        length = cell_len(text)
    padding = " " * (width - length)
    return padding + text if align == "right" else text + padding


def _shorter(text: str, width: int) -> str:
    """The words that fit with an ellipsis behind them; of a word that is longer than that, its beginning."""
    kept = set_cell_size(text, width - 1).rstrip()
    if text[len(kept) : len(kept) + 1].isalnum():
        end = max((at for at, mark in enumerate(kept) if not mark.isalnum() and mark not in ".'"), default=0)
        kept = kept[:end].rstrip() if end else kept
    return kept + "…"
