"""What the words and numbers of a page's head mean: of which column, of which kind, in which unit."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from ventsize.quantity import Dimension, QuantityError, parse
from ventsize.view.page import texts
from ventsize.view.page.texts import (
    AIR_SIZE,
    ALTITUDE,
    ELBOWS,
    ENDS,
    INCLUDED,
    INPUT,
    LEAST,
    LENGTH,
    MATERIALS,
    PIPES,
    SIZE,
)

FROM, TO = "from", "to"
_KINDS = (
    (INCLUDED, r"elbows? in\b|elbows? included|included elbows?"),
    (ELBOWS, r"elbows?\b|ells?\b|\b90s?\b"),
    (FROM, r"^from\b|^lowest|^min\w*\.? (?:altitude|elevation)"),
    (TO, r"^to\b|^highest|^max\w*\.? (?:altitude|elevation)"),
    (LEAST, r"^least\b|^min\w*\b"),
    (AIR_SIZE, r"(?:air|intake)(?: pipe)? (?:size|diameter)"),
    (LENGTH, r"\ballow\w*|^max\w*|\blengths?\b|\bfeet\b$"),
    (ALTITUDE, r"altitude|elevation"),
    (INPUT, r"\binputs?\b|firing|\bm?btuh?\b|\bkbtu|\bmbh\b|\bkw\b"),
    (SIZE, r"\bsizes?\b|diameter|\bdia\b|\bpipe\b"),
    (PIPES, r"^pipes$"),
    (ENDS, r"outdoor end|terminations?|terminals?"),
    (MATERIALS, r"materials?"),
)
_UNITS = (
    ("Btu/h", r"\bbtu/?h(?:r)?\b"), ("kBtu/h", r"\bkbtu/?h(?:r)?\b|\bmbh\b|thousands? of btu|\b1,?000 btu"),
    ("kW", r"\bkw\b"), ("mm", r"\bmm\b|millimet"), ("in w.c.", r"w\.?\s?c\.?\b"), ("Pa", r"\bpa\b"),
    ("in", r"\bin\b\.?|\binch(?:es)?\b|\"|″|”"), ("ft", r"\bft\b\.?|\bfeet\b|\bfoot\b|'|′"),
    ("m", r"\bm\b|\bmet(?:er|re)s?\b"),
)  # fmt: skip
_OF = {INPUT: ("Btu/h", "kBtu/h", "kW"), SIZE: ("in", "mm"), AIR_SIZE: ("in", "mm")}
_LENGTHS = ("ft", "m", "in w.c.", "Pa")
_MARKS = re.compile(r"(?<=[\w.'\"])\s*(?:[*†‡§]+|\(\d\)|[¹²³⁴])$")
USUAL_SIZES = {1.5, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8, 10, 12}  # in; nominal sizes of plastic pipe


@dataclass(frozen=True, slots=True)
class Head:
    """What a head says: kinds named in it, of which the first is the likeliest, and the unit beside it."""

    kinds: tuple[str, ...]
    unit: str = ""


def head_of(words: str) -> Head:
    """What the words over a column or beside a row of heads say."""
    plain = words.lower().strip()
    kinds = tuple(kind for kind, pattern in _KINDS if re.search(pattern, plain))
    kind = kinds[0] if kinds else ""
    units = [unit for unit, pattern in _UNITS if re.search(pattern, plain)]
    return Head(kinds, next((unit for unit in units if unit in _OF.get(kind, _LENGTHS)), ""))


def unit_in(words: str, kind: str) -> str:
    """The unit that some words name for a kind of figure; empty where they name none."""
    units = [unit for unit, pattern in _UNITS if re.search(pattern, words.lower())]
    return next((unit for unit in units if unit in _OF.get(kind, _LENGTHS)), "")


def unmarked(cell: str) -> tuple[str, str]:
    """A cell without the mark of a footnote, and the mark."""
    match = _MARKS.search(cell)
    return (cell[: match.start()].strip(), match[0].strip()) if match and cell[:1].isdigit() else (cell, "")


def is_value(cell: str) -> bool:
    """Whether a cell is a figure or stands for one: a number, a range, a dash."""
    text, _ = unmarked(cell)
    return texts.is_number(text) or bool(texts.band(text)) or texts.is_not_permitted(text) or bool(kind_by_unit(text))


def kind_by_unit(cell: str) -> str:
    """The kind of figure that a cell's unit gives away; empty where it has none that does."""
    text, _ = unmarked(cell)
    if texts.band(text):
        return ALTITUDE
    if re.fullmatch(r"(?:1?\d|20)\s*(?:(?:90)?\s*[°º]?\s*)(?:elbows?|ells?)", text, re.IGNORECASE):
        return ELBOWS
    if texts.is_number(text) or not text[:1].isdigit():
        return ""
    for kind, dimension in ((INPUT, Dimension.POWER), (LENGTH, Dimension.PRESSURE), (SIZE, Dimension.LENGTH)):
        try:
            parse(text, dimension)
        except QuantityError:
            continue
        unit = texts.unit_of(text).lower().strip(".")
        return (
            LENGTH
            if kind == SIZE and (unit in ("ft", "feet", "foot", "'", "′", "m") or unit.startswith("met"))
            else kind
        )
    return ""


def kind_by_figures(cells: Sequence[str]) -> str:
    """The likeliest kind of some figures without units: elbows count up from 0 or 1, sizes are few, inputs large."""
    given = {kind_by_unit(cell) for cell in cells} - {""}
    if len(given) == 1:
        return given.pop()
    numbers = [_number(cell) for cell in cells]
    known = [number for number in numbers if number is not None]
    if not known or len(known) < len(numbers):
        return ""
    if len(known) > 2 and known[0] in (0, 1) and all(n == known[0] + k for k, n in enumerate(known)):
        return ELBOWS
    if known == [0, 1] or known == [0]:
        return ELBOWS
    if all(number in USUAL_SIZES for number in known):
        return SIZE
    return INPUT if min(known) >= 10 else ""


def may_be(kind: str, cells: Sequence[str]) -> bool:
    """Whether figures can be of a kind at all."""
    given = {kind_by_unit(cell) for cell in cells} - {""}
    if given:
        return given == {kind} or (kind == AIR_SIZE and given == {SIZE})
    numbers = [number for cell in cells if (number := _number(cell)) is not None]
    if kind in (SIZE, AIR_SIZE):
        return all(number in USUAL_SIZES or 40 <= number <= 400 for number in numbers)
    if kind == ELBOWS:
        return all(number <= 20 and number.is_integer() for number in numbers)
    return kind != INPUT or all(number >= 5 for number in numbers)


def _number(cell: str) -> float | None:
    text, _ = unmarked(cell)
    if not texts.is_number(text):
        return None
    whole, _, fraction = text.replace(",", "").replace("-", " ").strip().partition(" ")
    parts = [part for part in (whole, fraction) if part]
    return sum(float(p.split("/")[0]) / float(p.split("/")[1]) if "/" in p else float(p) for p in parts)
