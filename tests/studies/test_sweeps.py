"""Sweeps: every point is what the solver says of the job so changed, and the sentences follow from the figures."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

import pytest

from tests.studies.support import again, scenario
from ventsize.check.inputs import Inputs
from ventsize.check.verdict import check
from ventsize.cli import main
from ventsize.cli.sweep import KINDS as NAMED
from ventsize.finding import Amount
from ventsize.flow.friction import friction_factor
from ventsize.jobfile.problems import InputError
from ventsize.quantity import System
from ventsize.report.drawing import Box, Words
from ventsize.report.paper import rendered
from ventsize.report.sweeps import as_csv, as_object, remark_of, render, source_of
from ventsize.report.sweeps_paper import sweep_drawing, sweep_paper
from ventsize.report.wording.sweeps import QUESTIONS, TITLES
from ventsize.studies.sweeps import KINDS, Sweep, sweep
from ventsize.studies.sweeps.subject import scaled

FOOT = 0.3048


def plain(name: str) -> Inputs:
    """A demonstration job with its gas at one temperature, where a foot costs the same wherever it is."""
    inputs = scenario(name)
    return again(inputs, replace(inputs.job, cooling=False))


def points(found: Sweep, name: str) -> dict[float, float]:
    """A line's points."""
    return dict(next(series for series in found.series if series.name == name).points)


def test_the_command_line_names_what_there_is() -> None:
    """The list of the verb is written out apart from the registry."""
    assert tuple(KINDS) == NAMED == tuple(QUESTIONS) == tuple(TITLES)


@pytest.mark.parametrize("kind", KINDS)
def test_every_sweep_draws_and_speaks(kind: str) -> None:
    """Lines or bars, a sentence on what to notice, in 80 columns; JSON and CSV of the same figures."""
    found = sweep(kind, scenario("simple-pass"))
    text = render(found, System.US)
    assert found.notice and (found.series or found.bars)
    assert max(map(len, text.splitlines())) <= 80
    json.dumps(as_object(found, System.SI), allow_nan=False)
    rows = list(csv.reader(io.StringIO(as_csv(found, System.SI))))
    assert len(rows) > 3 and len({len(row) for row in rows}) == 1


def test_an_elbow_is_worth_what_one_more_costs_the_run() -> None:
    """K D / f at the rate, against two checks of the run: with the elbow, and with that much pipe in its place."""
    inputs = plain("counted-run")
    run = inputs.job.runs[0]
    found = sweep("elbow-by-rate", inputs, run=run.name, fitting="elbow-90-short")
    before = check(inputs).runs[0]
    more = replace(
        run, fittings={**(run.fittings or {}), "elbow-90-short": (run.fittings or {}).get("elbow-90-short", 0) + 1}
    )
    with_it = check(again(inputs, replace(inputs.job, runs=(more, *inputs.job.runs[1:])))).runs[0]
    at = min(points(found, f"{before.reference_section.label} pipe").items(),
             key=lambda p: abs(p[0] - found.here[0].at))  # fmt: skip
    feet = (with_it.worst.flow.pressure_drop - before.worst.flow.pressure_drop) / before.worst.reference.gradient
    assert at[1] == pytest.approx(feet, rel=0.02)  # the swept input next to the rate's is not the rate's


def test_drop_by_flow_is_the_job_at_that_input() -> None:
    """A point of the line against the job written with that input."""
    inputs = scenario("old-two-inch-run")
    found = sweep("drop-by-flow", inputs)
    half = check(again(inputs, scaled(inputs.job, 0.5))).runs[0].rates[0].flow
    assert points(found, "by calculation")[half.stream.volume_flow] == pytest.approx(half.pressure_drop)


def test_the_budget_is_used_up_exactly() -> None:
    """Pipe as long as the line says, with so many elbows, loses the allowance pressure."""
    inputs = plain("counted-run")
    run = inputs.job.runs[0]
    found = sweep("length-by-elbows", inputs, run=run.name)
    elbow = found.series[0].name
    for count, length in list(dict(found.series[0].points).items())[:4]:
        others = {n: c for n, c in (run.fittings or {}).items() if not n.startswith("elbow")}
        typed = replace(run, straight=length, rise=None, fittings={**others, elbow: int(count)})
        judged = check(again(inputs, replace(inputs.job, runs=(typed, *inputs.job.runs[1:])))).runs[0].worst
        assert judged.flow.pressure_drop == pytest.approx(judged.budget_pressure or 0.0, rel=1e-6)


def test_altitude_thins_the_gas() -> None:
    """Turbulent loss at one mass flow goes nearly with one over the pressure: US Standard Atmosphere 1976 has
    0.68783 of sea level's at 10,000 ft. Friction falls a little with it, hence 2 %; derated inputs are less."""
    found = sweep("drop-by-altitude", scenario("simple-pass"))
    same = points(found, "same input")
    assert same[3048.0] / same[0.0] == pytest.approx(1 / 0.68783, rel=0.08)
    assert (
        points(found, "derated, whole altitude")[3048.0] < points(found, "derated, part above")[3048.0] < same[3048.0]
    )


def test_the_step_to_turbulence_is_marked_unsure() -> None:
    """64/Re before it, the solver's own after it, and the stretch to 4000 named."""
    found = sweep("laminar-turbulent", scenario("low-fire-near-transition"))
    figured = points(found, "as figured")
    rough = check(scenario("low-fire-near-transition")).runs[0].reference_section
    for reynolds, factor in figured.items():
        assert factor == friction_factor(reynolds=reynolds, relative_roughness=rough.roughness / rough.bore)
    assert figured[500.0] == pytest.approx(0.128)
    assert found.unsure == (2040.0, 4000.0)
    assert "sweep-rate-unsure" in codes(found)


def test_every_method_has_its_source() -> None:
    """Outliers are shown and said not to count; the nominal one is named."""
    found = sweep("elbow-by-method", scenario("old-two-inch-run"), fitting="elbow-90-short")
    assert len(found.bars) >= 10 and all(source_of(bar) for bar in found.bars)
    assert [bar.value for bar in found.bars[:-1]] == sorted(bar.value for bar in found.bars[:-1])
    swamee = next(bar for bar in found.bars if bar.name == "Swamee bend")
    assert "not counted" in remark_of(swamee) and "outlier" in source_of(swamee)
    assert sum("taken" in remark_of(bar) for bar in found.bars) == 1


def test_deductions_stand_beside_the_calculation() -> None:
    """The table's own lengths, as typed; a screened end over the plain end that the table includes."""
    found = sweep("table-and-calculation", scenario("simple-pass"))
    beside = {bar.name: bar.beside for bar in found.bars}
    assert beside["elbow-90-short"] == pytest.approx(8 * FOOT)
    assert beside["elbow-90-long"] == pytest.approx(4.5 * FOOT)
    assert "increaser" not in beside and "terminal-open" not in beside
    assert next(bar for bar in found.bars if bar.name == "terminal-screened").over_open_end


@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("kind", KINDS)
def test_every_sweep_is_a_picture(kind: str, large: bool) -> None:
    """Each line and bar by its name, each place where the job stands, and a text for who cannot see it."""
    found = sweep(kind, scenario("simple-pass"))
    drawing = sweep_drawing(found, System.US, large=large)
    words = " ".join(mark.text for mark in drawing.marks if isinstance(mark, Words))
    for one in (*found.series, *found.here):
        assert one.name in words
    assert len(found.bars) <= sum(isinstance(mark, Box) for mark in drawing.marks)
    assert drawing.description and rendered(sweep_paper(found, System.SI), "html")


def codes(found: Sweep) -> list[str]:
    """What there is to notice, by code."""
    return [finding.code for finding in found.notice]


def value(found: Sweep, name: str) -> float:
    """A number of the first thing to notice [SI]."""
    given = found.notice[0].values[name]
    assert not isinstance(given, str | tuple)
    return given.value if isinstance(given, Amount) else given


def noticed(kind: str, job: str, factor: float = 1.0, **options: str) -> Sweep:
    """A sweep of a scenario, its inputs times a factor."""
    inputs = scenario(job)
    return sweep(kind, again(inputs, scaled(inputs.job, factor)), **options)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("job", "factor", "fitting", "code"),
    [
        ("simple-pass", 1.0, "elbow-90-long", "sweep-feet-hold"),
        ("simple-pass", 1.0, "coupling", "sweep-feet-move"),
        ("simple-pass", 0.3, "elbow-90-long", "sweep-feet-laminar"),
    ],
)
def test_feet_hold_where_k_and_friction_change_alike(job: str, factor: float, fitting: str, code: str) -> None:
    """Feet are K D / f. A fixed K does not follow the friction factor; laminar friction follows another law."""
    found = noticed("elbow-by-rate", job, factor, fitting=fitting)
    assert codes(found)[0] == code
    bore = check(scenario(job)).runs[0].reference_section.bore
    assert value(found, "full") == pytest.approx(value(found, "k") * bore / value(found, "f"))
    assert value(found, "half") == pytest.approx(value(found, "k_half") * bore / value(found, "f_half"))
    if code != "sweep-feet-laminar":
        assert (abs(value(found, "half") / value(found, "full") - 1.0) < 0.15) == (code == "sweep-feet-hold")


def test_the_table_has_a_line_for_each_size_drawn() -> None:
    """A table that deducts by size: as many dashed lines as solid ones, each at its own length."""
    found = sweep("elbow-by-rate", scenario("simple-pass"), fitting="elbow-90-short")
    table = {series.name: series.points[0][1] for series in found.series if series.beside}
    assert len(table) == len(found.series) / 2
    assert table["the table, 3 in"] == pytest.approx(8 * FOOT) != table["the table, 2 in"]


@pytest.mark.parametrize(
    ("job", "factor", "fitting", "code"),
    [
        ("simple-pass", 1.0, "elbow-90-long", "sweep-size-grows"),
        ("propane-metric", 1.0, "elbow-90-short", "sweep-size-grows"),
        ("simple-pass", 0.2, "coupling", "sweep-size-mixed"),
    ],
)
def test_feet_grow_with_the_size_where_the_points_do(job: str, factor: float, fitting: str, code: str) -> None:
    """In laminar flow f goes with the bore: what has a fixed K is worth the same feet in every size."""
    found = noticed("elbow-by-size", job, factor, fitting=fitting)
    feet = list(points(found, "by calculation").values())
    assert codes(found) == [code]
    assert (feet[-1] > 1.001 * feet[-2]) == (code == "sweep-size-grows")


@pytest.mark.parametrize(
    ("job", "run", "expected"),
    [
        ("simple-pass", "vent", ["sweep-temperature-alike", "sweep-temperature-water"]),
        ("simple-pass", "air", ["sweep-temperature-still"]),
        ("propane-metric", "vent", ["sweep-temperature-alike", "sweep-temperature-water"]),
    ],
)
def test_temperature_moves_the_flue_gas_only(job: str, run: str, expected: list[str]) -> None:
    assert codes(noticed("elbow-by-temperature", job, run=run)) == expected


def test_what_the_table_lists_by_size_is_marks_with_nothing_between() -> None:
    """No table has a length for 2 3/4 in pipe: a letter at each size listed, and no dash from one to the next."""
    found = sweep("elbow-by-size", scenario("simple-pass"))
    table = next(series for series in found.series if series.beside)
    assert table.apart and len(table.points) == 4
    drawn = [line for line in render(found, System.US).splitlines() if "│" in line or "┤" in line]
    assert sum(line.count("D") for line in drawn) == 4


def test_the_jobs_rates_lie_within_the_friction_chart() -> None:
    """However fast they are."""
    for job in ("simple-pass", "common-vent"):
        found = sweep("laminar-turbulent", scenario(job))
        assert max(here.at for here in found.here) < max(x for x, _ in found.series[0].points)


def test_thin_air_and_vapor_make_the_mountain() -> None:
    """Where water condenses at sea level, less does on the mountain: the loss goes with m²/ρ, friction a little less.

    In an air pipe, and in flue gas too hot to condense (of dry air, not cooled), only the thin air is left.
    """
    wet, hot = noticed("drop-by-altitude", "simple-pass"), scenario("propane-metric")
    site = replace(hot.job.site, relative_humidity=0.0)
    dry = sweep("drop-by-altitude", again(hot, replace(hot.job, site=site, cooling=False)))
    air = noticed("drop-by-altitude", "simple-pass", run="air")
    assert [codes(one)[0] for one in (wet, dry, air)] == [
        "sweep-altitude-vapor", "sweep-altitude-thin", "sweep-altitude-thin"]  # fmt: skip
    for found in (wet, dry, air):
        parts = value(found, "thinner") * (1.0 + value(found, "more_gas")) ** 2
        assert value(found, "times") == pytest.approx(parts, rel=0.03)
    assert value(wet, "times") > value(dry, "times")


@pytest.mark.parametrize(
    ("feet", "code"), [(20.0, "sweep-table-above"), (7.0, "sweep-table-inside"), (1.0, "sweep-table-below")]
)
def test_the_table_stands_where_it_stands(feet: float, code: str) -> None:
    """Above, inside or below the band of the methods that are counted, in both sweeps that set them side by side."""
    inputs = scenario("simple-pass")
    (file, table), name = next(iter(inputs.tables.items())), "elbow-90-short"
    stated = replace(table.deductions[name], length=feet * FOOT, by_size=())
    inputs = replace(inputs, tables={file: replace(table, deductions={**table.deductions, name: stated})})
    found = sweep("elbow-by-method", inputs, fitting=name)
    assert code in codes(found)
    beside = sweep("table-and-calculation", inputs)
    assert any(n.code == f"{code}-those" and name in n.values["fittings"] for n in beside.notice)  # type: ignore[operator]


@pytest.mark.parametrize(
    ("factor", "code"), [(1.0, "sweep-flow-square"), (0.3, "sweep-flow-laminar"), (0.05, "sweep-flow-less")]
)
def test_low_fire_is_easy_where_the_loss_goes_with_the_square(factor: float, code: str) -> None:
    """Turbulent: nearly the square. Laminar: nearly the flow itself (Hagen, Poiseuille). Across the step: neither."""
    found = noticed("drop-by-flow", "simple-pass", factor)
    assert codes(found)[0] == code
    assert 2.0 ** -value(found, "power") == pytest.approx(value(found, "share"))


@pytest.mark.parametrize(("factor", "code"), [(1.0, "turbulent"), (0.3, "unsure"), (0.15, "laminar")])
def test_each_rate_is_said_to_be_what_it_is(factor: float, code: str) -> None:
    found = noticed("laminar-turbulent", "simple-pass", factor)
    assert codes(found)[1] == f"sweep-rate-{code}"


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"run": "wnet"}, "there is no run 'wnet'; expected perhaps 'vent'"),
        ({"rate": "hihg"}, "there is no rate 'hihg'; expected perhaps 'high'"),
        ({"fitting": "elbow-91"}, "unknown fitting 'elbow-91'"),
        ({"fitting": "reducer"}, "reducer has no one size"),
    ],
)
def test_what_is_not_there_is_said(options: dict[str, str], said: str) -> None:
    """One sentence each."""
    with pytest.raises(InputError, match=said):
        sweep("elbow-by-rate", scenario("simple-pass"), **options)  # type: ignore[arg-type]


def test_a_fixed_coefficient_has_no_methods() -> None:
    """Said, not drawn as one bar."""
    with pytest.raises(InputError, match="fixed coefficient"):
        sweep("elbow-by-method", scenario("simple-pass"), fitting="coupling")


def test_the_verb(capsys: pytest.CaptureFixture[str]) -> None:
    """Text, JSON and CSV; a fault is one line on standard error and status 2."""
    job = "scenarios/simple-pass.toml"
    assert main(["sweep", "drop-by-flow", job, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["sweep"] == "drop-by-flow"
    assert main(["sweep", "elbow-by-size", job, "--csv", "--units", "si"]) == 0
    assert capsys.readouterr().out.startswith("nominal size [mm]")
    assert main(["sweep", "elbow-by-size", "no-such-job.toml"]) == 2
    assert "no such file" in capsys.readouterr().err
