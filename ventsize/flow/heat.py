"""Heat through the wall of a pipe: the film inside, the wall and its insulation, the film and radiation outside."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from fluids.numerics import brenth

from ventsize.flow import friction
from ventsize.gas import mixture as gas
from ventsize.gas.components import GAS_CONSTANT
from ventsize.gas.components import gas as gas_named
from ventsize.gas.condensation import saturate
from ventsize.gas.constants import GRAVITY
from ventsize.gas.mixture import DRY_AIR, Mixture
from ventsize.gas.water import TRIPLE_POINT, latent_heat, saturation_pressure

EMISSIVITY = 0.9  # of plastics, paint and insulation jackets; common handbook figure
STEFAN_BOLTZMANN = 5.670374419e-8  # W/(m²·K⁴), CODATA 2018
INSULATION_CONDUCTIVITY = 0.04  # W/(m·K); glass fiber or foam sleeve, a usual figure, where the job gives none
LAMINAR_NUSSELT = 3.66  # fully developed, wall at one temperature
LAMINAR_BELOW, TURBULENT_ABOVE = 2300.0, 4000.0  # VDI Heat Atlas, 2nd ed., G1: between them by linear intermittency
STILL = 0.05  # m/s; below it the air counts as still

ATMOSPHERE = 101_325.0
LEWIS_EXPONENT = 2.0 / 3.0  # Chilton and Colburn 1934


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
    film: which law the inside film follows. condensing: vapour that becomes water on the wall [mol/(m·s)].
    """

    conductance: float
    flux: float
    inside_film: float
    inside_wall: float
    outside_surface: float
    film: str
    condensing: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Vapour:
    """Water vapour in the gas beside a wall.

    share: of the gas, by moles [-]; pressure: of the gas as a whole [Pa]; transfer: from the gas to the wall, for
    each unit of the logarithm of Stefan's law [mol/(m²·s)].
    """

    share: float
    pressure: float
    transfer: float

    def condensing(self, wall: float) -> float:
        """Vapour that condenses on a wall of this temperature [K], none where it is above the dew point [mol/(m²·s)].

        Stefan's law for vapour through gas that stays; Colburn and Hougen 1934. The water's own film is left out:
        a tenth of a millimeter of it resists a hundredth of what the gas does.
        """
        at_wall = saturation_pressure(temperature=wall) / self.pressure
        if at_wall >= self.share:
            return 0.0
        return self.transfer * math.log((1.0 - at_wall) / (1.0 - self.share))


@dataclass(frozen=True, slots=True)
class _Carrier:
    viscosity: float
    conductivity: float
    prandtl: float
    molar_capacity: float
    lewis: float


def inside_film(
    mixture: Mixture, *, mass_flow: float, temperature: float, pressure: float, bore: float, relative_roughness: float
) -> tuple[float, str]:
    """Heat transfer coefficient between the gas and the wall [W/(m²·K)], and the law it follows.

    Laminar below Re 2300 (Nusselt 3.66), Gnielinski above Re 4000, between them in proportion as the VDI Heat
    Atlas (2nd ed., G1) does. The flow is taken as developed: pipes here are many diameters long. What vapour
    condensing on the wall brings besides is `Vapour`'s.
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


def vapour_diffusivity(*, temperature: float, pressure: float) -> float:
    """Of water vapour in air, and a few percent high in flue gas [m²/s]; temperature [K], pressure [Pa].

    Source: Marrero and Mason, J. Phys. Chem. Ref. Data 1, 1972, 282 to 450 K (from memory; tests hold it against
    Cantera).
    """
    return float(1.87e-10 * temperature**2.072 * ATMOSPHERE / pressure)


def vapour_beside(mixture: Mixture, *, share: float, film: float, temperature: float, pressure: float) -> Vapour:
    """The vapour in a gas whose inside film is known.

    share: of vapour that is left in it [-]; film: heat transfer coefficient between gas and wall [W/(m²·K)].

    Heat and vapour pass the same film: Chilton and Colburn's analogy, with the Lewis number of the gas.
    """
    carrier = _carrier(mixture, float(round(temperature)), pressure)
    transfer = film / (carrier.molar_capacity * carrier.lewis**LEWIS_EXPONENT)
    return Vapour(share=share, pressure=pressure, transfer=transfer)


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


def heat_through(
    *,
    temperature: float,
    inside_film: float,
    law: str,
    wall: Wall,
    around: Around,
    vapour: Vapour | None = None,
    outside_share: float = 1.0,
) -> Heat:
    """Heat through a meter of pipe with gas at this temperature [K] inside.

    vapour: in the gas, whose heat of condensation comes to the wall besides; None for a gas without.
    outside_share: of the outside film that is counted, to see what doubt about it does [-].

    The surface is at the temperature at which what comes from the gas is what leaves it.
    """
    driving = temperature - around.temperature
    inner_area, outer_area = math.pi * wall.bore, math.pi * wall.insulated
    between = wall.pipe_resistance + wall.insulation_resistance
    latent = latent_heat(temperature=max(temperature, TRIPLE_POINT)) * gas_named("water").molar_mass if vapour else 0.0

    def leaving(surface: float) -> float:
        film = outside_film(diameter=wall.insulated, surface=surface, around=around)
        return outside_share * film * outer_area * (surface - around.temperature)

    def condensing(inside: float) -> float:
        return vapour.condensing(inside) * inner_area if vapour and inside < temperature else 0.0

    def surplus(surface: float) -> float:
        out = leaving(surface)
        inside = surface + out * between
        return out - inside_film * inner_area * (temperature - inside) - latent * condensing(inside)

    surface = around.temperature
    if abs(driving) > 1e-6:
        surface = float(brenth(surplus, around.temperature, temperature, xtol=1e-4))
    flux = leaving(surface)
    inside_wall = surface + flux * between
    return Heat(
        conductance=flux / driving if driving else 0.0,
        flux=flux,
        inside_film=inside_film,
        inside_wall=inside_wall,
        outside_surface=surface,
        film=law,
        condensing=condensing(inside_wall),
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
    molar = capacity * gas.molar_mass(there)
    per_volume = molar * pressure / (GAS_CONSTANT * temperature)
    lewis = conductivity / (per_volume * vapour_diffusivity(temperature=temperature, pressure=pressure))
    return _Carrier(viscosity, conductivity, viscosity * capacity / conductivity, molar, lewis)
