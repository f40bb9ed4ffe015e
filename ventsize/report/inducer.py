"""The study of the inducer, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ventsize.quantity import (
    Dimension,
    System,
    display_unit,
    display_value,
    show,
    show_feet,
    show_fraction,
    show_pressure,
)
from ventsize.report.chart import Line, Point, line_chart
from ventsize.report.text_parts import WIDTH, head, sentences, table
from ventsize.studies.fan_curve import Curve, curve_through
from ventsize.studies.inducer import InducerRate, InducerStudy

LETTERS = "123456789"
CHART_HEIGHT = 18


def render(study: InducerStudy, system: System) -> str:
    """The answer in lines of 80 columns."""
    return "\n".join(_lines(study, system))


def curve_chart(study: InducerStudy, appliance: str, system: System, *, width: int, height: int) -> list[str]:
    """Head over flow: the curve at top speed, what the vent takes at each rate, and the speed that meets it there."""
    curve = curve_through(next(points for name, _, points in study.curves if name == appliance))
    rates = [rate for rate in study.rates if rate.appliance == appliance]
    highest = 1.2 * max(curve.head(curve.least), *(rate.needed for rate in rates))
    lines = [Line(name="top speed", mark="T", points=_curve(curve, system))]
    for letter, rate in zip(LETTERS, rates, strict=False):
        taken = [_point(flow, head, system) for flow, head in rate.system if head <= highest]
        lines.append(Line(name=rate.rate, mark=letter, points=taken))
        if rate.speed is not None and rate.speed <= 1.0:
            slower = _curve(curve.at_speed(rate.speed), system)
            lines.append(Line(name=f"speed for {rate.rate}", points=slower, dashed=True))
        here = [_point(rate.flow, head, system) for head in (0.0, rate.needed)]
        lines.append(Line(name=f"flow at {rate.rate}", points=here))
    across, up = (display_unit(d, system) for d in (Dimension.VOLUME_FLOW, Dimension.PRESSURE))
    chart = line_chart(lines, width=width, height=height - 2, across=across, up=up)
    keys = [f"{letter} taken at {rate.rate}" for letter, rate in zip(LETTERS, rates, strict=False)]
    return [
        *chart,
        "   ".join(["T top speed", *keys])[:width],
        "dashed: speed needed; upright: flow; they meet at the operating point"[:width],
    ]


def _curve(curve: Curve, system: System) -> list[Point]:
    return [_point(flow, head, system) for flow, head in curve.drawn()]


def _point(flow: float, head: float, system: System) -> Point:
    return display_value(flow, Dimension.VOLUME_FLOW, system), display_value(head, Dimension.PRESSURE, system)


def figures(study: InducerStudy, system: System) -> Iterator[str]:
    """The speed at each rate, where it runs out, and what a fixed speed would do."""
    for appliance, source, _ in study.curves:
        yield f"  {appliance}: {source}"
    columns = (("rate", 20), ("flow", 14), ("head needed", 14), ("of top speed", 14), ("runs out at", 14))
    yield from table(columns, (_row(rate, system) for rate in study.rates))
    yield "  (runs out: straight length of the vent at which top speed is reached)"
    yield ""
    yield "  At a fixed speed, the curve's own, instead:"
    for rate in study.rates:
        fixed = rate.fixed
        if fixed.flow is None or fixed.excess_air is None:
            yield f"    {rate.rate}: {fixed.reason}"
            continue
        switch = "stays closed" if fixed.switch_holds else "OPENS"
        flow = show(fixed.flow, Dimension.VOLUME_FLOW, system)
        yield f"    {rate.rate}: {flow}, excess air {show_fraction(fixed.excess_air)}; the pressure switch {switch}"


def _lines(study: InducerStudy, system: System) -> Iterator[str]:
    yield from head("Inducer")
    yield from figures(study, system)
    for appliance, _, _ in study.curves:
        yield ""
        yield from curve_chart(study, appliance, system, width=WIDTH, height=CHART_HEIGHT)
    yield from sentences("What to look at", study.findings)
    yield from sentences("Cautions", study.cautions)


def _row(rate: InducerRate, system: System) -> tuple[str, ...]:
    return (
        rate.rate,
        show(rate.flow, Dimension.VOLUME_FLOW, system),
        show_pressure(rate.needed, system),
        "no point" if rate.speed is None else f"{rate.speed:.0%}",
        "-" if rate.runs_out_at is None else show_feet(rate.runs_out_at, system),
    )


def as_object(study: InducerStudy) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        "curves": [
            {"appliance": a, "source": s, "points": [{"flow_m3_s": q, "head_Pa": h} for q, h in points]}
            for a, s, points in study.curves
        ],
        "rates": [
            {
                "appliance": r.appliance,
                "rate": r.rate,
                "flow_m3_s": r.flow,
                "switch_Pa": r.switch,
                "vent_Pa": r.vent,
                "air_Pa": r.air,
                "needed_Pa": r.needed,
                "at_top_speed_Pa": r.at_top_speed,
                "share_of_top_speed": r.speed,
                "left": r.left,
                "vent_length_m": r.vent_length,
                "runs_out_at_m": r.runs_out_at,
                "reason": r.reason,
                "system_curve": [{"flow_m3_s": q, "head_Pa": h} for q, h in r.system],
                "fixed_speed": {
                    "flow_m3_s": r.fixed.flow,
                    "excess_air": r.fixed.excess_air,
                    "exchanger_drop_Pa": r.fixed.exchanger_drop,
                    "switch_holds": r.fixed.switch_holds,
                    "reason": r.fixed.reason,
                },
            }
            for r in study.rates
        ],
        "findings": list(study.findings),
        "cautions": list(study.cautions),
    }
