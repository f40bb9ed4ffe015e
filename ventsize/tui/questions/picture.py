"""What the screens have in common that answer a question with a picture: fields above it, figures below."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Iterable
from typing import ClassVar, Generic, TypeVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalGroup, VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from ventsize.check.inputs import Inputs
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.text import NOTHING, WORKING
from ventsize.tui.session_screen import SessionScreen
from ventsize.tui.widgets.field import Field
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.said import OneLine
from ventsize.tui.widgets.text import one_line
from ventsize.tui.widgets.verdict_line import in_a_word

Study = TypeVar("Study")
LEAST_CHART = 8
MARGIN = 3  # cells beside the picture, the scroll bar among them


class PictureScreen(SessionScreen, Generic[Study]):
    """Works the answer out beside the screen and draws it as large as there is room; the text of it is a key away."""

    DEFAULT_CSS = """
    PictureScreen {
        & .picture-head { text-style: bold; }
        & .picture-problem { height: auto; padding: 0 1; color: $text-warning; display: none; }
        & .picture-problem.-shown { display: block; }
        & .picture-fields { height: auto; padding: 0 1; }
        & .picture-scroll { height: 1fr; padding: 0 0 0 1; scrollbar-size-vertical: 1; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back", id="picture.back"),
        Binding("t", "as_text", "Text", id="picture.text"),
        Binding("c", "copy", "Copy", show=False, id="picture.copy"),
    ]

    topic = "list"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__()
        self.session = session
        self.question = question
        self.study: Study | None = None
        self.answer = ""
        self.words = False
        self._problem = Static("", classes="picture-problem", markup=False)
        self._picture = Static(Content(WORKING), markup=False)

    def compose(self) -> ComposeResult:
        """What is asked and the job's verdict, the fields, the picture, the keys."""
        yield OneLine(self._head(), classes="picture-head")
        yield VerticalGroup(*self.fields(), classes="picture-fields")
        yield self._problem
        with VerticalScroll(classes="picture-scroll"):
            yield self._picture
        yield KeyLine()

    # For each screen to say

    def fields(self) -> Iterable[Widget]:
        """What can be typed."""
        return ()

    @abstractmethod
    def asked(self) -> Callable[[Inputs], Study]:
        """What is asked now, read from the fields: how it is worked out, beside the screen. ValueError where it cannot
        be read."""

    @abstractmethod
    def drawn(self, study: Study, *, width: int, height: int) -> Iterable[str]:
        """The picture and the figures below it, as lines."""

    @abstractmethod
    def text(self, study: Study) -> str:
        """The whole answer, as the command line prints it."""

    # Asking and showing

    async def opened(self) -> None:
        """Whatever has to be there before the first question."""

    async def on_mount(self) -> None:
        """Ask, where there is something to ask about."""
        await self.opened()
        self.begin_at()
        self.ask()

    def begin_at(self) -> None:
        """Where the cursor is at first: keys scroll the picture."""
        self.query_one(".picture-scroll").focus()

    def ask(self) -> None:
        """Ask anew: something typed, or the job, has changed."""
        if self.session.inputs is None:
            self._picture.update(Content(NOTHING))
            return
        try:
            asked = self.asked()
        except ValueError as error:
            self._say(str(error))
            return
        self._ask(asked, self.session.inputs)

    @long_work
    def _ask(self, asked: Callable[[Inputs], Study], inputs: Inputs) -> None:
        from ventsize.jobfile.problems import InputError

        study, said = None, ""
        try:
            study = asked(inputs)
        except (InputError, ValueError, ArithmeticError) as error:
            said = str(error).splitlines()[0]
        tell(self, self._answered, study, said)

    def _answered(self, study: Study | None, said: str) -> None:
        if study is not None:
            self.study = study
        elif self.study is None:
            self._picture.update(Content(""))
        if not said and self.session.problems:
            said = f"the job as typed cannot be judged ({self.session.problems[0]}); this is the last result"
        self._say(said)
        self.redraw()

    def _say(self, problem: str, sign: str = "! ") -> None:
        self._problem.set_class(bool(problem), "-shown")
        self._problem.update(Content(f"{sign}{one_line(problem)}" if problem else ""))

    def redraw(self) -> None:
        """Draw what is known as large as there is room."""
        if self.study is None:
            return
        width = max(40, self.size.width - MARGIN)
        height = max(LEAST_CHART, self.query_one(".picture-scroll").size.height)
        self.answer = self.text(self.study)
        self.query_one(".picture-head", Static).update(Content(self._head()))
        shown = self.answer if self.words else "\n".join(self.drawn(self.study, width=width, height=height))
        self._picture.update(Content(shown))

    def on_resize(self) -> None:
        """The picture fits the new size."""
        self.call_after_refresh(self.redraw)

    def refreshed(self) -> None:
        """The job or the units have changed."""
        self.ask()

    def _head(self) -> str:
        check = self.session.check
        if check is None:
            return one_line(self.question.title)
        return f"{one_line(self.question.title)}   job: {in_a_word(check.verdict, len(check.doubted))[0].upper()}"

    # What is typed

    live = True  # whether every keystroke that makes a value is answered

    def on_field_base_changed(self, event: Field.Changed) -> None:
        """A keystroke in a field."""
        event.stop()
        if event.valid and self.live:
            self.ask()

    def on_field_base_done(self, event: Field.Done) -> None:
        """Enter, or Esc with nothing to put back."""
        event.stop()
        if event.by_escape:
            self.escaped()
        else:
            self.entered()

    def entered(self) -> None:
        """Enter goes on to the next field."""
        self.focus_next()

    def escaped(self) -> None:
        """Esc leaves."""
        self.action_back()

    def job_changed(self) -> None:
        """The job was changed from here: every screen of it shows so, once it is judged."""
        self.judge_then(self._anew_everywhere)

    def _anew_everywhere(self) -> None:
        for screen in self.app.screen_stack:
            if isinstance(screen, SessionScreen) and screen.session is self.session:
                screen.refreshed()

    def from_the_top(self) -> None:
        """Another view of what is known, from its first line."""
        self.query_one(".picture-scroll").scroll_home(animate=False)
        self.redraw()

    # Keys

    def action_as_text(self) -> None:
        """The picture, or the whole answer in words."""
        self.words = not self.words
        self.from_the_top()

    def action_copy(self) -> None:
        """The whole answer, to the clipboard."""
        self.app.copy_to_clipboard(self.answer)
        self.notify("Copied.")

    def action_back(self) -> None:
        """Leave; what is still being worked out is left too."""
        self.dismiss(None)
