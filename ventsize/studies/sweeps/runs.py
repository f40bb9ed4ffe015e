"""A whole run with one condition changed: flow, altitude, elbows; and pipe flow about the step to turbulence."""

from __future__ import annotations

import math
from dataclasses import replace

from ventsize.catalog.records import same_size
from ventsize.finding import Finding, Value, Where, length, pressure, share
from ventsize.flow.friction import LAMINAR_LIMIT, TURBULENT_LIMIT, friction_factor
from ventsize.gas.derating import SOURCE, derated_inputs
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension
from ventsize.studies.headroom import headroom
from ventsize.studies.sweeps.elbows import TURNS
from ventsize.studies.sweeps.model import Axis, Here, Point, Series, Sweep
from ventsize.studies.sweeps.subject import Subject, scaled

PRESSURE = Axis(title="pressure drop of the run", dimension=Dimension.PRESSURE)
FLOW = Axis(title="flow of gas", dimension=Dimension.VOLUME_FLOW)
HIGHEST = 3048.0  # of the altitudes swept, 10,000 ft [m]
MOST_ELBOWS = 10
NEARLY_SQUARE = 1.5  # power of the flow from which a loss is called nearly the square
MORE_GAS = 0.002  # of the mass flow; less is no vapor to speak of


def drop_by_flow(subject: Subject) -> Sweep:
    """The run's loss at inputs from a twentieth to one and a fifth of the rate's."""
    own = subject.rate.flow
    swept = [subject.again(scaled(subject.job, n / 20)).rate.flow for n in range(1, 25)]
    flows = [flow.stream.volume_flow for flow in swept]
    square = own.pressure_drop / own.stream.volume_flow**2
    half = subject.again(scaled(subject.job, 0.5)).rate
    power = math.log(own.pressure_drop / half.flow.pressure_drop) / math.log(2.0)
    crossed = half.reference.reynolds < LAMINAR_LIMIT <= subject.rate.reference.reynolds
    values: dict[str, Value] = {
        "rate": subject.rate.name,
        "half": pressure(half.flow.pressure_drop),
        "whole": pressure(own.pressure_drop),
        "share": share(half.flow.pressure_drop / own.pressure_drop),
        "power": power,
        "low": pressure(own.pressure_drop_low),
        "high": pressure(own.pressure_drop_high),
    }
    nearly = "sweep-flow-square" if power >= NEARLY_SQUARE else "sweep-flow-less"
    notice = (
        Finding("sweep-flow-laminar" if crossed else nearly, values=values),
        Finding("sweep-flow-band", values=values),
    )
    series = (
        Series(name="by calculation", points=tuple(zip(flows, [f.pressure_drop for f in swept], strict=True))),
        Series(name="low end", points=tuple(zip(flows, [f.pressure_drop_low for f in swept], strict=True))),
        Series(name="high end", points=tuple(zip(flows, [f.pressure_drop_high for f in swept], strict=True))),
        Series(name="the plain square", points=tuple((q, square * q * q) for q in flows), beside=True),
    )
    return subject.sweep(
        "drop-by-flow",
        across=FLOW,
        up=PRESSURE,
        series=series,
        here=tuple(Here(name=r.name, at=r.flow.stream.volume_flow) for r in subject.run.rates),
        notice=notice,
        cautions=(Finding("sweep-held"),),
    )


def drop_by_altitude(subject: Subject) -> Sweep:
    """The same input from sea level to 10,000 ft, and inputs derated by either reading of the code clause."""
    lines: dict[str, list[Point]] = {"same input": [], "derated, whole altitude": [], "derated, part above": []}
    swept: list[Subject] = []
    for altitude in (HIGHEST * n / 40 for n in range(41)):
        job = replace(subject.job, site=replace(subject.job.site, altitude=altitude))
        derated = derated_inputs(input=1.0, altitude=altitude)
        shares = (1.0, *((derated.whole_altitude, derated.part_above) if derated else (1.0, 1.0)))
        for at, (points, part) in enumerate(zip(lines.values(), shares, strict=True)):
            there = subject.again(scaled(job, part))
            points.append((altitude, there.rate.flow.pressure_drop))
            swept += [there] if at == 0 else []
    low, high = (swept[end].stream for end in (0, -1))
    bottom, top, whole, part = (lines[n][end][1] for n, end in [("same input", 0), *((n, -1) for n in lines)])
    values: dict[str, Value] = {
        "altitude": length(HIGHEST),
        "bottom": pressure(bottom),
        "top": pressure(top),
        "times": top / bottom,
        "thinner": low.density / high.density,
        "more_gas": share(high.mass_flow / low.mass_flow - 1.0),
        "whole": pressure(whole),
        "part": pressure(part),
        "source": SOURCE,
    }
    vapor = high.mass_flow / low.mass_flow - 1.0 > MORE_GAS
    here = () if subject.job.site.altitude is None else (Here(name="this job", at=subject.job.site.altitude),)
    return subject.sweep(
        "drop-by-altitude",
        across=Axis(title="altitude", dimension=Dimension.LENGTH, style="altitude"),
        up=PRESSURE,
        series=tuple(Series(name=name, points=tuple(points)) for name, points in lines.items()),
        here=here,
        notice=(
            Finding("sweep-altitude-vapor" if vapor else "sweep-altitude-thin", values=values),
            Finding("sweep-altitude-derated", values=values),
        ),
        cautions=(Finding("sweep-bands"),),
    )


def length_by_elbows(subject: Subject) -> Sweep:
    """The straight pipe that a fixed budget of pressure leaves, by number of elbows of each kind."""
    gradient = subject.rate.reference.gradient
    budget = subject.rate.budget_pressure
    code = "sweep-budget" if budget is not None else "sweep-budget-of-the-run"
    budget = subject.rate.flow.pressure_drop if budget is None else budget
    catalog = subject.inputs.catalog.fittings
    others = math.fsum(
        p.pressure_drop for p in subject.rate.flow.pieces if not p.piece.is_pipe and p.piece.kind != "elbow"
    )
    names = list(dict.fromkeys((subject.fitting.name, *(n for n in TURNS if n in catalog))))
    each = {name: subject.worth(record=catalog[name]).nominal for name in names}
    lines = {}
    for name in names:
        left = [(budget - others) / gradient - each[name] * count for count in range(MOST_ELBOWS + 1)]
        lines[name] = tuple((float(n), rest) for n, rest in enumerate(left) if rest >= 0.0)
    series = [Series(name=name, points=points) for name, points in lines.items() if points]
    if not series:
        problem = "the budget is used up by the run's other fittings"
        raise InputError(Problem(subject.inputs.file, f"run '{subject.run.run.name}'", problem, "a larger budget"))
    table = _by_table(subject)
    elbows = sum(1 for p in subject.run.run.pieces if p.kind == "elbow")
    return subject.sweep(
        "length-by-elbows",
        across=Axis(title="elbows"),
        up=Axis(title="straight pipe left", dimension=Dimension.LENGTH),
        series=(*series, table) if table else tuple(series),
        here=(Here(name="this run", at=float(elbows)),),
        notice=(
            Finding(code, values={"budget": pressure(budget), "rate": subject.rate.name}),
            *(Finding("sweep-elbow-takes", values={"fitting": n, "length": length(feet)}) for n, feet in each.items()),
            Finding("sweep-elbows-even"),
        ),
    )


def _by_table(subject: Subject) -> Series | None:
    """What the table leaves for the run's own elbow."""
    for answer in headroom(subject.inputs, elbow=subject.fitting.name):
        for line in answer.lines:
            if answer.run == subject.run.run.name and same_size(line.size, subject.section.nominal):
                shown = [p for p in line.points if p.elbows <= MOST_ELBOWS]
                points = tuple((float(p.elbows), p.by_table) for p in shown if p.by_table is not None)
                return Series(name=f"the table, {answer.elbow}", points=points, beside=True) if points else None
    return None


def laminar_turbulent(subject: Subject) -> Sweep:
    """The friction factor from slow to fast flow, and where the job's rates are."""
    rough = subject.section.roughness / subject.section.bore
    rates = [(r.name, r.flow.at(subject.section).reynolds) for r in subject.run.rates]
    moving = [(name, reynolds) for name, reynolds in rates if reynolds]
    fastest = max(8000.0, *(1.05 * reynolds for _, reynolds in moving))
    numbers = [500.0 * (fastest / 500.0) ** (n / 80) for n in range(81)]
    below = [x for x in numbers if x < LAMINAR_LIMIT] + [LAMINAR_LIMIT * (1.0 - 1e-9)]
    above = [LAMINAR_LIMIT] + [x for x in numbers if x > LAMINAR_LIMIT]
    figured = [(x, friction_factor(reynolds=x, relative_roughness=rough)) for x in (*below, *above)]
    carried_on = [(x, 64.0 / x) for x in above if x <= TURBULENT_LIMIT]
    least, most = figured[len(below) - 1][1], figured[len(below)][1]
    step: dict[str, Value] = {
        "reynolds": LAMINAR_LIMIT,
        "least": least,
        "most": most,
        "more": share(most / least - 1.0),
    }
    return subject.sweep(
        "laminar-turbulent",
        across=Axis(title="Reynolds number"),
        up=Axis(title="friction factor"),
        series=(
            Series(name="as figured", points=tuple(figured)),
            Series(name="laminar carried on", points=tuple(carried_on), beside=True),
        ),
        here=tuple(Here(name=name, at=reynolds) for name, reynolds in moving),
        unsure=(LAMINAR_LIMIT, TURBULENT_LIMIT),
        notice=(Finding("sweep-step", values=step), *(_regime(*one) for one in moving)),
    )


def _regime(rate: str, reynolds: float) -> Finding:
    sure = "sweep-rate-laminar" if reynolds < LAMINAR_LIMIT else "sweep-rate-turbulent"
    code = "sweep-rate-unsure" if LAMINAR_LIMIT <= reynolds < TURBULENT_LIMIT else sure
    return Finding(code, Where(rate=rate), {"reynolds": reynolds})
