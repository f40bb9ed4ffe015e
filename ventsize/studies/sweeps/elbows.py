"""One fitting as feet of straight pipe: what holds it, and what moves it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

from ventsize.finding import Finding, Value, length, power, share, temperature
from ventsize.flow.fittings import TESTED_ABOVE, local_loss_methods
from ventsize.flow.friction import LAMINAR_LIMIT, TURBULENT_LIMIT
from ventsize.flow.pieces import section_flow
from ventsize.flow.stream import Stream
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension
from ventsize.run.model import Section
from ventsize.studies.sweeps.model import Axis, Bar, Here, Point, Series, Sweep
from ventsize.studies.sweeps.subject import Subject, Worth, with_rates

FEET = Axis(title="straight pipe it is worth", dimension=Dimension.LENGTH)
LEAST_RATE, MOST_RATE, POINTS = 0.2, 1.5, 53  # shares of the input at the rate
COOLEST, WARMEST = 300.0, 350.0  # of flue gas [K]
TURNS = ("elbow-90-long", "elbow-90-short", "elbow-90-mitered")
ALIKE = 0.15  # feet that differ by less hold
STEP = 1.001  # from one size to the next; less is no growth
SAME_PRESSURE = 0.01  # a loss that changes by less does not follow the temperature


def elbow_by_rate(subject: Subject) -> Sweep:
    """A line for each size, at inputs from a fifth to one and a half times that of the rate."""
    name = subject.fitting.name
    shares = [LEAST_RATE + (MOST_RATE - LEAST_RATE) * n / (POINTS - 1) for n in range(POINTS)]
    sections = subject.sections()
    series = []
    for section in sections:
        points = tuple((share * subject.input, _at_share(subject, share, section).nominal) for share in shares)
        series.append(Series(name=f"{section.label} pipe", points=points))
        table = subject.by_table(name, section)
        if table is not None:
            ends = (shares[0] * subject.input, shares[-1] * subject.input)
            series.append(Series(name=f"the table, {section.label}", points=tuple((x, table) for x in ends),
                                 beside=True))  # fmt: skip
    return subject.sweep(
        "elbow-by-rate",
        across=Axis(title="firing rate", dimension=Dimension.POWER),
        up=FEET,
        series=tuple(series),
        here=tuple(Here(name=rate.name, at=subject.input_at(rate)) for rate in subject.run.rates),
        notice=(_half_of_it(subject), *_what_moves_it(subject, sections), *_table_at_every_input(subject)),
        cautions=(Finding("sweep-only-flow"), *_jumps(subject), *_few_tests(subject)),
    )


def _at_share(subject: Subject, share: float, section: Section) -> Worth:
    return subject.worth(section=section, stream=_share_of(subject, share))


def _share_of(subject: Subject, share: float) -> Stream:
    return replace(subject.stream, mass_flow=subject.stream.mass_flow * share)


def _half_of_it(subject: Subject) -> Finding:
    """What becomes of the fitting at half of the flow: feet are K D / f, so they hold where K and f change alike."""
    section = subject.section
    full, half = (_at_share(subject, share, section).nominal for share in (1.0, 0.5))
    flow, less = (section_flow(section, _share_of(subject, share)) for share in (1.0, 0.5))
    holds = "sweep-feet-hold" if abs(half / full - 1.0) <= ALIKE else "sweep-feet-move"
    crossed = less.reynolds < LAMINAR_LIMIT <= flow.reynolds
    return Finding(
        "sweep-feet-laminar" if crossed else holds,
        values={
            "input": power(subject.input),
            "full": length(full),
            "half": length(half),
            "k": full / section.bore * flow.friction_factor,
            "k_half": half / section.bore * less.friction_factor,
            "f": flow.friction_factor,
            "f_half": less.friction_factor,
        },
    )


def _what_moves_it(subject: Subject, sections: Sequence[Section]) -> list[Finding]:
    """The same fitting in the other sizes, and the other turns in this one."""
    found = []
    sizes = {section.label: subject.worth(section=section).nominal for section in sections}
    if len(sizes) > 1:
        found.append(_apart("sweep-feet-by-size", sizes))
    if subject.fitting.kind == "elbow":
        catalog = subject.inputs.catalog.fittings
        names = [name for name in TURNS if name in catalog]
        found.append(_apart("sweep-feet-by-kind", {n: subject.worth(record=catalog[n]).nominal for n in names}))
    return found


def _apart(code: str, worths: dict[str, float]) -> Finding:
    least, most = min(worths, key=lambda n: worths[n]), max(worths, key=lambda n: worths[n])
    values: dict[str, Value] = {
        "least": least,
        "most": most,
        "low": length(worths[least]),
        "high": length(worths[most]),
    }
    return Finding(code, values=values)


def _table_at_every_input(subject: Subject) -> list[Finding]:
    table = subject.by_table(subject.fitting.name, subject.section)
    return [] if table is None else [Finding("sweep-table-at-every-input", values={"length": length(table)})]


def _jumps(subject: Subject) -> list[Finding]:
    slowest = section_flow(subject.sections()[-1], _share_of(subject, LEAST_RATE)).reynolds
    return [Finding("sweep-jump")] if slowest < TURBULENT_LIMIT else []


def _few_tests(subject: Subject) -> list[Finding]:
    reynolds = subject.rate.reference.reynolds
    if reynolds >= TESTED_ABOVE:
        return []
    return [Finding("sweep-few-tests", values={"rate": subject.rate.name, "reynolds": reynolds})]


def elbow_by_size(subject: Subject) -> Sweep:
    """In every size of the material: nominal, lowest and highest method, and the table's word."""
    sections = [replace(subject.section, size=size) for size in subject.section.material.sizes]
    found = [(section.nominal, subject.worth(section=section)) for section in sections]
    series = [
        Series(name="by calculation", points=tuple((x, one.nominal) for x, one in found)),
        Series(name="lowest method", points=tuple((x, one.low) for x, one in found)),
        Series(name="highest method", points=tuple((x, one.high) for x, one in found)),
    ]
    listed = [(s.nominal, one) for s in sections if (one := subject.by_table(subject.fitting.name, s)) is not None]
    if listed:
        series.append(Series(name="the table, by size", points=tuple(listed), beside=True, apart=True))
    feet = [one.nominal for _, one in found]
    lost = [one * section_flow(s, subject.stream).gradient for one, s in zip(feet, sections, strict=True)]
    grows = all(b > a * STEP for a, b in itertools.pairwise(feet))
    steadily = grows and all(b < a for a, b in itertools.pairwise(lost))
    ends: dict[str, Value] = {
        "small": sections[0].label,
        "large": sections[-1].label,
        "first": length(feet[0]),
        "last": length(feet[-1]),
        "times": feet[-1] / feet[0],
        "times_size": found[-1][0] / found[0][0],
        "times_pressure": lost[0] / lost[-1],
    }
    return subject.sweep(
        "elbow-by-size",
        across=Axis(title="nominal size", dimension=Dimension.LENGTH, style="bore"),
        up=FEET,
        series=tuple(series),
        here=(Here(name="this run", at=subject.section.nominal),),
        notice=(Finding("sweep-size-grows" if steadily else "sweep-size-mixed", values=ends),),
        cautions=tuple(_few_tests(subject)),
    )


def elbow_by_temperature(subject: Subject) -> Sweep:
    """A line for each rate, at flue gas temperatures of condensing to non-condensing appliances."""
    lines: dict[str, list[Point]] = {rate.name: [] for rate in subject.run.rates}
    at = [COOLEST + (WARMEST - COOLEST) * n / 25 for n in range(26)]
    swept = [subject.again(with_rates(subject.job, lambda r, t=k: replace(r, flue_temperature=t))) for k in at]  # type: ignore[misc]
    for kelvin, warmer in zip(at, swept, strict=True):
        for rate in warmer.run.rates:
            if rate.reference.gradient:
                lines[rate.name].append((kelvin, replace(warmer, rate=rate).worth().nominal))
    feet = [value for _, value in lines[subject.rate.name]]
    drops = [warmer.rate.flow.pressure_drop for warmer in swept]
    values: dict[str, Value] = {
        "coolest": temperature(COOLEST),
        "warmest": temperature(WARMEST),
        "feet": share(max(feet) / min(feet) - 1.0),
        "drop": share(max(drops) / min(drops) - 1.0),
    }
    moved = "sweep-temperature-moves" if max(feet) / min(feet) - 1.0 > ALIKE else "sweep-temperature-alike"
    still = max(drops) / min(drops) - 1.0 < SAME_PRESSURE
    cool, warm = (swept[end].stream.mass_flow for end in (0, -1))
    notice = [Finding("sweep-temperature-still" if still else moved, values=values)]
    if warm / cool - 1.0 > 0.001:
        notice.append(Finding("sweep-temperature-water", values={"less": share(1.0 - cool / warm)}))
    return subject.sweep(
        "elbow-by-temperature",
        across=Axis(title="flue gas temperature", dimension=Dimension.TEMPERATURE),
        up=FEET,
        series=tuple(Series(name=rate, points=tuple(points)) for rate, points in lines.items() if points),
        here=tuple(
            Here(name=rate.name, at=rate.flue_temperature)
            for appliance in subject.job.appliances
            if appliance.name in subject.run.serves
            for rate in appliance.rates
        ),
        notice=tuple(notice),
        cautions=tuple(_few_tests(subject)),
    )


def elbow_by_method(subject: Subject) -> Sweep:
    """The same fitting at the same flow by everybody who published a way to it, the least first."""
    at, record = section_flow(subject.section, subject.stream), subject.fitting
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
    bars = [Bar(name=m.name, value=m.k * each, method=m) for m in sorted(methods, key=lambda method: method.k)]
    counted = [method.k for method in methods if method.in_spread]
    every = [method.k for method in methods]
    nominal = next(method for method in methods if method.nominal)
    values: dict[str, Value] = {
        "number": len(every),
        "fitting": record.name,
        "size": subject.section.label,
        "reynolds": at.reynolds,
        "times": max(every) / min(every),
        "times_counted": max(counted) / min(counted),
        "taken": nominal.name,
        "k": nominal.k,
        "worth": length(nominal.k * each),
        "low": length(min(counted) * each),
        "high": length(max(counted) * each),
    }
    notice = [
        Finding("sweep-authors-differ" if len(every) > 1 else "sweep-one-author", values=values),
        Finding("sweep-method-taken" if len(counted) > 1 else "sweep-method-alone", values=values),
    ]
    table = subject.by_table(record.name, subject.section)
    if table is not None:
        bars.append(Bar(name="the table", value=table, by_table=True))
        code = beside_band(table, min(counted) * each, max(counted) * each)
        notice.append(Finding(code, values={"fittings": (record.name,), "length": length(table)}))
    return subject.sweep(
        "elbow-by-method",
        across=None,
        up=FEET,
        bars=tuple(bars),
        notice=tuple(notice),
        cautions=tuple(_few_tests(subject)),
    )


def beside_band(table: float, low: float, high: float) -> str:
    """The code for where a table's length stands beside the band of the methods [m]."""
    return "sweep-table-above" if table > high else "sweep-table-below" if table < low else "sweep-table-inside"
