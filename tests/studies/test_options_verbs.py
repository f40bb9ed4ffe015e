"""The verbs for options, repairs and headroom, and the two demonstration jobs made for them."""

from __future__ import annotations

import json

import pytest

from tests.studies.support import SCENARIOS, scenario
from ventsize.cli import main
from ventsize.studies.repairs import repairs

OLD_RUN, NONE_WITHIN = (str(SCENARIOS / f"{name}.toml") for name in ("old-two-inch-run", "no-acceptable-option"))


def test_options(capsys: pytest.CaptureFixture[str]) -> None:
    """Status 0 where an option is within; JSON says how many there were."""
    assert main(["options", OLD_RUN, "--json", "--sort", "joints"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["looked_at"] == found["total"] and found["smallest"]
    assert all(option["verdict"] == "within" for option in found["acceptable"])


def test_no_option(capsys: pytest.CaptureFixture[str]) -> None:
    """Status 1 where none is, and what the nearest would take."""
    assert main(["options", NONE_WITHIN]) == 1
    shown = capsys.readouterr().out
    assert "No option is within" in shown and "shorter" in shown


def test_wrong_questions(capsys: pytest.CaptureFixture[str]) -> None:
    """A run that is not there, and a ranking by prices nobody gave, are refused in a line."""
    assert main(["options", OLD_RUN, "--run", "chimney"]) == 2
    assert main(["options", OLD_RUN, "--sort", "cost"]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 2


@pytest.mark.parametrize("verb", ["repairs", "headroom"])
def test_other_verbs(verb: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Text and JSON both come."""
    assert main([verb, OLD_RUN]) == 0 and capsys.readouterr().out
    assert main([verb, OLD_RUN, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["runs"]


def test_three_cures() -> None:
    """The old run is over, and a change of pipe, of elbows or of length each cures it."""
    (answer,) = repairs(scenario("old-two-inch-run"))
    assert answer.verdict == "over"
    kinds = {change.kind for repair in answer.repairs if len(repair.changes) == 1 for change in repair.changes}
    assert len(kinds) >= 3 and "enlarge" in kinds
