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
from ventsize.flow.friction import friction_factor
from ventsize.jobfile.problems import InputError
from ventsize.quantity import System
from ventsize.report.sweeps import as_csv, as_object, render
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
    assert tuple(KINDS) == NAMED


@pytest.mark.parametrize("kind", KINDS)
def test_every_sweep_draws_and_speaks(kind: str) -> None:
    """Lines or bars, a sentence on what to notice, in 80 columns; JSON and CSV of the same figures."""
    found = sweep(kind, scenario("simple-pass"))
    text = render(found, System.US)
    assert found.notice and (found.series or found.bars)
    assert max(map(len, text.splitlines())) <= 80
    json.dumps(as_object(found), allow_nan=False)
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
    assert "nobody can say" in found.why_unsure
    assert any("Unsure: " in said for said in found.notice)


def test_every_method_has_its_source() -> None:
    """Outliers are shown and said not to count; the nominal one is named."""
    found = sweep("elbow-by-method", scenario("old-two-inch-run"), fitting="elbow-90-short")
    assert len(found.bars) >= 10 and all(bar.source for bar in found.bars)
    assert [bar.value for bar in found.bars[:-1]] == sorted(bar.value for bar in found.bars[:-1])
    swamee = next(bar for bar in found.bars if bar.name == "Swamee bend")
    assert "not counted" in swamee.remark and "outlier" in swamee.source
    assert sum("taken" in bar.remark for bar in found.bars) == 1


def test_deductions_stand_beside_the_calculation() -> None:
    """The table's own lengths, as typed; a screened end over the plain end that the table includes."""
    found = sweep("table-and-calculation", scenario("simple-pass"))
    beside = {bar.name: bar.beside for bar in found.bars}
    assert beside["elbow-90-short"] == pytest.approx(8 * FOOT)
    assert beside["elbow-90-long"] == pytest.approx(4.5 * FOOT)
    assert "increaser" not in beside and "terminal-open" not in beside
    assert "over a plain open end" in next(bar.source for bar in found.bars if bar.name == "terminal-screened")


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
