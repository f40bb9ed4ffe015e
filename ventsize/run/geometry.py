"""Where a laid-out run goes: how far each pipe rises, and whether its elbows fit its turns."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ventsize.run.model import Piece

_DIRECTION = {
    "up": (0, 0, 1),
    "down": (0, 0, -1),
    "north": (0, 1, 0),
    "south": (0, -1, 0),
    "east": (1, 0, 0),
    "west": (-1, 0, 0),
}
_LOOSE = math.radians(1.0)


def rise_of(*, length: float, heading: str | None, rise: float | None) -> float:
    """How far a pipe rises [m], from its heading, or from the rise given for a sloped one.

    length: of the pipe [m].
    rise: as given in the job [m]; it must agree with a heading straight up or down.
    Raises ValueError when no pipe of that length can rise that far.
    """
    vertical = {"up": length, "down": -length}.get(heading or "")
    if rise is None:
        return vertical or 0.0
    if abs(rise) > length + 1e-9:
        raise ValueError("it rises further than it is long; expected a rise no more than the pipe's length")
    if vertical is not None and not math.isclose(vertical, rise, abs_tol=1e-6):
        raise ValueError(f"it heads {heading} and its rise says otherwise; expected only one of the two")
    return rise


def turn_between(first: str, second: str) -> float:
    """The angle between two headings [rad]."""
    cosine = sum(a * b for a, b in zip(_DIRECTION[first], _DIRECTION[second], strict=True))
    return math.acos(cosine)


def misfit_elbow(pieces: Sequence[Piece]) -> tuple[Piece, str] | None:
    """The first elbow standing alone between two headings that it does not join, and why."""
    for before, turning, after in _joined(pieces):
        elbows = [piece for piece in turning if piece.kind == "elbow"]
        if len(elbows) != 1 or any(_turn(piece) for piece in turning if piece.kind != "elbow"):
            continue
        elbow, turn = elbows[0], turn_between(before, after)
        if abs(_turn(elbow) - turn) > _LOOSE:
            turned, needed = math.degrees(_turn(elbow)), math.degrees(turn)
            return elbow, f"{elbow.name} turns {turned:g}°, and from {before} to {after} it is {needed:g}°"
    return None


def unturned(pieces: Sequence[Piece]) -> tuple[str, ...]:
    """Sentences for the places where the heading changes and nothing is listed that turns the gas."""
    return tuple(
        f"the route turns from {before} to {after} with no elbow listed between"
        for before, turning, after in _joined(pieces)
        if before != after and not any(_turn(piece) for piece in turning)
    )


def _turn(piece: Piece) -> float:
    return (piece.fitting.angle or 0.0) if piece.fitting else 0.0


def _joined(pieces: Sequence[Piece]) -> list[tuple[str, list[Piece], str]]:
    """Each pair of headed pipes with only fittings between them: (heading, fittings, heading)."""
    found = []
    heading: str | None = None
    between: list[Piece] = []
    for piece in pieces:
        if not piece.is_pipe:
            between.append(piece)
            continue
        if heading and piece.heading:
            found.append((heading, between, piece.heading))
        heading, between = piece.heading, []
    return found
