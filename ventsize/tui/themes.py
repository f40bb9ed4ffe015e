"""The three looks. Colours tell nothing that words and signs do not tell as well.

The first is built on the palette of Okabe and Ito (Color Universal Design, 2008), whose colours are told apart with
every common kind of colour vision.
"""

from __future__ import annotations

from textual.theme import Theme

COLOUR_SAFE, DARK, LIGHT = "colour-safe", "dark", "light"

THEMES = (
    Theme(
        name=COLOUR_SAFE, primary="#56B4E9", secondary="#0072B2", accent="#CC79A7", warning="#E69F00",
        error="#D55E00", success="#009E73", foreground="#E8E8E8", background="#14181C", surface="#1B2026",
        panel="#232A31", dark=True,
    ),
    Theme(
        name=DARK, primary="#8AB4D8", secondary="#5B7FA3", accent="#C9A227", warning="#D9A441", error="#E06C5B",
        success="#6DB07F", foreground="#E6E6E6", background="#101010", surface="#191919", panel="#242424", dark=True,
    ),
    Theme(
        name=LIGHT, primary="#00588A", secondary="#3B7EA8", accent="#8A3E6E", warning="#9A6200", error="#A83C00",
        success="#00674B", foreground="#1A1A1A", background="#FAFAF7", surface="#F0EFEA", panel="#E4E3DC", dark=False,
    ),
)  # fmt: skip
