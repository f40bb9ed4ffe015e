"""Rows that give a pressure instead of a length: whether a run loses no more than its row permits."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from ventsize.allowance.answer import PRESSURE
from ventsize.check.judging import Judged
from ventsize.check.paths import ways_using
from ventsize.finding import Finding, Outcome, Value, Where, pressure
from ventsize.flow.rate_flow import RateFlow
from ventsize.run.model import Run


def pressure_allowed(judged: Judged, run: Run, rates: Sequence[RateFlow]) -> Iterator[Outcome]:
    """The condition of a run whose row gives a pressure, at the highest rate; nothing where no row does.

    A run that is part of a way is judged with all of the way. Draft counts only where it hinders.
    """
    rate = max(rates, key=lambda one: one.runs[run.name].stream.mass_flow)
    where = Where(run=run.name, rate=rate.firing.name)
    ways = ways_using(run, judged.ways)
    for way in ways:
        if limits := judged.pressures(way):
            yield _outcome(way.runs, rate, min(limits), replace(where, way=way.names))
    answer = judged.of[run.name].answer
    if not ways and answer is not None and answer.allowable_pressure is not None:
        yield _outcome(judged.of[run.name].runs, rate, answer.allowable_pressure, where)


def _outcome(runs: Sequence[Run], rate: RateFlow, limit: float, where: Where) -> Outcome:
    flows = [rate.runs[run.name] for run in runs]
    hindering = max(0.0, -math.fsum(flow.draft for flow in flows))
    nominal = math.fsum(flow.pressure_drop for flow in flows) + hindering
    high = math.fsum(flow.pressure_drop_high for flow in flows) + hindering
    values: dict[str, Value] = {"found": pressure(nominal), "high": pressure(high), "limit": pressure(limit)}
    if not (math.isfinite(nominal) and math.isfinite(high)):
        because = Finding("pressure-not-known", where, {"limit": pressure(limit)})
        return Outcome(condition=PRESSURE, state="not known", because=because)
    if nominal > limit:
        return Outcome(
            condition=PRESSURE, state="not met", because=Finding("pressure-over", where, values), if_not="over"
        )
    if high > limit:
        return Outcome(condition=PRESSURE, state="not known", because=Finding("pressure-uncertain", where, values))
    return Outcome(condition=PRESSURE, state="met", because=Finding("pressure-within", where, values))
