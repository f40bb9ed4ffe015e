"""Large letters and figures of plain blocks, to be read at arm's length.

A pixel is two cells wide and one high, so that it is about square: five lines a letter. Small ones are half of that:
two pixels a cell, three lines.
"""

from __future__ import annotations

from itertools import zip_longest

HEIGHT, HALF_HEIGHT = 5, 3

_DRAWN = """
0 ### #.# #.# #.# ###|1 .#. ##. .#. .#. ###|2 ### ..# ### #.. ###|3 ### ..# .## ..# ###|4 #.# #.# ### ..# ..#
5 ### #.. ### ..# ###|6 ### #.. ### #.# ###|7 ### ..# .#. .#. .#.|8 ### #.# ### #.# ###|9 ### #.# ### ..# ###
A .#. #.# ### #.# #.#|B ##. #.# ##. #.# ##.|C ### #.. #.. #.. ###|D ##. #.# #.# #.# ##.|E ### #.. ##. #.. ###
F ### #.. ##. #.. #..|G ### #.. #.# #.# ###|H #.# #.# ### #.# #.#|I ### .#. .#. .#. ###|J ..# ..# ..# #.# ###
K #.# #.# ##. #.# #.#|L #.. #.. #.. #.. ###|M #...# ##.## #.#.# #...# #...#|N #..# ##.# #.## #..# #..#
O ### #.# #.# #.# ###|P ### #.# ### #.. #..|Q ### #.# #.# ### ..#|R ##. #.# ##. #.# #.#|S ### #.. ### ..# ###
T ### .#. .#. .#. .#.|U #.# #.# #.# #.# ###|V #.# #.# #.# #.# .#.|W #...# #...# #.#.# ##.## #...#
X #.# #.# .#. #.# #.#|Y #.# #.# .#. .#. .#.|Z ### ..# .#. #.. ###|. . . . . #|, . . . # #|- ... ... ### ... ...
+ ... .#. ### .#. ...|/ ..# ..# .#. #.. #..|' # # . . .|% #.# ..# .#. #.. #.#|? ### ..# .## ... .#.|! # # # . #
"""
GLYPHS = {
    entry[0]: entry[1:].split() for line in _DRAWN.strip().splitlines() for entry in line.split("|") if entry.strip()
}
GLYPHS[" "] = ["..", "..", "..", "..", ".."]
_HALVES = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}


def large(text: str, *, half: bool = False, width: int = 0) -> list[str]:
    """The text in large letters, a string a line; what has no glyph is left out.

    half: at half the size. width: no wider than so many cells; the end is what stays in sight.
    """
    pixels = _pixels(text.upper())
    lines = _halved(pixels) if half else ["".join("██" if on else "  " for on in row) for row in pixels]
    return [line[-width:] if width else line for line in lines]


def _pixels(text: str) -> list[list[bool]]:
    glyphs = [GLYPHS[character] for character in text if character in GLYPHS]
    return [[on == "#" for on in ".".join(glyph[row] for glyph in glyphs)] for row in range(HEIGHT)]


def _halved(pixels: list[list[bool]]) -> list[str]:
    empty = [False] * len(pixels[0])
    pairs = zip_longest(pixels[0::2], pixels[1::2], fillvalue=empty)
    return ["".join(_HALVES[pair] for pair in zip(upper, lower, strict=True)) for upper, lower in pairs]
