"""What the parts of the table screen have in common: an open table, a grid, and lines said about the cell."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.message import Message

from ventsize.catalog.library import Catalog
from ventsize.jobfile.editing import Data
from ventsize.studies.typed_table import TypedTable
from ventsize.tui.job.session import Session
from ventsize.tui.widgets.grid import Grid
from ventsize.tui.widgets.said import Said


@dataclass
class Edited(Message):
    """The table has changed."""


class Area(Vertical):
    """A grid over what is said of the cell under its cursor, and the grid's owner. Every change is an edit."""

    DEFAULT_CSS = """
    Area {
        height: 1fr;
        & Grid { height: 1fr; min-height: 3; }
        & .said { height: auto; min-height: 2; max-height: 6; padding: 0 1; background: $panel; }
    }
    """

    grid: Grid
    session: Session
    found: TypedTable | None = None
    catalog: Catalog

    @abstractmethod
    def said(self) -> list[str]:
        """What there is to say of the cell under the cursor, line by line."""

    @abstractmethod
    def lay(self) -> None:
        """Fill the grid from the data."""

    def compose(self) -> ComposeResult:
        """Grid and lines."""
        yield self.grid
        yield Said(classes="said")

    def letters(self, row: int, column: int) -> bool:  # noqa: ARG002
        """Whether letters are typed in a cell: in none, unless a part says so."""
        return False

    def choose(self, row: int, column: int) -> bool:  # noqa: ARG002
        """Whether the cell is chosen from a list: none is, unless a part says so."""
        return False

    def show(self, session: Session, found: TypedTable, catalog: Catalog) -> None:
        """The table as it is now."""
        self.session, self.found, self.catalog = session, found, catalog
        self.grid.locked = session.shipped
        self.lay()
        self.tell()

    def tell(self) -> None:
        """Say what there is to say of the cell."""
        if self.found is not None:
            self.query_one(".said", Said).say("\n".join(self.said()))

    def on_grid_moved(self, event: Grid.Moved) -> None:
        """The lines follow the cursor."""
        event.stop()
        self.tell()

    def typed(self, data: Data, label: str, at: tuple[str | int, ...], *, ended: bool) -> None:
        """One keystroke, or the end of a cell. The grid is laid anew at once, for the keys that follow."""
        self.session.history.do(data, label, at=at, typing=True)
        if ended:
            self.session.history.pause()
        self.session.keep()
        self.lay()
        self.post_message(Edited())

    def edit(self, data: Data, label: str) -> None:
        """A whole edit."""
        self.session.do(data, label)
        self.lay()
        self.post_message(Edited())

    def may_edit(self) -> bool:
        """Whether the table may be changed; if not, the offer to copy it is made."""
        self.grid.finish()
        if self.session.shipped:
            self.post_message(Grid.Refused(self.grid))
        return not self.session.shipped
