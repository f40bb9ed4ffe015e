"""What a list is made of: columns, cells, rows, and rows that are made when they come into sight."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, overload

from ventsize.tui.widgets.text import Align


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: its width in cells, or a share of what is left where `grow` is above zero.

    from_width: the list's least width at which the column is shown at all.
    """

    title: str = ""
    width: int = 8
    align: Align = "left"
    grow: int = 0
    from_width: int = 0


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in a cell, and in which of the list's tones."""

    text: str
    tone: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row: what it stands for, its cells (or one text across all columns), its tone."""

    key: Any = None
    cells: tuple[Cell | str, ...] = ()
    across: str | None = None
    tone: str = ""
    selectable: bool = True


Maker = Callable[[], Row]


class MadeRows(Sequence[Row]):
    """Rows that are made when they are first looked at: a long list costs what is in sight of it."""

    def __init__(self, makers: Sequence[Maker]) -> None:
        self._makers = makers
        self._made: dict[int, Row] = {}

    def __len__(self) -> int:
        return len(self._makers)

    @overload
    def __getitem__(self, at: int) -> Row: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[Row]: ...
    def __getitem__(self, at: int | slice) -> Row | Sequence[Row]:
        if isinstance(at, slice):
            return [self[n] for n in range(*at.indices(len(self)))]
        at = range(len(self))[at]
        if at not in self._made:
            self._made[at] = self._makers[at]()
        return self._made[at]
