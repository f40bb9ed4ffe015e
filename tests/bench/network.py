"""Flows and pressures in a net of 1,000 pipes with 100 loops, against pandapipes on the same net.

Both have their net built. What is timed is a solution from nothing: for ventsize the ways and loops of the net, the
laws of its runs, and Newton's steps; for pandapipes one `pipeflow` with the Colebrook equation.
"""

from __future__ import annotations

from typing import Any

from tests.bench.measure import Timed, measure, measure_together
from tests.bench.outcome import Outcome
from tests.flow.grids import BORES, ROUGHNESS, Grid, firing, random_grid, stream, vent_graph
from ventsize.flow import network
from ventsize.flow.balance import balance
from ventsize.flow.solve import solve
from ventsize.run.graph import VentGraph

TRIES = 9
_spread = getattr(
    network.spread, "__wrapped__", network.spread
)  # what it keeps of a net from an earlier try would help
ALIKE = 5e-3  # of the largest flow


def against_pandapipes_net() -> Outcome:
    """The same net on both sides, fed at its many ends and open at one."""
    grid = random_grid(joints=901, loops=100, outlets=1, seed=1, flow=0.003)
    graph = vent_graph(grid)
    theirs = _pandapipes_net(grid)
    found: list[dict[str, float]] = []
    ours, yardstick = measure_together(
        [Timed(lambda: found.append(_flows(graph, grid))), Timed(lambda: _pipeflow(theirs))], repeats=TRIES
    )
    whole = measure(Timed(lambda: solve(graph, firing(grid))), repeats=3)
    other = dict(zip((pipe.name for pipe in grid.pipes), theirs.res_pipe["mdot_from_kg_per_s"], strict=True))
    off = max(abs(found[-1].get(name, 0.0) - flow) for name, flow in other.items()) / max(map(abs, other.values()))
    return Outcome(
        what=f"flows in a net of {len(grid.pipes):,} pipes, 100 loops",
        against="pandapipes pipeflow, Colebrook, same net",
        ours=ours,
        yardstick=yardstick,
        kind="at most",
        target=1.0,
        wrong="" if off <= ALIKE else f"the flows differ by {off:.2%} of the largest",
        note=f"with every piece of every run reported: {whole.median:.2f} s",
    )


def _flows(graph: VentGraph, grid: Grid) -> dict[str, float]:
    """Every run's flow [kg/s]; empty where one was not found. Runs that meet only outdoors are nets of their own."""
    fed = {f"n{joint}": flow for joint, flow in grid.fed.items()}
    gas = stream(1.0)
    flows: dict[str, float] = {}
    for net in network.nets(graph, "flue gas"):
        runs = {key: graph.runs[key] for *_, key in net.edges(keys=True)}
        ways = _spread(net)
        given = network.distribute(ways, runs=runs, injected=fed)
        flows.update(given)
        if not ways.closing:
            continue
        found = balance(
            graph,
            list(runs.values()),
            loops=network.cycles(ways, runs=runs),
            start=given,
            streams=dict.fromkeys(runs, gas),
            outside_density=gas.density,
            rises=None,
            ends=dict.fromkeys(runs, 0.0),
        )
        if not found.converged:
            return {}
        flows.update(zip(runs, found.flows.tolist(), strict=True))
    return flows


def _pandapipes_net(grid: Grid) -> Any:
    import pandapipes as pp

    gas = stream(0.0)
    net: Any = pp.create_empty_network(add_stdtypes=False)
    net.fluid = pp.create_constant_fluid(
        "gas", "liquid", density=gas.density, viscosity=gas.viscosity, heat_capacity=1000.0, compressibility=1.0,
        molar_mass=28.0,
    )  # fmt: skip
    joints = sorted({joint for pipe in grid.pipes for joint in (pipe.start, pipe.end)})
    number = {joint: pp.create_junction(net, pn_bar=1.01325, tfluid_k=gas.temperature) for joint in joints}
    for pipe in grid.pipes:
        pp.create_pipe_from_parameters(
            net, number[pipe.start], number[pipe.end], length_km=pipe.length / 1e3,
            inner_diameter_mm=BORES[pipe.size] * 1e3, k_mm=ROUGHNESS * 1e3, loss_coefficient=pipe.k,
        )  # fmt: skip
    pp.create_ext_grid(net, number[grid.open[0]], p_bar=1.01325, t_k=gas.temperature)
    for joint, flow in grid.fed.items():
        pp.create_source(net, number[joint], mdot_kg_per_s=flow)
    return net


def _pipeflow(net: Any) -> None:
    import pandapipes

    pandapipes.pipeflow(net, friction_model="colebrook", tol_p=1e-8, tol_m=1e-8, max_iter_hyd=100)
