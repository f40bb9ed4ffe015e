"""The study of hidden causes in small; the whole of it is `python -m tests.faults`, its numbers in DEVELOPERS.md."""

from __future__ import annotations

from tests.faults.hiding import orifice
from tests.faults.study import one, report, shares, visits
from tests.faults.visiting import Kit
from ventsize.studies.readings.narrow import narrow_k


def test_hidden_causes_are_found() -> None:
    """Thirteen visits with one cause and a few others; with so few, limits looser than the study is held to."""
    outcomes = [one(visit, ideal=False) for visit in visits(13, seed=41)]
    found = shares(outcomes)
    assert sum(one.shows > 1.0 for one in outcomes) >= 12
    assert found["first"] >= 0.6
    assert found["first three"] >= 0.8
    assert found["sound called sound"] >= 0.6
    assert "sound called sound" in report(outcomes)


def test_the_study_can_be_had_again() -> None:
    """The same seed gives the same job, the same readings, the same answer, and the same of the ideal judge."""
    assert one((11, "input")) == one((11, "input"))


def test_a_cause_shows_only_beyond_the_accuracy() -> None:
    """What moves every reading by less than its instrument can tell is not counted against the diagnosis."""
    assert Kit(faulty=[10.0], sound=[9.0], accuracies=[2.0]).shows < 1.0
    assert Kit(faulty=[12.0], sound=[9.0], accuracies=[2.0]).shows > 1.0


def test_narrow_places_of_the_study_are_not_those_of_the_diagnosis() -> None:
    """The study's orifice costs more than the diagnosis takes such a place for: neither is checked by itself."""
    assert orifice(0.25) > 1.3 * narrow_k(open_bore=0.5, bore=1.0)
