"""The rows of a table laid out as on a page: something across the top, the rest down, a length in each cell.

A layout is worked out from the rows; every edit gives new rows. A case that the page has no cell for has no row.
Laid out with nothing across, each row is a line; a row by number of elbows has them across then.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ventsize.jobfile.editing import Data, put, value_at
from ventsize.quantity import System
from ventsize.view.page import texts
from ventsize.view.page.texts import ALTITUDE, BY_ELBOWS, INPUT, LEAST, LENGTH, OPTIONAL, REQUIRED, SIZE, Row

NOTHING = ""
ACROSS = (SIZE, INPUT, ALTITUDE)
MOST_ELBOWS = 20
_DOWN = {NOTHING: (INPUT, SIZE, ALTITUDE), SIZE: (ALTITUDE, INPUT), INPUT: (ALTITUDE, SIZE), ALTITUDE: (INPUT, SIZE)}


@dataclass(frozen=True, slots=True)
class Ref:
    """Where a length stands: the row (from 0) and, in a row by elbows, the place in its list (from 0)."""

    row: int
    elbows: int | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the page: what it is for, by name, and where the length under each head stands."""

    labels: tuple[str, ...]
    cells: tuple[Ref | None, ...]
    rows: tuple[int, ...]
    elbows: int | None = None


@dataclass(frozen=True, slots=True)
class Layout:
    """The page. across: what the heads are; down: the names of the columns before them."""

    across: str
    down: tuple[str, ...]
    heads: tuple[str, ...]
    lines: tuple[Line, ...]
    by_elbows: bool = False

    @property
    def has_heads(self) -> bool:
        """Whether the heads are typed: across a page, or the numbers of elbows over a list."""
        return bool(self.across) or self.by_elbows

    @property
    def fresh(self) -> str:
        """What a new line does not take over from the one above."""
        return INPUT if not self.across else [name for name in self.down if name in REQUIRED][-1]

    @property
    def elbows_down(self) -> bool:
        """Whether each line is for a number of elbows."""
        return self.by_elbows and bool(self.across)

    def label(self, line: int, name: str) -> str:
        """What a line says under the name of a column."""
        return self.lines[line].labels[self.down.index(name)] if line < len(self.lines) else ""

    def find(self, ref: Ref) -> tuple[int, int] | None:
        """Line and head of a length; for a row by elbows without the place, its first."""
        for n, line in enumerate(self.lines):
            for k, cell in enumerate(line.cells):
                if cell == ref or (cell and ref.elbows is None and cell.row == ref.row):
                    return n, k
        return None


def rows_of(data: Data) -> list[Row]:
    """The rows as typed."""
    rows = value_at(data, ("row",), [])
    return [row for row in rows if isinstance(row, dict)] if isinstance(rows, (list, tuple)) else []


def by_elbows(data: Data) -> bool:
    """Whether the table's rows give lengths by number of elbows."""
    return any(BY_ELBOWS in row for row in rows_of(data))


def first_elbows(data: Data) -> int:
    """The number of elbows that the lists of the rows begin with."""
    found = [row.get("first_elbows", 0) for row in rows_of(data) if BY_ELBOWS in row]
    return next((first for first in found if isinstance(first, int)), 0)


def elbow_heads(data: Data, least: int = 0) -> tuple[str, ...]:
    """The numbers of elbows over a list, at least so many of them."""
    longest = max((len(row.get(BY_ELBOWS) or ()) for row in rows_of(data)), default=0)
    first = first_elbows(data)
    return tuple(str(first + n) for n in range(min(MOST_ELBOWS, max(1, longest, least))))


def usual_across(data: Data) -> str:
    """What to put across where nobody has said: sizes, where that makes a page shorter than a list, and nearly full."""
    rows = rows_of(data)
    if len(rows) < 4 or by_elbows(data):
        return NOTHING
    page = lay_out(data, SIZE)
    holes = len(page.heads) * len(page.lines) - len(rows)
    return SIZE if 2 <= len(page.heads) <= 6 and len(page.lines) > 1 and 3 * holes <= len(rows) else NOTHING


def fits(data: Data, across: str) -> bool:
    """Whether the rows can be shown with this across: no two of them in one cell, none of two kinds."""
    rows = rows_of(data)
    kinds = {BY_ELBOWS in row for row in rows}
    cases = {tuple(texts.key_of(name, texts.read(row, name)) for name in (*REQUIRED, *OPTIONAL)) for row in rows}
    return across == NOTHING or (len(kinds) < 2 and len(cases) == len(rows))


def lay_out(data: Data, across: str, *, more: Sequence[str] = (), elbows: int = 0) -> Layout:
    """The page of a table's rows.

    more: columns to have though no row says anything there. elbows: how many columns of elbows to have at least.
    """
    rows = rows_of(data)
    used = [name for name in OPTIONAL if name in more or any(texts.read(row, name) for row in rows)]
    down = (*_DOWN[across], *used)
    of_elbows = by_elbows(data)
    if not across:
        heads = elbow_heads(data, elbows) if of_elbows else (LENGTH,)
        lines = tuple(_listed(n, row, down, heads) for n, row in enumerate(rows))
        return Layout(across, down, heads, lines, of_elbows)
    return _page(rows, across, down, of_elbows)


def _listed(number: int, row: Row, down: Sequence[str], heads: Sequence[str]) -> Line:
    cells = [Ref(number, n if BY_ELBOWS in row else None) for n in range(len(heads))]
    if BY_ELBOWS not in row:  # a plain row among rows by elbows
        cells = cells[:1]
    return Line(tuple(texts.read(row, name) for name in down), tuple(cells), (number,))


def _page(rows: Sequence[Row], across: str, down: tuple[str, ...], of_elbows: bool) -> Layout:
    heads: dict[Any, str] = {}
    lines: list[tuple[tuple[Any, ...], dict[Any, int]]] = []
    latest: dict[tuple[Any, ...], dict[Any, int]] = {}
    for number, row in enumerate(rows):
        head = texts.key_of(across, texts.read(row, across))
        heads.setdefault(head, texts.read(row, across))
        key = tuple(texts.key_of(name, texts.read(row, name)) for name in down)
        cells = latest.get(key)
        if cells is None or head in cells:  # one case twice, as when it is half typed: a line of its own
            cells = latest[key] = {}
            lines.append((key, cells))
        cells[head] = number
    made: list[Line] = []
    for _, cells in lines:
        found = tuple(sorted(cells.values()))
        labels = tuple(texts.read(rows[found[0]], name) for name in down)
        if not of_elbows:
            refs = tuple(Ref(cells[head]) if head in cells else None for head in heads)
            made.append(Line(labels, refs, found))
            continue
        count = max(1, *(len(rows[n].get(BY_ELBOWS) or ()) for n in found))
        for place in range(count):
            refs = tuple(Ref(cells[head], place) if head in cells else None for head in heads)
            made.append(Line(labels, refs, found, place))
    return Layout(across, down, tuple(heads.values()), tuple(made), of_elbows)


# Edits: each gives new data


def set_label(data: Data, page: Layout, line: int, name: str, text: str, system: System = System.US) -> Data:
    """Another text for what a line is for; on the line after the last, a new line like the one above."""
    above = page.label(line - 1, name) if line else ""
    if line >= len(page.lines):
        if not text:
            return data
        line, data = len(page.lines), with_line(data, page)
        page = lay_out(data, page.across, more=page.down, elbows=len(page.heads))
    rows = rows_of(data)
    for number in page.lines[line].rows:
        rows[number] = texts.write(rows[number], name, text, above=above, system=system)
    return put(data, ("row",), rows)


def with_line(data: Data, page: Layout, after: int | None = None) -> Data:
    """A line more, at the end or after another: for the same as the line above it but for one thing."""
    rows = rows_of(data)
    at = len(page.lines) if after is None else after + 1
    above = page.lines[at - 1] if 0 < at <= len(page.lines) else None
    like = rows[above.rows[0]] if above else {}
    where = max(above.rows) + 1 if above else 0
    heads = [(page.across, head) for head in page.heads] if page.across else []
    made = []
    for across, head in heads or [("", "")]:
        row = _new_row(page, {key: value for key, value in like.items() if key != page.fresh}, data)
        made.append(texts.write(row, across, head) if across else row)
    return put(data, ("row",), [*rows[:where], *made, *rows[where:]])


def _new_row(page: Layout, like: Row, data: Data) -> Row:
    """A row without lengths, for what another is for; a first row has everything still to be typed."""
    row: Row = {INPUT: "", SIZE: ""} if ALTITUDE not in like and like else {INPUT: "", SIZE: "", ALTITUDE: ["", ""]}
    row |= {name: like[name] for name in page.down if name in like}
    if page.by_elbows:
        first = first_elbows(data)
        return {**row, BY_ELBOWS: [], **({"first_elbows": first} if first else {})}
    return {**row, "allowable": ""}


def set_head(data: Data, page: Layout, at: int, text: str, system: System = System.US) -> Data:
    """Another head over a column; after the last one, a new column. Raises ValueError where another says the same."""
    above = page.heads[at - 1] if at else ""
    text = texts.read(texts.write({}, page.across, text, above=above, system=system), page.across)
    if not text:
        return data
    others = [head for n, head in enumerate(page.heads) if n != at]
    if any(texts.same(page.across, head, text) for head in others):
        raise ValueError(f"{text} has a column already")
    rows = rows_of(data)
    if at < len(page.heads):
        key = texts.key_of(page.across, page.heads[at])
        rows = [
            texts.write(row, page.across, text)
            if texts.key_of(page.across, texts.read(row, page.across)) == key
            else row
            for row in rows
        ]
        return put(data, ("row",), rows)
    made: list[Row] = []
    ends = {max(line.rows) for line in page.lines}
    for number, row in enumerate(rows):
        made.append(row)
        if number in ends:
            made.append(texts.write(_new_row(page, row, data), page.across, text))
    return put(data, ("row",), made or [texts.write(_new_row(page, {}, data), page.across, text)])


def with_first_elbows(data: Data, first: int) -> Data:
    """The lists of all rows begin with so many elbows."""
    rows = [
        put({"row": [row]}, ("row", 0, "first_elbows"), first or None)["row"][0] if BY_ELBOWS in row else row
        for row in rows_of(data)
    ]
    return put(data, ("row",), rows)


def set_length(data: Data, page: Layout, line: int, at: int, text: str, system: System = System.US) -> Data:
    """Another length in a cell; where the page had none, or on the line after the last, with a row for it."""
    if line >= len(page.lines):
        if not text:
            return data
        if page.elbows_down and page.lines:
            last = page.lines[-1]
            ref = last.cells[at]
            assert ref is not None and ref.elbows is not None
            return _put_length(data, Ref(ref.row, ref.elbows + 1), text, _above(data, page, line, at), system)
        data = with_line(data, page)
        page = lay_out(data, page.across, more=page.down, elbows=len(page.heads))
    ref = page.lines[line].cells[at] if at < len(page.lines[line].cells) else None
    if ref is None:
        if not text:
            return data
        rows, where = rows_of(data), max(page.lines[line].rows) + 1
        new = texts.write(_new_row(page, rows[where - 1], data), page.across, page.heads[at])
        data = put(data, ("row",), [*rows[:where], new, *rows[where:]])
        ref = Ref(where, page.lines[line].elbows)
    return _put_length(data, ref, text, _above(data, page, line, at), system)


def _put_length(data: Data, ref: Ref, text: str, above: str, system: System) -> Data:
    rows = rows_of(data)
    rows[ref.row] = texts.write_length(rows[ref.row], text, ref.elbows, above=above, system=system)
    return put(data, ("row",), rows)


def _above(data: Data, page: Layout, line: int, at: int) -> str:
    """The text of the length above, or else before; its unit is taken over."""
    rows = rows_of(data)
    refs = [page.lines[line - 1].cells[at : at + 1]] if 0 < line <= len(page.lines) else []
    refs += [page.lines[line].cells[at - 1 : at]] if at and line < len(page.lines) else []
    found = (texts.read_length(rows[ref.row], ref.elbows) for some in refs for ref in some if ref)
    return next((text for text in found if texts.unit_of(text)), "")


def length_at(data: Data, page: Layout, line: int, at: int) -> str:
    """The text of a length."""
    cells = page.lines[line].cells if line < len(page.lines) else ()
    ref = cells[at] if at < len(cells) else None
    return texts.read_length(rows_of(data)[ref.row], ref.elbows) if ref else ""


def without_line(data: Data, page: Layout, line: int) -> Data:
    """The rows of a line taken out; where lines are numbers of elbows, all those of its rows."""
    gone = set(page.lines[line].rows)
    return put(data, ("row",), [row for n, row in enumerate(rows_of(data)) if n not in gone])


def without_column(data: Data, page: Layout, at: int) -> Data:
    """The rows under a head taken out."""
    gone = {line.cells[at].row for line in page.lines if line.cells[at]}  # type: ignore[union-attr]
    return put(data, ("row",), [row for n, row in enumerate(rows_of(data)) if n not in gone])


def without_cell(data: Data, page: Layout, line: int, at: int) -> Data:
    """The page has nothing there: the row of a cell taken out."""
    ref = page.lines[line].cells[at]
    if ref is None:
        return data
    return put(data, ("row",), [row for n, row in enumerate(rows_of(data)) if n != ref.row])


def missing_cases(data: Data) -> tuple[str, ...]:
    """The cases that a page of sizes across would have, and no row is for: input, size, and altitude if it matters.

    Said only of a page that is full but for a few: one that has two sizes for one input and another for the next is
    as it is meant to be.
    """
    if not fits(data, SIZE) or not rows_of(data):
        return ()
    page = lay_out({"row": [_without(row, LEAST) for row in rows_of(data)]}, SIZE)
    lines = [line for line in page.lines if not line.elbows]
    holes = [(line, n) for line in lines for n, cell in enumerate(line.cells) if cell is None]
    if not holes or 3 * len(holes) > len(page.heads) * len(lines):
        return ()
    at_any = [(at, _words(page, line, at, ALTITUDE)) for line in lines for at in range(len(page.heads))]
    found = []
    for line, at in holes:
        case = _words(page, line, at, ALTITUDE)
        everywhere = sum(case == other for _, other in at_any) == sum(
            case == _words(page, one, n, ALTITUDE) for one, n in holes
        )
        found.append(case if everywhere else _words(page, line, at, ""))
    return tuple(dict.fromkeys(found))


def _words(page: Layout, line: Line, at: int, but: str) -> str:
    """What a cell is for, all but one thing."""
    said = {**dict(zip(page.down, line.labels, strict=True)), page.across: page.heads[at]}
    names = (INPUT, SIZE, ALTITUDE, *(name for name in page.down if name in OPTIONAL))
    return ", ".join(
        said[name] for name in names if said.get(name, texts.NO_BAND) not in ("", texts.NO_BAND) and name != but
    )


def _without(row: Row, key: str) -> Row:
    return {name: value for name, value in row.items() if name != key}
