"""What each question of a job comes to in a few words says what its study found, and no more than fits a line."""

from __future__ import annotations

from typing import Any

import pytest

from ventsize.catalog.folders import shipped_folder
from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.quantity import System
from ventsize.report.in_short import SHORT, at_once, in_short
from ventsize.studies.inducer import inducer_study
from ventsize.studies.repairs import repairs
from ventsize.studies.room_air import room_air

MOST = 60  # characters: half of what a terminal of 120 columns has


def inputs_of(name: str) -> Any:
    """A shipped demonstration, read."""
    return read_inputs(shipped_folder("scenarios") / f"{name}.toml")


def test_what_the_check_knows_is_said_at_once() -> None:
    """The verdict with its doubts, the least margin, the largest loss; too long is not left."""
    inputs = inputs_of("no-acceptable-option")
    checked = check(inputs)
    said = at_once(checked, 3, System.US)
    assert said["report"].startswith(checked.verdict) and said["field"].startswith("3 ")
    assert checked.verdict == "over" and said["headroom"].endswith("too long")
    assert all(len(words) < MOST for words in said.values())


def test_a_room_short_of_air_is_short_of_it() -> None:
    """By its name and verdict; a job without rooms says that it describes none."""
    study = room_air(inputs_of("basement-short-of-air"))
    said = in_short("roomair", study, System.US)
    assert all(room.name in said and room.verdict in said for room in study.rooms)
    assert in_short("roomair", None, System.US) != said


def test_an_inducer_is_named_by_the_rate_that_takes_most() -> None:
    """As a share of top speed."""
    study = inducer_study(inputs_of("long-run-adaptive"))
    most = max(rate.speed or 0.0 for rate in study.rates)
    assert in_short("inducer", study, System.US).startswith(f"{most:.0%}")


@pytest.mark.parametrize(("name", "within"), [("simple-pass", True), ("over-by-table-within-by-calculation", False)])
def test_repairs_are_changes_that_bring_it_within_or_save_something(name: str, within: bool) -> None:
    """Counted by what the job needs."""
    answers = list(repairs(inputs_of(name)))
    count = sum(len(one.savings if within else one.repairs) for one in answers)
    said = in_short("repairs", answers, System.US)
    assert said.startswith(f"{count} ") and ("within" in said) is not within


def test_every_line_has_its_question() -> None:
    """Of those that a list asks."""
    from ventsize.tui.questions import QUESTIONS
    from ventsize.tui.questions.menu import STUDIES

    assert set(STUDIES) <= set(SHORT) <= {question.name for question in QUESTIONS}
