"""Exercise sheets, marked from what is printed on them."""

from __future__ import annotations

import io
import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.studies.marking import mark
from ventsize.cli.command import main
from ventsize.flow.friction import friction_factor
from ventsize.quantity import System
from ventsize.report.exercises.as_paper import answers_paper, key_paper, sheets_paper
from ventsize.report.exercises.as_text import grid, key_text, sheet_text
from ventsize.report.paper import rendered
from ventsize.studies.exercises import LEVELS, TOPICS, Asked, Sheet
from ventsize.studies.exercises import sheet as made_anew
from ventsize.studies.exercises.board import evaluated
from ventsize.studies.exercises.flowing import HAALAND

SEEDS = 2
sheet = cache(made_anew)  # most tests read the same sheets


def asked_of(made: Sheet) -> list[Asked]:
    """Every question."""
    return [asked for exercise in made.exercises for asked in exercise.asked]


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("level", LEVELS)
def test_sheets_are_right_and_no_two_alike(system: System, level: int) -> None:
    """A few of each level and topic, solved from print; `python -m tests.sheets` solves a thousand and more."""
    seen = set()
    for topic in TOPICS:
        for seed in range(SEEDS):
            text = mark(sheet(seed=seed, topic=topic, level=level, units=system))
            body = text.split("\n", 1)[1]
            assert body not in seen
            seen.add(body)


def test_the_same_seed_gives_the_same_sheet_and_each_student_another() -> None:
    """A sheet is known by its number; the class cannot copy from the neighbor."""
    one = sheet(seed=7, level=2, units=System.US)
    again = made_anew(seed=7, level=2, units=System.US)
    assert sheet_text(one) == sheet_text(again) and key_text(one) == key_text(again)
    texts = {sheet_text(sheet(seed=7, level=2, student=student, units=System.US)) for student in range(1, 13)}
    assert len(texts) == 12


@pytest.mark.parametrize("level", LEVELS)
def test_what_must_not_be_mixed_up_is_on_every_mixed_sheet(level: int) -> None:
    """A verdict by the table, whether it covers the vent at all, and two layouts that it may not tell apart."""
    for seed in range(20):
        codes = {exercise.code for exercise in sheet(seed=seed, level=level, units=System.US).exercises}
        assert codes >= {"verdict", "table-says", "two-layouts"}


# What is so by a law whatever the numbers: the law is what is asked for.
ALWAYS = {"falls", "same-feet", "more-fuel"}


@pytest.mark.parametrize("units", System)
@pytest.mark.parametrize("level", LEVELS)
def test_a_class_cannot_guess_the_choice(level: int, units: System) -> None:
    """Of twenty students not even four in five have the same right choice."""
    chosen: dict[tuple[str, str], list[str]] = {}
    for student in range(1, 21):
        for exercise in sheet(seed=5, level=level, student=student, units=units).exercises:
            for asked in exercise.asked:
                if asked.choices and asked.code not in ALWAYS:
                    chosen.setdefault((exercise.code, asked.code), []).append(asked.choice)
    for question, answers in chosen.items():
        if len(answers) >= 10:
            assert max(Counter(answers).values()) <= 0.8 * len(answers), question


@pytest.mark.parametrize("level", LEVELS)
def test_a_verdict_is_a_choice_only_where_the_sheet_says_what_it_is(level: int) -> None:
    """Short is asked about where a row has a least length, and nowhere else."""
    for seed in range(12):
        for exercise in sheet(seed=seed, topic="verdict", level=level, units=System.US).exercises:
            rows = exercise.runs[0].inputs.tables[exercise.table].rows if exercise.table else ()
            for asked in exercise.asked:
                if asked.code == "verdict":
                    assert ("short" in asked.choices) is any(row.minimum is not None for row in rows)


@pytest.mark.parametrize("level", LEVELS)
def test_the_sheet_does_not_tell_its_answers(level: int) -> None:
    """No result of the key stands among the givens or in the story."""
    for seed in range(20):
        for exercise in sheet(seed=seed, level=level, units=System.US).exercises:
            symbols = {given.symbol for given in exercise.givens}
            assert not symbols & {one.answer.symbol for one in exercise.asked if one.answer is not None}


def test_marking_finds_a_wrong_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """The marking of these tests would see a key that is off by more than its tolerance."""
    made = sheet(seed=1, topic="pressure", level=2, units=System.US)
    text = key_text(made)
    found = re.search(r"right from ([\d.]+) to ([\d.]+)", text)
    assert found is not None
    wrong = text.replace(found[0], f"right from {1.07 * float(found[1]):.4g} to {1.07 * float(found[2]):.4g}", 1)
    monkeypatch.setattr("tests.studies.marking.key_text", lambda _: wrong)
    with pytest.raises(AssertionError):
        mark(made)


@pytest.mark.parametrize("hidden", ["h = ", "V[fuel] = "])
def test_marking_misses_what_is_not_printed(hidden: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A given or a formula left out of the print cannot be made up by the reader."""
    made = sheet(seed=1, topic="combustion", level=1, units=System.US)
    text = sheet_text(made)
    assert f"     {hidden}" in text
    cut = re.sub(rf"\n     {re.escape(hidden)}[^\n]*", "", text, count=1)
    monkeypatch.setattr("tests.studies.marking.sheet_text", lambda _: cut)
    with pytest.raises((KeyError, AssertionError)):
        mark(made)


@pytest.mark.parametrize("reynolds", [4_200.0, 8_000.0, 20_000.0, 60_000.0])
@pytest.mark.parametrize("rough", [0.0, 3e-5, 2e-4])
def test_the_formula_for_the_board_is_the_calculations(reynolds: float, rough: float) -> None:
    """Haaland 1983 states 2 % of Colebrook from Reynolds number 4,000 on; here within that and a little."""
    by_hand = evaluated(HAALAND, [rough, 1.0, reynolds])
    assert by_hand == pytest.approx(friction_factor(reynolds=reynolds, relative_roughness=rough), rel=0.022)


def test_levels_differ_in_thinking() -> None:
    """Level 1 has one formula a question; level 2 more than is asked for, or a choice; no level repeats another's."""
    codes = {level: set() for level in LEVELS}  # type: ignore[var-annotated]
    for level in LEVELS:
        for seed in range(20):
            for exercise in sheet(seed=seed, level=level, units=System.US).exercises:
                if exercise.topic not in ("table", "verdict"):
                    codes[level].add(exercise.code)
                    if level == 1:
                        assert len(exercise.formulas) == 1
    assert not codes[1] & codes[2] and not codes[2] & codes[3]


def test_the_grid_has_every_answer_of_every_student() -> None:
    """A row a student, by name where there is one; what stands there is what the key says, to three digits."""
    sheets = [sheet(seed=5, level=2, student=student, units=System.US) for student in (1, 2, 3)]
    heads, rows = grid(sheets, ["Ann", "", "Cy"])
    assert [row[0] for row in rows] == ["Ann", "2", "Cy"]
    for made, row in zip(sheets, rows, strict=True):
        assert sum(cell != "" for cell in row[1:]) == len(asked_of(made)) and len(row) == len(heads)
    many = [sheet(seed=5, level=3, student=student, units=System.US) for student in range(1, 31)]
    assert len(PdfReader(io.BytesIO(rendered(answers_paper(many, [""] * 30), "pdf"))).pages) == 1


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
        sheet(seed=1, units=System.US, **asked)  # type: ignore[arg-type]


def test_papers_of_a_class() -> None:
    """Each student's sheet begins a page; the key can be kept apart; nothing is fetched from elsewhere."""
    sheets = [sheet(seed=2, level=1, student=student, units=System.US) for student in (1, 2)]
    page = rendered(sheets_paper(sheets, ["", ""]), "html").decode()
    assert "student 1" in page and "student 2" in page and "right from" not in page
    assert "<svg" in page and not re.search(r"(?:src|href)=[\"']https?:", page)
    assert rendered(key_paper(sheets, ["", ""]), "pdf").startswith(b"%PDF")


def test_the_verb(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Sheets and keys on the command line: apart or together, as text or files; a wrong topic is exit status 2."""
    assert main(["exercises", "--seed", "4", "--part", "sheet"]) == 0
    text = capsys.readouterr().out
    assert "Exercise 6." in text and "right from" not in text and "invented" in text
    assert main(["exercises", "--seed", "4", "--names", "Ann, Ben", "--pdf", str(tmp_path / "class.pdf")]) == 0
    assert {path.name for path in tmp_path.iterdir()} == {"class.pdf", "class-key.pdf", "class-answers.pdf"}
    assert main(["exercises", "--seed", "4", "--part", "answers", "--csv", str(tmp_path / "grid.csv")]) == 0
    assert "1a" in (tmp_path / "grid.csv").read_text(encoding="utf-8")
    capsys.readouterr()
    assert main(["exercises", "--topic", "chimneys"]) == 2
    assert "no topic 'chimneys'" in capsys.readouterr().err
