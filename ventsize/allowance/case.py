"""What of a job decides which rows of a table apply to a run."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import product
from types import MappingProxyType
from typing import Literal

from ventsize.allowance.model import ONE_PIPE, TWO_PIPES, Pipes, Row
from ventsize.catalog.records import same_size
from ventsize.finding import State
from ventsize.jobfile.job import Carries

BOTH_KINDS: Literal["both"] = "both"
FLUE_GAS: Carries = "flue gas"
COMBUSTION_AIR: Carries = "combustion air"

Unknown = Literal["pipes", "ends", "air_size"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """The job around a run, as far as a table asks for it.

    altitude: of the site [m]; None where the job does not say
    pipes: whether the appliance has one pipe or two; None where the job does not say, "both" where it has several
        appliances, some of each kind
    sizes: nominal sizes of the vent and of the air pipe, all the way to the outdoors, by what they carry [m]; a pipe
        that is not there, or not in the job, is left out
    difference: the most by which straight lengths of vent and air differ [m]; None where there is no such pair
    design_outdoor: the coldest day to be expected [K]; None where the job does not say
    confirmed: footnotes that somebody has looked at
    """

    altitude: float | None
    pipes: Pipes | Literal["both"] | None = None
    sizes: Mapping[Carries, tuple[float, ...]] = field(default_factory=lambda: MappingProxyType({}))
    difference: float | None = None
    design_outdoor: float | None = None
    confirmed: frozenset[str] = frozenset()

    def confirms(self, text: str) -> bool:
        """Whether a footnote is confirmed word for word."""
        return " ".join(text.split()) in self.confirmed


@dataclass(frozen=True, slots=True, kw_only=True)
class RowCase:
    """What a row's conditions are held against, for one run.

    pipes, ends, other_sizes (of the other pipe) [m]: None where not known. No other pipe has no sizes.
    """

    carries: Carries
    pipes: Pipes | Literal["both"] | None
    ends: tuple[str, ...] | None
    materials: frozenset[str]
    other_sizes: tuple[float, ...] | None

    def fits_size(self, row: Row, size: float) -> bool:
        """Whether a row is for pipe of a nominal size [m]: an air pipe goes by the air size where the row has one."""
        if self.carries == COMBUSTION_AIR and row.holds_for.air_size is not None:
            return same_size(row.holds_for.air_size, size)
        return same_size(row.size, size)

    def state(self, row: Row) -> State:
        """Whether what a row says it holds for is so."""
        states = {self._pipes(row), self._ends(row), self._materials(row), self._other(row)}
        return "not met" if "not met" in states else "not known" if "not known" in states else "met"

    def unknown(self, row: Row) -> tuple[Unknown, ...]:
        """What of a row's conditions the job does not say."""
        asked: tuple[tuple[Unknown, State], ...] = (
            ("pipes", self._pipes(row)), ("ends", self._ends(row)), ("air_size", self._other(row)),
        )  # fmt: skip
        return tuple(name for name, state in asked if state == "not known")

    def _pipes(self, row: Row) -> State:
        asked = row.holds_for.pipes
        if asked is None:
            return "met"
        if self.pipes is None:
            return "not known"
        return "met" if self.pipes == asked else "not met"

    def _ends(self, row: Row) -> State:
        asked = row.holds_for.ends
        if not asked:
            return "met"
        if self.ends is None:
            return "not known"
        return "met" if set(self.ends) <= set(asked) else "not met"

    def _materials(self, row: Row) -> State:
        asked = row.holds_for.materials
        return "met" if not asked or self.materials <= set(asked) else "not met"

    def _other(self, row: Row) -> State:
        air_size = row.holds_for.air_size
        if air_size is None:
            return "met"
        wanted = row.size if self.carries == COMBUSTION_AIR else air_size
        if self.pipes in (ONE_PIPE, BOTH_KINDS):
            return "not met"
        if self.other_sizes is None:
            return "not known"
        if not self.other_sizes or not all(same_size(size, wanted) for size in self.other_sizes):
            return "not met"
        return "not known" if self.pipes is None else "met"  # of several appliances, one may have one pipe

    def completions(self, rows: tuple[Row, ...]) -> Iterator[RowCase]:
        """The case with what is not known filled in, each way that any of these rows could tell apart."""
        pipes: list[Pipes | Literal["both"]] = [ONE_PIPE, TWO_PIPES] if self.pipes is None else [self.pipes]
        paired = [row for row in rows if row.holds_for.air_size is not None]
        wanted = [row.size if self.carries == COMBUSTION_AIR else row.holds_for.air_size or 0.0 for row in paired]
        other = [*((size,) for size in wanted), ()] if self.other_sizes is None else [self.other_sizes]
        for one, sizes in product(pipes, other):
            yield replace(self, pipes=one, other_sizes=() if one == ONE_PIPE else sizes)
