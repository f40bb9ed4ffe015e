"""The pressure along a run, where a manometer moved from piece to piece would stand, and what it passes there."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from ventsize.check.rate import RunRate
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.model import Run

Marks = tuple[tuple[float, str], ...]
"""Distances [m], and what stands there: "elbow", "joint" or "size change"."""


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


def marks_along(run: Run, serves: Collection[str], *, forward: bool = True) -> Marks:
    """Where elbows, changes of size and joints stand along a run: tees and wyes in it, where it meets other runs.

    serves: the run's appliances, whose collars are no such joints. forward: whether counted from the run's start.
    A counted run has none: its pieces have no order.
    """
    if run.counted:
        return ()
    found = [(0.0, "joint")] if run.start not in (OUTDOORS, *serves) else []
    distance = 0.0
    for piece in run.pieces:
        distance += piece.length
        if piece.kind in ("elbow", "tee", "size change"):
            found.append((distance, "joint" if piece.kind == "tee" else piece.kind))
    if run.end not in (OUTDOORS, *serves):
        found.append((distance, "joint"))
    return tuple(found) if forward else tuple((distance - at, what) for at, what in reversed(found))
