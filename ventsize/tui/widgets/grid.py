"""A grid of cells that are typed in where they stand, as in a printed table.

The grid has an owner, who lays it out, takes what is typed and says where Enter goes from a cell. It is asked at
once, key by key, so that a burst of keys finds the lines and columns that the keys before it have made.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Protocol

from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message

from ventsize.tui.widgets.grid_drawing import GridDrawing, Line
from ventsize.tui.widgets.line_editor import LineEditor
from ventsize.tui.widgets.rows import Cell, Column
from ventsize.tui.widgets.text import one_line

STARTS = "0123456789.-+'"
MOVES = {"up": (-1, 0), "down": (1, 0), "left": (0, -1), "right": (0, 1)}


class Owner(Protocol):
    """Whoever lays a grid out. Rows and columns are counted from 0, the line of typed heads included."""

    def raw(self, row: int, column: int) -> str:
        """The text behind a cell, where what is shown is shorter."""
        ...

    def take(self, row: int, column: int, text: str, *, ended: bool) -> None:
        """A cell holds another text; `ended` once the cell is left."""
        ...

    def onward(self, row: int, column: int, step: int) -> tuple[int, int]:
        """The cell that Enter goes to from another, or with a step of -1 the one before."""
        ...

    def span(self, row: int) -> range:
        """The columns of a row that the cursor may stand on."""
        ...

    def letters(self, row: int, column: int) -> bool:
        """Whether letters are typed in a cell, as a name; elsewhere they are keys."""
        ...

    def choose(self, row: int, column: int) -> bool:
        """Offer what may stand in a cell; False where it is typed."""
        ...


class Grid(GridDrawing, can_focus=True):
    """Cells with a cursor. The first `frozen` columns stay in sight.

    margin: width of what stands left of the cells: a mark and the row's number, or a name.
    locked: nothing can be changed.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "move(-1, 0)", "Up", show=False, id="grid.up"),
        Binding("down,j", "move(1, 0)", "Down", show=False, id="grid.down"),
        Binding("left,h", "move(0, -1)", "Left", show=False, id="grid.left"),
        Binding("right,l", "move(0, 1)", "Right", show=False, id="grid.right"),
        Binding("enter,tab", "onwards(1)", "Next cell", show=False, id="grid.next"),
        Binding("shift+tab", "onwards(-1)", "Cell before", show=False, id="grid.before"),
        Binding("pageup", "page(-1)", "Page up", show=False, id="grid.page_up"),
        Binding("pagedown", "page(1)", "Page down", show=False, id="grid.page_down"),
        Binding("home", "edge(-1)", "First cell of the row", show=False, id="grid.row_start"),
        Binding("end", "edge(1)", "Last cell of the row", show=False, id="grid.row_end"),
        Binding("g", "end(-1)", "First row", show=False, id="grid.first"),
        Binding("ctrl+end", "end(1)", "Last row", show=False, id="grid.last"),
        Binding("e,space", "edit", "Change the cell", show=False, id="grid.edit"),
        Binding("delete,backspace", "empty", "Empty the cell", show=False, id="grid.empty"),
    ]

    @dataclass
    class Moved(Message):
        """The cursor stands on another cell."""

        grid: Grid

        @property
        def control(self) -> Grid:
            return self.grid

    @dataclass
    class Pasted(Message):
        """A block of text was pasted on a cell."""

        grid: Grid
        row: int
        column: int
        text: str

        @property
        def control(self) -> Grid:
            return self.grid

    @dataclass
    class Refused(Message):
        """Something was typed, but the grid is locked."""

        grid: Grid

        @property
        def control(self) -> Grid:
            return self.grid

    def __init__(
        self, columns: Sequence[Column], owner: Owner, *, frozen: int = 2, margin: int = 4, id: str | None = None
    ) -> None:
        super().__init__(columns, frozen=frozen, margin=margin, id=id)
        self.owner = owner
        self.locked = False
        self._typed_over = False  # whether the text was begun by a digit, and not taken up to be changed

    # What is shown

    def show(
        self, lines: Sequence[Line], *, columns: Sequence[Column] | None = None, frozen: int | None = None
    ) -> None:
        """Other lines, with the cursor left where it is."""
        if columns is not None:
            self.columns = list(columns)
        self.frozen = self.frozen if frozen is None else frozen
        self.lines = list(lines)
        self._stand(self.row, self.column)
        self.virtual_size = Size(self.scrollable_content_region.width, len(self.lines) + 1)
        self._into_sight()
        self.refresh()

    def go(self, row: int, column: int | None = None) -> None:
        """Put the cursor on a cell, and bring it into sight."""
        before = (self.row, self.column)
        self._stand(row, self.column if column is None else column)
        self._into_sight()
        self.refresh()
        if (self.row, self.column) != before:
            self.post_message(self.Moved(self))

    def _stand(self, row: int, column: int) -> None:
        self.row = max(0, min(row, len(self.lines) - 1))
        span = self.owner.span(self.row) or range(1)
        self.column = max(span.start, min(column, span.stop - 1))

    def text_at(self, row: int, column: int) -> str:
        """What stands in a cell."""
        cells = self.lines[row].cells if row < len(self.lines) else ()
        found = cells[column] if column < len(cells) else ""
        return found.text if isinstance(found, Cell) else found

    @property
    def title(self) -> str:
        """The head of the column the cursor is in."""
        return self.columns[self.column].title

    def as_text(self) -> str:
        """Head and rows, cells apart by tabs, for the clipboard."""
        body = ["\t".join(self.text_at(r, c) for c in range(len(self.columns))) for r, ln in enumerate(self.lines)]
        return "\n".join(["\t".join(column.title for column in self.columns), *(b for b in body if b.strip())])

    # Typing

    def on_key(self, event: events.Key) -> None:
        """A digit or a sign begins a new text; while one is typed every key that writes is for it."""
        if self.editor is None:
            if event.character and (event.character in STARTS or self._begins_a_word(event)):
                self._take(event)
                if self._begin(""):
                    self._typed_over = True
                    self._write(event.character)
            return
        if event.key in ("enter", "tab", "shift+tab", "up", "down") or self._leaves(event.key):
            self._take(event)
            self.finish()
            if event.key in MOVES:
                self.action_move(*MOVES[event.key])
            else:
                self.action_onwards(-1 if event.key == "shift+tab" else 1)
        elif event.key == "escape":
            self._take(event)
            self.editor.text = self.editor.before
            self.finish()
        elif self.editor.press(event.key, event.character if event.is_printable else None):
            self._take(event)
            self._told()

    def _begins_a_word(self, event: events.Key) -> bool:
        return event.is_printable and event.key != "space" and self.owner.letters(self.row, self.column)

    def _leaves(self, key: str) -> bool:
        """Whether left or right leaves the cell: always from a new text, else from the end of the one taken up."""
        assert self.editor is not None
        if key == "left":
            return self._typed_over or self.editor.caret == 0
        return key == "right" and (self._typed_over or self.editor.caret == len(self.editor.text))

    def _take(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()

    def _begin(self, text: str | None) -> bool:
        if self.locked:
            self.post_message(self.Refused(self))
        if self.locked or not self.lines:
            return False
        before = self.owner.raw(self.row, self.column)
        self.editor = LineEditor(before if text is None else text, before=before)
        self._typed_over = False
        self.refresh()
        return True

    def _write(self, text: str) -> None:
        assert self.editor is not None
        self.editor.insert(text)
        self._told()

    def _told(self) -> None:
        assert self.editor is not None
        self.owner.take(self.row, self.column, self.editor.text, ended=False)
        self._into_sight()
        self.refresh()

    def finish(self) -> None:
        """Leave the cell that is typed in, if any, with what it holds."""
        if self.editor is not None:
            text, self.editor = self.editor.text, None
            self.owner.take(self.row, self.column, text, ended=True)
            self.refresh()

    def on_paste(self, event: events.Paste) -> None:
        """Into the text that is typed, or as a block of cells from the cursor on."""
        event.stop()
        event.prevent_default()
        if self.editor is not None and len(event.text.strip().splitlines()) <= 1 and "\t" not in event.text:
            self._write(one_line(event.text))
        elif self.locked:
            self.post_message(self.Refused(self))
        else:
            self.finish()
            self.post_message(self.Pasted(self, self.row, self.column, event.text))

    def action_edit(self) -> None:
        """Change the text of the cell where it stands, or choose it from a list."""
        if self.locked or not self.owner.choose(self.row, self.column):
            self._begin(None)

    def action_empty(self) -> None:
        """No text in the cell."""
        if self.locked:
            self.post_message(self.Refused(self))
        elif self.owner.raw(self.row, self.column):
            self.owner.take(self.row, self.column, "", ended=True)

    # Moving

    def action_move(self, down: int, across: int) -> None:
        """One cell on."""
        self.go(self.row + down, self.column + across)

    def action_onwards(self, step: int) -> None:
        """The next cell as the eye reads, or the one before."""
        self.go(*self.owner.onward(self.row, self.column, step))

    def action_page(self, step: int) -> None:
        """A page up or down."""
        self.go(self.row + step * max(1, self.size.height - 3))

    def action_edge(self, step: int) -> None:
        """The first or the last cell of the row."""
        self.go(self.row, 0 if step < 0 else len(self.columns))

    def action_end(self, step: int) -> None:
        """The first or the last row."""
        self.go(0 if step < 0 else len(self.lines) - 1)

    def on_click(self, event: events.Click) -> None:
        """The first click puts the cursor there, a double click changes the cell."""
        column = self._column_at(event.x)
        row = event.y - 1 + self.scroll_offset.y
        if event.y < 1 or row >= len(self.lines) or column is None:
            return
        self.finish()
        self.go(row, column)
        if event.chain == 2:
            self.action_edit()

    def on_focus(self) -> None:
        """The cursor shows that keys go here."""
        self.refresh()

    def on_blur(self) -> None:
        """What was typed stands; the cursor shows that keys go elsewhere."""
        self.finish()
        self.refresh()
