"""What the study of causes finds. All in SI."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ventsize import finding
from ventsize.finding import Finding
from ventsize.jobfile.reading import Kind
from ventsize.jobfile.symptom import Symptom
from ventsize.studies.readings.result import ReadingsStudy
from ventsize.studies.readings.symptoms import FOUND_RIGHT

WORTH_A_LOOK = 3  # things, where the readings are as they should be

Outcome = Literal["as it should be", "something is off", "read again", "nothing to compare"]
CauseKind = Literal[
    "terminal",
    "inside",
    "water",
    "longer",
    "wrong size",
    "air pipe",
    "recirculation",
    "leak",
    "switch",
    "input",
    "appliance",
    "room pressure",
    "wind",
]
Form = Literal[
    "terminal-blocked",
    "narrowed-inside",
    "water-puddle",
    "water-closed",
    "longer-pipe",
    "more-elbows",
    "other-pipe",
    "air-restricted",
    "leak",
    "recirculation",
    "switch-tubing",
    "switch-water",
    "switch-water-low-side",
    "input",
    "flow",
    "warmth",
    "room-pressure",
    "wind-at-terminal",
    "wind-at-inlet",
]
SizeKind = Literal["open bore", "water", "bore", "hole", "share", "temperature", "length", "count", "pressure"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Where a cause would be: some pieces of a run, or no pipe at all.

    first, last: numbers of pieces in the run, from 1; name, last_name: theirs; pipe: whether the first is one. counted:
    whether the run has no order. whole: all of the run. behind: behind the piece, not in it. size, material: what is
    there instead; share: of the pipe, where it is part of one [-].
    """

    run: str | None = None
    counted: bool = False
    first: int | None = None
    last: int | None = None
    name: str = ""
    last_name: str = ""
    pipe: bool = False
    whole: bool = False
    behind: bool = False
    size: str = ""
    material: str = ""
    share: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseSize:
    """How large a cause would be.

    kind: what is sized; value, low, high: best and the range that fits about as well, in the unit of the kind:
    "open bore" left by a narrow place, "bore" of wrong pipe, "hole" (its diameter), "water" standing, "length" more
    than the job says [m]; "share", "count" [-]; "temperature" off [K]; "pressure" [Pa]. of: what it is out of, such as
    the pipe's bore [m]; None where there is no such thing.
    """

    kind: SizeKind
    value: float
    low: float
    high: float
    of: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Noticed:
    """From which size on the readings would have shown a cause, wherever it is."""

    kind: CauseKind
    form: Form
    part: Part
    size: CauseSize


@dataclass(frozen=True, slots=True, kw_only=True)
class NextReading:
    """The reading that would tell two causes apart best.

    place, run, carries, piece, rate, kind: what to read, as in `Tap`. here, there: what it would show with the cause
    itself and with the other [Pa], [K] or [-]. apart: their difference over what the instrument and the calculation
    leave open, in standard deviations; below 2 it would not settle it.
    """

    place: str
    run: str | None
    carries: str
    piece: str
    rate: str
    kind: Kind
    here: float
    there: float
    apart: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """Something that would explain the readings.

    kind: of cause; form: which way of it. part: where it fits best; parts: all that the readings cannot tell from it,
    with their forms. size: how large; extra: pressure it adds at the highest rate read [Pa], None where that is not
    what it does. chi_square: what it leaves unexplained, in squared standard deviations; score: of its kind, -2 ln of
    the evidence. shows: what each compared reading would be with it; misses: numbers of the readings that it leaves
    outside. likelihood: weight among all causes [-]. lumped: whether its run has all its straight pipe in one piece, so
    that which of it would be of another size could not be tried. looked_for: whether somebody looked, and did not find
    it.
    """

    kind: CauseKind
    form: Form
    part: Part
    parts: tuple[tuple[Form, Part], ...]
    size: CauseSize
    extra: float | None
    chi_square: float
    score: float
    likelihood: float
    shows: tuple[float, ...]
    misses: tuple[int, ...]
    lumped: bool = False
    looked_for: bool = False

    @property
    def run(self) -> str | None:
        """The run it would be in."""
        return self.part.run

    @property
    def dismissed(self) -> bool:
        """Whether a poor fit speaks against it: not where the job cannot say where along the run it would be."""
        return not (self.kind == "wrong size" and self.lumped)


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseGroup:
    """Causes that these readings cannot tell apart, the best fitting first.

    next_readings: for each cause after the first, what would tell it from the first; None where no reading would.
    """

    causes: tuple[Cause, ...]
    next_readings: tuple[NextReading | None, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Two:
    """Two causes at once, where no single one explains the readings. chi_square, score, misses: of both together."""

    causes: tuple[Cause, Cause]
    chi_square: float
    score: float
    misses: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Verified:
    """The leading cause put into the run and solved anew.

    shows: each compared reading by that, in the unit of its kind; off: the largest difference to what the search
    took it for, over the reading's accuracy [-].
    """

    shows: tuple[float, ...]
    off: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TableSays:
    """The verdict on the same job, which stands beside whatever the readings say: the outcome that settles it.

    A vent can read as calculated and still be longer than the maker allows.
    """

    decides: finding.Outcome

    @property
    def verdict(self) -> finding.Verdict:
        """The verdict on the job."""
        return self.decides.verdict

    @property
    def length_is_off(self) -> bool:
        """Whether the length itself is a finding: more than the table allows, or less than its minimum."""
        return self.verdict in ("over", "short")


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """What could explain the readings.

    outcome: whether they are what this vent should show. reasons: why. by_table: the verdict that stands
    beside it. repeat: number of a reading just past its accuracy that is not taken for a fault but is worth repeating;
    None where there is none. chi_square: what the vent as it
    should be leaves unexplained; chance: how often a sound vent would leave as much [-].
    groups: ranked, the most likely first; against_next: for each group after the first, the reading that would tell
    its first cause from the leading one. plan: the fewest and cheapest readings that tell the leading cause from its
    rivals, in the order to take them. two: the two causes at once that explain what the best single one does not.
    unseen: causes that these readings would not show, however large; noticed: those that they would show, and from
    which size on. hardly_shown: kinds that the readings speak for, if too little to call anything off, the likeliest
    first, then those unseen; without what somebody has looked for.
    verified: None where nothing was to be solved anew.
    """

    title: str
    outcome: Outcome
    reasons: tuple[Finding, ...]
    readings: ReadingsStudy
    by_table: TableSays
    repeat: int | None
    chi_square: float
    chance: float
    groups: tuple[CauseGroup, ...]
    against_next: tuple[NextReading | None, ...]
    plan: tuple[NextReading, ...]
    two: Two | None
    unseen: tuple[tuple[CauseKind, Form], ...]
    hardly_shown: tuple[str, ...]
    noticed: tuple[Noticed, ...]
    verified: Verified | None
    cautions: tuple[Finding, ...]

    @property
    def two_at_once(self) -> tuple[int, ...]:
        """Numbers of the readings that the best single cause leaves unexplained: then two may be at work."""
        off = self.outcome == "something is off" and self.groups
        return self.groups[0].causes[0].misses if off else ()

    @property
    def looks(self) -> tuple[Symptom, ...]:
        """What, looked at and found right, would speak against the causes that stand first.

        Where the readings are as they should be: the first few that could be there all the same, likeliest first.
        """
        if self.outcome == "as it should be":
            right = {kind: what for what, kind in FOUND_RIGHT.items()}
            return tuple(right[kind] for kind in self.hardly_shown[:WORTH_A_LOOK])
        if self.outcome != "something is off" or not self.groups:
            return ()
        first = (*(self.two.causes if self.two is not None else ()), *self.groups[0].causes)
        kinds = {cause.kind for cause in first if not cause.looked_for}
        return tuple(what for what, kind in FOUND_RIGHT.items() if kind in kinds)

    @property
    def all_well(self) -> bool:
        """Whether the readings are as they should be, and the vent's length is no finding of its own."""
        said = self.readings.stops or self.readings.troubles or any(one.off for one in self.readings.readings)
        return self.outcome == "as it should be" and not self.by_table.length_is_off and not said
