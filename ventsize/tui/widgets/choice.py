"""A field of one of several values."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.text import Text
from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from ventsize.tui.widgets.field_base import FieldBase
from ventsize.tui.widgets.text import fitted, one_line

MOST_LINES = 2


@dataclass(frozen=True, slots=True)
class Choice:
    """One of several values: as kept, and as shown."""

    value: str
    shown: str


class _ChoiceLine(Static, can_focus=True):
    """The chosen value on one line: left and right step through the choices, Space lists them, and so does Enter.

    Where Enter goes from line to line, it lists only while nothing is chosen.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left,minus", "step(-1)", "Previous choice", show=False, id="choice.previous"),
        Binding("right,plus", "step(1)", "Next choice", show=False, id="choice.next"),
        Binding("space", "list", "List the choices", show=False, id="choice.list"),
        Binding("enter", "enter", "List the choices, or go on", show=False, id="choice.enter"),
        Binding("escape", "restore", "Put back", show=False, id="choice.restore"),
        Binding("down", "app.focus_next", "Next field", show=False, id="choice.next_field"),
        Binding("up", "app.focus_previous", "Previous field", show=False, id="choice.previous_field"),
    ]

    def on_resize(self) -> None:
        """The pointers stand at the ends."""
        self._field.show_value()

    @property
    def _field(self) -> ChoiceField:
        assert isinstance(self.parent, ChoiceField)
        return self.parent

    def on_key(self, event: events.Key) -> None:
        """A letter or digit searches in the list."""
        if event.character is not None and event.character.isalnum():
            event.stop()
            event.prevent_default()
            self._field.list_choices(event.character)

    def action_step(self, step: int) -> None:
        """The choice before or after."""
        self._field.step(step)

    def action_list(self) -> None:
        """Every choice, with a line to search in."""
        self._field.list_choices()

    def action_enter(self) -> None:
        """The list, or on to the next line."""
        self._field.enter()

    def action_restore(self) -> None:
        """What stood here at entry."""
        self._field.restore()

    def on_click(self) -> None:
        """A click lists the choices."""
        self.focus()
        self._field.list_choices()


class ChoiceField(FieldBase):
    """One of several values. What is not among them is kept and marked, never replaced."""

    DEFAULT_CSS = """
    ChoiceField {
        & _ChoiceLine { width: 1fr; max-width: 38; height: auto; margin: 0 0 0 17; background: $surface-lighten-1; }
        & _ChoiceLine:focus { background: $primary-muted; text-style: bold underline; }
        &.-wrong _ChoiceLine { background: $error-muted; }
    }
    """

    def __init__(
        self,
        label: str,
        value: str,
        choices: Sequence[Choice],
        *,
        topic: str,
        hint: str = "",
        title: str = "",
        id: str | None = None,
    ) -> None:
        self._line = _ChoiceLine(markup=False)
        super().__init__(self._line, label, topic=topic, hint=hint, id=id)
        self.choices = list(choices)
        self.value = value
        self.title = title or label
        self.enter_goes_on = False
        self._at_entry = value
        self._shown = Text()

    def on_mount(self) -> None:
        """Show the first value."""
        self.show_value()

    def bind(self, label: str, value: str, choices: Sequence[Choice], *, topic: str, hint: str) -> None:
        """Stand for another value, as if made anew."""
        if (label, topic, hint) != (self.label, self.topic, self.hint):
            self._rename(label, topic, hint)
            self.show_note("")
        self.title = label
        self.put(value, choices)

    def put(self, value: str, choices: Sequence[Choice] | None = None) -> None:
        """Show another value without telling anybody."""
        if choices is not None:
            self.choices = list(choices)
        if value != self.value:  # bound anew by its own change, it still has what Esc brings back
            self.value = self._at_entry = value
        self.show_value()

    def step(self, step: int) -> None:
        """The choice before or after, round and round."""
        if self.choices:
            values = [choice.value for choice in self.choices]
            at = values.index(self.value) + step if self.value in values else 0
            self._choose(values[at % len(values)])

    def enter(self) -> None:
        """List the choices; where Enter goes on and there is a choice, be through with the field."""
        if self.enter_goes_on and self.value:
            self.post_message(self.Done(self))
        else:
            self.list_choices()

    def list_choices(self, wanted: str = "") -> None:
        """Ask for one in a list. wanted: what has been typed to search for already."""
        from ventsize.tui.widgets.picker import Picker

        entries = [(choice.value, choice.shown) for choice in self.choices]
        self.app.push_screen(Picker(self.title, entries, at=self.value, wanted=wanted), self._picked)

    def _picked(self, value: str | None) -> None:
        if value is not None:
            self._choose(value)
            self.post_message(self.Done(self))

    def restore(self) -> None:
        """What stood here at entry; else Esc goes on."""
        if self.value != self._at_entry:
            self._choose(self._at_entry)
            self.say_put_back()
        else:
            self.post_message(self.Done(self, by_escape=True))

    def _choose(self, value: str) -> None:
        if value != self.value:
            self.show_note("")
            self.value = value
            self.show_value()
            self.post_message(self.Changed(self, value, True))

    def show_value(self) -> None:
        """Draw the choice as wide as there is room, and below it what is wider."""
        shown = next((choice.shown for choice in self.choices if choice.value == self.value), None)
        width = max(15, self._line.size.width - 4)
        words = [part.plain for part in Content(one_line(self.value if shown is None else shown)).wrap(width)]
        first, *more = [*words[: MOST_LINES - 1], *[" ".join(words[MOST_LINES - 1 :])][: len(words) >= MOST_LINES]]
        text = Text.assemble(("◂ ", "bold"), fitted(first, width), (" ▸", "bold"))
        text.append("".join(f"\n  {fitted(line, width)}" for line in more))
        if text != self._shown:
            before, self._shown = self._shown, text
            lines, was = text.plain.split("\n"), before.plain.split("\n")
            # a line made for more room than there is now has been wrapped, and its height kept
            self._line.update(text, layout=(len(lines), len(lines[0])) != (len(was), len(was[0])))

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """What stands here now is what Esc brings back."""
        self._at_entry = self.value

    def on_descendant_blur(self, event: events.DescendantBlur) -> None:
        """Leaving ends one step of the history."""
        self.show_note("")
        self.post_message(self.Left(self))
