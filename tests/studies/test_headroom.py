"""Headroom: what it says is left is what the verdict turns at."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.studies.support import again, scenario
from ventsize.check.verdict import check
from ventsize.jobfile.job import Run
from ventsize.studies.headroom import headroom

FOOT = 0.3048


@pytest.mark.parametrize("name", ["counted-run", "two-sizes", "simple-pass", "within-by-table-over-by-calculation"])
def test_one_more_is_too_many(name: str) -> None:
    """With as many more of a fitting as said the run is within, with one more it is over."""
    inputs = scenario(name)
    for run, room in zip(inputs.job.runs, headroom(inputs), strict=True):
        if not run.counted:
            continue
        for each in room.rooms:
            for more, verdict in ((each.more, "within"), (each.more + 1, "over")):
                counts = dict(run.fittings or {})
                counts[each.fitting] = counts.get(each.fitting, 0) + more
                made = replace(run, fittings={key: n for key, n in counts.items() if n})
                runs = tuple(made if other is run else other for other in inputs.job.runs)
                whole = check(again(inputs, replace(inputs.job, runs=runs)))
                assert next(r for r in whole.runs if r.run.name == run.name).verdict == verdict


def test_chart_by_table() -> None:
    """26 ft allowed at 80 kBtu/h in 2 in, 3 ft an elbow: 26, 23, 20 … by hand from the demonstration table."""
    inputs = scenario("two-sizes")
    vent = next(iter(headroom(inputs)))
    line = next(line for line in vent.lines if line.label == "2 in")
    assert [point.by_table for point in line.points[:4]] == pytest.approx([n * FOOT for n in (26, 23, 20, 17)])
    assert vent.elbow == "elbow-90-long" and vent.elbows == 2


def test_chart_by_calculation() -> None:
    """At the length the chart gives, a run loses the allowance pressure at one rate, and no more at any."""
    inputs = scenario("two-sizes")
    air: Run = inputs.job.runs[1]
    chart = list(headroom(inputs))[1]
    line = next(line for line in chart.lines if line.label == "3 in")
    point = line.points[3]
    assert point.by_calculation is not None
    made = replace(air, straight=point.by_calculation, rise=0.0, fittings={"elbow-90-long": 3, "terminal-open": 1})
    whole = check(again(inputs, replace(inputs.job, runs=(inputs.job.runs[0], made))))
    rates = whole.runs[1].rates
    left = [(rate.budget_pressure or 0.0) - rate.counted_pressure for rate in rates]
    assert min(left) == pytest.approx(0.0, abs=1e-9)
