"""Random nets of runs for tests: trees, loops, several outlets, with the same gas everywhere."""

from __future__ import annotations

import random
from dataclasses import dataclass

import networkx as nx

from ventsize.catalog.records import FittingRecord, PipeRecord, PipeSize
from ventsize.flow.rate_flow import Firing
from ventsize.flow.stream import Stream
from ventsize.gas.mixture import DRY_AIR
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import VentGraph
from ventsize.run.model import Piece, Run, Section

INCH = 0.0254
ROUGHNESS = 5e-5  # at which the explicit friction formulas of other engines are nearest to Colebrook
BORES = {"2 in": 0.052502, "3 in": 0.077927, "4 in": 0.102260}
PRESSURE, TEMPERATURE = 101_325.0, 320.0


def _section(label: str) -> Section:
    bore = BORES[label]
    size = PipeSize(
        nominal=float(label[0]) * INCH,
        label=label,
        outside=bore + 0.008,
        wall=0.004,
        bore=bore,
        bore_least=bore,
        bore_most=bore,
    )
    pipe = PipeRecord(
        name="pipe",
        title="Pipe",
        source="invented",
        sizes=(size,),
        roughness=ROUGHNESS,
        roughness_least=ROUGHNESS,
        roughness_most=ROUGHNESS,
    )
    return Section(material=pipe, size=size)


SECTIONS = {label: _section(label) for label in BORES}
FITTING = FittingRecord(name="fitting", title="Fitting", source="invented", kind="other")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pipe:
    """One run as its test knows it: joints by number, length and bore [m], loss coefficient [-]."""

    name: str
    start: int
    end: int
    length: float
    size: str
    k: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A net: pipes between numbered joints, what flows in at a joint [kg/s], which joints are open."""

    pipes: tuple[Pipe, ...]
    fed: dict[int, float]
    open: tuple[int, ...]


def random_grid(*, joints: int, loops: int, outlets: int, seed: int, flow: float = 0.06) -> Grid:
    """A net grown at random, every run carrying some flow on a way from a feed to an opening."""
    chance = random.Random(seed)
    edges: list[tuple[int, int]] = [(chance.randrange(max(0, n - 8), n), n) for n in range(1, joints)]
    tried = nx.Graph(edges)
    far = [n for n in tried if tried.degree(n) == 1 and n != 0]
    openings = [0, *chance.sample(far, min(outlets - 1, len(far) - 1))]
    while len(edges) < joints - 1 + loops:
        a, b = sorted(chance.sample(range(1, joints), 2))
        if b - a <= 30 and a not in openings and b not in openings:
            edges.append((a, b))
    feeds = [n for n in far if n not in openings]
    pipes = tuple(
        Pipe(
            name=f"r{i}",
            start=a,
            end=b,
            length=chance.uniform(1.0, 12.0),
            size=chance.choice(("3 in", "4 in") if a else ("4 in",)),
            k=round(chance.uniform(0.1, 1.5), 3),
        )
        for i, (a, b) in enumerate(edges)
    )
    return Grid(pipes=pipes, fed={n: chance.uniform(0.5, 1.5) * flow for n in feeds}, open=tuple(openings))


def node(grid: Grid, joint: int) -> str:
    """The name of a joint in a job."""
    return OUTDOORS if joint in grid.open else f"n{joint}"


def vent_graph(grid: Grid) -> VentGraph:
    """The net as a graph of runs that carry flue gas."""
    runs = {}
    for pipe in grid.pipes:
        section = SECTIONS[pipe.size]
        straight = Piece(name="pipe", place=pipe.name, before=section, after=section, length=pipe.length)
        fitting = Piece(name="fitting", place=pipe.name, before=section, after=section, fitting=FITTING, k=pipe.k)
        runs[pipe.name] = Run(
            name=pipe.name,
            carries="flue gas",
            start=node(grid, pipe.start),
            end=node(grid, pipe.end),
            pieces=(straight, fitting),
            counted=False,
            rise_known=True,
        )
    return VentGraph(runs=runs, junctions={}, appliances=tuple(f"n{joint}" for joint in grid.fed))


def stream(mass_flow: float) -> Stream:
    """Warm air: one gas everywhere, so that engines without mixing can be compared."""
    return Stream(mass_flow=mass_flow, mixture=DRY_AIR, temperature=TEMPERATURE, pressure=PRESSURE)


def firing(grid: Grid) -> Firing:
    """Every feed at its flow."""
    return Firing(
        name="all",
        rates={f"n{joint}": "on" for joint in grid.fed},
        flue={f"n{joint}": stream(flow) for joint, flow in grid.fed.items()},
        air={},
        outdoors=stream(0.0),
    )
