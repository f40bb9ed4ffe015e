"""Heat through the wall of a pipe: the film inside, the wall and its insulation, the film and radiation outside."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from ht.conv_external import Nu_cylinder_Churchill_Bernstein
from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu
from ht.conv_internal import turbulent_Gnielinski

from ventsize.flow import friction
from ventsize.gas import mixture as gas
from ventsize.gas.components import GAS_CONSTANT
from ventsize.gas.condensation import saturate
from ventsize.gas.constants import GRAVITY
from ventsize.gas.mixture import DRY_AIR, Mixture
from ventsize.gas.water import TRIPLE_POINT, molar_heat_of_vaporization, saturation_pressure

EMISSIVITY = 0.9  # of plastics, paint and insulation jackets; common handbook figure
STEFAN_BOLTZMANN = 5.670374419e-8  # W/(m²·K⁴), CODATA 2018
INSULATION_CONDUCTIVITY = 0.04  # W/(m·K); glass fiber or foam sleeve, a usual figure, where the job gives none
LAMINAR_NUSSELT = 3.66  # fully developed, wall at one temperature
LAMINAR_BELOW, TURBULENT_ABOVE = 2300.0, 4000.0  # VDI Heat Atlas, 2nd ed., G1: between them by linear intermittency
NODE = 10.0  # K; properties and films go straight between whole multiples of it, within 0.1 % of their curves
NEAR = 3e-4  # of what drives the heat; a step of the surface's temperature this short is taken as the last

ATMOSPHERE = 101_325.0
CLAUSIUS_CLAPEYRON = 5_300.0  # K; latent heat of water over its gas constant, for slopes only
MOST_TRIES = 100
FILM_GROWS = 1.15  # slope of the outside heat over its mean, as the film grows too; first guess only
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

    def steepness(self, wall: float) -> float:
        """How much less condenses on a wall warmer by a kelvin, roughly: by Clausius and Clapeyron [mol/(m²·s·K)]."""
        at_wall = saturation_pressure(temperature=wall) / self.pressure
        if at_wall >= self.share:
            return 0.0
        return self.transfer * at_wall / (1.0 - at_wall) * CLAUSIUS_CLAPEYRON / wall**2


@dataclass(frozen=True, slots=True, kw_only=True)
class _Carrier:
    """Viscosity [Pa·s], conductivity [W/(m·K)], Prandtl number [-]; `Vapour.transfer` over the film [mol·K/J]."""

    viscosity: float
    conductivity: float
    prandtl: float
    transfer_per_film: float


def inside_film(
    mixture: Mixture, *, mass_flow: float, temperature: float, pressure: float, bore: float, relative_roughness: float
) -> tuple[float, str]:
    """Heat transfer coefficient between the gas and the wall [W/(m²·K)], and the law it follows.

    Laminar below Re 2300 (Nusselt 3.66), Gnielinski above Re 4000, between them in proportion as the VDI Heat
    Atlas (2nd ed., G1) does. The flow is taken as developed: pipes here are many diameters long. What vapour
    condensing on the wall brings besides is `Vapour`'s.
    """
    carrier = _carrier(mixture, temperature, pressure)
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


class InsideFilm:
    """The film inside one pipe and what vapour passes it, by the temperature of the gas.

    Worked out at whole multiples of `NODE`, for the gas saturated there where it condenses, and straight between. Heat
    and vapour pass the same film: Chilton and Colburn's analogy, with the Lewis number of the gas.

    laws: those that have been used, in the order of the walk.
    """

    def __init__(
        self, mixture: Mixture, *, mass_flow: float, pressure: float, bore: float, relative_roughness: float
    ) -> None:
        self._mixture, self._pressure = mixture, pressure
        self._flow, self._bore, self._rough = mass_flow, bore, relative_roughness
        self._nodes: dict[float, tuple[float, float, str]] = {}
        self.laws: dict[str, None] = {}

    def __call__(self, temperature: float) -> tuple[float, float]:
        """Heat transfer coefficient [W/(m²·K)], and `Vapour.transfer` [mol/(m²·s)], at a temperature [K]."""
        low = temperature // NODE * NODE
        part = (temperature - low) / NODE
        film, transfer, law = self._nodes.get(low) or self._node(low)
        film_above, transfer_above, law_above = self._nodes.get(low + NODE) or self._node(low + NODE)
        self.laws.setdefault(law if part < 0.5 else law_above)
        return film + part * (film_above - film), transfer + part * (transfer_above - transfer)

    def _node(self, at: float) -> tuple[float, float, str]:
        film, law = inside_film(
            self._mixture,
            mass_flow=self._flow,
            temperature=at,
            pressure=self._pressure,
            bore=self._bore,
            relative_roughness=self._rough,
        )
        transfer = film * _carrier(self._mixture, at, self._pressure).transfer_per_film
        found = self._nodes[at] = film, transfer, law
        return found


def outside_film(*, diameter: float, surface: float, around: Around) -> float:
    """Heat transfer coefficient outside, convection and radiation together [W/(m²·K)].

    diameter: of the surface [m]; surface: its temperature [K].

    Still air: Churchill and Chu 1975, horizontal cylinder, used for pipe of every slope. Wind: Churchill and
    Bernstein 1977, across the pipe; the larger of the two. Radiation to surroundings at the air's temperature.
    """
    film = (surface + around.temperature) / 2.0
    low = film // NODE * NODE
    part = (film - low) / NODE
    below, above = _air(low, around.pressure), _air(low + NODE, around.pressure)
    kinematic = below[0] + part * (above[0] - below[0])
    conductivity = below[1] + part * (above[1] - below[1])
    prandtl = below[2] + part * (above[2] - below[2])
    difference = max(abs(surface - around.temperature), 0.01)
    grashof = GRAVITY * difference * diameter**3 / (film * kinematic * kinematic)
    nusselt = Nu_horizontal_cylinder_Churchill_Chu(Pr=prandtl, Gr=grashof)
    if around.wind:
        nusselt = max(nusselt, Nu_cylinder_Churchill_Bernstein(Re=around.wind * diameter / kinematic, Pr=prandtl))
    radiant = EMISSIVITY * STEFAN_BOLTZMANN * (surface**2 + around.temperature**2) * (surface + around.temperature)
    return float(nusselt * conductivity / diameter + radiant)


def heat_through(
    *,
    temperature: float,
    inside_film: float,
    law: str,
    wall: Wall,
    around: Around,
    vapour: Vapour | None = None,
    outside_share: float = 1.0,
    guess: float | None = None,
) -> Heat:
    """Heat through a meter of pipe with gas at this temperature [K] inside.

    vapour: in the gas, whose heat of condensation comes to the wall too; None for a gas without.
    outside_share: of the outside film that is counted, to see what doubt about it does [-].
    guess: of the outside surface's temperature, where one is at hand [K].

    The surface is at the temperature at which what comes from the gas is what leaves it: found by the secant
    method, kept between gas and surroundings.
    """
    ambient = around.temperature
    driving = temperature - ambient
    if driving <= 0.0:
        vapour = None  # the wall of a gas that warms is above its dew point; trial surfaces may not be
    between = wall.pipe_resistance + wall.insulation_resistance
    outer, inner = outside_share * math.pi * wall.insulated, math.pi * wall.bore
    latent = molar_heat_of_vaporization(temperature=max(temperature, TRIPLE_POINT)) if vapour else 0.0
    surface, flux = ambient, 0.0
    if abs(driving) > 1e-6:
        low, high = (ambient, temperature) if driving > 0.0 else (temperature, ambient)
        surface = guess if guess is not None and low < guess < high else ambient + driving / 2.0
        last: tuple[float, float, float] | None = None
        for _ in range(MOST_TRIES):
            film = outside_film(diameter=wall.insulated, surface=surface, around=around) * outer
            flux = film * (surface - ambient)
            inside = surface + flux * between
            surplus = flux - inside_film * inner * (temperature - inside)
            wet = vapour is not None and inside < temperature
            if vapour is not None and wet:
                surplus -= latent * inner * vapour.condensing(inside)
            if last is None:
                slope = FILM_GROWS * film
                rise = inside_film * inner + (latent * inner * vapour.steepness(inside) if vapour and wet else 0.0)
                rise = slope + rise * (1.0 + slope * between)
            else:
                slope = (flux - last[1]) / (surface - last[0])
                rise = (surplus - last[2]) / (surface - last[0])
            low, high = (low, surface) if surplus > 0.0 else (surface, high)
            last = surface, flux, surplus
            there = surface - surplus / rise
            if abs(there - surface) <= NEAR * abs(driving):
                flux += slope * (there - surface)
                surface = there
                break
            surface = there if low < there < high else (low + high) / 2.0
        else:
            raise ArithmeticError("the temperature of a pipe's surface was not found")
    inside_wall = surface + flux * between
    return Heat(
        conductance=flux / driving if driving else 0.0,
        flux=flux,
        inside_film=inside_film,
        inside_wall=inside_wall,
        outside_surface=surface,
        film=law,
        condensing=inner * vapour.condensing(inside_wall) if vapour and inside_wall < temperature else 0.0,
    )


@lru_cache(maxsize=512)
def _air(temperature: float, pressure: float) -> tuple[float, float, float]:
    """Of dry air: kinematic viscosity [m²/s], conductivity [W/(m·K)], Prandtl number [-]."""
    carrier = _carrier(DRY_AIR, temperature, pressure)
    kinematic = carrier.viscosity / gas.density(DRY_AIR, temperature=temperature, pressure=pressure)
    return kinematic, carrier.conductivity, carrier.prandtl


@lru_cache(maxsize=4096)
def _carrier(mixture: Mixture, temperature: float, pressure: float) -> _Carrier:
    """What carries heat and vapour in a gas, saturated if it is below its dew point there."""
    there = saturate(mixture, molar_flow=1.0, temperature=temperature, pressure=pressure).mixture
    viscosity = gas.viscosity(there, temperature=temperature)
    conductivity = gas.conductivity(there, temperature=temperature)
    capacity = gas.heat_capacity(there, temperature=temperature)
    molar = capacity * gas.molar_mass(there)
    per_volume = molar * pressure / (GAS_CONSTANT * temperature)
    lewis = conductivity / (per_volume * vapour_diffusivity(temperature=temperature, pressure=pressure))
    return _Carrier(
        viscosity=viscosity,
        conductivity=conductivity,
        prandtl=viscosity * capacity / conductivity,
        transfer_per_film=1.0 / (molar * lewis**LEWIS_EXPONENT),
    )
