"""A copied block of a page read by its heads: what stands across, what down, in which units, and what was left out.

Nothing is shifted to make it fit: a line with more or fewer cells than its heads is left out and said to be.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from ventsize.allowance.model import NOT_PERMITTED
from ventsize.jobfile.editing import Data, put
from ventsize.quantity import System
from ventsize.view.page import heads, layout, texts
from ventsize.view.page.blocks import Cells, split, tokens
from ventsize.view.page.heads import FROM, TO, head_of, is_value, kind_by_figures, kind_by_unit, may_be, unmarked
from ventsize.view.page.texts import ALTITUDE, BY_ELBOWS, ELBOWS, INPUT, LEAST, LENGTH, REQUIRED, SIZE, Row

_ACROSS = (SIZE, INPUT, ALTITUDE, ELBOWS)


@dataclass(frozen=True, slots=True)
class Pasted:
    """What a block was understood as.

    across: what its heads are. rows: of the table. lengths: how many there are. left_out: lines that say nothing a
    row can hold, as they stand. twice: cases that have two lengths. ragged: lines that do not fit their heads.
    remarks: what was taken for granted.
    """

    rows: tuple[Row, ...]
    across: str = ""
    lengths: int = 0
    blank: int = 0
    twice: int = 0
    left_out: tuple[str, ...] = ()
    ragged: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(slots=True)
class _Columns:
    """The heads that hold for the lines below: labels of the first columns, then what each column of lengths is for."""

    labels: list[str]
    lengths: list[dict[str, str]]
    across: str
    units: dict[str, str]
    guessed: list[str] = field(default_factory=list)
    ignored: list[int] = field(default_factory=list)

    @property
    def width(self) -> int:
        return len(self.labels) + len(self.lengths)


@dataclass(slots=True)
class _Reader:
    system: System
    across: str
    rows: dict[tuple[object, ...], Row] = field(default_factory=dict)
    lengths: int = 0
    blank: int = 0
    twice: int = 0
    left_out: list[str] = field(default_factory=list)
    ragged: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    def remark(self, text: str) -> None:
        if text not in self.remarks:
            self.remarks.append(text)


def understand(text: str, system: System = System.US, *, across: str = "") -> Pasted | None:
    """What a copied block says by its own heads; None where it has none, so that it is cells and no page.

    across: what its heads are, where somebody has said so.
    """
    lines = split(text)
    reader = _Reader(system, across)
    waiting: list[Cells] = []
    context: dict[str, str] = {}
    columns: _Columns | None = None
    for at, line in enumerate(lines):
        group = _group(line)
        if group and not (columns and columns.width == 1):
            context |= group
        elif _is_body(line, columns, waiting):
            if waiting or columns is None:
                made = _columns(waiting, list(_body(lines[at:])), reader)
                if made is None and columns is None:
                    return None
                columns = made or columns
                waiting = []
            assert columns is not None
            _take(reader, columns, line, context)
        else:
            waiting.append(line)
    if columns is None or not reader.rows:
        return None
    reader.left_out += ["  ".join(cell for cell in line if cell) for line in waiting]
    return Pasted(
        rows=tuple(reader.rows.values()),
        across=columns.across,
        lengths=reader.lengths,
        blank=reader.blank,
        twice=reader.twice,
        left_out=tuple(reader.left_out),
        ragged=tuple(reader.ragged),
        remarks=tuple(reader.remarks),
    )


def with_pasted(data: Data, pasted: Pasted) -> Data:
    """The table with the rows of a block: a row for the same case takes the length, the others come at the end."""
    rows = [row for row in layout.rows_of(data) if not _is_blank(row)]
    at = {_case(row): number for number, row in enumerate(rows)}
    for row in pasted.rows:
        if _case(row) in at:
            rows[at[_case(row)]] = row
        else:
            rows.append(row)
    return put(data, ("row",), rows)


def changed_by(data: Data, pasted: Pasted) -> int:
    """How many rows that are there would get another length."""
    there = {_case(row): row for row in layout.rows_of(data) if not _is_blank(row)}
    return sum(_case(row) in there and there[_case(row)] != row for row in pasted.rows)


def _is_blank(row: Row) -> bool:
    """Whether a row holds no length: begun, and nothing to lose."""
    return not (texts.read_length(row) or any(row.get(BY_ELBOWS) or ()))


def _case(row: Row) -> tuple[object, ...]:
    names = (*REQUIRED, *(name for name in texts.OPTIONAL if name != LEAST))
    return tuple(texts.key_of(name, texts.read(row, name)) for name in names)


# Lines


def _group(line: Cells) -> dict[str, str]:
    """What a line by itself says of those below it, such as "Altitude 0 to 2,000 ft" or "80,000 Btu/h"."""
    cells = [cell for cell in line if cell]
    if len(cells) == 1:
        cells = list(tokens(cells[0].replace(":", " ")))
    if len(cells) == 1 and kind_by_unit(cells[0]) in (ALTITUDE, INPUT, SIZE):
        return {kind_by_unit(cells[0]): cells[0]}
    if len(cells) == 2 and not is_value(cells[0]) and is_value(cells[1]):
        head = head_of(cells[0])
        kind = next((kind for kind in head.kinds if kind in REQUIRED), "")
        if kind and may_be(kind, cells[1:]):
            return {kind: cells[1]}
    return {}


def _is_body(line: Cells, columns: _Columns | None, waiting: Sequence[Cells]) -> bool:
    """Whether a line holds lengths: its first cells say what for, and figures follow."""
    cells = [cell for cell in line if cell]
    figures = [cell for cell in cells if is_value(cell)]
    if len(figures) < 2 or (columns is not None and 2 * len(figures) < len(cells)):
        return False
    if not is_value(cells[0]):
        return (
            bool(columns or waiting)
            and not head_of(cells[0]).kinds
            and len(figures) > 1
            and len(cells) - len(figures) < 2
        )
    if columns is None and not waiting:
        return not _looks_like_heads(line)
    units = {kind_by_unit(cell) for cell in cells}
    if len(units) == 1 and units & {SIZE, ALTITUDE, INPUT, ELBOWS}:
        return False  # heads without a label before them
    return not (line and not line[0] and columns is None and not _heads_done(waiting))


def _looks_like_heads(line: Cells) -> bool:
    """Whether the first line of a block is heads alone: sizes, numbers of elbows, bands."""
    cells = [cell for cell in line if cell]
    kind = kind_by_figures(cells)
    return kind in (SIZE, ELBOWS, ALTITUDE) or (line[0] == "" and kind == INPUT)


def _heads_done(waiting: Sequence[Cells]) -> bool:
    """Whether the lines so far hold heads with figures in them, so that figures now are lengths."""
    return any(sum(map(is_value, line)) > 1 for line in waiting)


def _body(lines: Sequence[Cells]) -> Iterator[Cells]:
    """The lines of figures from here on, up to the next heads."""
    for line in lines:
        if sum(map(is_value, line)) >= 2:
            yield line


# Heads


def _columns(waiting: list[Cells], body: list[Cells], reader: _Reader) -> _Columns | None:
    """What the heads before a body say; None where they say nothing."""
    across_lines = [line for line in waiting if sum(map(is_value, line)) >= 1 and not _is_note(line)]
    words = [line for line in waiting if line not in across_lines]
    labels_line = next((line for line in reversed(words) if len([c for c in line if c]) > 1), None)
    if not across_lines:
        return _listed(labels_line, words, reader, _width(body, labels_line)) if labels_line else None
    last = across_lines[-1]
    width = _width(body, last)
    figures = [cell for cell in last if is_value(cell)]
    count = width - len(figures) if len(last) < width or not any(last) else _first_figure(last)
    if count < 1:
        return None
    first = [cell for cell in last if not is_value(cell)]
    names = first if len(last) < width else list(last[:count])
    if labels_line and not any(names):
        names = list(labels_line[:count])
    captions = [cell for line in words if line is not labels_line for cell in line if cell]
    captions += [cell for cell in labels_line or () if cell]
    found = _Columns([""] * count, [], "", {})
    found.across = _across(figures, names, captions, body, count, reader)
    if not found.across:
        return None
    found.labels = _labels(names, body, count, found.across, reader)
    _units(found, names, captions, figures)
    found.lengths = [{found.across: cell} for cell in figures]
    _upper(found, across_lines[:-1], count)
    spare = [" ".join(line) for line in words if not any(head_of(cell).kinds for cell in line)]
    reader.left_out += [text.strip() for text in spare if text.strip()]
    return found


def _width(body: list[Cells], heads: Cells) -> int:
    """How many cells the lines of a block have: as many as its heads where those begin with a label and a line agrees.

    Else as most lines have. One line with a cell too many must not shift all the others under wrong heads.
    """
    counted = Counter(map(len, body))
    if len(heads) in counted and not is_value(heads[0]):
        return len(heads)
    return max(counted, key=lambda width: (counted[width], width))


def _is_note(line: Cells) -> bool:
    """Whether a line is a sentence with a number in it."""
    return any(len(cell.split()) > 6 for cell in line)


def _first_figure(line: Cells) -> int:
    return next((n for n, cell in enumerate(line) if is_value(cell)), 0)


def _across(
    figures: list[str], names: list[str], captions: list[str], body: list[Cells], count: int, reader: _Reader
) -> str:
    """What the heads are: by their unit, by a label that cannot be of the column below it, by a caption, by size."""
    if reader.across:
        return reader.across
    by_unit = {kind_by_unit(cell) for cell in figures} - {""}
    if len(by_unit) == 1 and (kind := by_unit.pop()) in _ACROSS:
        return kind
    down = [line[count - 1] for line in body if len(line) >= count]
    for kind in head_of(names[-1]).kinds if names else ():
        if kind in _ACROSS and may_be(kind, figures) and not may_be(kind, down):
            return kind
    named = [kind for name in names for kind in head_of(name).kinds[:1]]
    for caption in captions:
        for kind in head_of(caption).kinds:
            if kind in _ACROSS and kind not in named and may_be(kind, figures):
                return kind
    kind = kind_by_figures(figures)
    if kind in named or kind not in _ACROSS:
        kind = next((k for k in _ACROSS if k not in named and may_be(k, figures)), kind if kind in _ACROSS else "")
    if kind:
        reader.remark(f"{', '.join(figures[:3])} across: taken for {_plural(kind)}")
    return kind


def _plural(kind: str) -> str:
    return {SIZE: "sizes", INPUT: "inputs", ALTITUDE: "altitudes", ELBOWS: "numbers of elbows"}.get(kind, kind)


def _labels(names: list[str], body: list[Cells], count: int, across: str, reader: _Reader) -> list[str]:
    """What each column before the lengths says: by its head, else by its figures."""
    found: list[str] = []
    for n in range(count):
        down = [line[n] for line in body if len(line) > n and line[n]]
        name = names[n] if n < len(names) else ""
        kinds = [kind for kind in head_of(name).kinds if kind not in (across, LENGTH, *found) and may_be(kind, down)]
        kind = kinds[0] if kinds else ""
        if not kind:
            kind = kind_by_figures(list(dict.fromkeys(down)))
            if kind in (*found, across, LENGTH):
                kind = next((k for k in (INPUT, SIZE, ELBOWS) if k not in (*found, across) and may_be(k, down)), "")
            if kind:
                reader.remark(f"column {n + 1} ({', '.join(down[:2])} …): taken for {_plural(kind)}")
        found.append(kind)
    return found


def _units(found: _Columns, names: list[str], captions: list[str], figures: list[str]) -> None:
    """Units that stand in the heads: of each label, of the heads across, of the lengths."""
    for name, label in zip(names, found.labels, strict=False):
        if unit := heads.unit_in(name, label):
            found.units[label] = unit
    for words in (*captions, *names):
        kinds = head_of(words).kinds
        if LENGTH in kinds and (unit := heads.unit_in(words, LENGTH)):
            found.units.setdefault(LENGTH, unit)
        if found.across in kinds and (unit := heads.unit_in(words, found.across)):
            found.units.setdefault(found.across, unit)
    for words in captions:
        if not head_of(words).kinds and (unit := heads.unit_in(words, LENGTH)) and not figures[0].endswith(unit):
            found.units.setdefault(LENGTH, unit)


def _upper(found: _Columns, lines: list[Cells], count: int) -> None:
    """Heads over heads: each holds from where it stands to the next one, or for its even share of the columns."""
    for line in lines:
        over = [(n - count, cell) for n, cell in enumerate(line) if is_value(cell)]
        kind = kind_by_figures([cell for _, cell in over])
        if not over or not kind or kind == found.across:
            continue
        if len(line) < count + len(found.lengths) and len(found.lengths) % len(over) == 0:
            share = len(found.lengths) // len(over)
            over = [(n * share, cell) for n, (_, cell) in enumerate(over)]
        for n, column in enumerate(found.lengths):
            held = [cell for start, cell in over if start <= n]
            if held:
                column[kind] = held[-1]


def _listed(line: Cells, words: list[Cells], reader: _Reader, width: int) -> _Columns | None:
    """A list: a head over every column, one of them over the lengths, or one over each number of elbows."""
    kinds = [head_of(cell) for cell in line]
    names = [head.kinds[0] if head.kinds else "" for head in kinds]
    if len(line) != width or not any(name in (INPUT, SIZE) for name in names):
        return None
    found = _Columns([], [], "", {})
    for n, (cell, name) in enumerate(zip(line, names, strict=True)):
        if name == LENGTH or (not name and n == len(line) - 1 and LENGTH not in names):
            name = LENGTH
            found.lengths.append({})
        elif not name:
            reader.remark(f"column {n + 1} ({cell}): left out")
        found.labels.append(name)
        if kinds[n].unit:
            found.units[name] = kinds[n].unit
    if not found.lengths:
        return None
    for other in words:
        for cell in other:
            if other is not line and (unit := heads.unit_in(cell, LENGTH)) and head_of(cell).kinds[:1] != (ALTITUDE,):
                found.units.setdefault(LENGTH, unit)
    found.lengths = []
    return found


# Bodies


def _take(reader: _Reader, columns: _Columns, line: Cells, context: dict[str, str]) -> None:
    """The lengths of one line, each with what it is for."""
    labels, lengths = _cells(columns, line)
    if labels is None or lengths is None:
        reader.ragged.append("  ".join(line))
        return
    said: dict[str, str] = dict(context)
    for name, cell in zip(columns.labels, labels, strict=True):
        cell, mark = unmarked(cell)
        if mark:
            reader.remark(f"{cell}{mark}: the mark {mark} is left out; see its footnote")
        if name and name != LENGTH and (cell or name not in said):
            said[name] = _united(cell, name, columns, reader)
    if columns.across or columns.lengths:
        context |= {
            name: text for name, text in said.items() if name in (*REQUIRED, *texts.OPTIONAL)
        }  # a label printed once holds on
    if not columns.lengths:
        at = columns.labels.index(LENGTH)
        _put(reader, columns, said, labels[at])
    for column, cell in zip(columns.lengths, lengths, strict=True):
        over = {name: _united(text, name, columns, reader) for name, text in column.items()}
        _put(reader, columns, {**said, **over}, cell)


def _cells(columns: _Columns, line: Cells) -> tuple[list[str] | None, list[str] | None]:
    """Labels and lengths of a line. Labels printed once for several lines may be missing in front, no length may."""
    cells = list(line)
    while len(cells) > columns.width and not cells[-1]:
        cells.pop()
    lacking = columns.width - len(cells)
    count = len(columns.labels)
    if lacking < 0:
        return None, None
    if 0 < lacking < count and columns.lengths:
        left = columns.labels[lacking:]
        if all(
            may_be(name, [cell]) and (name != INPUT or not kind_by_unit(cell))
            for name, cell in zip(left, cells, strict=False)
        ):
            first = columns.labels[0]
            if first == ALTITUDE or not may_be(first, cells[:1]):
                return [""] * lacking + cells[: count - lacking], cells[count - lacking :]
    if lacking:
        return None, None
    return cells[:count], cells[count:]


def _united(cell: str, name: str, columns: _Columns, reader: _Reader) -> str:
    """A cell with the unit of its head, where it has none of its own."""
    cell, _ = unmarked(cell)
    if name == ALTITUDE:
        ends = texts.band(cell)
        unit = columns.units.get(ALTITUDE) or texts.usual_unit(ALTITUDE, "", reader.system)
        return f"{ends[0]}-{ends[1]} {unit}" if ends and texts.is_number(ends[1]) else cell
    if name == ELBOWS:
        return cell.split()[0] if cell else cell
    unit = columns.units.get(name, "")
    if texts.is_number(cell) and unit:
        return f"{cell} {unit}"
    if texts.is_number(cell) and name in (FROM, TO):
        return f"{cell} {columns.units.get(ALTITUDE) or texts.usual_unit(ALTITUDE, cell, reader.system)}"
    return cell.replace("″", '"').replace("”", '"').replace("′", "'").replace("’", "'")


def _put(reader: _Reader, columns: _Columns, said: dict[str, str], cell: str) -> None:
    cell, mark = unmarked(cell)
    if mark:
        reader.remark(f"{cell}{mark}: the mark {mark} is left out; see its footnote")
    if not cell:
        reader.blank += 1
        return
    length = NOT_PERMITTED if texts.is_not_permitted(cell) else _united(cell, LENGTH, columns, reader)
    if texts.is_number(length):
        unit = texts.usual_unit(LENGTH, length, reader.system)
        reader.remark(f"the block names no unit for the lengths: taken as {unit}")
        length = f"{length} {unit}"
    row: Row = {INPUT: "", SIZE: ""}
    if FROM in said or TO in said:
        row[ALTITUDE] = [said.get(FROM, ""), said.get(TO, "")]
    for name in (*REQUIRED, *texts.OPTIONAL):
        if said.get(name):
            row = texts.write(row, name, said[name], system=reader.system)
    reader.lengths += 1
    key = _case(row)
    if ELBOWS in said:
        kept = reader.rows.setdefault(key, {**row, BY_ELBOWS: []})
        reader.rows[key] = _with_entry(kept, said[ELBOWS], length)
    elif key in reader.rows and reader.rows[key].get("allowable") != length:
        reader.twice += 1
        reader.rows[(*key, len(reader.rows))] = texts.write_length(row, length)
    else:
        reader.rows[key] = texts.write_length(row, length)


def _with_entry(row: Row, elbows: str, length: str) -> Row:
    """A row by elbows with the length for one more number of them; the first that comes begins the list."""
    if not elbows.isdigit():
        return row
    number, entries = int(elbows), list(row.get(BY_ELBOWS) or ())
    first = int(row.get("first_elbows", 0)) if entries else number
    if number < first:
        entries, first = [""] * (first - number) + entries, number
    row = {**{key: value for key, value in row.items() if key != "first_elbows"}, BY_ELBOWS: entries}
    if first:
        row = {**row, "first_elbows": first}
    return texts.write_length(row, length, number - first)
