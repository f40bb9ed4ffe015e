"""The vent as it stands: runs of pieces, each piece with the pipe section it belongs to.

These records are what the job file describes once every name has been looked up. All in SI.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from ventsize.catalog.records import FittingRecord, PipeRecord, PipeSize
from ventsize.finding import Finding, Where
from ventsize.jobfile.job import Carries, Insulation


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The inside of a pipe of one size and material: what the gas sees."""

    material: PipeRecord
    size: PipeSize

    label: str = field(init=False)
    nominal: float = field(init=False)
    bore: float = field(init=False)
    roughness: float = field(init=False)
    plastic: bool = field(init=False)
    area: float = field(init=False)

    def __post_init__(self) -> None:
        # Copied up, since the solver asks for them some hundred thousand times a second.
        set_ = object.__setattr__
        set_(self, "label", self.size.label)
        set_(self, "nominal", self.size.nominal)
        set_(self, "bore", self.size.bore)
        set_(self, "roughness", self.material.roughness)
        set_(self, "plastic", self.material.made_of == "plastic")
        set_(self, "area", math.pi * self.size.bore**2 / 4)


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A pipe or a fitting in a run, in the order in which the run is walked.

    length, rise: of a pipe [m]; the rise is positive where the walk goes up.
    rise_known: False for a pipe that does not say how far it rises; it is then figured as level.
    number: of the piece in the job's list it comes from, from 1; None in a counted run and at an implied end.
    before, after: the sections on either side; the same one but at a change of size.
    k, table_length: the job's own values, where it overrides the record's [-], [m].
    surroundings: what the pipe runs through, as written; None where the job does not say.
    drain: whether water is drained off there.
    implied: not listed in the job, but there all the same (an open end, an unlisted size change).
    """

    name: str
    place: str
    number: int | None = None
    before: Section
    after: Section
    length: float = 0.0
    rise: float = 0.0
    rise_known: bool = True
    heading: str | None = None
    surroundings: str | None = None
    fitting: FittingRecord | None = None
    k: float | None = None
    table_length: float | None = None
    implied: bool = False
    insulation: Insulation | None = None
    drain: bool = False

    @property
    def is_pipe(self) -> bool:
        """Whether this is a straight pipe."""
        return self.fitting is None

    @property
    def section(self) -> Section:
        """The section whose velocity the loss is stated on: the narrower of the two."""
        return self.before if self.before.bore <= self.after.bore else self.after

    @property
    def kind(self) -> str:
        """'pipe', or the kind of fitting."""
        return "pipe" if self.fitting is None else self.fitting.kind


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A chain of pieces from the joint `start` to the joint `end`.

    rise_known: False for a counted run whose rise was not given; its draft is then left out.
    findings: what its layout implies without saying it. unturned: places where the fittings listed cannot make the
    turn of the route.
    """

    name: str
    carries: Carries
    start: str
    end: str
    pieces: tuple[Piece, ...]
    counted: bool
    rise_known: bool
    table: str | None = None
    findings: tuple[Finding, ...] = ()
    unturned: tuple[Finding, ...] = ()

    @property
    def straight_length(self) -> float:
        """Length of all straight pipe [m]."""
        return math.fsum(piece.length for piece in self.pieces)

    @property
    def unmeasured(self) -> tuple[Finding, ...]:
        """Straight pipe whose length nobody has given yet; a run is never fittings alone."""
        if self.straight_length == 0.0 and (self.counted or not any(piece.is_pipe for piece in self.pieces)):
            return (Finding("no-straight-pipe", Where(run=self.name)),)
        return tuple(
            [
                Finding("pipe-without-length", Where(run=self.name, piece=piece.number))
                for piece in self.pieces
                if piece.is_pipe and not piece.length
            ]
        )

    @property
    def first_section(self) -> Section:
        """The section the run starts with, at `start`."""
        return self.pieces[0].before

    @property
    def last_section(self) -> Section:
        """The section the run ends with, at `end`."""
        return self.pieces[-1].after

    def section_at(self, joint: str) -> Section:
        """The section at one of the run's two joints."""
        return self.first_section if joint == self.start else self.last_section
