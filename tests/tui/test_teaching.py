"""The screens for a class: sweeps, side by side, lessons, the bench; by keys alone, at both sizes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, typed, until
from tests.tui.test_pictures import compare
from ventsize.studies.lessons import kept_marks
from ventsize.studies.sweeps import KINDS
from ventsize.tui.app import VentsizeApp
from ventsize.tui.job.edits import laid_out_job
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.job.session import Session
from ventsize.tui.questions import QUESTIONS
from ventsize.tui.questions.lesson import LessonScreen
from ventsize.tui.questions.picture import PictureScreen
from ventsize.tui.widgets.picker import Picker

SIZES = {"80x24": SMALL, "120x40": LARGE}


async def asked(app: Any, pilot: Any, name: str) -> Any:
    """A question's screen over the open job, once it has its answer."""
    question = next(question for question in QUESTIONS if question.name == name)
    app.push_screen(question.open(app.screen.session))
    await until(pilot, lambda: getattr(app.screen, "study", None) is not None or getattr(app.screen, "lesson", None))
    await pilot.pause()
    return app.screen


async def chosen(app: Any, pilot: Any, *words: str) -> None:
    """Pickers, one after the other, each by a word and Enter."""
    for word in words:
        await until(pilot, lambda: app.screen.query("Input:focus"))
        await typed(pilot, word)
        await pilot.press("enter")
        await pilot.pause()


async def named(app: Any, pilot: Any, screen: Any, names: str, so_far: str = "") -> None:
    """Say who guesses."""
    await pilot.press("f2")
    await until(pilot, lambda: app.screen is not screen)
    await typed(pilot, names)
    await pilot.press("enter")
    await until(pilot, lambda: app.screen is screen and ", ".join(screen.names) == so_far + names)


async def guessed(pilot: Any, text: str) -> None:
    """A guess."""
    await typed(pilot, text)
    await pilot.press("enter")
    await pilot.pause()


def wide_enough(app: Any, size: str) -> bool:
    """No line beyond the screen, the keys in the foot whole."""
    lines = as_text(app).splitlines()
    return max(map(len, lines)) <= SIZES[size][0] and "Back" in lines[-1]


@pytest.mark.parametrize("size", SIZES)
async def test_sweeps_by_keys(size: str) -> None:
    """N steps through all of them; S picks by a word; F another fitting."""
    async with running(scenario("old-two-inch-run"), size=SIZES[size]) as (app, pilot):
        screen = await asked(app, pilot, "sweep")
        assert isinstance(screen, PictureScreen) and screen.study.kind == "elbow-by-rate"
        compare(f"sweep-rate-{size}", as_text(app))
        for kind in list(KINDS)[1:] if size == "80x24" else ():
            await pilot.press("n")
            await until(pilot, lambda kind=kind: screen.study.kind == kind)
            assert wide_enough(app, size)
        await pilot.press("v")
        await chosen(app, pilot, "published")
        await until(pilot, lambda: screen.study.kind == "elbow-by-method")
        await pilot.press("e")
        await chosen(app, pilot, "elbow-45-mitered")
        await until(pilot, lambda: screen.study.fitting == "elbow-45-mitered")
        await pilot.pause()
        assert "Blevins miter" in as_text(app)
        compare(f"sweep-method-{size}", as_text(app))
        await pilot.press("t")
        await pilot.pause()
        assert "Where they come from" in screen.answer


@pytest.mark.parametrize(("name", "key"), [("compare", "b"), ("options", "e")])
async def test_nothing_is_tried_out_without_a_result(name: str, key: str) -> None:
    """A job with no input yet: the key asks nothing, and nothing breaks."""
    async with running() as (app, pilot):
        app.push_screen(JobScreen(Session(laid_out_job(), path=None)))
        await until(pilot, lambda: isinstance(app.screen, JobScreen) and not app.screen.opening)
        app.push_screen(next(one for one in QUESTIONS if one.name == name).open(app.screen.session))
        await until(pilot, lambda: not isinstance(app.screen, JobScreen))
        screen = app.screen
        await pilot.press(key)
        await pilot.pause()
        assert app.screen is screen and screen.session.check is None


@pytest.mark.parametrize("size", SIZES)
async def test_side_by_side_by_keys(size: str) -> None:
    """A variant by picking, one by typing, one changed further, taken away again; a bad value is said."""
    async with running(scenario("simple-pass"), size=SIZES[size]) as (app, pilot):
        question = next(question for question in QUESTIONS if question.name == "compare")
        app.push_screen(question.open(app.screen.session))
        await until(pilot, lambda: getattr(app.screen, "study", None) == ())
        screen = app.screen
        await pilot.press("b")
        await chosen(app, pilot, "change a fitting", "long", "90-short")
        await until(pilot, lambda: screen.study and len(screen.study.compared) == 2)
        await pilot.press("b")
        await chosen(app, pilot, "altitude", "7000 ft")
        await until(pilot, lambda: len(screen.study.compared) == 3)
        await pilot.press("m")
        await chosen(app, pilot, "whole run", "2 in")
        await until(pilot, lambda: len(screen.study.compared[2].differences) == 2)
        assert screen.study.compared[1].differences[0].code == "differs-exchanged"
        assert screen.study.compared[2].differences[1].values["after"] == ("2 in",)
        assert sum(p.pressure for p in screen.study.compared[2].parts) == pytest.approx(
            screen.study.compared[2].pressure_drop - screen.study.compared[0].pressure_drop
        )
        await pilot.pause()
        assert "altitude adds" in as_text(app) and wide_enough(app, size)
        compare(f"compare-curves-{size}", as_text(app))
        await pilot.press("v")
        await pilot.pause()
        compare(f"compare-bars-{size}", as_text(app))
        if size == "80x24":
            await pilot.press("b")
            await chosen(app, pilot, "altitude", "high")
            assert len(screen.variants) == 2
            await pilot.press("x")
            await until(pilot, lambda: len(screen.study.compared) == 2)


async def test_two_45s_for_each_90_and_the_same_elbow_last() -> None:
    """Of a 90 two 45s are offered first, in place of each; what changes nothing is the last of the list."""
    async with running(scenario("simple-pass"), size=SMALL) as (app, pilot):
        question = next(question for question in QUESTIONS if question.name == "compare")
        app.push_screen(question.open(app.screen.session))
        await until(pilot, lambda: getattr(app.screen, "study", None) == ())
        screen = app.screen
        await pilot.press("b")
        await chosen(app, pilot, "change a fitting", "long")
        await until(pilot, lambda: app.screen.query("Input:focus") and "two elbow-45" in as_text(app))
        offered = [entry[0] for entry in app.screen._entries]
        assert offered[0] == "elbow-45+elbow-45" and offered[-1] == "elbow-90-long"
        await pilot.press("enter")
        await until(pilot, lambda: screen.study and len(screen.study.compared) == 2)
        assert screen.study.compared[1].differences[0].code == "differs-two-for-each"


async def test_a_variant_opens_as_a_job() -> None:
    """Its data says what the variant says: the same loss, judged anew."""
    async with running(scenario("simple-pass"), size=LARGE) as (app, pilot):
        question = next(question for question in QUESTIONS if question.name == "compare")
        app.push_screen(question.open(app.screen.session))
        await until(pilot, lambda: getattr(app.screen, "study", None) == ())
        screen = app.screen
        await pilot.press("b")
        await chosen(app, pilot, "whole run", "2 in")
        await until(pilot, lambda: screen.study)
        await pilot.press("m")
        await chosen(app, pilot, "firing rate", "60 MBH")
        await until(pilot, lambda: len(screen.study.compared[1].differences) > 1)
        wanted = screen.study.compared[1].pressure_drop
        await pilot.press("o")
        await until(pilot, lambda: app.screen is not screen and getattr(app.screen.session, "check", None))
        assert app.screen.session.check.runs[0].worst.flow.pressure_drop == pytest.approx(wanted, rel=1e-3)


@pytest.mark.parametrize("size", SIZES)
async def test_the_bench_by_keys(size: str, tmp_path: Path) -> None:
    """It begins where it is told, an arrow lengthens it, a switch opens; + changes a speed; W cuts the power."""
    async with running(scenario("long-run-adaptive"), size=SIZES[size]) as (app, pilot):
        screen = await asked(app, pilot, "inducer")
        assert screen.study.bench.steps[0].burns and "job: ✗ OVER" in as_text(app)
        await pilot.press("e")
        await typed(pilot, "15 ft")
        await until(pilot, lambda: screen.study.bench.steps[0].length == pytest.approx(15 * 0.3048))
        assert screen.study.inducers.rates[0].vent_length == pytest.approx(15 * 0.3048)
        await pilot.press("enter", "escape")
        for count in range(2, 8):
            await pilot.press("right")
            await until(pilot, lambda count=count: len(screen.study.bench.steps) == count)
        high, low = screen.study.bench.steps[-1].rates
        assert high.points["adaptive"].burns and not high.points["fixed"].burns and low.points["fixed"].burns
        await pilot.pause()
        drawn = as_text(app)
        assert "SWITCH OPEN" in drawn and "burner out" in drawn and wide_enough(app, size)
        assert "in w.c., closed" in drawn and "A after it has learned this length" in drawn
        assert "speed [% of top]" in drawn and "this vent: ✗ OVER" in drawn
        compare(f"bench-{size}", drawn)
        await pilot.press("w")
        await until(pilot, lambda: screen.study.cut is not None and "the switch feels" in as_text(app))
        await pilot.press("right", "right")
        await pilot.pause()
        assert "The power returns. Nothing is learned yet." in as_text(app) and wide_enough(app, size)
        if size == "120x40":  # the oldest step first, and why its speed is not the bench's
            assert as_text(app).index("made longer after A had learned") < as_text(app).index("The power returns")
        compare(f"bench-power-cut-{size}", as_text(app))
        await pilot.press("w")
        await until(pilot, lambda: "speed [% of top]" in as_text(app))
        if size == "120x40":
            await pilot.press("s")
            await until(pilot, lambda: app.screen.query("Input:focus"))
            await pilot.press(*["backspace"] * 40)
            await typed(pilot, str(tmp_path / "bench.html"))
            await pilot.press("enter")
            await until(pilot, lambda: (tmp_path / "bench.html").exists())
            return
        await pilot.press("left")
        await until(pilot, lambda: len(screen.study.bench.steps) == 6)
        before = screen.study.bench.fixed_speed
        await pilot.press("plus")
        await until(pilot, lambda: screen.study.bench.fixed_speed > before)
        await pilot.press("enter")
        await until(pilot, lambda: len(screen.study.bench.steps) > 7)
        await pilot.press("enter", "escape")


@pytest.mark.parametrize("size", SIZES)
async def test_a_lesson_by_keys(size: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Names, a guess from each before the answer, marks, the score kept; large letters; no answer before its time."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    async with running(scenario("lesson-low-fire"), size=SIZES[size]) as (app, pilot):
        screen = await asked(app, pilot, "lesson")
        assert isinstance(screen, LessonScreen)
        await named(app, pilot, screen, "Ann, Ben")
        await pilot.press("enter")
        await pilot.pause()
        assert "1 of 4." in screen.shown and "Answer" not in screen.shown
        compare(f"lesson-question-{size}", as_text(app))
        await guessed(pilot, "9")
        assert "is no choice" in as_text(app) and screen.waiting == "Ann"
        await pilot.press("backspace")
        await pilot.press("f5")
        assert screen.waiting == "Ben"
        await pilot.press("f6")
        assert screen.waiting == "Ann"
        await pilot.press("f7", "escape")  # Esc closes the notes, not the lesson
        assert app.screen is screen and "1 of 4." in screen.shown
        await guessed(pilot, "1")
        assert screen.waiting == "Ben" and "Answer" not in screen.shown
        await guessed(pilot, "2")
        assert "Answer: 20 % to 40 %" in screen.shown
        assert [mark.points for mark in screen.marks] == [0, 1]
        assert {m.who: m.points for m in kept_marks()} == {"Ann": 0, "Ben": 1}
        assert "Guessing: Ann, Ben" in as_text(app)
        await typed(pilot, "9")  # by mistake: nobody guesses on this page
        compare(f"lesson-answer-{size}", as_text(app))
        await pilot.press("f3")
        await pilot.pause()
        assert "█" in as_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert screen.waiting == "Ann" and not screen.query_one("#lesson-guess").value
        compare(f"lesson-large-{size}", as_text(app))
        await pilot.press("f4")
        await pilot.pause()
        assert "The class so far" in screen.shown
        await pilot.press("f4", "f3")
        if size == "120x40":
            return
        await named(app, pilot, screen, "Cy", so_far="Ann, Ben, ")
        for guess in ("800", "900", "700", "3", "3", "3", "2", "1", "1"):
            while screen.waiting is None:
                await pilot.press("enter")
                await pilot.pause()
            await guessed(pilot, guess)
        await pilot.press("enter")
        await pilot.pause()
        assert screen.question is None and "This lesson" in screen.shown and "The lesson is over" in as_text(app)


async def test_teach_shows_ones_own_lessons_and_is_what_one_comes_back_to(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A lesson from the user's folder, found by its title before any story; Esc leads to the list and not to a job."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    own = scenario("lesson-low-fire").read_text(encoding="utf-8").replace("title = ", 'title = "Of my own" #', 1)
    (tmp_path / "lessons").mkdir()
    (tmp_path / "lessons" / "mine.toml").write_text(own, encoding="utf-8")
    async with running() as (app, pilot):
        start = app.screen
        await pilot.press("5")
        await until(pilot, lambda: app.screen is not start and app.screen.query("Input:focus"))
        await chosen(app, pilot, "of my")
        await until(pilot, lambda: getattr(app.screen, "lesson", None))
        assert app.screen.lesson.title == "Of my own"
        for word, kind in (("bench", "inducer"), ("one thing", "sweep")):
            await pilot.press("escape")
            await until(pilot, lambda: isinstance(app.screen, Picker) and app.screen_stack[-2] is start)
            await typed(pilot, "zzz")
            await until(pilot, lambda: "Nothing here" in as_text(app))
            await pilot.press(*["backspace"] * 3)
            await chosen(app, pilot, word)
            if kind == "sweep":
                await until(pilot, lambda: "One thing changed: of which job?" in as_text(app))
                await pilot.press("enter")
            await until(pilot, lambda: getattr(app.screen, "study", None))
            assert app.screen.question.name == kind


async def test_a_lesson_among_the_jobs_opened_last_is_under_teach(tmp_path: Path) -> None:
    """Wherever its file is, once it has been opened; a job without questions is not, nor a file that is gone."""
    for name in ("lesson-low-fire", "simple-pass", "sagging-run"):
        text = scenario(name).read_text(encoding="utf-8")
        own = tmp_path / f"mine-{name}.toml"
        own.write_text(text, encoding="utf-8")
        async with running(own):
            pass
    (tmp_path / "mine-sagging-run.toml").unlink()
    async with running() as (app, pilot):
        await pilot.press("5")
        await until(pilot, lambda: isinstance(app.screen, Picker))
        own_ones = [entry[0] for entry in app.screen._entries if entry[2] == "your lesson"]
        assert own_ones == [str(tmp_path / "mine-lesson-low-fire.toml")]


async def test_a_lesson_opened_as_a_job_offers_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    """From the first screen it is a job like any other; what it is besides is said. No other job says so."""
    said: list[str] = []
    monkeypatch.setattr(VentsizeApp, "notify", lambda self, message, **_: said.append(message))
    for name in ("lesson-low-fire", "simple-pass"):
        async with running(scenario(name)):
            pass
    assert [message for message in said if "This job is a lesson" in message] == said[:1]


async def test_a_job_that_is_no_lesson_says_so() -> None:
    """And what is expected; Esc leaves."""
    async with running(scenario("simple-pass")) as (app, pilot):
        question = next(question for question in QUESTIONS if question.name == "lesson")
        app.push_screen(question.open(app.screen.session))
        await until(pilot, lambda: isinstance(app.screen, LessonScreen) and "no lesson" in app.screen.shown)
        await pilot.press("escape")
        await until(pilot, lambda: not isinstance(app.screen, LessonScreen))
