"""The way from an appliance to the open air, where it leads through more than one run.

A table allows so much between the appliance and the end of the pipe. Where that way is cut into several
runs, none of them may have the whole allowance to itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice

import networkx as nx

from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import KINDS, VentGraph, is_outdoors
from ventsize.run.model import Run

Path = tuple[Run, ...]

MOST_PATHS = 200  # from one appliance, in a net of many loops; more than any vent has


def paths(graph: VentGraph) -> tuple[Path, ...]:
    """Every way from an appliance to the open air that leads through more than one run, appliance first."""
    if all(OUTDOORS in (run.start, run.end) for run in graph.runs.values()):
        return ()
    found: list[Path] = []
    for carries in KINDS:
        net = graph.of_kind(carries)
        openings = [node for node in net if is_outdoors(node)]
        for appliance in graph.appliances:
            if appliance in net:
                ways = islice(nx.all_simple_edge_paths(net, appliance, openings), MOST_PATHS)
                found += [tuple(graph.runs[key] for *_, key in way) for way in ways]
    return tuple(path for path in found if len(path) > 1)


def through(run: Run, all_paths: Sequence[Path]) -> tuple[Path, ...]:
    """The paths that lead through a run."""
    return tuple(path for path in all_paths if any(part.name == run.name for part in path))
