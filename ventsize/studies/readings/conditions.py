"""The vent as it should be, at each rate and weather that readings were taken in, and slightly changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from ventsize.check.appliances import appliance_gases, firings, surroundings
from ventsize.check.climate import job_climate
from ventsize.check.inputs import Inputs
from ventsize.check.switch import USUAL, rate_of, setting_of
from ventsize.finding import Finding, Where
from ventsize.flow.rate_flow import Firing, RateFlow
from ventsize.flow.solve import solve
from ventsize.jobfile.inducer import Inducer
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.reading import Reading
from ventsize.studies.fan_curve import Curve, curve_through
from ventsize.studies.inducer import inducer_study


@dataclass(frozen=True, slots=True, kw_only=True)
class Burning:
    """How an appliance burns at a rate: its input [W], excess air [-] and flue gas temperature [K]."""

    input: float
    excess_air: float
    flue_temperature: float


class Conditions:
    """A job's flow at any of its firing rates, as it stands or with its burning changed.

    An inducer of fixed speed moves what its curve and the vent give, not what the job states: the burning is then
    that of the point where they meet.
    """

    def __init__(self, inputs: Inputs) -> None:
        self.inputs = inputs
        self.assumed: list[Finding] = []
        self.burning: dict[tuple[str, str], Burning] = {}
        self.exchanger_drop: dict[tuple[str, str], float] = {}
        for gases in appliance_gases(inputs, surroundings(inputs)):
            for rate in gases.rates:
                gas = rate.gas
                self.burning[gases.name, rate.name] = Burning(
                    input=rate.plate, excess_air=gas.excess_air, flue_temperature=gas.temperature
                )
        self._fixed_points()

    @property
    def alone(self) -> bool:
        """Whether the job has one appliance; only then its inducer is followed."""
        return len(self.inputs.job.appliances) == 1

    @cached_property
    def rates(self) -> tuple[str, ...]:
        """Names of the firing rates, or of the combinations of rates."""
        around = surroundings(self.inputs)
        return tuple(firing.name for firing in firings(appliance_gases(self.inputs, around), around))

    @cached_property
    def curve(self) -> Curve | None:
        """The fan curve of the only appliance; None where there is none."""
        inducer = self.inducer(self.inputs.job.appliances[0].name) if self.alone else None
        if inducer is None:
            return None
        try:
            return curve_through(inducer.curve)
        except ValueError as error:
            raise InputError(Problem(self.inputs.file, "inducer, curve", str(error))) from None

    def inducer(self, appliance: str) -> Inducer | None:
        """An appliance's own inducer, where the job describes it; an example's curve and switch say nothing of it."""
        found = next(one.inducer for one in self.inputs.job.appliances if one.name == appliance)
        return None if found is None or found.example else found

    def exemplary(self, appliance: str) -> bool:
        """Whether an appliance's inducer is described by an example only."""
        found = next(one.inducer for one in self.inputs.job.appliances if one.name == appliance)
        return found is not None and found.example

    def across_switch(self, appliance: str, rate: str | None, stated: float | None) -> float | None:
        """What is usual across the pressure switch at a rate [Pa]; None where neither it nor its setting is known.

        Where the switch's own setting is given beside an inducer, the inducer says what it holds; else it is usual to
        run the middle of the usual margin above the setting. stated: a setting that a reading gives [Pa].
        """
        inducer, typed = self.inducer(appliance), rate_of(self.inputs, appliance, rate)
        if inducer is not None and typed is not None and self.holds_stated(appliance, rate):
            return max(inducer.switch[typed.name], typed.switch_opens or 0.0)
        setting = setting_of(self.inputs, appliance, rate, stated)
        return None if setting is None else setting + sum(USUAL) / 2.0

    def holds_stated(self, appliance: str, rate: str | None) -> bool:
        """Whether the job says what the inducer holds across the switch, apart from where the switch opens."""
        typed = rate_of(self.inputs, appliance, rate)
        computed = (appliance, rate or "") in self.exchanger_drop
        apart = typed is not None and typed.switch_opens is not None and self.inducer(appliance) is not None
        return computed or apart

    @property
    def fixed_speed(self) -> bool:
        """Whether the flow follows from the fan curve."""
        inducer = self.inducer(self.inputs.job.appliances[0].name) if self.alone else None
        return inducer is not None and not inducer.adaptive and bool(self.exchanger_drop)

    def _fixed_points(self) -> None:
        inducer = self.inducer(self.inputs.job.appliances[0].name) if self.alone else None
        if inducer is None or inducer.adaptive:
            return
        found = inducer_study(self.inputs).rates
        lacking = [rate for rate in found if rate.fixed.excess_air is None]
        for rate in lacking:
            self.assumed.append(Finding("fixed-speed-not-found", Where(rate=rate.rate)))
        if lacking:
            return
        for rate in found:
            point, key = rate.fixed, (rate.appliance, rate.rate)
            assert point.excess_air is not None and point.exchanger_drop is not None
            self.burning[key] = replace(self.burning[key], excess_air=point.excess_air)
            self.exchanger_drop[key] = point.exchanger_drop
        self.assumed.append(Finding("fixed-speed-flow"))

    def flow(
        self,
        rate: str,
        outdoor: float | None,
        *,
        air: float = 0.0,
        warmth: float = 0.0,
        input: float = 1.0,
        flow: float = 1.0,
        inputs: Inputs | None = None,
    ) -> RateFlow:
        """The flow at a rate.

        outdoor: temperature [K]; None for the site's. air: more excess air [-]; warmth: of the flue gas [K];
        input: share of the input burnt with the same air [-]; flow: share of all flows, with the same gas [-].
        inputs: of a job with the same appliances and other runs; None for the job's own.
        """
        other = self.changed(inputs or self.inputs, outdoor, air=air, warmth=warmth, input=input)
        around = surroundings(other)
        climate = job_climate(other, around).climate if other.job.cooling else None
        try:
            gases = appliance_gases(other, around)
        except ValueError as error:
            raise InputError(Problem(self.inputs.file, "appliance", str(error))) from None
        firing = next(one for one in firings(gases, around, climate) if one.name == rate)
        return solve(other.graph, firing if flow == 1.0 else _scaled(firing, flow))

    def changed(
        self, inputs: Inputs, outdoor: float | None, *, air: float, warmth: float, input: float = 1.0
    ) -> Inputs:
        """The job with its burning and the weather changed."""
        appliances = []
        for appliance in inputs.job.appliances:
            rates = []
            for rate in appliance.rates:
                burning = self.burning[appliance.name, rate.name]
                rates.append(
                    replace(
                        rate,
                        oxygen=None,
                        carbon_dioxide=None,
                        input=burning.input * input,
                        excess_air=max(0.0, (1.0 + burning.excess_air) / input - 1.0 + air),
                        flue_temperature=burning.flue_temperature + warmth,
                    )
                )
            appliances.append(replace(appliance, rates=tuple(rates)))
        site = inputs.job.site if outdoor is None else replace(inputs.job.site, outdoor=outdoor)
        return replace(inputs, job=replace(inputs.job, appliances=tuple(appliances), site=site))

    def excess_air(self, reading: Reading) -> float | None:
        """The excess air that the appliance of a reading burns with at its rate [-]; None where that is not one."""
        name = reading.appliance or self.inputs.job.appliances[0].name
        fired = self.fired(reading.rate) if reading.rate in self.rates else {}
        burning = self.burning.get((name, fired.get(name) or ""))
        return None if burning is None else burning.excess_air

    def fired(self, rate: str) -> Mapping[str, str | None]:
        """Each appliance's rate in a firing rate or combination."""
        around = surroundings(self.inputs)
        return next(one.rates for one in firings(appliance_gases(self.inputs, around), around) if one.name == rate)


def _scaled(firing: Firing, share: float) -> Firing:
    return replace(
        firing,
        flue={name: replace(stream, mass_flow=stream.mass_flow * share) for name, stream in firing.flue.items()},
        air={name: replace(stream, mass_flow=stream.mass_flow * share) for name, stream in firing.air.items()},
    )
