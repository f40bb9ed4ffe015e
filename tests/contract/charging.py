"""What a table charges for a way: deductions, elbows, what an allowance includes. Standard library only."""

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
    pairs: dict[str, list[Piece]] = {}
    for group in groups:
        if "pairs over the way" not in page.eased:
            _pairs(page, pairs, result)
        for piece in group.pieces:
            between = group.joint and piece.kind == "size change" and not page.together
            if between and "size changes between runs cost in runs together" in page.eased:
                continue
            if piece.is_pipe:
                result.items.append((piece.length * page.counts_as.get(piece.material, 1.0), piece.sizes))
            elif id(piece) in free or _counted_only(page, piece, row):
                continue
            elif piece.charged is not None:
                if row.kind != "elbows" or "given length only where deducted" not in page.eased:
                    result.items.append((piece.charged, piece.sizes))
            elif _per_two(page.deductions.get(piece.name)) is not None:
                pairs.setdefault(piece.name, []).append(piece)
            else:
                _fitting(page, piece, row, result)
    _pairs(page, pairs, result)
    return result


def _counted_only(page: Page, piece: Piece, row: Row) -> bool:
    """Whether an elbow is only counted, its deduction being for the plain rows of the table."""
    mixed = row.kind == "elbows" and any(other.kind == "plain" for other in page.rows)
    return mixed and "elbows deducted in plain rows only" in page.eased and weight(page, piece) > 0.0


def _per_two(entry: Any) -> float | None:
    return length(entry["per_two"]) if isinstance(entry, dict) and "per_two" in entry else None


def _pairs(page: Page, pairs: dict[str, list[Piece]], result: Charge) -> None:
    for name, pieces in pairs.items():
        each = _per_two(page.deductions[name]) or 0.0
        sizes = tuple(distinct([size for piece in pieces for size in piece.sizes]))
        result.items.append((math.ceil(len(pieces) / 2) * each, sizes))
    pairs.clear()


def _fitting(page: Page, piece: Piece, row: Row, result: Charge) -> None:
    figure = deduction(page, piece)
    named = piece.name in page.deductions
    if row.kind == "elbows" and "no figure for this size" in page.eased and not piece.is_end:
        named = False
    if figure is None and not named:
        ends = any(page.kinds[name] in ("terminal", "entrance") for name in page.deductions)
        if row.kind == "elbows":
            if "an end that counts as elbows is no charge" not in page.eased:
                ends = ends or any(page.kinds[name] in ("terminal", "entrance") for name in page.elbows_each)
            silent = not (piece.is_end and ends and piece.name not in page.elbows_each)
        else:
            silent = not ends if piece.implied else not page.deductions
        if row.kind == "pressure" and "pressure rows deduct nothing" in page.eased:
            silent = True
        if silent:
            return
    if figure is None:
        result.missing.append(piece.name)
    else:
        result.items.append((figure, piece.sizes))


def deduction(page: Page, piece: Piece) -> float | None:
    """The table's figure for a fitting [m]: at a change of size the larger; None where it has none."""
    found = _named(page, piece.name, piece)
    if found is None or piece.also is None or "size change by the gas" in page.eased:
        return found
    return max(found, _named(page, piece.also, piece) or 0.0)


def _named(page: Page, name: str, piece: Piece) -> float | None:
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
        if not found and "one figure is enough at a change of size" not in page.eased:
            return None
        figures += found
    return max(figures, default=None)


def weight(page: Page, piece: Piece) -> float:
    """How many 90s a fitting counts as, a half for 45 degrees or less."""
    if piece.name in page.elbows_each:
        return page.elbows_each[piece.name]
    turns = piece.kind == "elbow" or piece.is_end or (piece.kind == "tee" and "tees are no elbows" not in page.eased)
    if not turns or piece.angle <= 0:
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
    """The elbows that an allowance includes, by identity: the first along the way."""
    left, free = float(number), set()
    for group in groups:
        elbows = [piece for piece in group.pieces if piece.kind == "elbow"]
        if group.counted:
            elbows.sort(key=lambda piece: deduction(page, piece) or 0.0)
        for piece in elbows:
            counts = weight(page, piece)
            if counts > left + 1e-9:
                if "a later elbow may still be included" in page.eased:
                    continue
                return free
            left -= counts
            free.add(id(piece))
    return free
