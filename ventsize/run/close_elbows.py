"""Elbows close together: whether adding their losses is safe.

Smooth elbows within a few bores of each other lose 0.7 to 1.0 of their sum (ASHRAE RP-1035: always less than the sum;
Miller 1990, from memory). Elbows that turn at a sharp edge may lose more: two miters as a Z in one plane, 1 to 3 bores
apart, up to 1.8 times their sum; in different planes 1.5 times (SMACNA table 14-10, after Idelchik, from memory). The
sum stays as it is: these are no numbers to reckon with.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ventsize.finding import Finding, Where, length, share
from ventsize.jobfile.headings import turn_between
from ventsize.run.model import Piece

CLOSE = 4.0  # bores of straight pipe between two elbows; farther apart they hardly feel each other
HARD_CLOSE = 3.0  # bores, up to which two hard elbows lose much more than their sum
SQUARE = math.radians(60.0)  # turns of less are no hard ones
Z_SHAPE, OUT_OF_PLANE = 1.8, 1.5  # times the sum, at most
STRAIGHT_ON, BACK = math.radians(1.0), math.radians(179.0)

Pair = tuple[int, int, float]
"""Two elbows, by number of piece from 0, and the straight pipe between them [m]."""


def close_elbows(run: str, pieces: Sequence[Piece]) -> Iterator[Finding]:
    """A doubt for each two hard elbows too near each other, and one note for all that are near.

    pieces: of a laid-out run, in walking order.
    """
    near = [pair for pair in _pairs(pieces) if pair[2] < CLOSE * pieces[pair[0]].after.bore]
    for first, second, between in near:
        one, other = pieces[first], pieces[second]
        if between > HARD_CLOSE * one.after.bore or not (_hard(one) and _hard(other)):
            continue
        most = _most(pieces, first, second)
        if most > 1.0:
            where = Where(run=run, piece=other.number)
            yield Finding("hard-elbows-close", where, {"between": length(between), "most": share(most)})
    if near:
        numbers = dict.fromkeys(number for first, second, _ in near for number in (first, second))
        yield Finding("elbows-close", Where(run=run), {"elbows": len(numbers)})


def _pairs(pieces: Sequence[Piece]) -> Iterator[Pair]:
    """Elbows that follow one another with nothing but pipe and couplings between."""
    last: int | None = None
    between = 0.0
    for number, piece in enumerate(pieces):
        if piece.is_pipe:
            between += piece.length
        elif piece.fitting is not None and piece.fitting.angle and piece.kind in ("elbow", "terminal", "entrance"):
            if last is not None:
                yield last, number, between
            last, between = number, 0.0
        elif piece.kind != "coupling":
            last = None


def _hard(piece: Piece) -> bool:
    return piece.fitting is not None and piece.fitting.hard and (piece.fitting.angle or 0.0) >= SQUARE


def _most(pieces: Sequence[Piece], first: int, second: int) -> float:
    """The most that two hard elbows may lose, over their sum; 1 where they turn the gas back."""
    before = next((p.heading for p in reversed(pieces[:first]) if p.heading), None)
    after = next((p.heading for p in pieces[second + 1 :] if p.heading), None)
    if before is None or after is None:
        return Z_SHAPE
    turn = turn_between(before, after)
    if turn < STRAIGHT_ON:
        return Z_SHAPE
    return 1.0 if turn > BACK else OUT_OF_PLANE
