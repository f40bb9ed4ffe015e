"""Fields of a form: a label, what is typed, and beside it how it is understood or what is wrong with it.

A field never holds anybody up. A value that cannot be read is marked and explained while its owner goes on
showing the last one that could; Esc brings back what stood there when the field was entered.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import HorizontalGroup, VerticalGroup
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Label, Static

from ventsize.tui.widgets.text import fitted, one_line


@dataclass(frozen=True, slots=True)
class Reading:
    """How a typed text is understood.

    text: as it is kept (with the unit that was left out, say). note: said beside the field.
    """

    text: str
    note: str = ""


Reader = Callable[[str], Reading]
"""Reads a field's text. Raises ValueError with one sentence where it cannot."""


def any_text(text: str) -> Reading:
    """A reader that takes every text as it stands."""
    return Reading(text)


class FieldBase(VerticalGroup):
    """What every field has: a topic for the help, a label, a line for remarks."""

    DEFAULT_CSS = """
    FieldBase {
        height: auto;
        & > HorizontalGroup { height: 1; }
        & .field-label { width: 17; color: $text-muted; }
        & .field-note { width: 1fr; min-width: 8; color: $text-muted; padding: 0 1; }
        & .field-problem { height: auto; display: none; color: $text-error; padding: 0 0 0 2; }
        &.-wrong .field-problem { display: block; }
        &.-here .field-label { color: $text; text-style: bold; }
    }
    """

    @dataclass
    class Changed(Message):
        """Another value, valid or not."""

        field: Field | ChoiceField
        text: str
        valid: bool

        @property
        def control(self) -> Widget:
            return self.field

    @dataclass
    class Done(Message):
        """Enter in the field, or Esc with nothing to put back: the person is through with it."""

        field: Field | ChoiceField
        by_escape: bool = False

        @property
        def control(self) -> Widget:
            return self.field

    @dataclass
    class Left(Message):
        """The field has lost the focus: what was typed in it is one step of the history."""

        field: Field | ChoiceField

        @property
        def control(self) -> Widget:
            return self.field

    def __init__(self, label: str, *, topic: str, hint: str = "", id: str | None = None) -> None:
        super().__init__(id=id)
        self.label = label
        self.topic = topic
        self.hint = hint
        self._label = Label(Content(label), classes="field-label")
        self._problem = Static("", classes="field-problem", markup=False)
        self._note = Static(hint, classes="field-note", markup=False)
        self._said = ("", hint)

    def _on_descendant_focus(self, event: events.DescendantFocus) -> None:
        self.add_class("-here")

    def _on_descendant_blur(self, event: events.DescendantBlur) -> None:
        self.remove_class("-here")

    def show_problem(self, sentence: str) -> None:
        """Mark the field with what is wrong, in full; an empty sentence takes the mark away."""
        if sentence == self._said[0]:
            return
        self._said = (sentence, self._said[1])
        self.set_class(bool(sentence), "-wrong")
        self._problem.update(Content(f"! {one_line(sentence)}" if sentence else ""))

    def show_note(self, note: str) -> None:
        """What is said beside the field: how it is understood, else the hint."""
        said = one_line(note or self.hint)
        if said != self._said[1]:
            self._said = (self._said[0], said)
            self._note.update(Content(said), layout=False)

    def _rename(self, label: str, topic: str, hint: str) -> None:
        """Stand for something else."""
        if label != self.label:
            self._label.update(Content(label), layout=False)
        self.label, self.topic, self.hint = label, topic, hint


class _Entry(Input):
    """An input of one line that gives back what it held at entry when Esc is pressed."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "restore", "Put back", show=False, id="field.restore"),
        Binding("down", "app.focus_next", "Next field", show=False, id="field.next"),
        Binding("up", "app.focus_previous", "Previous field", show=False, id="field.previous"),
    ]

    def __init__(self, value: str, *, placeholder: str, id: str | None = None) -> None:
        super().__init__(value, placeholder=placeholder, compact=True, select_on_focus=True, id=id)
        self.cursor_blink = False

    def action_restore(self) -> None:
        """Put back what stood here; a second time hands the key on to the screen."""
        field = self.parent.parent if self.parent is not None else None
        if isinstance(field, Field):
            field.restore()


class Field(FieldBase):
    """A line of text with its label.

    reader: says how the text is understood, or raises ValueError.
    example: shown faintly while the field is empty. optional: an empty field is right too.
    """

    DEFAULT_CSS = """
    Field {
        & Input { width: 20; height: 1; background: $surface-lighten-1; }
        & Input:focus { background: $primary-muted; }
        &.-wrong Input { background: $error-muted; }
        & .field-mark { width: 2; color: $text-error; }
    }
    """

    def __init__(
        self,
        label: str,
        value: str = "",
        *,
        topic: str,
        reader: Reader = any_text,
        example: str = "",
        optional: bool = False,
        hint: str = "",
        id: str | None = None,
    ) -> None:
        super().__init__(label, topic=topic, hint=hint, id=id)
        self.reader = reader
        self.optional = optional
        self._entry = _Entry(value, placeholder=example)
        self._at_entry = value
        self._sent = value
        self._begun_from: str | None = None
        self.can_focus = False

    def compose(self) -> ComposeResult:
        """Label, entry, note; under them the problem, if there is one."""
        with HorizontalGroup():
            yield self._label
            yield self._entry
            yield Static("", classes="field-mark", markup=False)
            yield self._note
        yield self._problem

    def on_mount(self) -> None:
        """Say how the first value is understood."""
        self._judge(self.value)

    @property
    def value(self) -> str:
        """The text as it stands."""
        return self._entry.value

    @property
    def kept(self) -> str:
        """The value that was passed on last."""
        return self._sent

    def bind(
        self, label: str, text: str, *, topic: str, reader: Reader, example: str, optional: bool, hint: str
    ) -> None:
        """Stand for another value, as if made anew."""
        self._rename(label, topic, hint)
        self.reader, self.optional = reader, optional
        if self._entry.placeholder != example:
            self._entry.placeholder = example
        self._begun_from = None
        self.put(text)

    def put(self, text: str) -> None:
        """Show another text without telling anybody: the value came from outside."""
        self._sent = text
        if self._entry.value != text:
            with self._entry.prevent(Input.Changed):
                self._entry.value = text
        self._at_entry = text
        self._judge(text)

    def begin(self, text: str) -> None:
        """Start typing over what is there, with the first character already typed."""
        before = self.value
        self._entry.select_on_focus = False
        self.screen.set_focus(self._entry)  # at once: the next key is meant for it
        self._entry.value = text
        self._entry.cursor_position = len(text)
        self._begun_from = before

    def restore(self) -> None:
        """Bring back what stood here at entry; with nothing to bring back, Esc goes on to the screen."""
        if self._entry.value != self._at_entry:
            self._entry.value = self._at_entry
            self._entry.select_all()
        else:
            self.post_message(self.Done(self, by_escape=True))

    def focus_entry(self) -> None:
        """Put the cursor into the field."""
        self._entry.focus()

    def _judge(self, text: str) -> tuple[str, bool]:
        """Show how a text is understood; gives the text to keep and whether it is right."""
        if not text.strip() and self.optional:
            self.show_problem("")
            self.show_note("")
            return "", True
        if not text.strip():  # nothing typed yet is no mistake, but no value either
            self.show_problem("")
            self.show_note("")
            return "", False
        try:
            reading = self.reader(text)
        except ValueError as error:
            self.show_problem(str(error))
            self.show_note("")
            return text, False
        self.show_problem("")
        self.show_note(reading.note)
        return reading.text, True

    def on_input_changed(self, event: Input.Changed) -> None:
        """Every keystroke is judged, shown and passed on."""
        event.stop()
        if event.value != self.value:  # another has come since
            return
        kept, valid = self._judge(event.value)
        if kept != self._sent:
            self._sent = kept
            self.post_message(self.Changed(self, kept, valid))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter: done with this field."""
        event.stop()
        self._settle()
        self.post_message(self.Done(self))

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """What stands here now is what Esc brings back."""
        self._at_entry = self.value if self._begun_from is None else self._begun_from
        self._begun_from = None

    def on_descendant_blur(self, event: events.DescendantBlur) -> None:
        """On leaving, the text is written out in full."""
        self._entry.select_on_focus = True
        self._settle()
        self.post_message(self.Left(self))

    def _settle(self) -> None:
        kept, valid = self._judge(self.value)
        if valid and kept != self.value:
            self._sent = kept
            self._entry.value = kept


@dataclass(frozen=True, slots=True)
class Choice:
    """One of several values: as kept, and as shown."""

    value: str
    shown: str


class _ChoiceLine(Static, can_focus=True):
    """The chosen value on one line: left and right step through the choices, Enter lists them."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left,minus", "step(-1)", "Previous choice", show=False, id="choice.previous"),
        Binding("right,space,plus", "step(1)", "Next choice", show=False, id="choice.next"),
        Binding("enter", "list", "List the choices", show=False, id="choice.list"),
        Binding("escape", "restore", "Put back", show=False, id="choice.restore"),
        Binding("down", "app.focus_next", "Next field", show=False, id="choice.next_field"),
        Binding("up", "app.focus_previous", "Previous field", show=False, id="choice.previous_field"),
    ]

    def on_resize(self) -> None:
        """The pointers stand at the ends."""
        self._field.show_value()

    @property
    def _field(self) -> ChoiceField:
        field = self.parent.parent if self.parent is not None else None
        assert isinstance(field, ChoiceField)
        return field

    def action_step(self, step: int) -> None:
        """The choice before or after."""
        self._field.step(step)

    def action_list(self) -> None:
        """Every choice, with a line to search in."""
        self._field.list_choices()

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
        & _ChoiceLine { width: 20; height: 1; background: $surface-lighten-1; }
        & _ChoiceLine:focus { background: $primary-muted; text-style: bold; }
        &.-wrong _ChoiceLine { background: $error-muted; }
        & .field-mark { width: 2; }
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
        super().__init__(label, topic=topic, hint=hint, id=id)
        self.choices = list(choices)
        self.value = value
        self.title = title or label
        self._at_entry = value
        self._line = _ChoiceLine(markup=False)
        self._shown = Text()

    def compose(self) -> ComposeResult:
        """Label, the choice between two pointers, note."""
        with HorizontalGroup():
            yield self._label
            yield self._line
            yield Static("", classes="field-mark")
            yield self._note
        yield self._problem

    def on_mount(self) -> None:
        """Show the first value."""
        self.show_value()

    def bind(self, label: str, value: str, choices: Sequence[Choice], *, topic: str, hint: str) -> None:
        """Stand for another value, as if made anew."""
        self._rename(label, topic, hint)
        self.title = label
        self.show_problem("")
        self.show_note("")
        self.put(value, choices)

    def put(self, value: str, choices: Sequence[Choice] | None = None) -> None:
        """Show another value without telling anybody."""
        if choices is not None:
            self.choices = list(choices)
        self.value = value
        self._at_entry = value
        self.show_value()

    def step(self, step: int) -> None:
        """The choice before or after, round and round."""
        if self.choices:
            values = [choice.value for choice in self.choices]
            at = values.index(self.value) + step if self.value in values else 0
            self._choose(values[at % len(values)])

    def list_choices(self) -> None:
        """Ask for one in a list."""
        from ventsize.tui.widgets.picker import Picker

        entries = [(choice.value, choice.shown) for choice in self.choices]
        self.app.push_screen(Picker(self.title, entries, at=self.value), self._picked)

    def _picked(self, value: str | None) -> None:
        if value is not None:
            self._choose(value)
            self.post_message(self.Done(self))

    def restore(self) -> None:
        """What stood here at entry; else Esc goes on."""
        if self.value != self._at_entry:
            self._choose(self._at_entry)
        else:
            self.post_message(self.Done(self, by_escape=True))

    def focus_entry(self) -> None:
        """Put the cursor into the field."""
        self._line.focus()

    def _choose(self, value: str) -> None:
        if value != self.value:
            self.value = value
            self.show_value()
            self.post_message(self.Changed(self, value, True))

    def show_value(self) -> None:
        """Draw the choice as wide as there is room."""
        shown = next((choice.shown for choice in self.choices if choice.value == self.value), None)
        text = Text("◂ ", style="bold")
        width = max(15, self._line.size.width - 5)
        text.append(fitted(one_line(self.value if shown is None else shown), width))
        text.append(" ▸", style="bold")
        if text != self._shown:
            self._shown = text
            self._line.update(text, layout=False)

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """What stands here now is what Esc brings back."""
        self._at_entry = self.value

    def on_descendant_blur(self, event: events.DescendantBlur) -> None:
        """Leaving ends one step of the history."""
        self.post_message(self.Left(self))
