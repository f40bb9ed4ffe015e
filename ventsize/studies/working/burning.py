"""The working of a firing rate: from its input to the mass flow of flue gas or of combustion air."""

from __future__ import annotations

from collections.abc import Mapping

from ventsize.gas.combustion import fuel_balance
from ventsize.gas.components import gas
from ventsize.gas.condensation import saturation_pressure
from ventsize.gas.flue import FlueGas
from ventsize.gas.mixture import Mixture, molar_mass
from ventsize.quantity.board import Kind
from ventsize.studies.working.steps import Given, Step, sum_of, weighted

_HEATS = "heats of formation, gross, 25 °C"
_ATOMS = "atoms of the fuel"
_JOB = "the job"


def molar_mass_step(mixture: Mixture, *, name: str, symbol: str) -> Step:
    """The molar mass of a gas from its composition."""
    parts = [
        (
            Given(f"share of {part}", f"x[{gas(part).formula}]", fraction, source="composition, by mole"),
            Given(
                f"molar mass of {part}", f"M[{gas(part).formula}]", gas(part).molar_mass, Kind.MOLAR_MASS, "its atoms"
            ),
        )
        for part, fraction in mixture.mole_fractions
    ]
    return weighted(name, symbol, parts, value=molar_mass(mixture), kind=Kind.MOLAR_MASS, source="mixture of gases")


def air_steps(found: FlueGas, *, fuel: Mapping[str, float], excess_air_from: str) -> list[Step]:
    """From the input to the mass flows of fuel and combustion air; the last is that of the air."""
    whole = sum(fuel.values())
    balance = fuel_balance(fuel)
    shares = {name: Given(f"share of {name}", f"y[{gas(name).formula}]", x / whole, source="the fuel, by mole")
              for name, x in fuel.items() if x > 0.0}  # fmt: skip
    burning = {name: fuel_balance({name: 1.0}) for name in shares if _burns(name)}
    heat = weighted(
        "heat of a mole of fuel",
        "H",
        [
            (shares[n], Given(f"heat of {n}", f"H[{gas(n).formula}]", one.gross_heat, Kind.HEAT_PER_MOLE, _HEATS))
            for n, one in burning.items()
        ],
        value=balance.gross_heat,
        kind=Kind.HEAT_PER_MOLE,
        source="mixture of gases",
    )
    fuel_flow = Step(
        name="fuel burnt",
        symbol="n[fuel]",
        template="{0} / {1}",
        inputs=(Given("input", "P", found.input, Kind.POWER, _JOB), heat.result),
        powers=(1, -1),
        value=found.input / balance.gross_heat,
        kind=Kind.MOLE_FLOW,
        source="input = fuel × gross heat",
    )
    oxygen = Given("oxygen a mole of fuel takes", "o", balance.oxygen, source=_ATOMS)
    air_flow = Step(
        name="air taken in",
        symbol="n[air]",
        template="{0} * {1} / {2} * (1 + {3})",
        inputs=(
            fuel_flow.result,
            oxygen,
            Given("share of oxygen in the air", "x[O2,air]", found.air.fraction("oxygen"), source="air as it comes"),
            Given("excess air", "e", found.excess_air, source=excess_air_from),
        ),
        powers=(1, 0, 0, 0),
        value=found.air_mass_flow / molar_mass(found.air),
        kind=Kind.MOLE_FLOW,
        source="complete combustion",
    )
    air_mass = Given("molar mass of the air", "M[air]", molar_mass(found.air), Kind.MOLAR_MASS, "mixture of gases")
    return [heat, fuel_flow, air_flow, _mass("mass flow of combustion air", "m[air]", air_flow, air_mass)]


def _burns(name: str) -> bool:
    try:
        return fuel_balance({name: 1.0}).gross_heat > 0.0
    except ValueError:  # nothing in it that burns
        return False


def _mass(name: str, symbol: str, moles: Step, mass: Given) -> Step:
    return Step(
        name=name,
        symbol=symbol,
        template="{0} * {1}",
        inputs=(moles.result, mass),
        powers=(1, 1),
        value=moles.value * mass.value,
        kind=Kind.MASS_FLOW,
        source="mass = moles × molar mass",
    )


def flue_steps(found: FlueGas, *, fuel: Mapping[str, float], excess_air_from: str) -> list[Step]:
    """From the input to the mass flow of flue gas that leaves the appliance, the last step."""
    steps = air_steps(found, fuel=fuel, excess_air_from=excess_air_from)
    _, fuel_flow, _, air = steps
    mass = Given("molar mass of the fuel", "M[fuel]", fuel_balance(fuel).molar_mass, Kind.MOLAR_MASS, _ATOMS)
    burnt = _mass("mass flow of fuel", "m[fuel]", fuel_flow, mass)
    condensing = found.condensate > 0.0
    flame = sum_of(
        "mass flow of gas from the flame" if condensing else "mass flow of flue gas",
        "m[flame]" if condensing else "m",
        [burnt.result, air.result],
        value=found.uncondensed_mass_flow,
        kind=Kind.MASS_FLOW,
        source="mass is kept",
    )
    steps += [burnt, flame]
    return steps + (_condensing(found, flame) if condensing else [])


def _condensing(found: FlueGas, flame: Step) -> list[Step]:
    """What is left of the gas when the water that is too much for it has gone."""
    water = found.uncondensed.fraction("water")
    whole = molar_mass(found.uncondensed)
    moles = Step(
        name="gas from the flame, in moles",
        symbol="n[flame]",
        template="{0} / {1}",
        inputs=(
            flame.result,
            Given("molar mass of that gas", "M[flame]", whole, Kind.MOLAR_MASS, "mixture of gases"),
        ),
        powers=(1, -1),
        value=found.uncondensed_mass_flow / whole,
        kind=Kind.MOLE_FLOW,
        source="mass = moles × molar mass",
    )
    share = Given("share of water in it", "x[H2O,flame]", water, source="complete combustion")
    saturation = saturation_pressure(temperature=found.temperature)
    vapour = Step(
        name="water that stays vapour",
        symbol="n[vapour]",
        template="{0} * (1 - {1}) * {2} / ({3} - {2})",
        inputs=(
            moles.result,
            share,
            Given("saturation pressure", "p[sat]", saturation, Kind.ABSOLUTE_PRESSURE, "at the flue gas temperature"),
            Given("pressure of the air", "p", found.pressure, Kind.ABSOLUTE_PRESSURE, "altitude"),
        ),
        value=moles.value * (1.0 - water) * saturation / (found.pressure - saturation),
        kind=Kind.MOLE_FLOW,
        source="saturated gas",
    )
    condensed = Step(
        name="condensate left in the appliance",
        symbol="m[water]",
        template="({0} * {1} - {2}) * {3}",
        inputs=(
            moles.result,
            share,
            vapour.result,
            Given("molar mass of water", "M[H2O]", gas("water").molar_mass, Kind.MOLAR_MASS, "its atoms"),
        ),
        powers=(1, 0, 0, 1),
        value=found.condensate,
        kind=Kind.MASS_FLOW,
        source="what is not vapour",
    )
    left = Step(
        name="mass flow of flue gas",
        symbol="m",
        template="{0} - {1}",
        inputs=(flame.result, condensed.result),
        value=found.flue_mass_flow,
        kind=Kind.MASS_FLOW,
        source="mass is kept",
    )
    return [moles, vapour, condensed, left]
