"""The job around a run, as far as a table asks for it: its other pipe, its site, what somebody has confirmed."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import Literal

from ventsize.allowance.case import BOTH_KINDS, Site
from ventsize.allowance.model import ONE_PIPE, TWO_PIPES, AllowanceTable, Pipes
from ventsize.check.inputs import Inputs
from ventsize.jobfile.job import OUTDOORS, Carries
from ventsize.run.graph import paths_out
from ventsize.run.model import Run

Kind = Pipes | Literal["both"] | None
KINDS: tuple[Carries, ...] = ("flue gas", "combustion air")


class Around:
    """Answers for one job what its tables ask of the job around a run. Each question is worked out when it is asked."""

    def __init__(self, inputs: Inputs) -> None:
        self._inputs = inputs
        self._confirmed = frozenset(" ".join(text.split()) for text in inputs.job.confirmed)
        self._pipes: dict[tuple[str, ...], Kind] = {}

    def site(self, table: AllowanceTable, serves: tuple[str, ...]) -> Site:
        """What is around the runs that serve these appliances."""
        site = self._inputs.job.site
        pairs = _asks_for_pairs(table)
        return Site(
            altitude=site.altitude,
            pipes=self._kind(serves),
            sizes={kind: found for kind in KINDS if (found := self._sizes(serves, kind))} if pairs else {},
            difference=self._difference(serves) if pairs else None,
            design_outdoor=site.design_outdoor,
            confirmed=self._confirmed,
        )

    def ends(self, run: Run, serves: tuple[str, ...]) -> Sequence[Run]:
        """The runs by which its gas reaches the outdoors: itself where it does."""
        if OUTDOORS in (run.start, run.end):
            return (run,)
        ways = (way for name in serves for way in paths_out(self._inputs.graph, name, run.carries))
        found = {way[-1].name: way[-1] for way in ways if any(part.name == run.name for part in way)}
        return tuple(found.values())

    def _kind(self, serves: tuple[str, ...]) -> Kind:
        """Whether these appliances have one pipe or two; None where one of them does not say."""
        if serves not in self._pipes:
            kinds = {self._kind_of(name) for name in serves}
            several: Kind = BOTH_KINDS
            self._pipes[serves] = None if None in kinds or not kinds else kinds.pop() if len(kinds) == 1 else several
        return self._pipes[serves]

    def _kind_of(self, name: str) -> Kind:
        job = self._inputs.job
        if any(run.carries == "combustion air" for run in self._inputs.graph.runs_at(name)):
            return TWO_PIPES
        stated = next(appliance.air for appliance in job.appliances if appliance.name == name)
        if stated is None:
            return ONE_PIPE if any(name in room.appliances for room in job.rooms) else None
        return TWO_PIPES if stated == "pipe" else ONE_PIPE

    def _sizes(self, serves: tuple[str, ...], carries: Carries) -> tuple[float, ...]:
        """Nominal sizes of every run on the ways of these appliances [m]."""
        runs = {run.name: run for name in serves for way in paths_out(self._inputs.graph, name, carries) for run in way}
        sections = (section for run in runs.values() for piece in run.pieces for section in (piece.before, piece.after))
        return tuple(sorted({section.nominal for section in sections}))

    def _difference(self, serves: tuple[str, ...]) -> float | None:
        """The most by which the straight lengths of a vent and its air pipe differ [m]; None where there is no pair."""
        return max((abs(vent - air) for name in serves for vent, air in self._pairs(name)), default=None)

    def _pairs(self, name: str) -> Iterator[tuple[float, float]]:
        ways = (paths_out(self._inputs.graph, name, kind) for kind in KINDS)
        vents, airs = ([math.fsum(run.straight_length for run in way) for way in found] for found in ways)
        yield from itertools.product(vents, airs)


def _asks_for_pairs(table: AllowanceTable) -> bool:
    """Whether a table compares vent and air pipe."""
    known: bool | None = table.memo.get("pairs")
    if known is None:
        limits = table.limits
        known = limits.same_size or limits.longest_difference is not None
        known = known or any(row.holds_for.air_size is not None for row in table.rows)
        table.memo["pairs"] = known
    return known
