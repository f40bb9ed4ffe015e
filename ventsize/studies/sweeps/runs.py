"""A whole run with one condition changed: flow, altitude, elbows; and pipe flow about the step to turbulence."""

from __future__ import annotations

import math
from dataclasses import replace

from ventsize.catalog.records import same_size
from ventsize.flow.friction import LAMINAR_LIMIT, TURBULENT_LIMIT, friction_factor
from ventsize.gas.derating import SOURCE, derated_inputs
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension, show_feet, show_pressure
from ventsize.studies.headroom import headroom
from ventsize.studies.sweeps.model import Axis, Here, Point, Series, Sweep
from ventsize.studies.sweeps.subject import Subject, scaled

PRESSURE = Axis(title="pressure drop of the run", dimension=Dimension.PRESSURE)
FLOW = Axis(title="flow of gas", dimension=Dimension.VOLUME_FLOW)
HIGHEST = 3048.0  # of the altitudes swept, 10,000 ft [m]
MOST_ELBOWS = 10
TURNS = ("elbow-90-long", "elbow-90-short", "elbow-90-mitered")
WHY_UNSURE = (
    "between Reynolds numbers 2040 and 4000 the flow may be laminar or turbulent, or swing between the two: nobody "
    "can say for sure"
)


def drop_by_flow(subject: Subject) -> Sweep:
    """The run's loss at inputs from a twentieth to one and a fifth of the rate's."""
    own, system = subject.rate.flow, subject.system
    found = [subject.again(scaled(subject.job, n / 20)).rate.flow for n in range(1, 25)]
    flows = [flow.stream.volume_flow for flow in found]
    square = own.pressure_drop / own.stream.volume_flow**2
    half = subject.again(scaled(subject.job, 0.5)).rate.flow.pressure_drop
    power = math.log(own.pressure_drop / half) / math.log(2.0)
    notice = [
        f"At half of the flow of {subject.rate.name} the run loses {show_pressure(half, system)} instead of "
        f"{show_pressure(own.pressure_drop, system)}: {half / own.pressure_drop:.0%} of it. The loss goes about with "
        f"the flow to the power of {power:.2f}, which is why low fire is easy and high fire is what a vent is judged "
        "at.",
        f"At {subject.rate.name} nine in ten such runs lose between {show_pressure(own.pressure_drop_low, system)} and "
        f"{show_pressure(own.pressure_drop_high, system)}; dashed is the plain square.",
    ]
    series = (
        Series(name="by calculation", points=tuple(zip(flows, [f.pressure_drop for f in found], strict=True))),
        Series(name="low end", points=tuple(zip(flows, [f.pressure_drop_low for f in found], strict=True))),
        Series(name="high end", points=tuple(zip(flows, [f.pressure_drop_high for f in found], strict=True))),
        Series(name="the plain square", points=tuple((q, square * q * q) for q in flows), beside=True),
    )
    return Sweep(
        kind="drop-by-flow",
        title=f"Pressure drop of {subject.run.run.name} by flow",
        across=FLOW,
        up=PRESSURE,
        series=series,
        here=tuple(Here(name=r.name, at=r.flow.stream.volume_flow) for r in subject.run.rates),
        notice=tuple(notice),
        cautions=("excess air and flue gas temperature are held while the input is changed",),
    )


def drop_by_altitude(subject: Subject) -> Sweep:
    """The same input from sea level to 10,000 ft, and inputs derated by either reading of the code clause."""
    system = subject.system
    lines: dict[str, list[Point]] = {"same input": [], "derated, whole altitude": [], "derated, part above": []}
    for altitude in (HIGHEST * n / 40 for n in range(41)):
        job = replace(subject.job, site=replace(subject.job.site, altitude=altitude))
        derated = derated_inputs(input=1.0, altitude=altitude)
        shares = (1.0, *((derated.whole_altitude, derated.part_above) if derated else (1.0, 1.0)))
        for points, share in zip(lines.values(), shares, strict=True):
            points.append((altitude, subject.again(scaled(job, share)).rate.flow.pressure_drop))
    bottom, top = lines["same input"][0][1], lines["same input"][-1][1]
    notice = [
        f"With the same input the run loses {show_pressure(bottom, system)} at sea level and "
        f"{show_pressure(top, system)} at 10,000 ft, {top / bottom - 1.0:.0%} more: the gas is thinner, so as many "
        "pounds of it take more room and go faster.",
        "A derated appliance burns less up there; the two readings of the clause differ, and so do their lines.",
        f"Derating: {SOURCE}",
    ]
    here = () if subject.job.site.altitude is None else (Here(name="this job", at=subject.job.site.altitude),)
    return Sweep(
        kind="drop-by-altitude",
        title=f"Pressure drop of {subject.run.run.name} by altitude, at {subject.rate.name}",
        across=Axis(title="altitude", dimension=Dimension.LENGTH, style="altitude"),
        up=PRESSURE,
        series=tuple(Series(name=name, points=tuple(points)) for name, points in lines.items()),
        here=here,
        notice=tuple(notice),
        cautions=("the table's answer goes by its own bands of altitude, whatever this says",),
    )


def length_by_elbows(subject: Subject) -> Sweep:
    """The straight pipe that a fixed budget of pressure leaves, by number of elbows of each kind."""
    system, gradient = subject.system, subject.rate.reference.gradient
    budget = subject.rate.budget_pressure
    where = "the allowance as pressure"
    if budget is None:
        budget, where = subject.rate.flow.pressure_drop, "what the run loses now, since no table gives a budget"
    catalog = subject.inputs.catalog
    others = math.fsum(
        p.pressure_drop for p in subject.rate.flow.pieces if not p.piece.is_pipe and p.piece.kind != "elbow"
    )
    names = list(dict.fromkeys((subject.fitting.name, *(n for n in TURNS if n in catalog.fittings))))
    lines = {}
    for name in names:
        each = subject.worth(record=catalog.fittings[name]).nominal
        left = [((budget - others) / gradient) - each * count for count in range(MOST_ELBOWS + 1)]
        lines[name] = tuple((float(n), length) for n, length in enumerate(left) if length >= 0.0)
    series = [Series(name=name, points=points) for name, points in lines.items() if points]
    if not series:
        problem = "the budget is used up by the run's other fittings"
        raise InputError(Problem(subject.inputs.file, f"run '{subject.run.run.name}'", problem, "a larger budget"))
    table = _by_table(subject)
    if table is not None:
        series.append(table)
    costs = {name: subject.worth(record=catalog.fittings[name]).nominal for name in lines}
    said = ", ".join(f"{show_feet(length, system)} each {name}" for name, length in costs.items())
    notice = (
        f"The budget is {show_pressure(budget, system)} at {subject.rate.name}: {where}. Each elbow takes straight "
        f"pipe off it: {said}.",
        "The lines fall evenly: at one flow an elbow costs the same whether it is the first or the fifth. That elbows "
        "close together disturb each other is not counted.",
    )
    elbows = sum(1 for p in subject.run.run.pieces if p.kind == "elbow")
    return Sweep(
        kind="length-by-elbows",
        title=f"Straight {subject.section.label} pipe left by number of elbows",
        across=Axis(title="elbows"),
        up=Axis(title="straight pipe left", dimension=Dimension.LENGTH),
        series=tuple(series),
        here=(Here(name="this run", at=float(elbows)),),
        notice=notice,
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
    numbers = [500.0 * 16.0 ** (n / 80) for n in range(81)]
    below = [x for x in numbers if x < LAMINAR_LIMIT] + [LAMINAR_LIMIT * (1.0 - 1e-9)]
    above = [LAMINAR_LIMIT] + [x for x in numbers if x > LAMINAR_LIMIT]
    figured = [(x, friction_factor(reynolds=x, relative_roughness=rough)) for x in (*below, *above)]
    carried_on = [(x, 64.0 / x) for x in above if x <= TURBULENT_LIMIT]
    least, most = figured[len(below) - 1][1], figured[len(below)][1]
    rates = [(r.name, r.flow.at(subject.section)) for r in subject.run.rates]
    unsure = [name for name, at in rates if LAMINAR_LIMIT <= at.reynolds < TURBULENT_LIMIT]
    slow = [f"{name} at {at.reynolds:,.0f}" for name, at in rates if at.reynolds]
    notice = [
        f"At Reynolds number 2040 the friction factor steps from {least:.4f} to {most:.4f}, {most / least - 1.0:.0%} "
        "more. In the dotted stretch the calculation takes the upper line, the turbulent one; the dashed line is what "
        "it would be if the flow stayed laminar.",
        f"This job in {subject.section.label} pipe: {', '.join(slow)}."
        + (f" Unsure: {', '.join(unsure)}." if unsure else " None of them is in the unsure stretch."),
    ]
    return Sweep(
        kind="laminar-turbulent",
        title="Friction factor between laminar and turbulent flow",
        across=Axis(title="Reynolds number"),
        up=Axis(title="friction factor"),
        series=(
            Series(name="as figured", points=tuple(figured)),
            Series(name="laminar carried on", points=tuple(carried_on), beside=True),
        ),
        here=tuple(Here(name=name, at=at.reynolds) for name, at in rates if at.reynolds),
        unsure=(LAMINAR_LIMIT, TURBULENT_LIMIT),
        why_unsure=WHY_UNSURE,
        notice=tuple(notice),
    )
