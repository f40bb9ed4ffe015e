"""A pasted block as it is understood, to be looked at before it is taken."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from ventsize.tui.table.pasting import ACROSS, Proposal
from ventsize.tui.widgets.grid import Grid

Make = Callable[[str], Proposal | None]


class PastedScreen(ModalScreen[tuple[Proposal, bool] | None]):
    """Gives the proposal that is taken, and whether the lines left out are to be kept as footnotes."""

    DEFAULT_CSS = """
    PastedScreen {
        align: center middle;
        & > Vertical {
            width: 100%; max-width: 120; height: 100%; max-height: 36;
            background: $panel; border: round $primary; padding: 0 1;
        }
        & Grid { height: 1fr; min-height: 5; }
        & #pasted-scroll { height: auto; max-height: 9; border-top: solid $panel-lighten-2; }
        & #pasted-foot { color: $text-muted; height: 1; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", "Take it", priority=True, id="pasted.take"),
        Binding("v", "across", "View heads as something else", id="pasted.across"),
        Binding("m", "footnotes", "More: lines left out, as footnotes", id="pasted.footnotes"),
        Binding("escape", "leave", "Leave it", id="pasted.leave"),
    ]

    topic = "pasted"

    def __init__(self, make: Make, first: Proposal, *, footnotes: bool = False) -> None:
        """make: the proposal for what the heads are taken for. footnotes: whether the table can keep any."""
        super().__init__()
        self._make, self.proposal = make, first
        self._footnotes_possible, self._footnotes = footnotes, False
        self._across = ""

    def compose(self) -> ComposeResult:
        """The cells over what is said of them."""
        with Vertical() as box:
            box.border_title = Content("Pasted: look it over before it is taken")
            yield Grid(self.proposal.columns, self, id="pasted-grid")
            with VerticalScroll(id="pasted-scroll", can_focus=False):
                yield Static("", id="pasted-said", markup=False)
            yield Static("", id="pasted-foot", markup=False)

    def on_mount(self) -> None:
        """Show it; the cursor moves over the cells."""
        grid = self.query_one(Grid)
        grid.locked = True
        grid.focus()
        self._show()

    def _show(self) -> None:
        found = self.proposal
        self.query_one(Grid).show(found.lines, columns=found.columns, frozen=found.frozen)
        said = list(found.said)
        if self._footnotes:
            said.append("+ The lines left out are kept as footnotes that each job must confirm.")
        self.query_one("#pasted-said", Static).update(Content("\n".join(said)))
        keys = ["Enter takes it", "Esc leaves it"]
        keys += ["A: the heads are something else"] if self._make("") is not None and found.across else []
        keys += ["m keeps lines left out as footnotes"] if self._footnotes_possible and found.left_out else []
        self.query_one("#pasted-foot", Static).update(Content("   ".join(keys)))

    # What the grid asks; nothing is typed here

    def raw(self, row: int, column: int) -> str:
        """What stands in a cell."""
        return self.query_one(Grid).text_at(row, column)

    def take(self, row: int, column: int, text: str, *, ended: bool) -> None:
        """Nothing is typed here."""

    def onward(self, row: int, column: int, step: int) -> tuple[int, int]:
        """The cell beside it."""
        return row, column + step

    def span(self, row: int) -> range:  # noqa: ARG002
        """Every column."""
        return range(len(self.proposal.columns))

    def letters(self, row: int, column: int) -> bool:  # noqa: ARG002
        """Nothing is typed here."""
        return False

    def choose(self, row: int, column: int) -> bool:  # noqa: ARG002
        """Nothing is chosen here."""
        return True

    def on_grid_refused(self, event: Grid.Refused) -> None:
        """Nothing is typed here."""
        event.stop()

    # Actions

    def action_take(self) -> None:
        """Into the table."""
        self.dismiss((self.proposal, self._footnotes))

    def action_leave(self) -> None:
        """The table stays as it was."""
        self.dismiss(None)

    def action_across(self) -> None:
        """Take the heads for something else, in turn."""
        kinds = list(ACROSS)
        at = kinds.index(self._across) + 1 if self._across else 0
        for kind in [*kinds[at:], *kinds[:at]]:
            proposal = self._make(kind)
            if proposal is not None and proposal.lines != self.proposal.lines:
                self._across, self.proposal = kind, proposal
                self._show()
                return

    def action_footnotes(self) -> None:
        """Keep the lines left out, or not."""
        self._footnotes = self._footnotes_possible and bool(self.proposal.left_out) and not self._footnotes
        self._show()
