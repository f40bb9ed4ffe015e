"""The study of the inducer, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ventsize.finding import Finding
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
from ventsize.report.along import LETTERS
from ventsize.report.chart import Line, Point, line_chart
from ventsize.report.keys import Keys, keyed
from ventsize.report.text_parts import WIDTH, as_text, head, indented, sentences, table
from ventsize.report.wording import say, say_all
from ventsize.studies.fan import FanPoint
from ventsize.studies.fan_curve import Curve, curve_through
from ventsize.studies.inducer import FanCurve, InducerRate, InducerStudy

CHART_HEIGHT = 18


def curve_chart(study: InducerStudy, appliance: str, system: System, *, width: int, height: int) -> list[str]:
    """Head over flow: the curve at top speed, what the vent takes at each rate, and the speed that meets it there."""
    rates = [rate for rate in study.rates if rate.appliance == appliance]
    curve = curve_through(rates[0].curve)
    highest = 1.2 * max(curve.head(curve.least), *(rate.needed for rate in rates))
    lines = [Line(name="top speed", mark="T", points=_curve(curve, system))]
    for letter, rate in zip(LETTERS, rates, strict=False):
        taken = [_point(flow, head, system) for flow, head in rate.system if head <= highest]
        lines.append(Line(name=rate.rate, mark=letter, points=taken))
        if rate.speed is not None and rate.speed <= 1.0:
            slower = _curve(curve_through(rate.curve).at_speed(rate.speed), system)
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
    for curve in study.curves:
        yield f"  {curve.appliance}: {curve_label(curve)}"
    columns = (("rate", 20), ("flow", 14), ("head needed", 14), ("of top speed", 14), ("runs out at", 14))
    yield from table(columns, (_row(rate, system) for rate in study.rates))
    yield "  (runs out: straight length of the vent at which top speed is reached)"
    yield ""
    yield "  At a fixed speed, the curve's own, instead:"
    for rate in study.rates:
        yield from indented(f"{rate.rate}: {_point_text(rate.fixed, system)}", "    ", "      ")


def curve_label(curve: FanCurve) -> str:
    """Where a curve comes from."""
    return f"example curve: {curve.source}" if curve.example else curve.source


def _point_text(point: FanPoint, system: System) -> str:
    if point.why is not None or point.flow is None or point.excess_air is None:
        return "" if point.why is None else say(point.why, system, place=False)
    flow = show(point.flow, Dimension.VOLUME_FLOW, system)
    return f"{flow}, excess air {show_fraction(point.excess_air)}; the pressure switch stays closed"


@as_text
def render(study: InducerStudy, system: System) -> Iterator[str]:
    """The answer in lines of 80 columns."""
    yield from head("Inducer")
    yield from figures(study, system)
    for curve in study.curves:
        yield ""
        yield from curve_chart(study, curve.appliance, system, width=WIDTH, height=CHART_HEIGHT)
    yield from sentences("What to look at", say_all(study.findings, system))
    yield from sentences("Cautions", say_all(study.cautions, system))


def _row(rate: InducerRate, system: System) -> tuple[str, ...]:
    return (
        rate.rate,
        show(rate.flow, Dimension.VOLUME_FLOW, system),
        show_pressure(rate.needed, system),
        speed_words(rate),
        "-" if rate.runs_out_at is None else show_feet(rate.runs_out_at, system),
    )


def speed_words(rate: InducerRate) -> str:
    """The share of top speed that a rate takes."""
    return "no point" if rate.speed is None else f"{rate.speed:.0%}"


def as_object(study: InducerStudy, system: System) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        "curves": [
            {
                "appliance": c.appliance,
                "source": curve_label(c),
                "points": keyed(c.points, "flow_m3_s", "head_Pa"),
            }
            for c in study.curves
        ],
        "rates": [
            {
                **_RATE(r),
                "reason": "" if r.speed is not None else say(Finding("fan-cannot-hold"), system),
                "system_curve": keyed(r.system, "flow_m3_s", "head_Pa"),
                "fixed_speed": point_object(r.fixed, system),
                "runs": point_object(r.point, system),
            }
            for r in study.rates
        ],
        "findings": list(say_all(study.findings, system)),
        "cautions": list(say_all(study.cautions, system)),
    }


_RATE = Keys(
    InducerRate,
    "appliance rate flow_m3_s switch_Pa vent_Pa air_Pa needed_Pa at_top_speed_Pa share_of_top_speed:speed left "
    "vent_length_m runs_out_at_m excess_air burner_Pa switch_opens_Pa:opens switch_closes_Pa:closes",
)
_POINT = Keys(FanPoint, "share_of_top_speed:speed flow_m3_s excess_air exchanger_drop_Pa burns")


def point_object(point: FanPoint, system: System) -> dict[str, Any]:
    """A fan's point in SI units."""
    opens = point.why is not None and point.why.code == "fan-switch-opens"
    return {
        **_POINT(point),
        "switch_holds": None if point.why and not opens else point.burns,
        "code": None if point.why is None else point.why.code,
        "reason": "" if point.why is None else say(point.why, system, place=False),
    }
