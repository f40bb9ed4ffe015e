"""Walking a route: pipe after pipe by heading and length, with the elbows that join them."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from typing import Any

from ventsize.jobfile.editing.counts import is_metric, length_text
from ventsize.jobfile.editing.pieces import Piece, insert_pieces, pieces_of
from ventsize.jobfile.editing.values import Data, put
from ventsize.jobfile.headings import HEADINGS, rise_of, turn_between
from ventsize.quantity import Dimension, System, parse

_NONE = 1e-4  # m
_RIGHT_ANGLE = math.pi / 2
_ANGLE = re.compile(r"elbow-\d+")
_SIZE_CHANGES = ("increaser", "reducer")


def walk(data: Data, run: int, length: str, heading: str | None, *, turn: Sequence[str], at: int | None = None) -> Data:
    """The data with a pipe more in the route, and the elbows that join it to its neighbours.

    length: as typed.
    turn: the fittings that turn a right angle; turning back takes them twice.
    at: place before which the pipe comes; the end of the run where it is None.

    No elbow is proposed where a fitting stands already between two headings, other than a change of size, nor beside
    a pipe without a heading.
    """
    there = pieces_of(data, run)
    at = len(there) if at is None else min(max(at, 0), len(there))
    pipe: dict[str, Any] = {"pipe": length} if heading is None else {"pipe": length, "heading": heading}
    joined = [piece for piece in there[:at] if piece.get("fitting") not in _SIZE_CHANGES]
    before = elbows_between(_heading(joined[-1]) if joined else None, heading, turn)
    after = elbows_between(heading, _heading(there[at]) if at < len(there) else None, turn)
    return insert_pieces(data, run, at, [*before, pipe, *after])


def take_from_count(data: Data, run: int, placed: Sequence[Piece], left: int) -> tuple[Data, int]:
    """The data with pieces that were just walked taken from those of a count that are not placed yet.

    placed: what was laid out, as pieces. left: how many pieces at the end of the run are still the count's. Gives the
    data and how many are left. Feet and fittings beyond the count take nothing: there are then more than were counted.
    """
    there = pieces_of(data, run)
    rest = list(there[len(there) - left :])
    for piece in placed:
        if "pipe" in piece:
            _take_feet(rest, piece)
            continue
        name = piece["fitting"]
        angle = _ANGLE.match(name)  # another kind of elbow of the same angle was counted
        wanted = [one for one in rest if one.get("fitting") == name]
        wanted += [one for one in rest if angle and str(one.get("fitting", "")).startswith(angle[0])]
        if wanted:
            rest.remove(wanted[0])
    return put(data, ("run", run, "pieces"), [*there[: len(there) - left], *rest]), len(rest)


def _take_feet(rest: list[Piece], placed: Piece) -> None:
    """Feet of a placed pipe, and its rise, off the count's own pipe, in its units; none where they are used up."""
    at = next((n for n, piece in enumerate(rest) if "pipe" in piece), None)
    if at is None:
        return
    length = parse(placed["pipe"], Dimension.LENGTH)
    feet = parse(rest[at]["pipe"], Dimension.LENGTH) - length
    if feet <= _NONE:
        del rest[at]
        return
    typed_in = System.SI if is_metric(rest[at]["pipe"]) else System.US
    made: dict[str, Any] = {"pipe": length_text(feet, typed_in)}
    if "rise" in rest[at]:
        rise = parse(rest[at]["rise"], Dimension.LENGTH, signed=True)
        rise -= rise_of(length=length, heading=placed.get("heading"), rise=None)
        if _NONE < abs(rise) <= feet:
            made["rise"] = length_text(rise, typed_in)
    rest[at] = made


def still_to_place(data: Data, run: int, left: int) -> str:
    """What of a count is not placed yet, in words: 12 ft, 2 elbow-90-long; empty where nothing is."""
    there = pieces_of(data, run)
    rest = there[len(there) - left :] if left else []
    names = [str(piece["fitting"]) for piece in rest if "fitting" in piece]
    feet = [str(piece["pipe"]) for piece in rest if "pipe" in piece]
    return ", ".join([*feet, *(f"{names.count(name)} {name}" for name in dict.fromkeys(names))])


def elbows_between(first: str | None, second: str | None, turn: Sequence[str]) -> list[Piece]:
    """The fittings that join two headings: none, those of a right angle, or twice those where the route turns back."""
    if first not in HEADINGS or second not in HEADINGS:
        return []
    angles = round(turn_between(first, second) / _RIGHT_ANGLE)
    return [{"fitting": name} for _ in range(angles) for name in turn]


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
