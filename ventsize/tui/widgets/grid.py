"""A grid of cells that are typed in where they stand, as in a printed table.

Keys never wait for anybody: what is typed, and where Enter, Tab and the arrows go from there, is settled inside the
grid, and its owner is told. An empty line is always left at the end; typing there makes a new row.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message

from ventsize.tui.widgets.grid_drawing import GridDrawing, Line
from ventsize.tui.widgets.line_editor import LineEditor
from ventsize.tui.widgets.rows import Cell, Column
from ventsize.tui.widgets.text import one_line

STARTS = "0123456789.-+'"


class Grid(GridDrawing, can_focus=True):
    """Cells with a cursor. The first `frozen` columns stay in sight; those from `typed` on are only for reading.

    margin: width of what stands left of the cells: a mark and the row's number, or a name.
    growing: whether there is an empty line at the end to type a new row in. locked: nothing can be changed.
    raw: the text behind a cell, where what is shown is shorter.
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
        Binding("G", "end(1)", "Last row", show=False, id="grid.last"),
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
    class Typed(Message):
        """A cell holds another text; `ended` once the cell is left. `title`: of its column."""

        grid: Grid
        row: int
        title: str
        text: str
        ended: bool = False

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
        self,
        columns: Sequence[Column],
        *,
        frozen: int = 2,
        typed: int | None = None,
        margin: int = 4,
        growing: bool = True,
        raw: Callable[[int, int], str] | None = None,
        id: str | None = None,
    ) -> None:
        super().__init__(columns, frozen=frozen, margin=margin, id=id)
        self.typed = len(columns) if typed is None else typed
        self.growing = growing
        self.raw = raw or self.text_at
        self.locked = False

    # What is shown

    def show(self, lines: Sequence[Line], *, columns: Sequence[Column] | None = None, typed: int | None = None) -> None:
        """Other lines, with the cursor left where it is; the empty one at the end is added here."""
        if columns is not None:
            self.columns = list(columns)
            self.typed = len(columns) if typed is None else typed
        self.lines = [*lines, *([Line(margin="   +")] if self.growing and not self.locked else [])]
        if self.editor is not None and self.growing and self.row >= len(self.lines) - 1:
            self.lines += [Line()] * (self.row + 2 - len(self.lines))
        self.row = max(0, min(self.row, len(self.lines) - 1))
        self.column = max(0, min(self.column, self.typed - 1))
        self.virtual_size = Size(self.scrollable_content_region.width, len(self.lines) + 1)
        self._into_sight()
        self.refresh()

    def go(self, row: int, column: int | None = None) -> None:
        """Put the cursor on a cell, and bring it into sight."""
        before = (self.row, self.column)
        self.row = max(0, min(row, len(self.lines) - 1))
        self.column = max(0, min(self.column if column is None else column, self.typed - 1))
        self._into_sight()
        self.refresh()
        if (self.row, self.column) != before:
            self.post_message(self.Moved(self))

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
            if event.character and event.character in STARTS:
                self._take(event)
                if self._begin(""):
                    self._write(event.character)
            return
        if event.key in ("enter", "tab", "shift+tab", "up", "down"):
            self._take(event)
            self.finish()
            if event.key in ("up", "down"):
                self.action_move(1 if event.key == "down" else -1, 0)
            else:
                self.action_onwards(-1 if event.key == "shift+tab" else 1)
        elif event.key == "escape":
            self._take(event)
            self.editor.text = self.editor.before
            self.finish()
        elif self.editor.press(event.key, event.character if event.is_printable else None):
            self._take(event)
            self._told()

    def _take(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()

    def _begin(self, text: str | None) -> bool:
        if self.locked:
            self.post_message(self.Refused(self))
        if self.locked or not self.lines:
            return False
        before = self.raw(self.row, self.column)
        self.editor = LineEditor(before if text is None else text, before=before)
        if self.growing and self.row == len(self.lines) - 1:
            self.lines.append(Line())  # at once: Enter in a hurry must find a line to go to
        self.refresh()
        return True

    def _write(self, text: str) -> None:
        assert self.editor is not None
        self.editor.insert(text)
        self._told()

    def _told(self) -> None:
        assert self.editor is not None
        self._into_sight()
        self.refresh()
        self.post_message(self.Typed(self, self.row, self.title, self.editor.text))

    def finish(self) -> None:
        """Leave the cell that is typed in, if any, with what it holds."""
        if self.editor is not None:
            text, self.editor = self.editor.text, None
            self.post_message(self.Typed(self, self.row, self.title, text, ended=True))
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
        """Change the text of the cell where it stands."""
        self._begin(None)

    def action_empty(self) -> None:
        """No text in the cell."""
        if self.locked:
            self.post_message(self.Refused(self))
        elif self.text_at(self.row, self.column):
            self.post_message(self.Typed(self, self.row, self.title, "", ended=True))

    # Moving

    def action_move(self, down: int, across: int) -> None:
        """One cell on."""
        self.go(self.row + down, self.column + across)

    def action_onwards(self, step: int) -> None:
        """The next cell, after the last one the first of the next row; or back."""
        at = self.row * self.typed + self.column + step
        if 0 <= at < len(self.lines) * self.typed:
            self.go(*divmod(at, self.typed))

    def action_page(self, step: int) -> None:
        """A page up or down."""
        self.go(self.row + step * max(1, self.size.height - 3))

    def action_edge(self, step: int) -> None:
        """The first or the last cell of the row."""
        self.go(self.row, 0 if step < 0 else self.typed - 1)

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
