"""The working of a firing rate: from its input to the mass flow of flue gas or of combustion air."""

from __future__ import annotations

from collections.abc import Mapping

from ventsize.gas.combustion import fuel_balance
from ventsize.gas.components import gas
from ventsize.gas.condensation import saturation_pressure
from ventsize.gas.flue import FlueGas
from ventsize.gas.mixture import molar_mass
from ventsize.quantity.board import Kind
from ventsize.studies.working.gases import saturation_steps
from ventsize.studies.working.steps import Given, Step, line, sum_of, weighted

_HEATS = "heats of formation, gross, 25 °C"
_ATOMS = "atoms of the fuel"
_JOB = "the job"


def air_steps(found: FlueGas, *, fuel: Mapping[str, float], excess_air_from: str) -> list[Step]:
    """From the input to the mass flows of fuel and combustion air; the last is that of the air."""
    whole = sum(fuel.values())
    balance = fuel_balance(fuel)
    shares = {name: Given(f"share of {name}", f"y[{gas(name).formula}]", x / whole, source="the fuel, by mole")
              for name, x in fuel.items() if x > 0.0}  # fmt: skip
    burning = {name: fuel_balance({name: 1.0}) for name in shares if _burns(name)}
    pairs = [(shares[n], Given(f"heat of {n}", f"H[{gas(n).formula}]", one.gross_heat, Kind.HEAT_PER_MOLE, _HEATS))
             for n, one in burning.items()]  # fmt: skip
    heat = weighted("heat of a mole of fuel", "H", pairs, value=balance.gross_heat, kind=Kind.HEAT_PER_MOLE,
                    source="mixture of gases", part="combustion")  # fmt: skip
    power = Given("input", "P", found.input, Kind.POWER, _JOB)
    fuel_flow = line("fuel burnt", "n[fuel]", "{0} / {1}", power, heat.result, powers=(1, -1),
                     value=found.input / balance.gross_heat, kind=Kind.MOLE_FLOW, source="input = fuel × gross heat",
                     part="combustion")  # fmt: skip
    oxygen = Given("oxygen a mole of fuel takes", "o", balance.oxygen, source=_ATOMS)
    in_air = Given("share of oxygen in the air", "x[O2,air]", found.air.fraction("oxygen"), source="air as it comes")
    excess = Given("excess air", "e[air]", found.excess_air, source=excess_air_from)
    air_flow = line("air taken in", "n[air]", "{0} * {1} / {2} * (1 + {3})", fuel_flow.result, oxygen, in_air, excess,
                    powers=(1, 0, 0, 0), value=found.air_mass_flow / molar_mass(found.air), kind=Kind.MOLE_FLOW,
                    source="complete combustion", part="combustion")  # fmt: skip
    air_mass = Given("molar mass of the air", "M[air]", molar_mass(found.air), Kind.MOLAR_MASS, "mixture of gases")
    return [heat, fuel_flow, air_flow, _mass("mass flow of combustion air", "m[air]", air_flow, air_mass)]


def _burns(name: str) -> bool:
    try:
        return fuel_balance({name: 1.0}).gross_heat > 0.0
    except ValueError:  # nothing in it that burns
        return False


def _mass(name: str, symbol: str, moles: Step, mass: Given) -> Step:
    return line(name, symbol, "{0} * {1}", moles.result, mass, powers=(1, 1), value=moles.value * mass.value,
                kind=Kind.MASS_FLOW, source="mass = moles × molar mass", part="combustion")  # fmt: skip


def flue_steps(found: FlueGas, *, fuel: Mapping[str, float], excess_air_from: str) -> list[Step]:
    """From the input to the mass flow of flue gas that leaves the appliance, the last step."""
    steps = air_steps(found, fuel=fuel, excess_air_from=excess_air_from)
    _, fuel_flow, _, air = steps
    mass = Given("molar mass of the fuel", "M[fuel]", fuel_balance(fuel).molar_mass, Kind.MOLAR_MASS, _ATOMS)
    burnt = _mass("mass flow of fuel", "m[fuel]", fuel_flow, mass)
    condensing = found.condensate > 0.0
    flame = sum_of("mass flow of gas from the flame" if condensing else "mass flow of flue gas",
                   "m[flame]" if condensing else "m", [burnt.result, air.result], value=found.uncondensed_mass_flow,
                   kind=Kind.MASS_FLOW, source="mass is kept", part="combustion")  # fmt: skip
    steps += [burnt, flame]
    return steps + (_condensing(found, flame) if condensing else [])


def _condensing(found: FlueGas, flame: Step) -> list[Step]:
    """What is left of the gas when the water that is too much for it has gone."""
    water = found.uncondensed.fraction("water")
    whole = molar_mass(found.uncondensed)
    gas_mass = Given("molar mass of that gas", "M[flame]", whole, Kind.MOLAR_MASS, "mixture of gases")
    moles = line("gas from the flame, in moles", "n[flame]", "{0} / {1}", flame.result, gas_mass, powers=(1, -1),
                 value=found.uncondensed_mass_flow / whole, kind=Kind.MOLE_FLOW, source="mass = moles × molar mass",
                 part="combustion")  # fmt: skip
    share = Given("share of water in it", "x[H2O,flame]", water, source="complete combustion")
    warm = Given("flue gas temperature", "T[flue]", found.temperature, Kind.TEMPERATURE, _JOB)
    saturation = saturation_pressure(temperature=found.temperature)
    saturating = saturation_steps(warm, "[flue]")
    frost = Given("saturation pressure", "p[sat]", saturation, Kind.ABSOLUTE_PRESSURE, "IAPWS R14-08(2011), over ice")
    pressure = Given("pressure of the air", "p", found.pressure, Kind.ABSOLUTE_PRESSURE, "altitude")
    vapor = line("water that stays vapor", "n[vapor]", "{0} * (1 - {1}) * {2} / ({3} - {2})", moles.result, share,
                 saturating[-1].result if saturating else frost, pressure,
                 value=moles.value * (1.0 - water) * saturation / (found.pressure - saturation), kind=Kind.MOLE_FLOW,
                 source="saturated gas", part="combustion")  # fmt: skip
    water_mass = Given("molar mass of water", "M[H2O]", gas("water").molar_mass, Kind.MOLAR_MASS, "its atoms")
    condensed = line("condensate left in the appliance", "m[water]", "({0} * {1} - {2}) * {3}", moles.result, share,
                     vapor.result, water_mass, powers=(1, 0, 0, 1), value=found.condensate, kind=Kind.MASS_FLOW,
                     source="what is not vapor", part="combustion")  # fmt: skip
    left = line("mass flow of flue gas", "m", "{0} - {1}", flame.result, condensed.result, value=found.flue_mass_flow,
                kind=Kind.MASS_FLOW, source="mass is kept", part="combustion")  # fmt: skip
    return [moles, *saturating, vapor, condensed, left]
