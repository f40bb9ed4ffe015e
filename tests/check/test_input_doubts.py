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

INPUTS = read_inputs(shipped_folder("scenarios") / "simple-pass.toml")


def with_pipe(length: str) -> Job:
    """A job of one pipe."""
    rate = {"name": "high", "input": "80 MBH", "excess_air": 0.35, "flue_temperature": "110 degF"}
    run = {
        "name": "vent", "carries": "flue gas", "between": ["a", "outdoors"], "size": "3 in", "material": "pvc-40",
        "pieces": [{"pipe": length}],
    }  # fmt: skip
    data = {"title": "", "appliance": [{"name": "a", "fuel": "natural gas", "rate": [rate]}], "run": [run]}
    return job_from_data(data, file="")


@pytest.mark.parametrize("length", ["10 mi", "0.001 in"])
def test_an_odd_length_is_said(length: str) -> None:
    """Ten miles, a thousandth of an inch: each names the piece."""
    (found,) = input_doubts(with_pipe(length))
    assert found.code == "unusual-pipe" and (found.where.run, found.where.piece) == ("vent", 1)


@pytest.mark.parametrize("length", ["1 in", "6 ft", "200 ft"])
def test_a_usual_length_is_not(length: str) -> None:
    """What is met is not remarked on."""
    assert not list(input_doubts(with_pipe(length)))


def test_it_is_among_the_cautions_and_moves_no_figure() -> None:
    """An input of a hundred million Btu/h: said, and judged by the table as any other."""
    appliance = INPUTS.job.appliances[0]
    rates = (replace(appliance.rates[0], input=3e7), *appliance.rates[1:])
    job = replace(INPUTS.job, appliances=(replace(appliance, rates=rates), *INPUTS.job.appliances[1:]))
    found = check(replace(INPUTS, job=job))
    assert "unusual-input" in codes(found)
    assert found.verdict == "not covered"
