"""Ways out: from an appliance to the open air, where one leads through more than one run.

A table allows so much between the appliance and the end of the pipe. Where that way is cut into several
runs, none of them may have the whole allowance to itself.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import KINDS, MOST_WAYS, VentGraph, paths_out
from ventsize.run.model import Run

Path = tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """What one allowance is for: a path of one gas, or a vent's and an air pipe's where a table counts both."""

    paths: tuple[Path, ...]

    @property
    def runs(self) -> tuple[Run, ...]:
        """Every run on it, the vent's first, from the appliance outwards."""
        return tuple(itertools.chain.from_iterable(self.paths))

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its runs."""
        return tuple(run.name for run in self.runs)


@dataclass(frozen=True, slots=True)
class WaysOut:
    """Every way out that leads through more than one run of one gas. cut: appliances that have more than were taken."""

    ways: tuple[Way, ...] = ()
    cut: frozenset[str] = frozenset()


def ways_out(graph: VentGraph, *, together: Callable[[Run], str | None]) -> WaysOut:
    """The ways out of a job: a vent's with an air pipe's where one table judges all of both and counts them together.

    together: the table of a run, where it counts vent and air against one allowance; else None.
    """
    if all(OUTDOORS in (run.start, run.end) for run in graph.runs.values()):
        return WaysOut()
    found: list[Way] = []
    cut: set[str] = set()
    for appliance in graph.appliances:
        vents, airs = (paths_out(graph, appliance, carries) for carries in KINDS)
        tables = {together(run) for path in (*vents, *airs) for run in path}
        pairs: Iterator[tuple[Path, ...]] = ((path,) for path in (*vents, *airs))
        if vents and airs and len(tables) == 1 and None not in tables:
            pairs = itertools.product(vents, airs)
        taken = list(itertools.islice(pairs, 2 * MOST_WAYS))
        if max(len(vents), len(airs)) > MOST_WAYS or next(pairs, None) is not None:
            cut.add(appliance)
        found += [Way(pair) for pair in taken if any(len(path) > 1 for path in pair)]
    return WaysOut(tuple(found), frozenset(cut))


def vent_paths(graph: VentGraph) -> tuple[Path, ...]:
    """The vent's way from every appliance to the open air, appliance first, of one run or several."""
    return tuple(path for name in graph.appliances for path in paths_out(graph, name, "flue gas"))


def ways_using(run: Run, ways: Sequence[Way]) -> tuple[Way, ...]:
    """The ways that lead through a run."""
    return tuple(way for way in ways if run.name in way.names)
