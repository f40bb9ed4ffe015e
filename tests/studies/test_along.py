"""Along the run: a gauge moved from place to place, and the pictures of it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.cli import main
from ventsize.report.chart import Line, line_chart
from ventsize.studies.along import along
from ventsize.studies.profile import marks_along

SCENARIOS = Path(__file__).parents[2] / "scenarios"
FT = 0.3048  # m


@pytest.mark.parametrize("name", ["attic-in-the-cold", "common-vent", "parallel-pipes", "two-sizes"])
def test_a_gauge_at_the_ends_shows_what_the_check_says(name: str) -> None:
    """At the collar the static pressure of the check, beyond an open end the open air's, with cooling and without."""
    inputs = read_inputs(SCENARIOS / f"{name}.toml")
    study = along(inputs)
    for cooling in (True, False):
        for run in check(inputs, cooling=cooling).runs:
            for rate in run.rates:
                mine = [r for r in study.of(run.run.name) if r.rate == rate.name]
                if not rate.flow.stream.mass_flow:
                    assert not mine
                    continue
                places = mine[0].pressure if cooling else mine[0].pressure_plain
                assert places[-1][0] == pytest.approx(run.run.straight_length)
                if mine[0].end == "outdoors":
                    assert places[-1][1] == 0.0
                if rate.static_pressure_at_appliance is not None and mine[0].start != "outdoors":
                    assert places[0][1] == pytest.approx(rate.static_pressure_at_appliance)


def test_pressures_fall_by_what_the_pieces_lose() -> None:
    """Between the ends of a straight vent of one size the gauge falls by loss less draft, the terminal's left out."""
    inputs = read_inputs(SCENARIOS / "old-two-inch-run.toml")
    run = next(run for run in check(inputs, cooling=False).runs if run.run.carries == "flue gas")
    flow = run.rates[0].flow
    places = along(inputs).of(run.run.name)[0].pressure_plain
    inside = [piece for piece in flow.pieces if piece.piece.kind not in ("terminal", "entrance")]
    fall = sum(piece.pressure_drop - piece.draft for piece in inside)
    assert places[0][1] - places[2 * len(inside) - 1][1] == pytest.approx(fall)


def test_as_text_and_json(capsys: pytest.CaptureFixture[str]) -> None:
    """Charts no wider than a terminal, with freezing on them; the same figures for other programs."""
    job = str(SCENARIOS / "attic-in-the-cold.toml")
    assert main(["along", job]) == 0
    text = capsys.readouterr().out
    assert all(len(line) <= 80 for line in text.splitlines())
    assert "W inside wall" in text and "F freezing" in text and "dashed: without cooling" in text
    assert main(["along", job, "--json"]) == 0
    shown = json.loads(capsys.readouterr().out)
    vent = shown["rates"][0]
    assert vent["temperatures"][0]["temperature_K"] > vent["temperatures"][-1]["temperature_K"]
    assert vent["static_pressure"] != vent["static_pressure_at_one_temperature"]


def test_marks_stand_where_elbows_and_joints_do() -> None:
    """By hand from the job files: feet of pipe before each elbow, and the tee in which two branches end."""
    found = {rate.run: rate.marks for rate in along(read_inputs(SCENARIOS / "common-vent.toml")).rates}
    expected = {
        "branch 1": [(2 * FT, "elbow"), (8 * FT, "joint")],
        "branch 2": [(3.5 * FT, "joint")],
        "common": [(0.0, "joint"), (12 * FT, "elbow")],
    }
    for run, marks in expected.items():
        assert [what for _, what in found[run]] == [what for _, what in marks]
        assert [at for at, _ in found[run]] == pytest.approx([at for at, _ in marks])
    branch = read_inputs(SCENARIOS / "common-vent.toml").graph.runs["branch 1"]
    backwards = marks_along(branch, ("boiler 1",), forward=False)
    assert [(what, pytest.approx(at)) for at, what in backwards] == [("joint", 0.0), ("elbow", 6 * FT)]
    two = along(read_inputs(SCENARIOS / "two-sizes.toml"))
    assert [what for _, what in two.of("vent")[0].marks] == ["elbow", "size change", "elbow"]
    assert not two.of("air")[0].marks  # counted


def test_each_mark_has_a_cell_of_its_own() -> None:
    """Elbows that stand together are as many marks side by side."""
    line = Line(name="", points=[(0.0, 1.0), (10.0, 2.0)])
    places = [(5.0, "e"), (5.0, "e"), (10.0, "j"), (10.0, "j")]
    axis = line_chart([line], width=60, height=8, across="ft", up="Pa", places=places)[-2]
    assert axis.count("e") == 2 and "ee" in axis and axis.endswith("jj")
