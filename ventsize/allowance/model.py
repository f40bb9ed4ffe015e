"""The allowance table as the user typed it: rows, deductions, and how elbows are counted. SI inside.

Labels keep what was typed, because a person compares a result with the page it was copied from.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from ventsize.catalog.records import same_size
from ventsize.jobfile.job import Carries

NOT_PERMITTED: Literal["not permitted"] = "not permitted"
EACH_RUN: Literal["each run"] = "each run"
RUNS_TOGETHER: Literal["runs together"] = "runs together"

Counts = Literal["each run", "runs together"]
Entry = float | Literal["not permitted"]

SAME_LENGTH = 0.000254  # m; a hundredth of an inch, so that units do not decide a verdict
SAME_ALTITUDE = 1e-4  # m; rounding of a converted altitude, far below what anybody measures
SAME_INPUT = 1e-6  # relative


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
    """What the table deducts for a fitting: one length [m] for every size, or a length by size."""

    length: float | None = None
    by_size: tuple[SizedDeduction, ...] = ()

    def at(self, size: float) -> float | None:
        """The length [m] at a nominal size [m], or None where the table does not list that size."""
        if self.length is not None:
            return self.length
        return next((entry.length for entry in self.by_size if same_size(entry.size, size)), None)

    @property
    def largest(self) -> float:
        """The largest length [m] of any size."""
        return max((entry.length for entry in self.by_size), default=self.length or 0.0)


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the table: what it is for, and the length it allows.

    number: place in the file, from 1
    input: gross input the row is for [W]
    size: nominal pipe size [m]
    altitude: lowest and highest altitude of the band [m]
    allowable: allowable equivalent length [m], or None in an elbow-count row
    allowable_by_elbows: allowable straight length with 0, 1, 2 … 90° elbows [m], or None in a plain row
    minimum: least length, if the table states one [m]
    """

    number: int
    input: float
    size: float
    altitude: tuple[float, float]
    allowable: float | None = None
    allowable_by_elbows: tuple[Entry, ...] | None = None
    minimum: float | None = None
    input_label: str = ""
    size_label: str = ""
    altitude_labels: tuple[str, str] = ("", "")
    length_labels: tuple[str, ...] = ()

    @property
    def counts_elbows(self) -> bool:
        """Whether the row gives straight lengths by number of elbows."""
        return self.allowable_by_elbows is not None

    @property
    def budget(self) -> float | None:
        """Straight pipe that the row allows with no elbow [m]; None where none is permitted."""
        if self.allowable_by_elbows is None:
            return self.allowable
        first = self.allowable_by_elbows[0]
        return None if first == NOT_PERMITTED else first

    @property
    def label(self) -> str:
        """The row in the words of the table: input, size and band of altitude."""
        return f"{self.input_label}, {self.size_label}, {self.band_label}"

    @property
    def band_label(self) -> str:
        """The band of altitude in the words of the table."""
        return f"{self.altitude_labels[0]} to {self.altitude_labels[1]}"


@dataclass(frozen=True, slots=True)
class AllowanceTable:
    """An allowance table.

    elbows_each: how many 90° elbows a fitting counts as in an elbow-count row, where the table says so
    most_elbows: how many elbows of more than 30° a run may have, or the runs it counts together; None for no limit
    """

    file: str
    title: str
    source: str
    rows: tuple[Row, ...]
    applies_to: tuple[Carries, ...]
    counts: Counts
    deductions: Mapping[str, Deduction] = field(default_factory=lambda: MappingProxyType({}))
    elbows_each: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    most_elbows: int | None = None
    note: str = ""

    @property
    def deducts(self) -> bool:
        """Whether the table deducts lengths for fittings at all."""
        return bool(self.deductions)

    def rows_of_size(self, size: float) -> tuple[Row, ...]:
        """The rows of a nominal size [m]."""
        return tuple(row for row in self.rows if same_size(row.size, size))

    def rows_at(self, size: float, altitude: float) -> tuple[Row, ...]:
        """The rows of a nominal size [m] whose band holds an altitude [m], least input first."""
        held = (row for row in self.rows_of_size(size) if self._holds(row, altitude))
        return tuple(sorted(held, key=lambda row: row.input))

    def _holds(self, row: Row, altitude: float) -> bool:
        low, high = row.altitude
        if altitude < low - SAME_ALTITUDE or altitude > high + SAME_ALTITUDE:
            return False
        return altitude < high - SAME_ALTITUDE or not self._another_starts_at(row, high)

    def _another_starts_at(self, row: Row, altitude: float) -> bool:
        """Whether a row of its size begins there, for whichever input: from there on the table has other bands."""
        return any(
            other is not row and same_size(other.size, row.size) and abs(other.altitude[0] - altitude) <= SAME_ALTITUDE
            for other in self.rows
        )


def same_case_but_altitude(one: Row, other: Row) -> bool:
    """Whether two rows are for one size and input, whatever their altitudes."""
    return same_size(one.size, other.size) and same_input(one.input, other.input)


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
