"""Temperatures that contradict each other are refused in one sentence: where, what, what is expected."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.check.jobs import checked, job, pipe
from ventsize.cli import main
from ventsize.jobfile.problems import InputError

CASES = {
    "outdoors above the flue's": ('outdoor = "20 degF"', 'outdoor = "130 degF"', "colder than outdoors, 130 °F"),
    "flue gas that is frozen": ('flue_temperature = "112 degF"', 'flue_temperature = "11 degF"', "below freezing"),
}


@pytest.mark.parametrize(("before", "after", "said"), CASES.values(), ids=CASES)
@pytest.mark.parametrize("verb", ["check", "cold", "condensate", "inducer", "uncertainty"])
def test_impossible_temperatures(
    verb: str, before: str, after: str, said: str, root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every verb says so on one line, and gives no answer."""
    text = (root / "scenarios" / "long-run-adaptive.toml").read_text(encoding="utf-8")
    assert before in text
    job = tmp_path / "job.toml"
    job.write_text(text.replace(before, after), encoding="utf-8")
    assert main([verb, str(job)]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    (line,) = shown.err.splitlines()
    assert "rate 'high', flue_temperature" in line and said in line and "; expected" in line


def test_flue_gas_as_warm_as_outdoors_is_taken() -> None:
    """Only gas that is colder than the air it came from is mistyped, or that is frozen."""
    assert checked(job(flue_temperature="0 degC", outdoor="30 degF")).runs
    assert checked(job(flue_temperature="60 degF", outdoor="60 degF")).runs


@pytest.mark.parametrize(("place", "refused"), [
    ("-69.9 degC", False), ("-70.1 degC", True), ("119.9 degC", False), ("120.1 degC", True), ("atic", True),
    ("120 degC", False), ("203.15 K", False),
])  # fmt: skip
def test_air_that_no_pipe_runs_through(place: str, refused: bool) -> None:
    """From 70 degC of frost to 120 degC, or a place by its name."""
    data = {**job([pipe(10, surroundings=place)]), "cooling": True}
    if refused:
        with pytest.raises(InputError, match="surroundings"):
            checked(data)
    else:
        assert checked(data).runs
