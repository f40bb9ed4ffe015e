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
from ventsize.gas.condensation import dew_point
from ventsize.jobfile.job import job_from_data
from ventsize.jobfile.problems import InputError
from ventsize.quantity import System
from ventsize.quantity.board import Kind
from ventsize.report.working import render
from ventsize.studies.working import working_of
from ventsize.studies.working.gases import saturation_steps
from ventsize.studies.working.steps import Given, Working

RANDOM_JOBS = 120
RESULTS = {"Δp", "B", *(f"Δp[{number}]" for number in range(1, 40))}  # they stand first, whatever else takes them
SQUARE_TO = {
    "up": ("north", "east"),
    "down": ("north", "east"),
    "north": ("up", "down", "east"),
    "east": ("up", "down", "north"),
}


def plain(inputs: Inputs) -> Inputs:
    """A job with its gas at one temperature: the form that formulas on a board can follow from end to end."""
    return again(inputs, replace(inputs.job, cooling=False))


def assert_hangs_together(lines: list[Line], given: set[str]) -> None:
    """What a line works out is what others put in for its symbol, digit for digit, and stands after them.

    given: symbols that a line may take from elsewhere.
    """
    made = {line.symbol: line for line in lines}
    assert len(made) == len(lines), "a number is worked out twice"
    for at, line in enumerate(lines):
        for symbol in set(re.findall(SYMBOL, line.formula)) - {*FUNCTIONS, line.symbol, "C"}:
            if symbol in made:
                assert made[symbol].result in line.put_in, (line, symbol)
                assert lines.index(made[symbol]) > at or symbol in RESULTS, (line, symbol)
            else:
                assert symbol in given, (line, symbol)


def every_working(inputs: Inputs) -> Iterator[list[Line]]:
    """The printed workings of a job: every run at every rate, and the first piece of each, in both systems."""
    found = check(inputs)
    for run in found.runs:
        for rate in run.rates:
            for piece, back_to in ((None, None), (None, "combustion"), (1, None)):
                working = working_of(found, inputs, run=run.run.name, rate=rate.name, piece=piece, back_to=back_to)
                given = {given.symbol for step in working.steps for given in step.inputs if given.source}
                for system in System:
                    lines = list(lines_of(render(working, system)))
                    assert len(lines) == len(working.steps)
                    assert_hangs_together(lines, given)
                    yield lines


@pytest.mark.parametrize("name", sorted(path.stem for path in SCENARIOS.glob("*.toml")))
def test_every_line_of_the_scenarios_comes_out(name: str) -> None:
    """The demonstration jobs: several appliances, loops, cooling and size changes among them."""
    for lines in every_working(scenario(name)):
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
    """A hundred and twenty jobs, from laminar flow to fast, condensing and not, read back as printed."""
    dice = random.Random(1938)
    for _ in range(RANDOM_JOBS):
        for lines in every_working(random_inputs(dice)):
            for line in lines:
                assert_comes_out(line)


def followed(working: Working) -> dict[str, float]:
    """Every result by symbol, in SI, from the formulas and the givens alone: no result of the program is used.

    Where a formula has its own symbol on the right, it is solved by putting in what comes out, from 0.02 on.
    """
    known: dict[str, float] = {}
    waiting = list(zip(working.steps, lines_of(render(working, System.SI)), strict=True))
    while waiting:
        step, line = waiting.pop()
        symbols = set(re.findall(SYMBOL, line.formula)) - {*FUNCTIONS}
        known |= {given.symbol: given.value for given in step.inputs if given.source and given.symbol != step.symbol}
        if symbols - {*known, step.symbol}:
            waiting.insert(0, (step, line))
            continue
        known[step.symbol] = 0.02
        for _ in range(60 if step.symbol in symbols else 1):
            known[step.symbol] = Reader(put_in(line.formula, known)).value()
    return known


def test_the_formulas_alone_lead_from_the_givens_to_the_result() -> None:
    """Followed from the input to the equivalent length without any of the program's own results."""
    dice = random.Random(1939)
    for _ in range(RANDOM_JOBS):
        inputs = plain(random_inputs(dice))
        found = check(inputs)
        run = found.runs[0].worst
        reached = followed(working_of(found, inputs, back_to="combustion"))
        assert reached["m"] == pytest.approx(run.flow.stream.mass_flow, rel=1e-7)
        assert reached["Re"] == pytest.approx(run.flow.pieces[0].at.reynolds, rel=1e-7)
        assert reached["f"] == pytest.approx(run.flow.pieces[0].at.friction_factor, rel=1e-7)
        assert reached["Δp"] == pytest.approx(run.flow.pressure_drop, rel=1e-7)
        assert reached["L[e]"] == pytest.approx(run.equivalent_length, rel=1e-7)


def test_what_several_appliances_give_is_added_up() -> None:
    """In a common vent, the mass flow is the sum of the appliances'; and followed by the formulas it leads on."""
    inputs = plain(scenario("common-vent"))
    found = check(inputs)
    working = working_of(found, inputs, run="common", rate="boiler 1 high + boiler 2 high", back_to="gas")
    given = [appliance.highest.gas.flue_mass_flow for appliance in found.appliances]
    assert followed(working)["m"] == pytest.approx(sum(given), rel=1e-9)


def test_a_wrong_line_is_found() -> None:
    """The calculator of this test would see a result that is off in its fourth digit."""
    with pytest.raises(AssertionError):
        assert_comes_out(Line("v", "m / A", "10 [kg/s] / 3 [m²]", "3.33433 [m/s]"))
    assert_comes_out(Line("v", "m / A", "10 [kg/s] / 3 [m²]", "3.33333 [m/s]"))


def test_known_constants_stand_in_the_working() -> None:
    """Methane's gross heat as ISO 6976 has it, 890.58 kJ/mol at 25 °C; the gas constant, 10.7316 psi·ft³/(lbmol·°R)."""
    inputs = scenario("simple-pass")
    working = working_of(check(inputs), inputs, back_to="combustion")
    heat = next(given for step in working.steps for given in step.inputs if given.symbol == "H[CH4]")
    assert heat.value == pytest.approx(890_580.0, rel=2e-4)
    assert "10.7316 [psi·ft³/(lbmol·°R)]" in render(working, System.US)


def test_an_elbows_coefficient_is_opened_with_its_formula() -> None:
    """Hooper 1981, long 90s: K1 = 800, K∞ = 0.2; by hand 800 / Re + 0.2 (1 + 1 / D) with D in inches."""
    inputs = scenario("simple-pass")
    found = check(inputs)
    working = working_of(found, inputs, piece=4, number="K[4]")
    values = {given.symbol: given.value for step in working.steps for given in (*step.inputs, step.result)}
    assert (values["K[1,4]"], values["K[∞,4]"]) == (800.0, 0.2)
    by_hand = 800.0 / values["Re[4]"] + 0.2 * (1.0 + 1.0 / (values["D[4]"] / 0.0254))
    assert working.steps[0].value == pytest.approx(by_hand, rel=1e-12) == found.run("vent").worst.flow.pieces[3].k
    pipe = working_of(found, inputs, piece=3, number="K[3]").steps[0]
    assert [given.symbol for given in pipe.inputs] == ["f[3]", "L[3]", "D[3]"]


@pytest.mark.parametrize(("kelvins", "pascals"), [(300.0, 3536.58941), (500.0, 2.63889776e6), (600.0, 12.3443146e6)])
def test_saturation_is_opened_as_published(kelvins: float, pascals: float) -> None:
    """The formulas alone, at the three temperatures of IAPWS R7-97(2012), table 35."""
    steps = saturation_steps(Given("", "T", kelvins, Kind.TEMPERATURE, "table 35"), "")
    known = {given.symbol: given.value for step in steps for given in step.inputs if given.source}
    for step in steps:
        values = [f"(0 + {known[given.symbol]:.15f})".replace("+ -", "- ") for given in step.inputs]
        known[step.symbol] = Reader(step.template.replace(" * ", " × ").format(*values)).value()
    assert known["p[sat]"] == pytest.approx(pascals, rel=1e-8)


def test_the_dew_point_and_the_viscosity_are_opened() -> None:
    """Of one piece: where water of that pressure is saturated; the five gases of flue gas mixed."""
    inputs = scenario("simple-pass")
    found = check(inputs)
    stream = found.run("vent").worst.flow.walk.cooling.streams[3]
    dew = working_of(found, inputs, piece=4, number="dew point").steps
    assert dew[0].value == pytest.approx(dew_point(stream.mixture, pressure=stream.pressure), rel=1e-12)
    assert dew[-1].symbol == "p[H2O,4]"
    thick = working_of(found, inputs, piece=4, number="µ[4]").steps
    assert [step.symbol for step in thick[1:-1]] == [f"µ[{name},4]" for name in ("N2", "O2", "Ar", "CO2", "H2O")]


def test_it_goes_back_only_as_far_as_is_asked() -> None:
    """A verdict begins with the table's sum; combustion stands there only when it is asked for."""
    inputs = scenario("simple-pass")
    found = check(inputs)
    whole = working_of(found, inputs)
    assert [step.symbol for step in whole.steps[:3]] == ["L[left]", "L[t]", "L[f]"]
    assert {step.part for step in whole.steps} == {"table", "pressure"}
    assert "K[4]" in {given.symbol for given in whole.unopened}
    assert {step.part for step in working_of(found, inputs, piece=4).steps} == {"pressure", "flow"}
    assert {s.part for s in working_of(found, inputs, piece=4, back_to="gas").steps} == {"pressure", "flow", "gas"}
    assert working_of(found, inputs, number="m").steps[-1].part == "combustion"
    assert working_of(found, inputs, back_to="combustion").unopened == ()
    with pytest.raises(InputError, match="no line works out 'viscosty'.*perhaps 'viscosity"):
        working_of(found, inputs, number="viscosty")


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
