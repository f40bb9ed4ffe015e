"""Friction along straight pipe: Darcy-Weisbach with the Darcy friction factor."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

from fluids.friction import friction_factor as _friction_factor

LAMINAR_LIMIT = 2040.0  # Avila et al., Science 333, 2011: turbulence sustains itself above this
TURBULENT_LIMIT = 4000.0
RAMP_END = 1.01 * LAMINAR_LIMIT  # to which the solver of loops stretches the step of friction there
ROUGHEST = 0.05  # relative roughness at which Colebrook's data end
SLOWEST = 1e-6  # Reynolds number; below it the laminar law is carried on, so that no flow is no loss

Regime = Literal["laminar", "transition", "turbulent"]


def regime(reynolds: float) -> Regime:
    """The regime of pipe flow at a Reynolds number [-]."""
    if reynolds < LAMINAR_LIMIT:
        return "laminar"
    return "transition" if reynolds < TURBULENT_LIMIT else "turbulent"


def in_ramp(reynolds: float) -> bool:
    """Whether a flow has settled in the step between laminar and turbulent friction."""
    return LAMINAR_LIMIT <= reynolds < RAMP_END


@lru_cache(maxsize=65536)
def friction_factor(*, reynolds: float, relative_roughness: float) -> float:
    """The Darcy friction factor: 64/Re up to Re 2040, above it Colebrook's equation, solved exactly.

    At Re 2040 it steps up by more than half, as pipe flow does; the loss itself never falls as flow rises.

    reynolds: on the bore, zero or more [-]
    relative_roughness: equivalent sand roughness over bore [-]

    Raises ValueError for a negative or undefined argument. Source: Colebrook 1939; solved by `fluids`.
    """
    if not reynolds >= 0:
        raise ValueError(f"Reynolds number {reynolds} is not a number of zero or more")
    if not relative_roughness >= 0:
        raise ValueError(f"relative roughness {relative_roughness} is not a number of zero or more")
    return float(_friction_factor(Re=max(reynolds, SLOWEST), eD=relative_roughness))


def pressure_gradient(*, friction_factor: float, bore: float, density: float, velocity: float) -> float:
    """Loss of pressure along straight pipe, positive [Pa/m].

    friction_factor: Darcy [-]
    bore: inside diameter [m]
    density: of the gas [kg/m3]
    velocity: mean over the bore [m/s]
    """
    return friction_factor / bore * density * velocity * velocity / 2


def roughness_codes(relative_roughness: float) -> tuple[str, ...]:
    """Return the code of the finding about pipe rougher than the friction data reach [-]; empty where they do."""
    return () if relative_roughness <= ROUGHEST else ("rough-beyond-data",)
