"""A run as an allowance table counts it: feet and fittings, without their order."""

from __future__ import annotations

import math
from collections import Counter

from ventsize.allowance.counted import Counted, CountedFitting, SizedLength
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.model import Piece, Run

_Key = tuple[str, tuple[float, ...], float | None]


def counted(run: Run) -> Counted:
    """What of a run a table counts. An implied open end is left out: the table's lengths include it."""
    lengths: dict[tuple[float, str], list[float]] = {}
    pieces: dict[_Key, list[Piece]] = {}
    for piece in run.pieces:
        if piece.fitting is None:
            lengths.setdefault((piece.before.nominal, piece.before.label), []).append(piece.length)
        elif not piece.implied or piece.fitting.kind != "terminal":
            pieces.setdefault((piece.name, _sizes(piece), piece.table_length), []).append(piece)
    return Counted(
        name=run.name,
        carries=run.carries,
        straight_by_size=tuple(
            [SizedLength(size=size, label=label, length=math.fsum(parts)) for (size, label), parts in lengths.items()]
        ),
        fittings=tuple([_fitting(sizes, alike) for (_, sizes, _), alike in pieces.items()]),
        reaches_outdoors=OUTDOORS in (run.start, run.end),
    )


def _fitting(sizes: tuple[float, ...], alike: list[Piece]) -> CountedFitting:
    first = alike[0]
    assert first.fitting is not None
    angle = first.fitting.angle
    return CountedFitting(
        name=first.name,
        kind=first.fitting.kind,
        sizes=sizes,
        angle_degrees=None if angle is None else math.degrees(angle),
        count=len(alike),
        table_length=first.table_length,
        place=first.place,
    )


def _sizes(piece: Piece) -> tuple[float, ...]:
    if piece.before is piece.after:
        return (piece.before.nominal,)
    before, after = piece.before.nominal, piece.after.nominal
    return (before,) if before == after else (before, after)


def fitting_counts(run: Run) -> Counter[str]:
    """How many of each fitting a run has, by name."""
    return Counter(piece.name for piece in run.pieces if not piece.is_pipe)
