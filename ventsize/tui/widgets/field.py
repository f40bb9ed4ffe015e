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
from textual.containers import VerticalGroup
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Static

from ventsize.tui.widgets.text import fitted, one_line


@dataclass(frozen=True, slots=True)
class Reading:
    """How a typed text is understood.

    text: as it is kept (with the unit that was left out, say). note: said beside the field. doubt: why it may be a
    slip, said under the field.
    """

    text: str
    note: str = ""
    doubt: str = ""


Reader = Callable[[str], Reading]
"""Reads a field's text. Raises ValueError with one sentence where it cannot."""


def any_text(text: str) -> Reading:
    """A reader that takes every text as it stands."""
    return Reading(text)


class FieldBase(VerticalGroup):
    """What every field has: a topic for the help, a label, a line for remarks.

    Label and note are drawn by the field itself, to the left and right of what is typed in: a form of a dozen fields
    is drawn at every keystroke.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = {"field--label", "field--label-here", "field--note"}

    DEFAULT_CSS = """
    FieldBase {
        height: auto; text-wrap: nowrap; text-overflow: ellipsis;
        & .field--label { color: $text-muted; }
        & .field--label-here { color: $text; text-style: bold; }
        & .field--note { color: $text-muted; }
        & .field-problem { height: auto; display: none; padding: 0 0 0 2; }
        &.-wrong .field-problem { display: block; color: $text-error; }
        &.-doubtful .field-problem { display: block; color: $text-warning; }
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
        self._problem = Static("", classes="field-problem", markup=False)
        self._said = ("", "", hint)

    def typed_in(self) -> Widget:
        """The part that has the focus."""
        raise NotImplementedError

    def render(self) -> Content:
        """The label to the left of what is typed in, the note to the right of it."""
        entry = self.typed_in()
        style = self.get_visual_style("field--label-here" if self.has_class("-here") else "field--label", partial=True)
        width = entry.styles.margin.left
        gap = " " * (int(entry.styles.width.value if entry.styles.width else 0) + 2)
        note = self.get_visual_style("field--note", partial=True)
        return Content.assemble((fitted(self.label, width), style), gap, (f" {self._said[2]}", note))

    def _on_descendant_focus(self, event: events.DescendantFocus) -> None:
        self.add_class("-here")

    def _on_descendant_blur(self, event: events.DescendantBlur) -> None:
        self.remove_class("-here")

    def show_problem(self, sentence: str) -> None:
        """Mark the field with what is wrong, in full; an empty sentence takes the mark away."""
        self._tell(sentence, "")

    def show_note(self, note: str, doubt: str = "") -> None:
        """What is said beside the field: how it is understood, else the hint; under it what is doubtful about it."""
        self._tell("", doubt)
        said = one_line(note or self.hint)
        if said != self._said[2]:
            self._said = (*self._said[:2], said)
            self.refresh()

    def _tell(self, problem: str, doubt: str) -> None:
        if (problem, doubt) == self._said[:2]:
            return
        self._said = (problem, doubt, self._said[2] if doubt or not problem else one_line(self.hint))
        self.set_class(bool(problem), "-wrong")
        self.set_class(bool(doubt), "-doubtful")
        self._problem.update(Content(f"{'!' if problem else '?'} {one_line(problem or doubt)}"))
        self.refresh()

    def _rename(self, label: str, topic: str, hint: str) -> None:
        """Stand for something else."""
        if (label, hint) != (self.label, self.hint):
            self.refresh()
        self.label, self.topic, self.hint = label, topic, hint


class _Entry(Input):
    """An input of one line that gives back what it held at entry when Esc is pressed."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "restore", "Put back", show=False, id="field.restore"),
        Binding("down", "app.focus_next", "Next field", show=False, id="field.next"),
        Binding("up", "app.focus_previous", "Previous field", show=False, id="field.previous"),
    ]

    def __init__(self, value: str, *, id: str | None = None) -> None:
        super().__init__(value, compact=True, select_on_focus=True, id=id)
        self.cursor_blink = False

    def _watch_value(self, value: str) -> None:
        # A keystroke changes how wide the text is, which is no reason to lay the whole screen out anew.
        self.set_reactive(Input.virtual_size, Size(self.content_width, 1))
        super()._watch_value(value)

    def action_restore(self) -> None:
        """Put back what stood here; a second time hands the key on to the screen."""
        if isinstance(self.parent, Field):
            self.parent.restore()


class Field(FieldBase):
    """A line of text with its label.

    reader: says how the text is understood, or raises ValueError.
    example: said beside the field while it is empty, since in it it would look like an entry.
    optional: an empty field is right too.
    """

    DEFAULT_CSS = """
    Field {
        & Input { width: 20; height: 1; margin: 0 0 0 17; background: $surface-lighten-1; }
        & Input:focus { background: $primary-muted; }
        &.-wrong Input { background: $error-muted; }
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
        self.example = example
        self._entry = _Entry(value)
        self._at_entry = value
        self._sent = value
        self._begun_from: str | None = None
        self.can_focus = False

    def compose(self) -> ComposeResult:
        """The entry; under it the problem, if there is one."""
        yield self._entry
        yield self._problem

    def typed_in(self) -> Widget:
        """The entry."""
        return self._entry

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
        self.example = example
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
        if not text.strip():  # nothing typed yet is no mistake, but no value either, unless it may be left out
            self.show_note("" if self.hint or not self.example else f"e.g. {self.example}")
            return "", self.optional
        try:
            reading = self.reader(text)
        except ValueError as error:
            self.show_problem(str(error))
            return text, False
        self.show_note(reading.note, reading.doubt)
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
        assert isinstance(self.parent, ChoiceField)
        return self.parent

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
        & _ChoiceLine { width: 20; height: 1; margin: 0 0 0 17; background: $surface-lighten-1; }
        & _ChoiceLine:focus { background: $primary-muted; text-style: bold; }
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
        super().__init__(label, topic=topic, hint=hint, id=id)
        self.choices = list(choices)
        self.value = value
        self.title = title or label
        self._at_entry = value
        self._line = _ChoiceLine(markup=False)
        self._shown = Text()

    def compose(self) -> ComposeResult:
        """The choice between two pointers."""
        yield self._line
        yield self._problem

    def typed_in(self) -> Widget:
        """The line of the choice."""
        return self._line

    def on_mount(self) -> None:
        """Show the first value."""
        self.show_value()

    def bind(self, label: str, value: str, choices: Sequence[Choice], *, topic: str, hint: str) -> None:
        """Stand for another value, as if made anew."""
        self._rename(label, topic, hint)
        self.title = label
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
