"""The study of the inducer, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ventsize.quantity import Dimension, System, show, show_feet, show_fraction, show_pressure
from ventsize.report.sheet import head, sentences, table
from ventsize.studies.inducer import InducerRate, InducerStudy


def render(study: InducerStudy, system: System) -> str:
    """The answer in lines of 80 columns."""
    return "\n".join(_lines(study, system))


def _lines(study: InducerStudy, system: System) -> Iterator[str]:
    yield from head("Inducer")
    for appliance, source, _ in study.curves:
        yield f"  {appliance}: {source}"
    columns = (("rate", 20), ("flow", 15), ("head needed", 14), ("of top speed", 14), ("runs out at", 14))
    yield from table(columns, (_row(rate, system) for rate in study.rates))
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
