"""One fitting as feet of straight pipe: it is not a constant, whatever a table makes of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ventsize.flow.fittings import MethodLoss, local_loss_methods
from ventsize.flow.friction import TURBULENT_LIMIT
from ventsize.flow.pieces import section_flow
from ventsize.flow.stream import Stream
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension, show_feet, show_power, show_temperature
from ventsize.run.model import Section
from ventsize.studies.sweeps.model import Axis, Bar, Here, Point, Series, Sweep
from ventsize.studies.sweeps.subject import Subject, Worth, with_rates

FEET = Axis(title="straight pipe it is worth", dimension=Dimension.LENGTH)
LEAST_RATE, MOST_RATE, POINTS = 0.2, 1.5, 53  # shares of the input at the rate
COOLEST, WARMEST = 300.0, 350.0  # of flue gas [K]


def elbow_by_rate(subject: Subject) -> Sweep:
    """A line for each size, at inputs from a fifth to one and a half times that of the rate."""
    name, system = subject.fitting.name, subject.system
    shares = [LEAST_RATE + (MOST_RATE - LEAST_RATE) * n / (POINTS - 1) for n in range(POINTS)]
    series = []
    for section in subject.sections():
        points = tuple((share * subject.input, _at_share(subject, share, section).nominal) for share in shares)
        series.append(Series(name=f"{section.label} pipe", points=points))
    notice = [_half_of_it(subject)]
    table = subject.by_table(name, subject.section)
    if table is not None:
        ends = (shares[0] * subject.input, shares[-1] * subject.input)
        series.append(Series(name="the table", points=tuple((x, table) for x in ends), beside=True))
        notice.append(f"The table counts it as {show_feet(table, system)} at every input.")
    return Sweep(
        kind="elbow-by-rate",
        title=f"What one {name} is worth, by firing rate",
        across=Axis(title="firing rate", dimension=Dimension.POWER),
        up=FEET,
        series=tuple(series),
        here=_rates(subject),
        notice=tuple(notice),
        cautions=_cautions(subject),
    )


def _at_share(subject: Subject, share: float, section: Section) -> Worth:
    return subject.worth(section=section, stream=_share_of(subject, share))


def _share_of(subject: Subject, share: float) -> Stream:
    return replace(subject.stream, mass_flow=subject.stream.mass_flow * share)


def _half_of_it(subject: Subject) -> str:
    """What becomes of the fitting at half of the flow, and why."""
    section, system = subject.section, subject.system
    own, half = (_at_share(subject, share, section) for share in (1.0, 0.5))
    flow, less = (section_flow(section, _share_of(subject, share)) for share in (1.0, 0.5))
    k, k_half = (w.nominal / section.bore * f.friction_factor for w, f in ((own, flow), (half, less)))
    return (
        f"One {subject.fitting.name} in {section.label} pipe is worth {show_feet(own.nominal, system)} at "
        f"{show_power(subject.input, system)}, and {show_feet(half.nominal, system)} at half of that. Its coefficient "
        f"K goes from {k:.3f} to {k_half:.3f}, the pipe's friction factor from {flow.friction_factor:.4f} to "
        f"{less.friction_factor:.4f}; feet are the one over the other, times the bore."
    )


def _rates(subject: Subject) -> tuple[Here, ...]:
    return tuple(Here(name=rate.name, at=subject.input_at(rate)) for rate in subject.run.rates)


def _cautions(subject: Subject) -> tuple[str, ...]:
    said = ["only the flow is changed: excess air and flue gas temperature are held, which a real appliance does not"]
    slowest = section_flow(subject.sections()[-1], _share_of(subject, LEAST_RATE)).reynolds
    if slowest < TURBULENT_LIMIT:
        said.append(
            "where a line jumps, the Reynolds number is 2040 and the pipe's friction with it; between there and 4000 "
            "nobody can say for sure, and what is drawn may be off by half"
        )
    return (*said, *_loss_cautions(subject))


def _loss_cautions(subject: Subject) -> tuple[str, ...]:
    at = subject.rate.reference
    if at.reynolds < 1e4:
        return (
            f"at {subject.rate.name} the Reynolds number is {at.reynolds:,.0f}: few fittings have been tested below "
            "10,000",
        )
    return ()


def elbow_by_size(subject: Subject) -> Sweep:
    """In every size of the material: nominal, lowest and highest method, and the table's word."""
    name, system = subject.fitting.name, subject.system
    material = subject.section.material
    sections = [replace(subject.section, size=size) for size in material.sizes]
    found = [(section.nominal, subject.worth(section=section)) for section in sections]
    series = [
        Series(name="by calculation", points=tuple((x, one.nominal) for x, one in found)),
        Series(name="lowest method", points=tuple((x, one.low) for x, one in found)),
        Series(name="highest method", points=tuple((x, one.high) for x, one in found)),
    ]
    table = [(s.nominal, length) for s in sections if (length := subject.by_table(name, s)) is not None]
    if len(table) > 1:
        series.append(Series(name="the table", points=tuple(table), beside=True))
    (small, first), (large, last) = found[0], found[-1]
    notice = [
        f"The same {name} is worth {show_feet(first.nominal, system)} in {sections[0].label} pipe and "
        f"{show_feet(last.nominal, system)} in {sections[-1].label}: {last.nominal / first.nominal:.1f} times as much "
        f"in a pipe of {large / small:.1f} times the size. In feet it grows with the size; in pressure it falls.",
    ]
    return Sweep(
        kind="elbow-by-size",
        title=f"What one {name} is worth, by size, at {subject.rate.name}",
        across=Axis(title="nominal size", dimension=Dimension.LENGTH, style="bore"),
        up=FEET,
        series=tuple(series),
        here=(Here(name="this run", at=subject.section.nominal),),
        notice=tuple(notice),
        cautions=_loss_cautions(subject),
    )


def elbow_by_temperature(subject: Subject) -> Sweep:
    """A line for each rate, at flue gas temperatures of condensing to non-condensing appliances."""
    name, system = subject.fitting.name, subject.system
    temperatures = [COOLEST + (WARMEST - COOLEST) * n / 25 for n in range(26)]
    lines: dict[str, list[Point]] = {rate.name: [] for rate in subject.run.rates}
    drops: list[float] = []
    for kelvin in temperatures:
        warmer = subject.again(with_rates(subject.job, lambda r, t=kelvin: replace(r, flue_temperature=t)))  # type: ignore[misc]
        drops.append(warmer.rate.flow.pressure_drop)
        for rate in warmer.run.rates:
            if rate.reference.gradient:
                lines[rate.name].append((kelvin, replace(warmer, rate=rate).worth().nominal))
    worths = [value for _, value in lines[subject.rate.name]]
    apart, drop_apart = max(worths) / min(worths) - 1.0, max(drops) / min(drops) - 1.0
    notice = (
        f"From {show_temperature(COOLEST, system)} to {show_temperature(WARMEST, system)} the {name} changes by "
        f"{apart:.1%} in feet, while the run's pressure drop changes by {drop_apart:.0%}: warmer gas is lighter and "
        "faster, and that costs elbows and pipe nearly alike.",
        "Below the dew point, water leaves the gas as it cools: there is less of it to push.",
    )
    return Sweep(
        kind="elbow-by-temperature",
        title=f"What one {name} is worth, by flue gas temperature",
        across=Axis(title="flue gas temperature", dimension=Dimension.TEMPERATURE),
        up=FEET,
        series=tuple(Series(name=rate, points=tuple(points)) for rate, points in lines.items() if points),
        here=tuple(Here(name=name, at=kelvin) for name, kelvin in _flue_temperatures(subject)),
        notice=notice,
        cautions=_loss_cautions(subject),
    )


def _flue_temperatures(subject: Subject) -> Sequence[tuple[str, float]]:
    return [
        (rate.name, rate.flue_temperature)
        for appliance in subject.job.appliances
        if appliance.name in subject.run.serves
        for rate in appliance.rates
    ]


def elbow_by_method(subject: Subject) -> Sweep:
    """The same fitting at the same flow by everybody who published a way to it, the least first."""
    at, system = section_flow(subject.section, subject.stream), subject.system
    record = subject.fitting
    methods = local_loss_methods(
        record,
        bore=subject.section.bore,
        reynolds=at.reynolds,
        friction_factor=at.friction_factor,
        roughness=subject.section.roughness,
        plastic=subject.section.plastic,
        leaving=subject.run.run.carries == "flue gas" if record.kind in ("terminal", "entrance") else None,
    )
    if not methods:
        problem = f"{record.name} has a fixed coefficient, and no methods to set beside each other"
        raise InputError(Problem(subject.inputs.file, "", problem, "an elbow or a tee"))
    each = at.dynamic_pressure / at.gradient
    bars = tuple(
        Bar(
            name=method.name,
            value=method.k * each,
            source=method.source if method.in_spread else f"{method.source}; not counted: {method.why_not}",
            remark=f"K {method.k:.3f}" + _part_in_it(method),
        )
        for method in sorted(methods, key=lambda method: method.k)
    )
    counted = [method.k for method in methods if method.in_spread]
    every = [method.k for method in methods]
    nominal = next(method for method in methods if method.nominal)
    least, most = (show_feet(k * each, system) for k in (min(counted), max(counted)))
    notice = [
        f"{len(every)} published methods for one {record.name} in {subject.section.label} pipe at Reynolds number "
        f"{at.reynolds:,.0f}: the highest is {max(every) / min(every):.1f} times the lowest; of those counted, "
        f"{max(counted) / min(counted):.1f} times.",
        f"The calculation takes {nominal.name}, K {nominal.k:.3f}, worth {show_feet(nominal.k * each, system)}; the "
        f"others make its band of {least} to {most}.",
    ]
    table = subject.by_table(record.name, subject.section)
    if table is not None:
        bars = (*bars, Bar(name="the table", value=table, source="the run's allowance table", remark="it decides"))
        notice.append(f"The table says {show_feet(table, system)}.")
    return Sweep(
        kind="elbow-by-method",
        title=f"One {record.name} by every published method, at {subject.rate.name}",
        across=None,
        up=FEET,
        bars=bars,
        notice=tuple(notice),
        cautions=_loss_cautions(subject),
    )


def _part_in_it(method: MethodLoss) -> str:
    beyond = ", extrapolated" if method.extrapolated else ""
    if method.nominal:
        return f", taken{beyond}"
    return beyond if method.in_spread else f", not counted{beyond}"
