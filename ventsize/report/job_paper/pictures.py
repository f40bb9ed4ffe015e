"""The charts of a run: pressure along it, and its loss piece by piece."""

from __future__ import annotations

from ventsize.check.result import RunCheck
from ventsize.quantity import Dimension, System, display_unit, display_value, show_pressure
from ventsize.report.drawing import Drawing, Series, line_chart
from ventsize.studies.profile import loss_along

_MOST_LINES = 4


def pressure_along(run: RunCheck, system: System, *, height: float) -> Drawing:
    """What is still to be lost against the distance walked, at each rate, and the allowance at the worst one."""
    rates = [run.worst, *(rate for rate in run.rates if rate is not run.worst)][:_MOST_LINES]
    lines = [
        Series(
            rate.name,
            tuple(
                (display_value(x, Dimension.LENGTH, system), display_value(y, Dimension.PRESSURE, system))
                for x, y in loss_along(rate).points
            ),
        )
        for rate in rates
    ]
    allowed = run.worst.budget_pressure
    if allowed is not None:
        end, level = max(x for one in lines for x, _ in one.points), display_value(allowed, Dimension.PRESSURE, system)
        lines.append(Series(f"allowed at {run.worst.name}", ((0.0, level), (end, level)), limit=True))
    said = "; ".join(f"{rate.name}: {show_pressure(rate.flow.pressure_drop, system)} lost in all" for rate in rates)
    against = "" if allowed is None else f"; allowed at {run.worst.name}: {show_pressure(allowed, system)}"
    return line_chart(
        lines,
        across=f"distance along the pipe, {display_unit(Dimension.LENGTH, system)}",
        up=f"pressure still to be lost, {display_unit(Dimension.PRESSURE, system)}",
        title=f"Pressure along {run.run.name}",
        description=said + against,
        height=height,
    )
