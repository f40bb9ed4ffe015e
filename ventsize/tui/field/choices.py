"""Choices in large lines, one digit each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from ventsize.tui.widgets.large import HALF_HEIGHT, large
from ventsize.tui.widgets.text import one_line

DIGITS = "123456789"


@dataclass(frozen=True, slots=True)
class Option:
    """What can be chosen, and what is said beside it; sign: before it, and its look."""

    label: str
    note: str = ""
    sign: str = ""


class _Line(Static):
    """One choice."""

    def __init__(self, number: int, option: Option, *, tall: bool) -> None:
        super().__init__("", markup=False, classes="choice -tall" if tall else "choice")
        self.number, self.option, self.tall = number, option, tall

    def on_mount(self) -> None:
        """The digit, the label, the note."""
        digit = DIGITS[self.number] if self.number < len(DIGITS) else " "
        sign = f"{self.option.sign} " if self.option.sign else ""
        label, note = f"{sign}{one_line(self.option.label)}", one_line(self.option.note)
        if not self.tall:
            self.update(Content(f" {digit}  {label}\n    {note}"))
            return
        figure = large(digit, half=True) if digit.strip() else [""] * HALF_HEIGHT
        self.update(Content("\n".join(f" {f:5}{text}" for f, text in zip(figure, (label, note, ""), strict=True))))

    def on_click(self) -> None:
        """A click chooses."""
        choices = self.parent
        assert isinstance(choices, Choices)
        choices.go(self.number)
        choices.action_choose()


class Choices(VerticalScroll, can_focus=True):
    """A digit chooses at once; the arrows and Enter do too. `tall`: the digits are large as well."""

    DEFAULT_CSS = """
    Choices {
        height: 1fr; padding: 1 1 0 1; scrollbar-size-vertical: 1;
        & .choice { height: 2; text-style: bold; }
        & .choice.-tall { height: 3; }
        & .choice.-here { background: $block-cursor-background; color: $block-cursor-foreground; }
        
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "move(-1)", "Up", show=False, id="choices.up"),
        Binding("down,j", "move(1)", "Down", show=False, id="choices.down"),
        Binding("home", "move(-99)", "First", show=False, id="choices.first"),
        Binding("end", "move(99)", "Last", show=False, id="choices.last"),
        Binding("enter", "choose", "Choose", id="choices.choose"),
    ]

    @dataclass
    class Chosen(Message):
        """One of them, by its place."""

        number: int

    def __init__(self, *, tall: bool = False, plain: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self._tall = tall and not plain
        self.options: list[Option] = []
        self.at = 0

    async def show(self, options: Sequence[Option]) -> None:
        """Other choices, with the cursor where it was, or as near as can be."""
        self.options = list(options)
        self.at = max(0, min(self.at, len(self.options) - 1))
        await self.remove_children()
        await self.mount(*(_Line(n, option, tall=self._tall) for n, option in enumerate(self.options)))
        self._mark()

    def go(self, number: int) -> None:
        """The cursor on a choice."""
        self.at = max(0, min(number, len(self.options) - 1))
        self._mark()

    def _mark(self) -> None:
        for line in self.query(_Line):
            line.set_class(line.number == self.at, "-here")
            if line.number == self.at:
                self.scroll_to_widget(line, animate=False)

    def action_move(self, step: int) -> None:
        """Up or down."""
        self.go(self.at + step)

    def action_choose(self) -> None:
        """What the cursor stands on."""
        if self.options:
            self.post_message(self.Chosen(self.at))

    def on_key(self, event: events.Key) -> None:
        """A digit chooses."""
        if event.character and event.character in DIGITS and DIGITS.index(event.character) < len(self.options):
            event.stop()
            self.go(DIGITS.index(event.character))
            self.action_choose()
