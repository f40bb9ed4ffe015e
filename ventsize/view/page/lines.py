"""The lines below the heads of a copied block: each length with what it is for becomes a row, or a part of one."""

from __future__ import annotations

from ventsize.allowance.model import NOT_PERMITTED
from ventsize.view.page import texts
from ventsize.view.page.blocks import Cells
from ventsize.view.page.columns import Columns, Reader
from ventsize.view.page.heads import FROM, TO, kind_by_unit, may_be, unmarked
from ventsize.view.page.texts import ALTITUDE, BY_ELBOWS, ELBOWS, INPUT, LEAST, LENGTH, REQUIRED, SIZE, Row


def take(reader: Reader, columns: Columns, line: Cells, context: dict[str, str]) -> None:
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
    if columns.lengths:  # a label printed once holds on
        context |= {name: text for name, text in said.items() if name in (*REQUIRED, *texts.OPTIONAL)}
    if not columns.lengths:
        at = columns.labels.index(LENGTH)
        _put(reader, columns, said, labels[at])
    for column, cell in zip(columns.lengths, lengths, strict=True):
        over = {name: _united(text, name, columns, reader) for name, text in column.items()}
        _put(reader, columns, {**said, **over}, cell)


def _cells(columns: Columns, line: Cells) -> tuple[list[str] | None, list[str] | None]:
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


def _united(cell: str, name: str, columns: Columns, reader: Reader) -> str:
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


def _put(reader: Reader, columns: Columns, said: dict[str, str], cell: str) -> None:
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
    key = case_of(row)
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


def case_of(row: Row) -> tuple[object, ...]:
    names = (*REQUIRED, *(name for name in texts.OPTIONAL if name != LEAST))
    return tuple(texts.key_of(name, texts.read(row, name)) for name in names)
