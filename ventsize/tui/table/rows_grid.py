"""The page as a grid of text: typed heads on top where it has them, a line a line, an empty one at the end."""

from __future__ import annotations

from dataclasses import dataclass

from ventsize.jobfile.editing import Data
from ventsize.jobfile.editing import Path as Place
from ventsize.quantity import System
from ventsize.tui.table import model
from ventsize.tui.widgets.rows import Column
from ventsize.view.page import layout
from ventsize.view.page.layout import Layout, Ref
from ventsize.view.page.texts import BY_ELBOWS, ELBOWS, INPUT, LENGTH, NO_BAND, REQUIRED

NO_ROW = "·"


@dataclass(frozen=True, slots=True)
class RowsGrid:
    """Rows and columns of the grid, each from 0, and what stands where. `top`: lines of heads."""

    data: Data
    page: Layout
    system: System

    @property
    def top(self) -> int:
        """How many lines of heads there are."""
        return int(self.page.has_heads)

    @property
    def names(self) -> tuple[str, ...]:
        """The columns before the lengths, by name."""
        return (*self.page.down, *([ELBOWS] if self.page.elbows_down else []))

    @property
    def height(self) -> int:
        """Heads, lines and the empty one at the end."""
        return self.top + len(self.page.lines) + 1

    def name(self, column: int) -> str:
        """What stands in a column: a name of a row, or a length."""
        return self.names[column] if column < len(self.names) else LENGTH

    def is_new(self, row: int) -> bool:
        """Whether a row is the empty one at the end."""
        return row - self.top >= len(self.page.lines)

    def columns(self, pressure: str) -> list[Column]:
        """The columns; over a list, those with what each row comes to besides."""
        found = [Column(title=model.TITLES[n], width=self._width(n), align="right") for n in self.names]
        if self.page.across:
            over = {"size": "Sizes", "input": "Inputs", "altitude": "Altitudes"}[self.page.across]
            width = 14 if self.page.across == "altitude" else 10
            titles = [f"{over} →", *[""] * len(self.page.heads)]
            return [*found, *(Column(title=title, width=width, align="right") for title in titles)]
        if self.page.by_elbows:
            titles = ["Elbows →", *[""] * len(self.page.heads)]
            found += [Column(title=title, width=8, align="right") for title in titles]
        else:
            found.append(Column(title="Allowed", width=9, align="right"))
        return [*found, Column(title=pressure, width=8, align="right"), Column(title="usually", width=9)]

    def _width(self, name: str) -> int:
        """As wide as what stands in a column, within limits, and its head."""
        labels = [self.page.label(n, name) for n in range(len(self.page.lines))] if name in self.page.down else []
        longest = max(map(len, labels), default=0)
        return max(len(model.TITLES[name]), 10 if name == INPUT else 0, min(longest, model.WIDTHS.get(name, 9)))

    def span(self, row: int) -> range:
        """The columns of a row that the cursor may stand on."""
        labels, heads = len(self.names), len(self.page.heads)
        return range(labels, labels + heads + 1) if row < self.top else range(labels + max(1, heads))

    def text(self, row: int, column: int) -> str:
        """The text of a cell as it is changed."""
        line, at = row - self.top, column - len(self.names)
        if line < 0:
            return self.page.heads[at] if 0 <= at < len(self.page.heads) else ""
        if at >= 0:
            return layout.length_at(self.data, self.page, line, at)
        name = self.names[column]
        if name == ELBOWS:
            return (
                str(layout.first_elbows(self.data) + (self.page.lines[line].elbows or 0))
                if not self.is_new(row)
                else ""
            )
        return self.page.label(line, name)

    def faint(self, row: int, column: int) -> str:
        """What a cell of the empty line is taken to say where nothing is typed in it."""
        name = self.name(column)
        if not self.is_new(row) or not self.page.lines or name == LENGTH:
            return ""
        last = len(self.page.lines) - 1
        if self.page.elbows_down:
            following = layout.first_elbows(self.data) + (self.page.lines[last].elbows or 0) + 1
            return str(following) if name == ELBOWS else self.page.label(last, name)
        return "" if name == self.page.fresh else self.page.label(last, name)

    def with_text(self, row: int, column: int, text: str) -> Data:
        """The data with another text in a cell. Raises ValueError where that cannot be."""
        line, at = row - self.top, column - len(self.names)
        if line < 0:
            return layout.set_head(self.data, self.page, at, text, self.system)
        if at >= 0:
            return layout.set_length(self.data, self.page, line, at, text, self.system)
        if self.names[column] == ELBOWS:
            place = (self.page.lines[line].elbows or 0) if not self.is_new(row) else 0
            if not text.strip().isdigit() or int(text) < place:
                return self.data
            return layout.with_first_elbows(self.data, int(text) - place)
        return layout.set_label(self.data, self.page, line, self.names[column], text, self.system)

    def onward(self, row: int, column: int, step: int) -> tuple[int, int]:
        """The next cell as the eye reads: labels that are filled are passed by on the way to the lengths."""
        labels, span = len(self.names), self.span(row)
        if step < 0:
            if column > span.start:
                return row, column - 1
            return (row - 1, self.span(row - 1).stop - 1) if row else (row, column)
        if row < self.top:
            return (row, column + 1) if column + 1 < span.stop else self.into(self.top)
        if column < labels:
            left = [n for n in range(column + 1, labels) if not (self.text(row, n) or self.faint(row, n))]
            return row, (left[0] if left else labels)
        return (row, column + 1) if column + 1 < span.stop else self.into(row + 1)

    def into(self, row: int) -> tuple[int, int]:
        """Where a line is begun: at the first label that is empty, else at the first length."""
        row = min(row, self.height - 1)
        empty = (n for n in range(len(self.names)) if not (self.text(row, n) or self.faint(row, n)))
        return row, next(empty, len(self.names))

    def ref(self, row: int, column: int) -> Ref | None:
        """Where the length of a cell stands; for a label, that of the first of its line."""
        line, at = row - self.top, max(0, column - len(self.names))
        if not 0 <= line < len(self.page.lines):
            return None
        cells = self.page.lines[line].cells
        if column < len(self.names):
            return next((cell for cell in cells if cell), None)
        return cells[at] if at < len(cells) else None

    def case(self, row: int, column: int) -> str:
        """What a cell is for, in the words of the page: "80 kBtu/h, 3 in, 0-2000 ft"."""
        line, at = row - self.top, max(0, column - len(self.names))
        said = dict(zip(self.page.down, self.page.lines[line].labels, strict=True))
        if column >= len(self.names) and self.page.across:
            said[self.page.across] = self.page.heads[at]
        words = [said.get(name, "") for name in (*REQUIRED, *self.page.down) if name not in said or said[name]]
        return ", ".join(dict.fromkeys(word for word in words if word not in ("", NO_BAND))) or f"Line {line + 1}"

    def place(self, row: int, column: int) -> Place:
        """Where the text of a cell stands in the data, to come back to it."""
        ref, name = self.ref(row, column), self.name(column)
        if row < self.top:
            at = column - len(self.names)
            refs = (line.cells[at] for line in self.page.lines if at < len(line.cells) and line.cells[at])
            first = next(refs, None)
            return ("row", first.row if first else 0, self.page.across or "first_elbows", "head")
        if ref is None:
            return ("row", len(layout.rows_of(self.data)), name)
        if name != LENGTH:
            return ("row", ref.row, name)
        return ("row", ref.row, BY_ELBOWS if ref.elbows is not None else "allowable", ref.elbows or 0)

    def at(self, place: Place) -> tuple[int, int] | None:
        """The cell in which a place in the data stands."""
        if len(place) < 2 or not isinstance(place[1], int):
            return None
        name = str(place[2]) if len(place) > 2 else LENGTH
        elbows = int(place[3]) if name == BY_ELBOWS and len(place) > 3 and isinstance(place[3], int) else None
        found = self.page.find(Ref(place[1], elbows))
        if found is None:
            return None
        line, at = found
        if place[-1] == "head":
            return 0, len(self.names) + at
        column = self.names.index(name) if name in self.names else len(self.names) + at
        return self.top + line, column


def grid_of(data: Data, across: str, more: tuple[str, ...], elbows: int, system: System) -> RowsGrid:
    """The grid of a table's rows."""
    return RowsGrid(data, layout.lay_out(data, across, more=more, elbows=elbows), system)
