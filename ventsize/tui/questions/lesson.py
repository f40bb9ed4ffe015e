"""A lesson: a guess from everybody before the answer is shown, and the class's score."""

from __future__ import annotations

import textwrap
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, Static

from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.text import NOTHING, WORKING
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.large import large
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.said import OneLine
from ventsize.tui.widgets.text import one_line

CELLS = 4  # of a large letter at half size, the gap after it included
NOBODY = "class"

NO_LESSON = "This job is no lesson. Lessons stand under Teach on the first screen."


class LessonScreen(Screen[None]):
    """Story, question, guesses, answer, and so on to the score. Enter goes on."""

    DEFAULT_CSS = """
    LessonScreen {
        & #lesson-title { text-style: bold; background: $panel; }
        & #lesson-body { height: 1fr; padding: 1 2 0 2; scrollbar-size-vertical: 1; }
        & #lesson-guess { height: 1; margin: 0 1; }
        & #lesson-said { color: $text-warning; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Leave", id="lesson.leave", priority=True),
        Binding("f2", "names", "Who guesses", id="lesson.names", priority=True),
        Binding("f3", "large", "Large type", id="lesson.large", priority=True),
        Binding("f4", "score", "Score", id="lesson.score", priority=True),
        Binding("f5", "pass", "Pass", id="lesson.pass", priority=True),
        Binding("f6", "back", "Back", id="lesson.back", priority=True),
        Binding("f7", "notes", "Notes, for all to see", show=False, id="lesson.notes", priority=True),
        Binding("pageup", "scroll(-1)", "Up", show=False, id="lesson.up", priority=True),
        Binding("pagedown", "scroll(1)", "Down", show=False, id="lesson.down", priority=True),
    ]

    topic = "lesson"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__()
        self._session = session
        self._entry = question
        self.lesson: Any = None
        self.names: list[str] = [NOBODY]
        self.at = -1  # the question; -1 the story, as many as there are the end
        self.guesses: dict[str, Any] = {}
        self.marks: tuple[Any, ...] = ()
        self._answered: dict[int, tuple[Any, ...]] = {}  # the marks of each question
        self._large = False
        self._beside = ""  # "score" or "notes" instead of the question

    def compose(self) -> ComposeResult:
        """The title, what is shown, the line to guess on, the keys."""
        yield OneLine(self._entry.title, id="lesson-title")
        with VerticalScroll(id="lesson-body", can_focus=False):
            yield Static(Content(WORKING), id="lesson-text", markup=False)
        guess = Input(compact=True, id="lesson-guess")
        guess.cursor_blink = False
        yield guess
        yield OneLine(id="lesson-said")
        yield KeyLine()

    def on_mount(self) -> None:
        """Make the lesson ready beside the screen."""
        self.query_one(Input).focus()
        if self._session.check is None:
            self._show_text(NOTHING)
        else:
            self._prepare()

    @long_work
    def _prepare(self) -> None:
        from ventsize.jobfile.problems import InputError
        from ventsize.studies.lessons import held_lesson

        session = self._session
        inputs, _ = session.whole
        if inputs.job.lesson is None:
            tell(self, self._show_text, NO_LESSON)
            return
        name = session.path.stem.removeprefix("lesson-") if session.path else ""
        try:
            lesson = held_lesson(inputs, name=name)
        except InputError as error:
            tell(self, self._show_text, str(error.problems[0]))
            return
        tell(self, self._ready, lesson)

    def _ready(self, lesson: Any) -> None:
        self.lesson = lesson
        self.redraw()

    # What is shown

    @property
    def question(self) -> Any:
        """The question asked; None before the first and after the last."""
        return self.lesson.questions[self.at] if self.lesson and 0 <= self.at < len(self.lesson.questions) else None

    @property
    def waiting(self) -> str | None:
        """Who is to guess next; None where nobody is."""
        if self.question is None or self.marks:
            return None
        return next((name for name in self.names if name not in self.guesses), None)

    def redraw(self) -> None:
        """Everything, as far as the lesson has come."""
        if self.lesson is None:
            return
        total = len(self.lesson.questions)
        place = "story" if self.at < 0 else f"question {self.at + 1} of {total}" if self.question else "the end"
        title = f"{one_line(self.lesson.title)}   {place}   Guessing: {', '.join(self.names)}"
        self.query_one("#lesson-title", OneLine).update(Content(title))
        width = max(40, self.query_one("#lesson-body").size.width - 4)
        self._show_text("\n".join(self._lines(width)))
        who = self.waiting
        guess = self.query_one(Input)
        goes_on = "Enter goes on" if self.at < total else "The lesson is over. Esc goes back."
        guess.placeholder = f"{who}, your guess (F5 passes)" if who else goes_on

    def on_resize(self) -> None:
        """Lines fit the new size."""
        self.call_after_refresh(self.redraw)

    def _show_text(self, text: str) -> None:
        self.query_one("#lesson-text", Static).update(Content(text))

    @property
    def shown(self) -> str:
        """What is shown, as text."""
        return str(self.query_one("#lesson-text", Static).content)

    def _lines(self, width: int) -> list[str]:
        from ventsize.report.lessons import answer_lines, mark_lines, notes_lines, question_lines, story_lines

        question, system = self.question, self._session.system
        if self._beside:
            return self._score_lines() if self._beside == "score" else list(notes_lines(self.lesson, width=width))
        if question is None:
            if self.at < 0:
                return list(story_lines(self.lesson, system, width=width))
            notice = " ".join(self.lesson.notice.split())
            end = self._in_large(notice, width) if self._large else textwrap.wrap(notice, width)
            return [*end, "", *self._score_lines()]
        if not self.marks:
            if self._large:
                return self._large_question(question, width)
            said = ["passes" if guess is None else "has guessed" for guess in self.guesses.values()]
            guessed = [f"  {name} {word}" for name, word in zip(self.guesses, said, strict=True)]
            return [*guessed, *question_lines(self.lesson, self.at + 1, system, width=width)]
        answer = list(answer_lines(question, system, width=width))
        if self._large:
            from ventsize.report.lesson_words import answer_in_words

            words = answer_in_words(question, system)
            whole = large(words) if len(words) * 2 * CELLS <= width else self._in_large(words, width)
            answer = [*whole, *answer[1:]]
        return [question.ask if not self._large else "", "", *answer, "", *mark_lines(question, self.marks, system)]

    def _large_question(self, question: Any, width: int) -> list[str]:
        from ventsize.report.lesson_words import choices_of, how_to_answer

        lines = self._in_large(question.ask, width)
        for number, choice in enumerate(choices_of(question, self._session.system), start=1):
            lines += self._in_large(f"{number} {choice}", width)
        return [*lines, "", *textwrap.wrap(how_to_answer(question, self._session.system), width)]

    def _in_large(self, text: str, width: int) -> list[str]:
        lines: list[str] = []
        for part in textwrap.wrap(text, max(6, width // CELLS)):
            lines += [*large(part, half=True), ""]
        return lines

    def _score_lines(self) -> list[str]:
        from ventsize.jobfile.problems import InputError
        from ventsize.report.lessons import score_lines
        from ventsize.studies.lessons import kept_marks, totals

        points = [(mark.who, mark.points) for marks in self._answered.values() for mark in marks]
        lines = ["This lesson", *score_lines(totals(points))]
        try:
            kept = totals((mark.who, mark.points) for mark in kept_marks())
        except InputError as error:
            return [*lines, "", str(error.problems[0])]
        return [*lines, "", "The class so far", *score_lines(kept)]

    # Guessing

    def on_input_changed(self, event: Input.Changed) -> None:
        """Where nobody is to guess, what is typed is nobody's guess of later."""
        event.stop()
        if self.waiting is None:
            event.input.value = ""

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """A guess, or on to what comes next."""
        event.stop()
        if self.lesson is None:
            return
        self._beside = ""
        self._say("")
        if self.waiting is None:
            self._next()
        elif self._take(event.value):
            event.input.value = ""
        self.redraw()

    def _take(self, text: str) -> bool:
        from ventsize.report.lesson_words import read_guess

        who = self.waiting
        assert who is not None
        try:
            self.guesses[who] = read_guess(self.question, text, self._session.system)
        except ValueError as error:
            self._say(f"! {error}")
            return False
        if self.waiting is None:
            self._mark()
        return True

    def _mark(self) -> None:
        """Everybody has guessed: mark it, and keep it."""
        from ventsize.jobfile.problems import InputError
        from ventsize.jobfile.writer import SaveError
        from ventsize.studies.lessons import KeptMark, keep_marks, marked

        self.marks = marked(self.question, self.guesses)
        self._answered[self.at] = self.marks
        try:
            keep_marks(
                KeptMark(who=m.who, lesson=self.lesson.name, question=self.at + 1, points=m.points) for m in self.marks
            )
        except (InputError, SaveError, OSError) as error:
            self._say(f"! the score is not kept: {error}")

    def _next(self) -> None:
        self._go(min(self.at + 1, len(self.lesson.questions)))

    def _go(self, at: int) -> None:
        """To a question; one that has been answered shows its answer."""
        self.at, self.guesses, self.marks = at, {}, self._answered.get(at, ())
        self.query_one("#lesson-body", VerticalScroll).scroll_home(animate=False)

    def _say(self, text: str) -> None:
        self.query_one("#lesson-said", OneLine).update(Content(one_line(text)))

    # Keys

    def action_names(self) -> None:
        """People or teams."""

        def named(text: str | None) -> None:
            if text is not None:
                self.names = list(dict.fromkeys(n.strip() for n in text.split(",") if n.strip())) or [NOBODY]
                self.guesses = {name: guess for name, guess in self.guesses.items() if name in self.names}
                self.redraw()

        so_far = "" if self.names == [NOBODY] else ", ".join([*self.names, ""])
        self.app.push_screen(AskLine("Who guesses: people or teams, commas between", None, typed=so_far), named)

    def action_large(self) -> None:
        """Large letters, for the back of the room."""
        self._large = not self._large
        self.redraw()

    def action_score(self) -> None:
        """The score, or back to the question."""
        self._beside = "" if self._beside == "score" else "score"
        self.redraw()

    def action_notes(self) -> None:
        """The teacher's page of notes, or back to the question."""
        self._beside = "" if self._beside == "notes" else "notes"
        self.redraw()

    def action_pass(self) -> None:
        """Who is to guess next passes."""
        if self.waiting is not None:
            self._beside = ""
            self._take("pass")
            self.query_one(Input).value = ""
            self.redraw()

    def action_back(self) -> None:
        """The last guess again; or, where there is none, the question before, with its answer."""
        if self.lesson is None:
            return
        if self._beside:
            self._beside = ""
        elif self.guesses and not self.marks:
            self.guesses.popitem()
        elif self.at >= 0:
            self._go(self.at - 1)
        self.redraw()

    def action_scroll(self, pages: int) -> None:
        """What does not fit."""
        body = self.query_one("#lesson-body", VerticalScroll)
        body.scroll_relative(y=pages * max(1, body.size.height - 2), animate=False)

    def action_leave(self) -> None:
        """From score or notes to the question; from that to what the lesson was opened from, asked in its middle."""
        if self._beside:
            self._beside = ""
            self.redraw()
            return
        if self.question is None or not (self.at or self.guesses or self.marks):
            self.dismiss(None)
            return

        def answered(word: str | None) -> None:
            if word == "leave":
                self.dismiss(None)

        answers = (("leave", "Leave", "l"), ("stay", "Go on", "g"))
        said = "The score is kept; another time the lesson begins at its first question."
        self.app.push_screen(Question("Leave the lesson?", said, answers), answered)
