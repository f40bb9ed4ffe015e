"""Lessons: answers come from the job and follow it when it is changed; guesses are read and marked fairly."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.studies.support import SCENARIOS
from ventsize.check.inputs import Inputs, prepare, read_inputs
from ventsize.check.verdict import check
from ventsize.cli import main
from ventsize.jobfile.job import job_from_text
from ventsize.jobfile.lesson import MEASURES as NAMED
from ventsize.jobfile.lesson import Changed
from ventsize.jobfile.problems import InputError
from ventsize.quantity import Dimension, System, show_power
from ventsize.report.lesson_words import answer_in_words, choices_of, figure_in_words, read_guess, why_of
from ventsize.report.lessons import answer_lines, differs, question_lines
from ventsize.studies.altering.altered import altered
from ventsize.studies.lessons import (
    KeptMark,
    Question,
    find_lesson,
    forget_marks,
    held_lesson,
    keep_marks,
    kept_marks,
    lesson_doubts,
    lessons,
    marked,
    path_of_lessons,
    totals,
)
from ventsize.studies.lessons.measuring import MEASURES

LESSONS = sorted(SCENARIOS.glob("lesson-*.toml"))
FOOT = 0.3048


def number(answer: float, *, tolerance: float = 0.2, dimension: Dimension | None = Dimension.LENGTH) -> Question:
    """A question for a number."""
    return Question(ask="?", measure="equivalent length", way="number", answer=answer, dimension=dimension,
                    tolerance=tolerance)  # fmt: skip


def choice(answer: int) -> Question:
    """A question with three choices."""
    options = ("short", "long", "no difference")
    return Question(ask="?", measure="equivalent length", way="choice", options=options, answer=answer)


@pytest.fixture
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder of the user's own."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    yield tmp_path


def test_there_are_six_and_more() -> None:
    """Each is found by its name."""
    assert len(LESSONS) >= 6
    assert {path.stem.removeprefix("lesson-") for path in LESSONS} <= set(lessons())
    assert find_lesson("low-fire") == find_lesson("lesson-low-fire")


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_each_lesson_can_be_held(path: Path) -> None:
    """A story, questions each with an answer among its choices, something to notice; a question gives nothing away."""
    lesson = held_lesson(read_inputs(path))
    assert lesson.story.startswith("Invented.") and lesson.notice
    assert len(lesson.questions) >= 3
    for at, question in enumerate(lesson.questions, start=1):
        if question.way == "choice":
            assert 0 <= int(question.answer) < question.choices == len(choices_of(question, System.US))
        asked = "\n".join(question_lines(lesson, at, System.US, width=80))
        assert max(map(len, asked.splitlines())) <= 80
        assert why_of(question, System.US) not in asked and "Answer" not in asked
        assert "\n".join(answer_lines(question, System.SI, width=80)).startswith("Answer: ")


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_fittings_are_called_as_a_class_calls_them(path: Path) -> None:
    """What a variant has otherwise is told by the titles of its fittings, not by their names in files."""
    lesson = held_lesson(read_inputs(path))
    told = " ".join(differs(lesson, variant, System.US) for variant in lesson.variants)
    assert not any(name in told.split() for name in read_inputs(path).catalog.fittings)


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_no_answer_stands_in_the_file(path: Path) -> None:
    """Only what may be asked and chosen: nothing named an answer, and no key that could be one."""
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    known = {"ask", "measure", "of", "run", "rate", "fitting", "over", "over_rate", "pick", "among", "limits",
             "tolerance", "given", "notice"}  # fmt: skip
    for question in data["lesson"]["question"]:
        assert set(question) <= known


def test_the_answers_are_those_of_a_check() -> None:
    """Two lessons, by checks of the jobs made by hand."""
    inputs = read_inputs(SCENARIOS / "lesson-one-size-up.toml")
    lesson = held_lesson(inputs)
    as_laid = check(inputs).runs[0].worst
    larger = check(altered(inputs, Changed(size=0.0762))).runs[0].worst
    assert lesson.questions[1].answer == pytest.approx(as_laid.flow.pressure_drop / larger.flow.pressure_drop)
    assert answer_in_words(lesson.questions[0], System.US) == "3 in"
    low = held_lesson(read_inputs(SCENARIOS / "lesson-low-fire.toml"))
    rates = {r.name: r for r in check(read_inputs(SCENARIOS / "lesson-low-fire.toml")).runs[0].rates}
    share = rates["low"].flow.pressure_drop / rates["high"].flow.pressure_drop
    assert 0.2 <= share < 0.4 and answer_in_words(low.questions[0], System.US) == "20 % to 40 %"
    speed = rates["high"].flow.pieces[0].at.velocity
    assert low.questions[1].answer == pytest.approx(speed)


def test_a_changed_lesson_has_other_answers() -> None:
    """Copied and changed by its instructor: the answer moves with the job."""
    inputs = read_inputs(SCENARIOS / "lesson-elbow-in-feet.toml")
    before = held_lesson(inputs).questions[0].answer
    run = replace(inputs.job.runs[0], size=0.0762)
    other = prepare(replace(inputs.job, runs=(run,)), file=inputs.file, tables=inputs.tables)
    assert held_lesson(other).questions[0].answer > 1.2 * before


def test_every_measure_can_be_asked_for() -> None:
    """The names of the file are those that are measured, and the verdict."""
    assert set(NAMED) == {*MEASURES, "verdict"}


BAD = [
    ('pick = "most"', 'pick = "most"\nlimits = [1]', "both 'pick' and 'limits'"),
    ('among = ["2 in", "4 in"]', 'among = ["2 in", "5 in"]', "no variant is named '5 in'"),
    ('fitting = "elbow-90-short"\n', "", "does not say of which fitting"),
    ('fitting = "elbow-90-short"', 'fitting = "elbow-90-shrot"', "unknown fitting"),
    ('measure = "pressure drop"', 'measure = "presure drop"', "measure"),
    ('size = "4 in"', 'sise = "4 in"', "unknown key 'sise'"),
    ('rate = "high"', 'rate = "hihg"', "there is no rate 'hihg'"),
    ("limits = [0.6, 0.7, 0.8, 0.9]", 'limits = ["0.6 ft"]', "limits"),
    ('ask = "And in which does the whole run lose more pressure?"', 'ask = " "', "it asks nothing"),
]


@pytest.mark.parametrize(("before", "after", "said"), BAD)
def test_a_fault_in_a_lesson_is_said(before: str, after: str, said: str) -> None:
    """One sentence, with the question."""
    text = (SCENARIOS / "lesson-elbow-in-feet.toml").read_text(encoding="utf-8")
    assert before in text

    def inputs() -> Inputs:
        job = job_from_text(text.replace(before, after, 1), file="job.toml")
        return prepare(job, file="job.toml", beside=SCENARIOS)

    with pytest.raises(InputError, match=said):
        held_lesson(inputs())


def test_faults_of_several_questions_are_said_in_one_round() -> None:
    """Each with its question."""
    text = (SCENARIOS / "lesson-elbow-in-feet.toml").read_text(encoding="utf-8")
    text = text.replace('fitting = "elbow-90-short"\n', 'fitting = "elbow-90-shrot"\n', 1)
    text = text.replace("[0.6, 0.7", '["1 ft", 0.7')
    job = job_from_text(text, file="job.toml")
    with pytest.raises(InputError) as caught:
        held_lesson(prepare(job, file="job.toml", beside=SCENARIOS))
    assert [problem.place[:18] for problem in caught.value.problems] == ["lesson, question 1", "lesson, question 4"]


def test_a_job_that_is_no_lesson() -> None:
    """Said."""
    with pytest.raises(InputError, match="the job is no lesson"):
        held_lesson(read_inputs(SCENARIOS / "simple-pass.toml"))


@pytest.mark.parametrize(
    ("text", "value"),
    [("12", 12 * FOOT), ("12 ft", 12 * FOOT), ("3.5", 3.5 * FOOT), ("2 m", 2.0), ("30 in", 2.5 * FOOT)],
)
def test_a_number_is_read_with_or_without_its_unit(text: str, value: float) -> None:
    """Feet where nothing is said."""
    assert read_guess(number(1.0), text, System.US) == pytest.approx(value)


@pytest.mark.parametrize("text", ["", "many", "12 psi", "nan", "1e999"])
def test_what_is_no_guess_is_said(text: str) -> None:
    """And what is expected."""
    with pytest.raises(ValueError, match="expected"):
        read_guess(number(1.0), text, System.US)


@pytest.mark.parametrize(("text", "found"), [("1", 0), ("3", 2), ("long", 1), ("No", 2), ("pass", None)])
def test_a_choice_by_number_or_word(text: str, found: int | None) -> None:
    """As the class says it."""
    assert read_guess(choice(0), text, System.US) == found


@pytest.mark.parametrize("text", ["0", "4", "", "mitered"])
def test_no_such_choice(text: str) -> None:
    """Asked again."""
    with pytest.raises(ValueError, match="a number from 1 to 3"):
        read_guess(choice(0), text, System.US)


SHARE = Question(ask="?", measure="pressure drop", way="number", answer=0.25, share=True, tolerance=0.2)
LIMITS = Question(ask="?", measure="pressure drop", way="choice", answer=1, share=True, limits=(0.2, 0.4))


@pytest.mark.parametrize(
    ("text", "value"),
    [("25 %", 0.25), ("25%", 0.25), ("1/4", 0.25), ("0,25", 0.25), ("0.25", 0.25), ("1,5", 1.5), ("1.5 times", 1.5)],
)
def test_a_share_as_the_class_says_it(text: str, value: float) -> None:
    """In percent, as a fraction, with a comma for the point; a choice between limits by a value it holds."""
    assert read_guess(SHARE, text, System.US) == pytest.approx(value)
    assert read_guess(LIMITS, text, System.US) == (2 if value > 0.4 else 1)


@pytest.mark.parametrize(("text", "feet"), [("5,7", 5.7), ("1,500", 1500.0), ("2,25 ft", 2.25), ("1 1/2", 1.5)])
def test_a_comma_is_what_it_was_meant_as(text: str, feet: float) -> None:
    """A decimal comma, but thousands where three digits follow: "5,7" is never fifty-seven."""
    assert read_guess(number(1.0), text, System.US) == pytest.approx(feet * FOOT)


def test_who_passes_has_no_point() -> None:
    """Nor does it make another's guess the nearest of several."""
    assert {m.who: m.points for m in marked(number(10.0), {"Ann": None, "Ben": 11.0})} == {"Ann": 0, "Ben": 1}
    assert [m.points for m in marked(choice(1), {"Ann": None})] == [0]


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_an_answer_gives_no_later_one_away(path: Path) -> None:
    """Which of several has most is answered by their order alone where a later question asks how much."""
    questions = held_lesson(read_inputs(path)).questions
    for at, question in enumerate(questions):
        answered = "\n".join(answer_lines(question, System.US, width=80))
        for later in questions[at + 1 :]:
            if not later.share or not question.options:
                continue
            figures = [figure_in_words(later, value, System.US) for _, value in later.figures]
            assert not all(figure in answered for figure in figures), later.ask


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_each_question_has_what_to_reason_from(path: Path) -> None:
    """Every variant asked about with its input, size and pieces; a sketch where laid out; the row where it decides."""
    inputs = read_inputs(path)
    lesson = held_lesson(inputs)
    for at, question in enumerate(lesson.questions, start=1):
        text = " ".join("\n".join(question_lines(lesson, at, System.US, width=80)).split())
        for name in question.shows:
            variant = lesson.variant(name)
            high = max(r.input for a in variant.inputs.job.appliances for r in a.rates)
            assert f"{name}: " in text and show_power(high, System.US) in text
            assert variant.run.first_section.label in text
            assert variant.run.counted or "Plan N ↑" in text
        if question.measure in ("verdict", "length by the table"):
            assert "It counts" in text and "altitude allowable" in text


def test_the_path_goes_from_easy_to_hard() -> None:
    """Every shipped lesson has its place and its teacher's notes; no two share a place."""
    places = [one.place for one in path_of_lessons()]
    assert places == list(range(1, len(LESSONS) + 1))
    for path in LESSONS:
        lesson = held_lesson(read_inputs(path))
        assert lesson.teacher and lesson.teacher.expect and lesson.teacher.board
        assert not lesson_doubts(lesson)


SILLY = [
    ("tolerance = 0.2\n", "tolerance = 30.0\n", "lesson-never-wrong"),
    ("tolerance = 0.2\n", "tolerance = 0.0\n", "lesson-never-right"),
    ("limits = [0.6, 0.7, 0.8, 0.9]", "limits = [0.6, 0.7, 0.8, 90]", "lesson-out-of-reach"),
    ("limits = [0.6, 0.7, 0.8, 0.9]", "limits = [0.6, 0.75]", "lesson-on-the-edge"),
    ("limits = [0.6, 0.7, 0.8, 0.9]", "limits = [0.6, 0.601]", "lesson-too-close"),
    (
        "And in which does the whole run lose more pressure?",
        "The same elbow, twice the size: in which pipe is it worth more feet?",
        "lesson-asked-twice",
    ),
    ("[lesson.teacher]\n", "[[lesson.variant]]\nname = \"x\"\n", "lesson-no-notes"),
]  # fmt: skip


@pytest.mark.parametrize(("before", "after", "code"), SILLY, ids=lambda value: value[:24])
def test_what_is_silly_in_a_lesson_is_found(before: str, after: str, code: str) -> None:
    """A tolerance of 3000 %, a limit nobody reaches, an answer on the edge, a question asked twice, no notes."""
    text = (SCENARIOS / "lesson-elbow-in-feet.toml").read_text(encoding="utf-8")
    if code == "lesson-no-notes":
        start, end = text.index("[lesson.teacher]"), text.index("[[lesson.variant]]")
        text = text[:start] + text[end:]
    assert code == "lesson-no-notes" or before in text
    job = job_from_text(text.replace(before, after, 1), file="job.toml")
    found = lesson_doubts(held_lesson(prepare(job, file="job.toml", beside=SCENARIOS)))
    assert [doubt.code for doubt in found] == [code]


def test_marks() -> None:
    """A point for what is right, within the tolerance to its very edge; of several, one more for the nearest."""
    (alone,) = marked(number(10.0), {"Ann": 12.0})
    assert (alone.right, alone.points) == (True, 1)
    found = {m.who: m.points for m in marked(number(10.0), {"Ann": 12.0, "Ben": 9.0, "Cy": 30.0})}
    assert found == {"Ann": 1, "Ben": 2, "Cy": 0}
    far = {m.who: m.points for m in marked(number(10.0), {"Ann": 20.0, "Ben": 30.0})}
    assert far == {"Ann": 1, "Ben": 0}
    alike = {m.who: m.points for m in marked(number(10.0), {"Ann": 9.0, "Ben": 11.0})}
    assert alike == {"Ann": 2, "Ben": 2}
    assert [m.points for m in marked(choice(1), {"Ann": 1, "Ben": 0})] == [1, 0]


def test_totals() -> None:
    """Added up, the most first."""
    assert totals([("Ann", 1), ("Ben", 2), ("Ann", 2), ("Cy", 0)]) == (("Ann", 3), ("Ben", 2), ("Cy", 0))


@pytest.mark.usefixtures("own_folder")
def test_the_score_is_kept() -> None:
    """Across lessons; a second guess at the same question replaces the first; a new score begins empty."""
    assert kept_marks() == ()
    keep_marks([KeptMark(who='Team "Röhre"', lesson="low-fire", question=1, points=1)])
    keep_marks([KeptMark(who='Team "Röhre"', lesson="low-fire", question=1, points=2)])
    keep_marks([KeptMark(who="Ben", lesson="low-fire", question=1, points=0)])
    assert {m.who: m.points for m in kept_marks()} == {'Team "Röhre"': 2, "Ben": 0}
    forget_marks()
    assert kept_marks() == ()


def test_a_spoilt_score_file_is_said(own_folder: Path) -> None:
    """Not overwritten."""
    (own_folder / "class-score.toml").write_text("mark = 3", encoding="utf-8")
    with pytest.raises(InputError, match="mark"):
        keep_marks([KeptMark(who="Ann", lesson="x", question=1, points=1)])


@pytest.mark.usefixtures("own_folder")
def test_the_verb_asks_before_it_tells(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Every guess comes before its answer; the score is printed and kept."""
    typed = iter(["2", "nonsense", "1", "800", "900", "3", "3", "over", "within"])
    monkeypatch.setattr("builtins.input", lambda prompt: print(prompt) or next(typed))
    assert main(["lesson", "low-fire", "--names", "Ann, Ben"]) == 0
    said = capsys.readouterr().out
    assert said.index("Ben, your guess") < said.index("Answer: 20 % to 40 %") < said.index("How fast")
    assert "! 'nonsense' is no choice" in said
    assert "This lesson" in said and "The class so far" in said
    assert main(["lesson", "--score"]) == 0
    assert "Ann" in capsys.readouterr().out


@pytest.mark.usefixtures("own_folder")
def test_the_verb_lists_prints_and_writes(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """The list, the answers for the instructor, JSON; nothing more is asked where the input ends."""
    assert main(["lesson"]) == 0
    assert "low-fire" in capsys.readouterr().out
    assert main(["lesson", "low-fire", "--answers"]) == 0
    text = capsys.readouterr().out
    assert text.count("Answer:") == 4 and max(map(len, text.splitlines())) <= 80
    assert main(["lesson", "low-fire", "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)["questions"]) == 4
    assert main(["lesson", "low-fier"]) == 2
    assert "perhaps 'low-fire'" in capsys.readouterr().err

    def ended(_prompt: str) -> str:
        raise EOFError

    monkeypatch.setattr("builtins.input", ended)
    assert main(["lesson", "low-fire"]) == 0
    assert "Answer:" not in capsys.readouterr().out
