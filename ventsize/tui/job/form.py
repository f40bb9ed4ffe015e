"""Fields bound to an open job: each keystroke goes into its data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual.containers import VerticalScroll
from textual.message import Message

from ventsize.tui.job.session import Session
from ventsize.tui.job.specs import Spec
from ventsize.tui.widgets.field import ChoiceField, Field


class Form(VerticalScroll):
    """Shows the fields of one part of a job."""

    DEFAULT_CSS = """
    Form { height: auto; max-height: 100%; padding: 0 1; scrollbar-size-vertical: 1; }
    """

    @dataclass
    class Typed(Message):
        """The data has changed."""

        spec: Spec

    @dataclass
    class Finished(Message):
        """Enter, or Esc with nothing to put back."""

        by_escape: bool = False

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id, can_focus=False)
        self.session: Session | None = None
        self.specs: list[Spec] = []
        self._fields: list[Field | ChoiceField] = []

    async def show(self, session: Session, specs: Sequence[Spec]) -> None:
        """Other fields, or the same ones bound to another place."""
        same = [(s.label, s.kind) for s in specs] == [(s.label, s.kind) for s in self.specs] and self._fields
        self.session, self.specs = session, list(specs)
        if same:
            self.refill()
            return
        self._fields = [self._made(spec) for spec in specs]
        await self.remove_children()
        await self.mount(*self._fields)

    def refill(self) -> None:
        """Show what the data say now."""
        if self.session is None:
            return
        for spec, field in zip(self.specs, self._fields, strict=True):
            text = spec.shown(self.session.data)
            if isinstance(field, ChoiceField):
                field.put(text, spec.choices)
            elif not field.has_focus_within:
                field.put(text)

    def offer(self, specs: Sequence[Spec]) -> None:
        """Other choices for the same fields; the values stay as they are."""
        self.specs = list(specs)
        for spec, field in zip(self.specs, self._fields, strict=True):
            if isinstance(field, ChoiceField):
                field.choices = list(spec.choices)

    def focus_field(self, at: int = 0) -> None:
        """Put the cursor into a field."""
        if at < len(self._fields):
            self._fields[at].focus_entry()

    def begin(self, at: int, character: str) -> None:
        """Type over a field's value."""
        if at < len(self._fields):
            field = self._fields[at]
            if isinstance(field, Field):
                field.begin(character)

    def topic(self) -> str | None:
        """The help topic of the field that has the focus."""
        return next((f.topic for f in self._fields if f.has_focus_within), None)

    def _made(self, spec: Spec) -> Field | ChoiceField:
        assert self.session is not None
        text = spec.shown(self.session.data)
        if spec.kind == "choice":
            return ChoiceField(spec.label, text, spec.choices, topic=spec.topic, hint=spec.hint)
        return Field(
            spec.label, text, topic=spec.topic, reader=spec.reader(self.session.system), example=spec.example,
            optional=spec.optional, hint=spec.hint,
        )  # fmt: skip

    def on_field_base_changed(self, event: Field.Changed) -> None:
        """Every keystroke goes into the data."""
        event.stop()
        if self.session is None or event.field not in self._fields:
            return
        spec = self.specs[self._fields.index(event.field)]
        if event.text == spec.shown(self.session.data):
            return
        self.session.type_at(spec.place, spec.value(event.text), f"{spec.label.strip().lower()}")
        self.post_message(self.Typed(spec))

    def on_field_base_done(self, event: Field.Done) -> None:
        """Through with the form."""
        event.stop()
        self.post_message(self.Finished(event.by_escape))

    def on_field_base_left(self, event: Field.Left) -> None:
        """What was typed in the field is one step of the history."""
        event.stop()
        if self.session is not None:
            self.session.history.pause()
