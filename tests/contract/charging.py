"""What a table charges for a way: deductions, elbows, what an allowance includes. Standard library only.

A joint is a group of its own, so that begun pairs and odd 45s are counted in each run and at each joint.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from tests.contract.page import Page, Row
from tests.contract.reading import Piece, distinct, length, same


@dataclass(frozen=True)
class Group:
    """Pieces of one run of a way, or of the joint between two."""

    pieces: tuple[Piece, ...]
    counted: bool = False
    joint: bool = False


@dataclass
class Charge:
    """What a table charges for pieces: amounts with the sizes each belongs to, and the fittings it has no word on."""

    items: list[tuple[float, tuple[float, ...]]]
    missing: list[str]

    @property
    def total(self) -> float:
        """The equivalent length [m]."""
        return sum(amount for amount, _ in self.items)


def charge(page: Page, groups: list[Group], row: Row) -> Charge:
    """The equivalent length by a row of the table; in an elbow-count row the straight length and what is deducted."""
    free = included(page, groups, row.included) if row.kind != "elbows" else set()
    result = Charge([], [])
    for group in groups:
        pairs: dict[str, list[Piece]] = {}
        for piece in group.pieces:
            if piece.is_pipe:
                result.items.append((piece.length * page.counts_as.get(piece.material, 1.0), piece.sizes))
            elif id(piece) in free or row.kind == "pressure":
                continue  # the loss that is compared holds each fitting
            elif piece.charged is not None:
                result.items.append((piece.charged, piece.sizes))
            elif row.kind == "elbows" and _other_rows(page) and weight(page, piece) > 0.0 and _has_word(page, piece):
                continue  # counted; its deduction is for the other rows
            elif _per_two(page.deductions.get(piece.name)) is not None:
                pairs.setdefault(piece.name, []).append(piece)
            else:
                _fitting(page, piece, row, result)
        _pairs(page, pairs, result)
    return result


def _has_word(page: Page, piece: Piece) -> bool:
    """Whether the page says anything of an end; of other fittings that is not asked."""
    return not piece.is_end or piece.name in page.deductions or piece.name in page.elbows_each


def _other_rows(page: Page) -> bool:
    return any(row.kind != "elbows" for row in page.rows)


def _per_two(entry: Any) -> float | None:
    return length(entry["per_two"]) if isinstance(entry, dict) and "per_two" in entry else None


def _pairs(page: Page, pairs: dict[str, list[Piece]], result: Charge) -> None:
    for name, pieces in pairs.items():
        each = _per_two(page.deductions[name]) or 0.0
        sizes = tuple(distinct([size for piece in pieces for size in piece.sizes]))
        result.items.append((math.ceil(len(pieces) / 2) * each, sizes))


def _fitting(page: Page, piece: Piece, row: Row, result: Charge) -> None:
    figure = deduction(page, piece)
    if figure is not None:
        result.items.append((figure, piece.sizes))
    elif piece.name in page.deductions or not _costs_nothing(page, piece, row):
        result.missing.append(piece.name)


def _costs_nothing(page: Page, piece: Piece, row: Row) -> bool:
    """Whether a fitting that the table does not deduct is in its lengths."""
    ends = any(page.kinds[name] in ("terminal", "entrance") for name in page.deductions)
    if row.kind == "elbows":
        return not (piece.is_end and ends and piece.name not in page.elbows_each)
    return not ends if piece.implied and piece.is_end else not page.deductions


def deduction(page: Page, piece: Piece) -> float | None:
    """The table's figure for a fitting [m]: at a change of size the larger; None where it has none."""
    found = _named(page, piece.name, piece)
    if found is None or piece.also is None or piece.also not in page.deductions:
        return found
    other = _named(page, piece.also, piece)
    return None if other is None else max(found, other)


def _named(page: Page, name: str, piece: Piece) -> float | None:
    if name == "wye-through" and name not in {**page.deductions, **page.elbows_each}:
        name = "wye"  # a page that knows one wye means it both ways
    entry = page.deductions.get(name)
    if entry is None:
        return None
    if not isinstance(entry, dict):
        return length(entry)
    if "per_two" in entry:
        return length(entry["per_two"])
    figures = []
    for size in piece.sizes:
        found = [length(value) for key, value in entry.items() if same(length(key), size)]
        if not found:
            return None
        figures += found
    return max(figures, default=None)


def weight(page: Page, piece: Piece) -> float:
    """How many 90s a fitting counts as, a half for 45 degrees or less."""
    if piece.name in page.elbows_each:
        return page.elbows_each[piece.name]
    if not (piece.kind in ("elbow", "tee") or piece.is_end) or piece.angle <= 0:
        return 0.0
    return 0.5 if piece.angle <= 45.0 + 1e-6 else 1.0


def elbow_count(page: Page, groups: list[Group]) -> int:
    """90s of a way: two of 45 degrees or less are one, an odd one a whole, run by run."""
    total = 0.0
    for group in groups:
        listed = [piece for piece in group.pieces if piece.name in page.elbows_each]
        others = [weight(page, piece) for piece in group.pieces if piece.name not in page.elbows_each]
        total += sum(page.elbows_each[piece.name] for piece in listed)
        total += sum(one for one in others if one == 1.0) + math.ceil(others.count(0.5) / 2)
    return math.ceil(total - 1e-9)


def included(page: Page, groups: list[Group], number: int) -> set[int]:
    """The elbows that an allowance includes, by identity: the first along the way; the first that does not fit ends it.

    Runs together: the cheapest of both pipes, which both begin at the appliance.
    """
    left, free = float(number), set()
    for piece in _in_order(page, groups):
        counts = weight(page, piece)
        if counts > left + 1e-9:
            break
        left -= counts
        free.add(id(piece))
    return free


def _in_order(page: Page, groups: list[Group]) -> list[Piece]:
    def cheapest_first(pieces: list[Piece]) -> list[Piece]:
        return sorted(pieces, key=lambda piece: (round(_cost(page, piece), 6), -weight(page, piece)))

    found = [[one for one in group.pieces if one.kind == "elbow" and weight(page, one) > 0] for group in groups]
    if page.together:
        return cheapest_first([piece for pieces in found for piece in pieces])
    return [
        piece
        for group, pieces in zip(groups, found, strict=True)
        for piece in (cheapest_first(pieces) if group.counted else pieces)
    ]


def _cost(page: Page, piece: Piece) -> float:
    """What one elbow takes by itself [m]: of a pair a half; without a word on it, no end of it; the job's own first."""
    if piece.charged is not None:
        return piece.charged
    figure = deduction(page, piece)
    if figure is None:
        return math.inf
    return figure / 2 if _per_two(page.deductions.get(piece.name)) is not None else figure
