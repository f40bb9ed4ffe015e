"""The study of hidden causes in small; the whole of it is `python -m tests.faults`, its numbers in DEVELOPERS.md."""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from tests.faults.hiding import orifice
from tests.faults.study import one, report, shares, visits
from tests.faults.visiting import Kit
from ventsize.studies.diagnosis.fitting import Fit, Fitter, averaged
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


@pytest.mark.parametrize("off", [0.0, 1.7, 6.0])
def test_evidence_for_sizes_is_an_average_of_likelihoods(off: float) -> None:
    """A reading that goes with the size, which lies anywhere from 1 to 9: by the error function, worked by hand."""
    sizes = np.geomspace(1.0, 9.0, 200)
    by_hand = math.sqrt(math.pi / 2.0) * (math.erf((9.0 - off) / 2**0.5) - math.erf((1.0 - off) / 2**0.5)) / 8.0
    assert averaged(off - sizes[:, None], sizes) == pytest.approx(-2.0 * math.log(by_hand), abs=0.03)
    assert averaged(np.array([[off, 1.0]]), sizes[:1]) == pytest.approx(off**2 + 1.0)


@dataclass(frozen=True)
class Moved:
    """What two readings good to 1 are moved by."""

    by: tuple[float, float]
    swaps: tuple[()] = ()

    def beside(self, other: Moved) -> Moved:
        return Moved((self.by[0] + other.by[0], self.by[1] + other.by[1]))


def fitted(fitter: Fitter, change: Any, *, fixed: bool = False, likely: float = 1.0) -> Fit:
    """Something of a size from 0 to 1, or of a fixed one."""
    suspect: Any = SimpleNamespace(bounds=(0.0, 0.0 if fixed else 1.0), fixed=fixed, likely=likely, change=change)
    return fitter.fit(suspect)


def test_evidence_for_one_of_fixed_size_beside_another_is_that_for_the_other() -> None:
    """Readings of 10 and 3 by two that move one each: the first by up to 20, as its size is, the other by 3.

    What is left is nothing; of the sizes, readings leave a Gauss curve of 1/20, by hand.
    """
    model: Any = SimpleNamespace(
        base=np.zeros(2), cases=(), shows=lambda change, first=None: np.array(change.by), may_lose=lambda _: np.zeros(2)
    )
    fitter = Fitter(model, Any, np.array([10.0, 3.0]), np.eye(2))  # type: ignore[arg-type]
    one = fitted(fitter, lambda size: Moved((20.0 * size, 0.0)))
    other = fitted(fitter, lambda _: Moved((0.0, 3.0)), fixed=True)
    by_hand = -2.0 * math.log(math.sqrt(2.0 * math.pi) / 20.0)
    assert one.score == pytest.approx(3.0**2 + by_hand, abs=0.05)
    assert other.score == pytest.approx(10.0**2)
    sizes, chi_square, score = fitter.fit_two(one, other)
    assert (sizes[0], chi_square, score) == pytest.approx((0.5, 0.0, by_hand), abs=0.05)
    rarer = fitted(fitter, one.suspect.change, likely=0.25)
    assert rarer.score - one.score == pytest.approx(-2.0 * math.log(0.25))
