"""Ways out: from an appliance to the open air, where one leads through more than one run.

A table allows so much between the appliance and the end of the pipe. Where that way is cut into several
runs, none of them may have the whole allowance to itself.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import networkx as nx

from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import KINDS, VentGraph, is_outdoors
from ventsize.run.model import Run

Path = tuple[Run, ...]

MOST_PATHS = 200  # from one appliance, in a net of many loops; more than any vent has


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


def ways_out(graph: VentGraph, *, counted_together: Callable[[Run], bool]) -> tuple[Way, ...]:
    """Every way out that leads through more than one run of one gas.

    counted_together: whether the table of a run counts vent and air against one allowance.
    """
    if all(OUTDOORS in (run.start, run.end) for run in graph.runs.values()):
        return ()
    nets = [graph.of_kind(carries) for carries in KINDS]
    found: list[Way] = []
    for appliance in graph.appliances:
        vents, airs = (list(_paths(graph, net, appliance)) for net in nets)
        together = any(counted_together(run) for path in (*vents, *airs) for run in path)
        pairs: Iterator[tuple[Path, ...]] = (
            itertools.product(vents, airs) if together and vents and airs else ((path,) for path in (*vents, *airs))
        )
        found += [Way(pair) for pair in itertools.islice(pairs, 2 * MOST_PATHS) if any(len(path) > 1 for path in pair)]
    return tuple(found)


def vent_paths(graph: VentGraph) -> tuple[Path, ...]:
    """The vent's way from every appliance to the open air, appliance first, of one run or several."""
    net = graph.of_kind("flue gas")
    return tuple(path for appliance in graph.appliances for path in _paths(graph, net, appliance))


def paths_of(graph: VentGraph, appliance: str, carries: str) -> Iterator[Path]:
    """The ways of one gas from an appliance to the open air, appliance first, of one run or several."""
    yield from _paths(graph, graph.of_kind(carries), appliance)


def _paths(graph: VentGraph, net: nx.MultiGraph, appliance: str) -> Iterator[Path]:
    """The ways of one gas from an appliance to the open air, appliance first."""
    if appliance not in net:
        return
    openings = [node for node in net if is_outdoors(node)]
    for way in itertools.islice(nx.all_simple_edge_paths(net, appliance, openings), MOST_PATHS):
        yield tuple(graph.runs[key] for *_, key in way)


def ways_using(run: Run, ways: Sequence[Way]) -> tuple[Way, ...]:
    """The ways that lead through a run."""
    return tuple(way for way in ways if run.name in way.names)
