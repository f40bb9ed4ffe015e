"""The working: every printed line comes out of its own printed numbers, and the lines hang together."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest

from tests.check.jobs import TABLE, Data, job
from tests.studies.printed import FUNCTIONS, SYMBOL, Line, Reader, assert_comes_out, lines_of, put_in
from tests.studies.support import SCENARIOS, again, scenario
from ventsize.allowance.reading import table_from_data
from ventsize.check.inputs import Inputs, prepare
from ventsize.check.verdict import check
from ventsize.cli.command import main
from ventsize.finding import Finding, Outcome
from ventsize.jobfile.job import job_from_data
from ventsize.jobfile.problems import InputError
from ventsize.quantity import System
from ventsize.report.working import render
from ventsize.studies.working import working_of
from ventsize.studies.working.steps import Working

RANDOM_JOBS = 200
SQUARE_TO = {
    "up": ("north", "east"),
    "down": ("north", "east"),
    "north": ("up", "down", "east"),
    "east": ("up", "down", "north"),
}


def plain(inputs: Inputs) -> Inputs:
    """A job with its gas at one temperature: the form that formulas on a board can follow from end to end."""
    return again(inputs, replace(inputs.job, cooling=False))


def assert_hangs_together(lines: list[Line]) -> None:
    """What a line works out is what later lines put in for the same symbol, digit for digit."""
    known: dict[str, str] = {}
    for line in lines:
        for symbol in re.findall(SYMBOL, line.formula):
            if symbol in known and symbol not in FUNCTIONS and symbol != line.symbol:
                assert known[symbol] in line.put_in, (line, symbol, known[symbol])
        assert line.symbol not in known, f"{line.symbol} is worked out twice"
        known[line.symbol] = line.result


def every_working(inputs: Inputs) -> Iterator[list[Line]]:
    """The printed workings of a job: every run at every rate, and the first piece of each, in both systems."""
    found = check(inputs)
    for run in found.runs:
        for rate in run.rates:
            for piece in (None, 1):
                working = working_of(found, inputs, run=run.run.name, rate=rate.name, piece=piece)
                for system in System:
                    lines = list(lines_of(render(working, system)))
                    assert len(lines) == len(working.steps)
                    yield lines


@pytest.mark.parametrize("name", sorted(path.stem for path in SCENARIOS.glob("*.toml")))
def test_every_line_of_the_scenarios_comes_out(name: str) -> None:
    """The demonstration jobs: several appliances, loops, cooling and size changes among them."""
    for lines in every_working(scenario(name)):
        assert_hangs_together(lines)
        for line in lines:
            assert_comes_out(line)


def random_inputs(dice: random.Random) -> Inputs:
    """A job of one furnace and one vent, some of it at random."""
    heading = dice.choice(list(SQUARE_TO))
    pieces: list[Data] = [{"pipe": f"{dice.uniform(1, 30):.2f} ft", "heading": heading}]
    for _ in range(dice.randint(0, 5)):
        fitting = dice.choice(["elbow-90-long", "elbow-90-short", "coupling"])
        heading = heading if fitting == "coupling" else dice.choice(SQUARE_TO[heading])
        pieces.append({"fitting": fitting})
        pieces.append({"pipe": f"{dice.uniform(0.5, 25):.2f} ft", "heading": heading})
    pieces.append({"fitting": "terminal-open"})
    data = job(
        pieces,
        input=f"{dice.uniform(4, 160):.1f} kBtu/h",
        excess_air=round(dice.uniform(0.0, 1.5), 3),
        flue_temperature=f"{dice.uniform(70, 400):.1f} degF",
        altitude=f"{dice.uniform(0, 9000):.0f} ft",
        outdoor=f"{dice.uniform(-30, 65):.0f} degF",  # never warmer than the flue gas, which is refused
        size=dice.choice(["2 in", "3 in", "4 in"]),
    )
    data["appliance"][0]["fuel"] = dice.choice(["natural gas", "propane"])
    if dice.random() < 0.3:
        rate = data["appliance"][0]["rate"][0]
        del rate["excess_air"]
        rate["oxygen"] = f"{dice.uniform(3, 11):.1f} %"
    table = table_from_data(TABLE, file="table.toml")
    return prepare(job_from_data(data, file="test.toml"), file="test.toml", tables={"table.toml": table})


def test_every_line_of_random_jobs_comes_out() -> None:
    """Two hundred jobs, from laminar flow to fast, condensing and not, read back as printed."""
    dice = random.Random(1938)
    for _ in range(RANDOM_JOBS):
        for lines in every_working(random_inputs(dice)):
            assert_hangs_together(lines)
            for line in lines:
                assert_comes_out(line)


def followed(working: Working) -> dict[str, float]:
    """Every result by symbol, in SI, from the formulas and the givens alone: no result of the program is used.

    Where a formula has its own symbol on the right, it is solved by putting in what comes out, from 0.02 on.
    """
    known: dict[str, float] = {}
    for step, line in zip(working.steps, lines_of(render(working, System.SI)), strict=True):
        known |= {given.symbol: given.value for given in step.inputs if given.source and given.symbol != step.symbol}
        implicit = step.symbol in re.findall(SYMBOL, line.formula)
        known[step.symbol] = 0.02
        for _ in range(60 if implicit else 1):
            known[step.symbol] = Reader(put_in(line.formula, known)).value()
    return known


def test_the_formulas_alone_lead_from_the_givens_to_the_result() -> None:
    """Two hundred jobs followed from the input to the equivalent length without any of the program's own results."""
    dice = random.Random(1939)
    for _ in range(RANDOM_JOBS):
        inputs = plain(random_inputs(dice))
        found = check(inputs)
        run = found.runs[0].worst
        reached = followed(working_of(found, inputs))
        assert reached["m"] == pytest.approx(run.flow.stream.mass_flow, rel=1e-7)
        assert reached["Re"] == pytest.approx(run.flow.pieces[0].at.reynolds, rel=1e-7)
        assert reached["f"] == pytest.approx(run.flow.pieces[0].at.friction_factor, rel=1e-7)
        assert reached["Δp"] == pytest.approx(run.flow.pressure_drop, rel=1e-7)
        assert reached["L[e]"] == pytest.approx(run.equivalent_length, rel=1e-7)


def test_what_several_appliances_give_is_added_up() -> None:
    """In a common vent, the mass flow is the sum of the appliances'; and followed by the formulas it leads on."""
    inputs = plain(scenario("common-vent"))
    found = check(inputs)
    working = working_of(found, inputs, run="common", rate="boiler 1 high + boiler 2 high")
    given = [appliance.highest.gas.flue_mass_flow for appliance in found.appliances]
    assert working.steps[0].symbol == "m"
    assert followed(working)["m"] == pytest.approx(sum(given), rel=1e-9)


def test_a_wrong_line_is_found() -> None:
    """The calculator of this test would see a result that is off in its fourth digit."""
    with pytest.raises(AssertionError):
        assert_comes_out(Line("v", "m / A", "10 [kg/s] / 3 [m²]", "3.33433 [m/s]"))
    assert_comes_out(Line("v", "m / A", "10 [kg/s] / 3 [m²]", "3.33333 [m/s]"))


def test_known_constants_stand_in_the_working() -> None:
    """Methane's gross heat as ISO 6976 has it, 890.58 kJ/mol at 25 °C; the gas constant, 10.7316 psi·ft³/(lbmol·°R)."""
    inputs = scenario("simple-pass")
    working = working_of(check(inputs), inputs)
    heat = next(given for given in working.steps[0].inputs if given.symbol == "H[CH4]")
    assert heat.value == pytest.approx(890_580.0, rel=2e-4)
    assert "10.7316 [psi·ft³/(lbmol·°R)]" in render(working, System.US)


def test_what_is_not_there_is_said() -> None:
    """A run, rate or piece that the job does not have: a sentence naming those it has."""
    inputs = scenario("simple-pass")
    found = check(inputs)
    with pytest.raises(InputError, match="no run 'attic' .*'vent', 'air'"):
        working_of(found, inputs, run="attic")
    with pytest.raises(InputError, match="no rate 'medium' .*'high', 'low'"):
        working_of(found, inputs, rate="medium")
    with pytest.raises(InputError, match="no piece 9; expected 1 to 6"):
        working_of(found, inputs, piece=9)


def test_the_jobs_own_verdict_and_cautions_stand_beside_the_runs() -> None:
    """A run that is within in a job that is not: the working says both, and no caution of the check is lost."""
    inputs = scenario("simple-pass")
    found = check(inputs)
    over = Outcome(condition="length-allowed", state="not met", if_not="over", because=Finding("no-vent"))
    other = replace(found, decides=over)
    said = render(working_of(other, inputs, run="vent"), System.US)
    assert "within: Equivalent length" in said
    assert "The job as a whole is not this run's verdict, but over: No run carries its flue gas." in " ".join(
        said.split()
    )
    kept = working_of(found, inputs, run="vent").findings
    assert [f for f in found.findings if f not in kept] == [f for f in found.findings if f.where.run == "air"]


def test_the_verb(capsys: pytest.CaptureFixture[str]) -> None:
    """On the command line, one piece in SI: its pressure drop in pascal; a wrong name is input that cannot be read."""
    job_file = str(SCENARIOS / "simple-pass.toml")
    assert main(["working", job_file, "--run", "vent", "--rate", "low", "--piece", "2", "--units", "si"]) == 0
    assert "vent at low, 2. elbow-90-long" in capsys.readouterr().out
    assert main(["working", job_file, "--run", "flue"]) == 2
    assert "there is no run 'flue'" in capsys.readouterr().err


def test_as_a_paper(tmp_path: Path) -> None:
    """Every line's formula is set on the page, every given with its source; the job's file is not written over."""
    job_file, page = str(SCENARIOS / "simple-pass.toml"), tmp_path / "working.html"
    assert main(["working", job_file, "--html", str(page), "--pdf", str(tmp_path / "working.pdf")]) == 0
    text = unescape(page.read_text(encoding="utf-8"))
    found = check(scenario("simple-pass"))
    steps = working_of(found, scenario("simple-pass")).steps
    assert text.count("<math") + text.count("<svg") >= len(steps)
    assert all(given.source in text for step in steps for given in step.inputs if given.source)
    own = tmp_path / "job.toml"
    own.write_bytes((SCENARIOS / "simple-pass.toml").read_bytes())
    assert main(["working", str(own), "--html", str(own), "--replace"]) == 2
    assert own.read_bytes() == (SCENARIOS / "simple-pass.toml").read_bytes()
