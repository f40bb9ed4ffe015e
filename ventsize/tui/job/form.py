"""Fields bound to an open job: each keystroke goes into its data.

The fields stay where they are and are bound to other places as the cursor moves, so that no key falls into a gap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual.containers import VerticalScroll
from textual.message import Message

from ventsize.jobfile.editing import EditError
from ventsize.tui.job.session import Session
from ventsize.tui.job.specs import Spec
from ventsize.tui.widgets.field import ChoiceField, Field, FieldBase

AnyField = Field | ChoiceField


class Form(VerticalScroll):
    """Shows the fields of one part of a job."""

    DEFAULT_CSS = """
    Form { height: auto; max-height: 100%; padding: 0 1; scrollbar-size-vertical: 1; }
    """

    @dataclass
    class Typed(Message):
        """The data has changed."""

        spec: Spec

    class Settled(Message):
        """The field in which it was typed has been left."""

    @dataclass
    class Finished(Message):
        """Enter, or Esc with nothing to put back."""

        form: Form
        by_escape: bool = False

    def __init__(self, *, id: str | None = None, enter_goes_on: bool = False) -> None:
        """enter_goes_on: Enter goes from line to line, over what is chosen already as well."""
        super().__init__(id=id, can_focus=False)
        self._enter_goes_on = enter_goes_on
        self.session: Session | None = None
        self.specs: list[Spec] = []
        self._slots: list[dict[bool, AnyField]] = []  # by line: the field of choices, the field of text
        self._fields: list[AnyField] = []
        self._begun = False  # by a digit on a list, where the cursor belongs after it

    async def show(self, session: Session, specs: Sequence[Spec]) -> None:
        """Other fields, or the same ones bound to another place."""
        for field in self._fields:
            self._take_draft(field)
        await self._make(session, specs)
        self.session, self.specs = session, list(specs)
        self._fields = [self._slots[n][spec.kind == "choice"] for n, spec in enumerate(specs)]
        for spec, field in zip(specs, self._fields, strict=True):
            self._bind(field, spec)
        shown = set(self._fields)
        for field in (field for slot in self._slots for field in slot.values()):
            if field.display != (field in shown):
                field.display = field in shown

    async def _make(self, session: Session, specs: Sequence[Spec]) -> None:
        """What fields are wanting: after those of the line before, ahead of those of the line after."""
        self._slots += [{} for _ in range(len(specs) - len(self._slots))]
        wanting = [n for n, spec in enumerate(specs) if (spec.kind == "choice") not in self._slots[n]]
        together: dict[AnyField | None, list[AnyField]] = {}  # by the field they come before: mounted in one go
        for number in wanting:
            spec = specs[number]
            made: AnyField
            if spec.kind == "choice":
                made = ChoiceField(spec.label, "", spec.choices, topic=spec.topic, hint=spec.hint)
                made.enter_goes_on = self._enter_goes_on
            else:
                made = Field(spec.label, "", topic=spec.topic, reader=spec.reader(session.system))
            after = next((field for slot in self._slots[number + 1 :] for field in slot.values()), None)
            self._slots[number][spec.kind == "choice"] = made
            together.setdefault(after, []).append(made)
        for after, fresh in together.items():
            await self.mount(*fresh, before=after)

    def _bind(self, field: AnyField, spec: Spec) -> None:
        session = self.session
        assert session is not None
        text = session.typed_at(spec.place, spec.shown(session.data))
        if isinstance(field, ChoiceField):
            field.bind(spec.label, text, spec.choices, topic=spec.topic, hint=spec.hint)
        else:
            field.bind(
                spec.label, text, topic=spec.topic, reader=spec.reader(session.system),
                example=spec.example_in(session.system), optional=spec.optional, hint=spec.hint,
            )  # fmt: skip

    def refill(self) -> None:
        """Show what the data say now."""
        if self.session is None:
            return
        for spec, field in zip(self.specs, self._fields, strict=True):
            text = self.session.typed_at(spec.place, spec.shown(self.session.data))
            if isinstance(field, ChoiceField):
                field.put(text, spec.choices)
            elif not field.has_focus_within or text != field.kept:
                field.put(text)

    def offer(self, specs: Sequence[Spec]) -> None:
        """Other choices for the same fields; the values stay as they are."""
        self.specs = list(specs)
        for spec, field in zip(self.specs, self._fields, strict=True):
            if isinstance(field, ChoiceField):
                field.choices = list(spec.choices)

    def focus_field(self, at: int = 0) -> None:
        """Put the cursor into a field."""
        self._begun = False
        if at < len(self._fields):
            self._fields[at].focus_entry()

    def focus_topic(self, topic: str) -> None:
        """Put the cursor into the first field with a help topic, else into the first."""
        self.focus_field(self.field_of(topic) or 0)

    def go_on(self) -> bool:
        """Into the next field; False after the last one, and after a value that was begun on a list."""
        at = next((n for n, field in enumerate(self._fields) if field.has_focus_within), len(self._fields))
        if self._begun or at + 1 >= len(self._fields):
            return False
        self.focus_field(at + 1)
        return True

    def begin(self, at: int, character: str) -> None:
        """Type over a field's value."""
        if at < len(self._fields):
            field = self._fields[at]
            if isinstance(field, Field):
                self._begun = True
                field.begin(character)

    def field_of(self, topic: str) -> int | None:
        """The line of the first field with a help topic."""
        return next((n for n, spec in enumerate(self.specs) if spec.topic == topic), None)

    def topic(self) -> str | None:
        """The help topic of the field that has the focus."""
        return next((f.topic for f in self._fields if f.has_focus_within), None)

    def on_field_base_changed(self, event: Field.Changed) -> None:
        """Every keystroke goes into the data."""
        event.stop()
        if self.session is None or event.field not in self._fields:
            return
        spec = self.specs[self._fields.index(event.field)]
        if spec.when_left:
            self.session.draft(spec.place, None if event.text == spec.shown(self.session.data) else event.text)
            return
        if event.text == spec.shown(self.session.data):
            return
        try:
            self.session.type_at(spec.place, spec.changed(self.session.data, event.text), _named(spec))
        except EditError as error:
            event.field.show_problem(str(error))
            return
        self.post_message(self.Typed(spec))

    def on_field_base_done(self, event: Field.Done) -> None:
        """Through with the form."""
        event.stop()
        self._take_draft(event.field)
        self.post_message(self.Finished(self, event.by_escape))

    def on_field_base_left(self, event: Field.Left) -> None:
        """What was typed in the field is one step of the history."""
        event.stop()
        if self.session is not None:
            self._take_draft(event.field)
            if self.session.history.typing:
                self.session.history.pause()
                self.post_message(self.Settled())

    def _take_draft(self, field: FieldBase) -> None:
        """What waited for the field to be left takes effect."""
        at = next((n for n, one in enumerate(self._fields) if one is field), None)
        if self.session is None or at is None:
            return
        spec = self.specs[at]
        text = self.session.drafts.get(spec.place)
        if text is None:
            return
        try:
            self.session.do(spec.changed(self.session.data, text), _named(spec))
        except EditError as error:
            field.show_problem(str(error))
            return
        self.post_message(self.Typed(spec))


def _named(spec: Spec) -> str:
    return spec.label.strip().lower()
