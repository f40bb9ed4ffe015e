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
    """Text cut or padded to exactly `width` cells; a cut is shown by its last character."""
    if width <= 0:
        return ""
    length = cell_len(text)
    if length > width:
        return set_cell_size(text, width - 1) + "…"
    padding = " " * (width - length)
    return padding + text if align == "right" else text + padding
