"""Figures beyond what can be reckoned with: a sentence, never a traceback, and never within."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.check.jobs import Data, checked, job
from ventsize.jobfile.problems import InputError


@pytest.mark.parametrize(
    "loss", [{"k": 1e308}, {"k": 0.5, "k_high": 1e308}, {"k": 0.5, "k_low": 1e-320, "k_high": 1e7}]
)
def test_a_fitting_of_the_job_s_own(loss: Data) -> None:
    """Its band counts as much as its coefficient."""
    data = job([{"pipe": "9 ft"}, {"fitting": "own"}, {"pipe": "9 ft"}])
    data["fitting"] = [{"name": "own", "source": "invented", "kind": "coupling", "loss": loss}]
    with pytest.raises(InputError, match="more than can be reckoned with"):
        checked(data)


@pytest.mark.parametrize(
    "changed",
    [
        {"pieces": [{"pipe": "99,000 ft", "heading": "up"}]},
        {"pieces": [{"pipe": "99,000 ft", "heading": "east"}] * 30, "surroundings": "240 degF"},
        {"pieces": [{"pipe": "30 ft"}], "input": "3,000 MMBtu/h"},
        {"pieces": [{"pipe": "99,000 ft"}], "input": "4 Btu/h"},
    ],
)
@pytest.mark.parametrize("cooling", [False, True])
def test_the_far_ends_of_what_is_read(changed: dict[str, Any], cooling: bool) -> None:
    """Where no limit of a single value is passed: an answer that JSON can hold, or a sentence; within it is not."""
    from ventsize.cli.printing import json_text
    from ventsize.report.check_json import as_object

    try:
        found = checked({**job(**changed), "cooling": cooling})
    except InputError as error:
        assert len(error.problems) == 1 and "run 'vent'" in str(error)
        return
    assert json.loads(json_text(as_object(found)))["verdict"] != "within"
