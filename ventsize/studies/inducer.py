"""The inducer: how hard it works at each rate, when it runs out, and what one of fixed speed would do instead.

Affinity laws: at a share s of top speed a fan gives s²·H(q/s), H being its curve at top speed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fluids.numerics import brenth

from ventsize.check.appliances import ApplianceGas, RateGas, Surroundings, appliance_gases, firings, surroundings
from ventsize.check.climate import job_climate
from ventsize.check.inputs import Inputs
from ventsize.flow.solve import Firing, RateFlow, solve
from ventsize.flow.stream import Stream
from ventsize.gas.flue import flue_gas
from ventsize.jobfile.job import Appliance, Inducer
from ventsize.jobfile.problems import InputError, Problem
from ventsize.studies.fan_curve import curve_through

MOST_EXCESS_AIR = 5.0
DRAWN_EXCESS_AIR = (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.65, 0.8, 1.0, 1.3, 1.7, 2.2, 3.0, 4.0, 5.0)
LEARNS = (
    "an inducer that adapts keeps what it learned until its power is interrupted: after the vent is altered, "
    "interrupt the power and let it learn again at every rate (common practice)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FixedSpeed:
    """The same vent on an inducer that stays at top speed.

    flow: volume flow of flue gas where curve and vent meet [m³/s]; excess_air left there [-];
    exchanger_drop: across the heat exchanger there [Pa]; switch_holds: whether that is no less than the setting.
    reason: why there is no such point, where these are None.
    """

    flow: float | None
    excess_air: float | None
    exchanger_drop: float | None
    switch_holds: bool | None
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class InducerRate:
    """One appliance's inducer at one rate (or combination of rates).

    flow: of flue gas at the collar [m³/s]. switch, vent, air: the head needed across the heat exchanger, to push
    the gas out, and to draw the air in, without help from draft [Pa]; needed: together. at_top_speed: head at that
    flow [Pa], None beyond the curve. speed: share of top speed needed [-]; left: what remains of it [-]; None where the
    curve does not reach. runs_out_at: straight length of the vent at which top speed is reached [m], other things
    equal. system: what vent, air and heat exchanger take at other flows of the same fuel, as (flow, head).
    """

    appliance: str
    rate: str
    flow: float
    switch: float
    vent: float
    air: float
    needed: float
    at_top_speed: float | None
    speed: float | None
    left: float | None
    vent_length: float
    runs_out_at: float | None
    fixed: FixedSpeed
    system: tuple[tuple[float, float], ...]
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class InducerStudy:
    """Every inducer of a job at every rate. curves: each appliance's, in points of flow [m³/s] and head [Pa]."""

    rates: tuple[InducerRate, ...]
    curves: tuple[tuple[str, str, tuple[tuple[float, float], ...]], ...]
    findings: tuple[str, ...]
    cautions: tuple[str, ...]


def inducer_study(inputs: Inputs) -> InducerStudy:
    """The study. Raises InputError where no appliance of the job has an inducer, and where a curve is no curve."""
    with_one = [appliance for appliance in inputs.job.appliances if appliance.inducer is not None]
    if not with_one:
        expected = "an [appliance.inducer] with source, curve and switch"
        raise InputError(Problem(inputs.file, "appliance", "no appliance has an inducer described", expected))
    around = surroundings(inputs)
    gases = appliance_gases(inputs, around)
    climate = job_climate(inputs, around).climate if inputs.job.cooling else None
    rates: list[InducerRate] = []
    for firing in firings(gases, around, climate):
        flow = solve(inputs.graph, firing)
        for appliance in with_one:
            if firing.rates[appliance.name] is not None:
                rates.append(_Case(inputs, appliance, gases, around, firing, flow).answer())
    return InducerStudy(
        rates=tuple(rates),
        curves=tuple((a.name, _label(a.inducer), tuple(sorted(a.inducer.curve))) for a in with_one if a.inducer),
        findings=tuple(_findings(rates, with_one)),
        cautions=tuple(_cautions(with_one)),
    )


def _label(inducer: Inducer) -> str:
    return f"example curve: {inducer.source}" if inducer.example else inducer.source


class _Case:
    """One appliance at one rate (or combination)."""

    def __init__(
        self,
        inputs: Inputs,
        appliance: Appliance,
        gases: Sequence[ApplianceGas],
        around: Surroundings,
        firing: Firing,
        flow: RateFlow,
    ) -> None:
        assert appliance.inducer is not None
        self._inputs, self._appliance, self._around, self._firing, self._flow = inputs, appliance, around, firing, flow
        self._name = appliance.name
        self._rate = firing.rates[self._name] or ""
        self._switch = appliance.inducer.switch[self._rate]
        self._gas: RateGas = next(
            rate for gas in gases if gas.name == self._name for rate in gas.rates if rate.name == self._rate
        )
        try:
            self._curve = curve_through(appliance.inducer.curve)
        except ValueError as error:
            place = f"appliance '{self._name}', inducer, curve"
            raise InputError(Problem(inputs.file, place, str(error))) from None

    def answer(self) -> InducerRate:
        flow = self._firing.flue[self._name].volume_flow
        vent, air = self._vent_and_air(self._flow)
        needed = self._switch + vent + air
        speed = self._curve.speed_for(flow=flow, head=needed)
        inside = self._curve.least <= flow <= self._curve.most
        top = self._curve.head(flow) if inside else None
        length, gradient = self._vent_pipe()
        return InducerRate(
            appliance=self._name,
            rate=self._firing.name,
            flow=flow,
            switch=self._switch,
            vent=vent,
            air=air,
            needed=needed,
            at_top_speed=top,
            speed=speed,
            left=None if speed is None else 1.0 - speed,
            vent_length=length,
            runs_out_at=None if top is None or gradient <= 0.0 else max(0.0, length + (top - needed) / gradient),
            fixed=self._fixed(),
            system=self._system(),
            reason="" if speed is not None else "no share of top speed puts this flow and head on the curve typed in",
        )

    def _vent_and_air(self, flow: RateFlow) -> tuple[float, float]:
        """Head to push the flue gas out, and to draw the air in; draft counts where it hinders only [Pa]."""
        vent = air = 0.0
        for run in self._inputs.graph.runs_at(self._name):
            solved = flow.runs[run.name]
            pressure = solved.total_pressure(self._name, helped=False)
            if run.carries == "flue gas":
                vent = pressure
            else:
                air = -pressure
        return vent, air

    def _vent_pipe(self) -> tuple[float, float]:
        """Straight length of the vent at the collar [m], and the loss of straight pipe there [Pa/m]."""
        for run in self._inputs.graph.runs_at(self._name):
            if run.carries == "flue gas":
                solved = self._flow.runs[run.name]
                return run.straight_length, solved.at(run.section_at(self._name)).gradient
        return 0.0, 0.0

    def _at_excess_air(self, excess_air: float) -> tuple[float, float, float]:
        """With the fuel unchanged: flow [m³/s], head of vent and air together, drop across the exchanger [Pa]."""
        gas = self._gas.gas
        fuel = self._inputs.catalog.fuels[self._appliance.fuel]
        other = flue_gas(
            mole_fractions=fuel.mole_fractions,
            input=gas.input,
            excess_air=excess_air,
            flue_temperature=gas.temperature,
            pressure=gas.pressure,
            air=gas.air,
        )
        before = self._firing.flue[self._name]
        stream = Stream(
            mass_flow=other.flue_mass_flow,
            mixture=other.mixture,
            temperature=other.temperature,
            pressure=other.pressure,
        )
        firing = replace(
            self._firing,
            flue={**self._firing.flue, self._name: stream},
            air={
                **self._firing.air,
                self._name: replace(self._firing.air[self._name], mass_flow=other.air_mass_flow),
            },
        )
        vent, air = self._vent_and_air(solve(self._inputs.graph, firing))
        drop = self._switch * (stream.mass_flow / before.mass_flow) ** 2 * before.density / stream.density
        return stream.volume_flow, vent + air, drop

    def _system(self) -> tuple[tuple[float, float], ...]:
        """Flow and head at a few shares of excess air, as far as the curve goes."""
        found = []
        for excess_air in DRAWN_EXCESS_AIR:
            flow, head, drop = self._at_excess_air(excess_air)
            found.append((flow, head + drop))
            if flow > self._curve.most:
                break
        return tuple(found)

    def _fixed(self) -> FixedSpeed:
        def surplus(excess_air: float) -> float:
            flow, head, drop = self._at_excess_air(excess_air)
            return self._curve.head(min(max(flow, self._curve.least), self._curve.most)) - head - drop

        lowest, highest = self._at_excess_air(0.0)[0], self._at_excess_air(MOST_EXCESS_AIR)[0]
        if lowest > self._curve.most or highest < self._curve.least:
            return _no_point("the curve typed in does not reach the flows of this rate")
        if surplus(0.0) < 0.0:
            return _no_point("at top speed it moves less air than the fuel needs: it must not fire like this")
        if surplus(MOST_EXCESS_AIR) > 0.0:
            return _no_point(f"at top speed it moves more than {MOST_EXCESS_AIR:.0f} times excess air")
        excess_air = float(brenth(surplus, 0.0, MOST_EXCESS_AIR, xtol=1e-7))
        flow, _, drop = self._at_excess_air(excess_air)
        if not self._curve.least <= flow <= self._curve.most:
            return _no_point("curve and vent would meet beyond the curve typed in")
        return FixedSpeed(
            flow=flow, excess_air=excess_air, exchanger_drop=drop, switch_holds=drop >= self._switch * (1.0 - 1e-6)
        )


def _no_point(reason: str) -> FixedSpeed:
    return FixedSpeed(flow=None, excess_air=None, exchanger_drop=None, switch_holds=None, reason=reason)


def _findings(rates: Sequence[InducerRate], appliances: Sequence[Appliance]) -> list[str]:
    adaptive = {
        appliance.name: appliance.inducer is not None and appliance.inducer.adaptive for appliance in appliances
    }
    said = []
    for rate in rates:
        place = f"{rate.appliance}, {rate.rate}"
        if adaptive[rate.appliance]:
            if rate.speed is None:
                said.append(f"{place}: {rate.reason}")
            elif rate.speed > 1.0:
                said.append(f"{place}: it needs {rate.speed:.0%} of top speed, which is more than there is")
        elif rate.fixed.reason:
            said.append(f"{place}: {rate.fixed.reason}")
        elif rate.fixed.switch_holds is False:
            said.append(f"{place}: at its fixed speed the flow falls below the pressure switch's setting, which opens")
    return said


def _cautions(appliances: Sequence[Appliance]) -> list[str]:
    said = [
        "curves are taken as they stand for gas as it passes the fan; a curve measured with room air gives less head "
        "with warm flue gas, in the ratio of their densities",
        "help from draft is left out, since on a mild day there is none; draft that hinders is counted",
    ]
    for appliance in appliances:
        if appliance.inducer and appliance.inducer.example:
            said.append(
                f"appliance '{appliance.name}': its curve is an example ({appliance.inducer.source}), not its own data"
            )
        if appliance.inducer and appliance.inducer.adaptive:
            said.append(LEARNS)
    return list(dict.fromkeys(said))
