"""The check-over: rules with their sources, what the job tells, what is ticked off, and rules of one's own."""

from __future__ import annotations

import datetime
import json
import shutil
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from tests.studies.support import SCENARIOS, again, scenario
from ventsize.catalog.folders import user_tables_folder
from ventsize.check.inputs import Inputs
from ventsize.cli import main
from ventsize.jobfile.editing.ticks import clear_tick, set_tick, tick_at
from ventsize.jobfile.job import FittingPiece, PipePiece, job_from_data
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.ticks import Tick
from ventsize.quantity import System
from ventsize.report.checkover import as_typed, limit_words, render, said_of, unit_meant
from ventsize.studies.checkover import CheckOver, Item, check_over, meets
from ventsize.studies.checkover.rules import STATUS_WORDS, read_rules

TODAY = datetime.date(2026, 11, 20)
PASS = scenario("simple-pass")
END = FittingPiece(fitting="terminal-screened")
INCH = 0.0254
OWN = """
[[rule]]
name = "terminal-above-grade"
title = "Terminal above the ground, here"
group = "terminal"
of = "vent terminal"
ask = "From grade"
measure = "length"
least = "36 in"
source = "The town's bylaw"
status = "published"
"""


def item(study: CheckOver, rule: str, at: str = "vent") -> Item:
    """One of the list."""
    return next(one for one in study.items if one.key == (rule, at))


def ticked(inputs: Inputs, **tick: object) -> CheckOver:
    """The check-over of a job with one tick."""
    one = Tick(date=TODAY, **tick)  # type: ignore[arg-type]
    return check_over(again(inputs, replace(inputs.job, checked=(one,))))


def with_pieces(*pieces: PipePiece | FittingPiece) -> Inputs:
    """A job whose vent has these pieces."""
    runs = tuple(replace(run, pieces=pieces) if run.name == "vent" else run for run in PASS.job.runs)
    return again(PASS, replace(PASS.job, runs=runs))


def test_every_rule_names_its_source_and_status() -> None:
    """A rule that nobody can look up is no rule; one without a figure's source says so in its status."""
    rules = read_rules().rules.values()
    assert len(rules) >= 30
    for rule in rules:
        assert rule.source and rule.status in STATUS_WORDS
        assert rule.cited.count("common practice") <= 1


def test_every_subject_has_a_rule() -> None:
    """What is asked of a careful installer, one rule or more for each."""
    names = set(read_rules().rules)
    assert names >= {
        *("terminal-above-grade", "terminal-above-snow", "terminals-apart", "support-horizontal", "slope"),
        *("pipe-temperature", "expansion", "fittings-in-the-table", "cement-and-primer", "trap-and-drain"),
        *("cut-ends", "pipes-marked", "combustion-check", "leak-check", "alarm"),
    }


@pytest.mark.parametrize("name", [path.stem for path in sorted(SCENARIOS.glob("*.toml"))])
def test_every_scenario_has_a_check_over(name: str) -> None:
    """Nothing is met that nobody looked at: what is met without a tick is told by the job."""
    study = check_over(scenario(name))
    assert study.items
    assert all(one.rule.told for one in study.items if one.by == "job")
    for system in System:
        assert max(map(len, render(study, system).splitlines())) <= 80


def test_slope_is_read_from_the_pieces() -> None:
    """1/4 in per foot of 8 ft is 2 in: 2 in is enough, 1 in is not, and no rise given is still to measure."""
    for rise, outcome in ((2, "met"), (1, "not met"), (None, "to measure"), (-2, "not met")):
        lying = PipePiece(pipe=8 * 0.3048, heading="east", rise=None if rise is None else rise * INCH)
        up = PipePiece(pipe=1.0, heading="up")
        found = item(check_over(with_pieces(up, FittingPiece(fitting="elbow-90-long"), lying)), "slope")
        assert found.outcome == outcome


def test_a_sag_is_not_met_and_a_tick_does_not_change_that() -> None:
    """Four inches of standing water stay in the job until the job says otherwise."""
    sagging = scenario("sagging-run")
    assert item(check_over(sagging), "low-spots").outcome == "not met"
    found = item(ticked(sagging, rule="low-spots", at="vent", met=True), "low-spots")
    assert (found.outcome, found.by) == ("not met", "job")
    assert found.contradicted and "the job still says otherwise" in said_of(found, System.US)


def test_gas_above_the_pipes_limit_is_not_met() -> None:
    """PVC up to 140 °F (its record's figure), gas at 150 °F."""
    (appliance,) = PASS.job.appliances
    rates = tuple(replace(rate, flue_temperature=338.7) for rate in appliance.rates)
    hot = again(PASS, replace(PASS.job, appliances=(replace(appliance, rates=rates),)))
    assert item(check_over(hot), "pipe-temperature").outcome == "not met"
    assert item(check_over(PASS), "pipe-temperature").outcome == "met"


def test_a_fitting_the_table_does_not_list_is_not_met() -> None:
    """The table deducts for its fittings; one it does not name is none of them."""
    pieces = (PipePiece(pipe=2.0, heading="up"), FittingPiece(fitting="elbow-45-long"), END)
    found = item(check_over(with_pieces(*pieces)), "fittings-in-the-table")
    assert found.outcome == "not met" and found.because is not None
    assert found.because.because.values == {"fitting": "elbow-45-long"}


def test_the_trap_is_held_against_the_vents_pressure() -> None:
    """Inches of water against inches of water, with half an inch to spare; a value typed is the depth of the seal."""
    (appliance,) = PASS.job.appliances
    deep = again(PASS, replace(PASS.job, appliances=(replace(appliance, trap_seal=1 * INCH),)))
    shallow = again(PASS, replace(PASS.job, appliances=(replace(appliance, trap_seal=0.5 * INCH),)))
    assert item(check_over(deep), "trap-seal", "furnace").outcome == "met"
    assert item(check_over(shallow), "trap-seal", "furnace").outcome == "not met"
    assert item(check_over(PASS), "trap-seal", "furnace").outcome == "to measure"
    assert (
        item(ticked(PASS, rule="trap-seal", at="furnace", value="1/2 in"), "trap-seal", "furnace").outcome == "not met"
    )
    assert item(ticked(PASS, rule="trap-seal", at="furnace", value="1 in"), "trap-seal", "furnace").outcome == "met"


@pytest.mark.parametrize(
    ("rule", "value", "outcome"),
    [
        ("terminal-above-grade", "12 in", "met"),
        ("terminal-above-grade", "11.9 in", "not met"),
        ("terminal-above-grade", "31 cm", "met"),
        ("support-horizontal", "4 ft", "met"),
        ("support-horizontal", "4 ft 1 in", "not met"),
    ],
)
def test_a_measured_value_is_judged(rule: str, value: str, outcome: str) -> None:
    """At the limit is met; the unit does not matter; met = true does not help what is measured too short."""
    assert item(ticked(PASS, rule=rule, at="vent", value=value), rule).outcome == outcome
    assert item(ticked(PASS, rule=rule, at="vent", value=value, met=True), rule).outcome == outcome
    assert item(ticked(PASS, rule=rule, at="vent", value=value, met=False), rule).outcome == "not met"


def test_a_value_without_a_limit_is_recorded_and_left_open() -> None:
    """The instructions say how far apart the terminals must be, and only a person has read them."""
    found = item(ticked(PASS, rule="terminals-apart", at="furnace", value="18 in"), "terminals-apart", "furnace")
    assert (found.outcome, found.value) == ("to measure", pytest.approx(18 * INCH))
    found = item(
        ticked(PASS, rule="terminals-apart", at="furnace", value="18 in", met=True), "terminals-apart", "furnace"
    )
    assert found.outcome == "met"


def test_air_from_the_room_asks_other_rules() -> None:
    """Without an air pipe: clearances to windows, and the room's air; with one: direct-vent distances."""
    room, piped = (set(one.rule.name for one in check_over(i).items) for i in (scenario("basement-short-of-air"), PASS))
    assert {"room-air", "terminal-below-opening"} <= room and {"room-air", "terminal-below-opening"}.isdisjoint(piped)
    assert {"terminals-apart", "terminal-to-opening", "pipes-marked"} <= piped
    assert item(check_over(scenario("basement-short-of-air")), "room-air", "furnace").outcome == "not met"


def test_ones_own_rule_replaces_the_shipped_one() -> None:
    """A local file in one's own folder; the one named on the command line goes over that."""
    folder = user_tables_folder()
    folder.mkdir(parents=True)
    (folder / "check-over-town.toml").write_text(OWN + '[[rule]]\nname = "alarm"\nasked = false\n', encoding="utf-8")
    study = check_over(PASS)
    assert item(study, "terminal-above-grade").limit == pytest.approx(36 * INCH)
    assert "The town's bylaw" in render(study, System.US)
    assert "alarm" not in {one.rule.name for one in study.items}
    assert "A working carbon monoxide alarm in the building" in study.left_out
    assert study.files == ("check-over.toml", "check-over-town.toml")


def test_a_shipped_rule_may_be_turned_on(tmp_path: Path) -> None:
    """Three degrees is asked in some countries."""
    more = tmp_path / "more.toml"
    more.write_text('[[rule]]\nname = "slope-three-degrees"\nasked = true\n', encoding="utf-8")
    assert "slope-three-degrees" in {one.rule.name for one in check_over(PASS, rules=read_rules(more)).items}


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ('source = "The town\'s bylaw"', "", "the key 'source' is missing"),
        ('least = "36 in"', 'least = "36 psi"', "psi"),
        ('least = "36 in"', 'least = "0 in"', "asks for nothing"),
        ('least = "36 in"', 'least = "36 in"\ngreatest = "40 in"', "both given"),
        ('measure = "length"', "", "does not say what is measured"),
        ('of = "vent terminal"', 'of = "chimney"', "'chimney' cannot be used here"),
        ('title = "Terminal above the ground, here"', 'titel = "x"', "perhaps 'title'"),
        ('status = "published"', 'status = "sure"', "'from memory'"),
        ('least = "36 in"', 'least = [["50 kBtu/h", "9 in"], ["10 kBtu/h", "6 in"]]', "do not rise"),
        ('least = "36 in"', "least = 36", "is no limit"),
    ],
)
def test_a_rule_with_a_fault_is_refused(before: str, after: str, said: str, tmp_path: Path) -> None:
    """One sentence: the file, the rule, what is wrong and what is expected."""
    path = tmp_path / "own.toml"
    assert before in OWN
    path.write_text(OWN.replace(before, after), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_rules(path)
    assert said in str(caught.value) and "own.toml" in str(caught.value)


@pytest.mark.parametrize(
    ("tick", "said"),
    [
        ({"rule": "alarm"}, "'date' is missing"),
        ({"rule": "alarm", "date": "2026-11-20"}, "is not a date"),
        ({"rule": "alarm", "date": TODAY}, "neither what was measured nor whether it is met, and has no note"),
        ({"rule": "alarm", "date": TODAY, "met": "yes"}, "expected true or false"),
        ({"rule": "alarm", "date": TODAY, "met": True, "wehn": 1}, "unknown key 'wehn'"),
    ],
)
def test_a_tick_with_a_fault_is_refused(tick: dict[str, object], said: str) -> None:
    """In the job file as anything else in it."""
    data = tomllib.loads((SCENARIOS / "simple-pass.toml").read_text(encoding="utf-8"))
    with pytest.raises(InputError) as caught:
        job_from_data({**data, "checked": [tick]}, file="job.toml")
    assert said in str(caught.value)


def test_ticks_that_fit_nothing_are_said() -> None:
    """By a rule of somebody else's file, or at a run that has gone: kept, and mentioned."""
    unknown, elsewhere = ticked(PASS, rule="alrm", met=True), ticked(PASS, rule="cut-ends", at="old", met=True)
    assert "tick-of-no-rule" in {one.code for one in unknown.cautions}
    assert any(one.code == "tick-not-asked" and "vent" in one.values["places"] for one in elsewhere.cautions)


def test_ticks_in_the_data() -> None:
    """One for each rule and place: a second takes the place of the first; the last one taken away leaves no list."""
    data = set_tick({"title": "x"}, "cut-ends", "vent", date=TODAY, met=True, note="two redone")
    data = set_tick(data, "cut-ends", "air", date=TODAY, met=False)
    data = set_tick(data, "cut-ends", "vent", date=TODAY, met=True)
    assert [tick["at"] for tick in data["checked"]] == ["vent", "air"]
    assert tick_at(data, "cut-ends", "vent") == {"rule": "cut-ends", "at": "vent", "met": True, "date": TODAY}
    data = clear_tick(clear_tick(data, "cut-ends", "vent"), "cut-ends", "air")
    assert data == {"title": "x"}


def test_the_verb_ticks_off(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The job file keeps value, note and date; a value that cannot be read changes nothing."""
    path = Path(shutil.copy(SCENARIOS / "simple-pass.toml", tmp_path / "job.toml"))
    words = ["checkover", str(path), "--json", "--tick", "terminal-above-grade"]
    assert main([*words, "--value", "14 in", "--note", "by the shed", "--date", "2026-11-20"]) == 1
    found = next(one for one in json.loads(capsys.readouterr().out)["items"] if one["rule"] == "terminal-above-grade")
    assert (found["outcome"], found["by"], found["checked"]) == ("met", "tick", "2026-11-20")
    assert found["value_m"] == pytest.approx(14 * INCH)
    assert '[[checked]]\nrule = "terminal-above-grade"\nat = "vent"\nvalue = "14 in"' in path.read_text(
        encoding="utf-8"
    )
    before = path.read_bytes()
    for bad in (["--value", "14 bananas"], ["--met", "--date", "soon"], ["--met", "--at", "elsewhere"], []):
        assert main([*words, *bad]) == 2
        assert path.read_bytes() == before
        assert len(capsys.readouterr().err.splitlines()) == 1
    assert main([*words, "--open"]) == 1
    assert "[[checked]]" not in path.read_text(encoding="utf-8")


def test_a_rule_of_several_places_asks_which(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The vent's supports or the air pipe's: it is not guessed."""
    path = Path(shutil.copy(SCENARIOS / "simple-pass.toml", tmp_path / "job.toml"))
    assert main(["checkover", str(path), "--tick", "support-horizontal", "--value", "3 ft"]) == 2
    assert "one of: vent, air" in capsys.readouterr().err


@pytest.mark.parametrize("system", list(System))
def test_a_limit_typed_as_it_is_shown_is_met(system: System) -> None:
    """A bare number is read in the unit the limit is stated in, and what is shown is never a hair past the limit."""
    tried = 0
    for name in ("simple-pass", "second-visit", "common-vent", "basement-short-of-air"):
        for one in check_over(scenario(name)).items:
            words = limit_words(one, system)
            if one.rule.dimension is None or not words or one.rule.told == "expansion":
                continue
            number, _, unit = words.removeprefix("at least ").removeprefix("no more than ").partition(" ")
            assert unit == unit_meant(one, system)
            assert meets(one.rule, one.rule.read(as_typed(one, number, system)), one.limit) is True, words
            tried += 1
    assert tried > 10


def test_what_a_bare_number_means_is_stated_with_the_limit() -> None:
    """A foot is a limit in inches, seven feet one in feet; in SI centimeters and meters, rounded to the safe side."""
    found = {one.rule.name: one for one in check_over(PASS).items}
    above, walkway = found["terminal-above-grade"], found["terminal-over-walkway"]
    assert [limit_words(above, system) for system in System] == ["at least 12 in", "at least 30.5 cm"]
    assert [limit_words(walkway, system) for system in System] == ["at least 7 ft", "at least 2.14 m"]
    assert as_typed(above, "18", System.US) == "18 in" and as_typed(walkway, "3", System.US) == "3 ft"
    assert as_typed(above, "18", System.SI) == "18 cm" and as_typed(above, "0.5 m", System.SI) == "0.5 m"


def test_a_note_by_itself_is_kept_and_leaves_the_rule_open() -> None:
    """Somebody notes what is in the way before saying whether it is met."""
    found = item(ticked(PASS, rule="terminal-above-grade", at="vent", note="behind the shrub"), "terminal-above-grade")
    assert found.outcome == "to measure" and "behind the shrub" in said_of(found, System.US)
    job_from_data(again_data(note="behind the shrub"), file="job")


def again_data(**tick: str) -> dict[str, object]:
    """The data of a job with one tick."""
    data = tomllib.loads((SCENARIOS / "simple-pass.toml").read_text())
    return data | {"checked": [{"rule": "terminal-above-grade", "at": "vent", "date": TODAY, **tick}]}


def test_rules_of_one_place_are_called_local_examples() -> None:
    """Whoever reads a city's figure elsewhere sees that it is that city's; a rule of one's own may say so too."""
    rules = read_rules().rules
    local = [rule for rule in rules.values() if "local code" in rule.source]
    assert local and all(rule.local for rule in local)
    shown = render(check_over(PASS), System.US)
    assert "Terminal beside a public walkway (local example), vent: at least 7 ft" in shown
    assert "Local example, one place's code: New York City" in " ".join(shown.split())
