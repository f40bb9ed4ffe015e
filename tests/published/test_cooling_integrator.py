"""Cooling along a pipe against a stiff integrator (scipy's Radau) with property code of its own: Cantera and CoolProp.

Nothing of ventsize is used on the other side. Enthalpies are Cantera's, water is CoolProp's (IAPWS), viscosity and
conductivity are CoolProp's of each gas, mixed by Wilke's rule (Cantera's conductivities stand 3 to 6 % higher).
Equations as in physics.md: Gnielinski with Colebrook's factor inside, Churchill and Chu or Churchill and Bernstein
outside with radiation, Colburn and Hougen for vapour at the wall; written down here once more. Heat, water and end
temperature of the gas within 1 %.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
import pytest

from tests import coolprop
from ventsize.catalog.library import load_catalog
from ventsize.flow.cooling import UNSAID, Climate, RunCooling, cool_run
from ventsize.flow.heat import Around
from ventsize.flow.stream import Stream
from ventsize.gas.mixture import mixture_of, molar_mass
from ventsize.jobfile.job import Insulation
from ventsize.run.model import Piece, Run, Section

ct = pytest.importorskip("cantera")
scipy_integrate = pytest.importorskip("scipy.integrate")
scipy_optimize = pytest.importorskip("scipy.optimize")

PRESSURE = 101_325.0
NAMES = {"nitrogen": "N2", "oxygen": "O2", "carbon dioxide": "CO2", "argon": "AR", "water": "H2O"}
FLUE = {"nitrogen": 0.7300, "oxygen": 0.0450, "carbon dioxide": 0.0720, "argon": 0.0087, "water": 0.1443}
COOL_FLUE = {"nitrogen": 0.7930, "oxygen": 0.0490, "carbon dioxide": 0.0780, "argon": 0.0095, "water": 0.0705}
AIR = {"nitrogen": 0.7805, "oxygen": 0.2094, "argon": 0.0093, "water": 0.0005}
STEFAN_BOLTZMANN = 5.670374e-8


@dataclass(frozen=True, kw_only=True)
class Case:
    """A pipe and what enters it. flow: moles of the whole gas [mol/s]; insulation: thickness, at 0.04 W/(m·K) [m]."""

    gas: dict[str, float]
    flow: float
    start: float
    around: float
    length: float
    wind: float = 0.0
    insulation: float = 0.0


CASES = {
    "dry flue gas, warm room": Case(gas={**FLUE, "water": 1e-4}, flow=0.45, start=340.0, around=293.15, length=15.0),
    "condensing from the start": Case(gas=COOL_FLUE, flow=0.40, start=312.6, around=255.0, length=12.0),
    "from above its dew point": Case(gas=FLUE, flow=0.30, start=345.0, around=275.0, length=25.0),
    "outdoors in wind": Case(gas=COOL_FLUE, flow=0.45, start=313.0, around=250.0, length=6.0, wind=6.0),
    "insulated in the cold": Case(gas=FLUE, flow=0.25, start=328.0, around=250.0, length=30.0, insulation=0.025),
    "laminar": Case(gas=FLUE, flow=0.05, start=330.0, around=285.0, length=4.0),
    "air that warms": Case(gas=AIR, flow=0.40, start=250.0, around=293.15, length=15.0),
    "a very long pipe": Case(gas=FLUE, flow=0.40, start=360.0, around=283.0, length=300.0),
}  # fmt: skip


def ours(case: Case) -> RunCooling:
    """The same pipe by ventsize."""
    material = load_catalog().pipe("pvc-40")
    size = material.size(3 * 0.0254)
    assert size is not None
    section = Section(material=material, size=size)
    cover = Insulation(thickness=case.insulation, conductivity=0.04) if case.insulation else None
    pipe = Piece(name="pipe", place="pipe", before=section, after=section, length=case.length, insulation=cover)
    run = Run(name="v", carries="flue gas", start="f", end="outdoors", pieces=(pipe,), counted=False, rise_known=True)
    mixture = mixture_of(case.gas)
    stream = Stream(
        mass_flow=case.flow * molar_mass(mixture), mixture=mixture, temperature=case.start, pressure=PRESSURE
    )
    around = Around(temperature=case.around, pressure=PRESSURE, wind=case.wind)
    return cool_run(run, stream=stream, forward=True, climate=Climate(around={UNSAID: around}))


def tabled(function: Callable[[float], float]) -> Callable[[float], float]:
    """A property of water over temperature by straight lines a tenth of a kelvin long: CoolProp is slow.

    Worked out when it is first asked for: every process collects this file.
    """
    places = np.arange(240.0, 385.0, 0.1)
    values = cache(lambda: np.array([function(float(place)) for place in places]))
    return lambda temperature: float(np.interp(temperature, places, values()))


def _saturation(temperature: float) -> float:
    if temperature > 273.16:
        return float(coolprop.PropsSI("P", "T", temperature, "Q", 1, "Water"))
    return 611.657 * math.exp(22.4944 * (1 - 273.16 / temperature))  # ice; Murphy and Koop's simple form, 0.3 %


def _cold_steam(temperature: float) -> float:
    return float(coolprop.PropsSI("Hmolar", "T", 273.2, "P", 100.0, "Water")) - 33.6 * (273.2 - temperature)


saturation = tabled(_saturation)
steam = tabled(
    lambda t: float(coolprop.PropsSI("Hmolar", "T", t, "P", 100.0, "Water")) if t > 273.2 else _cold_steam(t)
)
liquid = tabled(lambda t: float(coolprop.PropsSI("Hmolar", "T", max(t, 273.17), "Q", 0, "Water")))


FLUIDS = {"N2": "Nitrogen", "O2": "Oxygen", "AR": "Argon", "CO2": "CarbonDioxide", "H2O": "Water"}
MOLAR = {"N2": 28.0134, "O2": 31.998, "AR": 39.948, "CO2": 44.0095, "H2O": 18.0153}
DRY = {"N2": 0.7812, "O2": 0.2095, "AR": 0.0093}
TRANSPORT = {
    (name, what): tabled(
        lambda t, fluid=fluid, what=what: float(
            coolprop.PropsSI(what, "T", t if fluid != "Water" else max(t, 274.0), "P", 100.0, fluid)
        )
    )
    for name, fluid in FLUIDS.items()
    for what in ("V", "L")
}


def mixed(amounts: dict[str, float], temperature: float) -> tuple[float, float]:
    """Viscosity [Pa·s] and conductivity [W/(m·K)] by Wilke's weights (Mason and Saxena for conductivity)."""
    mu = {name: TRANSPORT[name, "V"](temperature) for name in amounts}
    k = {name: TRANSPORT[name, "L"](temperature) for name in amounts}

    def weight(i: str, j: str) -> float:
        ratio = MOLAR[i] / MOLAR[j]
        return float((1 + math.sqrt(mu[i] / mu[j]) * ratio**-0.25) ** 2 / math.sqrt(8 * (1 + ratio)))

    beside = {i: sum(amounts[j] * weight(i, j) for j in amounts) for i in amounts}
    return (
        sum(amounts[i] * mu[i] / beside[i] for i in amounts),
        sum(amounts[i] * k[i] / beside[i] for i in amounts),
    )


class Theirs:
    """The same by other code: state is the enthalpy of the gas with its condensate [W] and the vapour in it [mol/s]."""

    def __init__(self, case: Case, *, bore: float, outside: float, conductivity: float, roughness: float) -> None:
        self.case = case
        whole = sum(case.gas.values())
        self.dry = {NAMES[n]: case.flow * x / whole for n, x in case.gas.items() if n != "water"}
        self.vapour = case.flow * case.gas["water"] / whole
        self.bore, self.outer = bore, outside + 2 * case.insulation
        self.roughness = roughness
        self.between = math.log(outside / bore) / (2 * math.pi * conductivity)
        self.between += math.log(self.outer / outside) / (2 * math.pi * 0.04)
        self.gas = ct.Solution("gri30.yaml")
        self.mass = sum(
            n * self.gas.molecular_weights[self.gas.species_index(s)] / 1000
            for s, n in {**self.dry, "H2O": self.vapour}.items()
        )

    def enthalpy(self, temperature: float, vapour: float) -> float:
        """Of gas and condensate, against an arbitrary but fixed zero [W]."""
        self.gas.TPX = temperature, PRESSURE, self.dry
        dry = sum(self.dry.values()) * self.gas.enthalpy_mole / 1000
        # Vapour and liquid both from the steam tables, so that their difference is the heat of vaporization.
        return float(dry + vapour * steam(temperature) + (self.vapour - vapour) * liquid(temperature))

    def held(self, temperature: float, vapour: float) -> float:
        """Vapour that stays vapour there [mol/s]."""
        saturated = saturation(temperature)
        if saturated >= PRESSURE:
            return vapour
        return min(vapour, sum(self.dry.values()) * saturated / (PRESSURE - saturated))

    def temperature(self, enthalpy: float, vapour: float) -> float:
        """Of the gas with this enthalpy, what it cannot hold as mist [K]."""
        return float(
            scipy_optimize.brentq(lambda t: self.enthalpy(t, self.held(t, vapour)) - enthalpy, 245.0, 380.0, xtol=1e-9)
        )

    def slopes(self, _: float, state: Any) -> list[float]:
        """Heat [W/m] and vapour [mol/(m·s)] that leave."""
        temperature = self.temperature(state[0], state[1])
        vapour = self.held(temperature, state[1])
        film, transfer = self.inside(temperature, vapour)
        share = vapour / (vapour + sum(self.dry.values()))
        latent = steam(temperature) - liquid(temperature)

        def condensing(wall: float) -> float:
            at_wall = saturation(wall) / PRESSURE
            if wall >= temperature or at_wall >= share:
                return 0.0
            return transfer * math.log((1 - at_wall) / (1 - share)) * math.pi * self.bore

        def out(surface: float) -> float:
            return self.outside(surface) * math.pi * self.outer * (surface - self.case.around)

        def surplus(surface: float) -> float:
            wall = surface + out(surface) * self.between
            return out(surface) - film * math.pi * self.bore * (temperature - wall) - latent * condensing(wall)

        surface = scipy_optimize.brentq(surplus, *sorted((self.case.around, temperature)), xtol=1e-9)
        heat = out(surface)
        return [-heat, -condensing(surface + heat * self.between)]

    def inside(self, temperature: float, vapour: float) -> tuple[float, float]:
        """Film [W/(m²·K)] and mass transfer [mol/(m²·s)]."""
        self.gas.TPX = temperature, PRESSURE, {**self.dry, "H2O": vapour}
        gas = self.gas
        viscosity, conductivity = mixed({**self.dry, "H2O": vapour}, temperature)
        prandtl = viscosity * gas.cp_mass / conductivity
        reynolds = 4 * self.mass / (math.pi * self.bore * viscosity)
        if reynolds < 2300:
            nusselt = 3.66
        else:
            at = max(reynolds, 4000.0)
            f = colebrook(at, self.roughness / self.bore) / 8
            turbulent = f * (at - 1000) * prandtl / (1 + 12.7 * math.sqrt(f) * (prandtl ** (2 / 3) - 1))
            part = min(1.0, (reynolds - 2300) / 1700)
            nusselt = (1 - part) * 3.66 + part * turbulent
        film = nusselt * conductivity / self.bore
        diffusivity = 1.87e-10 * temperature**2.072  # Marrero and Mason, at one atmosphere
        lewis = conductivity / (gas.density_mass * gas.cp_mass) / diffusivity
        return film, film / (gas.cp_mole / 1000 * lewis ** (2 / 3))

    def outside(self, surface: float) -> float:
        """Film with radiation [W/(m²·K)]."""
        around = self.case.around
        mean = (surface + around) / 2
        viscosity, conductivity = mixed(DRY, mean)
        nu = viscosity / (PRESSURE * 0.0289654 / (8.314462618 * mean))
        prandtl = viscosity * 1006.0 / conductivity
        rayleigh = 9.80665 * max(abs(surface - around), 1e-6) * self.outer**3 / (mean * nu**2) * prandtl
        still = 0.6 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
        nusselt = still**2
        if self.case.wind:
            reynolds = self.case.wind * self.outer / nu
            windy = 0.62 * math.sqrt(reynolds) * prandtl ** (1 / 3) / (1 + (0.4 / prandtl) ** (2 / 3)) ** 0.25
            nusselt = max(nusselt, 0.3 + windy * (1 + (reynolds / 282_000) ** (5 / 8)) ** 0.8)
        radiant = 0.9 * STEFAN_BOLTZMANN * (surface**2 + around**2) * (surface + around)
        return float(nusselt * conductivity / self.outer + radiant)

    def followed(self) -> tuple[float, float, float]:
        """Heat given off [W], water left [kg/s] and temperature at the end [K]."""
        start = [self.enthalpy(self.case.start, self.vapour), self.vapour]
        found = scipy_integrate.solve_ivp(
            self.slopes, (0.0, self.case.length), start, method="Radau", rtol=1e-6, atol=[1e-3, 1e-9]
        )
        assert found.success
        enthalpy, vapour = found.y[:, -1]
        end = self.temperature(enthalpy, vapour)
        return start[0] - enthalpy, (self.vapour - self.held(end, vapour)) * 0.018015, end


def colebrook(reynolds: float, rough: float) -> float:
    """Darcy's factor, by brentq."""
    root = scipy_optimize.brentq(lambda x: x + 2 * math.log10(rough / 3.7 + 2.51 * x / reynolds), 1.0, 20.0)
    return float(root**-2)


@pytest.mark.parametrize("name", CASES)
def test_heat_water_and_end_temperature(name: str) -> None:
    """Heat and water within 1 %, what the gas has cooled by within 1 %."""
    case = CASES[name]
    found = ours(case)
    size = load_catalog().pipe("pvc-40").size(3 * 0.0254)
    assert size is not None
    heat, water, end = Theirs(
        case, bore=size.bore, outside=size.outside, conductivity=0.16, roughness=1.5e-6
    ).followed()
    assert found.heat == pytest.approx(heat, rel=0.01)
    assert found.condensate == pytest.approx(water, rel=0.01, abs=1e-9)
    assert found.outlet.temperature - case.start == pytest.approx(end - case.start, rel=0.01)
