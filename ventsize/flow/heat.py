"""Heat through the wall of a pipe: the film inside, the wall and its insulation, the film and radiation outside."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from ventsize.flow import friction
from ventsize.gas import mixture as gas
from ventsize.gas.condensation import saturate
from ventsize.gas.mixture import DRY_AIR, Mixture

EMISSIVITY = 0.9  # of plastics, paint and insulation jackets; common handbook figure
STEFAN_BOLTZMANN = 5.670374419e-8  # W/(m²·K⁴), CODATA 2018
INSULATION_CONDUCTIVITY = 0.04  # W/(m·K); glass fiber or foam sleeve, a usual figure, where the job gives none
LAMINAR_NUSSELT = 3.66  # fully developed, wall at one temperature
LAMINAR_BELOW, TURBULENT_ABOVE = 2300.0, 4000.0  # VDI Heat Atlas, 2nd ed., G1: between them by linear intermittency
STILL = 0.05  # m/s; below it the air counts as still

GRAVITY = 9.80665


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """What a pipe runs through: air at one temperature [K] and pressure [Pa], still or in wind [m/s]."""

    temperature: float
    pressure: float
    wind: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """A pipe's wall and insulation, in cylinders.

    bore, outside: of the pipe; insulated: outside diameter with insulation, the pipe's without [m].
    conductivity: of the pipe, insulation_conductivity: of what is around it [W/(m·K)].
    """

    bore: float
    outside: float
    conductivity: float
    insulated: float
    insulation_conductivity: float = INSULATION_CONDUCTIVITY

    @property
    def pipe_resistance(self) -> float:
        """Of a meter of the pipe's own wall [m·K/W]."""
        return math.log(self.outside / self.bore) / (2 * math.pi * self.conductivity)

    @property
    def insulation_resistance(self) -> float:
        """Of a meter of the insulation [m·K/W]."""
        return math.log(self.insulated / self.outside) / (2 * math.pi * self.insulation_conductivity)


@dataclass(frozen=True, slots=True, kw_only=True)
class Heat:
    """Heat through a meter of pipe.

    conductance: of all together [W/(m·K)]; flux: leaving the gas, negative where it enters [W/m].
    inside_film: heat transfer coefficient [W/(m²·K)]; inside_wall, outside_surface: temperatures [K].
    film: which law the inside film follows.
    """

    conductance: float
    flux: float
    inside_film: float
    inside_wall: float
    outside_surface: float
    film: str


@dataclass(frozen=True, slots=True)
class _Carrier:
    viscosity: float
    conductivity: float
    prandtl: float


def inside_film(
    mixture: Mixture, *, mass_flow: float, temperature: float, pressure: float, bore: float, relative_roughness: float
) -> tuple[float, str]:
    """Heat transfer coefficient between the gas and the wall [W/(m²·K)], and the law it follows.

    Laminar below Re 2300 (Nusselt 3.66), Gnielinski above Re 4000, between them in proportion as the VDI Heat
    Atlas (2nd ed., G1) does. The flow is taken as developed: pipes here are many diameters long. What vapour
    condensing on a wet wall adds to the film is left out.
    """
    from ht.conv_internal import turbulent_Gnielinski

    carrier = _carrier(mixture, float(round(temperature)), pressure)
    reynolds = 4.0 * mass_flow / (math.pi * bore * carrier.viscosity)

    def turbulent(at: float) -> float:
        factor = friction.friction_factor(reynolds=at, relative_roughness=relative_roughness)
        return float(turbulent_Gnielinski(Re=at, Pr=carrier.prandtl, fd=factor))

    if reynolds <= LAMINAR_BELOW:
        nusselt, law = LAMINAR_NUSSELT, "laminar"
    elif reynolds < TURBULENT_ABOVE:
        share = (reynolds - LAMINAR_BELOW) / (TURBULENT_ABOVE - LAMINAR_BELOW)
        nusselt = (1.0 - share) * LAMINAR_NUSSELT + share * turbulent(TURBULENT_ABOVE)
        law = "between laminar and turbulent"
    else:
        nusselt, law = turbulent(reynolds), "Gnielinski"
    return nusselt * carrier.conductivity / bore, law


def outside_film(*, diameter: float, surface: float, around: Around) -> float:
    """Heat transfer coefficient outside, convection and radiation together [W/(m²·K)].

    diameter: of the surface [m]; surface: its temperature [K].

    Still air: Churchill and Chu 1975, horizontal cylinder, used for pipe of every slope. Wind: Churchill and
    Bernstein 1977, across the pipe; the larger of the two. Radiation to surroundings at the air's temperature.
    """
    film = (surface + around.temperature) / 2.0
    carrier = _carrier(DRY_AIR, float(round(film)), around.pressure)
    density = gas.density(DRY_AIR, temperature=film, pressure=around.pressure)
    kinematic = carrier.viscosity / density
    difference = max(abs(surface - around.temperature), 0.01)
    grashof = GRAVITY * difference * diameter**3 / (film * kinematic**2)
    nusselt = _still(carrier.prandtl, grashof)
    if around.wind > STILL:
        nusselt = max(nusselt, _windy(around.wind * diameter / kinematic, carrier.prandtl))
    radiant = EMISSIVITY * STEFAN_BOLTZMANN * (surface**2 + around.temperature**2) * (surface + around.temperature)
    return nusselt * carrier.conductivity / diameter + radiant


def heat_through(*, temperature: float, inside_film: float, law: str, wall: Wall, around: Around) -> Heat:
    """Heat through a meter of pipe with gas at this temperature [K] inside.

    The outside film hangs on the surface's temperature; a few rounds settle it to a hundredth of a kelvin.
    """
    inner = 1.0 / (inside_film * math.pi * wall.bore) + wall.pipe_resistance
    covered = inner + wall.insulation_resistance
    driving = temperature - around.temperature
    surface = around.temperature + 0.4 * driving
    for _ in range(20):
        outer = 1.0 / (outside_film(diameter=wall.insulated, surface=surface, around=around) * math.pi * wall.insulated)
        found = around.temperature + driving * outer / (covered + outer)
        settled = abs(found - surface) < 0.01
        surface = found
        if settled:
            break
    conductance = 1.0 / (covered + outer)
    flux = conductance * driving
    return Heat(
        conductance=conductance,
        flux=flux,
        inside_film=inside_film,
        inside_wall=temperature - flux / (inside_film * math.pi * wall.bore),
        outside_surface=surface,
        film=law,
    )


def _still(prandtl: float, grashof: float) -> float:
    from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu

    return float(Nu_horizontal_cylinder_Churchill_Chu(Pr=prandtl, Gr=grashof))


def _windy(reynolds: float, prandtl: float) -> float:
    from ht.conv_external import Nu_cylinder_Churchill_Bernstein

    return float(Nu_cylinder_Churchill_Bernstein(Re=reynolds, Pr=prandtl))


@lru_cache(maxsize=4096)
def _carrier(mixture: Mixture, temperature: float, pressure: float) -> _Carrier:
    """Transport properties at a whole kelvin: they move by 0.2 % a kelvin, the films are known to 10 %."""
    there = saturate(mixture, molar_flow=1.0, temperature=temperature, pressure=pressure).mixture
    viscosity = gas.viscosity(there, temperature=temperature)
    conductivity = gas.conductivity(there, temperature=temperature)
    capacity = gas.heat_capacity(there, temperature=temperature)
    return _Carrier(viscosity, conductivity, viscosity * capacity / conductivity)
