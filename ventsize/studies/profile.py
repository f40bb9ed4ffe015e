"""The pressure along a run: where a manometer moved from piece to piece would stand."""

from __future__ import annotations

from dataclasses import dataclass

from ventsize.check.rate import RunRate


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """One run at one firing rate.

    points: total pressure still to be lost from here to the end of the walk, against the distance walked along
        straight pipe; a fitting is a step at its place [m, Pa].
    """

    rate: str
    points: tuple[tuple[float, float], ...]


def loss_along(rate: RunRate) -> Profile:
    """What is lost from each place to the run's end, in walking order, buoyancy left out."""
    left = sum(piece.pressure_drop for piece in rate.flow.pieces)
    distance = 0.0
    points = [(distance, left)]
    for piece in rate.flow.pieces:
        distance += piece.piece.length
        left -= piece.pressure_drop
        points.append((distance, left))
    return Profile(rate=rate.name, points=tuple(points))
