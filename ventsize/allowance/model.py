"""The allowance table as the user typed it: rows, deductions, and how elbows are counted. SI inside.

Labels keep what was typed, because a person compares a result with the page it was copied from.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Literal

from ventsize.catalog.records import FittingKind, same_size
from ventsize.jobfile.job import Carries

NOT_PERMITTED: Literal["not permitted"] = "not permitted"
EACH_RUN: Literal["each run"] = "each run"
RUNS_TOGETHER: Literal["runs together"] = "runs together"

STRICTEST: Literal["strictest"] = "strictest"
SHARES: Literal["shares"] = "shares"
ONE_PIPE: Literal["one"] = "one"
TWO_PIPES: Literal["two"] = "two"

Counts = Literal["each run", "runs together"]
MixedSizes = Literal["strictest", "shares"]
Pipes = Literal["one", "two"]
Entry = float | Literal["not permitted"]

SAME_LENGTH = 0.000254  # m; a hundredth of an inch, so that units do not decide a verdict
SAME_ALTITUDE = 1e-4  # m; rounding of a converted altitude, far below what anybody measures
SAME_INPUT = 1e-6  # relative
SAME_TEMPERATURE = 1e-3  # K; rounding of a converted temperature
EVERY_ALTITUDE = (-math.inf, math.inf)  # of a row without a band
ALTITUDE_OF_A_PAGE = 609.6  # m; 2,000 ft: up to there a page that names no altitude is taken to hold


def same_input(one: float, other: float) -> bool:
    """Whether two inputs [W] are one input."""
    return abs(one - other) <= SAME_INPUT * max(abs(one), abs(other))


@dataclass(frozen=True, slots=True)
class SizedDeduction:
    """The deduction of a fitting at one nominal size [m]: an equivalent length [m]."""

    size: float
    label: str
    length: float


@dataclass(frozen=True, slots=True)
class Deduction:
    """What the table deducts for a fitting: one length [m] for every size, or a length by size.

    per_two: whether the length is for each begun pair of them.
    """

    length: float | None = None
    by_size: tuple[SizedDeduction, ...] = ()
    per_two: bool = False

    def at(self, size: float) -> float | None:
        """The length [m] at a nominal size [m], or None where the table does not list that size."""
        if self.length is not None:
            return self.length
        return next((entry.length for entry in self.by_size if same_size(entry.size, size)), None)

    @property
    def largest(self) -> float:
        """The largest length [m] of any size."""
        return max((entry.length for entry in self.by_size), default=self.length or 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """What a row says it holds for, besides input, size and altitude; None or empty where it does not say.

    pipes: "one" (air from the room) or "two". ends: outdoor ends of the run judged, by name.
    materials: of that run, by name. air_size: nominal size of the air pipe [m].
    """

    pipes: Pipes | None = None
    ends: tuple[str, ...] = ()
    materials: tuple[str, ...] = ()
    air_size: float | None = None
    air_size_label: str = ""

    @property
    def count(self) -> int:
        """How many conditions it names."""
        return sum((self.pipes is not None, bool(self.ends), bool(self.materials), self.air_size is not None))

    @property
    def labels(self) -> tuple[str, ...]:
        """Each condition as it stands beside a row: two pipes, end terminal-tee, pvc-40 or cpvc-40, air pipe 3 in."""
        named = (
            {"one": "one pipe", "two": "two pipes"}.get(self.pipes or "", ""),
            f"end {' or '.join(self.ends)}" if self.ends else "",
            " or ".join(self.materials),
            f"air pipe {self.air_size_label}" if self.air_size is not None else "",
        )
        return tuple(text for text in named if text)


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the table: what it is for, and the length or pressure it allows.

    number: place in the file, from 1
    input: gross input the row is for [W]
    size: nominal pipe size [m]
    altitude: lowest and highest altitude of the band [m]; EVERY_ALTITUDE where it has none
    allowable: allowable equivalent length [m], or None in another kind of row and where it is not permitted
    allowable_by_elbows: allowable straight length with `first_elbows`, `first_elbows` + 1 … 90° elbows [m], or None
    minimum: least length, if the table states one [m]
    first_elbows: the number of elbows that the list begins with
    allowable_pressure: the pressure that the run may lose, where the page gives that instead of a length [Pa]
    not_permitted: whether a plain row permits no pipe at all
    elbows_included: how many 90° elbows cost nothing in a plain row
    holds_for: what else the row is for
    """

    number: int
    input: float
    size: float
    altitude: tuple[float, float] = EVERY_ALTITUDE
    allowable: float | None = None
    allowable_by_elbows: tuple[Entry, ...] | None = None
    minimum: float | None = None
    input_label: str = ""
    size_label: str = ""
    altitude_labels: tuple[str, str] = ("", "")
    length_labels: tuple[str, ...] = ()
    first_elbows: int = 0
    allowable_pressure: float | None = None
    not_permitted: bool = False
    elbows_included: int = 0
    holds_for: Conditions = Conditions()

    @property
    def counts_elbows(self) -> bool:
        """Whether the row gives straight lengths by number of elbows."""
        return self.allowable_by_elbows is not None

    @property
    def by_pressure(self) -> bool:
        """Whether the row gives a pressure instead of a length."""
        return self.allowable_pressure is not None

    @property
    def has_band(self) -> bool:
        """Whether the row is for a band of altitude."""
        return self.altitude != EVERY_ALTITUDE

    @property
    def highest_altitude(self) -> float:
        """The highest altitude [m] at which the row holds by itself."""
        return self.altitude[1] if self.has_band else ALTITUDE_OF_A_PAGE

    @property
    def budget(self) -> float | None:
        """Straight pipe that the row allows with the fewest elbows it lists [m]; None where none is permitted."""
        if self.allowable_by_elbows is None:
            return self.allowable
        first = self.allowable_by_elbows[0]
        return None if first == NOT_PERMITTED else first

    def entry(self, elbows: int) -> Entry | None:
        """What an elbow-count row allows with so many elbows [m]; None where it does not list so many."""
        listed = self.allowable_by_elbows or ()
        at = max(0, elbows - self.first_elbows)
        return listed[at] if at < len(listed) else None

    @property
    def label(self) -> str:
        """The row in the words of the table: input, size, band of altitude and what else it is for."""
        parts = (self.input_label, self.size_label, self.band_label, *self.holds_for.labels)
        return ", ".join(part for part in parts if part)

    @property
    def band_label(self) -> str:
        """The band of altitude in the words of the table; empty where the row has none."""
        return f"{self.altitude_labels[0]} to {self.altitude_labels[1]}" if self.has_band else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AltitudeFactor:
    """How a page reduces what it allows with altitude: above [m], per [m], by a share of the allowance [-]."""

    above: float
    per: float
    less: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What a page limits beside the length; None where it does not.

    most_elbows: of more than 30° in a run, or in the runs it counts together
    longest_level, longest_rise: of pipe in a run that is not vertical, or that goes up [m]
    longest_difference: between the straight lengths of vent and air [m]
    same_size: whether vent and air must be of one size
    """

    most_elbows: int | None = None
    longest_level: float | None = None
    longest_rise: float | None = None
    longest_difference: float | None = None
    same_size: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ExposedRow:
    """How much pipe of a size may stand in the cold.

    size: nominal [m]; outdoor: design temperature it is for [K]; insulation: thickness [m], zero for bare pipe;
    allowable: straight pipe [m], zero where none is permitted
    """

    number: int
    size: float
    outdoor: float
    insulation: float
    allowable: float
    size_label: str = ""
    outdoor_label: str = ""
    insulation_label: str = ""
    allowable_label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableFitting:
    """A fitting of the page's own. angle: its turn [rad]; k: its loss coefficient [-]; None where it has none."""

    name: str
    title: str
    kind: FittingKind
    angle: float | None = None
    k: float | None = None


@dataclass(frozen=True, slots=True)
class AllowanceTable:
    """An allowance table.

    elbows_each: how many 90° elbows a fitting counts as in an elbow-count row, where the table says so
    mixed_sizes: how a run of several sizes is judged
    altitude_factor: for rows without a band of altitude; None where the page has none
    confirm: footnotes that a job must confirm, word for word
    counts_as: how many feet one foot of a material counts as, by name
    memo: what has been worked out from the table, by whom it is for; no part of what it says
    """

    file: str
    title: str
    source: str
    rows: tuple[Row, ...]
    applies_to: tuple[Carries, ...]
    counts: Counts
    deductions: Mapping[str, Deduction] = field(default_factory=lambda: MappingProxyType({}))
    elbows_each: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    note: str = ""
    mixed_sizes: MixedSizes = STRICTEST
    altitude_factor: AltitudeFactor | None = None
    confirm: tuple[str, ...] = ()
    counts_as: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    limits: Limits = Limits()
    exposed: tuple[ExposedRow, ...] = ()
    fittings: tuple[TableFitting, ...] = ()
    memo: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def deducts(self) -> bool:
        """Whether the table deducts lengths for fittings at all."""
        return bool(self.deductions)

    @property
    def most_elbows(self) -> int | None:
        """How many elbows of more than 30° a run may have, or the runs counted together; None for no limit."""
        return self.limits.most_elbows

    def rows_of_size(self, size: float) -> tuple[Row, ...]:
        """The rows of a nominal size [m]."""
        return next((rows for rows in self._rows_by_size() if same_size(rows[0].size, size)), ())

    def _rows_by_size(self) -> list[tuple[Row, ...]]:
        found: list[tuple[Row, ...]] | None = self.memo.get("rows by size")
        if found is None:
            found = [tuple(sorted(rows, key=lambda row: row.number)) for rows in by_size(self.rows)]
            self.memo["rows by size"] = found
        return found


def held_at(rows: Sequence[Row], altitude: float) -> tuple[Row, ...]:
    """The rows of one size whose band holds an altitude [m].

    A band holds its lower end, and its upper end unless another row of that size starts there.
    """
    another_starts = any(row.has_band and same_altitude(row.altitude[0], altitude) for row in rows)
    return tuple(row for row in rows if _holds(row, altitude, another_starts=another_starts))


def _holds(row: Row, altitude: float, *, another_starts: bool) -> bool:
    low, high = row.altitude
    if altitude < low - SAME_ALTITUDE or altitude > high + SAME_ALTITUDE:
        return False
    return altitude < high - SAME_ALTITUDE or same_altitude(low, altitude) or not another_starts


def same_altitude(one: float, other: float) -> bool:
    """Whether two altitudes [m] are one altitude."""
    return one == other or abs(one - other) <= SAME_ALTITUDE


def by_size(rows: Sequence[Row]) -> list[list[Row]]:
    """Rows of one nominal size put together, smallest size first."""
    return _clusters(rows, lambda row: row.size, same_size)


def by_input(rows: Sequence[Row]) -> list[list[Row]]:
    """Rows of one input put together, least input first."""
    return _clusters(rows, lambda row: row.input, same_input)


def _clusters(
    rows: Sequence[Row], value: Callable[[Row], float], same: Callable[[float, float], bool]
) -> list[list[Row]]:
    found: list[list[Row]] = []
    for row in sorted(rows, key=value):
        if found and same(value(found[-1][-1]), value(row)):
            found[-1].append(row)
        else:
            found.append([row])
    return found
