"""Lists of a table beside its rows: pipe in the cold, and the page's own fittings. A record a line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from textual.binding import Binding, BindingType

from ventsize.allowance.model import NOT_PERMITTED
from ventsize.jobfile.editing import Data, clear, items, put, value_at
from ventsize.jobfile.problems import Problem
from ventsize.quantity import System, is_bare, with_unit
from ventsize.tui.table.area import Area
from ventsize.tui.widgets.grid import Grid
from ventsize.tui.widgets.grid_drawing import Line
from ventsize.tui.widgets.picker import Picker
from ventsize.tui.widgets.rows import Cell, Column
from ventsize.view.page.texts import is_not_permitted


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A column of the list: its key in the record, the unit of a bare number, or the words it may hold.

    taken_over: whether a new line takes it from the one above.
    """

    title: str
    key: str
    width: int
    expected: str
    units: tuple[str, str] = ("", "")
    words: tuple[str, ...] = ()
    number: bool = False
    may_be_none: bool = False
    taken_over: bool = False
    optional: bool = False


EXPOSED = (
    Part(title="Size", key="size", width=9, units=("in", "mm"), expected="nominal pipe size, such as 3 in"),
    Part(title="Outdoor", key="outdoor", width=10, units=("degF", "degC"), taken_over=True,
         expected="design outdoor temperature it is for, such as -10 degF"),
    Part(title="Insulation", key="insulation", width=10, units=("in", "mm"), taken_over=True,
         expected="thickness, such as 1/2 in; 0 in for bare pipe"),
    Part(title="Allowed", key="allowable", width=9, units=("ft", "m"), may_be_none=True,
         expected="most pipe in the cold, such as 30 ft; - where none is permitted"),
)  # fmt: skip

FITTINGS = (
    Part(title="Name", key="name", width=20, expected="its name in jobs and deductions, such as wall-kit"),
    Part(title="Kind", key="kind", width=9, words=("terminal", "entrance", "elbow", "coupling", "other"),
         expected="terminal, entrance, elbow, coupling or other; Space chooses"),
    Part(title="Title", key="title", width=22, expected="as the page calls it", optional=True),
    Part(title="Angle", key="angle", width=7, units=("deg", "deg"), optional=True,
         expected="of an elbow, such as 45 deg"),
    Part(title="K", key="k", width=6, number=True, expected="loss coefficient, if the page gives one", optional=True),
)  # fmt: skip


class RecordsArea(Area):
    """A list of records at a key of the table."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("x", "remove_record", "Remove", id="table.remove_record"),
    ]

    def __init__(self, key: str, parts: tuple[Part, ...], topic: str) -> None:
        super().__init__()
        self.key, self.parts, self.topic = key, parts, topic
        columns = [Column(title=part.title, width=part.width) for part in parts]
        self.grid = Grid(columns, self, frozen=1, id=f"{key}-grid")

    @property
    def records(self) -> list[Any]:
        """The records as typed."""
        found = value_at(self.session.data, (self.key,), [])
        return list(found) if isinstance(found, (list, tuple)) else []

    # What the grid asks

    def raw(self, row: int, column: int) -> str:
        """The text of a part."""
        records = self.records
        value = (
            records[row].get(self.parts[column].key)
            if row < len(records) and isinstance(records[row], Mapping)
            else None
        )
        return "" if value is None else str(value)

    def span(self, row: int) -> range:  # noqa: ARG002
        """Every part."""
        return range(len(self.parts))

    def onward(self, row: int, column: int, step: int) -> tuple[int, int]:
        """The next part; after the last that must be there the next record."""
        if step < 0:
            return (row, column - 1) if column else (max(0, row - 1), len(self.parts) - 1 if row else 0)
        left = [n for n in range(column + 1, len(self.parts)) if not (self.parts[n].taken_over and self.raw(row, n))]
        return (row, left[0]) if left else (min(row + 1, len(self.records)), 0)

    def take(self, row: int, column: int, text: str, *, ended: bool) -> None:
        """Every keystroke is in the data."""
        part = self.parts[column]
        data = self.session.data
        if row >= len(self.records):
            if not text:
                return
            above = self.records[-1] if self.records else {}
            taken = {p.key: above[p.key] for p in self.parts if p.taken_over and p.key in above}
            data = put(data, (self.key,), [*items(data, (self.key,)), taken])
        value = self._value(part, text, row)
        data = put(data, (self.key, row, part.key), value)
        record = value_at(data, (self.key, row))
        if ended and not any(record.get(p.key) for p in self.parts if not p.taken_over):
            data = self._without(data, row)
        self.typed(data, f"{part.title} {text}".strip(), (self.key, row, part.key), ended=ended)

    def _value(self, part: Part, text: str, row: int) -> Any:
        text = text.strip()
        if part.may_be_none and is_not_permitted(text):
            return NOT_PERMITTED
        if part.number:
            try:
                return float(text)
            except ValueError:
                return text or None
        unit = part.units[self.session.system is System.SI]
        above = self.raw(row - 1, self.parts.index(part)) if row else ""
        if unit and above and is_bare(text):
            tail = above.lstrip("-+0123456789., /")
            unit = tail or unit
        return with_unit(text, unit) or (None if part.optional else "")

    def choose(self, row: int, column: int) -> bool:
        """A part of a few words is chosen."""
        part = self.parts[column]
        if not part.words:
            return False

        def chosen(word: str | None) -> None:
            if word:
                self.take(row, column, word, ended=True)

        self.app.push_screen(
            Picker(part.title, [(word, word) for word in part.words], at=self.raw(row, column)), chosen
        )
        return True

    # What is shown

    def lay(self) -> None:
        """A line a record."""
        lines = []
        for n in range(len(self.records)):
            wrong = any(fault.path[1:2] == (n + 1,) for fault in self._faults())
            cells = tuple(
                Cell("no" if (text := self.raw(n, k)) == NOT_PERMITTED else text) for k in range(len(self.parts))
            )
            lines.append(Line(f"{'!' if wrong else ' '}{n + 1:>3}", cells, "bad" if wrong else "faint"))
        if not self.session.shipped:
            lines.append(Line("   +"))
        self.grid.show(lines)

    def _faults(self) -> list[Problem]:
        return [fault for fault in self.found.faults if fault.path[:1] == (self.key,)] if self.found else []

    def said(self) -> list[str]:
        """What is expected, and what is wrong."""
        part = self.parts[min(self.grid.column, len(self.parts) - 1)]
        return [f"{part.title}: {part.expected}", *(f"! {fault}" for fault in self._faults())]

    def action_remove_record(self) -> None:
        """Take the line out."""
        if self.grid.row < len(self.records) and self.may_edit():
            self.edit(self._without(self.session.data, self.grid.row), "take a line out")

    def _without(self, data: Data, row: int) -> Data:
        data = clear(data, (self.key, row))
        return data if value_at(data, (self.key,)) else clear(data, (self.key,))

    def on_grid_pasted(self, event: Grid.Pasted) -> None:
        """Nothing here is pasted: too few to be worth a guess."""
        event.stop()
        self.notify("Type these line by line; blocks are pasted on Rows and Deductions.", severity="warning")

    def letters(self, row: int, column: int) -> bool:  # noqa: ARG002
        """Names and titles are words."""
        part = self.parts[column]
        return not (part.units[0] or part.words or part.number)
