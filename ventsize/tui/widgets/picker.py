"""Choosing one of many from a list, with a line to search in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from ventsize.tui.widgets.rows import Cell, Column, Row, Rows
from ventsize.tui.widgets.text import fitted

NOTHING = "Nothing here has that in it: Backspace takes letters back."
_WIDEST = 36  # cells of a label beside a description


class Picker(ModalScreen[str | None]):
    """Gives the chosen value, or None."""

    DEFAULT_CSS = """
    Picker {
        align: center middle;
        & > Vertical {
            width: 90; max-width: 96%; height: auto; max-height: 90%;
            background: $panel; border: round $primary; padding: 0 1;
        }
        & Rows { height: auto; max-height: 60vh; }
        & .picker-said { height: auto; max-height: 5; display: none; border-top: solid $panel-lighten-2; }
        & .picker-foot { color: $text-muted; height: 1; dock: bottom; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Close", id="picker.leave"),
        Binding("down", "move(1)", "Down", show=False, priority=True, id="picker.down"),
        Binding("up", "move(-1)", "Up", show=False, priority=True, id="picker.up"),
    ]

    topic = "choosing"

    def __init__(
        self,
        title: str,
        entries: Sequence[tuple[str, ...]],
        *,
        at: str = "",
        wanted: str = "",
    ) -> None:
        """entries: value, label, what is said beside it, and what is said below the list where that is more:
        the same beside it is faint.

        at: the present choice. wanted: what has been typed to search for already.
        """
        super().__init__()
        self._title = title
        self._entries = [(*entry, *[""] * (4 - len(entry))) for entry in entries]
        self._at = at
        self._wanted = wanted
        self._rows = Rows([Column(width=20, grow=1), Column(width=0, grow=1)], head=False)
        self._rows.can_focus = False
        self._said = Static("", classes="picker-said", markup=False)  # a description may be wider than its column
        self._foot = Static("", classes="picker-foot", markup=False)

    def compose(self) -> ComposeResult:
        """The search line over the list."""
        with Vertical() as box:
            box.border_title = Content(self._title)
            search = Input(self._wanted, placeholder="type to search", compact=True, select_on_focus=False)
            search.cursor_blink = False
            yield search
            yield self._rows
            yield self._said
            yield self._foot

    def on_mount(self) -> None:
        """Everything, with the cursor on the present choice."""
        self._fill(self._wanted)
        self.call_after_refresh(lambda: self._rows.go(self._rows.row))  # where a key may have moved it meanwhile

    def _fill(self, wanted: str) -> None:
        self._wanted, words = wanted, wanted.lower().split()
        found = [e for e in self._entries if all(word in " ".join(e).lower() for word in words)]
        begun = wanted.strip().lower()
        # the very words first; "2 in" before "1 1/2 in"; what is said in a story last
        found.sort(key=lambda e: (e[1].lower() != begun, not e[1].lower().startswith(begun), begun not in _seen(e)))
        second = any(e[2] for e in self._entries)
        first = min(_WIDEST, 2 + max((len(e[1]) for e in self._entries), default=0))
        columns = [Column(width=first), Column(width=22, grow=1)] if second else [Column(width=30, grow=1)]
        self._rows.row = 0 if begun else next((n for n, e in enumerate(found) if e[0] == self._at), 0)
        cells = [(e[1], Cell(e[2], "faint") if e[2] == e[3] else e[2]) for e in found]
        self._rows.show([Row(key=e[0], cells=one) for e, one in zip(found, cells, strict=True)], columns=columns)
        self._said.display = any(e[2] or e[3] for e in self._entries)
        self._describe()

    def put(self, key: str, said: str) -> None:
        """Say something else beside an entry; the cursor stays where it is."""
        row = self._rows.current
        self._entries = [(*e[:2], said, e[3]) if e[0] == key else e for e in self._entries]
        self._fill(self._wanted)
        if row is not None:
            self._rows.go(self._rows.index_of(row.key) or 0)

    def _describe(self) -> None:
        row = self._rows.current
        entry = next((e for e in self._entries if row and e[0] == row.key), ("", "", "", ""))
        self._said.update(Content(entry[3] or entry[2]))
        does = f"takes {fitted(entry[1], _WIDEST).rstrip()}" if self._wanted.strip() else "chooses"
        self._foot.update(Content(f"Enter {does}   Esc leaves it as it was" if row else NOTHING))

    def on_input_changed(self, event: Input.Changed) -> None:
        """The list follows what is typed."""
        event.stop()
        self._fill(event.value)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter takes the row under the cursor."""
        event.stop()
        self._take()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """A double click takes it too."""
        event.stop()
        self._take()

    def on_rows_moved(self, event: Rows.Moved) -> None:
        """The description in full follows the cursor."""
        event.stop()
        self._describe()

    def _take(self) -> None:
        row = self._rows.current
        if row is not None:
            self.dismiss(str(row.key))

    def action_move(self, step: int) -> None:
        """Up and down work while searching."""
        self._rows.action_move(step)

    def action_leave(self) -> None:
        """As it was."""
        self.dismiss(None)


def _seen(entry: tuple[str, ...]) -> str:
    """What the list shows of an entry."""
    return " ".join(entry[1:3]).lower()
