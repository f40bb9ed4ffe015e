"""The bench as text with its charts, and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ventsize.quantity import Dimension, System, display_unit, display_value, show_fraction, show_length, show_pressure
from ventsize.report.chart import Line, bar, line_chart
from ventsize.report.inducer import curve_label, point_object
from ventsize.report.text_parts import WIDTH, head, sentences, table
from ventsize.report.wording import reason, say_all
from ventsize.report.wording.appliance import NO_PERMIT
from ventsize.studies.bench import Bench, BenchStep, TableSays
from ventsize.studies.fan import FanPoint

HEIGHT = 13
GAUGE = 20


def render(found: Bench, system: System) -> str:
    """Every step, the flow drawn, and what was to be seen."""
    return "\n".join(_lines(found, system)) + "\n"


def _lines(found: Bench, system: System) -> Iterator[str]:
    yield from head(f"On the bench: {found.appliance} at {found.rate}")
    yield f"  {curve_label(found.curve)}"
    yield f"  The switch opens below {show_pressure(found.switch, system)} across the heat exchanger."
    yield ""
    yield from rows(found, system)
    yield ""
    yield from chart(found, system, width=WIDTH, height=HEIGHT)
    yield from sentences("What was to be seen", say_all(found.findings, system, place=False))
    yield from sentences("Cautions", say_all(found.cautions, system))


def rows(found: Bench, system: System) -> Iterator[str]:
    """A row a step: the one that adapts, then the one of fixed speed."""
    unit = display_unit(Dimension.LENGTH, system)
    flow = display_unit(Dimension.VOLUME_FLOW, system)
    yield f"  {'':<13}{'adapts':<27}fixed speed, {found.fixed_speed:.0%} of top"
    columns = ((f"vent, {unit}", 9), ("speed", 7), (flow, 8), ("air", 6), ("switch", 8),
               (flow, 10), ("air", 6), ("switch", 8), ("by the table", 14))  # fmt: skip
    yield from table(columns, (_row(step, system) for step in found.steps))
    yield "  speed: share of top speed. air: excess air left to the flame; out: no flame."
    yield "  by the table: whether the vent may be so long."
    yield f"  {NO_PERMIT}."


def _row(step: BenchStep, system: System) -> tuple[str, ...]:
    adaptive, fixed = step.adaptive, step.fixed
    return (
        f"{display_value(step.length, Dimension.LENGTH, system):.4g}",
        f"{adaptive.speed:.0%}",
        *_cells(adaptive, system),
        *_cells(fixed, system),
        step.table.verdict if step.table.verdict == "within" else step.table.verdict.upper(),
    )


def _cells(turning: FanPoint, system: System) -> tuple[str, ...]:
    if turning.flow is None or turning.excess_air is None:
        return ("-", "out", "OPEN")
    flow = display_value(turning.flow, Dimension.VOLUME_FLOW, system)
    return (f"{flow:.1f}", f"{turning.excess_air:.0%}", "closed")


def chart(found: Bench, system: System, *, width: int, height: int) -> list[str]:
    """What either switch feels, by the length of the vent; where the fan finds no point, the line ends."""
    lines = []
    for mark, name in (("A", "adaptive"), ("F", "fixed")):
        points = []
        for step in found.steps:
            turning: FanPoint = getattr(step, name)
            if turning.exchanger_drop is not None:
                length = display_value(step.length, Dimension.LENGTH, system)
                points.append((length, display_value(turning.exchanger_drop, Dimension.PRESSURE, system)))
        if len(points) > 1:
            lines.append(Line(name=name, points=points, mark=mark))
    if not lines:
        return ["One step: nothing to draw yet."]
    first, last = (display_value(step.length, Dimension.LENGTH, system) for step in (found.steps[0], found.steps[-1]))
    setting = display_value(found.switch, Dimension.PRESSURE, system)
    lines.append(Line(name="setting", points=[(first, setting), (last, setting)], dashed=True))
    up = f"at the switch [{display_unit(Dimension.PRESSURE, system)}]   A adapts   F fixed speed   dashed: its setting"
    limit = found.straight_allowed
    at = None if limit is None else display_value(max(limit, 0.0), Dimension.LENGTH, system)
    unit = display_unit(Dimension.LENGTH, system)
    drawn = line_chart(
        lines,
        width=width,
        height=height - 1,
        across=unit,
        up=up,
        start=first,
        unsure=None if at is None or at >= last else (max(at, first), last),
        places=() if at is None or not first <= at <= last else (at,),
    )
    return [*drawn, _of_the_allowance(at, first, last, unit)]


def _of_the_allowance(at: float | None, first: float, last: float, unit: str) -> str:
    """What the mark and the dots say; and where neither can be drawn, why."""
    if at is None:
        return "the table gives no length for this vent: no length of it is allowed by it"
    if at < first:
        return f"dotted: longer than the table allows, all of it ({at:.4g} {unit} of straight pipe)"
    if at >= last:
        return f"the table allows {at:.4g} {unit} of straight pipe on this vent"
    return f"▲ {at:.4g} {unit} of straight pipe: all that the table allows on this vent; dotted: longer"


def gauges(step: BenchStep, found: Bench, system: System) -> Iterator[str]:
    """One step as one would read it off the bench: speed, flow, the switch, side by side."""
    yield f"{'':<16}{'adapts':<34}fixed speed"
    both = (step.adaptive, step.fixed)
    speeds = [f"{bar(t.speed, GAUGE):<{GAUGE}} {t.speed:>6.1%}" for t in both]
    yield f"{'speed':<16}{speeds[0]:<34}{speeds[1]}"
    most = 2.0 * (found.steps[0].adaptive.flow or 1.0)
    flows = [_gauge(t.flow, most, Dimension.VOLUME_FLOW, system) for t in both]
    yield f"{'flow, ' + display_unit(Dimension.VOLUME_FLOW, system):<16}{flows[0]:<34}{flows[1]}"
    drops = [_gauge(t.exchanger_drop, 2.0 * found.switch, Dimension.PRESSURE, system) for t in both]
    yield f"{'drop, ' + display_unit(Dimension.PRESSURE, system):<16}{drops[0]:<34}{drops[1]}"
    words = ["switch closed" if t.burns else "SWITCH OPEN" for t in both]
    airs = ["burner out" if t.excess_air is None else show_fraction(round(t.excess_air, 3)) for t in both]
    yield f"{'excess air':<16}{airs[0]:<34}{airs[1]}"
    yield f"{'':<16}{words[0]:<34}{words[1]}"
    yield f"{'by the table':<16}{of_the_table(step.table, system)}"
    if step.table.verdict != "within" and any(turning.burns for turning in both):
        yield f"{'':<16}{NO_PERMIT}."


def of_the_table(said: TableSays, system: System) -> str:
    """The verdict on one length, with the two lengths it rests on."""
    word = said.verdict if said.verdict == "within" else said.verdict.upper()
    if said.allowable is None:
        return f"{word}: it gives no length for this vent"
    counted = "" if said.counted is None else f" (this vent counts {show_length(said.counted, system)})"
    return f"the table allows {show_length(said.allowable, system)}: {word}{counted}"


def _gauge(value: float | None, most: float, dimension: Dimension, system: System) -> str:
    if value is None:
        return "-"
    return f"{bar(value / most, GAUGE):<{GAUGE}} {display_value(value, dimension, system):>6.3g}"


def as_object(found: Bench) -> dict[str, Any]:
    """The bench in SI units; keys end in their unit."""
    return {
        "appliance": found.appliance,
        "rate": found.rate,
        "curve": curve_label(found.curve),
        "switch_Pa": found.switch,
        "excess_air": found.excess_air,
        "fixed_speed": found.fixed_speed,
        "straight_allowed_by_table_m": found.straight_allowed,
        "steps": [
            {
                "length_m": step.length,
                "vent_Pa": step.vent,
                "adaptive": point_object(step.adaptive),
                "fixed": point_object(step.fixed),
                "table": {
                    "verdict": step.table.verdict,
                    "reason": reason(step.table.decides, System.US, with_run=False),
                    "allowable_length_m": step.table.allowable,
                    "equivalent_length_m": step.table.counted,
                },
            }
            for step in found.steps
        ],
        "findings": list(say_all(found.findings, System.US, place=False)),
        "cautions": list(say_all(found.cautions, System.US)),
    }
