"""An inducer on a bench: the vent made longer step by step, one that adapts beside one of fixed speed.

Both have the same fan. The one that adapts turns as fast as it must to hold its flow, up to its top speed, and from
there on does what a fan at top speed does. The one of fixed speed turns always the same. Where the switch opens or
the air does not suffice, the burner is out, and there are no figures of a flame.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from ventsize.check.inputs import Inputs, prepare
from ventsize.check.verdict import check
from ventsize.finding import Finding, Outcome, Value, Verdict, Where, length, share
from ventsize.jobfile.document import nearest
from ventsize.jobfile.job import Appliance, Job
from ventsize.jobfile.lesson import Changed
from ventsize.jobfile.problems import InputError, Problem
from ventsize.studies.altering.altered import altered
from ventsize.studies.fan import FanCase, FanPoint, fan_cases
from ventsize.studies.inducer import FanCurve, fan_cautions, fan_curves

STEP = 3.048  # 10 ft [m]
MOST_STEPS = 60
NO_INDUCER = (
    "an [appliance.inducer] table (on the screens: D at the question 'The inducer'); the demonstrations "
    "long-run-adaptive.toml and long-run-fixed-speed.toml have one"
)


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
    """The vent with so much straight pipe in all [m].

    vent: the head that pushes the gas through it [Pa]. adaptive, fixed: without figures where the burner is out.
    """

    length: float
    vent: float
    adaptive: FanPoint
    fixed: FanPoint
    table: TableSays


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What was watched on the bench. switch: where it opens [Pa]; cautions: what it rests on."""

    appliance: str
    rate: str
    switch: float
    excess_air: float
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
    chosen = _by_name(described, appliance, inputs)
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
        needed = _case(altered(ready, Changed(run=vents[0], straight=begin))).speed
        fixed_speed = 1.0 if needed is None else min(1.0, math.ceil(needed * 100.0) / 100.0)
    return BenchSetting(
        job=inputs, inputs=ready, appliance=chosen.name, rate=at, vent=vents[0], start=begin, fixed_speed=fixed_speed
    )


def _by_name(appliances: list[Appliance], name: str | None, inputs: Inputs) -> Appliance:
    if name is None:
        return appliances[0]
    found = next((a for a in appliances if a.name == name), None)
    if found is None:
        known = [a.name for a in appliances]
        raise InputError(Problem(inputs.file, "", f"no appliance '{name}' has an inducer", nearest(name, known)))
    return found


def _alone(job: Job, chosen: Appliance, rate: str) -> Job:
    """The job with this one rate of the appliance."""
    assert chosen.inducer is not None
    inducer = replace(chosen.inducer, switch={rate: chosen.inducer.switch[rate]}, adaptive=True, speeds={})
    made = replace(chosen, rates=tuple(r for r in chosen.rates if r.name == rate), inducer=inducer)
    appliances = tuple(made if a.name == chosen.name else replace(a, inducer=None) for a in job.appliances)
    return replace(job, appliances=appliances, lesson=None)


def step_at(setting: BenchSetting, length: float) -> BenchStep:
    """Both inducers on a vent of so much straight pipe in all [m], and what the table says of it."""
    case = _case(altered(setting.inputs, Changed(run=setting.vent, straight=length)))
    return BenchStep(
        length=length,
        vent=case.sought[1].vent,
        adaptive=_shown(case.adapting()),
        fixed=_shown(case.at_speed(setting.fixed_speed)),
        table=_judged(setting, length),
    )


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


def _case(inputs: Inputs) -> FanCase:
    """The one inducer at its rate; with several appliances, the first combination in which it fires."""
    return fan_cases(inputs)[0]


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
) -> Bench:
    """All that is watched on the bench. Arguments as for `set_up` and `steps`.

    Raises InputError as `set_up` does, and for steps that cannot be.
    """
    if not step > 0.0 or not 1 <= count <= MOST_STEPS:
        problem = f"{count} steps of {step:g} m"
        raise InputError(Problem(inputs.file, "", problem, f"1 to {MOST_STEPS} steps of more than nothing"))
    setting = set_up(inputs, appliance=appliance, rate=rate, start=start, fixed_speed=fixed_speed)
    return watched(setting, tuple(steps(setting, step=step, count=count)))


def watched(setting: BenchSetting, seen: tuple[BenchStep, ...]) -> Bench:
    """The steps seen so far, with what there is to say of them."""
    case = _case(setting.inputs)
    where = Where(appliance=setting.appliance, rate=setting.rate)
    cautions = [f for f in fan_cautions([case]) if f.code != "inducer-relearns"]
    cautions += [Finding("bench-no-permit"), Finding("bench-find-out-why")]
    return Bench(
        appliance=setting.appliance,
        rate=setting.rate,
        switch=case.opens,
        excess_air=case.sought[0],
        fixed_speed=setting.fixed_speed,
        curve=fan_curves([case])[0],
        steps=seen,
        findings=tuple(Finding(code, where, values) for code, values in _findings(setting, seen)),
        cautions=tuple(cautions),
    )


Told = tuple[str, Mapping[str, Value]]


def _findings(setting: BenchSetting, seen: tuple[BenchStep, ...]) -> Iterator[Told]:
    first, last = seen[0], seen[-1]
    yield from _of_the_table(seen)
    held = [s for s in seen if s.adaptive.burns and s.adaptive.speed < 1.0]
    if len(held) > 1:
        yield (
            "bench-adapts",
            {
                "start": length(held[0].length),
                "end": length(held[-1].length),
                "slow": share(held[0].adaptive.speed),
                "fast": share(held[-1].adaptive.speed),
            },
        )
    burning = [(s.length, s.fixed.excess_air) for s in seen if s.fixed.excess_air is not None]
    if len(burning) > 1:
        yield (
            "bench-loses-air",
            {
                "speed": share(setting.fixed_speed),
                "most": share(burning[0][1]),
                "least": share(burning[-1][1]),
                "end": length(burning[-1][0]),
            },
        )
    for which, burns in (("adaptive", [s.adaptive.burns for s in seen]), ("fixed", [s.fixed.burns for s in seen])):
        if all(burns):
            yield f"bench-{which}-burns", {"end": length(last.length)}
        elif not burns[0]:
            yield f"bench-{which}-never-burns", {"start": length(first.length)}
        else:
            yield f"bench-{which}-goes-out", {"at": length(seen[burns.index(False)].length)}
    if setting.fixed_speed == 1.0:
        yield "bench-one-fan", {}


def _of_the_table(seen: tuple[BenchStep, ...]) -> Iterator[Told]:
    """How far the table goes, and what the switches make of a vent beyond it."""
    first = seen[0].table
    if first.allowable is not None:
        yield "bench-table-allows", {"allowable": length(first.allowable)}
    for verdict, group in groupby(seen, key=lambda s: s.table.verdict):
        same = list(group)
        yield (
            "bench-by-table",
            {
                "verdict": verdict,
                "start": length(same[0].length),
                "end": length(same[-1].length),
            },
        )
    outside = [s for s in seen if s.table.verdict != "within" and (s.adaptive.burns or s.fixed.burns)]
    if outside:
        last = outside[-1]
        yield "bench-burns-outside-table", {"length": length(last.length), "verdict": last.table.verdict}
