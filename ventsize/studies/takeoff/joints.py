"""Joints, counted one way for the takeoff, options and proposals."""

from __future__ import annotations

from ventsize.catalog.records import FittingRecord
from ventsize.run.model import Run
from ventsize.studies.takeoff.pipework import AtJoints, parts, straights
from ventsize.studies.takeoff.practice import Practice

SOCKETS = {"elbow": 2, "tee": 3, "size change": 2, "coupling": 2, "terminal": 1, "entrance": 1}
"""By the kind of fitting; a tee has its third opening closed by a plug, which is joined too."""


def sockets(fitting: FittingRecord, practice: Practice) -> int:
    """Joints that one fitting makes; none where the open end of the pipe itself is meant."""
    return 0 if fitting.name in practice.nothing else SOCKETS.get(fitting.kind, 2)


def joints_of(run: Run, practice: Practice, at_joints: AtJoints) -> int:
    """Joints of a run: at its fittings and at the couplings of pipe longer than stock.

    What a run is joined to at a collar or where runs meet is not among them. A counted run has no couplings yet.
    """
    number = sum([sockets(piece.fitting, practice) for piece in run.pieces if piece.fitting is not None])
    if run.counted:
        return number
    for straight in straights(run, at_joints):
        stock = practice.stock(straight.section.material.name)
        length = straight.cut_length(practice, "middle")
        if stock is not None and stock.joinable and length > max(stock.lengths):
            made = parts(length, stock=stock, saw=practice.saw)
            number += (len(made) - 1) * (1 if stock.socketed else 2)
    return number
