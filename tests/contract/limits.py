"""The naive reading of limits beside the length, and of pipe in the cold. Standard library only."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tests.contract.page import Exposed, Page
from tests.contract.reading import AIR, FLUE, HAIR, Piece, distinct, length, same, temperature

if TYPE_CHECKING:
    from tests.contract.ways import Leg

COLD = (50.0 + 459.67) / 1.8
Found = Iterator[tuple[str, str]]


def straight(pieces: list[Piece]) -> float:
    """The straight length as it stands [m]."""
    return sum(piece.length for piece in pieces if piece.is_pipe)


def limit_faults(page: Page, leg: Leg, others: list[Leg], two: bool | str | None, eased: frozenset[str]) -> Found:
    """The table's limits, of a whole way."""
    limits, pieces = page.limits, leg.pieces
    if "most_elbows" in limits and _elbows(pieces, eased) > limits["most_elbows"]:
        yield "over", "most_elbows"
    pipes = [piece for piece in pieces if piece.is_pipe]
    unknown = sum(piece.length for piece in pipes if piece.heading is None and piece.rise is None)
    if "longest_level" in limits:
        known = sum(p.length for p in pipes if not _vertical(p) and not (p.heading is None and p.rise is None))
        yield from _compared(known, unknown, length(limits["longest_level"]), "longest_level")
    if "longest_rise" in limits:
        known = _rising(pipes, eased)
        if leg.runs[0].carries == AIR and "air goes up as listed outward" not in eased:
            known = max(known, _rising(pipes, eased, -1))
        yield from _compared(known, unknown, length(limits["longest_rise"]), "longest_rise")
    pairing = "longest_difference" in limits or limits.get("same_size", False)
    if pairing and two is None and not others:
        yield "incomplete", "air not said and a limit asks"
    for other in others:
        yield from _pair(page, leg, other, eased)


def _elbows(pieces: list[Piece], eased: frozenset[str]) -> int:
    tees = "tees are no elbows" not in eased
    return sum(
        piece.angle > 30.0 + 1e-6 and (piece.kind == "elbow" or piece.is_end or (tees and piece.kind == "tee"))
        for piece in pieces
    )


def _vertical(piece: Piece) -> bool:
    return piece.heading in ("up", "down")


def _rising(pipes: list[Piece], eased: frozenset[str], way: int = 1) -> float:
    up = "up" if way > 0 else "down"
    pitch = "pitch is no rise" not in eased
    return sum(
        piece.length
        for piece in pipes
        if piece.heading == up or (pitch and not _vertical(piece) and (piece.rise or 0.0) * way > 0.0)
    )


def _compared(known: float, unknown: float, limit: float, name: str) -> Found:
    if known > limit + HAIR:
        yield "over", name
    elif known + unknown > limit + HAIR:
        yield "incomplete", f"{name} not known"


def _pair(page: Page, leg: Leg, other: Leg, eased: frozenset[str]) -> Found:
    if "longest_difference" in page.limits:
        difference = abs(straight(leg.pieces) - straight(other.pieces))
        if difference > length(page.limits["longest_difference"]) + HAIR:
            yield "over", "longest_difference"
    if page.limits.get("same_size", False):
        one = distinct([size for run in leg.runs for size in run.sizes])
        two = distinct([size for run in other.runs for size in run.sizes])
        equal = len(one) == len(two) and all(any(same(size, match) for match in two) for size in one)
        if not equal or (len(one) > 1 and "mixed sizes may be the same" not in eased):
            yield "over", "same_size"


def exposed_faults(page: Page, leg: Leg, design: float | None, eased: frozenset[str]) -> Found:
    """Pipe of a flue way in unheated space or outdoors, by the table's rows for it."""
    if not page.exposed or leg.runs[0].carries != FLUE:
        return
    pipes = [piece for piece in leg.pieces if piece.is_pipe and piece.length > 0.0]
    if any(piece.surroundings is None for piece in pipes):
        yield "incomplete", "surroundings not said"
    cold = [piece for piece in pipes if piece.surroundings is not None and _is_cold(piece.surroundings)]
    if cold and design is None:
        yield "incomplete", "coldest day not said"
    if cold and design is not None:
        yield from _cold_faults(page, cold, design, eased)


def _cold_faults(page: Page, cold: list[Piece], design: float, eased: frozenset[str]) -> Found:
    rows: dict[int, float] = {}
    for piece in cold:
        row = _exposed_row(page.exposed, piece, design)
        if row is None:
            yield "not covered", "exposed"
            return
        rows[row] = rows.get(row, 0.0) + piece.length
    if "exposed size by size" in eased:
        over = any(total > page.exposed[row].allowable + HAIR for row, total in rows.items())
    else:
        over = sum(rows.values()) > min(page.exposed[row].allowable for row in rows) + HAIR
    if over:
        yield "over", "exposed"


def _is_cold(surroundings: str) -> bool:
    if surroundings in ("attic", "crawlspace", "outdoors"):
        return True
    return surroundings != "heated space" and temperature(surroundings) < COLD - 1e-6


def _exposed_row(rows: list[Exposed], piece: Piece, design: float) -> int | None:
    """The warmest listed temperature not above the coldest day, then the thickest insulation not above the pipe's."""
    mine = [
        (row.outdoor, row.insulation, number)
        for number, row in enumerate(rows)
        if same(row.size, piece.sizes[0]) and row.outdoor <= design + 1e-6
    ]
    if not mine:
        return None
    warmest = max(outdoor for outdoor, _, _ in mine)
    fit = [
        (insulation, number)
        for outdoor, insulation, number in mine
        if abs(outdoor - warmest) < 1e-6 and insulation <= piece.insulation + HAIR
    ]
    return max(fit)[1] if fit else None
