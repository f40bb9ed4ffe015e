"""Walking a route: pipe after pipe by heading and length, with the elbows that join them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from ventsize.jobfile.editing.pieces import Piece, insert_pieces, pieces_of
from ventsize.jobfile.editing.values import Data
from ventsize.jobfile.headings import HEADINGS, turn_between

_RIGHT_ANGLE = math.pi / 2


def walk(data: Data, run: int, length: str, heading: str | None, *, elbow: str, at: int | None = None) -> Data:
    """The data with a pipe more in the route, and the elbows of this name that join it to its neighbours.

    length: as typed.
    elbow: a fitting that turns a right angle; turning back takes two of them.
    at: place before which the pipe comes; the end of the run where it is None.

    No elbow is proposed where a fitting stands already between two headings, nor beside a pipe without one.
    """
    there = pieces_of(data, run)
    at = len(there) if at is None else min(max(at, 0), len(there))
    pipe: dict[str, Any] = {"pipe": length} if heading is None else {"pipe": length, "heading": heading}
    before = elbows_between(_heading(there[at - 1]) if at else None, heading, elbow)
    after = elbows_between(heading, _heading(there[at]) if at < len(there) else None, elbow)
    return insert_pieces(data, run, at, [*before, pipe, *after])


def elbows_between(first: str | None, second: str | None, elbow: str) -> list[Piece]:
    """The right-angle elbows that join two headings: none, one, or two where the route turns back."""
    if first not in HEADINGS or second not in HEADINGS:
        return []
    return [{"fitting": elbow}] * round(turn_between(first, second) / _RIGHT_ANGLE)


def heading_before(data: Data, run: int, at: int | None = None) -> str | None:
    """Which way the route goes where it comes to place `at` (to its end, if None), as far as it is known."""
    there = pieces_of(data, run)
    for piece in reversed(there if at is None else there[:at]):
        if isinstance(piece, Mapping) and "pipe" in piece:
            return _heading(piece)
    return None


def _heading(piece: Any) -> str | None:
    found = piece.get("heading") if isinstance(piece, Mapping) else None
    return found if isinstance(found, str) else None
