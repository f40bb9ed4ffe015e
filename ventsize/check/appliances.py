"""What each appliance gives and takes at each firing rate, and the combinations of rates to be checked."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ventsize.catalog.records import FuelRecord
from ventsize.check.ends import Boundary, boundary
from ventsize.check.inputs import Inputs
from ventsize.flow.cooling import Climate
from ventsize.flow.doubt import Doubts, Ranges, ranges_of
from ventsize.flow.rate_flow import Firing
from ventsize.flow.stream import Stream, flue_stream
from ventsize.gas.atmosphere import ambient_pressure
from ventsize.gas.combustion import excess_air_from_carbon_dioxide, excess_air_from_oxygen, gross_over_net
from ventsize.gas.constants import FREEZING
from ventsize.gas.flue import FlueGas, flue_gas
from ventsize.gas.mixture import Mixture, humid_air
from ventsize.jobfile.job import Appliance, Rate
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import System, show_temperature

ASSUMED_OUTDOOR = 288.15  # K; standard atmosphere at sea level, where the job gives no outdoor temperature
# By which share a vent loses more for each kelvin at the appliance: the gas is lighter, and below its dew point holds
# more water. Of methane at 30 % excess air, by the exact solution. [1/K]
DRY, CONDENSING = 0.0036, 0.011
MOST_COMBINATIONS = (
    64  # beyond this: all together, each alone, and each at every rate or off beside the others at their highest
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RateGas:
    """One firing rate of one appliance: its name and its flue gas.

    plate: the input as the plate has it, gross or net, which rows of tables go by; `gas.input` is gross [W].
    """

    name: str
    gas: FlueGas
    plate: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ApplianceGas:
    """An appliance's firing rates, as listed.

    ranges: how far what the job states may be off.
    """

    name: str
    rates: tuple[RateGas, ...]
    ranges: Ranges = Ranges()

    @property
    def highest(self) -> RateGas:
        """The rate of the highest input."""
        return max(self.rates, key=lambda rate: rate.gas.input)


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """The air around: pressure [Pa, absolute], outdoor and indoor temperature [K], the air outdoors.

    boundary: wind and room pressure, as far as the job states them.
    """

    pressure: float
    outdoor: float
    indoor: float
    air: Mixture
    boundary: Boundary = Boundary()

    @property
    def outdoors(self) -> Stream:
        """The air outdoors, at rest."""
        return Stream(mass_flow=0.0, mixture=self.air, temperature=self.outdoor, pressure=self.pressure)


def surroundings(inputs: Inputs) -> Surroundings:
    """The air around a job. What the job leaves out is assumed, and `cautions` says so."""
    site = inputs.job.site
    outdoor = ASSUMED_OUTDOOR if site.outdoor is None else site.outdoor
    indoor = outdoor if site.indoor is None else site.indoor
    try:
        pressure = ambient_pressure(altitude=site.altitude or 0.0)
        air = humid_air(relative_humidity=site.humidity, temperature=outdoor, pressure=pressure)
    except ValueError as error:
        raise InputError(Problem(inputs.file, "site", str(error))) from None
    return Surroundings(
        pressure=pressure,
        outdoor=outdoor,
        indoor=indoor,
        air=air,
        boundary=boundary(inputs.job, air=air, outdoor=outdoor, pressure=pressure),
    )


def appliance_gases(inputs: Inputs, around: Surroundings) -> tuple[ApplianceGas, ...]:
    """Every appliance's flue gas at every rate. InputError where a rate cannot burn as it says."""
    return tuple(_appliance_gas(appliance, inputs, around) for appliance in inputs.job.appliances)


def _appliance_gas(appliance: Appliance, inputs: Inputs, around: Surroundings) -> ApplianceGas:
    piped = any(run.carries == "combustion air" for run in inputs.graph.runs_at(appliance.name))
    temperature = around.outdoor if piped else around.indoor
    fuel = inputs.catalog.fuels[appliance.fuel]
    gross = gross_over_net(fuel.mole_fractions) if appliance.input_basis == "net" else 1.0
    rates = []
    for rate in appliance.rates:
        place = f"appliance '{appliance.name}', rate '{rate.name}'"
        _check_flue_temperature(rate, f"{place}, flue_temperature", around, inputs.file)
        try:
            air = humid_air(
                relative_humidity=inputs.job.site.humidity,
                temperature=temperature,
                pressure=around.pressure,
            )
            gas = flue_gas(
                mole_fractions=fuel.mole_fractions,
                input=rate.input * gross,
                excess_air=_excess_air(rate, fuel, air),
                flue_temperature=rate.flue_temperature,
                pressure=around.pressure,
                air=air,
            )
        except ValueError as error:
            raise InputError(Problem(inputs.file, place, str(error))) from None
        rates.append(RateGas(name=rate.name, gas=gas, plate=rate.input))
    return ApplianceGas(name=appliance.name, rates=tuple(rates), ranges=ranges_of(inputs.job.uncertainty))


def _check_flue_temperature(rate: Rate, place: str, around: Surroundings, file: str) -> None:
    """No flame leaves gas that is frozen, or colder than the air outdoors: one of the temperatures is mistyped."""
    if rate.flue_temperature < FREEZING:
        problem = f"flue gas at {_both(rate.flue_temperature)} is below freezing"
        raise InputError(Problem(file, place, problem, "its temperature at the appliance, such as '110 degF'"))
    if rate.flue_temperature < around.outdoor:
        problem = f"flue gas at {_both(rate.flue_temperature)} is colder than outdoors, {_both(around.outdoor)}"
        raise InputError(Problem(file, place, problem, "gas warmer than the air outdoors"))


def _both(temperature: float) -> str:
    return f"{show_temperature(temperature, System.US)} ({show_temperature(temperature, System.SI)})"


def _excess_air(rate: Rate, fuel: FuelRecord, air: Mixture) -> float:
    if rate.oxygen is not None:
        return excess_air_from_oxygen(fuel.mole_fractions, oxygen=rate.oxygen, air=air)
    if rate.carbon_dioxide is not None:
        return excess_air_from_carbon_dioxide(fuel.mole_fractions, carbon_dioxide=rate.carbon_dioxide, air=air)
    assert rate.excess_air is not None  # the job file has been checked for it
    return rate.excess_air


def firings(
    appliances: tuple[ApplianceGas, ...], around: Surroundings, climate: Climate | None = None
) -> tuple[Firing, ...]:
    """Each firing rate; with several appliances, each combination of their rates with at least one on.

    climate: what pipes run through, where the gas is to cool along them.
    """
    if len(appliances) == 1:
        found = [_firing(appliances, (rate,), rate.name, around) for rate in appliances[0].rates]
    else:
        found = [
            _firing(appliances, chosen, _combination_name(appliances, chosen), around)
            for chosen in _combinations(appliances)
        ]
    return tuple(replace(firing, climate=climate) for firing in found) if climate else tuple(found)


Chosen = tuple[RateGas | None, ...]


def _combinations(appliances: tuple[ApplianceGas, ...]) -> list[Chosen]:
    count = 1
    for appliance in appliances:
        count *= len(appliance.rates) + 1
    if count <= MOST_COMBINATIONS:
        every = itertools.product(*((*appliance.rates, None) for appliance in appliances))
        return [chosen for chosen in every if any(chosen)]
    together: list[Chosen] = [
        tuple(a.highest for a in appliances),
        tuple(min(a.rates, key=lambda rate: rate.gas.input) for a in appliances),
    ]
    alone: list[Chosen] = [
        tuple(rate if a is appliance else None for a in appliances)
        for appliance in appliances
        for rate in appliance.rates
    ]
    highest = tuple(a.highest for a in appliances)
    one_lower: list[Chosen] = [
        (*highest[:place], rate, *highest[place + 1 :])
        for place, appliance in enumerate(appliances)
        for rate in (*appliance.rates, None)
        if rate is not appliance.highest
    ]
    return together + one_lower + alone


def _combination_name(appliances: tuple[ApplianceGas, ...], chosen: Chosen) -> str:
    return " + ".join(f"{a.name} {rate.name if rate else 'off'}" for a, rate in zip(appliances, chosen, strict=True))


def _firing(appliances: tuple[ApplianceGas, ...], chosen: Chosen, name: str, around: Surroundings) -> Firing:
    on = {a.name: (a, rate.gas) for a, rate in zip(appliances, chosen, strict=True) if rate}
    outdoors = around.outdoors
    ranges = appliances[0].ranges
    flue_doubts, air_doubts = _doubts([gas for _, gas in on.values()], ranges)
    return Firing(
        name=name,
        rates={a.name: rate.name if rate else None for a, rate in zip(appliances, chosen, strict=True)},
        flue={key: flue_stream(gas) for key, (_, gas) in on.items()},
        air={key: replace(outdoors, mass_flow=gas.air_mass_flow) for key, (_, gas) in on.items()},
        outdoors=outdoors,
        flue_doubts=flue_doubts,
        air_doubts=air_doubts,
        ends=around.boundary.ends,
    )


def _doubts(gases: Sequence[FlueGas], ranges: Ranges) -> tuple[Doubts, Doubts]:
    """Of flue gas and of air, as of the appliance in most doubt: one gas main and one technician are common to all."""
    per_air = max(1.0 / (1.0 + gas.excess_air) for gas in gases)
    flue = max(gas.air_mass_flow / gas.flue_mass_flow / (1.0 + gas.excess_air) for gas in gases)
    warmth = CONDENSING if any(gas.condensate > 0.0 for gas in gases) else DRY
    return Doubts(ranges=ranges, per_air=flue, per_kelvin=warmth), Doubts(ranges=ranges, per_air=per_air)
