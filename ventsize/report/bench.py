"""The bench as text with its charts, and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from ventsize.finding import Finding
from ventsize.quantity import Dimension, System, display_unit, display_value, show_fraction, show_length, show_pressure
from ventsize.report.chart import Line, bar, line_chart
from ventsize.report.inducer import curve_label, point_object
from ventsize.report.keys import Keys
from ventsize.report.text_parts import WIDTH, as_text, head, sentences, table
from ventsize.report.wording import reason, say, say_all
from ventsize.report.wording.appliance import NO_PERMIT
from ventsize.studies.bench import ADAPTIVE, FIXED, TWO_SPEED, Bench, BenchRate, BenchStep, RateSetting, TableSays
from ventsize.studies.fan import FanPoint

HEIGHT = 12
GAUGE = 8
COLUMN = 22
SWITCH, SPEED = "switch", "speed"
KINDS = {ADAPTIVE: ("A", "adapts"), TWO_SPEED: ("T", "two speeds"), FIXED: ("F", "one speed")}
"""The letter and the name of each inducer."""

Point = tuple[float, float]


@as_text
def render(found: Bench, system: System) -> Iterator[str]:
    """Every step at every rate, drawn, and what was to be seen."""
    yield from head(f"On the bench: {found.appliance}")
    yield f"  {curve_label(found.curve)}"
    for at, rate in enumerate(found.rates):
        yield ""
        yield f"{rate.name}: the switch opens below {show_pressure(rate.switch, system)} across the heat exchanger"
        yield from rows(found, at, system)
        yield ""
        yield from charts(found, at, system, width=WIDTH, height=HEIGHT)
    yield from ("", *LEGEND)
    yield from sentences("What was to be seen", seen(found, system))
    yield from sentences("Cautions", say_all(found.cautions, system))


LEGEND = (
    "air: excess air left to the flame; out: no flame. speed: share of top speed.",
    "by the table: whether the vent may be so long.",
    f"{NO_PERMIT}.",
)


def seen(found: Bench, system: System) -> Iterator[str]:
    """What was to be seen, each with its rate."""
    for finding in found.findings:
        yield _of_its_rate(finding, system)


def _of_its_rate(finding: Finding, system: System) -> str:
    text = say(finding, system, place=False)
    return f"{finding.where.rate}: {text}" if finding.where.rate else text


def titles(found: Bench, at: int, *, short: bool = False) -> dict[str, str]:
    """What each inducer is called at a rate: its letter, its name unless in short, and its speed where it keeps it."""
    speeds = {TWO_SPEED: f"{found.rates[at].speed:.0%}", FIXED: f"{found.fixed_speed:.0%}"}
    shown = {kind: (KINDS[kind][0], "" if short and kind in speeds else KINDS[kind][1], speeds.get(kind, ""))
             for kind in found.steps[0].rates[at].points}  # fmt: skip
    return {kind: " ".join(filter(None, words)) for kind, words in shown.items()}


def rows(found: Bench, at: int, system: System) -> Iterator[str]:
    """A row a step at one rate: the speed of the one that adapts, then the air and the switch of each."""
    named = titles(found, at, short=True)
    yield f"  {'':<16}" + "".join(f"{title:>16}" for title in named.values())
    columns = [(f"vent, {display_unit(Dimension.LENGTH, system)}", 9), ("speed", 7)]
    columns += [(name, 8) for _ in named for name in ("air", "switch")]
    yield from table([*columns, ("by the table", 14)], cells(found, at, system))


def cells(found: Bench, at: int, system: System) -> Iterator[tuple[str, ...]]:
    """The same as cells."""
    return (_row(step, step.rates[at], system) for step in found.steps)


def _row(step: BenchStep, rate: BenchRate, system: System) -> tuple[str, ...]:
    return (
        f"{display_value(step.length, Dimension.LENGTH, system):.4g}",
        f"{rate.points[ADAPTIVE].speed:.0%}",
        *(cell for point in rate.points.values() for cell in _cells(point)),
        step.table.verdict if step.table.verdict == "within" else step.table.verdict.upper(),
    )


def _cells(point: FanPoint) -> tuple[str, str]:
    return ("out", "OPEN") if point.excess_air is None else (f"{point.excess_air:.0%}", "closed")


def lines_of(found: Bench, at: int, what: str, system: System) -> Iterator[tuple[str, str, list[Point]]]:
    """Each inducer's letter, name and line: what its switch feels, or its speed, by the length of the vent.

    The line ends where its burner is out.
    """
    for kind, title in titles(found, at).items():
        all_points = ((step.length, step.rates[at].points[kind]) for step in found.steps)
        points = [(display_value(length, Dimension.LENGTH, system), _drawn(point, what, system))
                  for length, point in all_points if point.burns]  # fmt: skip
        yield KINDS[kind][0], title, points


def _drawn(point: FanPoint, what: str, system: System) -> float:
    if what == SPEED:
        return 100.0 * point.speed
    return display_value(point.exchanger_drop or 0.0, Dimension.PRESSURE, system)


def limit_of(found: Bench, at: int, what: str, system: System) -> float:
    """What a line is not to cross: where the switch opens, or top speed."""
    return 100.0 if what == SPEED else display_value(found.rates[at].switch, Dimension.PRESSURE, system)


def axis(what: str, system: System) -> str:
    """What is drawn, with its unit."""
    return "speed [% of top]" if what == SPEED else f"at the switch [{display_unit(Dimension.PRESSURE, system)}]"


def charts(found: Bench, at: int, system: System, *, width: int, height: int) -> list[str]:
    """What the switches feel and, beside it, how fast the inducers turn; a line ends where its burner is out."""
    if len(found.steps) < 2:
        return ["One step: nothing to draw yet."]
    half = (width - 2) // 2
    both = [_chart(found, at, what, system, width=half, height=height - 2) for what in (SWITCH, SPEED)]
    first, last = (display_value(step.length, Dimension.LENGTH, system) for step in (found.steps[0], found.steps[-1]))
    names = "   ".join(" ".join(KINDS[kind]) for kind in found.steps[0].rates[at].points)
    return [
        *(f"{left:<{half}}  {right}".rstrip() for left, right in zip(*both, strict=True)),
        f"{names}   dashed: switch opens; top speed",
        _of_the_allowance(found, first, last, system),
    ]


def _chart(found: Bench, at: int, what: str, system: System, *, width: int, height: int) -> list[str]:
    first, last = (display_value(step.length, Dimension.LENGTH, system) for step in (found.steps[0], found.steps[-1]))
    lines = [Line(name=name, points=points, mark=letter)
             for letter, name, points in lines_of(found, at, what, system) if len(points) > 1]  # fmt: skip
    limit = limit_of(found, at, what, system)
    lines.append(Line(name="limit", points=[(first, limit), (last, limit)], dashed=True))
    allowed = allowed_of(found, system)
    return line_chart(
        lines,
        width=width,
        height=height,
        across=display_unit(Dimension.LENGTH, system),
        up=axis(what, system),
        start=first,
        unsure=None if allowed is None or allowed >= last else (max(allowed, first), last),
        places=() if allowed is None or not first <= allowed <= last else ((allowed, "▲"),),
    )


def allowed_of(found: Bench, system: System) -> float | None:
    """The straight pipe that the table allows, as shown; None where it gives no length."""
    allowed = found.straight_allowed
    return None if allowed is None else display_value(max(allowed, 0.0), Dimension.LENGTH, system)


def _of_the_allowance(found: Bench, first: float, last: float, system: System) -> str:
    """What the mark and the dots say; and where neither can be drawn, why."""
    at, unit = allowed_of(found, system), display_unit(Dimension.LENGTH, system)
    if at is None:
        return "the table gives no length for this vent: no length of it is allowed by it"
    if at < first:
        return f"dotted: longer than the table allows, all of it ({at:.4g} {unit} of straight pipe)"
    if at >= last:
        return f"the table allows {at:.4g} {unit} of straight pipe on this vent"
    return f"▲ {at:.4g} {unit} of straight pipe: all that the table allows; dotted: longer"


def gauges(step: BenchStep, found: Bench, system: System) -> Iterator[str]:
    """One step as one would read it off the bench: speed, switch and flame at every rate, side by side."""
    for at, rate in enumerate(step.rates):
        points = list(rate.points.values())
        yield f"{rate.rate:<11}" + "".join(f"{title:<{COLUMN}}" for title in titles(found, at).values()).rstrip()
        yield _gauge_row("speed", (f"{bar(p.speed, GAUGE):<{GAUGE}} {p.speed:>6.1%}" for p in points))
        yield _gauge_row("switch", (_pressure(p, found.rates[at].air_at_switch, system) for p in points))
        yield _gauge_row("flame", (_flame(p) for p in points))
    yield f"{'table':<11}{of_the_table(step.table, system)}"
    if step.table.verdict != "within" and step.burns:
        yield f"{'':<11}{NO_PERMIT}."


def _gauge_row(name: str, cells: Sequence[str] | Iterator[str]) -> str:
    return (f"  {name:<9}" + "".join(f"{cell:<{COLUMN}}" for cell in cells)).rstrip()


def _pressure(point: FanPoint, air_at_switch: float | None, system: System) -> str:
    if point.exchanger_drop is not None and point.burns:
        return f"{show_pressure(point.exchanger_drop, system)}, closed"
    # less air than the fuel needs is less than the switch opens at, where that is with air to spare
    starved = point.why is not None and point.why.code == "fan-short-of-air" and air_at_switch is not None
    return "SWITCH OPEN" if starved or point.why is None or point.why.code == "fan-switch-opens" else "-"


def _flame(point: FanPoint) -> str:
    return "burner out" if point.excess_air is None else f"{show_fraction(round(point.excess_air, 3))} excess air"


def of_the_table(told: TableSays, system: System) -> str:
    """The verdict on one length, with the two lengths it rests on."""
    word = told.verdict if told.verdict == "within" else told.verdict.upper()
    if told.allowable is None:
        return f"{word}: it gives no length for this vent"
    counted = "" if told.counted is None else f" (this vent counts {show_length(told.counted, system)})"
    return f"the table allows {show_length(told.allowable, system)}: {word}{counted}"


def as_object(found: Bench, system: System) -> dict[str, Any]:
    """The bench in SI units; keys end in their unit."""
    return {
        "appliance": found.appliance,
        "curve": curve_label(found.curve),
        "rates": _SETTING.each(found.rates),
        "fixed_speed": found.fixed_speed,
        "straight_allowed_by_table_m": found.straight_allowed,
        "steps": [
            {
                "length_m": step.length,
                "rates": [{"rate": rate.rate, "vent_Pa": rate.vent, **_points(rate, system)} for rate in step.rates],
                "table": {**_TABLE(step.table), "reason": reason(step.table.decides, system, with_run=False)},
            }
            for step in found.steps
        ],
        "findings": list(seen(found, system)),
        "cautions": list(say_all(found.cautions, system)),
    }


_SETTING = Keys(RateSetting, "rate:name switch_Pa excess_air share_of_top_speed_of_two:speed")
_TABLE = Keys(TableSays, "verdict allowable_length_m:allowable equivalent_length_m:counted")


def _points(rate: BenchRate, system: System) -> dict[str, Any]:
    return {kind.replace("-", "_"): point_object(point, system) for kind, point in rate.points.items()}
