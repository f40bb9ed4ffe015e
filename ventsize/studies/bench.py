"""An inducer on a bench: the vent made longer step by step, one that adapts beside one of fixed speed.

Both have the same fan. The one that adapts turns as fast as it must to hold its flow, up to its top speed, and from
there on does what a fan at top speed does. The one of fixed speed turns always the same, at top speed or at a share
of it: by the affinity laws its curve is then the fan's at q/s, times s².
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from ventsize.check.inputs import Inputs, prepare
from ventsize.check.verdict import check
from ventsize.finding import Outcome, Verdict
from ventsize.jobfile.document import nearest
from ventsize.jobfile.job import Appliance, Job
from ventsize.jobfile.lesson import Changed
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import System, show_feet, show_fraction, show_length
from ventsize.studies.altering.altered import altered
from ventsize.studies.inducer import FixedSpeed, InducerRate, inducer_study

STEP = 3.048  # 10 ft [m]
MOST_STEPS = 60
HOLDS = 1e-6  # of the switch's setting
NO_INDUCER = (
    "an [appliance.inducer] table (on the screens: D at the question 'The inducer'); the demonstrations "
    "long-run-adaptive.toml and long-run-fixed-speed.toml have one"
)
NO_PERMIT = "A closed switch is no permit"


@dataclass(frozen=True, slots=True, kw_only=True)
class Turning:
    """One inducer at one length of vent.

    speed: share of top speed [-]. flow: of flue gas [m³/s]; excess_air it leaves the flame [-]; drop: across the heat
    exchanger, which the switch feels [Pa]; None where the fan finds no point, and `reason` says why.
    holds: whether the switch stays closed.
    """

    speed: float
    flow: float | None
    excess_air: float | None
    drop: float | None
    holds: bool
    reason: str = ""


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
class BenchStep:
    """The vent with so much straight pipe in all [m]. vent: the head that pushes the gas through it [Pa]."""

    length: float
    vent: float
    adaptive: Turning
    fixed: Turning
    table: TableSays


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What was watched on the bench, in words: for `findings`, and with what it rests on."""

    appliance: str
    rate: str
    switch: float
    excess_air: float
    fixed_speed: float
    curve: str
    steps: tuple[BenchStep, ...]
    findings: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def straight_allowed(self) -> float | None:
        """The straight pipe with which this vent comes to the table's allowance [m]; None where it gives no length."""
        first = self.steps[0]
        return None if first.table.margin is None else first.length + first.table.margin


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchSetting:
    """What stands on the bench: an appliance with its inducer, at one rate, and the fixed speed beside it.

    job: as it was given, for the table, which is asked at its highest rate whatever rate is on the bench.
    start: straight pipe of the vent at the first step [m].
    """

    job: Inputs
    inputs: Inputs
    appliance: str
    rate: str
    vent: str
    start: float
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

    appliance: by name; the first that has its inducer described. rate: by name; its highest.
    start: straight pipe of the vent to begin with; what the job has [m].
    fixed_speed: of the inducer beside it, as a share of top speed; the least whole percent that does at the start [-]

    Raises InputError where no inducer is described, for a name that is not there, and for a speed that cannot be.
    """
    if fixed_speed is not None and not 0.2 <= fixed_speed <= 1.0:
        raise InputError(Problem(inputs.file, "", f"a fixed speed of {fixed_speed:.0%}", "20 % to 100 % of top speed"))
    described = [a for a in inputs.job.appliances if a.inducer is not None]
    if not described:
        raise InputError(Problem(inputs.file, "", "no appliance has an inducer described", NO_INDUCER))
    chosen = _by_name(described, appliance, "appliance", inputs)
    highest = max(chosen.rates, key=lambda r: r.input).name
    at = rate or highest
    if at not in [r.name for r in chosen.rates]:
        known = [r.name for r in chosen.rates]
        raise InputError(
            Problem(inputs.file, f"appliance '{chosen.name}'", f"there is no rate '{at}'", nearest(at, known))
        )
    vents = [r.name for r in inputs.graph.runs_at(chosen.name) if r.carries == "flue gas"]
    if not vents:
        raise InputError(Problem(inputs.file, f"appliance '{chosen.name}'", "it has no vent to lengthen", "a vent"))
    alone = _alone(inputs.job, chosen, at)
    ready = prepare(alone, file=inputs.file, tables=inputs.tables)
    begin = ready.graph.runs[vents[0]].straight_length if start is None else start
    if fixed_speed is None:
        needed = _rate(altered(ready, Changed(run=vents[0], straight=begin))).speed
        fixed_speed = 1.0 if needed is None else min(1.0, math.ceil(needed * 100.0) / 100.0)
    return BenchSetting(
        job=inputs, inputs=ready, appliance=chosen.name, rate=at, vent=vents[0], start=begin, fixed_speed=fixed_speed
    )


def _by_name(appliances: list[Appliance], name: str | None, what: str, inputs: Inputs) -> Appliance:
    if name is None:
        return appliances[0]
    found = next((a for a in appliances if a.name == name), None)
    if found is None:
        known = [a.name for a in appliances]
        raise InputError(Problem(inputs.file, "", f"no {what} '{name}' has an inducer", nearest(name, known)))
    return found


def _alone(job: Job, chosen: Appliance, rate: str) -> Job:
    """The job with this one rate of the appliance."""
    assert chosen.inducer is not None
    inducer = replace(chosen.inducer, switch={rate: chosen.inducer.switch[rate]}, adaptive=True)
    made = replace(chosen, rates=tuple(r for r in chosen.rates if r.name == rate), inducer=inducer)
    appliances = tuple(made if a.name == chosen.name else replace(a, inducer=None) for a in job.appliances)
    return replace(job, appliances=appliances, lesson=None)


def step_at(setting: BenchSetting, length: float) -> BenchStep:
    """Both inducers on a vent of so much straight pipe in all [m], and what the table says of it.

    system: of units, for the table's reason.
    """
    longer = altered(setting.inputs, Changed(run=setting.vent, straight=length))
    own = _rate(longer)
    nominal = _excess_air(longer, setting)
    beside = own if setting.fixed_speed == 1.0 else _rate(_turned_down(longer, setting))
    return BenchStep(
        length=length,
        vent=own.vent,
        adaptive=_adaptive(own, nominal),
        fixed=_turning(beside.fixed, setting.fixed_speed),
        table=_judged(setting, length),
    )


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


def _rate(inputs: Inputs) -> InducerRate:
    """The rate of the one inducer; with several appliances, that at which all fire."""
    return inducer_study(inputs).rates[0]


def _excess_air(inputs: Inputs, setting: BenchSetting) -> float:
    from ventsize.check.appliances import appliance_gases, surroundings

    gases = appliance_gases(inputs, surroundings(inputs))
    return next(a for a in gases if a.name == setting.appliance).rates[0].gas.excess_air


def _turned_down(inputs: Inputs, setting: BenchSetting) -> Inputs:
    """The same with the fan's curve at the fixed speed."""
    s = setting.fixed_speed
    appliances = tuple(
        a
        if a.inducer is None
        else replace(a, inducer=replace(a.inducer, curve=tuple((q * s, h * s * s) for q, h in a.inducer.curve)))
        for a in inputs.job.appliances
    )
    return replace(inputs, job=replace(inputs.job, appliances=appliances))


def _adaptive(own: InducerRate, excess_air: float) -> Turning:
    if own.speed is not None and own.speed <= 1.0:
        return Turning(speed=own.speed, flow=own.flow, excess_air=excess_air, drop=own.switch, holds=True)
    return _turning(own.fixed, 1.0)


def _turning(fixed: FixedSpeed, speed: float) -> Turning:
    return Turning(
        speed=speed,
        flow=fixed.flow,
        excess_air=fixed.excess_air,
        drop=fixed.exchanger_drop,
        holds=bool(fixed.switch_holds),
        reason=fixed.reason.replace("at top speed", f"at {speed:.0%} of top speed"),
    )


def steps(setting: BenchSetting, *, step: float = STEP, count: int = 12) -> Iterator[BenchStep]:
    """The vent as it is, and step by step longer [m]."""
    for number in range(count + 1):
        yield step_at(setting, setting.start + number * step)


def bench(
    inputs: Inputs,
    *,
    appliance: str | None = None,
    rate: str | None = None,
    start: float | None = None,
    fixed_speed: float | None = None,
    step: float = STEP,
    count: int = 12,
    system: System = System.US,
) -> Bench:
    """All that is watched on the bench. Arguments as for `set_up` and `steps`.

    Raises InputError as `set_up` does, and for steps that cannot be.
    """
    if not step > 0.0 or not 1 <= count <= MOST_STEPS:
        problem = f"{count} steps of {step:g} m"
        raise InputError(Problem(inputs.file, "", problem, f"1 to {MOST_STEPS} steps of more than nothing"))
    setting = set_up(inputs, appliance=appliance, rate=rate, start=start, fixed_speed=fixed_speed)
    return watched(setting, tuple(steps(setting, step=step, count=count)), system)


def watched(setting: BenchSetting, seen: tuple[BenchStep, ...], system: System) -> Bench:
    """The steps seen so far, with what there is to say of them."""
    fan = next(a.inducer for a in setting.inputs.job.appliances if a.name == setting.appliance)
    assert fan is not None
    return Bench(
        appliance=setting.appliance,
        rate=setting.rate,
        switch=fan.switch[setting.rate],
        excess_air=_excess_air(setting.inputs, setting),
        fixed_speed=setting.fixed_speed,
        curve=f"example curve: {fan.source}" if fan.example else fan.source,
        steps=seen,
        findings=tuple(_findings(setting, seen, system)),
        cautions=(
            "the fan's curve is taken as it stands for the gas that passes it; the switch feels the drop across the "
            "heat exchanger, which is taken to go with the square of the flow",
            f"{NO_PERMIT}: the switch proves that enough flows at this moment, and the table decides whether the vent "
            "may be so long",
            "when an appliance has stopped on its switch it must be found out why: a longer vent is only one reason",
        ),
    )


def _findings(setting: BenchSetting, seen: tuple[BenchStep, ...], system: System) -> Iterator[str]:
    first, last = seen[0], seen[-1]
    yield from _of_the_table(seen, system)
    held = [s for s in seen if s.adaptive.holds and s.adaptive.speed < 1.0]
    if len(held) > 1:
        yield (
            f"The one that adapts holds its flow from {show_feet(held[0].length, system)} to "
            f"{show_feet(held[-1].length, system)} of vent by turning faster: {held[0].adaptive.speed:.0%} to "
            f"{held[-1].adaptive.speed:.0%} of top speed. The flame does not notice."
        )
    moving = [s for s in seen if s.fixed.excess_air is not None]
    if len(moving) > 1:
        most, least = (show_fraction(round(s.fixed.excess_air or 0.0, 3)) for s in (moving[0], moving[-1]))
        yield (
            f"The one of fixed speed, {setting.fixed_speed:.0%} of top speed, loses flow with every step: excess air "
            f"from {most} to {least} at {show_feet(moving[-1].length, system)}."
        )
    for name, holds in (
        ("adapts", [s.adaptive.holds for s in seen]),
        ("has a fixed speed", [s.fixed.holds for s in seen]),
    ):
        if all(holds):
            yield f"The switch of the one that {name} stays closed up to {show_feet(last.length, system)}."
        elif not holds[0]:
            yield f"The switch of the one that {name} is open from the start, {show_feet(first.length, system)}."
        else:
            yield f"The switch of the one that {name} opens by {show_feet(seen[holds.index(False)].length, system)}."
    if setting.fixed_speed == 1.0:
        yield (
            "Both fans are one: from the length on at which the one that adapts has come to its top speed, the two do "
            "the same, and their switches open together."
        )


def _of_the_table(seen: tuple[BenchStep, ...], system: System) -> Iterator[str]:
    """How far the table goes, and what the switches make of a vent beyond it."""
    first = seen[0].table
    allows = "" if first.allowable is None else f"The table allows {show_length(first.allowable, system)}. "
    stretches = [(verdict, list(group)) for verdict, group in groupby(seen, key=lambda s: s.table.verdict)]
    told = (
        f"{verdict if verdict == 'within' else verdict.upper()} {_stretch(group, system)}"
        for verdict, group in stretches
    )
    yield f"{allows}The vent by the table: {', '.join(told)} of straight pipe."
    outside = [s for s in seen if s.table.verdict != "within"]
    closed = [s for s in outside if s.adaptive.holds or s.fixed.holds]
    if closed:
        yield (
            f"{NO_PERMIT}: with {show_feet(closed[-1].length, system)} of straight pipe a switch still is closed, and "
            f"the table says {closed[-1].table.verdict.upper()}."
        )


def _stretch(group: list[BenchStep], system: System) -> str:
    if len(group) == 1:
        return f"at {show_feet(group[0].length, system)}"
    return f"from {show_feet(group[0].length, system)} to {show_feet(group[-1].length, system)}"
