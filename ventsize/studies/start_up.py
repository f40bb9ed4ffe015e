"""Start-up of an appliance with an inducer, and learning again after a power cut, as a sequence to step through.

The order of the steps is common practice, without a source: the maker's instructions decide.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from fluids.numerics import brenth

from ventsize.check.inputs import Inputs
from ventsize.finding import Finding, Where, share
from ventsize.studies.fan import CLOSED, Draw, FanCase, FanPoint, cases_by_rate

LEAST_DROP = 0.1  # Pa; a fan that gives less moves nothing worth a word


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """One step of the sequence.

    what: what happens, as a finding. rate: the firing rate it is about. speed: share of top speed [-]. flow: at the
    collar [m³/s]. drop: what the switch feels [Pa]. excess_air: of the flame, None without one [-]. closed: the
    pressure switch; burning: the burner. learned: the speeds kept by then, by rate [-].
    """

    what: Finding
    rate: str
    speed: float = 0.0
    flow: float = 0.0
    drop: float = 0.0
    excess_air: float | None = None
    closed: bool = False
    burning: bool = False
    learned: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StartUp:
    """The sequence of one appliance; it ends early where the burner does not light or goes out."""

    appliance: str
    adaptive: bool
    moments: tuple[Moment, ...]


def start_up(inputs: Inputs, *, appliance: str | None = None, learned_on: Inputs | None = None) -> StartUp:
    """The sequence from the return of power to a satisfied call at every rate, the highest first.

    appliance: by name; the first that has its inducer described. learned_on: the job as it was when the inducer that
    adapts learned; the sequence then begins with the speeds of that vent, before the power is interrupted.

    Raises InputError as `cases_by_rate` does.
    """
    cases = cases_by_rate(inputs, appliance)
    moments: list[Moment] = []
    first = cases[0]
    if learned_on is not None and first.inducer.adaptive:
        moments += _on_old_speeds(cases, cases_by_rate(learned_on, first.name))
    moments += _Sequence(cases).moments()
    return StartUp(appliance=first.name, adaptive=first.inducer.adaptive, moments=tuple(moments))


def _on_old_speeds(cases: list[FanCase], before: list[FanCase]) -> Iterator[Moment]:
    """The altered vent at speeds that were learned on another."""
    kept = {case.rate: case.speed for case in before if case.speed is not None and case.speed <= 1.0}
    for case in cases:
        speed = kept.get(case.rate)
        if speed is not None:
            yield _fired("start-old-speed", case, case.at_speed(speed), kept)


def _fired(code: str, case: FanCase, point: FanPoint, learned: dict[str, float]) -> Moment:
    """A moment in which the burner is asked to burn: without a flame's figures where it is out."""
    moment = Moment(
        what=Finding(code, case.where, {"speed": share(point.speed)}),
        rate=case.rate,
        speed=point.speed,
        learned=tuple(learned.items()),
    )
    if point.why is not None:
        return replace(moment, what=point.why)
    return replace(
        moment,
        flow=point.flow or 0.0,
        drop=point.exchanger_drop or 0.0,
        excess_air=point.excess_air,
        closed=True,
        burning=True,
    )


@dataclass(slots=True)
class _Sequence:
    """Builds the moments of one appliance. learned: the speeds so far, by rate [-]."""

    cases: list[FanCase]
    learned: dict[str, float] = field(default_factory=dict)

    def moments(self) -> Iterator[Moment]:
        """One after the other, until the burner does not light or the call is satisfied."""
        first = self.cases[0]
        yield self._still("start-power-returns", first)
        yield self._still("start-switch-proved-open", first)
        purge = self._purged("start-switch-closes", first, first.closes, least=first.closes)
        yield purge
        if not purge.closed:
            return
        full = max(first.closes, first.inducer.switch[first.rate])
        yield self._purged("start-purge", first, full, least=first.opens)
        for case in self.cases:
            point = case.adapting() if case.inducer.adaptive else case.at_speed(case.set_speed)
            if point.burns and case.inducer.adaptive:
                self.learned[case.rate] = point.speed
            code = "start-learns" if case.inducer.adaptive else "start-burns"
            moment = _fired(code, case, point, self.learned)
            yield moment
            if not moment.burning:
                return
        last = self.cases[-1]
        yield self._purged("start-satisfied", last, last.inducer.switch[last.rate], least=last.opens)
        if last.inducer.adaptive:
            yield self._still("start-keeps", last)
            self.learned.clear()
            yield self._still("start-power-cut", last)

    def _still(self, code: str, case: FanCase) -> Moment:
        kept = tuple(self.learned.items())
        return Moment(what=Finding(code, Where(appliance=case.name)), rate=case.rate, learned=kept)

    def _purged(self, code: str, case: FanCase, drop: float, *, least: float) -> Moment:
        """The fan alone, with unburnt air: at the speed that makes this drop [Pa], its fixed or its top speed.

        least: the drop with which the switch is closed [Pa].
        """
        speed: float | None = case.set_speed
        if case.inducer.adaptive:
            draw = _purge(case, drop)
            speed = case.curve(draw.stream.density).speed_for(flow=draw.stream.volume_flow, head=draw.head)
        if speed is None or speed > 1.0 or not case.inducer.adaptive:
            speed = 1.0 if speed is None else min(speed, 1.0)
            draw = _purge_at(case, speed)
        reached = draw.drop >= least * (1.0 - CLOSED)
        return Moment(
            what=Finding(code if reached else "start-switch-stays-open", case.where, {"speed": share(speed)}),
            rate=case.rate,
            speed=speed,
            flow=draw.stream.volume_flow if reached else 0.0,
            drop=draw.drop if reached else 0.0,
            closed=reached,
            learned=tuple(self.learned.items()),
        )


def _purge(case: FanCase, drop: float) -> Draw:
    """What all but the fan takes of unburnt air with this drop across the exchanger [Pa]."""
    air = case.purge_air
    flow = case.flow_for(drop, air.density)
    return case.drawing(replace(air, mass_flow=flow), flow)


def _purge_at(case: FanCase, speed: float) -> Draw:
    """The same where a fan at this speed meets it; at the end of its curve where it does not."""
    curve = case.curve(case.purge_air.density).at_speed(speed)

    def surplus(drop: float) -> float:
        draw = _purge(case, drop)
        return curve.head_near(draw.stream.volume_flow) - draw.head

    low, high = LEAST_DROP, curve.head(curve.least)
    if surplus(low) <= 0.0:
        return _purge(case, low)
    return _purge(case, float(brenth(surplus, low, high, xtol=1e-6)) if surplus(high) < 0.0 else high)
