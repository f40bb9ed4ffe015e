"""The registry of findings: every code has its words, and every code is named as other programs expect."""

from __future__ import annotations

import re

import pytest

from ventsize.finding import CODES, Finding, Outcome, Verdict, deciding, verdict
from ventsize.finding.codes import APPLIANCE, CHECK, CHECKOVER, FIELD, FLOW, PAGE, ROOM, RUN, STUDY, SWEEP, TABLE
from ventsize.report.wording import WORDS


def test_every_code_has_words_and_nothing_else_has() -> None:
    assert WORDS.keys() == CODES.keys()


def test_no_code_is_registered_twice() -> None:
    sections = (TABLE, PAGE, RUN, FLOW, CHECK, STUDY, APPLIANCE, FIELD, SWEEP, CHECKOVER, ROOM)
    assert sum(map(len, sections)) == len(CODES)


def test_codes_are_kebab_case() -> None:
    assert not [code for code in CODES if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", code)]


def _outcome(condition: str, state: str, if_not: Verdict = "over") -> Outcome:
    return Outcome(condition=condition, state=state, because=Finding("x"), if_not=if_not)  # type: ignore[arg-type]


def test_a_condition_that_is_missing_or_not_known_is_no_pass() -> None:
    met = _outcome("length", "met")
    assert verdict([met], required=["length"]) == "within"
    assert verdict([met], required=["length", "gas"]) == "incomplete"
    assert verdict([], required=[]) == "incomplete"
    assert verdict([met, _outcome("gas", "not known", "unsafe")], required=["length", "gas"]) == "incomplete"


@pytest.mark.parametrize("worst", ["unsafe", "over", "short", "not covered", "incomplete"])
def test_the_most_severe_outcome_decides_in_any_order(worst: Verdict) -> None:
    outcomes = [_outcome("a", "met"), _outcome("b", "not met", worst), _outcome("c", "not known")]
    for order in (outcomes, outcomes[::-1]):
        assert verdict(order, required=["a", "b", "c"]) == worst
    found = deciding(outcomes)
    assert found is not None and found.condition == "b"
