"""Values that are not met in practice are computed all the same, and said among the cautions."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.words import codes
from ventsize.catalog.folders import shipped_folder
from ventsize.check.input_doubts import input_doubts
from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.jobfile.job import Job, job_from_data
from ventsize.quantity import Dimension, parse

INPUTS = read_inputs(shipped_folder("scenarios") / "simple-pass.toml")


def with_pipe(length: str, **changed: str) -> Job:
    """A job of one pipe; changed: keys of its firing rate."""
    rate = {"name": "high", "input": "80 MBH", "excess_air": 0.35, "flue_temperature": "110 degF", **changed}
    run = {
        "name": "vent", "carries": "flue gas", "between": ["a", "outdoors"], "size": "3 in", "material": "pvc-40",
        "pieces": [{"pipe": length}],
    }  # fmt: skip
    data = {"title": "", "appliance": [{"name": "a", "fuel": "natural gas", "rate": [rate]}], "run": [run]}
    return job_from_data(data, file="")


@pytest.mark.parametrize("length", ["10 mi", "0.001 in", "0.9 in", "201 ft"])
def test_an_odd_length_is_said(length: str) -> None:
    """Ten miles, a thousandth of an inch: each names the piece."""
    (found,) = input_doubts(with_pipe(length))
    assert found.code == "unusual-pipe" and (found.where.run, found.where.piece) == ("vent", 1)


@pytest.mark.parametrize("length", ["1.01 in", "6 ft", "199.9 ft"])
def test_a_usual_length_is_not(length: str) -> None:
    """What is met is not remarked on."""
    assert not list(input_doubts(with_pipe(length)))


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("input", "4.9 kBtu/h", "unusual-input"), ("input", "5.1 kBtu/h", ""),
        ("input", "3990 kBtu/h", ""), ("input", "4010 kBtu/h", "unusual-input"),
        ("flue_temperature", "59 degF", "unusual-flue-temperature"), ("flue_temperature", "61 degF", ""),
        ("flue_temperature", "399 degF", ""), ("flue_temperature", "401 degF", "unusual-flue-temperature"),
        ("input", "5 kBtu/h", ""), ("input", "4000 kBtu/h", ""),
        ("flue_temperature", "60 degF", ""), ("flue_temperature", "400 degF", ""),
    ],
)  # fmt: skip
def test_either_side_of_what_is_usual(key: str, value: str, said: str) -> None:
    """5 to 4,000 kBtu/h, and 60 to 400 °F: common practice, no source."""
    assert [one.code for one in input_doubts(with_pipe("6 ft", **{key: value}))] == [said] * bool(said)


@pytest.mark.parametrize(("altitude", "said"), [("14900 ft", False), ("15000 ft", False), ("15100 ft", True)])
def test_above_where_people_live(altitude: str, said: bool) -> None:
    """15,000 ft: common practice, no source."""
    job = INPUTS.job
    high = replace(job, site=replace(job.site, altitude=parse(altitude, Dimension.LENGTH)))
    assert ("unusual-altitude" in {one.code for one in input_doubts(high)}) is said


@pytest.mark.parametrize(("straight", "said"), [("499 ft", False), ("500 ft", False), ("501 ft", True)])
def test_a_counted_run_longer_than_any(straight: str, said: bool) -> None:
    """500 ft: common practice, no source."""
    (run,) = with_pipe("6 ft").runs
    job = replace(with_pipe("6 ft"), runs=(replace(run, pieces=None, straight=parse(straight, Dimension.LENGTH)),))
    assert ("unusual-length" in {one.code for one in input_doubts(job)}) is said


def test_it_is_among_the_cautions_and_moves_no_figure() -> None:
    """An input of a hundred million Btu/h: said, and judged by the table as any other."""
    appliance = INPUTS.job.appliances[0]
    rates = (replace(appliance.rates[0], input=3e7), *appliance.rates[1:])
    job = replace(INPUTS.job, appliances=(replace(appliance, rates=rates), *INPUTS.job.appliances[1:]))
    found = check(replace(INPUTS, job=job))
    assert "unusual-input" in codes(found)
    assert found.verdict == "not covered"
