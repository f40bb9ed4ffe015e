"""How a grid of cells is drawn: which columns fit, the head, the rows with their margin, the cell typed in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from ventsize.tui.widgets.line_editor import LineEditor
from ventsize.tui.widgets.rows import Cell, Column
from ventsize.tui.widgets.text import fitted, one_line


@dataclass(frozen=True, slots=True)
class Line:
    """A row of the grid: what stands in its margin, and its cells."""

    margin: str = ""
    cells: tuple[Cell | str, ...] = ()
    tone: str = ""


class GridDrawing(ScrollView):
    """The look of a `Grid`: it shows, and decides nothing."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        *(f"grid--{name}" for name in ("head", "cursor", "cursor-away", "editing", "caret")),
        *(f"grid--{tone}" for tone in ("faint", "bad", "warn", "strong")),
    }

    DEFAULT_CSS = """
    GridDrawing {
        height: 1fr; background: transparent; scrollbar-size-vertical: 1; scrollbar-size-horizontal: 0;
        & .grid--head { color: $text-muted; text-style: underline; }
        & .grid--cursor { background: $block-cursor-background; color: $block-cursor-foreground; text-style: bold; }
        & .grid--cursor-away { background: $surface-lighten-2; text-style: bold; }
        & .grid--editing { background: $primary-muted; text-style: bold underline; }
        & .grid--caret { text-style: reverse; }
        & .grid--faint { color: $text-muted; }
        & .grid--bad { color: $text-error; text-style: bold; }
        & .grid--warn { color: $text-warning; text-style: bold; }
        & .grid--strong { text-style: bold; }
    }
    """

    def __init__(self, columns: Sequence[Column], *, frozen: int, margin: int, id: str | None = None) -> None:
        super().__init__(id=id)
        self.columns = list(columns)
        self.frozen = frozen
        self.margin = margin
        self.lines: list[Line] = []
        self.row = self.column = 0
        self.editor: LineEditor | None = None
        self._from = frozen

    def _shown_columns(self) -> list[int]:
        """The columns that fit, the frozen ones first."""
        shown = list(range(min(self.frozen, len(self.columns))))
        left = self.scrollable_content_region.width - self.margin - 1 - sum(self.columns[c].width + 1 for c in shown)
        for column in range(max(self._from, len(shown)), len(self.columns)):
            left -= self.columns[column].width + 1
            if left < -1:
                break
            shown.append(column)
        return shown

    def _column_at(self, x: int) -> int | None:
        right = self.margin + 1
        for column in self._shown_columns():
            right += self.columns[column].width + 1
            if x < right:
                return column
        return None

    def _into_sight(self) -> None:
        if self.column < self._from:
            self._from = max(self.frozen, self.column)
        while self.column not in self._shown_columns() and self._from < self.column:
            self._from += 1
        height = self.scrollable_content_region.height - 1
        if height > 0 and not self.scroll_offset.y <= self.row < self.scroll_offset.y + height:
            top = self.row if self.row < self.scroll_offset.y else self.row - height + 1
            self.scroll_to(y=top, animate=False, force=True)

    def on_resize(self) -> None:
        """As many columns as fit the new width, the cursor among them."""
        self._from = self.frozen
        self.virtual_size = Size(self.scrollable_content_region.width, len(self.lines) + 1)
        self._into_sight()
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """One line: the head stays on top, rows scroll under it."""
        width, base = self.size.width, self.rich_style
        index = y - 1 + self.scroll_offset.y
        if y == 0:
            segments = self._head(base)
        elif index < len(self.lines):
            segments = self._line(index, base)
        else:
            return Strip.blank(width, base)
        return Strip(segments).adjust_cell_length(width, base)

    def _head(self, base: Style) -> list[Segment]:
        style = base + self._style("head")
        shown = self._shown_columns()
        more = (self._from > self.frozen, bool(shown) and shown[-1] + 1 < len(self.columns))
        parts = [Segment(fitted("‹" if more[0] else "", self.margin, "right") + " ", base)]
        for column in shown:
            text = fitted(self.columns[column].title, self.columns[column].width, self.columns[column].align)
            parts += [Segment(text, style), Segment(" ", base)]
        return [*parts[:-1], Segment("›" if more[1] else " ", base)]

    def _line(self, index: int, base: Style) -> list[Segment]:
        line = self.lines[index]
        tone = self._style(line.tone) if line.tone else Style()
        parts = [Segment(fitted(line.margin, self.margin) + " ", base + tone)]
        for column in self._shown_columns():
            parts += self._cell(index, column, base)
            parts.append(Segment(" ", base))
        return parts

    def _cell(self, index: int, number: int, base: Style) -> list[Segment]:
        column = self.columns[number]
        here = (index, number) == (self.row, self.column)
        if here and self.editor is not None:
            text, caret = self.editor.window(column.width)
            style = base + self._style("editing")
            marked = style + self._style("caret")
            return [Segment(text[:caret], style), Segment(text[caret], marked), Segment(text[caret + 1 :], style)]
        cells = self.lines[index].cells
        found = cells[number] if number < len(cells) else ""
        text, tone = (found.text, found.tone) if isinstance(found, Cell) else (found, "")
        style = base + self._style(tone) if tone else base
        if here:
            style = base + self._style("cursor" if self.has_focus else "cursor-away")
        return [Segment(fitted(one_line(text), column.width, column.align), style)]

    def _style(self, name: str) -> Style:
        return self.get_component_rich_style(f"grid--{name}", partial=True)
