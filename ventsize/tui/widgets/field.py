"""Fields of a form: a label, what is typed, and beside it how it is understood or what is wrong with it.

A field never holds anybody up. A value that cannot be read is marked and explained while its owner goes on
showing the last one that could; Esc brings back what stood there when the field was entered.
"""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.widgets import Input

from ventsize.tui.widgets.choice import Choice, ChoiceField
from ventsize.tui.widgets.field_base import FieldBase, Reader, Reading, any_text

__all__ = ["Choice", "ChoiceField", "Field", "FieldBase", "Reader", "Reading", "any_text"]


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


def begin_typing(entry: Input, text: str) -> None:
    """Put a first character, typed elsewhere, into an entry in place of what it holds; the next key follows it."""
    entry.select_on_focus = False
    entry.screen.set_focus(entry)  # at once: the next key is meant for it
    entry.value = text
    entry.cursor_position = len(text)


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
        self._entry = _Entry(value)
        super().__init__(self._entry, label, topic=topic, hint=hint, id=id)
        self.reader = reader
        self.optional = optional
        self.example = example
        self._at_entry = value
        self._sent = value
        self._begun_from: str | None = None
        self.can_focus = False

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
            if self._entry.has_focus:
                self._entry.select_all()  # after an undo as well the next key replaces it
        self._at_entry = text
        self._judge(text)

    def begin(self, text: str) -> None:
        """Start typing over what is there, with the first character already typed."""
        before = self.value
        begin_typing(self._entry, text)
        self._begun_from = before

    def restore(self) -> None:
        """Bring back what stood here at entry; with nothing to bring back, Esc goes on to the screen."""
        if self._entry.value != self._at_entry:
            self._entry.value = self._at_entry
            self._entry.select_all()
            self.call_after_refresh(self.say_put_back)
        else:
            self.post_message(self.Done(self, by_escape=True))

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
