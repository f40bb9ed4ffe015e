"""Readings put on a job of the tests, and what the full solver says they would be."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from ventsize.check.inputs import Inputs, prepare
from ventsize.check.verdict import check
from ventsize.jobfile.document import parse_toml
from ventsize.jobfile.job import job_from_data

SCENARIOS = Path(__file__).resolve().parent.parent.parent / "scenarios"
Data = dict[str, Any]


def data_of(name: str) -> Data:
    """A demonstration job without its readings, as data."""
    data = parse_toml((SCENARIOS / f"{name}.toml").read_text(), file=name)
    data.pop("reading", None)
    return dict(data)


def inputs_of(data: Data, *readings: Data) -> Inputs:
    """A job with these readings."""
    whole = {**data, "reading": list(readings)} if readings else data
    return prepare(job_from_data(whole, file="job"), file="job", beside=SCENARIOS)


def reading(place: str, rate: str = "high", *, outdoor: str = "20 degF", **value: Any) -> Data:
    """A reading; a pressure may be given in pascals."""
    if isinstance(value.get("pressure"), float):
        value["pressure"] = f"{value['pressure']:.6f} Pa"
    return {"place": place, "rate": rate, "outdoor": outdoor, **value}


def collar(data: Data, rate: str = "high", run: str = "vent", *, outdoor: str = "20 degF") -> float:
    """What the solver has a manometer show at the appliance [Pa]."""
    weather = {**data, "site": {**data["site"], "outdoor": outdoor}}
    checked = check(inputs_of(weather))
    found = next(one for one in checked.runs if one.run.name == run)
    pressure = next(one for one in found.rates if one.name == rate).static_pressure_at_appliance
    assert pressure is not None
    return pressure
