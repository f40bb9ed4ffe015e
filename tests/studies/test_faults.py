"""The study of hidden causes in small; the whole of it is `python -m tests.faults`, its numbers in DEVELOPERS.md."""

from __future__ import annotations

from tests.faults.hiding import Kit, orifice
from tests.faults.study import one, report, shares, study
from ventsize.studies.readings.narrow import narrow_k


def test_hidden_causes_are_found() -> None:
    """Thirty-six jobs with a cause and nine sound ones; with so few, limits looser than those the study is held to."""
    outcomes = study(36, seed=7)
    found = shares(outcomes)
    assert sum(one.shows for one in outcomes) >= 25
    assert found["first"] >= 0.65
    assert found["first three"] >= 0.85
    assert found["sound called sound"] >= 0.75
    assert found["mean group"] <= 3.0
    assert "sound called sound" in report(outcomes)


def test_the_study_can_be_had_again() -> None:
    """The same seed gives the same job, the same readings and the same answer."""
    assert one(11, "terminal") == one(11, "terminal")


def test_a_cause_shows_only_beyond_the_accuracy() -> None:
    """What moves every reading by less than its instrument can tell is not counted against the diagnosis."""
    kit = Kit(readings=[{}], faulty=[10.0], sound=[9.0], accuracies=[2.0])
    assert not kit.shows
    assert Kit(readings=[{}], faulty=[12.0], sound=[9.0], accuracies=[2.0]).shows


def test_narrow_places_of_the_study_are_not_those_of_the_diagnosis() -> None:
    """The study's orifice costs more than the diagnosis takes such a place for: neither is checked by itself."""
    assert orifice(0.25) > 1.3 * narrow_k(open_bore=0.5, bore=1.0)
