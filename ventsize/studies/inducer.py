"""The inducer: how hard it works at each rate, when it runs out, and what air is left to the burner."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ventsize.check.inputs import Inputs
from ventsize.finding import Finding, Where, share
from ventsize.jobfile.lesson import Changed
from ventsize.studies.altering.altered import altered
from ventsize.studies.fan import Draw, FanCase, FanPoint, fan_cases

DRAWN_EXCESS_AIR = (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.65, 0.8, 1.0, 1.3, 1.7, 2.2, 3.0, 4.0, 5.0)
LENGTH_FOUND, MOST_TRIES = 1e-3, 12  # m
NOTABLE = 0.01  # of excess air; what is less off than this is not worth a word


@dataclass(frozen=True, slots=True, kw_only=True)
class FanCurve:
    """An appliance's curve as typed: points of flow [m³/s] and head [Pa]."""

    appliance: str
    source: str
    example: bool
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class InducerRate:
    """One appliance's inducer at one rate (or combination of rates).

    adaptive: whether it changes speed to hold its flow. flow: of flue gas at the collar that it seeks to hold [m³/s];
    excess_air: then [-]. switch: the drop across the heat exchanger that goes with it; burner: what the switch does not
    feel; opens, closes: the switch [Pa]. vent, air: to push the gas out and to draw the air in, wind and room as they
    are stated, without help from draft [Pa]; needed: all together. at_top_speed: head at that flow [Pa], None beyond
    the curve. speed: share of top speed needed [-]; left: what remains of it; None where the curve does not reach.
    runs_out_at: straight length of the vent at which top speed is reached [m], other things equal. fixed: one that
    turns at its fixed speed; point: what this inducer does. curve: total head at top speed with the gas of this rate.
    system: what all but the fan takes at other flows of the same fuel, as (flow, head).
    """

    appliance: str
    rate: str
    adaptive: bool
    flow: float
    excess_air: float
    switch: float
    burner: float
    opens: float
    closes: float
    vent: float
    air: float
    needed: float
    at_top_speed: float | None
    speed: float | None
    left: float | None
    vent_length: float
    runs_out_at: float | None
    fixed: FanPoint
    point: FanPoint
    curve: tuple[tuple[float, float], ...]
    system: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class InducerStudy:
    """Every inducer of a job at every rate. findings: what is wrong; cautions: what it rests on."""

    rates: tuple[InducerRate, ...]
    curves: tuple[FanCurve, ...]
    findings: tuple[Finding, ...]
    cautions: tuple[Finding, ...]


def inducer_study(inputs: Inputs) -> InducerStudy:
    """The study. Raises InputError where no appliance of the job has an inducer, and where a curve is no curve."""
    cases = fan_cases(inputs)
    rates = tuple(_answer(case) for case in cases)
    return InducerStudy(
        rates=rates,
        curves=fan_curves(cases),
        findings=tuple(_findings(cases, rates)),
        cautions=fan_cautions(cases),
    )


def fan_curves(cases: Sequence[FanCase]) -> tuple[FanCurve, ...]:
    """The curve of each appliance, once."""
    fans = {case.name: case.inducer for case in cases}
    return tuple(
        FanCurve(appliance=name, source=fan.source, example=fan.example, points=tuple(sorted(fan.curve)))
        for name, fan in fans.items()
    )


def fan_cautions(cases: Sequence[FanCase]) -> tuple[Finding, ...]:
    """What an answer about these inducers rests on, each once."""
    return tuple(dict.fromkeys(_cautions(cases)))


def _answer(case: FanCase) -> InducerRate:
    excess_air, draw = case.sought
    flow, needed = draw.stream.volume_flow, draw.head
    curve = case.curve(draw.stream.density)
    speed = case.speed
    top = curve.head(flow) if curve.least <= flow <= curve.most else None
    fixed = case.at_speed(case.set_speed)
    return InducerRate(
        appliance=case.name,
        rate=case.firing.name,
        adaptive=case.inducer.adaptive,
        flow=flow,
        excess_air=excess_air,
        switch=draw.drop,
        burner=draw.burner,
        opens=case.opens,
        closes=case.closes,
        vent=draw.vent,
        air=draw.air,
        needed=needed,
        at_top_speed=top,
        speed=speed,
        left=None if speed is None else 1.0 - speed,
        vent_length=case.vent.straight_length if case.vent else 0.0,
        runs_out_at=None if top is None else _runs_out_at(case, draw, top),
        fixed=fixed,
        point=case.adapting() if case.inducer.adaptive else fixed,
        curve=curve.points,
        system=_system(case),
    )


def _runs_out_at(case: FanCase, draw: Draw, top: float) -> float | None:
    """Straight length of the vent at which head at top speed is just what is needed [m]; the secant method."""
    run = case.vent
    if run is None or run.straight_length == 0.0:
        return None
    air_flow = case.stream(case.sought[0])[1]

    def spare(length: float) -> float:
        graph = altered(case.inputs, Changed(run=run.name, straight=length)).graph
        return top - case.drawing(draw.stream, air_flow, graph=graph).head

    before, left = run.straight_length, top - draw.head
    here = before + 1.0
    for _ in range(MOST_TRIES):
        now = spare(here)
        if (now - left) * (here - before) >= 0.0:
            return None  # longer pipe does not lose more
        before, left, here = here, now, max(0.0, here - now * (here - before) / (now - left))
        if abs(here - before) <= LENGTH_FOUND:
            return here
    return None


def _system(case: FanCase) -> tuple[tuple[float, float], ...]:
    """Flow and head at a few shares of excess air, as far as the curve goes."""
    found = []
    limit = case.curve(case.stated.density).most
    for excess_air in DRAWN_EXCESS_AIR:
        draw = case.draw(excess_air)
        found.append((draw.stream.volume_flow, draw.head))
        if draw.stream.volume_flow > limit:
            break
    return tuple(found)


def _findings(cases: Sequence[FanCase], rates: Sequence[InducerRate]) -> Iterator[Finding]:
    for case, rate in zip(cases, rates, strict=True):
        if rate.adaptive and rate.speed is not None and rate.speed > 1.0:
            yield Finding("fan-over-top-speed", case.where, {"speed": share(rate.speed)})
        if rate.point.why is not None:
            yield rate.point.why
        elif rate.point.excess_air is not None and abs(rate.point.excess_air - case.stated_air) > NOTABLE:
            values = {"stated": share(case.stated_air), "found": share(rate.point.excess_air)}
            yield Finding("excess-air-not-as-stated", case.where, values)


def _cautions(cases: Sequence[FanCase]) -> Iterator[Finding]:
    if any(case.inducer.curve_density is None and case.inducer.curve_altitude is None for case in cases):
        yield Finding("fan-density-not-said")
    if any(case.inducer.curve_pressure is None for case in cases):
        yield Finding("fan-pressure-not-said")
    yield Finding("fan-draft-left-out")
    if not all(case.opening_said for case in cases):
        yield Finding("switch-opening-not-said")
    for case in cases:
        where = Where(appliance=case.name)
        if case.inducer.example:
            yield Finding("fan-curve-example", where, {"source": case.inducer.source})
        if case.inducer.adaptive:
            yield Finding("inducer-relearns", where)
