"""What every field of a form has: label, note, problem, and what it tells its owner."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalGroup
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static

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


PUT_BACK = "put back as it was"
"""Said beside a field whose earlier value Esc has brought back."""


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
        height: auto; text-wrap: nowrap;
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

        field: FieldBase
        text: str
        valid: bool

        @property
        def control(self) -> Widget:
            return self.field

    @dataclass
    class Done(Message):
        """Enter in the field, or Esc with nothing to put back: the person is through with it."""

        field: FieldBase
        by_escape: bool = False

        @property
        def control(self) -> Widget:
            return self.field

    @dataclass
    class Left(Message):
        """The field has lost the focus: what was typed in it is one step of the history."""

        field: FieldBase

        @property
        def control(self) -> Widget:
            return self.field

    def __init__(self, typed_in: Widget, label: str, *, topic: str, hint: str = "", id: str | None = None) -> None:
        """typed_in: the part that has the focus."""
        super().__init__(id=id)
        self.typed_in = typed_in
        self.label = label
        self.topic = topic
        self.hint = hint
        self._problem = Static("", classes="field-problem", markup=False)
        self._said = ("", "", hint)

    def compose(self) -> ComposeResult:
        """What is typed in; under it the problem, if there is one."""
        yield self.typed_in
        yield self._problem

    def focus_entry(self) -> None:
        """Put the cursor into the field."""
        self.typed_in.focus()

    def render(self) -> Content:
        """The label to the left of what is typed in, the note to the right of it."""
        entry = self.typed_in
        style = self.get_visual_style("field--label-here" if self.has_class("-here") else "field--label", partial=True)
        said, note = fitted(self._said[2], self._room).rstrip(), self.get_visual_style("field--note", partial=True)
        said = "" if said == "e.g…" or (said.startswith("=") and said.endswith("…")) else said
        gap = " " * (entry.outer_size.width + 2)
        return Content.assemble((fitted(self.label, entry.styles.margin.left), style), gap, (f" {said}", note))

    @property
    def _room(self) -> int:
        """The cells to the right of what is typed in."""
        entry = self.typed_in
        return self.size.width - entry.styles.margin.left - entry.outer_size.width - 3

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

    def say_put_back(self) -> None:
        """That Esc has brought back what stood here: beside the field, or where there is no room, in a notice."""
        if self._room >= len(PUT_BACK):
            self.show_note(PUT_BACK)
        else:
            self.notify(f"{self.label.strip()}: {PUT_BACK}.", markup=False, timeout=2)

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
