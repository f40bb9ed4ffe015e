"""What is compared with a table: feet and fittings of a run, without its layout."""

from __future__ import annotations

from dataclasses import dataclass

from ventsize.catalog.records import same_size
from ventsize.finding import Where
from ventsize.jobfile.job import Carries

ELBOW = "elbow"
TEE = "tee"
TERMINAL = "terminal"
ENTRANCE = "entrance"
COUPLING = "coupling"
UNDESCRIBED = "a tee or wye"
SIZE_CHANGE = "size change"

# Fittings that belong to any run: a table that deducts nothing for fittings has them in its lengths.
IN_THE_LENGTHS = frozenset({TERMINAL, ENTRANCE, COUPLING, SIZE_CHANGE})

# An elbow pointing down at the end of a run is an elbow, whatever else it is.
ELBOW_AT_THE_END = frozenset({"terminal-elbow-down"})

SLIGHT_TURN = 30.0 + 1e-6  # degrees; up to this an elbow is none where a page limits their number (common practice)


@dataclass(frozen=True, slots=True)
class SizedLength:
    """Straight pipe of one nominal size [m] and material, its label, and its length [m]."""

    size: float
    label: str
    length: float
    material: str = ""

    def __post_init__(self) -> None:
        if not self.length >= 0:
            raise ValueError(f"a straight length of {self.length} m")


@dataclass(frozen=True, slots=True)
class ColdPipe:
    """Straight pipe in unheated space: nominal size, thickness of its insulation, length [m]."""

    size: float
    label: str
    insulation: float
    length: float


@dataclass(frozen=True, slots=True)
class CountedFitting:
    """Fittings of one kind in a run.

    name: the fitting's record
    kind: elbow, terminal, entrance, coupling, size change, or any other word
    angle_degrees: its turn, for an elbow or a terminal that turns [°]
    sizes: nominal size; two at a size change [m]
    count: how many
    table_length: the job's own equivalent length for each, instead of the table's [m]
    where: it stands, for findings
    implied: not listed, but there all the same: the plain open end of a run that lists no terminal
    order: where each stands along the run from the appliance, from 0; empty in a counted run
    """

    name: str
    kind: str
    sizes: tuple[float, ...]
    angle_degrees: float | None = None
    count: int = 1
    table_length: float | None = None
    where: Where = Where()
    implied: bool = False
    order: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        if self.count < 0 or not self.sizes:
            raise ValueError(f"{self.count} of fitting {self.name!r} with sizes {self.sizes}")
        if self.table_length is not None and not self.table_length >= 0:
            raise ValueError(f"a table length of {self.table_length} m for fitting {self.name!r}")

    @property
    def turns(self) -> bool:
        """Whether it is an elbow where elbows are counted: ends and tees that turn the gas are, too."""
        turning = self.kind in {TERMINAL, ENTRANCE, TEE} and (self.angle_degrees or 0.0) > 0.0
        return self.kind == ELBOW or turning or self.name in ELBOW_AT_THE_END


@dataclass(frozen=True, slots=True)
class Counted:
    """A run as a table counts it.

    materials: of all that is in it, by name
    ends: the outdoor ends its gas passes, by name; None where one is not listed
    laid_out: whether it has a route, so that `level` and `rising` are known
    level, rising: pipe that is not vertical, and pipe that goes up [m]; unsaid: pipe that does not say which [m]
    cold: its pipe in unheated space; cold_unsaid: pipe that does not say what it runs through [m]
    """

    carries: Carries
    straight_by_size: tuple[SizedLength, ...]
    fittings: tuple[CountedFitting, ...] = ()
    reaches_outdoors: bool = True
    name: str = ""
    materials: frozenset[str] = frozenset()
    ends: tuple[str, ...] | None = None
    laid_out: bool = False
    level: float = 0.0
    rising: float = 0.0
    unsaid: float = 0.0
    cold: tuple[ColdPipe, ...] = ()
    cold_unsaid: float = 0.0

    @property
    def straight(self) -> float:
        """Straight pipe of every size together [m]."""
        return sum(part.length for part in self.straight_by_size)

    @property
    def present(self) -> tuple[CountedFitting, ...]:
        """The fittings that are there at all: a count of zero is none."""
        return tuple(fitting for fitting in self.fittings if fitting.count)

    @property
    def sizes(self) -> tuple[float, ...]:
        """Every nominal size in the run, of pipe or fitting, once each, smallest first [m]."""
        found: list[float] = []
        of_pipe = [part.size for part in self.straight_by_size]
        of_fittings = [size for fitting in self.present for size in fitting.sizes]
        for size in sorted(of_pipe + of_fittings):
            if not found or not same_size(found[-1], size):
                found.append(size)
        return tuple(found)

    @property
    def turns(self) -> int:
        """Elbows of more than 30°, each one whatever its angle."""
        return sum(
            fitting.count
            for fitting in self.present
            if fitting.turns and (fitting.angle_degrees is None or fitting.angle_degrees > SLIGHT_TURN)
        )

    def label_of(self, size: float) -> str | None:
        """How the job writes a size, if straight pipe of that size says so."""
        return next((part.label for part in self.straight_by_size if same_size(part.size, size)), None)
