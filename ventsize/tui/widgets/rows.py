"""A list of rows with a cursor: by arrows, by hjkl, by mouse; drawn line by line, so that size costs nothing.

The one list of this program: the pieces of a job, the rows of a table, the first screen and the key list are all
made of it. It shows; what Enter, a typed digit or a mark mean is for its owner to say.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, ClassVar

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from ventsize.tui.widgets.row import Cell, Column, MadeRows, Maker, Row
from ventsize.tui.widgets.text import fitted, one_line

GAP = 2  # cells between columns
PAGE_OVERLAP = 2


__all__ = ["TONES", "Cell", "Column", "MadeRows", "Maker", "Row", "Rows", "one_line_kept", "widest"]

TONES = ("group", "faint", "good", "bad", "warn", "stale", "strong")


class Rows(ScrollView, can_focus=True):
    """A list of rows. `cells=True` moves a cursor over single cells, otherwise over whole rows."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "rows--head",
        "rows--cursor",
        "rows--cursor-away",
        "rows--marked",
        *(f"rows--{tone}" for tone in TONES),
    }

    DEFAULT_CSS = """
    Rows {
        height: 1fr; background: transparent; scrollbar-size-vertical: 1; scrollbar-size-horizontal: 0;
        & .rows--head { color: $text-muted; text-style: underline; }
        & .rows--cursor { background: $block-cursor-background; color: $block-cursor-foreground; text-style: bold; }
        & .rows--cursor-away { background: $surface-lighten-2; text-style: bold; }
        & .rows--marked { background: $secondary-muted; }
        & .rows--group { text-style: bold; color: $primary; }
        & .rows--faint { color: $text-muted; }
        & .rows--good { color: $text-success; }
        & .rows--bad { color: $text-error; text-style: bold; }
        & .rows--warn { color: $text-warning; }
        & .rows--stale { color: $text-muted; text-style: italic; }
        & .rows--strong { text-style: bold; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "move(-1)", "Up", show=False, id="list.up"),
        Binding("down,j", "move(1)", "Down", show=False, id="list.down"),
        Binding("left,h", "across(-1)", "Left", show=False, id="list.left"),
        Binding("right,l", "across(1)", "Right", show=False, id="list.right"),
        Binding("pageup", "page(-1)", "Page up", show=False, id="list.page_up"),
        Binding("pagedown", "page(1)", "Page down", show=False, id="list.page_down"),
        Binding("home,g", "end(-1)", "First", show=False, id="list.first"),
        Binding("end", "end(1)", "Last", show=False, id="list.last"),
        Binding("enter", "choose", "Choose", show=False, id="list.choose"),
    ]

    @dataclass
    class Moved(Message):
        """The cursor stands on another row or cell."""

        rows: Rows
        row: int
        column: int

        @property
        def control(self) -> Rows:
            return self.rows

    @dataclass
    class Chosen(Message):
        """Enter, or a second click on the cursor."""

        rows: Rows
        row: int
        column: int

        @property
        def control(self) -> Rows:
            return self.rows

    @dataclass
    class Typed(Message):
        """A digit, sign or point typed on the cursor: the start of a new value."""

        rows: Rows
        row: int
        column: int
        character: str

        @property
        def control(self) -> Rows:
            return self.rows

    def __init__(
        self,
        columns: Sequence[Column],
        *,
        cells: bool = False,
        head: bool = True,
        id: str | None = None,
        classes: str | None = None,
    ) -> None:
        super().__init__(id=id, classes=classes)
        self.columns = list(columns)
        self.by_cell = cells
        self.head = head
        self.rows: Sequence[Row] = []
        self.marked: set[Any] = set()
        self.row = 0
        self.column = 0
        self.fixed_columns = 0
        self._widths: list[int] = []
        self._styles: dict[str, Style] = {}
        self._typed = ""

    # What is shown

    def show(self, rows: Sequence[Row], *, columns: Sequence[Column] | None = None) -> None:
        """Other rows, with the cursor left where it is, or as near as can be."""
        if columns is not None:
            self.columns = list(columns)
            self.column = max(0, min(self.column, len(self.columns) - 1))
        before, self.rows = self.rows, rows if isinstance(rows, MadeRows) else list(rows)
        self.row = self._nearest_selectable(self.row, 1)
        if columns is not None or len(before) != len(self.rows):
            self._measure()
            self.refresh()
        else:
            top = max(0, self.scroll_offset.y - self.head)
            in_sight = range(top, min(len(before), top + self.size.height + self.head))
            self._refresh_lines(n for n in in_sight if before[n] != self.rows[n])

    def _refresh_lines(self, numbers: Iterable[int]) -> None:
        """Draw some rows anew, those in sight."""
        top, width = self.scroll_offset.y - self.head, self.size.width
        in_sight = [Region(0, n - top, width, 1) for n in numbers if self.head <= n - top < self.size.height]
        if in_sight:
            self.refresh(*in_sight)

    def go(self, row: int, column: int | None = None, *, tell: bool = True) -> None:
        """Put the cursor on a row (and cell), and bring it into sight."""
        if not self.rows:
            return
        row = self._nearest_selectable(row, 1 if row >= self.row else -1)
        column = self.column if column is None else max(self.fixed_columns, min(column, len(self.columns) - 1))
        moved = (row, column) != (self.row, self.column)
        left, self.row, self.column = self.row, row, column
        self._into_sight()
        self._refresh_lines((left, row))
        if moved and tell:
            self.post_message(self.Moved(self, row, column))

    @property
    def current(self) -> Row | None:
        """The row under the cursor."""
        return self.rows[self.row] if 0 <= self.row < len(self.rows) else None

    def index_of(self, key: Any) -> int | None:
        """The row that stands for `key`."""
        return next((n for n, row in enumerate(self.rows) if row.key == key), None)

    def as_text(self) -> str:
        """Every row as text, columns apart by tabs, for the clipboard."""
        lines = ["\t".join(column.title for column in self.columns)] if self.head else []
        for row in self.rows:
            if row.across is not None:
                lines.append(row.across)
            else:
                lines.append("\t".join(cell.text if isinstance(cell, Cell) else cell for cell in row.cells))
        return "\n".join(lines)

    # Drawing

    def _measure(self) -> None:
        width = self.scrollable_content_region.width
        shown = [c if width >= c.from_width else None for c in self.columns]
        fixed = sum(c.width + GAP for c in shown if c) - GAP
        left, shares = max(0, width - 2 - fixed), sum(c.grow for c in shown if c)
        self._widths = [
            0 if c is None else c.width + (left * c.grow // shares if shares and c.grow else 0) for c in shown
        ]
        across = max(width, sum(w + GAP for w in self._widths if w))
        self.virtual_size = Size(across, len(self.rows) + self.head)

    def on_resize(self) -> None:
        """Columns share out the new width."""
        self._measure()
        self._into_sight()
        self.refresh()

    def notify_style_update(self) -> None:
        """Another theme, another focus: other colours."""
        self._styles.clear()
        super().notify_style_update()

    def _style(self, name: str = "") -> Style:
        """The list's own style, or one of its parts; kept, since finding it takes long."""
        if name not in self._styles:
            part = self.get_component_rich_style(f"rows--{name}", partial=True) if name else self.rich_style
            self._styles[name] = part
        return self._styles[name]

    def render_line(self, y: int) -> Strip:
        """One line: the head stays on top, rows scroll under it."""
        scroll_x, scroll_y = self.scroll_offset
        width = self.size.width
        if self.head and y == 0:
            strip = self._head_strip()
        else:
            index = y - self.head + scroll_y
            strip = self._row_strip(index) if 0 <= index < len(self.rows) else Strip.blank(width, self._style())
        return strip.crop(scroll_x, scroll_x + width).adjust_cell_length(width, self._style())

    def _head_strip(self) -> Strip:
        style, base = self._style("head"), self._style()
        parts = [Segment(" ", base)]
        for column, width in zip(self.columns, self._widths, strict=False):
            if width:
                parts += [Segment(fitted(column.title, width, column.align), base + style), Segment(" " * GAP, base)]
        return Strip(parts)

    def _row_strip(self, index: int) -> Strip:
        row = self.rows[index]
        base = self._tone(row.tone)
        if row.key is not None and row.key in self.marked:
            base += self._style("marked")
        cursor = index == self.row and row.selectable
        if cursor and not self.by_cell:
            base = self._style() + self._cursor_style()
        mark = "*" if row.key is not None and row.key in self.marked else " "
        if row.across is not None:
            width = max(self.virtual_size.width, self.size.width)
            return Strip([Segment(mark + fitted(one_line(row.across), width - 1), base)])
        parts = [Segment(mark, base)]
        widths = self._widths if self.by_cell else self._flowing(row)
        for n, (column, width) in enumerate(zip(self.columns, widths, strict=False)):
            if width:
                parts += self._cell_segments(row, n, column, width, base, cursor)
        return Strip(parts).adjust_cell_length(max(self.virtual_size.width, self.size.width), base)

    def _flowing(self, row: Row) -> list[int]:
        """Widths where a text that is too long for its column takes the empty cell to its right as well."""
        widths = list(self._widths)
        texts = [cell.text if isinstance(cell, Cell) else cell for cell in row.cells[: len(widths)]]
        for n, (text, after) in enumerate(pairwise(texts)):
            if not after and widths[n + 1] and 0 < widths[n] < cell_len(text) and self.columns[n].align == "left":
                widths[n], widths[n + 1] = widths[n] + GAP + widths[n + 1], 0
        return widths

    def _cell_segments(
        self, row: Row, number: int, column: Column, width: int, base: Style, cursor: bool
    ) -> list[Segment]:
        cell = row.cells[number] if number < len(row.cells) else ""
        text, tone = (cell.text, cell.tone) if isinstance(cell, Cell) else (cell, "")
        style = base
        if tone and not (cursor and not self.by_cell):
            style = base + self._style(tone)
        if cursor and self.by_cell and number == self.column:
            style = base + self._cursor_style()
        return [Segment(fitted(one_line_kept(text), width, column.align), style), Segment(" " * GAP, base)]

    def _cursor_style(self) -> Style:
        return self._style("cursor" if self.has_focus or not self.can_focus else "cursor-away")

    def _tone(self, tone: str) -> Style:
        return self._style() + self._style(tone) if tone else self._style()

    # Moving

    def _nearest_selectable(self, row: int, step: int) -> int:
        if not self.rows:
            return 0
        row = max(0, min(row, len(self.rows) - 1))
        for direction in (step, -step):
            at = row
            while 0 <= at < len(self.rows):
                if self.rows[at].selectable:
                    return at
                at += direction
        return row

    def _into_sight(self) -> None:
        height = self.scrollable_content_region.height - self.head
        if height <= 0:
            return
        top = self.scroll_offset.y
        if self.row < top or self.row <= 1:
            self.scroll_to(y=max(0, self.row - (1 if self.row <= 1 else 0)), animate=False, force=True)
        elif self.row >= top + height:
            self.scroll_to(y=self.row - height + 1, animate=False, force=True)
        if self.by_cell and self._widths:
            left = 1 + sum(w + GAP for w in self._widths[: self.column] if w)
            self.scroll_to_region(
                Region(left, self.row, self._widths[self.column], 1), animate=False, force=True, y_axis=False
            )

    def action_move(self, step: int) -> None:
        """One row up or down."""
        if not self.rows:
            return
        at = self.row + step
        while 0 <= at < len(self.rows) and not self.rows[at].selectable:
            at += step
        if 0 <= at < len(self.rows):
            self.go(at)

    def action_across(self, step: int) -> None:
        """One cell left or right."""
        if self.by_cell:
            self.go(self.row, self.column + step)

    def action_page(self, step: int) -> None:
        """A page up or down."""
        self.go(self.row + step * max(1, self.size.height - self.head - PAGE_OVERLAP))

    def action_end(self, step: int) -> None:
        """The first or the last row."""
        self.go(0 if step < 0 else len(self.rows) - 1)

    def action_choose(self) -> None:
        """What the cursor stands on."""
        if self.current is not None:
            self.post_message(self.Chosen(self, self.row, self.column))

    def on_key(self, event: events.Key) -> None:
        """Digits, signs and the point start a value; letters are commands."""
        if event.character and event.character in "0123456789.-+'" and self.current is not None:
            event.stop()
            event.prevent_default()
            self._typed = event.character
            self.post_message(self.Typed(self, self.row, self.column, event.character))

    def take_typed(self) -> str:
        """The character that has started a value."""
        return self._typed

    def on_click(self, event: events.Click) -> None:
        """The first click puts the cursor there, a second one chooses."""
        row = event.y - self.head + self.scroll_offset.y
        if event.y < self.head or not 0 <= row < len(self.rows) or not self.rows[row].selectable:
            return
        column = self._column_at(event.x + self.scroll_offset.x) if self.by_cell else self.column
        if (row, column) == (self.row, self.column) and event.chain == 2:
            self.action_choose()
            return
        self.go(row, column)

    def _column_at(self, x: int) -> int:
        right = 1
        for number, width in enumerate(self._widths):
            right += width + GAP if width else 0
            if x < right:
                return number
        return len(self._widths) - 1

    def on_focus(self) -> None:
        """The cursor shows that keys go here."""
        self.refresh()

    def on_blur(self) -> None:
        """The cursor shows that keys go elsewhere."""
        self.refresh()


def one_line_kept(text: str) -> str:
    """Like `one_line`, but inner spaces stay: cells may hold bars and indents."""
    return "".join(c if c.isprintable() else " " for c in text)


def widest(texts: Sequence[str], least: int = 0) -> int:
    """The width in cells of the widest of some texts."""
    return max((cell_len(text) for text in texts), default=least)
