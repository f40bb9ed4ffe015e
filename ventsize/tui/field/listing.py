"""Pages of choices at the appliance: a title over large lines, one digit each; the rates and what is read at them."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Footer, Static

from ventsize.jobfile.editing import value_at
from ventsize.tui.field.choices import Choices, Option
from ventsize.tui.field.page import moment
from ventsize.tui.field.reading import ReadingPage
from ventsize.tui.job.session import Session
from ventsize.tui.plain import PlainCharacters
from ventsize.tui.widgets.text import one_line


class Listing(Screen[None]):
    """A title over choices."""

    DEFAULT_CSS = """
    Listing .page-title { height: 1; padding: 0 1; background: $panel; text-wrap: nowrap; text-overflow: ellipsis; }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back", id="field.back"),
        Binding("ctrl+z", "undo", "Undo", show=False, id="field.undo"),
    ]

    topic = "field"
    tall = False

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session

    def compose(self) -> ComposeResult:
        """Title, choices, keys."""
        plain = any(isinstance(shown, PlainCharacters) for shown in self.app._filters)
        yield Static("", classes="page-title", markup=False)
        yield Choices(tall=self.tall, plain=plain)
        yield Footer()

    async def on_mount(self) -> None:
        """What can be chosen."""
        self.query_one(Choices).focus()
        await self.draw()

    async def draw(self) -> None:
        """Title and choices as they stand."""
        self.query_one(".page-title", Static).update(Content("   ".join(map(one_line, self.heading()))))
        await self.query_one(Choices).show(self.options())

    def refreshed(self) -> None:
        """Back from a page: what it has changed is shown."""
        self.run_worker(self.draw(), exclusive=True, group="draw")

    def heading(self) -> tuple[str, ...]:
        """The title."""
        raise NotImplementedError

    def options(self) -> list[Option]:
        """The choices."""
        raise NotImplementedError

    def action_undo(self) -> None:
        """Take the last edit back."""
        step = self.session.undo()
        self.notify(f"Undone: {step.label}" if step else "Nothing to undo.", markup=False, timeout=2)
        self.refreshed()

    def action_back(self) -> None:
        """One page back."""
        below: Any = self.app.screen_stack[-2]
        self.app.pop_screen()
        if hasattr(below, "refreshed"):
            below.refreshed()


class RatesScreen(Listing):
    """Which firing rate is read at."""

    topic = "rate"

    def heading(self) -> tuple[str, ...]:
        """What is asked."""
        return ("At which firing rate?",)

    def options(self) -> list[Option]:
        """Every rate, with how many readings it has."""
        from ventsize.studies.field import rates_of

        readings = value_at(self.session.data, ("reading",), []) or []
        taken = [reading.get("rate") for reading in readings if isinstance(reading, dict)]
        self._rates = rates_of(self.session.inputs)
        return [Option(rate, f"{taken.count(rate) or 'none'} taken") for rate in self._rates]

    def on_choices_chosen(self, event: Choices.Chosen) -> None:
        """Its places."""
        event.stop()
        self.app.push_screen(SpotsScreen(self.session, self._rates[event.number]))


class SpotsScreen(Listing):
    """What is read at a rate."""

    topic = "field_reading"

    def __init__(self, session: Session, rate: str) -> None:
        super().__init__(session)
        self._rate = rate
        self._spots: list[Any] = []

    def heading(self) -> tuple[str, ...]:
        """What is asked."""
        return "Which reading?", f"firing rate: {self._rate}", moment()

    def options(self) -> list[Option]:
        """Every reading of the rate, with what has been read."""
        from ventsize.studies.field import spots

        self._spots = list(spots(self.session.inputs, self._rate))
        made = []
        for spot in self._spots:
            kept = spot.kept(self.session.data)
            note, sign = (f"read {kept}", "●") if kept else ("not read yet", "")
            made.append(Option(spot.title, note, sign))
        return made

    def on_choices_chosen(self, event: Choices.Chosen) -> None:
        """Type it; the others follow."""
        event.stop()
        self.app.push_screen(ReadingPage(self.session, self._spots, event.number))
