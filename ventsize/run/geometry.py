"""Where a laid-out run goes: whether the fittings between two headings can make the turn."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ventsize.finding import Finding, Value, Where, angle
from ventsize.jobfile.headings import turn_between
from ventsize.run.model import Piece

_LOOSE = math.radians(1.0)  # an elbow of 89 degrees makes a right angle

Span = tuple[str, list[Piece], str]
"""Two headings, and all that stands between: fittings, pipes without a heading, and the two headed pipes."""


def spans(pieces: Sequence[Piece]) -> list[Span]:
    """Each pipe with a heading and the next one that has one, with the pieces from one to the other."""
    found: list[Span] = []
    before: Piece | None = None
    between: list[Piece] = []
    for piece in pieces:
        between.append(piece)
        if piece.heading is None:
            continue
        if before is not None and before.heading is not None:
            found.append((before.heading, between, piece.heading))
        before, between = piece, [piece]
    return found


def turns_not_made(spans_: Sequence[Span], where: Where, *, joints: float = 0.0) -> tuple[Finding, ...]:
    """The spans whose fittings turn by less than the route does. Flexible pipe makes its own turns.

    joints: what joints between the runs of a way add to the turn [rad]
    """
    return tuple(_not_made(spans_, where, joints))


def _not_made(spans_: Sequence[Span], where: Where, joints: float) -> Iterator[Finding]:
    for before, between, after in spans_:
        if before == after:
            continue
        needed = turn_between(before, after)
        turned = joints + sum(map(_turn, between))
        if turned < needed - _LOOSE and not any(_is_flexible(piece) for piece in between):
            values: dict[str, Value] = {
                "before": before,
                "after": after,
                "turned": angle(turned),
                "needed": angle(needed),
            }
            yield Finding("turn-not-made", where, values)


def _turn(piece: Piece) -> float:
    """How far a fitting can turn the gas [rad]."""
    if piece.fitting is None or piece.kind in ("terminal", "entrance"):
        return 0.0
    return piece.fitting.angle or 0.0


def _is_flexible(piece: Piece) -> bool:
    return piece.is_pipe and piece.section.material.flexible
