"""Exercise sheets, marked from what is printed on them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.studies.marking import asked_of, mark
from ventsize.cli.command import main
from ventsize.quantity import System
from ventsize.report.exercises.as_paper import paper_of
from ventsize.report.exercises.as_text import key_text, sheet_text
from ventsize.report.paper import rendered
from ventsize.studies.exercises import LEVELS, TOPICS, sheet

SEEDS = 12


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("level", LEVELS)
def test_sheets_are_right_and_no_two_alike(system: System, level: int) -> None:
    """A dozen sheets of each level and topic, marked; `python -m tests.sheets` marks a thousand and more."""
    seen = set()
    for topic in TOPICS:
        for seed in range(SEEDS):
            text = mark(sheet(seed=seed, topic=topic, level=level, system=system))
            body = text.split("\n", 1)[1]
            assert body not in seen
            seen.add(body)


def test_the_same_seed_gives_the_same_sheet_and_each_student_another() -> None:
    """A sheet is known by its number; the class cannot copy from the neighbor."""
    one = sheet(seed=7, level=2, system=System.US)
    again = sheet(seed=7, level=2, system=System.US)
    assert sheet_text(one) == sheet_text(again) and key_text(one) == key_text(again)
    texts = {sheet_text(sheet(seed=7, level=2, student=student, system=System.US)) for student in range(1, 13)}
    assert len(texts) == 12


@pytest.mark.parametrize("level", LEVELS)
def test_what_must_not_be_mixed_up_is_on_every_mixed_sheet(level: int) -> None:
    """A problem that the table decides, one it does not cover, and one that only a calculation decides."""
    for seed in range(20):
        asked = asked_of(sheet(seed=seed, level=level, system=System.US))
        choices = {one.choice for one in asked}
        assert choices & {"within", "over", "short"}
        assert choices & {"not covered", "incomplete"}
        assert "the same for both" in choices


def test_the_sheet_does_not_tell_its_answers() -> None:
    """No result of the key stands among the givens or in the story."""
    for seed in range(20):
        for exercise in sheet(seed=seed, level=3, system=System.SI).exercises:
            symbols = {given.symbol for given in exercise.givens}
            assert not symbols & {one.answer.symbol for one in exercise.asked if one.answer is not None}


def test_marking_finds_a_wrong_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """The marking of these tests would see an answer that is off by half a percent."""
    made = sheet(seed=1, topic="pressure", level=2, system=System.US)
    text = key_text(made)
    found = re.search(r"a\) Δp = ([\d.]+)", text)
    assert found is not None
    wrong = text.replace(found[0], f"a) Δp = {float(found[1]) * 1.005:.5g}", 1)
    monkeypatch.setattr("tests.studies.marking.key_text", lambda _: wrong)
    with pytest.raises(AssertionError):
        mark(made)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"topic": "chimneys"}, "no topic 'chimneys'; expected one of mixed, combustion"),
        ({"level": 4}, "no level 4; expected 1, 2 or 3"),
        ({"exercises": 0}, "cannot have 0 exercises; expected 1 to 40"),
        ({"student": 0}, "no student 0; expected 1 or more"),
    ],
)
def test_what_there_is_not_is_said(asked: dict[str, int | str], said: str) -> None:
    """A sentence names what is expected."""
    with pytest.raises(ValueError, match=said):
        sheet(seed=1, system=System.US, **asked)  # type: ignore[arg-type]


def test_papers_of_a_class() -> None:
    """Each student's sheet begins a page; the key can be kept apart; nothing is fetched from elsewhere."""
    sheets = [sheet(seed=2, level=1, student=student, system=System.US) for student in (1, 2)]
    page = rendered(paper_of(sheets, key=False), "html").decode()
    assert "student 1" in page and "student 2" in page and "right from" not in page
    assert "<svg" in page and not re.search(r"(?:src|href)=[\"']https?:", page)
    assert rendered(paper_of(sheets, exercises=False), "pdf").startswith(b"%PDF")


def test_the_verb(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Sheets and keys on the command line: apart or together, as text or files; a wrong topic is exit status 2."""
    assert main(["exercises", "--seed", "4", "--part", "sheet"]) == 0
    text = capsys.readouterr().out
    assert "Exercise 6." in text and "right from" not in text and "invented" in text
    assert main(["exercises", "--seed", "4", "--part", "key", "--pdf", str(tmp_path / "key.pdf")]) == 0
    assert (tmp_path / "key.pdf").read_bytes().startswith(b"%PDF")
    capsys.readouterr()
    assert main(["exercises", "--topic", "chimneys"]) == 2
    assert "no topic 'chimneys'" in capsys.readouterr().err
