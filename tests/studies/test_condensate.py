"""Water: slopes and low spots by hand, the trap against the pressure at it."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from ventsize.check.inputs import Inputs, prepare, read_inputs
from ventsize.jobfile.job import job_from_text
from ventsize.quantity import System
from ventsize.report.condensate import as_object, render
from ventsize.studies.checkover import check_over
from ventsize.studies.condensate import condensate

SCENARIOS = Path(__file__).parents[2] / "scenarios"
INCH = 0.0254


def sagging(*changes: tuple[str, str]) -> Inputs:
    """The sagging scenario, changed."""
    text = (SCENARIOS / "sagging-run.toml").read_text()
    for before, after in changes:
        assert before in text
        text = text.replace(before, after)
    return prepare(job_from_text(text, file="job.toml"), file="job.toml")


def test_slope_needed_by_hand() -> None:
    """8 ft at a quarter inch per foot is 2 in (common practice); a pipe that rises 2 in in 8 ft just has it."""
    pieces = {p.piece: p for p in condensate(sagging()).runs[0].pieces}
    assert pieces[1].needed == pytest.approx(0.0, abs=1e-9)
    first = pieces[3]
    assert first.needed == pytest.approx(2 * INCH, rel=1e-3)
    assert first.enough
    assert not pieces[4].enough
    # EN 14471: 3 degrees, 0.63 in per foot.
    assert first.needed_steeper == pytest.approx(8 * 0.629 * INCH, rel=2e-3)


def test_a_sag_is_a_water_seal_until_it_is_drained() -> None:
    """Down 4 in and up 5: water stands 4 in deep before it runs back, more than a 2 in bore."""
    (spot,) = condensate(sagging()).runs[0].low_spots
    assert spot.depth == pytest.approx(4 * INCH)
    assert spot.blocks
    assert not spot.drained
    drained = condensate(sagging(('rise = "-4 in" }', 'rise = "-4 in", drain = true }')))
    assert drained.runs[0].low_spots[0].drained
    assert not {"water-closes-pipe", "water-narrows-pipe"} & {finding.code for finding in drained.findings}


def test_water_that_closes_a_sag_by_hand() -> None:
    """Over each leg the depth falls evenly from the bore to nothing, and the mean wetted area is half the bore's:

    pi D^3 / 8 (1/s1 + 1/s2), with slopes of 4 and 5 in in 8 ft and a bore of 2.047 in (D1785: 2.375 - 2 x 0.154 x
    1.06). All the run's water at a rate fills it.
    """
    study = condensate(sagging())
    (spot,) = study.runs[0].low_spots
    volume = math.pi / 8 * (2.0485 * INCH) ** 3 * (96 / 4 + 96 / 5)
    assert spot.volume == pytest.approx(volume, rel=0.01)
    water = dict(study.rates[0].runs)["vent"]
    assert study.fillings[0].time == pytest.approx(volume * 998.0 / water, rel=0.01)
    shallow = condensate(sagging(('rise = "-4 in" }', 'rise = "-1 in" }')))
    (spot,) = shallow.runs[0].low_spots
    half = math.pi / 8 * (2.0485 * INCH) ** 2  # an inch deep is nearly half the bore
    assert spot.volume == pytest.approx(half * 0.41 * (96 + 96 / 5) * INCH, rel=0.02)  # mean segment over half a bore


def test_the_way_a_run_is_listed_does_not_move_its_low_spot() -> None:
    """Listed from outdoors inwards, the same pipe rises the other way and sags in the same place."""
    pieces = [
        '{ pipe = "3 ft", heading = "up", surroundings = "heated space" }',
        '{ fitting = "elbow-90-long" }',
        '{ pipe = "8 ft", heading = "east", rise = "2 in" }',
        '{ pipe = "8 ft", heading = "east", rise = "-4 in" }',
        '{ pipe = "8 ft", heading = "east", rise = "5 in" }',
        '{ fitting = "terminal-open" }',
    ]
    text = (SCENARIOS / "sagging-run.toml").read_text()
    start = text.index("pieces = [")
    turned = [
        '{ fitting = "terminal-open" }',
        '{ pipe = "8 ft", heading = "west", rise = "-5 in" }',
        '{ pipe = "8 ft", heading = "west", rise = "4 in" }',
        '{ pipe = "8 ft", heading = "west", rise = "-2 in" }',
        '{ fitting = "elbow-90-long" }',
        '{ pipe = "3 ft", heading = "down", surroundings = "heated space" }',
    ]
    spots = []
    for listed, ends in ((pieces, '["furnace", "outdoors"]'), (turned, '["outdoors", "furnace"]')):
        job = text[:start].replace('["furnace", "outdoors"]', ends) + "pieces = [" + ", ".join(listed) + "]\n"
        (spot,) = condensate(prepare(job_from_text(job, file="job.toml"), file="job.toml")).runs[0].low_spots
        spots.append((spot.distance, spot.depth))
    assert spots[0] == pytest.approx(spots[1])


def test_the_trap_against_the_pressure_by_hand() -> None:
    """A seal holds an inch of pressure for each inch of water; half an inch more is asked (common practice)."""
    study = condensate(sagging())
    high = next(trap for trap in study.traps if trap.where.rate == "high")
    assert high.seal == pytest.approx(INCH)
    assert high.without_draft > high.static_pressure  # the vent climbs, and draft helps: on a mild day it does not
    assert high.seal_needed == pytest.approx(high.without_draft / 9806.65 + 0.5 * INCH)
    assert high.holds is (high.seal_needed <= INCH)
    shallow = condensate(sagging(('trap_seal = "1 in"', 'trap_seal = "0.1 in"')))
    assert "trap-blows-out" in {finding.code for finding in shallow.findings}
    assert "trap-blows-out" not in {finding.code for finding in study.findings}


def test_more_water_where_it_is_colder() -> None:
    """A colder crawlspace takes more water out of the gas in the pipe; what the appliance keeps stays the same."""
    mild, cold = condensate(sagging()), condensate(sagging(('crawlspace = "40 degF"', 'crawlspace = "0 degF"')))
    for before, after in zip(mild.rates, cold.rates, strict=True):
        assert after.runs[0][1] > before.runs[0][1]
        assert after.appliances == before.appliances


def test_a_counted_run_says_that_its_fall_is_not_known() -> None:
    """No layout, no slope: nothing is made up."""
    study = condensate(read_inputs(SCENARIOS / "counted-run.toml"))
    assert not study.runs[0].known
    assert "fall-not-known" in {finding.code for finding in study.findings}


LYING = '{ pipe = "8 ft", heading = "east", rise = "5 in" }'


@pytest.mark.parametrize(
    ("pipe", "enough", "outcome"),
    [
        (LYING, True, "met"),
        ('{ pipe = "8 ft", rise = "2 in" }', True, "met"),
        ('{ pipe = "8 ft" }', None, "to measure"),
        ('{ pipe = "8 ft", heading = "east" }', None, "to measure"),
        ('{ pipe = "8 ft", heading = "up" }', True, "met"),
        ('{ pipe = "8 ft", rise = "0 in" }', False, "not met"),
        ('{ pipe = "8 ft", rise = "1 in" }', False, "not met"),
        ('{ pipe = "8 ft", rise = "-1 in" }', False, "not met"),
        ('{ pipe = "1 ft", rise = "0.2499 in" }', True, "met"),
        ('{ pipe = "1 ft", rise = "0.24 in" }', False, "not met"),
    ],
)
def test_the_study_and_the_check_over_say_the_same_of_a_fall(pipe: str, enough: bool | None, outcome: str) -> None:
    """A quarter inch per foot (common practice); what the job does not say is neither enough nor too little."""
    inputs = sagging(('{ pipe = "8 ft", heading = "east", rise = "-4 in" }', LYING), (LYING, pipe))
    study = condensate(inputs)
    last = study.runs[0].pieces[-1]
    assert last.enough is enough
    assert study.runs[0].known is (enough is not None)
    over = {item.key: item for item in check_over(inputs).items}
    assert over["slope", "vent"].outcome == outcome
    assert (over["low-spots", "vent"].outcome == "to measure") is (enough is None)
    untold = [finding for finding in study.findings if finding.code == "rise-not-given"]
    told = {one.code for one in over["slope", "vent"].told}
    assert bool(untold) is ("piece-without-rise" in told) is (enough is None)
    text = render(study, System.US)
    assert ("TOO LITTLE" in text) is (enough is False)
    lines = [line for line in text.splitlines() if "piece 5" in line and "not given" in line]
    assert bool(lines) is (enough is None)
    shown = as_object(study, System.US)["runs"][0]
    assert shown["slope_known"] is (enough is not None)
    assert shown["pieces"][-1]["enough"] is enough and (shown["pieces"][-1]["rise_m"] is None) is (enough is None)
