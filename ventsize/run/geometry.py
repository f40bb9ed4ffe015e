"""Where a laid-out run goes: how far each pipe rises, and whether its elbows fit its turns."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ventsize.jobfile.headings import turn_between
from ventsize.run.model import Piece

_LOOSE = math.radians(1.0)

Turn = tuple[str, list[Piece], str]
"""Two headings, and the pieces between the pipes that have them."""


def misfit_elbow(turns: Sequence[Turn]) -> tuple[Piece, str] | None:
    """The first elbow standing alone between two headings that it does not join, and why."""
    for before, turning, after in turns:
        elbows = [piece for piece in turning if piece.kind == "elbow"]
        if len(elbows) != 1 or any(_turn(piece) for piece in turning if piece.kind != "elbow"):
            continue
        elbow, turn = elbows[0], turn_between(before, after)
        if abs(_turn(elbow) - turn) > _LOOSE:
            turned, needed = math.degrees(_turn(elbow)), math.degrees(turn)
            return elbow, f"{elbow.name} turns {turned:g}°, and from {before} to {after} it is {needed:g}°"
    return None


def unturned(spans: Sequence[Turn]) -> tuple[str, ...]:
    """Sentences for the places where the heading changes and nothing is listed that turns the gas."""
    return tuple(
        [
            f"the route turns from {before} to {after} with no elbow listed between"
            for before, turning, after in spans
            if before != after and not any(_turn(piece) for piece in turning)
        ]
    )


def _turn(piece: Piece) -> float:
    return (piece.fitting.angle or 0.0) if piece.fitting else 0.0


def turns(pieces: Sequence[Piece]) -> list[Turn]:
    """Each pair of headed pipes with only fittings between them: (heading, fittings, heading)."""
    return _between(pieces, over_unheaded=False)


def spans(pieces: Sequence[Piece]) -> list[Turn]:
    """Each pair of headed pipes with all that stands between them, pipes without a heading too."""
    return _between(pieces, over_unheaded=True)


def _between(pieces: Sequence[Piece], *, over_unheaded: bool) -> list[Turn]:
    found = []
    heading: str | None = None
    between: list[Piece] = []
    for piece in pieces:
        if piece.fitting is not None or (over_unheaded and piece.heading is None):
            between.append(piece)
            continue
        if heading and piece.heading:
            found.append((heading, between, piece.heading))
        heading, between = piece.heading, []
    return found
