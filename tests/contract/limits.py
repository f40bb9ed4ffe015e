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


def limit_faults(page: Page, leg: Leg, others: list[Leg], two: bool | str | None, paired: list[Leg]) -> Found:
    """The table's limits, of a whole way. paired: the others that the table counts together with it."""
    limits, pieces = page.limits, leg.pieces
    beside = max((elbows_beyond_30(other.pieces) for other in paired), default=0)
    if "most_elbows" in limits and elbows_beyond_30(pieces) + beside > limits["most_elbows"]:
        yield "over", "most_elbows"
    pipes = [piece for piece in pieces if piece.is_pipe]
    unknown = sum(piece.length for piece in pipes if piece.heading is None and piece.rise is None)
    if "longest_level" in limits:
        known = sum(p.length for p in pipes if not _vertical(p) and not (p.heading is None and p.rise is None))
        yield from _compared(known, unknown, length(limits["longest_level"]), "longest_level")
    if "longest_rise" in limits:
        known = sum(_rising(run.pieces, run.carries) for run in leg.runs)
        yield from _compared(known, unknown, length(limits["longest_rise"]), "longest_rise")
    pairing = "longest_difference" in limits or limits.get("same_size", False)
    if pairing and two is None:
        yield "incomplete", "air not said and a limit asks"
    for other in others:
        yield from _pair(page, leg, other)


def elbows_beyond_30(pieces: list[Piece]) -> int:
    return sum(piece.angle > 30.0 + 1e-6 and (piece.kind in ("elbow", "tee") or piece.is_end) for piece in pieces)


def _vertical(piece: Piece) -> bool:
    return piece.heading in ("up", "down")


def _rising(pieces: list[Piece], carries: str) -> float:
    """Pipe of a run that goes up outward, a sloped one as a whole; of an air run that, or what goes up inward."""
    up, down = (
        sum(
            p.length
            for p in pieces
            if p.is_pipe and (p.heading == word or (not _vertical(p) and sign * (p.rise or 0.0) > 0))
        )
        for word, sign in (("up", 1), ("down", -1))
    )
    return max(up, down) if carries == AIR else up


def _compared(known: float, unknown: float, limit: float, name: str) -> Found:
    if known > limit + HAIR:
        yield "over", name
    elif known + unknown > limit + HAIR:
        yield "incomplete", f"{name} not known"


def _pair(page: Page, leg: Leg, other: Leg) -> Found:
    if "longest_difference" in page.limits:
        difference = abs(straight(leg.pieces) - straight(other.pieces))
        if difference > length(page.limits["longest_difference"]) + HAIR:
            yield "over", "longest_difference"
    sizes = distinct([size for run in (*leg.runs, *other.runs) for size in run.sizes])
    if page.limits.get("same_size", False) and len(sizes) > 1:
        yield "over", "same_size"


def exposed_faults(page: Page, leg: Leg, design: float | None) -> Found:
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
        yield from _cold_faults(page, cold, design)


def _cold_faults(page: Page, cold: list[Piece], design: float) -> Found:
    rows = [_exposed_row(page.exposed, piece, design) for piece in cold]
    known = [page.exposed[row].allowable for row in rows if row is not None]
    if len(known) < len(rows):
        yield "not covered", "exposed"
    elif sum(piece.length for piece in cold) > min(known) + HAIR:
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
