"""What may be chosen for the runs of a job, asked for in one form: nothing typed means the usual."""

from __future__ import annotations

from pathlib import Path
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import HorizontalGroup, VerticalGroup
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from ventsize.catalog.folders import at_home
from ventsize.jobfile.problems import InputError
from ventsize.studies.options.asked import Asked
from ventsize.tui.job.session import Session

FIELDS: tuple[tuple[str, str, str], ...] = (
    ("runs", "Runs", "those that carry flue gas"),
    ("sizes", "Sizes", "those of the table; or 2 in, 3 in"),
    ("materials", "Materials", "as it is; or pvc-40, cpvc-40"),
    ("elbows", "90° turns", "short, long, two 45s"),
    ("each_elbow", "Each by itself", "no; yes makes very many options"),
    ("ends", "Outdoor ends", "as it is; or terminal-open, terminal-screened"),
    ("change_to", "Size changes to", "sizes of the table; or 'as it is' for none"),
    ("pipes", "Pipes", "as it is; or one, two"),
    ("routes", "Other routes", "job files, or runs of this job that are only that"),
)
KEYS = "Commas between   Enter looks at them   Tab next   Esc leaves it"


class ChoosingForm(ModalScreen[Asked | None]):
    """Gives what is asked for once it can be looked at, or None."""

    DEFAULT_CSS = """
    ChoosingForm {
        align: center middle;
        & > VerticalGroup { width: 76; max-width: 98%; background: $panel; border: round $primary; padding: 0 1; }
        & HorizontalGroup { height: 1; }
        & .choosing-name { width: 17; }
        & Input { width: 1fr; }
        & #choosing-said { height: 2; color: $text-warning; }
        & .choosing-foot { color: $text-muted; height: 1; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Close", id="choosing.leave"),
        Binding("down", "app.focus_next", "Next", show=False, id="choosing.next"),
        Binding("up", "app.focus_previous", "Before", show=False, id="choosing.before"),
    ]

    topic = "options"

    def __init__(self, asked: Asked, session: Session, folder: Path) -> None:
        super().__init__()
        self._asked, self._session, self._folder = asked, session, folder

    def compose(self) -> ComposeResult:
        """A line for each."""
        with VerticalGroup() as box:
            box.border_title = Content("What may be chosen (empty means the usual)")
            for name, label, usual in FIELDS:
                with HorizontalGroup():
                    yield Static(label, classes="choosing-name", markup=False)
                    entry = Input(_shown(getattr(self._asked, name)), placeholder=usual, compact=True, id=f"ask-{name}")
                    entry.cursor_blink = False
                    yield entry
            yield Static("", id="choosing-said", markup=False)
            yield Static(KEYS, classes="choosing-foot", markup=False)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take it, or say what is wrong with it."""
        event.stop()
        asked = self._read()
        try:
            self._try(asked)
        except InputError as error:
            self.query_one("#choosing-said", Static).update(Content(f"! {error.problems[0]}"))
            return
        self.dismiss(asked)

    def _try(self, asked: Asked) -> None:
        from ventsize.studies.options.asked import choices_of

        choices_of(self._session.whole[0], asked, beside=self._folder)

    def _read(self) -> Asked:
        typed = {name: self.query_one(f"#ask-{name}", Input).value.strip() for name, _, _ in FIELDS}
        made: dict[str, Any] = dict(typed)
        made["each_elbow"] = typed["each_elbow"].lower() in ("yes", "y")
        made["routes"] = tuple(self._route(text.strip()) for text in typed["routes"].split(",") if text.strip())
        return Asked(**made)

    def _route(self, text: str) -> str:
        """A run's name as it is; a file's as a path from the job's folder."""
        if any(run.name == text for run in self._session.whole[0].job.runs):
            return text
        return str(self._folder / at_home(text))

    def action_leave(self) -> None:
        """As it was."""
        self.dismiss(None)


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else ""
    return ", ".join(value) if isinstance(value, tuple) else str(value)
