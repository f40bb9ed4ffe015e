"""Headroom: what it says is left is what the verdict turns at."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from tests.studies.support import again, scenario
from ventsize.allowance.model import Limits
from ventsize.catalog.folders import shipped_folder
from ventsize.check.inputs import Inputs, prepare
from ventsize.check.variants import Variants
from ventsize.check.verdict import check
from ventsize.cli import main
from ventsize.jobfile.job import FittingPiece, PipePiece, Run
from ventsize.studies.headroom import headroom
from ventsize.studies.options.choices import sizes_offered

FOOT = 0.3048


def with_more(run: Run, fitting: str, more: int) -> Run:
    """A run with fittings added by hand: counted, or put in at the appliance, in the run's first size.

    The headings of a laid-out run are left out, since new elbows turn it; no table looks at them.
    """
    if run.pieces is None:
        counts = dict(run.fittings or {})
        counts[fitting] = counts.get(fitting, 0) + more
        return replace(run, fittings={name: count for name, count in counts.items() if count})
    pieces = [replace(p, heading=None) if isinstance(p, PipePiece) else p for p in run.pieces]
    return replace(run, pieces=(*(FittingPiece(fitting=fitting),) * more, *pieces))


# How many fittings are tried at both ends of every "so many more": the run's own elbows, and the three common ones.
@pytest.mark.parametrize(
    ("name", "rooms"),
    [("counted-run", 6), ("two-sizes", 6), ("simple-pass", 6), ("within-by-table-over-by-calculation", 3)],
)
def test_one_more_is_too_many(name: str, rooms: int) -> None:
    """With as many more of a fitting as said the run is within, with one more it is over."""
    inputs, tried = scenario(name), 0
    for run, room in zip(inputs.job.runs, headroom(inputs), strict=True):
        for each in room.rooms:
            tried += 1
            for more, verdict in ((each.more, "within"), (each.more + 1, "over")):
                made = with_more(run, each.fitting, more)
                runs = tuple(made if other is run else other for other in inputs.job.runs)
                whole = check(again(inputs, replace(inputs.job, runs=runs)))
                assert next(r for r in whole.runs if r.run.name == run.name).verdict == verdict
    assert tried == rooms


def test_a_limit_of_elbows_leaves_no_room_for_more() -> None:
    """The vent's own two and the page's two: not one more, long or short, whatever length is left; a run with more has
    no length left at all.
    """
    inputs = scenario("simple-pass")
    limited = {name: replace(table, limits=Limits(most_elbows=2)) for name, table in inputs.tables.items()}
    vent, air = headroom(replace(inputs, tables=limited))
    assert vent.verdict == "within" and [room.more for room in vent.rooms] == [0] * len(vent.rooms)
    assert air.verdict == "over" and air.left is None and air.rooms == ()
    assert all((point.by_table is None) == (point.elbows > 2) for line in vent.lines for point in line.points)


def test_chart_by_table() -> None:
    """26 ft allowed at 80 kBtu/h in 2 in, 3 ft an elbow: 26, 23, 20 … by hand from the demonstration table."""
    inputs = scenario("two-sizes")
    vent = next(iter(headroom(inputs)))
    line = next(line for line in vent.lines if line.label == "2 in")
    assert [point.by_table for point in line.points[:4]] == pytest.approx([n * FOOT for n in (26, 23, 20, 17)])
    assert vent.elbow == "elbow-90-long" and vent.elbows == 2


@pytest.mark.parametrize(("cooling", "off"), [(False, 1e-9), (True, 0.2)])
def test_chart_by_calculation(cooling: bool, off: float) -> None:
    """At the length the chart gives, a run loses the allowance pressure at one rate, and no more at any.

    Where the air warms, a foot costs less or more by where it is: then within a fraction of a pascal.
    """
    inputs = scenario("two-sizes")
    inputs = again(inputs, replace(inputs.job, cooling=cooling))
    air: Run = inputs.job.runs[1]
    chart = list(headroom(inputs))[1]
    line = next(line for line in chart.lines if line.label == "3 in")
    point = line.points[3]
    assert point.by_calculation is not None
    made = replace(air, straight=point.by_calculation, rise=0.0, fittings={"elbow-90-long": 3, "terminal-open": 1})
    whole = check(again(inputs, replace(inputs.job, runs=(inputs.job.runs[0], made))))
    rates = whole.runs[1].rates
    left = [(rate.budget_pressure or 0.0) - rate.counted_pressure for rate in rates]
    assert min(left) == pytest.approx(0.0, abs=off)


def two_tables(first: str) -> Inputs:
    """A job whose vent and air pipe have a table each, named by the job alone, with this one listed first.

    The vent's counts an elbow of 45° as a whole one; the air pipe's counts two of them as one.
    """
    base = scenario("within-by-table-over-by-calculation")
    table = next(iter(base.tables.values()))
    tables = {
        "vent": replace(table, applies_to=("flue gas",), elbows_each={"elbow-45": 1.0}),
        "air": replace(table, applies_to=("combustion air",), elbows_each={}),
    }
    names = (first, *(name for name in tables if name != first))
    vent = replace(
        base.job.runs[0],
        table=None,
        pieces=None,
        straight=10.0 * FOOT,
        rise=0.0,
        fittings={"elbow-45": 4, "terminal-open": 1},
    )
    job = replace(base.job, tables=names, runs=(vent, *(replace(run, table=None) for run in base.job.runs[1:])))
    return prepare(job, file="job.toml", tables=tables)


@pytest.mark.parametrize("first", ["vent", "air"])
def test_elbows_are_counted_as_the_table_that_judges_counts_them(first: str) -> None:
    """Four elbows of 45° are four by the vent's own table, whichever table the job lists first."""
    inputs = two_tables(first)
    judged = Variants(inputs).judge({}).run(inputs.job.runs[0].name)
    assert judged is not None and judged.table_file == "vent"
    assert next(iter(headroom(inputs))).elbows == 4


@pytest.mark.parametrize("first", ["vent", "air"])
def test_sizes_offered_are_those_of_the_table_that_judges(first: str) -> None:
    """Not those of a table that the run does not go by, nor of one that the job must choose first."""
    inputs = two_tables(first)
    both = dict(inputs.tables)
    both["vent"] = replace(both["vent"], rows=tuple(row for row in both["vent"].rows if row.size < 0.06))
    inputs = prepare(inputs.job, file="job.toml", tables=both)
    assert sizes_offered(inputs.job.runs[0], inputs) == pytest.approx((2 * 0.0254,))
    both["air"] = replace(both["air"], applies_to=("flue gas", "combustion air"))
    inputs = prepare(inputs.job, file="job.toml", tables=both)
    assert sizes_offered(inputs.job.runs[0], inputs) == (inputs.job.runs[0].size,)


@pytest.mark.parametrize("verb", ["headroom", "repairs"])
def test_a_job_that_must_not_run_says_so_before_its_runs(
    verb: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A trap blown out is no run's length: every run within, and the job unsafe."""
    text = (shipped_folder("scenarios") / "simple-pass.toml").read_text(encoding="utf-8")
    job = tmp_path / "job.toml"
    job.write_text(text.replace("[[appliance]]", '[[appliance]]\ntrap_seal = "0.01 in"', 1), encoding="utf-8")
    assert main([verb, str(job)]) == 0
    first, _, rest = capsys.readouterr().out.partition("vent: WITHIN")
    assert first.startswith("UNSAFE") and rest
    assert main([verb, str(job), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert (found["verdict"], {run["verdict"] for run in found["runs"]}) == ("unsafe", {"within"})
