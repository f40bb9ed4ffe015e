"""The yardstick for a network solver: one run as a pandapipes network, with the Colebrook equation.

A fitting becomes the loss coefficient of the pipe before it, as pandapipes has it. The fluid has constant
density, as in a vent, where the pressure changes by less than a thousandth.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

AMBIENT = 1.01325  # bar
TEMPERATURE = 320.0  # K; unused by a fluid of constant properties


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """Straight pipe with the fittings after it.

    length, bore, roughness [m]; k: loss coefficients of the fittings, added up [-].
    """

    length: float
    bore: float
    roughness: float
    k: float


def build(links: Sequence[Link], *, mass_flow: float, density: float, viscosity: float) -> Any:
    """A chain fed at its start and open at its end.

    mass_flow [kg/s]; density [kg/m³], viscosity [Pa·s]: of the gas.
    """
    import pandapipes

    fluid = pandapipes.create_constant_fluid(
        "gas", "liquid", density=density, viscosity=viscosity, heat_capacity=1090.0, compressibility=1.0,
        molar_mass=28.0,
    )  # fmt: skip
    net = pandapipes.create_empty_network(add_stdtypes=False)
    net.fluid = fluid
    nodes = [pandapipes.create_junction(net, pn_bar=AMBIENT, tfluid_k=TEMPERATURE) for _ in range(len(links) + 1)]
    for link, start, end in zip(links, nodes, nodes[1:], strict=False):
        pandapipes.create_pipe_from_parameters(
            net, start, end, length_km=link.length / 1e3, inner_diameter_mm=link.bore * 1e3,
            k_mm=link.roughness * 1e3, loss_coefficient=link.k,
        )  # fmt: skip
    pandapipes.create_ext_grid(net, nodes[-1], p_bar=AMBIENT, t_k=TEMPERATURE)
    pandapipes.create_source(net, nodes[0], mdot_kg_per_s=mass_flow)
    return net


def solve(net: Any) -> None:
    """One flow calculation. A friction model it does not know would fall back to another one silently."""
    import pandapipes

    pandapipes.pipeflow(net, friction_model="colebrook", tol_p=1e-8, tol_m=1e-8, max_iter_hyd=100)


def solve_all(nets: Sequence[Any]) -> None:
    """One flow calculation for each chain."""
    for net in nets:
        solve(net)


def pressure_drop(net: Any) -> float:
    """From the start of a solved chain to its end [Pa]."""
    pressures = net.res_junction["p_bar"]
    return float(pressures.iloc[0] - pressures.iloc[-1]) * 1e5
