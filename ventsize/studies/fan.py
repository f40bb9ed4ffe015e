"""An appliance as a fan, an exchanger, a burner and a switch in series with its vent: where they all meet.

Affinity laws: at a share s of top speed a fan gives s²·H(q/s), H being its curve at top speed, and head goes with the
density of the gas.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from fluids.numerics import brenth

from ventsize.check.appliances import ApplianceGas, RateGas, Surroundings, appliance_gases, firings, surroundings
from ventsize.check.climate import job_climate
from ventsize.check.inputs import Inputs
from ventsize.finding import Finding, Where, pressure, share
from ventsize.flow.rate_flow import Firing, RateFlow
from ventsize.flow.solve import solve
from ventsize.flow.stream import Stream, flue_stream
from ventsize.gas.atmosphere import ambient_pressure
from ventsize.gas.flue import flue_gas
from ventsize.gas.mixture import DRY_AIR, density
from ventsize.jobfile.job import Appliance
from ventsize.jobfile.problems import InputError, Problem
from ventsize.run.graph import VentGraph
from ventsize.run.model import Run
from ventsize.studies.fan_curve import Curve, curve_through

MOST_EXCESS_AIR = 5.0
TEST_TEMPERATURE = 293.15  # K; of the air a curve is taken with, where its altitude is given. Common practice.
NO_INDUCER = (
    "its fan curve and what its switch asks for (on the screen of the inducer, a adds an example), or in the file an "
    "[appliance.inducer] table as in long-run-adaptive.toml"
)
CLOSED = 1e-6  # of the pressure at which the switch opens


@dataclass(frozen=True, slots=True, kw_only=True)
class FanPoint:
    """Where a fan at one speed and an appliance with its vent meet.

    speed: share of top speed [-]. flow: of flue gas at the collar [m³/s]; excess_air left to the burner [-];
    exchanger_drop: what the switch feels [Pa]; None where there is no such point. why: why the burner does not burn
    there; None where it does. Where it is that the switch opens, the figures are those at which it does.
    """

    speed: float
    flow: float | None = None
    excess_air: float | None = None
    exchanger_drop: float | None = None
    why: Finding | None = None

    @property
    def burns(self) -> bool:
        """Whether there is air enough and the switch stays closed."""
        return self.why is None


@dataclass(frozen=True, slots=True)
class Draw:
    """What all but the fan takes at one flow: stream at the collar, vent, air, exchanger and burner [Pa]."""

    stream: Stream
    vent: float
    air: float
    drop: float
    burner: float

    @property
    def head(self) -> float:
        """All together [Pa]."""
        return self.vent + self.air + self.drop + self.burner


class FanCase:
    """One appliance at one rate (or combination)."""

    def __init__(
        self,
        inputs: Inputs,
        appliance: Appliance,
        gases: Sequence[ApplianceGas],
        around: Surroundings,
        firing: Firing,
    ) -> None:
        assert appliance.inducer is not None
        self.inputs, self.appliance, self.inducer = inputs, appliance, appliance.inducer
        self.around, self.firing, self.name = around, firing, appliance.name
        self.rate = firing.rates[self.name] or ""
        self._typed = next(rate for rate in appliance.rates if rate.name == self.rate)
        self._gas: RateGas = next(
            rate for gas in gases if gas.name == self.name for rate in gas.rates if rate.name == self.rate
        )
        self.stated = firing.flue[self.name]
        try:
            self._curve = curve_through(self._total_head())
        except ValueError as error:
            place = f"appliance '{self.name}', inducer, curve"
            raise InputError(Problem(inputs.file, place, str(error))) from None

    @property
    def opens(self) -> float:
        """The pressure below which the switch opens; the operating value where the job does not say [Pa]."""
        return self._typed.switch_opens or self.inducer.switch[self.rate]

    @property
    def opening_said(self) -> bool:
        """Whether the job says where the switch opens."""
        return self._typed.switch_opens is not None

    @property
    def closes(self) -> float:
        """The pressure at which it closes [Pa]."""
        return self._typed.switch_closes or self.opens

    @property
    def vent(self) -> Run | None:
        """The vent at its collar."""
        return next((run for run in self.inputs.graph.runs_at(self.name) if run.carries == "flue gas"), None)

    @property
    def set_speed(self) -> float:
        """The share of top speed at which one of fixed speed turns [-]."""
        return self.inducer.speeds.get(self.rate, 1.0)

    @property
    def stated_air(self) -> float:
        """The excess air that the job states [-]."""
        return self._gas.gas.excess_air

    @cached_property
    def sought(self) -> tuple[float, Draw]:
        """The excess air [-] that one that adapts holds, and what it takes then."""
        stated = self.stated_air
        thinner = self.stated.density / self._operating_density
        if self.inducer.holds == "mass flow" or math.isclose(thinner, 1.0, rel_tol=1e-12):
            return stated, self.draw(stated)

        held = self.air_at(self.inducer.switch[self.rate])
        return (stated, self.draw(stated)) if held is None else (held, self.draw(held))

    def air_at(self, drop: float) -> float | None:
        """The excess air [-] with which the drop across the exchanger is this [Pa]; None where none has it."""

        def over(excess_air: float) -> float:
            return self._drop(self.stream(excess_air)[0]) - drop

        if over(0.0) >= 0.0 or over(MOST_EXCESS_AIR) <= 0.0:
            return None
        return float(brenth(over, 0.0, MOST_EXCESS_AIR, xtol=1e-9))

    def curve(self, density: float) -> Curve:
        """Total head at top speed with gas of a density [kg/m³]."""
        return self._curve.with_head(density / (self._test_density or density))

    def at_speed(self, speed: float) -> FanPoint:
        """Where the fan at a share of top speed meets what the rest takes."""

        def surplus(excess_air: float) -> float:
            draw = self.draw(excess_air)
            return self.curve(draw.stream.density).at_speed(speed).head_near(draw.stream.volume_flow) - draw.head

        curve = self.curve(self.stated.density).at_speed(speed)
        lowest, highest = (self.stream(air)[0].volume_flow for air in (0.0, MOST_EXCESS_AIR))
        if lowest > curve.most or highest < curve.least:
            return self._none("fan-curve-misses-flow", speed)
        if surplus(0.0) < 0.0:
            return self._none("fan-short-of-air", speed)
        if surplus(MOST_EXCESS_AIR) > 0.0:
            return self._none("fan-too-much-air", speed)
        excess_air = float(brenth(surplus, 0.0, MOST_EXCESS_AIR, xtol=1e-7))
        draw = self.draw(excess_air)
        if not curve.least <= draw.stream.volume_flow <= curve.most:
            return self._none("fan-meets-beyond-curve", speed)
        return self._point(speed, excess_air, draw)

    def draw(self, excess_air: float) -> Draw:
        """What all but the fan takes with the fuel unchanged and so much excess air [-]."""
        return self.drawing(*self.stream(excess_air))

    def drawing(self, stream: Stream, air_flow: float, *, graph: VentGraph | None = None) -> Draw:
        """The same for any gas at the collar and the air that is drawn in for it [kg/s], perhaps in another layout."""
        firing = replace(
            self.firing,
            flue={**self.firing.flue, self.name: stream},
            air={**self.firing.air, self.name: replace(self.firing.air[self.name], mass_flow=air_flow)},
        )
        vent, air = self._vent_and_air(solve(graph or self.inputs.graph, firing))
        drop = self._drop(stream)
        burner = self.inducer.burner.get(self.rate, 0.0)
        return Draw(stream, vent, air, drop, burner * drop / max(self.inducer.switch[self.rate], 1e-12))

    def stream(self, excess_air: float) -> tuple[Stream, float]:
        """Flue gas at the collar and the air for it [kg/s], with the fuel unchanged."""
        gas = self._gas.gas
        fuel = self.inputs.catalog.fuels[self.appliance.fuel]
        made = flue_gas(
            mole_fractions=fuel.mole_fractions,
            input=gas.input,
            excess_air=excess_air,
            flue_temperature=gas.temperature,
            pressure=gas.pressure,
            air=gas.air,
        )
        return flue_stream(made), made.air_mass_flow

    def _drop(self, stream: Stream) -> float:
        """Across the heat exchanger: with the square of the mass flow, over the density [Pa]."""
        part = stream.mass_flow / self.stated.mass_flow
        return self.inducer.switch[self.rate] * part * part * self._operating_density / stream.density

    def flow_for(self, drop: float, density: float) -> float:
        """The mass flow of a gas [kg/m³] that makes a drop across the exchanger [Pa]: the inverse of that [kg/s]."""
        part = drop / max(self.inducer.switch[self.rate], 1e-12) * density / self._operating_density
        return self.stated.mass_flow * math.sqrt(part)

    @property
    def purge_air(self) -> Stream:
        """Air as the burner draws it in, at rest."""
        gas = self._gas.gas
        piped = any(run.carries == "combustion air" for run in self.inputs.graph.runs_at(self.name))
        temperature = self.around.outdoor if piped else self.around.indoor
        return Stream(mass_flow=0.0, mixture=gas.air, temperature=temperature, pressure=gas.pressure)

    @cached_property
    def _operating_density(self) -> float:
        altitude = self.inducer.operating_altitude
        if altitude is None:
            return self.stated.density
        return self.stated.density * ambient_pressure(altitude=altitude) / self.around.pressure

    @cached_property
    def _test_density(self) -> float | None:
        """Of the gas the curve was taken with [kg/m³]; None for the gas as it passes."""
        if self.inducer.curve_altitude is None:
            return self.inducer.curve_density
        ambient = ambient_pressure(altitude=self.inducer.curve_altitude)
        return density(DRY_AIR, temperature=TEST_TEMPERATURE, pressure=ambient)

    def _total_head(self) -> tuple[tuple[float, float], ...]:
        """The curve's points, with the velocity pressure at the outlet where they are of static pressure."""
        points = self.inducer.curve
        if self.inducer.curve_pressure != "static" or self.vent is None:
            return points
        bore = self.vent.section_at(self.name).bore
        dynamic = 0.5 * (self._test_density or self.stated.density) / (math.pi / 4.0 * bore * bore) ** 2
        return tuple((flow, head + dynamic * flow * flow) for flow, head in points)

    def _vent_and_air(self, flow: RateFlow) -> tuple[float, float]:
        """Head to push the flue gas out, and to draw the air in; draft counts where it hinders only [Pa]."""
        vent, air = 0.0, -(self.firing.ends.room or 0.0)
        for run in self.inputs.graph.runs_at(self.name):
            total = flow.runs[run.name].total_pressure(self.name, helped=False)
            if run.carries == "flue gas":
                vent = total
            else:
                air = -total
        return vent, air

    @cached_property
    def speed(self) -> float | None:
        """The share of top speed at which the fan holds what it seeks [-]; None where its curve does not reach."""
        draw = self.sought[1]
        return self.curve(draw.stream.density).speed_for(flow=draw.stream.volume_flow, head=draw.head)

    def adapting(self) -> FanPoint:
        """What one that adapts does: as it must up to top speed, and at top speed from there on."""
        if self.speed is None:
            return self._none("fan-cannot-hold", 1.0)
        return self._point(self.speed, *self.sought) if self.speed <= 1.0 else self.at_speed(1.0)

    def _point(self, speed: float, excess_air: float, draw: Draw) -> FanPoint:
        values = {"drop": pressure(draw.drop), "opens": pressure(self.opens), "speed": share(speed)}
        held = draw.drop >= self.opens * (1.0 - CLOSED)
        return FanPoint(
            speed=speed,
            flow=draw.stream.volume_flow,
            excess_air=excess_air,
            exchanger_drop=draw.drop,
            why=None if held else Finding("fan-switch-opens", self.where, values),
        )

    def _none(self, code: str, speed: float) -> FanPoint:
        return FanPoint(speed=speed, why=Finding(code, self.where, {"speed": share(speed)}))

    @property
    def where(self) -> Where:
        """The place of its findings."""
        return Where(appliance=self.name, rate=self.firing.name)


def with_inducer(inputs: Inputs) -> list[Appliance]:
    """The appliances that have their inducer described; raises InputError where there is none."""
    found = [appliance for appliance in inputs.job.appliances if appliance.inducer is not None]
    if not found:
        raise InputError(Problem(inputs.file, "appliance", "no appliance has an inducer described", NO_INDUCER))
    return found


def fan_cases(inputs: Inputs) -> list[FanCase]:
    """Every appliance with an inducer at every rate (or combination); raises as `inducer_study` does."""
    described = with_inducer(inputs)
    around = surroundings(inputs)
    gases = appliance_gases(inputs, around)
    climate = job_climate(inputs, around).climate if inputs.job.cooling else None
    return [
        FanCase(inputs, appliance, gases, around, firing)
        for firing in firings(gases, around, climate)
        for appliance in described
        if firing.rates[appliance.name] is not None
    ]


def cases_by_rate(inputs: Inputs, appliance: str | None) -> list[FanCase]:
    """An appliance's rates, the highest first; beside others, each rate once.

    appliance: by name; the first that has its inducer described. Raises InputError as `fan_cases` does, and where no
    appliance of that name has an inducer.
    """
    found: dict[str, FanCase] = {}
    name = appliance
    for case in fan_cases(inputs):
        name = name or case.name
        if case.name == name:
            found.setdefault(case.rate, case)
    if not found:
        raise InputError(Problem(inputs.file, "", f"no appliance '{name}' has an inducer", "one that has"))
    return sorted(found.values(), key=lambda case: case.stated.mass_flow, reverse=True)
