"""Inducers on a bench: the vent made longer step by step, three of them side by side at every firing rate.

All have the same fan. One adapts: it turns as fast as it must to hold its flow, up to its top speed, and from there
on does what a fan at top speed does. One has a speed for each rate, one the same speed always. Where the switch opens
or the air does not suffice, the burner is out, and there are no figures of a flame.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any

from ventsize.check.inputs import Inputs, prepare
from ventsize.check.verdict import check
from ventsize.finding import Finding, Outcome, Value, Verdict, Where, length, share
from ventsize.jobfile.document import nearest
from ventsize.jobfile.job import Appliance, Job
from ventsize.jobfile.lesson import Changed
from ventsize.jobfile.problems import InputError, Problem
from ventsize.studies.altering.altered import altered
from ventsize.studies.fan import FanCase, FanPoint, cases_by_rate, with_inducer
from ventsize.studies.inducer import FanCurve, fan_cautions, fan_curves
from ventsize.studies.start_up import StartUp, start_up

STEP = 3.048  # 10 ft [m]
MOST_STEPS = 60
LITTLE_AIR = 0.2  # excess air; burners are set with more. Common practice, no source
ADAPTIVE, TWO_SPEED, FIXED = "adaptive", "two-speed", "fixed"


@dataclass(frozen=True, slots=True, kw_only=True)
class TableSays:
    """What `check` says of the vent at one length: a switch that stays closed says nothing of it.

    allowable: what the table allows; counted: what it counts the vent as; margin: what is left of it, negative where
    it is over [m]; None where there is no such figure.
    """

    verdict: Verdict
    decides: Outcome
    allowable: float | None
    counted: float | None
    margin: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchRate:
    """One firing rate at one length.

    vent: the head that pushes the gas through it [Pa]. points: of each inducer by its kind, the one of two speeds only
    where there are two rates; without figures where the burner is out.
    """

    rate: str
    vent: float
    points: Mapping[str, FanPoint]

    @property
    def burns(self) -> bool:
        """Whether any of the burners does."""
        return any(point.burns for point in self.points.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchStep:
    """The vent with so much straight pipe in all [m], at every rate on the bench, the highest first."""

    length: float
    rates: tuple[BenchRate, ...]
    table: TableSays

    @property
    def burns(self) -> bool:
        """Whether any burner does at any rate."""
        return any(rate.burns for rate in self.rates)


@dataclass(frozen=True, slots=True, kw_only=True)
class RateSetting:
    """A rate on the bench: where its switch opens [Pa], its excess air, what is left of it there, and its speed [-].

    air_at_switch: None where the switch opens only with less air than the flame takes. speed: of the one of two speeds.
    """

    name: str
    switch: float
    excess_air: float
    air_at_switch: float | None
    speed: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What was watched on the bench. cautions: what it rests on."""

    appliance: str
    rates: tuple[RateSetting, ...]
    fixed_speed: float
    curve: FanCurve
    steps: tuple[BenchStep, ...]
    findings: tuple[Finding, ...]
    cautions: tuple[Finding, ...]

    @property
    def straight_allowed(self) -> float | None:
        """The straight pipe with which this vent comes to the table's allowance [m]; None where it gives no length."""
        first = self.steps[0]
        return None if first.table.margin is None else first.length + first.table.margin


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchSetting:
    """What stands on the bench: an appliance with its inducer, and the speeds beside it.

    job: as it was given, for the table, which is asked at its highest rate whatever rate is on the bench.
    start: straight pipe of the vent at the first step [m]. speeds: of the one of two speeds, by rate [-].
    """

    job: Inputs
    inputs: Inputs
    appliance: str
    vent: str
    start: float
    speeds: Mapping[str, float]
    fixed_speed: float


def set_up(
    inputs: Inputs,
    *,
    appliance: str | None = None,
    rate: str | None = None,
    start: float | None = None,
    fixed_speed: float | None = None,
) -> BenchSetting:
    """The bench made ready.

    appliance: by name; the first that has its inducer described. rate: by name, that one alone; else all of them.
    start: straight pipe of the vent to begin with; what the job has [m].
    fixed_speed: of the inducer that has one, as a share of top speed; else the least whole percent that does at the
    start, at the highest rate. So are the speeds of the one that has two, where the job does not give them [-].

    Raises InputError where no inducer is described, for a name that is not there, and for a speed that cannot be.
    """
    if fixed_speed is not None and not 0.2 <= fixed_speed <= 1.0:
        raise InputError(Problem(inputs.file, "", f"a fixed speed of {fixed_speed:.0%}", "20 % to 100 % of top speed"))
    chosen = _by_name(with_inducer(inputs), appliance, inputs)
    known = [r.name for r in chosen.rates]
    if rate is not None and rate not in known:
        problem = f"there is no rate '{rate}'"
        raise InputError(Problem(inputs.file, f"appliance '{chosen.name}'", problem, nearest(rate, known)))
    vents = [r.name for r in inputs.graph.runs_at(chosen.name) if r.carries == "flue gas"]
    if not vents:
        raise InputError(Problem(inputs.file, f"appliance '{chosen.name}'", "it has no vent to lengthen", "a vent"))
    ready = prepare(_alone(inputs.job, chosen, rate), file=inputs.file, tables=inputs.tables)
    begin = ready.graph.runs[vents[0]].straight_length if start is None else start
    needed = {c.rate: _whole_percent(c.speed)
              for c in cases_by_rate(altered(ready, Changed(run=vents[0], straight=begin)), chosen.name)}  # fmt: skip
    assert chosen.inducer is not None
    return BenchSetting(
        job=inputs,
        inputs=ready,
        appliance=chosen.name,
        vent=vents[0],
        start=begin,
        speeds={name: chosen.inducer.speeds.get(name, speed) for name, speed in needed.items()},
        fixed_speed=next(iter(needed.values())) if fixed_speed is None else fixed_speed,
    )


def _whole_percent(needed: float | None) -> float:
    return 1.0 if needed is None else min(1.0, math.ceil(needed * 100.0) / 100.0)


def _by_name(appliances: list[Appliance], name: str | None, inputs: Inputs) -> Appliance:
    if name is None:
        return appliances[0]
    found = next((a for a in appliances if a.name == name), None)
    if found is None:
        known = [a.name for a in appliances]
        raise InputError(Problem(inputs.file, "", f"no appliance '{name}' has an inducer", nearest(name, known)))
    return found


def _alone(job: Job, chosen: Appliance, rate: str | None) -> Job:
    """The job with this inducer alone, one that adapts, and perhaps one rate of its appliance."""
    assert chosen.inducer is not None
    rates = tuple(r for r in chosen.rates if rate in (None, r.name))
    switch = {r.name: chosen.inducer.switch[r.name] for r in rates}
    burner = {name: drop for name, drop in chosen.inducer.burner.items() if name in switch}
    made = replace(chosen, rates=rates,
                   inducer=replace(chosen.inducer, switch=switch, burner=burner, adaptive=True, speeds={}))  # fmt: skip
    appliances = tuple(made if a.name == chosen.name else replace(a, inducer=None) for a in job.appliances)
    return replace(job, appliances=appliances, lesson=None)


def step_at(setting: BenchSetting, length: float) -> BenchStep:
    """All inducers on a vent of so much straight pipe in all [m], and what the table says of it."""
    made = altered(setting.inputs, Changed(run=setting.vent, straight=length))
    rates = tuple(_rate(setting, case) for case in cases_by_rate(made, setting.appliance))
    return BenchStep(length=length, rates=rates, table=_judged(setting, length))


def _rate(setting: BenchSetting, case: FanCase) -> BenchRate:
    points = {ADAPTIVE: case.adapting()}
    if len(setting.speeds) > 1:
        points[TWO_SPEED] = case.at_speed(setting.speeds[case.rate])
    points[FIXED] = case.at_speed(setting.fixed_speed)
    shown = {kind: _shown(point) for kind, point in points.items()}
    return BenchRate(rate=case.rate, vent=case.sought[1].vent, points=shown)


def _shown(point: FanPoint) -> FanPoint:
    """A point without the figures of a flame that is out."""
    return point if point.burns else FanPoint(speed=point.speed, why=point.why)


def _judged(setting: BenchSetting, length: float) -> TableSays:
    """The verdict on the vent at a length [m], by the check of the job itself."""
    changed = altered(setting.job, Changed(run=setting.vent, straight=length))
    found = next(run for run in check(changed).runs if run.run.name == setting.vent)
    return TableSays(
        verdict=found.verdict,
        decides=found.decides,
        allowable=None if found.table is None else found.table.allowable_length,
        counted=None if found.table is None else found.table.equivalent_length,
        margin=found.margin,
    )


def bench(inputs: Inputs, *, step: float = STEP, count: int = 12, **setting: Any) -> Bench:
    """All that is watched on the bench: `run_bench` of what `set_up` makes ready of the other arguments."""
    return run_bench(set_up(inputs, **setting), step=step, count=count)


def run_bench(setting: BenchSetting, *, step: float = STEP, count: int = 12) -> Bench:
    """The vent as it is, and so many steps longer [m], and what was to be seen.

    Raises InputError for steps that cannot be.
    """
    if not step > 0.0 or not 1 <= count <= MOST_STEPS:
        problem = f"{count} steps of {step:g} m"
        raise InputError(Problem(setting.job.file, "", problem, f"1 to {MOST_STEPS} steps of more than nothing"))
    return watched(setting, tuple(step_at(setting, setting.start + number * step) for number in range(count + 1)))


def power_cut(setting: BenchSetting, length: float) -> StartUp:
    """The vent made this long [m] since the one that adapts learned its speeds; then the power is cut, and it starts.

    Raises InputError as `start_up` does.
    """
    before, now = (altered(setting.inputs, Changed(run=setting.vent, straight=at)) for at in (setting.start, length))
    return start_up(now, appliance=setting.appliance, learned_on=before)


def watched(setting: BenchSetting, seen: tuple[BenchStep, ...]) -> Bench:
    """The steps seen so far, with what there is to say of them."""
    cases = cases_by_rate(setting.inputs, setting.appliance)
    cautions = [f for f in fan_cautions(cases) if f.code != "inducer-relearns"]
    cautions += [Finding("bench-no-permit"), Finding("bench-find-out-why")]
    rates = tuple(RateSetting(name=c.rate, switch=c.opens, excess_air=c.sought[0], air_at_switch=c.air_at(c.opens),
                              speed=setting.speeds[c.rate]) for c in cases)  # fmt: skip
    return Bench(
        appliance=setting.appliance,
        rates=rates,
        fixed_speed=setting.fixed_speed,
        curve=fan_curves(cases)[0],
        steps=seen,
        findings=tuple(Finding(code, Where(appliance=setting.appliance, rate=rate), values)
                       for code, rate, values in _findings(setting, rates, seen)),
        cautions=tuple(dict.fromkeys(cautions)),
    )  # fmt: skip


Told = tuple[str, str | None, Mapping[str, Value]]


def _findings(setting: BenchSetting, rates: tuple[RateSetting, ...], seen: tuple[BenchStep, ...]) -> Iterator[Told]:
    yield from _of_the_table(seen)
    for at, rate in enumerate(rates):
        if rate.air_at_switch is not None and rate.air_at_switch < rate.excess_air:
            values = {"set": share(rate.excess_air), "air": share(rate.air_at_switch), "little": share(LITTLE_AIR)}
            yield "bench-air-at-switch", rate.name, values
        alike = rate.speed == setting.fixed_speed
        yield from _of_a_rate(rate.name, [(step.length, step.rates[at].points) for step in seen], alike=alike)
    yield from _one_rate_out(seen)
    if setting.fixed_speed == 1.0:
        yield "bench-one-fan", None, {}


def _of_a_rate(rate: str, seen: list[tuple[float, Mapping[str, FanPoint]]], *, alike: bool) -> Iterator[Told]:
    """How each inducer fares at one rate. alike: whether two speeds come to the fixed one there."""
    held = [(at, points[ADAPTIVE]) for at, points in seen if points[ADAPTIVE].burns and points[ADAPTIVE].speed < 1.0]
    if len(held) > 1:
        (start, slow), (end, fast) = held[0], held[-1]
        speeds: dict[str, Value] = {
            "slow": share(slow.speed),
            "fast": share(fast.speed),
        }
        yield "bench-adapts", rate, {"start": length(start), "end": length(end), **speeds}
    for kind in seen[0][1]:
        if kind == TWO_SPEED and alike:
            continue
        points = [(at, each[kind]) for at, each in seen]
        burning = [(at, point.excess_air) for at, point in points if point.excess_air is not None]
        if kind != ADAPTIVE and len(burning) > 1:
            (_, most), (end, least) = burning[0], burning[-1]
            values: dict[str, Value] = {"most": share(most), "least": share(least), "end": length(end)}
            yield "bench-loses-air", rate, {"kind": kind, "speed": share(points[0][1].speed), **values}
        if burning and burning[-1][1] < LITTLE_AIR:
            at = next(at for at, air in burning if air < LITTLE_AIR)
            yield "bench-little-air", rate, {"kind": kind, "at": length(at), "air": share(burning[-1][1])}
        out = next((at for at, point in points if not point.burns), None)
        code = "bench-burns" if out is None else "bench-never-burns" if out == seen[0][0] else "bench-goes-out"
        yield code, rate, {"kind": kind, "at": length(seen[-1][0] if out is None else out)}


def _one_rate_out(seen: tuple[BenchStep, ...]) -> Iterator[Told]:
    """Where the switch of one rate has opened and the same inducer still runs at another."""
    for kind in seen[0].rates[0].points:
        for step in seen:
            out = [rate.rate for rate in step.rates if not rate.points[kind].burns]
            on = [rate.rate for rate in step.rates if rate.points[kind].burns]
            if out and on:
                yield "bench-one-rate-out", None, {"kind": kind, "at": length(step.length), "out": out[0], "on": on[0]}
                break


def _of_the_table(seen: tuple[BenchStep, ...]) -> Iterator[Told]:
    """How far the table goes, and what the switches make of a vent beyond it."""
    first = seen[0].table
    if first.allowable is not None:
        yield "bench-table-allows", None, {"allowable": length(first.allowable)}
    for verdict, group in groupby(seen, key=lambda s: s.table.verdict):
        same = list(group)
        values = {"verdict": verdict, "start": length(same[0].length), "end": length(same[-1].length)}
        yield "bench-by-table", None, values
    outside = [s for s in seen if s.table.verdict != "within" and s.burns]
    if outside:
        last = outside[-1]
        values = {"length": length(last.length), "verdict": last.table.verdict}
        yield "bench-burns-outside-table", None, values
