"""What every page at the appliance has: a title, what is asked, large figures, a word on them, and what is known."""

from __future__ import annotations

import datetime
from abc import abstractmethod
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalGroup
from textual.content import Content
from textual.widgets import Static

from ventsize.jobfile.problems import InputError
from ventsize.quantity import is_bare
from ventsize.tui.job.session import Session
from ventsize.tui.plain import PlainCharacters
from ventsize.tui.session_screen import SessionScreen
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.large import large
from ventsize.tui.widgets.said import OneLine
from ventsize.tui.widgets.text import one_line

SIGNS = {"good": "✓", "bad": "✗", "unsure": "▲", "": ""}


def today() -> datetime.date:
    """The date a tick or a visit gets."""
    return datetime.date.today()


def now() -> str:
    """The time of day a visit gets, which tells two of one day apart."""
    return datetime.datetime.now().strftime("%H:%M")


def moment() -> str:
    """When a reading was taken."""
    return datetime.datetime.now().strftime("%Y-%m-%d %H:%M")


def shut_off(session: Session) -> str:
    """Why the appliance must not run, in a sentence for each; empty where nothing says so."""
    from ventsize.report.wording import say
    from ventsize.studies.readings import readings

    if session.inputs is None or not (session.inputs.job.readings or session.inputs.job.symptoms):
        return ""
    try:
        stops = readings(session.inputs).stops
    except InputError:
        return ""
    return "\n".join(f"! {say(stop, session.system, place=False)}." for stop in stops)


class Page(SessionScreen):
    """One question. `typing` is what has been typed into it."""

    DEFAULT_CSS = """
    Page {
        & .page-title { background: $panel; }
        & #page-body { height: 1fr; padding: 1 1 0 1; }
        & #page-ask { text-style: bold; height: auto; max-height: 2; }
        & #page-how { height: auto; max-height: 6; }
        & #page-band { height: auto; margin: 1 0 0 0; }
        & #page-large { height: auto; margin: 1 0 0 0; text-style: bold; }
        & #page-word { height: auto; margin: 1 0 0 0; padding: 0 1; width: auto; }
        & #page-word.-good { background: $success-muted; }
        & #page-word.-bad { background: $error-muted; }
        & #page-word.-unsure { background: $warning-muted; }
        & #page-says { height: auto; margin: 1 0 0 0; }
        & #page-source { height: auto; color: $text-muted; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,down", "go(1)", "Next", id="field.next"),
        Binding("up", "go(-1)", "Previous", show=False, id="field.previous"),
        Binding("ctrl+z", "undo", "Undo", show=False, id="field.undo"),
        Binding("escape", "back", "Back", id="field.back"),
    ]

    topic = "field"

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.typing = ""
        self.begun = False  # whether a key has been typed since the question was put

    def compose(self) -> ComposeResult:
        """Title, body, keys."""
        yield OneLine(classes="page-title")
        with VerticalGroup(id="page-body"):
            for name in ("ask", "how", "band", "large", "word", "says", "source"):
                yield Static("", id=f"page-{name}", markup=False)
        yield KeyLine()

    @property
    def plain(self) -> bool:
        """Whether only ASCII is shown, in which half blocks would be no letters."""
        return any(isinstance(shown, PlainCharacters) for shown in self.app._filters)

    def put(self, name: str, text: str) -> None:
        """Write one part of the body; an empty one takes no room."""
        part = self.query_one(f"#page-{name}", Static)
        part.update(Content(text))
        part.display = bool(text)

    def put_title(self, *parts: str) -> None:
        """Write the title, with whether the work is kept safe."""
        fault = self.session.journal.fault
        kept = f"! {fault}" if fault else "kept as you type"
        self.query_one(".page-title", OneLine).update(Content("   ".join(map(one_line, (*parts, kept)))))

    @property
    def roomy(self) -> bool:
        """Whether there is room for more than the figure and the word in large letters."""
        return self.size.height >= 30

    def put_word(self, word: str, look: str, *, small: bool = False) -> None:
        """A large word on what is typed: look is good, bad, unsure or nothing. small: at half the size."""
        part = self.query_one("#page-word", Static)
        part.remove_class("-good", "-bad", "-unsure")
        if look:
            part.add_class(f"-{look}")
        lines = large(word, half=small) if word else [""]
        if len(lines[0]) > self.size.width - 4 and not small:
            lines, small = large(word, half=True), True
        self.put("word", f"*** {word} ***" if small and self.plain and word else "\n".join(lines))

    def put_figure(self, text: str, unit: str, *, large_unit: bool = False) -> None:
        """What is typed, its number in large figures; beside them what follows it, or the unit it has without.

        large_unit: whether the unit is large too, where there is room and it is of letters.
        """
        number, _, rest = text.strip().partition(" ")
        beside = rest or (unit if is_bare(number) or number == "?" else "")
        if large_unit and number and beside.isalpha():
            lines = large(f"{number} {beside}", width=self.size.width - 6)
            if len(lines) > 1:
                self.put("large", "\n".join(lines))
                return
        lines = large(number, width=self.size.width - 6 - len(beside)) if number else []
        self.put("large", "\n".join([*lines[:-1], f"{lines[-1]}  {beside}".rstrip()] if lines else []))

    # Keys

    def on_key(self, event: events.Key) -> None:
        """Figures and units are typed; the first key begins anew."""
        if event.key == "backspace":
            event.stop()
            self.begun, self.typing = True, self.typing[:-1]
            self.typed()
        elif event.is_printable and event.character and self.takes(event.character):
            event.stop()
            event.prevent_default()
            self.typing = (self.typing if self.begun else "") + event.character
            self.begun = True
            self.typed()

    def takes(self, character: str) -> bool:
        """Whether a character is typed here, rather than a command."""
        return len(self.typing) < 24

    @abstractmethod
    def typed(self) -> None:
        """What is typed has changed."""

    @abstractmethod
    def show(self) -> None:
        """Put the question."""

    def action_undo(self) -> None:
        """Take the last edit back."""
        self.take_back()
        self.show()

    def action_back(self) -> None:
        """One page back, which shows what has been done here."""
        self.session.history.pause()
        self.leave()
