"""A chain and a tree worked by hand with the Colebrook equation, which pandapipes repeats to four digits.

Flue gas of methane with 30 % excess air at 50 degC: 1.0560 kg/m³, 17.845 µPa·s; 12.360392 g/s for 100 kBtu/h.
"""

from __future__ import annotations

import pytest

from tests.flow.grids import FITTING, INCH, stream
from ventsize.catalog.records import PipeRecord, PipeSize
from ventsize.flow.rate_flow import Firing, RateFlow
from ventsize.flow.solve import solve
from ventsize.flow.stream import Stream
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import VentGraph
from ventsize.run.model import Piece, Run, Section

FLOW = 0.012360392
BORES = {2: 0.0525018, 3: 0.0779272, 4: 0.1022604}
FOOT = 0.3048


def gas(mass_flow: float) -> Stream:
    """The reference gas; its density and viscosity are given, not worked out."""
    found = stream(mass_flow)
    object.__setattr__(found, "density", 1.0560)
    object.__setattr__(found, "viscosity", 1.7845e-5)
    return found


def run(name: str, start: str, end: str, *pieces: tuple[int, float, float]) -> Run:
    """A run of (size [in], length [ft], K) after one another."""
    found = []
    for inches, feet, k in pieces:
        size = PipeSize(
            nominal=inches * INCH,
            label=f"{inches} in",
            outside=0.2,
            wall=0.004,
            bore=BORES[inches],
            bore_least=BORES[inches],
            bore_most=BORES[inches],
        )
        record = PipeRecord(
            name="pipe",
            title="Pipe",
            source="invented",
            sizes=(size,),
            roughness=1.5e-6,
            roughness_least=1.5e-6,
            roughness_most=1.5e-6,
        )
        section = Section(material=record, size=size)
        found.append(Piece(name="pipe", place=name, before=section, after=section, length=feet * FOOT))
        found.append(Piece(name="fitting", place=name, before=section, after=section, fitting=FITTING, k=k))
    return Run(name=name, carries="flue gas", start=start, end=end, pieces=tuple(found), counted=False, rise_known=True)


def solved(monkeypatch: pytest.MonkeyPatch, runs: list[Run], fed: dict[str, float]) -> RateFlow:
    """The runs at these flows, streams of one gas mixing to the same gas."""
    monkeypatch.setattr("ventsize.flow.network.mix_streams", lambda streams: gas(sum(one.mass_flow for one in streams)))
    monkeypatch.setattr("ventsize.flow.network.replace", lambda one, mass_flow: gas(mass_flow))
    graph = VentGraph(runs={one.name: one for one in runs}, junctions={}, appliances=tuple(fed))
    flue = {name: gas(flow) for name, flow in fed.items()}
    return solve(graph, Firing(name="on", rates=dict.fromkeys(fed, "on"), flue=flue, air={}, outdoors=gas(0.0)))


def test_two_sizes_in_series(monkeypatch: pytest.MonkeyPatch) -> None:
    """10 ft of 2 in with two elbows and a sudden expansion, 40 ft of 3 in with three elbows and the exit: 62.699 Pa."""
    chain = run("vent", "a", OUTDOORS, (2, 10.0, 2 * 0.39 + 0.2982), (3, 40.0, 3 * 0.39 + 1.0))
    found = solved(monkeypatch, [chain], {"a": FLOW}).runs["vent"]
    assert found.start_pressure == pytest.approx(62.6992, rel=1e-3)
    assert found.pieces[2].pressure_drop + found.pieces[3].pressure_drop == pytest.approx(21.7897, rel=1e-3)


def test_two_appliances_in_a_tree(monkeypatch: pytest.MonkeyPatch) -> None:
    """A: 20 ft of 2 in, K 1.31; B with 150 kBtu/h: 15 ft of 3 in, K 1.38; both into 30 ft of 4 in, K 1.39."""
    runs = [
        run("a", "A", "j", (2, 20.0, 1.31)),
        run("b", "B", "j", (3, 15.0, 1.38)),
        run("common", "j", OUTDOORS, (4, 30.0, 1.39)),
    ]
    found = solved(monkeypatch, runs, {"A": FLOW, "B": 1.5 * FLOW}).runs
    assert found["common"].start_pressure == pytest.approx(24.5672, rel=1e-3)
    assert found["a"].start_pressure == pytest.approx(93.3219, rel=1e-3)
    assert found["b"].start_pressure == pytest.approx(45.7729, rel=1e-3)
