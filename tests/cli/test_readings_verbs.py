"""`ventsize readings` and `ventsize diagnose` as scripts rely on them, and as a person reads them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from ventsize.cli import main

SCENARIOS = Path(__file__).resolve().parent.parent.parent / "scenarios"
VENT, NOT_VENT = (str(SCENARIOS / f"{name}.toml") for name in ("trips-on-the-vent", "trips-not-the-vent"))


def said(capsys: pytest.CaptureFixture[str], *arguments: str, status: int) -> str:
    """What a command prints."""
    assert main(list(arguments)) == status
    out = capsys.readouterr().out
    assert isinstance(out, str)
    return out


def test_readings_as_text(capsys: pytest.CaptureFixture[str]) -> None:
    """What was measured, what it should be, the surplus in other words, and the danger; no line too wide."""
    text = said(capsys, "readings", VENT, status=1)
    assert "HIGH" in text and "should be" in text
    words = " ".join(text.split())
    assert "more of straight 2 in pipe" in words
    assert "of water lying in it" in words
    assert "carbon monoxide" in words
    assert max(len(line) for line in text.splitlines()) <= 80


def test_readings_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    """Values end in their unit, a share in none."""
    found = json.loads(said(capsys, "readings", VENT, "--json", status=1))
    first, oxygen = found["readings"][0], found["readings"][3]
    assert first["measured_Pa"] == pytest.approx(0.36 * 249.089, rel=1e-3)
    assert first["low_Pa"] < first["expected_Pa"] < first["high_Pa"] < first["measured_Pa"]
    assert first["verdict"] == "high" and first["surplus"]["length_m"] > 10.0
    assert oxygen["measured"] == pytest.approx(0.059) and oxygen["verdict"] == "expected"


def test_diagnosis_as_text(capsys: pytest.CaptureFixture[str]) -> None:
    """The leading cause with its size and place first; what to do next; other causes only named."""
    text = said(capsys, "diagnose", VENT, status=1)
    words = " ".join(text.split())
    assert "1. The terminal of 'vent' is partly blocked bore left open:" in words
    assert "of 2.05 in" in words
    assert "Next:" in words and "Unlikely:" in words
    assert max(len(line) for line in text.splitlines()) <= 80
    other = " ".join(said(capsys, "diagnose", NOT_VENT, status=1).split())
    assert "1. The pressure switch's tubing or ports leak" in other
    metric = " ".join(said(capsys, "diagnose", VENT, "--units", "si", status=1).split())
    assert " mm of 52.0 mm" in metric and " Pa" in metric


def test_diagnosis_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    """Groups in order, each with its causes, sizes and the reading that would tell them apart."""
    found = json.loads(said(capsys, "diagnose", VENT, "--json", status=1))
    assert found["outcome"] == "something is off"
    causes = found["groups"][0]["causes"]
    assert [cause["kind"] for cause in causes] == ["terminal"]
    size = causes[0]["size"]
    assert 0.0 < size["low_m"] <= size["value_m"] <= size["high_m"] < size["of_m"]
    assert len(causes[0]["shows"]) == len(found["readings"])
    assert found["solved_anew"]["off_in_accuracies"] < 0.5
    against = found["groups"][1]["against_the_first"]
    assert against is None or {"place", "rate", "kind", "apart_in_deviations"} <= set(against)


def test_a_sound_vent(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Status 0, and told to look elsewhere."""
    text = Path(NOT_VENT).read_text().replace('"0.58 in w.c."', '"1.02 in w.c."').replace('"0.27 in', '"0.56 in')
    job = tmp_path / "job.toml"
    job.write_text(text)
    words = " ".join(said(capsys, "diagnose", str(job), status=0).split())
    assert "AS IT SHOULD BE" in words and "look elsewhere" in words
    assert "What would explain" not in words
    assert "would have shown" in words and "in open, or less" in words
    assert "AS EXPECTED" in said(capsys, "readings", str(job), status=0)


def test_json_where_no_cause_is_worked_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A reading that cannot be right and nothing else: no causes, and still an answer."""
    job = tmp_path / "job.toml"
    job.write_text(
        Path(SCENARIOS / "simple-pass.toml").read_text()
        + '\n[[reading]]\nplace = "collar"\nrate = "high"\noxygen = "20.9 %"\n'
    )
    found = json.loads(said(capsys, "diagnose", str(job), "--json", status=1))
    assert found["outcome"] == "read again" and found["groups"] == []
    assert "READ AGAIN" in said(capsys, "diagnose", str(job), status=1)


@pytest.mark.parametrize("verb", ["readings", "diagnose"])
def test_what_cannot_be_read(verb: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Status 2 and a sentence for each fault on standard error, for readings that are not of this job."""
    assert main([verb, str(SCENARIOS / "simple-pass.toml")]) == 2
    assert "the job has no reading" in capsys.readouterr().err
    job = tmp_path / "job.toml"
    job.write_text(Path(NOT_VENT).read_text().replace('place = "switch"', 'place = "air pipe"'))
    assert main([verb, str(job)]) == 2
    error = capsys.readouterr().err
    assert len(error.splitlines()) == 2 and "takes its air from the room" in error


def test_a_sound_vent_that_is_too_long(capsys: pytest.CaptureFixture[str]) -> None:
    """No pass: the table's verdict stands in the headline, beside the reason, in JSON and in the exit status."""
    job = str(SCENARIOS / "second-visit.toml")
    text = said(capsys, "diagnose", job, status=1)
    words = " ".join(text.split())
    assert "OVER BY THE TABLE" in text.splitlines()[0]
    assert "By the table: OVER." in words and "longer than allowed" in words and "look elsewhere" not in words
    found = json.loads(said(capsys, "diagnose", job, "--json", status=1))
    assert found["by_table"]["verdict"] == "over" and not found["all_well"]
    assert found["outcome"] == "as it should be" and found["worth_repeating"] is None
